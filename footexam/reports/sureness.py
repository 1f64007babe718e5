"""How sure a finding is, in words, in colour and on its ruler."""

from footexam.drawing.measured import mark_of, place_of
from footexam.drawing.palette import Ink
from footexam.drawing.ruler import Mark, Place, Scale, choose_scale, ruler
from footexam.drawing.shapes import Drawing
from footexam.reports.material import SIDES, Material
from footexam.reports.ranges import cite_words
from footexam.scoring.results import Finding
from footexam.terms import WITHIN, Basis, Label, Side

RULER_WIDTH = 88.0
"""Width of a ruler in points."""

BRIEF_RULER = 74.0
"""The same on page one."""

SURE = frozenset({Label.LIKELY, Label.POSSIBLE, Label.REPEAT})
"""Labels of readings that lie outside the usual range."""


def is_outside(finding: Finding) -> bool:
    """Whether a reading lies outside its usual range, or is a word that forms/ names as unusual."""
    named = isinstance(finding.value, str) and finding.state not in {None, WITHIN}
    return finding.label in SURE or named


def sure_words(finding: Finding, material: Material, *, short: bool = False) -> str:
    """How sure it is, in words; with what the judgement lacks. `short` as page one has room."""
    phrases = material.phrases
    if isinstance(finding.value, str):
        return phrases("named", cite=cite_words(finding, material)) if is_outside(finding) else ""
    if finding.label is Label.WITHIN:
        return phrases("within-near" if finding.near_limit else "within")
    if finding.label not in SURE:
        return phrases("not-judged")
    told = phrases(str(finding.label), state=material.word(finding.state or ""))
    lack = {Basis.ERROR_ONLY: "error-only", Basis.NONE: "error-unknown"}.get(
        finding.basis or Basis.NORM
    )
    return f"{told}, {phrases(f'{lack}-short' if short else lack)}" if lack else told


def sure_ink(finding: Finding) -> Ink:
    """The colour of what lies outside; shape and word say the same."""
    inks = {Place.BELOW: Ink.BELOW, Place.ABOVE: Ink.ABOVE}
    return inks.get(place_of(finding), Ink.INK)


def scale_of(measure: str, material: Material) -> Scale | None:
    """One scale for the rulers of a measure, so that left and right can be compared."""
    if measure not in material.scales:
        material.scales[measure] = _scale(measure, material)
    return material.scales[measure]


def _scale(measure: str, material: Material) -> Scale | None:
    marks = [mark for side in (*SIDES, None) if (mark := _mark(measure, side, material))]
    if not marks:
        return None
    known = material.measure(measure)
    low, high = known.hard_low, known.hard_high
    return choose_scale(
        marks, None if low is None else float(low), None if high is None else float(high)
    )


def _mark(measure: str, side: Side | None, material: Material) -> Mark | None:
    finding = material.findings.get((measure, side))
    return mark_of(finding, material.catalogue) if finding else None


def ruler_of(
    finding: Finding, scale: Scale | None, material: Material, width: float = RULER_WIDTH
) -> Drawing | None:
    """The ruler of a finding; None for a finding that is a word."""
    mark = mark_of(finding, material.catalogue)
    return ruler(mark, scale, width) if mark and scale else None
