"""The usual range of a finding in words, with how well it was checked and its source."""

from decimal import Decimal

from footexam.catalogue.model import Cut, Measure
from footexam.drawing.measured import Usual, usual_of
from footexam.reports.material import Material
from footexam.reports.words import (
    is_signed,
    number_words,
    quantity_words,
    rounded_words,
    with_unit,
)
from footexam.scoring.results import Finding
from footexam.terms import Provenance

USUAL = "usual-range-of"
"""The use of a source that sets a usual range."""


def usual_words(finding: Finding, material: Material) -> str:
    """The usual range with the number of its source; empty where nothing is usual."""
    usual = usual_of(finding, material.catalogue)
    measure = material.measure(finding.measure)
    if usual is None:
        return ""
    text = range_words(usual, measure, material)
    if not text:
        return ""
    cite = cite_usual(usual, finding, material)
    key = "usual" if usual.printed else "usual-spread"
    if _one_of_many(usual):
        text = material.phrases(f"{key}-for", group=material.say(usual.group.label), range=text)
    else:
        text = material.phrases(key, range=text)
    return f"{text} {cite}, {material.phrases(f'short-{standing(usual)}')}"


def _one_of_many(usual: Usual) -> bool:
    """Whether the set has other groups, so that the one used must be named."""
    return len(usual.set.groups) > 1


def standing(usual: Usual) -> Provenance:
    """How well the judging figures were checked; the weaker one where a cut has its own."""
    own = [edge.provenance for edge in (usual.low, usual.high) if edge and edge.provenance]
    return max([usual.set.provenance, *own], key=list(Provenance).index)


def cite_usual(usual: Usual, finding: Finding, material: Material) -> str:
    """The numbers of the sources of a usual range: the set's, and those of cuts with their own."""
    norm, label = usual.set, material.label(finding.measure)
    cite, note = material.citations.cite, material.say(norm.note)
    numbers = [cite(norm.source, norm.provenance, USUAL, label, note)]
    for edge in (usual.low, usual.high):
        if edge and edge.source:
            own = edge.provenance or norm.provenance
            numbers.append(cite(edge.source, own, USUAL, label))
    return "".join(dict.fromkeys(numbers))


def cite_words(finding: Finding, material: Material) -> str:
    """The numbers of the sources that name a word as outside the usual."""
    sets = {norm.id: norm for norm in material.catalogue.norms.get(finding.measure, ())}
    label, numbers = material.label(finding.measure), []
    for shown in finding.norms:
        note = material.say(sets[shown.set].note) if shown.set in sets else ""
        numbers.append(material.citations.cite(shown.source, shown.provenance, USUAL, label, note))
    return "".join(dict.fromkeys(numbers))


def range_words(usual: Usual, measure: Measure, material: Material) -> str:
    """The ends of a usual range with the unit, as the source prints its cuts; empty if open."""
    if not usual.printed:
        return _spread_words(usual, measure, material)
    unit = Decimal(1) if measure.ordinal else usual.set.round_to
    low = next(iter(usual.group.low), None)
    high = next(iter(usual.group.high), None)
    if low and high and _whole(low, unit) and _whole(high, unit):
        ends = _inside(low, unit), _inside(high, unit)
        first, last = (number_words(end, is_signed(measure)) for end in ends)
        return with_unit(material.phrases("from-to", low=first, high=last), measure.unit)
    told = [_end_words(cut, unit, measure, material) for cut in (low, high) if cut]
    return material.phrases("both-ends", low=told[0], high=told[-1]) if len(told) > 1 else told[0]


def _whole(cut: Cut, unit: Decimal | None) -> bool:
    """Whether the last value inside can be named: the cut itself or a whole unit inside it."""
    return unit is not None or cut.op in {"<", ">"}


def _inside(cut: Cut, unit: Decimal | None) -> Decimal:
    """The last value that is usual."""
    if cut.op in {"<", ">"}:
        return cut.at
    step = unit or Decimal(0)
    return cut.at + step if cut.op == "<=" else cut.at - step


def _end_words(cut: Cut, unit: Decimal | None, measure: Measure, material: Material) -> str:
    """One end of the usual range."""
    if _whole(cut, unit):
        last = _inside(cut, unit)
        text = quantity_words(last, measure)
        if last == (measure.hard_high if cut.op.startswith("<") else measure.hard_low):
            return text  # the end of the scale: nothing lies beyond it
        if cut.op.startswith("<"):
            return material.phrases("or-more", low=text)
        return material.phrases("up-to", high=text)
    text = quantity_words(cut.at, measure)
    if cut.op == "<=":
        return material.phrases("more-than", low=text)
    return material.phrases("less-than", high=text)


def _spread_words(usual: Usual, measure: Measure, material: Material) -> str:
    """Mean ± 1.96 SD as a range; empty where the group has no SD."""
    if usual.low is None or usual.high is None:
        return ""
    low, high = usual.low.limit, usual.high.limit
    unit = rounded_words(high, measure, is_signed(measure))
    bare = rounded_words(low, measure, is_signed(measure)).removesuffix(f" {measure.unit}")
    return material.phrases("from-to", low=bare, high=unit)
