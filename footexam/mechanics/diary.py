"""What the training tables of a record say: loads by week and by day, and what is not recorded."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from itertools import pairwise

from footexam.catalogue.model import Catalogue, Rule
from footexam.mechanics.figures import figure
from footexam.mechanics.load import (
    DAYS_A_WEEK,
    Described,
    LoadFigures,
    described,
    load_figures,
    sum_known,
)
from footexam.record.examination import Examination
from footexam.scoring.derived.sessions import sessions_of
from footexam.scoring.derived.tables import Quantity, Row, cell, effort_minutes, total_of
from footexam.scoring.derived.weekly import WEEK, is_over, weeks_of
from footexam.scoring.loads import change_percent
from footexam.scoring.visit import Visit

WEEKLY, LOG = "weekly-load", "session-log"
DAY = timedelta(days=1)


class Amount(StrEnum):
    """What a diary counts: minutes times effort where that is written, else minutes, else km."""

    LOAD = "load"
    MINUTES = "minutes"
    DISTANCE = "distance"


_AMOUNTS: Mapping[Amount, Quantity] = {
    Amount.LOAD: effort_minutes,
    Amount.MINUTES: cell("minutes"),
    Amount.DISTANCE: cell("distance_km"),
}


@dataclass(frozen=True, slots=True)
class Span:
    """Days in a row, both ends included, with what was done in them.

    `load` None: not recorded, of any number of days; else a week. `whole` is False where a day of
    it is not known or not over, so that it is compared with nothing.
    """

    first: date
    last: date
    load: float | None
    whole: bool = True

    @property
    def days(self) -> int:
        """How many days it has."""
        return (self.last - self.first).days + 1


@dataclass(frozen=True, slots=True)
class Diary:
    """A training table by weeks, the oldest first, with a description of its end.

    `week` is the one described: the last whole one. Weeks of the weekly table run from Monday,
    those of the session log back from its last day.
    """

    measure: str
    amount: Amount
    spans: tuple[Span, ...]
    week: Span | None
    described: Described


def diary(measure: str, examination: Examination, catalogue: Catalogue) -> Diary | None:
    """The diary of `weekly-load` or `session-log`; None for others and where no load is known."""
    if measure not in {WEEKLY, LOG} or not catalogue.training:
        return None
    visit = Visit(examination, catalogue.measures)
    read = _of_weeks if measure == WEEKLY else _of_log
    found = read(visit, catalogue.training)
    return found if found and any(span.load is not None for span in found.spans) else None


def changes(spans: Sequence[Span]) -> list[float | None]:
    """Each week against the one before it, %; None without one, and where either is not whole."""
    found: list[float | None] = [None] if spans else []
    for before, now in pairwise(spans):
        known = before.whole and now.whole and before.load is not None and now.load is not None
        found.append(change_percent(now.load or 0.0, before.load or 0.0) if known else None)
    return found


# --- the weekly table


def _of_weeks(visit: Visit, training: Mapping[str, Rule]) -> Diary | None:
    weeks = dict(sorted(weeks_of(visit).items()))
    amount = _amount(weeks.values())
    spans = [
        Span(monday, monday + WEEK - DAY, _total(week, amount), is_over(monday, visit))
        for monday, week in weeks.items()
    ]
    this_monday = visit.examination.examined_on
    this_monday -= timedelta(days=this_monday.weekday())
    told = _with_gaps([span for span in spans if span.whole], this_monday - DAY)
    told += [span for span in spans if not span.whole and span.load is not None]
    week = _last_whole(told)
    figures = load_figures(training)
    return Diary(WEEKLY, amount, tuple(told), week, _described_by_weeks(spans, week, figures))


def _described_by_weeks(
    spans: Iterable[Span], week: Span | None, figures: LoadFigures
) -> Described:
    """Weeks say nothing of their days, so what depends on the order of days is not given."""
    loads = {span.first: span.load for span in spans}
    back = max(2, -(-figures.chronic_days // DAYS_A_WEEK)) if week else 0
    daily: list[float | None] = []
    for place in range(back - 1, -1, -1):
        load = loads.get(week.first - place * WEEK) if week else None
        daily += [None if load is None else load / DAYS_A_WEEK] * DAYS_A_WEEK
    found = described(daily, figures)
    total = week.load if week else None
    return replace(
        found,
        week=replace(found.week, total=total, monotony=None, strain=None),
        exponential=None,
    )


# --- the session log


def _of_log(visit: Visit, training: Mapping[str, Rule]) -> Diary | None:
    logged: dict[date, list[Row]] = defaultdict(list)
    for day, row in sessions_of(visit):
        logged[day].append(row)
    if not logged:
        return None
    amount = _amount(logged.values())
    days = sorted(logged)
    gap = int(figure(training, "gap-days"))
    loads = {day: _total(logged[day], amount) for day in days}
    loads |= dict.fromkeys(_rest(days, gap), 0.0)
    spans = list(_weeks_back(loads, days[-1]))
    today = visit.examination.examined_on
    until = today if (today - days[-1]).days >= gap else days[-1]
    told = _with_gaps(spans, until)
    run = [loads[day] for day in _run(loads, days[-1])]
    found = described(run, load_figures(training))
    if amount is not Amount.LOAD:
        found = replace(found, week=replace(found.week, monotony=None, strain=None))
    week = _last_whole(told)
    # the description is of the days up to the end of the log, or of none
    return Diary(LOG, amount, tuple(told), week if week and week.last == days[-1] else None, found)


def _rest(days: Sequence[date], gap: int) -> Iterator[date]:
    """The days of rest: those between lines of the log, unless so many in a row have none."""
    for before, after in pairwise(days):
        empty = (after - before).days - 1
        if empty < gap:
            yield from (before + DAY * (place + 1) for place in range(empty))


def _run(loads: Mapping[date, float | None], last: date) -> list[date]:
    """The unbroken days of the log up to its last, the oldest first."""
    days = []
    while last in loads:
        days.append(last)
        last -= DAY
    return days[::-1]


def _weeks_back(loads: Mapping[date, float | None], last: date) -> Iterator[Span]:
    """Seven days each, back from the last day of the log, the oldest first; gaps left out."""
    weeks: dict[int, list[float | None]] = defaultdict(list)
    for day, load in loads.items():
        weeks[(last - day).days // DAYS_A_WEEK].append(load)
    for place in sorted(weeks, reverse=True):
        end = last - place * WEEK
        whole = len(weeks[place]) == DAYS_A_WEEK
        yield Span(end - WEEK + DAY, end, sum_known(weeks[place]), whole)


# --- both


def _amount(groups: Iterable[Iterable[Row]]) -> Amount:
    """What is known of the most groups of rows; of several the first."""
    known = [list(group) for group in groups]
    return max(Amount, key=lambda one: sum(_total(group, one) is not None for group in known))


def _total(rows: Iterable[Row], amount: Amount) -> float | None:
    total = total_of(rows, _AMOUNTS[amount])
    return None if total is None else float(total)


def _with_gaps(spans: Iterable[Span], until: date) -> list[Span]:
    """The spans up to a day without a hole: days between them, or without load, as one gap."""
    told: list[Span] = []
    for span in (*spans, Span(until + DAY, until, None)):
        first = told[-1].last + DAY if told else span.first
        if span.load is None or first < span.first:
            last = span.last if span.load is None else span.first - DAY
            if told and told[-1].load is None:
                told[-1] = replace(told[-1], last=max(last, told[-1].last))
            elif first <= last:
                told.append(Span(first, last, None))
        if span.load is not None:
            told.append(span)
    return told


def _last_whole(spans: Sequence[Span]) -> Span | None:
    return next((one for one in reversed(spans) if one.whole and one.load is not None), None)
