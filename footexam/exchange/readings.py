"""The readings of an examination file: sides, absences, notes and methods around each value."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from footexam.catalogue.model import Catalogue, Measure
from footexam.exchange.envelope import utc
from footexam.exchange.problem import InputProblem
from footexam.messages import LONGEST_SHOWN, listed, sentence
from footexam.record.parse import derived, parse
from footexam.record.reading import Reading
from footexam.record.refusal import Refusal, Typed, as_typed, fold, text
from footexam.terms import Absence, Kind, Side

MOST_PROBLEMS = 100
_SIDES = frozenset({"left", "right", "both"})
_BARE_ALLOWED = frozenset({Kind.YES_NO, Kind.YES_SITES})
_MORE = frozenset({"value", "note", "method", "performed_at"})
_ABSENT = frozenset({"absent", "reason", "note", "method", "performed_at"})


class ReadingsReader:
    """Reads all readings and keeps every refusal, so that a file is corrected in one go."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.problems: list[InputProblem] = []

    def read(self, readings: Mapping[str, Typed]) -> list[Reading]:
        """The readings in the order of the file; refusals are added to `problems`.

        After a hundred refusals the rest is left alone: such a file is no examination.
        """
        read: list[Reading] = []
        for name, typed in readings.items():
            if len(self.problems) >= MOST_PROBLEMS:
                more = sentence("more-problems", {})
                self.problems.append(InputProblem("readings", "", "", more))
                break
            read.extend(self._one(name, typed, readings))
        return read

    def _one(self, name: str, typed: Typed, readings: Mapping[str, Typed]) -> Iterator[Reading]:
        try:
            measure = self._measure(name, readings)
            sides = _by_side(typed, measure, self.catalogue)
        except Refusal as bad:
            self.problems.append(InputProblem(name, "", as_typed(typed), str(bad)))
            return
        for side, value, both in sides:
            try:
                reading = read_cell(value, measure, side, self.catalogue)
            except Refusal as bad:
                shown = "both" if both else side or ""
                if not (both and side is Side.RIGHT):
                    self.problems.append(InputProblem(name, shown, as_typed(value), str(bad)))
            else:
                yield replace(reading, typed_both=both)

    def _measure(self, name: str, readings: Mapping[str, Typed]) -> Measure:
        """The measure of a present or an older name; never both names in one file."""
        present = self.catalogue.renamed.get(name, name)
        if present != name and present in readings:
            raise Refusal("given-twice", what=present)
        if present not in self.catalogue.measures:
            raise Refusal("unknown-measure", near=_near(name, self.catalogue))
        return self.catalogue.measures[present]


def _near(name: str, catalogue: Catalogue) -> str:
    """A hint at the measure whose name is most alike; empty if none is."""
    from difflib import get_close_matches

    alike = get_close_matches(name[:LONGEST_SHOWN], catalogue.measures, n=1, cutoff=0.75)
    return f", or use {alike[0]} if that is meant" if alike else ""


_Sided = list[tuple[Side | None, Typed, bool]]
"""(side, value, typed once for both) for each side given."""


def _by_side(typed: Typed, measure: Measure, catalogue: Catalogue) -> _Sided:
    """What was given for each side, if the measure takes a reading at all."""
    if measure.kind is Kind.DERIVED:
        raise derived(measure)
    sides = set(typed) & _SIDES if isinstance(typed, Mapping) else set()
    if sides and not measure.sided:
        raise Refusal("side-not-taken")
    if sides:
        return _each_side(typed, sides)
    bare = measure.panel == "cautions" and measure.kind in _BARE_ALLOWED
    if measure.sided and not bare:
        known = _MORE | _ABSENT | catalogue.regions.keys()
        strange = typed.keys() - known if isinstance(typed, Mapping) else set()
        raise Refusal("side-unknown", what=min(strange)) if strange else Refusal("side-missing")
    return [(None, typed, False)]


def _each_side(typed: Any, sides: set[str]) -> _Sided:
    unknown = typed.keys() - _SIDES
    if unknown:
        raise Refusal("side-unknown", what=min(unknown))
    if "both" in sides:
        if len(sides) > 1:
            raise Refusal("side-twice")
        return [(side, typed["both"], True) for side in Side]
    return [(side, typed[side.value], False) for side in Side if side.value in sides]


def read_cell(typed: Typed, measure: Measure, side: Side | None, catalogue: Catalogue) -> Reading:
    """The reading of one side: a bare value, a value with more, or an absence. Raises Refusal."""
    if not isinstance(typed, Mapping) or not typed.keys() & {"value", "absent"}:
        if isinstance(typed, Mapping) and typed and typed.keys() <= _MORE | _ABSENT:
            raise Refusal("no-value")
        parsed = parse(typed, measure, catalogue)
        return Reading(measure.id, side, parsed.value, parsed.typed)
    if "value" in typed and "absent" in typed:
        raise Refusal("value-and-absent")
    is_absent = "absent" in typed
    unknown = typed.keys() - (_ABSENT if is_absent else _MORE)
    if unknown:
        raise Refusal("unknown-key", what=min(unknown))
    bare = Reading(
        measure.id,
        side,
        None,
        note=text(typed["note"]) if "note" in typed else "",
        method=_method(typed["method"], measure) if "method" in typed else None,
        performed_at=utc(typed["performed_at"]) if "performed_at" in typed else None,
    )
    if is_absent:
        reason = text(typed["reason"]) if "reason" in typed else ""
        return replace(bare, absent=_absence(typed["absent"]), reason=reason)
    parsed = parse(typed["value"], measure, catalogue)
    return replace(bare, value=parsed.value, typed=parsed.typed)


def _absence(typed: Typed) -> Absence:
    if not isinstance(typed, str) or typed not in set(Absence):
        raise Refusal("unknown-absence", what=as_typed(typed), words=listed(Absence))
    return Absence(typed)


def _method(typed: Typed, measure: Measure) -> str:
    """A method by its word; free text of up to 200 characters where the measure lists none."""
    clean = text(typed, 200)
    if not measure.methods:
        return clean
    if fold(clean) not in measure.methods:
        raise Refusal("unknown-method", what=clean, words=listed(measure.methods))
    return fold(clean)
