"""A table of the catalogue that is read when it is first asked for."""

from collections.abc import Callable, ItemsView, Iterator, KeysView, Mapping, ValuesView
from typing import Any


class Later(Mapping[str, Any]):
    """What `read` gives, read once; until then only `read` is kept."""

    __slots__ = ("_found", "_read")

    def __init__(self, read: Callable[[], dict[str, Any]]) -> None:
        self._read: Callable[[], dict[str, Any]] | None = read
        self._found: dict[str, Any] = {}

    @property
    def found(self) -> dict[str, Any]:
        """The table itself."""
        if self._read is not None:
            self._found, self._read = self._read(), None
        return self._found

    def __getitem__(self, key: str) -> Any:
        return self.found[key]

    def __contains__(self, key: object) -> bool:
        return key in self.found

    def __iter__(self) -> Iterator[str]:
        return iter(self.found)

    def __len__(self) -> int:
        return len(self.found)

    def __repr__(self) -> str:
        return repr(self.found)

    def keys(self) -> KeysView[str]:
        """As of the table itself, which is faster than what Mapping makes of it."""
        return self.found.keys()

    def values(self) -> ValuesView[Any]:
        """As keys."""
        return self.found.values()

    def items(self) -> ItemsView[str, Any]:
        """As keys."""
        return self.found.items()
