"""Training load described: totals, change, monotony, strain, and ratios of recent to usual load.

A load is in arbitrary units, effort (0 to 10) times minutes. Series run from the oldest day to the
newest; a day of rest is 0 and counts, a day that is not known is None and is never taken for 0.
Everything here describes: no value is a risk, and no mark between safe and unsafe is drawn.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from footexam.catalogue.model import Rule
from footexam.mechanics.figures import figure
from footexam.scoring.loads import change_percent, monotony

DAYS_A_WEEK = 7

Daily = Sequence[float | None]
"""Loads of days in a row, None where a day is not known."""


@dataclass(frozen=True, slots=True)
class LoadFigures:
    """The figures of the trade that a description needs, from forms/training.toml.

    `spike_marks` are the ends of the bands of a longest session, % above the longest before.
    """

    acute_days: int
    chronic_days: int
    shown_after_days: int
    spike_marks: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Week:
    """Seven days described; None where a day is not known or the value is not defined.

    `total` and `strain` in arbitrary units, `monotony` a ratio (sample SD).
    """

    total: float | None
    monotony: float | None
    strain: float | None


@dataclass(frozen=True, slots=True)
class Described:
    """A series described by its end: the last week, and recent against usual load.

    `change_percent` is the last week against the week before. `coupled` has the recent days within
    the usual ones, `uncoupled` has not; `exponential` weighs later days more.
    """

    week: Week
    change_percent: float | None
    coupled: float | None
    uncoupled: float | None
    exponential: float | None


def load_figures(training: Mapping[str, Rule]) -> LoadFigures:
    """The figures out of Catalogue.training; KeyError where forms/ gives none of that name."""
    marks = tuple(figure(training, f"spike-mark-{place}") for place in (1, 2, 3))
    acute, chronic, after = (
        int(figure(training, name)) for name in ("acute-days", "chronic-days", "shown-after-days")
    )
    return LoadFigures(acute, chronic, after, marks)


def session_load(effort: float, minutes: float) -> float:
    """Effort (0 to 10) times minutes, arbitrary units (Foster 2001)."""
    return effort * minutes


def sum_known(loads: Iterable[float | None]) -> float | None:
    """The loads together, of a day's sessions or of a week's days; None if one is not known."""
    total = 0.0
    for load in loads:
        if load is None:
            return None
        total += load
    return total


def week_of(daily: Daily) -> Week:
    """Total, monotony and strain (total times monotony, Foster 1998) of seven days."""
    known = _known(daily)
    total = sum_known(daily)
    even = monotony(known) if len(known) == len(daily) else None
    strain = None if total is None or even is None else total * even
    return Week(total, even, strain)


def session_spike_percent(session: float, earlier: Iterable[float]) -> float | None:
    """A session against the longest of those before it, %; None without one longer than 0.

    Which sessions are before it is the caller's: those of the 30 days before (Frandsen 2025).
    """
    longest = max(earlier, default=0.0)
    return change_percent(session, longest)


def spike_band(percent: float, marks: Sequence[float]) -> int:
    """How many of the rising marks a spike is above; on a mark it is not above it."""
    return sum(percent > mark for mark in marks)


def rolling_ratio(daily: Daily, acute: int, chronic: int, *, coupled: bool) -> float | None:
    """Mean of the last `acute` days over that of the usual ones.

    Coupled, the usual days are the last `chronic` ones with the recent days among them; uncoupled,
    those before the recent days. None if a day is missing or not known, or the usual load is 0.
    """
    window = daily[-chronic:]
    recent = _mean(window[-acute:])
    usual = _mean(window if coupled else window[:-acute])
    if len(window) < chronic or recent is None or not usual:
        return None
    return recent / usual


def coupled_ratio(uncoupled: float, acute: int, chronic: int) -> float:
    """The coupled ratio that belongs to an uncoupled one; it can never exceed chronic / acute.

    With 7 and 28 days it is 4u / (u + 3). An infinite ratio gives the limit.
    """
    most = chronic / acute
    if uncoupled == inf:
        return most
    return most * uncoupled / (uncoupled + most - 1)


def exponential_average(daily: Daily, days: int, start: float) -> float:
    """The average in which each day weighs 2 / (days + 1) of what is left (Williams 2017).

    `start` is the average before the first of these days; a day that is not known is passed over.
    """
    weight = 2 / (days + 1)
    average = start
    for load in _known(daily):
        average += weight * (load - average)
    return average


def exponential_ratio(daily: Daily, acute: int, chronic: int, start: float) -> float | None:
    """Exponential average over `acute` days by that over `chronic` ones; None if that is 0."""
    usual = exponential_average(daily, chronic, start)
    return exponential_average(daily, acute, start) / usual if usual else None


def described(daily: Daily, figures: LoadFigures) -> Described:
    """What the last days of a series amount to.

    The exponential averages begin after the first `chronic_days`, at the mean of these; they are
    not given for the first `shown_after_days`, nor with an unknown day among the last chronic ones.
    """
    acute, chronic = figures.acute_days, figures.chronic_days
    last, before = daily[-DAYS_A_WEEK:], daily[-2 * DAYS_A_WEEK : -DAYS_A_WEEK]
    week = week_of(last) if len(last) == DAYS_A_WEEK else Week(None, None, None)
    earlier = sum_known(before) if len(before) == DAYS_A_WEEK else None
    change = None if week.total is None or earlier is None else change_percent(week.total, earlier)
    start = _mean(daily[:chronic])
    hidden = len(daily) <= max(figures.shown_after_days, chronic) or None in daily[-chronic:]
    return Described(
        week=week,
        change_percent=change,
        coupled=rolling_ratio(daily, acute, chronic, coupled=True),
        uncoupled=rolling_ratio(daily, acute, chronic, coupled=False),
        exponential=None
        if hidden or start is None
        else exponential_ratio(daily[chronic:], acute, chronic, start),
    )


def _known(daily: Daily) -> list[float]:
    return [load for load in daily if load is not None]


def _mean(daily: Daily) -> float | None:
    """The mean of days that are all known; None for none."""
    total = sum_known(daily)
    return None if total is None or not daily else total / len(daily)
