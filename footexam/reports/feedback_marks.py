"""The marks of a feedback document: domains, one thing to practise in each, grade, signatures."""

from collections.abc import Iterable, Iterator

from footexam.catalogue.marking import BEST, Domain, Rubric
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing, Line
from footexam.marking.compared import APART, MISSED, Comparison, Item
from footexam.marking.rubric import Marks, Verdict, total, verdict
from footexam.reports.blocks import (
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Cell,
    Heading,
    Picture,
    Row,
    Rule,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.closing import LINE, ROOM, SIGNATURE
from footexam.reports.marking_page import Words, fixed
from footexam.reports.words import number_words

_DOMAINS = (0.24, 0.09, 0.1, 0.57)
_CRITERIA = (0.28, 0.72)
_BLANK = 34.0
"""Width in points of a line to write a mark on."""


def marks_blocks(
    comparison: Comparison, words: Words, rubric: Rubric, marks: Marks | None, cut: float | None
) -> list[Block]:
    """Domains with marks or room for them, points, grade, the marker's words, signatures."""
    examples = dict(_examples(comparison, rubric))
    rows = tuple(_row(domain, examples, words, marks) for domain in rubric.domains)
    heads = header(*map(words, ("domain", "of-points", "mark", "what-it-means")))
    return [
        Heading(words("marks")),
        Table(_DOMAINS, rows, heads),
        *(_given(words, rubric, marks, cut) if marks else _open(words, rubric)),
        Heading(words("two-lines"), 3),
        *_lines(marks),
        Space(10),
        _signatures(marks, words),
    ]


def _row(domain: Domain, examples: dict[str, Item], words: Words, marks: Marks | None) -> Row:
    """One domain: weight, mark with what it means, and one thing to practise."""
    mark = marks.domains.get(domain.id) if marks else None
    practise = words.say(domain.practise)
    example = examples.get(domain.id)
    if example is not None:
        practise = words("practise-item", what=practise, item=words.item(example))
    told = [para(words.say(domain.anchors[mark]), style=SMALL_INK)] if mark is not None else []
    told.append(para(words("practise", what=practise), style=SMALL))
    shown: Cell = cell(str(mark), STRONG) if mark is not None else (Picture(_blank()),)
    weight = number_words(domain.weight)
    return Row((cell(words.say(domain.label), STRONG), cell(weight), shown, tuple(told)))


def _blank() -> Drawing:
    return Drawing(_BLANK, 14.0, (Line(0.0, 13.0, _BLANK, 13.0, Ink.INK, 0.6),))


def _examples(comparison: Comparison, rubric: Rubric) -> Iterator[tuple[str, Item]]:
    """For each domain the item that went worst and was named by no domain before."""
    used = set[str]()
    for domain in rubric.domains:
        rows = [
            item
            for item in comparison.items
            if item.measure.panel in domain.panels
            and item.measure.id not in used
            and item.outcome in APART | MISSED
            and (item.difference is not None or not domain.numbers)
        ]
        if rows:
            worst = max(rows, key=_badness)
            used.add(worst.measure.id)
            yield domain.id, worst


def _badness(item: Item) -> tuple[bool, float]:
    """What is apart before what is missing, then the farther apart."""
    apart = item.outcome in APART
    if item.difference is None or not item.tolerance:
        return apart, 1.0
    return apart, abs(float(item.difference)) / item.tolerance


# --- points and grade


def _given(words: Words, rubric: Rubric, marks: Marks, cut: float | None) -> list[Block]:
    """What the marks come to."""
    found = total(rubric, marks)
    of = number_words(found.of)
    key = "total" if found.is_complete else "total-part"
    points = number_words(found.points.normalize())
    told = [words(key, points=points, of=of, count=len(found.missing))]
    labels = {grade.id: words.say(grade.label) for grade in rubric.grades}
    if marks.grade is not None:
        told.append(words("grade", grade=labels[marks.grade]))
    told.append(words("cut-open") if cut is None else words("cut", cut=fixed(cut, 1), of=of))
    told.append(_verdict(words, rubric, marks, cut))
    return [Space(4), para(" ".join(told), style=STRONG)]


def _verdict(words: Words, rubric: Rubric, marks: Marks, cut: float | None) -> str:
    found = verdict(rubric, marks, cut)
    if found is not Verdict.CRITICAL:
        return words(found)
    what = "; ".join(words.say(one.label) for one in rubric.critical if one.id in marks.critical)
    return words("critical-fail", what=what)


def _open(words: Words, rubric: Rubric) -> list[Block]:
    """The same to be filled in by hand."""
    grades = "   ".join(words.say(grade.label) for grade in rubric.grades)
    critical = "; ".join(words.say(one.label) for one in rubric.critical)
    return [
        Space(4),
        para(words("grade-open", grades=grades)),
        para(words("critical-confirmed", what=critical)),
    ]


def _lines(marks: Marks | None) -> Iterable[Block]:
    """What the marker says, or two lines for it."""
    if marks and marks.lines:
        return [para(line) for line in marks.lines]
    return [block for _ in range(2) for block in (Space(LINE), Rule())]


def _signatures(marks: Marks | None, words: Words) -> Block:
    marker = marks.marker if marks else ""
    cells = (_line(marker, words("signature")), _line("", words("seen")))
    return Table((0.5, 0.5), (Row(cells, lined=False),))


def _line(name: str, told: str) -> Cell:
    line = Drawing(SIGNATURE, ROOM, (Line(0.0, ROOM, SIGNATURE, ROOM, Ink.INK, 0.8),))
    under = (para(told, style=SMALL),)
    return (Picture(line), para(name, style=STRONG), *under) if name else (Picture(line), *under)


# --- criteria


def criteria(words: Words, rubric: Rubric) -> list[Block]:
    """What every mark of every domain means."""
    rows = tuple(
        Row((cell(words.say(domain.label), STRONG), _anchors(domain, words)))
        for domain in rubric.domains
    )
    heads = header(words("domain"), words("mark"))
    heading = Heading(words("criteria"), note=words("criteria-note"))
    return [heading, Table(_CRITERIA, rows, heads)]


def _anchors(domain: Domain, words: Words) -> Cell:
    return tuple(
        para((f"{mark}   ", STRONG), (words.say(domain.anchors[mark]), SMALL_INK))
        for mark in range(BEST + 1)
    )
