"""Every usual range that a reading was set against, competing ones too, and the errors used."""

from collections.abc import Iterator

from footexam.catalogue.model import MDC_FACTOR, Cut, ErrorSize, Measure, NormGroup, NormSet
from footexam.reports.blocks import (
    SMALL,
    SMALL_INK,
    Block,
    Cell,
    Heading,
    Row,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.material import Material
from footexam.reports.ranges import USUAL
from footexam.reports.text import Style
from footexam.reports.words import quantity_words, rounded_words
from footexam.scoring.results import NormShown
from footexam.terms import Examiner

WIDTHS = (0.33, 0.39, 0.28)
MORE_THAN_ONE = 2
NAME = Style(SMALL.size, bold=True)
SIGNS = {"<": "<", "<=": "≤", ">": ">", ">=": "≥"}


def norms(material: Material) -> list[Block]:
    """The sets and groups of every judged measure, then its errors; each note is told once."""
    rows: list[Row] = []
    notes: set[str] = set()
    for measure, shown in _by_measure(material).items():
        rows += _measure_rows(measure, shown, notes, material)
    if not rows:
        return []
    for note in notes:
        material.citations.told(note)
    phrases = material.phrases
    heads = header(*map(phrases, ("norm-set", "figures", "source")))
    return [
        Heading(phrases("norms")),
        para(phrases("norms-note"), style=SMALL),
        Table(WIDTHS, tuple(rows), heads),
    ]


def _by_measure(material: Material) -> dict[str, list[NormShown]]:
    """The norms shown for each measure on either side, each set and group once.

    A word that one set alone names as unusual has its source beside it and no figures.
    """
    found: dict[str, dict[tuple[str, str], NormShown]] = {}
    for finding in material.assessment.findings:
        if isinstance(finding.value, str) and len(finding.norms) < MORE_THAN_ONE:
            continue
        for shown in finding.norms:
            listed = found.setdefault(finding.measure, {})
            known = listed.get((shown.set, shown.group))
            if known is None or (shown.judged and not known.judged):
                listed[shown.set, shown.group] = shown
    return {measure: list(listed.values()) for measure, listed in found.items()}


def _measure_rows(
    name: str, shown: list[NormShown], notes: set[str], material: Material
) -> Iterator[Row]:
    """The name of one measure, then its sets and its errors, each with its note."""
    measure = material.measure(name)
    told: list[tuple[tuple[Cell, ...], str]] = [
        _norm_cells(norm, measure, material)
        for norm in sorted(shown, key=lambda norm: not norm.judged)
    ]
    if _is_number(name, material):
        used = (size for size in measure.errors if size.used)
        told += [_error_cells(size, measure, material) for size in used]
    told[0] = _named(material.label(name), told[0][0]), told[0][1]
    for place, (cells, note) in enumerate(told):
        is_new = bool(note) and note not in notes
        ends = place + 1 == len(told)
        yield Row(cells, lined=ends and not is_new)
        if is_new:
            notes.add(note)
            yield Row((cell(note, SMALL),), lined=ends)


def _named(label: str, cells: tuple[Cell, ...]) -> tuple[Cell, ...]:
    """The first set of a measure under the measure's name, so that no page parts them."""
    first, *others = cells
    return ((*cell(label, NAME), *first), *((para(" ", style=NAME), *other) for other in others))


def _is_number(measure: str, material: Material) -> bool:
    """Whether a finding of the measure is a number, so that its error matters."""
    return any(
        finding.measure == measure and not isinstance(finding.value, str)
        for finding in material.assessment.findings
    )


def _norm_cells(
    shown: NormShown, measure: Measure, material: Material
) -> tuple[tuple[Cell, ...], str]:
    """Set and group, figures, source with its standing and whether it judged; and the note."""
    phrases = material.phrases
    norm, group = _find(shown, measure, material)
    name = material.say(norm.label) if norm else shown.set
    note = material.say(norm.note) if norm else ""
    group_name = material.say(group.label) if group else shown.group
    if group_name:
        name = phrases("set-group", set=name, group=group_name)
    cite = material.citations.cite(
        shown.source, shown.provenance, USUAL, material.label(measure.id), note
    )
    role = (
        phrases("judged-by" if shown.judged else "shown-beside"),
        NAME if shown.judged else SMALL_INK,
    )
    standing = f", {cite}, {phrases(f'short-{shown.provenance}')}"
    figures = "; ".join(_figures(shown, norm, group, measure, material))
    return (cell(name, SMALL_INK), cell(figures, SMALL_INK), (para(role, (standing, SMALL)),)), note


def _find(
    shown: NormShown, measure: Measure, material: Material
) -> tuple[NormSet | None, NormGroup | None]:
    """The set and the group of forms/ behind a norm that is shown."""
    for norm in material.catalogue.norms.get(measure.id, ()):
        if norm.id == shown.set:
            return norm, next((one for one in norm.groups if one.id == shown.group), None)
    return None, None


def _figures(
    shown: NormShown,
    norm: NormSet | None,
    group: NormGroup | None,
    measure: Measure,
    material: Material,
) -> Iterator[str]:
    """Cuts with their words, mean and SD, how many people."""
    phrases = material.phrases
    if norm is not None and norm.outside:
        yield phrases("outside-words", words=", ".join(map(material.word, norm.outside)))
    cuts = (*reversed(group.low), *group.high) if group else ()
    if cuts:
        yield "; ".join(_cut(cut, measure, material) for cut in cuts)
    if shown.mean is not None:
        mean = rounded_words(shown.mean, measure)
        if shown.sd is None:
            yield phrases("mean-only", mean=mean)
        else:
            yield phrases("mean-sd", mean=mean, sd=rounded_words(shown.sd, measure))
    if shown.n is not None:
        yield phrases("number-of-people", count=shown.n)


def _cut(cut: Cut, measure: Measure, material: Material) -> str:
    at = quantity_words(cut.at, measure)
    return material.phrases("cut", state=material.word(cut.state), op=SIGNS[cut.op], at=at)


def _error_cells(
    size: ErrorSize, measure: Measure, material: Material
) -> tuple[tuple[Cell, ...], str]:
    """Whose repeat, the change it takes to exceed it, and its source; and the note."""
    phrases = material.phrases
    told = phrases("error-same" if size.examiner is Examiner.SAME else "error-other")
    if size.method:
        told = phrases("error-method", error=told, method=material.word(size.method))
    note = material.say(size.note)
    label = material.label(measure.id)
    cite = material.citations.cite(size.source, size.provenance, "error-of", label, note)
    sem = size.standard_error()
    needed = rounded_words(sem * MDC_FACTOR, measure)
    if needed[0].isdigit():  # the unit stands once, behind the second number
        needed = needed.partition(" ")[0]
    figure = phrases("error-figure", needed=needed, sem=rounded_words(sem, measure))
    standing = f"{cite}, {phrases(f'short-{size.provenance}')}"
    return (cell(told, SMALL_INK), cell(figure, SMALL_INK), cell(standing, SMALL)), note
