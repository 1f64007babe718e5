"""The complaint about a name that nothing in forms/ bears."""

from collections.abc import Iterator, Mapping

from footexam.catalogue.mistakes import Complaint, Place


def known(name: str, names: Mapping[str, object], place: Place, file: str) -> Iterator[Complaint]:
    """Complain at `place` unless `name` is among `names`, which `file` lists."""
    if name not in names:
        yield Complaint(place, f"“{name}” is not known", f"check its spelling, or add it to {file}")
