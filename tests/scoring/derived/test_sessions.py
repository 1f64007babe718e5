"""Longest session, spike and monotony of the session log."""

import csv
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from footexam.scoring.derived import sessions
from footexam.scoring.visit import Visit
from tests.published.cases import forms
from tests.scoring.builders import TODAY, examination

DATA = Path(__file__).parents[2] / "data" / "published"


def visit(log: list | None = None) -> Visit:
    readings = {} if log is None else {("session-log", None): log}
    return Visit(examination(readings), forms().measures)


def session(back: int, **cells: object) -> dict:
    """A row so many days before the examination."""
    numbers = {
        name: Decimal(str(cell)) if isinstance(cell, int | float) else cell
        for name, cell in cells.items()
    }
    return {"date": (TODAY - timedelta(days=back)).isoformat(), **numbers}


def value(found: object) -> object:
    return found.value if found else None


def test_longest_session_of_28_days() -> None:
    log = [
        session(0, minutes=30),
        session(27, minutes=60),
        session(28, minutes=90),
        session(-1, minutes=200),
        session(3, distance_km=9),
        {"minutes": Decimal(500)},
    ]
    assert value(sessions.longest_session(visit(log=log))) == 60
    assert sessions.longest_session(visit(log=log[2:3])) is None
    assert sessions.longest_session(visit()) is None


def test_spike_against_the_longest_of_30_days_before() -> None:
    # 12 km longest in 30 days, 14 km now: 16.7 %
    log = [session(1, distance_km=14), session(20, distance_km=12), session(32, distance_km=20)]
    assert float(value(sessions.session_spike_30_days(visit(log=log)))) == pytest.approx(
        16.667, abs=5e-4
    )
    found = sessions.session_spike_30_days(visit(log=log))
    assert found.inputs == ("session-log",)


def test_the_largest_spike_of_the_last_30_days_counts() -> None:
    log = [session(2, minutes=30), session(10, minutes=90), session(15, minutes=60)]
    assert value(sessions.session_spike_30_days(visit(log=log))) == 50


def test_spikes_compare_like_with_like() -> None:
    log = [
        session(1, kind="Ride", distance_km=80),
        session(9, kind="run", distance_km=10),
        session(5, kind="Run", distance_km=11),
    ]
    assert value(sessions.session_spike_30_days(visit(log=log))) == 10
    mixed = [session(1, minutes=60), session(2, distance_km=10)]
    assert sessions.session_spike_30_days(visit(log=mixed)) is None


def test_no_session_before_or_none_lately_is_no_spike() -> None:
    assert sessions.session_spike_30_days(visit(log=[session(1, minutes=60)])) is None
    old = [session(40, minutes=60), session(45, minutes=30)]
    assert sessions.session_spike_30_days(visit(log=old)) is None
    rest = [session(1, minutes=60), session(2, minutes=0)]
    assert sessions.session_spike_30_days(visit(log=rest)) is None
    far = [session(1, minutes=60), session(32, minutes=30)]
    assert sessions.session_spike_30_days(visit(log=far)) is None
    assert sessions.session_spike_30_days(visit()) is None


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
    found = sessions.training_monotony(daily(270, 0, 300, 180, 0, 540, 120))
    assert float(found.value) == pytest.approx(1.058, abs=5e-4)
    found = sessions.training_monotony(daily(200, 200, 200, 210, 200, 190, 200))
    assert float(found.value) == pytest.approx(34.64, abs=5e-3)
    assert sessions.training_monotony(daily(*[200] * 7)) is None


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
        found = sessions.training_monotony(visit(log=log))
        assert float(found.value) == pytest.approx(monotony, abs=5e-5)


def test_monotony_needs_seven_known_days() -> None:
    assert sessions.training_monotony(daily(100, 50, 100)) is None
    assert sessions.training_monotony(visit()) is None
    no_effort = [session(back, minutes=30) for back in range(7)]
    assert sessions.training_monotony(visit(log=no_effort)) is None
    old = daily(270, 0, 300, 180, 0, 540, 120, until=28)
    assert sessions.training_monotony(old) is None
    recent = daily(270, 0, 300, 180, 0, 540, 120, until=27)
    assert sessions.training_monotony(recent) is not None


def test_effort_times_minutes_and_two_sessions_a_day() -> None:
    log = [session(back, minutes=30, effort=back) for back in range(1, 8)]
    log.append(session(3, minutes=60, effort=2))
    loads = [30, 60, 90 + 120, 120, 150, 180, 210]
    mean = sum(loads) / 7
    sd = (sum((amount - mean) ** 2 for amount in loads) / 6) ** 0.5
    found = sessions.training_monotony(visit(log=log))
    assert float(found.value) == pytest.approx(mean / sd)
