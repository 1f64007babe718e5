"""Changes, stability and sessions of the weekly load."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from footexam.scoring.derived import weekly
from footexam.scoring.visit import Visit
from tests.published.cases import forms
from tests.scoring.builders import TODAY, examination

MONDAY = date(2026, 2, 23)
"""The Monday of the last complete week before Wednesday, 4 March 2026."""


def visit(table: list | None = None, on: date = TODAY) -> Visit:
    readings = {} if table is None else {("weekly-load", None): table}
    return Visit(examination(readings, on=on), forms().measures)


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
    assert value(weekly.load_change_4_weeks(run)) == 50
    assert value(weekly.load_change_2_weeks(run)) == 25
    assert weekly.load_change_4_weeks(run).inputs == ("weekly-load",)


def test_too_few_weeks_or_a_gap_give_nothing() -> None:
    assert weekly.load_change_4_weeks(minutes(150, 100, 100, 100)) is None
    assert weekly.load_change_2_weeks(minutes(150, 100)) is None
    gap = visit([week(back, minutes=100) for back in (0, 1, 3, 4, 5)])
    assert weekly.load_change_4_weeks(gap) is None
    assert weekly.load_change_2_weeks(gap) is None
    assert weekly.load_change_2_weeks(visit()) is None
    assert weekly.load_change_2_weeks(minutes(150, 0, 0)) is None


def test_the_running_week_and_rows_without_a_date_do_not_count() -> None:
    rows = [week(back, minutes=100) for back in range(3)]
    odd = [week(-1, minutes=900), {"week": "soon", "minutes": Decimal(1)}, {"minutes": Decimal(1)}]
    assert value(weekly.load_change_2_weeks(visit([*odd, *rows]))) == 0
    # on the Monday after, the week is over
    later = visit([*odd, *rows], on=date(2026, 3, 9))
    assert value(weekly.load_change_2_weeks(later)) == 800


def test_rows_of_one_week_add_up_and_a_day_stands_for_its_week() -> None:
    split = {"week": "2026-02-26", "minutes": Decimal(50)}
    rows = [week(0, minutes=100), split, week(1, minutes=100), week(2, minutes=100)]
    assert value(weekly.load_change_2_weeks(visit(rows))) == 50


def test_effort_counts_only_where_every_week_has_it() -> None:
    rows = [week(0, minutes=100, effort=8), week(1, minutes=100, effort=4), week(2, minutes=100)]
    assert value(weekly.load_change_2_weeks(visit(rows))) == 0
    rows[2] = week(2, minutes=100, effort=4)
    assert value(weekly.load_change_2_weeks(visit(rows))) == 100
    rows[2] = week(2, minutes=0)
    assert value(weekly.load_change_2_weeks(visit(rows))) == 300


def test_kilometres_where_minutes_are_missing_and_nothing_without_either() -> None:
    rows = [week(0, distance_km=30), week(1, distance_km=20, minutes=9), week(2, distance_km=20)]
    assert value(weekly.load_change_2_weeks(visit(rows))) == 50
    assert weekly.load_change_2_weeks(visit([*rows[:2], week(2, sessions=3)])) is None


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
    assert value(weekly.load_stable_weeks(minutes(*weeks))) == stable


def test_stable_weeks_need_two_weeks_with_a_load() -> None:
    assert weekly.load_stable_weeks(minutes(100)) is None
    assert weekly.load_stable_weeks(visit([week(0, sessions=1), week(1, sessions=1)])) is None
    assert value(weekly.load_stable_weeks(visit([week(b, minutes=60) for b in (0, 1, 3)]))) == 1


def test_sessions_of_the_last_four_complete_weeks() -> None:
    rows = [week(back, sessions=count) for back, count in enumerate((3, 4, 4, 5, 99))]
    assert value(weekly.sessions_per_week(visit(rows))) == 4
    assert value(weekly.sessions_per_week(visit([rows[0], week(1, minutes=60)]))) == 3
    assert weekly.sessions_per_week(visit([week(-1, sessions=3)])) is None
