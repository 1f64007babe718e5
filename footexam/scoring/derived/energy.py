"""Derived counts of the signs of low energy availability, primary and secondary.

What makes a sign stands with its source under the two measures in forms/panels.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from functools import partial

from footexam.scoring.derived.result import Derived
from footexam.scoring.derived.tables import Row, last_day, rows
from footexam.scoring.visit import Visit

SECONDARY_ANSWERS = (
    "menstrual-disturbance",
    "low-libido",
    "previous-bone-stress-injury",
    "restricting-food",
    "poor-sleep",
)
PRIMARY, SECONDARY = "reds-primary-indicators", "reds-secondary-indicators"


def reds_primary_indicators(visit: Visit) -> Derived | None:
    """Severe (counting 2) and primary signs of low energy availability found so far, a count.

    Missed periods of a pregnancy or after a birth do not count. A growth spurt is no sign:
    faltering growth is the physician's to judge from the growth chart.
    """
    counts = {
        "primary-amenorrhoea": _answer(visit, "primary-amenorrhoea", 2),
        "missed-cycles": _missed(visit),
        "bone-stress-injuries": _bone_stress(visit),
        "growth-spurt": _answer(visit, "growth-spurt", 0),
    }
    return _count(counts)


def reds_secondary_indicators(visit: Visit) -> Derived | None:
    """Secondary signs of low energy availability found so far, a count."""
    counts = {measure: _answer(visit, measure, 1) for measure in SECONDARY_ANSWERS}
    if counts["menstrual-disturbance"] and _pregnant(visit):
        counts["menstrual-disturbance"] = 0
    change = visit.number("body-mass-change-6-months")
    if change is not None:
        counts["body-mass-change-6-months"] = int(-change >= visit.figure(SECONDARY, "mass-lost"))
    return _count(counts)


def _count(counts: Mapping[str, int | None]) -> Derived | None:
    known = {measure: count for measure, count in counts.items() if count is not None}
    return Derived(Decimal(sum(known.values())), tuple(known)) if known else None


def _answer(visit: Visit, measure: str, worth: int) -> int | None:
    answer = visit.word(measure)
    return None if answer is None else worth * (answer == "yes")


def _pregnant(visit: Visit) -> bool:
    return visit.word("pregnant-or-recent-birth") == "yes"


def _missed(visit: Visit) -> int | None:
    missed = visit.number("missed-cycles")
    if missed is None:
        return None
    if _pregnant(visit):
        return 0
    limits = (visit.figure(PRIMARY, name) for name in ("missed-primary", "missed-severe"))
    return sum(missed >= limit for limit in limits)


def _bone_stress(visit: Visit) -> int | None:
    """1 with a high-risk bone, enough other bones, or enough weeks lost in the years counted."""
    found = rows(visit, "bone-stress-injuries")
    if not found:
        return None
    figure = partial(visit.figure, PRIMARY)
    recent = list(_recent(found, visit.examination.examined_on, int(figure("years-counted"))))
    names = visit.rule(PRIMARY, "high-risk-bones").words
    high = any(_high_risk(row.get("bone"), names) for row in recent)
    lost = [row["weeks_lost"] for row in recent if "weeks_lost" in row]
    weeks = sum((week for week in lost if isinstance(week, Decimal)), Decimal())
    return int(high or len(recent) >= figure("other-bones") or weeks >= figure("weeks-lost"))


def _recent(found: tuple[Row, ...], today: date, years: int) -> Iterator[Row]:
    for row in found:
        day = last_day(row.get("date"), today)
        if day and (day.year + years, day.month, day.day) >= (
            today.year,
            today.month,
            today.day,
        ):
            yield row


def _high_risk(bone: object, names: tuple[str, ...]) -> bool:
    words = str(bone or "").casefold().replace("-", " ")
    return any(name in words for name in names)
