"""The rows of a rubric with a marker's marks, in words: critical fails, domains, grade; no Qt."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from footexam.catalogue.marking import BEST, CriticalFail, Domain, Rubric, Seen
from footexam.catalogue.model import say
from footexam.desktop.marking.words import WORDS
from footexam.drawing.palette import Ink
from footexam.marking.rubric import Marks, Verdict, total, verdict
from footexam.reports.words import number_words

NO_MARK = "–"


class What(StrEnum):
    """What a row is about."""

    HEAD = "head"
    CRITICAL = "critical"
    DOMAIN = "domain"
    GRADE = "grade"


@dataclass(frozen=True, slots=True)
class Row:
    """One row; `detail` says more of it, each mark of a domain in words."""

    what: What
    id: str
    words: str
    below: str = ""
    checked: bool | None = None
    ink: Ink = Ink.INK
    level: int = 0
    detail: str = ""

    @property
    def is_head(self) -> bool:
        """Whether it only heads what follows."""
        return self.what is What.HEAD


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is marked: by which rubric, what the comparison found, and what both markers gave.

    `found` tells of each critical fail what was found of it; `proposed` are those it proposes.
    `both` are the first and the second marker's marks where they agree on marks together.
    """

    rubric: Rubric
    marks: Marks
    cut: float | None = None
    found: Mapping[Seen | None, str] | None = None
    proposed: tuple[Seen, ...] = ()
    both: tuple[Marks, Marks] | None = None


def rows_of(sheet: Sheet) -> list[Row]:
    """All rows from top to bottom."""
    rubric = sheet.rubric
    return [
        Row(What.HEAD, "critical", WORDS["head-critical"]),
        *(_critical(one, sheet) for one in rubric.critical),
        Row(What.HEAD, "domains", WORDS["head-domains"]),
        *(_domain(one, sheet) for one in rubric.domains),
        Row(What.HEAD, "grade", WORDS["head-grade"]),
        _grade(sheet),
    ]


def _critical(one: CriticalFail, sheet: Sheet) -> Row:
    proposed = one.seen is not None and one.seen in sheet.proposed
    told = [WORDS["proposed"]] if proposed else []
    if sheet.both is not None:
        names = [marks.marker for marks in sheet.both if one.id in marks.critical]
        if len(names) == 1:
            told.append(WORDS["only-one"].format(name=names[0]))
    found = (sheet.found or {}).get(one.seen, "") if proposed else ""
    ink = Ink.CAUTION if told else Ink.INK
    below, label = "; ".join(told), say(one.label)
    is_set = one.id in sheet.marks.critical
    return Row(What.CRITICAL, one.id, label, below, is_set, ink, detail=found or label)


def _domain(domain: Domain, sheet: Sheet) -> Row:
    mark = sheet.marks.domains.get(domain.id)
    words = f"{NO_MARK if mark is None else mark}   {say(domain.label)}"
    told = [_between(domain, sheet.both)] if sheet.both is not None else []
    told.append(WORDS["no-mark"] if mark is None else say(domain.anchors[mark]))
    weight = WORDS["weight"].format(points=number_words(domain.weight))
    below = "; ".join((weight, *filter(None, told)))
    detail = "\n".join(
        WORDS["anchor"].format(mark=at, says=say(domain.anchors[at])) for at in range(BEST + 1)
    )
    return Row(What.DOMAIN, domain.id, words, below, detail=detail)


def _between(domain: Domain, both: tuple[Marks, Marks]) -> str:
    """What each of two markers gave, and how far apart in points."""
    given = [marks.domains.get(domain.id) for marks in both]
    names = [marks.marker for marks in both]
    told = [NO_MARK if mark is None else str(mark) for mark in given]
    parts = dict(zip(("first", "second", "one", "two"), (*names, *told), strict=True))
    if given[0] == given[1] or None in given:
        return WORDS["both-gave"].format(**parts)
    apart = domain.weight * abs((given[0] or 0) - (given[1] or 0)) / BEST
    return WORDS["both-apart"].format(**parts, apart=_plain(apart))


def _grade(sheet: Sheet) -> Row:
    labels = {grade.id: say(grade.label) for grade in sheet.rubric.grades}
    listed = "   ".join(f"{at} {label}" for at, label in enumerate(labels.values()))
    told = [listed]
    if sheet.both is not None:
        given = [labels.get(marks.grade or "", NO_MARK) for marks in sheet.both]
        names = [marks.marker for marks in sheet.both]
        parts = dict(zip(("first", "second", "one", "two"), (*names, *given), strict=True))
        told.insert(0, WORDS["both-gave"].format(**parts))
    grade = sheet.marks.grade
    at = list(labels).index(grade) if grade in labels else None
    shown = NO_MARK if at is None else f"{at}   {labels[grade or '']}"
    words = f"{shown}   {WORDS['no-grade']}" if at is None else shown
    return Row(What.GRADE, "grade", words, "; ".join(told), detail=WORDS["grade-is"])


# --- what it comes to


def sum_words(sheet: Sheet) -> str:
    """Points so far, what is missing, the pass mark and what follows from it."""
    found = total(sheet.rubric, sheet.marks)
    of = number_words(found.of)
    told = [WORDS["sum"].format(points=_plain(found.points), of=of), *_open(sheet)]
    if sheet.both is not None:
        points = [_plain(total(sheet.rubric, one).points) for one in sheet.both]
        names = [marks.marker for marks in sheet.both]
        parts = dict(zip(("first", "second", "one", "two"), (*names, *points), strict=True))
        told.append(WORDS["sum-both"].format(**parts))
    if sheet.cut is None:
        told.append(WORDS["sum-no-cut"])
    else:
        told.append(WORDS["sum-cut"].format(cut=_plain(round(Decimal(repr(sheet.cut)), 1))))
    result = verdict(sheet.rubric, sheet.marks, sheet.cut)
    if result is not Verdict.OPEN:
        told.append(WORDS[f"verdict-{result}"])
    return ", ".join(told)


def _open(sheet: Sheet) -> Iterator[str]:
    count = len(total(sheet.rubric, sheet.marks).missing)
    if count:
        yield WORDS["sum-open-one" if count == 1 else "sum-open"].format(count=count)
    if sheet.marks.grade is None:
        yield WORDS["sum-no-grade"]


def _plain(points: Decimal) -> str:
    """Points without needless zeros."""
    whole = points.to_integral_value()
    return number_words(whole if points == whole else points.normalize())


def unfinished(sheet: Sheet) -> tuple[tuple[What, str], ...]:
    """The rows that must be filled before marks are signed."""
    missing = total(sheet.rubric, sheet.marks).missing
    rows = [(What.DOMAIN, name) for name in missing]
    return (*rows, (What.GRADE, "grade")) if sheet.marks.grade is None else tuple(rows)


def unfinished_words(sheet: Sheet) -> str:
    """What must be filled, in words."""
    labels = {domain.id: say(domain.label) for domain in sheet.rubric.domains}
    missing = "; ".join(labels[name] for what, name in unfinished(sheet) if what is What.DOMAIN)
    told = [WORDS["missing-marks"].format(what=missing)] if missing else []
    if sheet.marks.grade is None:
        told.append(WORDS["missing-grade"])
    return ", ".join(told)


def unconfirmed(sheet: Sheet) -> str:
    """The critical fails that are proposed and not confirmed, by name; "" if none."""
    names = [
        say(one.label)
        for one in sheet.rubric.critical
        if one.seen in sheet.proposed and one.id not in sheet.marks.critical
    ]
    return "; ".join(names)
