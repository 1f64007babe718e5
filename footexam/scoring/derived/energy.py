"""Derived counts of the signs of low energy availability, primary and secondary."""

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal

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
# Mountjoy et al. 2023, Br J Sports Med 57:1073 (clinical assessment tool, severe and primary
# indicators): periods missed, bone stress injuries and training lost in two years.
MISSED_SEVERE, MISSED_PRIMARY = 12, 3
YEARS_COUNTED = 2
OTHER_BONES_PRIMARY = 2
WEEKS_LOST_PRIMARY = 26
HIGH_RISK_BONES = ("femoral neck", "neck of femur", "sacrum", "sacral", "pelvis", "pelvic")
# Common practice: the loss that the question on body mass asks about, kg in six months.
MASS_LOST = Decimal(-5)


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
    counts["body-mass-change-6-months"] = None if change is None else int(change <= MASS_LOST)
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
    return int(missed >= MISSED_PRIMARY) + int(missed >= MISSED_SEVERE)


def _bone_stress(visit: Visit) -> int | None:
    """1 with a high-risk bone, two other bones, or half a year lost within two years."""
    found = rows(visit, "bone-stress-injuries")
    if not found:
        return None
    recent = list(_recent(found, visit.examination.examined_on))
    high = any(_high_risk(row.get("bone")) for row in recent)
    lost = [row["weeks_lost"] for row in recent if "weeks_lost" in row]
    weeks = sum((week for week in lost if isinstance(week, Decimal)), Decimal())
    return int(high or len(recent) >= OTHER_BONES_PRIMARY or weeks >= WEEKS_LOST_PRIMARY)


def _recent(found: tuple[Row, ...], today: date) -> Iterator[Row]:
    for row in found:
        day = last_day(row.get("date"), today)
        if day and (day.year + YEARS_COUNTED, day.month, day.day) >= (
            today.year,
            today.month,
            today.day,
        ):
            yield row


def _high_risk(bone: object) -> bool:
    words = str(bone or "").casefold().replace("-", " ")
    return any(name in words for name in HIGH_RISK_BONES)
