"""Derived measures of training: changes of the weekly load, sessions, spikes and monotony.

Weeks run from Monday. The load of a week is minutes times effort; where that is not written for
every week compared, minutes; else kilometres. A week or session that is not written down is not
known: it is never taken for 0.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal

from footexam.scoring.derived.history import DAYS_A_WEEK, rows
from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import Visit

Row = Mapping[str, str | Decimal]
WEEK = timedelta(days=DAYS_A_WEEK)
PERCENT = 100
STABLE_PERCENT = 30
"""A weekly change above this ends a stable time; common practice (cf. Nielsen 2014: 30 %)."""
SESSIONS_WEEKS = 4
LOG_DAYS = 28
SPIKE_DAYS = 30
"""Window of the longest session before (Frandsen 2025, Br J Sports Med 59:1203)."""

_WEEKLY, _LOG = ("weekly-load",), ("session-log",)


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
    mean = sum(loads[:-1], Decimal()) / before
    return Derived((loads[-1] / mean - 1) * PERCENT, _WEEKLY) if mean else None


def load_stable_weeks(visit: Visit) -> Derived | None:
    """Weeks since the weekly load changed by more than 30 % either way; at least so many.

    Counted backwards from the last complete week to the first change or gap; None with one week.
    """
    run = _run(visit)
    if len(run) < 2:
        return None
    loads = _loads(run)
    stable = 0
    for later, earlier in zip(reversed(loads), reversed(loads[:-1]), strict=False):
        if abs(later - earlier) * PERCENT > earlier * STABLE_PERCENT:
            break
        stable += 1
    return Derived(Decimal(stable), _WEEKLY) if loads else None


def sessions_per_week(visit: Visit) -> Derived | None:
    """Mean sessions of the last four complete weeks written down (of fewer if there are fewer)."""
    weeks = sorted(_complete_weeks(visit).items())[-SESSIONS_WEEKS:]
    counts = [_sum(week, _cell("sessions")) for _, week in weeks]
    known = [count for count in counts if count is not None]
    return Derived(sum(known, Decimal()) / len(known), _WEEKLY) if known else None


def _complete_weeks(visit: Visit) -> dict[date, list[Row]]:
    """The rows of each week that is over by the day of the examination, by its Monday."""
    weeks: dict[date, list[Row]] = defaultdict(list)
    for row in rows(visit, "weekly-load"):
        day = _day(row.get("week"))
        if day is not None:
            weeks[day - timedelta(days=day.weekday())].append(row)
    today = visit.examination.examined_on
    return {monday: week for monday, week in weeks.items() if monday + WEEK <= today}


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
    for quantity in (_effort_minutes, _cell("minutes"), _cell("distance_km")):
        loads = [_sum(week, quantity) for week in run]
        known = [load for load in loads if load is not None]
        if len(known) == len(run):
            return known
    return []


def _sum(week: Iterable[Row], quantity: Callable[[Row], Decimal | None]) -> Decimal | None:
    """The quantity of all rows together; None if a row lacks it."""
    total = Decimal()
    for row in week:
        part = quantity(row)
        if part is None:
            return None
        total += part
    return total


def _cell(column: str) -> Callable[[Row], Decimal | None]:
    """Reads a number of that column; None if it is not written."""

    def read(row: Row) -> Decimal | None:
        cell = row.get(column)
        return cell if isinstance(cell, Decimal) else None

    return read


def _effort_minutes(row: Row) -> Decimal | None:
    """Minutes times effort (session load, Foster 1998); 0 minutes are 0 whatever the effort."""
    minutes, effort = row.get("minutes"), row.get("effort")
    if not isinstance(minutes, Decimal):
        return None
    if not minutes:
        return minutes
    return minutes * effort if isinstance(effort, Decimal) else None


def _day(text: object) -> date | None:
    """A full ISO date; None for anything else."""
    try:
        return date.fromisoformat(str(text))
    except ValueError:
        return None


def _sessions(visit: Visit) -> list[tuple[date, Row]]:
    """The dated sessions up to the day of the examination, in order of date."""
    today = visit.examination.examined_on
    dated = ((_day(row.get("date")), row) for row in rows(visit, "session-log"))
    past = [(day, row) for day, row in dated if day is not None and day <= today]
    return sorted(past, key=lambda session: session[0])


def longest_session(visit: Visit) -> Derived | None:
    """The most minutes in one session of the 28 days up to the examination."""
    since = visit.examination.examined_on - timedelta(days=LOG_DAYS)
    minutes = [_cell("minutes")(row) for day, row in _sessions(visit) if day > since]
    known = [number for number in minutes if number is not None]
    return Derived(max(known), _LOG) if known else None


def session_spike_30_days(visit: Visit) -> Derived | None:
    """The largest spike of the last 30 days, %: a session against the longest of 30 days before.

    Sessions of one kind are compared, by kilometres where all have them, else by minutes. A session
    with none of its kind in the 30 days before gives no spike.
    """
    since = visit.examination.examined_on - timedelta(days=SPIKE_DAYS)
    kinds: dict[str, list[tuple[date, Row]]] = defaultdict(list)
    for day, row in _sessions(visit):
        kinds[str(row.get("kind", "")).casefold()].append((day, row))
    spikes = [spike for kind in kinds.values() for spike in _spikes(kind, since)]
    return Derived(max(spikes), _LOG) if spikes else None


def _spikes(sessions: Sequence[tuple[date, Row]], since: date) -> list[Decimal]:
    """The spike of each session after a day, %."""
    sizes = _sizes(sessions)
    spikes = []
    for day, size in sizes:
        start = day - timedelta(days=SPIKE_DAYS)
        longest = max((s for d, s in sizes if start <= d < day), default=None)
        if day > since and longest:
            spikes.append((size / longest - 1) * PERCENT)
    return spikes


def _sizes(sessions: Sequence[tuple[date, Row]]) -> list[tuple[date, Decimal]]:
    """Kilometres of each session if all have them, else minutes if all have them, else nothing."""
    for quantity in (_cell("distance_km"), _cell("minutes")):
        sizes = [(day, quantity(row)) for day, row in sessions]
        known = [(day, size) for day, size in sizes if size is not None]
        if len(known) == len(sizes):
            return known
    return []


def training_monotony(visit: Visit) -> Derived | None:
    """Mean over sample SD of seven daily loads (Foster 1998), a ratio; not defined at SD 0.

    The seven days end with the last day in the log, at most 28 days back; a day inside the log
    without a session is a day of rest. None if the log begins later or a session lacks its load.
    """
    daily: dict[date, list[Row]] = defaultdict(list)
    for day, row in _sessions(visit):
        daily[day].append(row)
    last = max(daily, default=date.min)
    days = [last - timedelta(days=back) for back in range(DAYS_A_WEEK)] if daily else []
    too_old = last <= visit.examination.examined_on - timedelta(days=LOG_DAYS)
    if not days or too_old or min(daily) > days[-1]:
        return None
    loads = [_sum(daily.get(day, ()), _effort_minutes) for day in days]
    return _monotony([load for load in loads if load is not None])


def _monotony(loads: Sequence[Decimal]) -> Derived | None:
    if len(loads) < DAYS_A_WEEK:
        return None
    mean = sum(loads, Decimal()) / DAYS_A_WEEK
    variance = sum((load - mean) ** 2 for load in loads) / (DAYS_A_WEEK - 1)
    return Derived(mean / Decimal(variance).sqrt(), _LOG) if variance else None
