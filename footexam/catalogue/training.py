"""What is known against describing a training load, and what its figures must hold."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from footexam.catalogue.fields import Fields
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Texts
from footexam.messages import listed
from footexam.terms import Provenance

SUBJECTS = frozenset({"change", "spike", "ratio", "exponential", "monotony", "load", "damage"})
"""The values that a remark may speak of."""

FIGURES = frozenset(
    {"acute-days", "chronic-days", "shown-after-days", "gap-days"}
    | {f"spike-mark-{place}" for place in (1, 2, 3)}
    | {f"{tissue}-exponent{end}" for tissue in ("bone", "tendon") for end in ("", "-low", "-high")}
)
"""What mechanics/ asks for by name."""


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing known against a value, printed beside it."""

    id: str
    about: str
    text: Texts
    source: str
    provenance: Provenance


def read_remark(fields: Fields) -> Remark:
    """One [[remark]]."""
    keys = frozenset({"id", "about", "text", "source", "provenance"})
    fields.only(keys, keys)
    about = fields.text("about")
    if about not in SUBJECTS:
        what = f"“{about}” is no value that a remark speaks of"
        raise fields.wrong("about", what, f"use {listed(sorted(SUBJECTS))}")
    return Remark(
        id=fields.text("id"),
        about=about,
        text=fields.texts("text"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
    )


def check_training(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Sources that exist, and every figure that mechanics/ asks for, if there are any at all."""
    for rule in catalogue.training.values():
        place = places[f"Rule:{rule.id}"]
        yield from known(rule.source, catalogue.sources, place.at("source"), "sources.toml")
        if rule.at is None or rule.at <= 0:
            yield Complaint(place, "a figure of training is a number above 0", "give at = …")
    for remark in catalogue.remarks.values():
        place = places[f"Remark:{remark.id}"].at("source")
        yield from known(remark.source, catalogue.sources, place, "sources.toml")
    if catalogue.training:
        for name in sorted(FIGURES - catalogue.training.keys()):
            yield Complaint(Place("training.toml"), f"“{name}” is missing", "add [[training]]")
