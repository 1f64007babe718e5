"""Derived measures of the session log: longest session, spike, monotony.

A session that is not written down is not known: it is never taken for 0.
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
from footexam.scoring.loads import change_percent, monotony
from footexam.scoring.visit import Visit

LOG_DAYS = 28

_INPUTS = ("session-log",)


def sessions_of(visit: Visit) -> list[tuple[date, Row]]:
    """The dated sessions up to the day of the examination, in order of date."""
    today = visit.examination.examined_on
    dated = ((whole_day(row.get("date")), row) for row in rows(visit, "session-log"))
    past = [(day, row) for day, row in dated if day is not None and day <= today]
    return sorted(past, key=lambda session: session[0])


def longest_session(visit: Visit) -> Derived | None:
    """The most minutes in one session of the 28 days up to the examination."""
    since = visit.examination.examined_on - timedelta(days=LOG_DAYS)
    minutes = [cell("minutes")(row) for day, row in sessions_of(visit) if day > since]
    known = [number for number in minutes if number is not None]
    return Derived(max(known), _INPUTS) if known else None


def session_spike_30_days(visit: Visit) -> Derived | None:
    """The largest spike of the rule's window, %: a session against the longest of those before it.

    Sessions of one kind are compared, by kilometres where all have them, else by minutes. A session
    with none of its kind in the same time before it gives no spike.
    """
    kinds: dict[str, list[tuple[date, Row]]] = defaultdict(list)
    for day, row in sessions_of(visit):
        kinds[str(row.get("kind", "")).casefold()].append((day, row))
    if not kinds:
        return None
    window = timedelta(days=int(visit.figure("session-spike-30-days", "window")))
    since = visit.examination.examined_on - window
    spikes = [spike for kind in kinds.values() for spike in _spikes(kind, since, window)]
    return Derived(max(spikes), _INPUTS) if spikes else None


def _spikes(sessions: Sequence[tuple[date, Row]], since: date, window: timedelta) -> list[Decimal]:
    """The spike of each session after a day against those of a window before it, %."""
    sizes = _sizes(sessions)
    spikes = []
    for day, size in sizes:
        longest = max((s for d, s in sizes if day - window <= d < day), default=Decimal())
        spike = change_percent(size, longest)
        if day > since and spike is not None:
            spikes.append(spike)
    return spikes


def _sizes(sessions: Sequence[tuple[date, Row]]) -> list[tuple[date, Decimal]]:
    """Kilometres of each session if all have them, else minutes if all have them, else nothing."""
    for quantity in (cell("distance_km"), cell("minutes")):
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
    for day, row in sessions_of(visit):
        daily[day].append(row)
    last = max(daily, default=date.min)
    days = [last - timedelta(days=back) for back in range(DAYS_A_WEEK)] if daily else []
    too_old = last <= visit.examination.examined_on - timedelta(days=LOG_DAYS)
    if not days or too_old or min(daily) > days[-1]:
        return None
    loads = [total_of(daily.get(day, ()), effort_minutes) for day in days]
    known = [load for load in loads if load is not None]
    even = monotony(known) if len(known) == DAYS_A_WEEK else None
    return None if even is None else Derived(even, _INPUTS)
