"""Training load from the weekly table and from the session log."""

import csv
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from footexam.scoring.derived import load
from footexam.scoring.visit import Visit
from tests.scoring.builders import TODAY, examination

DATA = Path(__file__).parents[2] / "data" / "published"
MONDAY = date(2026, 2, 23)
"""The Monday of the last complete week before Wednesday, 4 March 2026."""


def visit(weekly: list | None = None, log: list | None = None, on: date = TODAY) -> Visit:
    tables = {("weekly-load", None): weekly, ("session-log", None): log}
    readings = {key: rows for key, rows in tables.items() if rows is not None}
    return Visit(examination(readings, on=on), {})


def week(back: int, **cells: object) -> dict:
    monday = MONDAY - timedelta(weeks=back)
    numbers = {
        name: Decimal(str(cell)) if isinstance(cell, int | float) else cell
        for name, cell in cells.items()
    }
    return {"week": monday.isoformat(), **numbers}


def minutes(*newest_first: int) -> Visit:
    return visit([week(back, minutes=m, effort=5) for back, m in enumerate(newest_first)])


def value(found: object) -> object:
    return found.value if found else None


def test_last_complete_week_against_the_mean_of_the_weeks_before() -> None:
    run = minutes(150, 100, 140, 80, 80)
    assert value(load.load_change_4_weeks(run)) == 50
    assert value(load.load_change_2_weeks(run)) == 25
    assert load.load_change_4_weeks(run).inputs == ("weekly-load",)


def test_too_few_weeks_or_a_gap_give_nothing() -> None:
    assert load.load_change_4_weeks(minutes(150, 100, 100, 100)) is None
    assert load.load_change_2_weeks(minutes(150, 100)) is None
    gap = visit([week(back, minutes=100) for back in (0, 1, 3, 4, 5)])
    assert load.load_change_4_weeks(gap) is None
    assert load.load_change_2_weeks(gap) is None
    assert load.load_change_2_weeks(visit()) is None
    assert load.load_change_2_weeks(minutes(150, 0, 0)) is None


def test_the_running_week_and_rows_without_a_date_do_not_count() -> None:
    rows = [week(back, minutes=100) for back in range(3)]
    odd = [week(-1, minutes=900), {"week": "soon", "minutes": Decimal(1)}, {"minutes": Decimal(1)}]
    assert value(load.load_change_2_weeks(visit([*odd, *rows]))) == 0
    # on the Monday after, the week is over
    later = visit([*odd, *rows], on=date(2026, 3, 9))
    assert value(load.load_change_2_weeks(later)) == 800


def test_rows_of_one_week_add_up_and_a_day_stands_for_its_week() -> None:
    split = {"week": "2026-02-26", "minutes": Decimal(50)}
    rows = [week(0, minutes=100), split, week(1, minutes=100), week(2, minutes=100)]
    assert value(load.load_change_2_weeks(visit(rows))) == 50


def test_effort_counts_only_where_every_week_has_it() -> None:
    rows = [week(0, minutes=100, effort=8), week(1, minutes=100, effort=4), week(2, minutes=100)]
    assert value(load.load_change_2_weeks(visit(rows))) == 0
    rows[2] = week(2, minutes=100, effort=4)
    assert value(load.load_change_2_weeks(visit(rows))) == 100
    rows[2] = week(2, minutes=0)
    assert value(load.load_change_2_weeks(visit(rows))) == 300


def test_kilometres_where_minutes_are_missing_and_nothing_without_either() -> None:
    rows = [week(0, distance_km=30), week(1, distance_km=20, minutes=9), week(2, distance_km=20)]
    assert value(load.load_change_2_weeks(visit(rows))) == 50
    assert load.load_change_2_weeks(visit([*rows[:2], week(2, sessions=3)])) is None


@pytest.mark.parametrize(
    ("weeks", "stable"),
    [
        ((100, 100, 100, 100), 3),
        ((130, 100, 100), 2),
        ((131, 100, 100), 0),
        ((100, 131, 100), 1),
        ((100, 100, 60), 1),
        ((70, 100), 1),
        ((69, 100), 0),
        ((0, 0), 1),
        ((10, 0), 0),
    ],
)
def test_stable_weeks(weeks: tuple[int, ...], stable: int) -> None:
    assert value(load.load_stable_weeks(minutes(*weeks))) == stable


def test_stable_weeks_need_two_weeks_with_a_load() -> None:
    assert load.load_stable_weeks(minutes(100)) is None
    assert load.load_stable_weeks(visit([week(0, sessions=1), week(1, sessions=1)])) is None
    assert value(load.load_stable_weeks(visit([week(b, minutes=60) for b in (0, 1, 3)]))) == 1


def test_sessions_of_the_last_four_complete_weeks() -> None:
    rows = [week(back, sessions=count) for back, count in enumerate((3, 4, 4, 5, 99))]
    assert value(load.sessions_per_week(visit(rows))) == 4
    assert value(load.sessions_per_week(visit([rows[0], week(1, minutes=60)]))) == 3
    assert load.sessions_per_week(visit([week(-1, sessions=3)])) is None


