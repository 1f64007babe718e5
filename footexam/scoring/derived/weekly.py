"""Derived measures of the weekly load: its changes, how long it was stable, sessions a week.

Weeks run from Monday. The load of a week is minutes times effort; where that is not written for
every week compared, minutes; else kilometres. A week that is not written down is not known: it is
never taken for 0.
"""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal

from footexam.scoring.derived.result import Derived
from footexam.scoring.derived.tables import (
    DAYS_A_WEEK,
    Row,
    cell,
    effort_minutes,
    rows,
    total_of,
    whole_day,
)
from footexam.scoring.loads import PERCENT, change_percent
from footexam.scoring.visit import Visit

WEEK = timedelta(days=DAYS_A_WEEK)
SESSIONS_WEEKS = 4

_INPUTS = ("weekly-load",)


def load_change_4_weeks(visit: Visit) -> Derived | None:
    """Last complete week against the mean of the four before, %; needs five weeks in a row."""
    return _change(visit, 4)


def load_change_2_weeks(visit: Visit) -> Derived | None:
    """Last complete week against the mean of the two before, %; needs three weeks in a row."""
    return _change(visit, 2)


def _change(visit: Visit, before: int) -> Derived | None:
    loads = _loads(_run(visit)[-before - 1 :])
    if len(loads) <= before:
        return None
    change = change_percent(loads[-1], sum(loads[:-1], Decimal()) / before)
    return None if change is None else Derived(change, _INPUTS)


def load_stable_weeks(visit: Visit) -> Derived | None:
    """Weeks since the load changed either way by more than the rule's share; at least so many.

    Counted backwards from the last complete week to the first change or gap; None with one week.
    """
    run = _run(visit)
    if len(run) < 2:
        return None
    loads = _loads(run)
    most = visit.figure("load-stable-weeks", "changed")
    stable = 0
    for later, earlier in zip(reversed(loads), reversed(loads[:-1]), strict=False):
        if abs(later - earlier) * PERCENT > earlier * most:
            break
        stable += 1
    return Derived(Decimal(stable), _INPUTS) if loads else None


def sessions_per_week(visit: Visit) -> Derived | None:
    """Mean sessions of the last four complete weeks written down (of fewer if there are fewer)."""
    weeks = sorted(_complete_weeks(visit).items())[-SESSIONS_WEEKS:]
    counts = [total_of(week, cell("sessions")) for _, week in weeks]
    known = [count for count in counts if count is not None]
    return Derived(sum(known, Decimal()) / len(known), _INPUTS) if known else None


def weeks_of(visit: Visit) -> dict[date, list[Row]]:
    """The rows of each week that had begun by the day of the examination, by its Monday."""
    weeks: dict[date, list[Row]] = defaultdict(list)
    for row in rows(visit, "weekly-load"):
        day = whole_day(row.get("week"))
        if day is not None:
            weeks[day - timedelta(days=day.weekday())].append(row)
    today = visit.examination.examined_on
    return {monday: week for monday, week in weeks.items() if monday <= today}


def is_over(monday: date, visit: Visit) -> bool:
    """Whether a week was over by the day of the examination."""
    return monday + WEEK <= visit.examination.examined_on


def _complete_weeks(visit: Visit) -> dict[date, list[Row]]:
    """The rows of each week that is over by the day of the examination, by its Monday."""
    weeks = weeks_of(visit)
    return {monday: week for monday, week in weeks.items() if is_over(monday, visit)}


def _run(visit: Visit) -> list[list[Row]]:
    """The unbroken weeks up to the last complete one, oldest first."""
    weeks = _complete_weeks(visit)
    run: list[list[Row]] = []
    monday = max(weeks, default=None)
    while monday in weeks:
        run.append(weeks[monday])
        monday -= WEEK
    return run[::-1]


def _loads(run: Sequence[list[Row]]) -> list[Decimal]:
    """The load of each week in the first quantity written for every one; empty without any."""
    for quantity in (effort_minutes, cell("minutes"), cell("distance_km")):
        loads = [total_of(week, quantity) for week in run]
        known = [load for load in loads if load is not None]
        if len(known) == len(run):
            return known
    return []
