"""The findings of page one: short tables of what matters most, and where the whole stands."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from footexam.reports.absences import WIDTHS, absence_rows, most_absent
from footexam.reports.blocks import (
    BODY,
    COMPACT,
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Cell,
    Heading,
    Para,
    Row,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.cautions import has_reasons
from footexam.reports.compared import (
    Changes,
    beyond_words,
    change_lists,
    change_table,
    cite_error,
    compared_sides,
    compared_visits,
    difference_row,
)
from footexam.reports.material import SIDES, Material
from footexam.reports.outside import finding_value, label_cell, without
from footexam.reports.ranges import cite_words, usual_words
from footexam.reports.sureness import (
    BRIEF_RULER,
    SURE,
    is_outside,
    ruler_of,
    scale_of,
    sure_ink,
    sure_words,
)
from footexam.reports.text import Span, Style
from footexam.reports.values import value_lines
from footexam.reports.words import quantity_words, rounded_words
from footexam.scoring.results import Change, Difference, Finding
from footexam.terms import Basis, Label, Side

SIDED = (0.37, 0.315, 0.315)
WORDS = (0.17, 0.83)
DIFFERENCE = (0.25, 0.11, 0.11, 0.12, 0.22, 0.19)
WHOSE = ("both", "left", "right", "whole-person")
"""The rows of running text, by whose findings they hold."""
SURENESS = (Label.LIKELY, Label.POSSIBLE, Label.REPEAT)
"""The surest first: what is left out for want of room is what is least sure."""
GUARDING = "nerve-and-vessel"
"""The panel of feeling and blood flow: its findings are never crowded out by others."""
OUTSIDE, DIFFERENCES, CHANGES, ABSENCES = "outside", "differences", "changes", "absences"
CAUTIONS = "cautions"


@dataclass(frozen=True, slots=True)
class Limits:
    """How much page one holds; None: everything.

    `unchanged`: the changes inside error are listed, not only counted. `tables`: sides and visits
    stand in tables, else in running text; `rows` the same for absences. `key`: the ruler is
    explained here. `typed`: characters of a typed text. `plan`: ruled lines. `counter`: the
    counter-evidence of accepted hypotheses stands whole, not only its first sentence. `cautions`:
    each stands with what it rests on, not only with what to do and what was done.
    """

    outside: int | None = None
    words: int | None = None
    differences: int | None = None
    changes: int | None = None
    absent: int | None = None
    unchanged: bool = True
    tables: bool = True
    rows: bool = True
    key: bool = True
    typed: int = 600
    plan: int = 4
    counter: bool = True
    cautions: bool = True


Pages = Mapping[str, int]
"""The page on which each section stands whole, by section; of an argument by its heading."""


def brief(material: Material, limits: Limits, pages: Pages) -> list[Block]:
    """The sections of page one in their order."""
    return [
        *_outside(material, limits, str(pages.get(OUTSIDE, 2))),
        *_differences(material, limits, str(pages.get(DIFFERENCES, 2))),
        *_changes(material, limits, str(pages.get(CHANGES, 2))),
        *_absences(material, limits, str(pages.get(ABSENCES, 2))),
    ]


def shortened(material: Material, limits: Limits) -> set[str]:
    """The sections of which page one does not hold everything."""
    sided, words = _sorted_out(material)
    longest = max((len(listed) for listed in words.values()), default=0)
    found = compared_visits(material)
    short = {
        CAUTIONS: not limits.cautions and has_reasons(material),
        OUTSIDE: _less(limits.outside, len(sided)) or _less(limits.words, longest),
        DIFFERENCES: _less(limits.differences, len(compared_sides(material)[1])),
        CHANGES: found is not None
        and (
            _less(limits.changes, len(found.real))
            or (not limits.unchanged and bool(found.inside or found.unknown))
        ),
        ABSENCES: _less(limits.absent, most_absent(material)),
    }
    return {section for section, is_short in short.items() if is_short}


def _less(limit: int | None, count: int) -> bool:
    return limit is not None and limit < count


def _heading(material: Material, section: str) -> Heading:
    return Heading(material.phrases(section), 3)


def _more(material: Material, count: int, page: str) -> list[Block]:
    """How many rows are left out and where they stand."""
    if count <= 0:
        return []
    return [para(material.phrases("more", count=count, page=page), style=SMALL_INK)]


# --- outside the usual range


def _outside(material: Material, limits: Limits, page: str) -> list[Block]:
    """Numbers with rulers, the surest where there is no room for all; then words by side."""
    sided, words = _sorted_out(material)
    blocks: list[Block] = [_heading(material, OUTSIDE)]
    if not sided and not words:
        judged = any(f.label is not Label.NOT_JUDGED for f in material.assessment.findings)
        return [*blocks, para(material.phrases("outside-none" if judged else "nothing-judged"))]
    kept = _surest(sided, limits.outside, material)
    left = [measure for measure in sided if measure not in kept]
    guarding = [one for one in left if material.measure(one).panel == GUARDING]
    if kept:
        heads = header(*map(material.phrases, ("measure", "left", "right")))
        blocks.append(Table(SIDED, tuple(_sided_row(one, material) for one in kept), heads))
    blocks += _more(material, len(left) - len(guarding), page)
    rows = []
    for title in WHOSE:
        first, found = _told_also(guarding, title, material), words.get(title, [])
        if first or found:
            rows.append(_words_row(title, first, found, limits, page, material))
    blocks += [Table(WORDS, tuple(rows))] if rows else []
    if sided and limits.key:
        blocks.append(para(material.phrases("key-brief"), style=SMALL))
    return blocks


Named = tuple[Finding, ...]
"""The finding, or those of both sides that are the same word."""


def _sorted_out(material: Material) -> tuple[list[str], dict[str, list[Finding]]]:
    """Sided measures with a number outside, and all else outside by whose it is."""
    found = [finding for finding in material.assessment.findings if is_outside(finding)]
    numbers = [f for f in found if f.side is not None and not isinstance(f.value, str)]
    others = [f for f in found if f.side is None or isinstance(f.value, str)]
    words: dict[str, list[Finding]] = {title: [] for title in WHOSE}
    for one in others:
        words[_whose(one, others)].append(one)
    words["both"] = [one for one in words["both"] if one.side is Side.LEFT]
    kept = {title: listed for title, listed in words.items() if listed}
    return list(dict.fromkeys(f.measure for f in numbers)), kept


def _whose(finding: Finding, others: Sequence[Finding]) -> str:
    """Both sides where the word is the same on the other, else the side, else the person."""
    if finding.side is None:
        return "whole-person"
    same = any(
        (one.measure, one.value) == (finding.measure, finding.value) and one.side != finding.side
        for one in others
    )
    return "both" if same else finding.side.value


def _surest(measures: Sequence[str], most: int | None, material: Material) -> list[str]:
    """At most so many measures in the order of forms/, the surest ones."""
    ranked = sorted(measures, key=lambda measure: _rank(measure, material))
    kept = set(ranked[:most])
    return [measure for measure in measures if measure in kept]


def _rank(measure: str, material: Material) -> tuple[bool, int]:
    """What guards the limb first, then the surest; a test of unknown error is no unsure one."""
    found = (material.findings.get((measure, side)) for side in SIDES)
    outside = [finding for finding in found if finding and finding.label in SURE]
    places = (_sureness(finding) for finding in outside)
    return material.measure(measure).panel != GUARDING, min(places)


def _sureness(finding: Finding) -> int:
    """The place of a finding among the sure ones, the surest first."""
    if finding.label is Label.REPEAT and finding.basis is Basis.NONE:
        return SURENESS.index(Label.POSSIBLE)
    return next(place for place, label in enumerate(SURENESS) if label is finding.label)


def _sided_row(measure: str, material: Material) -> Row:
    label = label_cell(measure, material, SIDES)
    return Row((label, *(_side_cell(measure, side, material) for side in SIDES)))


def _side_cell(measure: str, side: Side, material: Material) -> Cell:
    """The value with its ruler and how sure it is; an absence in words."""
    finding, reading = material.findings.get((measure, side)), material.reading(measure, side)
    if finding is None or isinstance(finding.value, str):
        return cell("; ".join(without(measure, reading, material)), SMALL)
    out = is_outside(finding)
    drawing = ruler_of(finding, scale_of(measure, material), material, BRIEF_RULER)
    value = Para(((finding_value(finding, material), STRONG if out else BODY),), drawing)
    style = Style(SMALL.size, out, sure_ink(finding) if out else SMALL.ink)
    return (value, para(sure_words(finding, material, short=True), style=style))


def _told_also(measures: Sequence[str], title: str, material: Material) -> list[Finding]:
    """Findings of a side that have no ruler for want of room and yet must stand here."""
    found = (material.findings.get((measure, side)) for measure in measures for side in SIDES)
    return [one for one in found if one and is_outside(one) and one.side == title]


def _words_row(
    title: str,
    first: Sequence[Finding],
    found: Sequence[Finding],
    limits: Limits,
    page: str,
    material: Material,
) -> Row:
    """What lies outside on one side (or both) in one cell, the unusual word strong.

    `first` are told whatever the limits.
    """
    told = [_named(finding, material) for finding in (*first, *found[: limits.words])]
    spans = _listed(told, len(found) - len(found[: limits.words]), page, material)
    return Row((cell(material.phrases(title), STRONG), (Para(tuple(spans)),)))


def _named(finding: Finding, material: Material) -> list[Span]:
    """The measure, what was found and how sure that is."""
    name = (material.phrases("named-short", measure=material.label(finding.measure)), BODY)
    if isinstance(finding.value, str):
        reading = material.reading(finding.measure, finding.side)
        told = value_lines(reading, material)[0] if reading else material.word(finding.value)
        return [name, (told, STRONG), (f"\u00a0{cite_words(finding, material)}", SMALL)]
    sure = f", {sure_words(finding, material, short=True)}"
    words = usual_words(finding, material)
    # with its side it has its usual range in the whole table, and only the number here
    usual = material.phrases("usual-in", usual=words) if finding.side is None else ""
    return [name, (finding_value(finding, material) + sure, STRONG), (usual, SMALL)]


# --- sides, visits, absences


def _run_in(material: Material, section: str, spans: Sequence[Span]) -> list[Block]:
    """A section in running text behind its title."""
    title = (material.phrases(section) + "    ", COMPACT)
    return [Space(4), Para((title, *spans))]


def _differences(material: Material, limits: Limits, page: str) -> list[Block]:
    """Side differences beyond error or the usual, those surest beyond it where room is short."""
    found, notable = compared_sides(material)
    if not found:
        return []
    if not notable:
        none = material.phrases("differences-none")
        return _run_in(material, DIFFERENCES, [(none, BODY)])
    ranked = sorted(notable, key=_how_unusual)
    kept = [one for one in notable if one in ranked[: limits.differences]]
    left = len(notable) - len(kept)
    if not limits.tables:
        told = [_difference_told(one, material) for one in kept]
        return _run_in(material, DIFFERENCES, _listed(told, left, page, material))
    titles = ("measure", "left", "right", "minus", "beyond", "between")
    rows = tuple(difference_row(one, material, brief=True) for one in kept)
    table = Table(DIFFERENCE, rows, header(*map(material.phrases, titles)))
    return [_heading(material, DIFFERENCES), table, *_more(material, left, page)]


def _listed(told: Sequence[Sequence[Span]], left: int, page: str, material: Material) -> list[Span]:
    """Items one after another, then how many more there are."""
    spans: list[Span] = []
    for place, item in enumerate(told):
        *before, (text, style) = item
        ends = ";" if left or place + 1 < len(told) else ""
        spans += [(" ", BODY)] if place else []
        # the semicolon is no word of its own, which a line could begin with
        spans += [*before, (text + ends, style)]
    if left:
        spans.append((" " + material.phrases("more", count=left, page=page), SMALL_INK))
    return spans


def _difference_told(one: Difference, material: Material) -> list[Span]:
    """A difference in running text."""
    measure, phrases = material.measure(one.measure), material.phrases
    name = phrases(
        "difference-told",
        measure=material.label(one.measure),
        left=quantity_words(one.left, measure),
        right=quantity_words(one.right, measure),
    )
    amount = quantity_words(one.difference, measure, signed=True)
    sure = ""
    if one.label in SURE and one.state is not None:
        sure = ", " + phrases(str(one.label), state=material.word(one.state))
    beyond = beyond_words(one, material, brief=True, in_text=True)
    return [(name, BODY), (amount + sure, STRONG), (f" ({beyond})", SMALL)]


def _how_unusual(one: Difference) -> tuple[int, float]:
    """The surest beyond the usual first, then the largest against its error."""
    place = SURENESS.index(one.label) if one.label in SURE else len(SURENESS)
    return place, -_ratio(float(one.difference), one.change_needed)


def _ratio(amount: float, needed: float | None) -> float:
    return abs(amount) / needed if needed else 0.0


def _changes(material: Material, limits: Limits, page: str) -> list[Block]:
    """Changes beyond error, the largest where room is short; the others listed or counted."""
    found = compared_visits(material)
    if found is None:
        return []
    others = _counted(found, page, material)
    if limits.unchanged:
        others = change_lists(found, material)
    kept = _largest(found.real, limits.changes)
    left = len(found.real) - len(kept)
    if not kept:
        none = material.phrases("changes-none")
        return [*_run_in(material, CHANGES, [(none, BODY)]), *others]
    if not limits.tables:
        told = [_change_told(one, material) for one in kept]
        return [*_run_in(material, CHANGES, _listed(told, left, page, material)), *others]
    table = change_table(kept, material)
    return [_heading(material, CHANGES), table, *_more(material, left, page), *others]


def _change_told(one: Change, material: Material) -> list[Span]:
    """A change in running text."""
    measure, phrases = material.measure(one.measure), material.phrases
    name = phrases(
        "change-told",
        measure=material.sided_label(one.measure, one.side),
        before=quantity_words(one.before, measure),
        now=quantity_words(one.now, measure),
    )
    amount = quantity_words(one.change, measure, signed=True)
    needed = ""
    if one.change_needed is not None:
        least = rounded_words(one.change_needed, measure)
        cites = cite_error(one.measure, material)
        needed = f" ({phrases('needed-bare', needed=least, cites=cites).strip()})"
    return [(name, BODY), (amount, STRONG), (needed, SMALL)]


def _largest(real: Sequence[Change], most: int | None) -> list[Change]:
    ranked = sorted(real, key=lambda one: -_ratio(float(one.change), one.change_needed))
    kept = ranked[:most]
    return [one for one in real if one in kept]


def _counted(found: Changes, page: str, material: Material) -> list[Block]:
    """How many changes are not listed here."""
    if not found.inside and not found.unknown:
        return []
    counts = {"inside": len(found.inside), "unknown": len(found.unknown)}
    told = material.phrases("changes-counted", page=page, **counts)
    return [para(told, style=SMALL_INK)]


def _absences(material: Material, limits: Limits, page: str) -> list[Block]:
    """What is absent, each kind by its name."""
    rows = absence_rows(material, limits.absent, page, run_on=True)
    if not rows:
        return []
    if limits.rows:
        return [_heading(material, ABSENCES), Table(WIDTHS, tuple(rows))]
    pieces = [piece for row in rows for part in row.cells for piece in part]
    told = [span for piece in pieces if isinstance(piece, Para) for span in piece.spans]
    spans = [(f"{text}   ", style) for text, style in told]
    return _run_in(material, ABSENCES, spans)