def session(back: int, **cells: object) -> dict:
    row = week(0, **cells)
    del row["week"]
    return {"date": (TODAY - timedelta(days=back)).isoformat(), **row}


def test_longest_session_of_28_days() -> None:
    log = [
        session(0, minutes=30),
        session(27, minutes=60),
        session(28, minutes=90),
        session(-1, minutes=200),
        session(3, distance_km=9),
        {"minutes": Decimal(500)},
    ]
    assert value(load.longest_session(visit(log=log))) == 60
    assert load.longest_session(visit(log=log[2:3])) is None
    assert load.longest_session(visit()) is None


def test_spike_against_the_longest_of_30_days_before() -> None:
    # 12 km longest in 30 days, 14 km now: 16.7 %
    log = [session(1, distance_km=14), session(20, distance_km=12), session(32, distance_km=20)]
    assert float(value(load.session_spike_30_days(visit(log=log)))) == pytest.approx(
        16.667, abs=5e-4
    )
    found = load.session_spike_30_days(visit(log=log))
    assert found.inputs == ("session-log",)


def test_the_largest_spike_of_the_last_30_days_counts() -> None:
    log = [session(2, minutes=30), session(10, minutes=90), session(15, minutes=60)]
    assert value(load.session_spike_30_days(visit(log=log))) == 50


def test_spikes_compare_like_with_like() -> None:
    log = [
        session(1, kind="Ride", distance_km=80),
        session(9, kind="run", distance_km=10),
        session(5, kind="Run", distance_km=11),
    ]
    assert value(load.session_spike_30_days(visit(log=log))) == 10
    mixed = [session(1, minutes=60), session(2, distance_km=10)]
    assert load.session_spike_30_days(visit(log=mixed)) is None


def test_no_session_before_or_none_lately_is_no_spike() -> None:
    assert load.session_spike_30_days(visit(log=[session(1, minutes=60)])) is None
    old = [session(40, minutes=60), session(45, minutes=30)]
    assert load.session_spike_30_days(visit(log=old)) is None
    rest = [session(1, minutes=60), session(2, minutes=0)]
    assert load.session_spike_30_days(visit(log=rest)) is None
    far = [session(1, minutes=60), session(32, minutes=30)]
    assert load.session_spike_30_days(visit(log=far)) is None
    assert load.session_spike_30_days(visit()) is None


def daily(*loads: float, until: int = 1) -> Visit:
    """A log whose last day lies so many days back, each day one session at effort 1."""
    log = [
        session(until + back, minutes=amount, effort=1)
        for back, amount in enumerate(reversed(loads))
        if amount
    ]
    return visit(log=log)


@pytest.mark.derived
def test_monotony_of_the_worked_weeks() -> None:
    # Foster 1998: mean over SD of seven days, here with the sample SD; a day of rest is 0
    found = load.training_monotony(daily(270, 0, 300, 180, 0, 540, 120))
    assert float(found.value) == pytest.approx(1.058, abs=5e-4)
    found = load.training_monotony(daily(200, 200, 200, 210, 200, 190, 200))
    assert float(found.value) == pytest.approx(34.64, abs=5e-3)
    assert load.training_monotony(daily(*[200] * 7)) is None


@pytest.mark.derived
def test_monotony_of_four_invented_weeks() -> None:
    with (DATA / "training_load_28d.csv").open(encoding="utf-8", newline="") as file:
        loads = [float(row["load"]) for row in csv.DictReader(file)]
    with (DATA / "training_load_weeks.csv").open(encoding="utf-8", newline="") as file:
        expected = [float(row["monotony"]) for row in csv.DictReader(file)]
    for number, monotony in enumerate(expected):
        days = loads[7 * number : 7 * number + 7]
        # the last day of weeks 1 to 4 may be one of rest: written down as 0 minutes
        log = [session(7 - day, minutes=amount, effort=1) for day, amount in enumerate(days)]
        found = load.training_monotony(visit(log=log))
        assert float(found.value) == pytest.approx(monotony, abs=5e-5)


def test_monotony_needs_seven_known_days() -> None:
    assert load.training_monotony(daily(100, 50, 100)) is None
    assert load.training_monotony(visit()) is None
    no_effort = [session(back, minutes=30) for back in range(7)]
    assert load.training_monotony(visit(log=no_effort)) is None
    old = daily(270, 0, 300, 180, 0, 540, 120, until=28)
    assert load.training_monotony(old) is None
    recent = daily(270, 0, 300, 180, 0, 540, 120, until=27)
    assert load.training_monotony(recent) is not None


def test_effort_times_minutes_and_two_sessions_a_day() -> None:
    log = [session(back, minutes=30, effort=back) for back in range(1, 8)]
    log.append(session(3, minutes=60, effort=2))
    loads = [30, 60, 90 + 120, 120, 150, 180, 210]
    mean = sum(loads) / 7
    sd = (sum((amount - mean) ** 2 for amount in loads) / 6) ** 0.5
    found = load.training_monotony(visit(log=log))
    assert float(found.value) == pytest.approx(mean / sd)
