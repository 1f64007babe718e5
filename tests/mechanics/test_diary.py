"""From the training tables of a record to loads by week and by day: nothing unknown becomes 0."""

import csv
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from footexam.mechanics.diary import LOG, WEEKLY, Amount, Diary, Span, changes, diary
from footexam.mechanics.load import described, load_figures
from tests.published.cases import TODAY, forms, read
from tests.reports import builders as b

DATA = Path(__file__).parents[1] / "data" / "published"
MONDAY = TODAY - timedelta(days=TODAY.weekday())
DAY, WEEK = timedelta(days=1), timedelta(days=7)


def table(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def week(back: int, load: float | None, **more: Any) -> dict[str, Any]:
    """A week so many weeks before that of the examination, at effort 5."""
    row: dict[str, Any] = {"week": (MONDAY - back * WEEK).isoformat()} | more
    return row if load is None else row | {"minutes": str(load / 5), "effort": 5}


def session(back: int, load: float | None, **more: Any) -> dict[str, Any]:
    """A session so many days before the examination, at effort 5."""
    row: dict[str, Any] = {"date": (TODAY - back * DAY).isoformat(), "kind": "run"} | more
    return row if load is None else row | {"minutes": str(load / 5), "effort": 5}


def found(measure: str, *rows: dict[str, Any]) -> Diary:
    made = diary(measure, read({measure: list(rows)}), forms())
    assert made is not None
    return made


def told(one: Diary) -> list[tuple[int, float | None, bool]]:
    """Days, load and whether whole, of each span."""
    return [(span.days, span.load, span.whole) for span in one.spans]


# --- against the published weeks


@pytest.mark.derived
def test_four_invented_weeks_through_the_session_log() -> None:
    days = [float(row["load"]) for row in table("training_load_28d.csv")]
    printed = table("training_load_weeks.csv")
    rows = [session(28 - place, load) for place, load in enumerate(days)]
    log = found(LOG, *rows)
    assert [span.load for span in log.spans] == [float(row["load"]) for row in printed]
    for place, row in enumerate(printed, 1):
        described_by = found(LOG, *rows[: place * 7]).described.week
        assert described_by.total == float(row["load"])
        assert described_by.monotony == pytest.approx(float(row["monotony"]), abs=0.00005)
        assert described_by.strain == pytest.approx(float(row["strain"]), abs=0.0001)
    by_hand = [7.3864, -8.9947, 48.2558]  # 1890/1760, 1720/1890, 2550/1720
    assert changes(log.spans)[1:] == pytest.approx(by_hand, abs=0.00005)
    assert log.described.change_percent == pytest.approx(by_hand[-1], abs=0.00005)
    assert log.described == described(days, load_figures(forms().training))


@pytest.mark.derived
def test_four_invented_weeks_through_the_weekly_table() -> None:
    loads = [float(row["load"]) for row in table("training_load_weeks.csv")]
    rows = [week(4 - place, load) for place, load in enumerate(loads)]
    weeks = found(WEEKLY, *rows[::-1])  # the order of the lines does not matter
    assert [span.load for span in weeks.spans] == loads
    assert weeks.week == weeks.spans[-1]
    last = weeks.described
    assert last.week.total == 2550
    assert last.change_percent == pytest.approx(48.2558, abs=0.00005)
    assert last.coupled == pytest.approx(2550 / (sum(loads) / 4))
    assert last.uncoupled == pytest.approx(2550 / (sum(loads[:3]) / 3))
    # weeks say nothing of their days
    assert (last.week.monotony, last.week.strain, last.exponential) == (None, None, None)


@pytest.mark.derived
def test_e5_the_ratios_of_four_weeks() -> None:
    weeks = found(WEEKLY, *(week(4 - n, load) for n, load in enumerate((1000, 1000, 1000, 1500))))
    assert weeks.described.coupled == pytest.approx(1.333, abs=0.0005)
    assert weeks.described.uncoupled == pytest.approx(1.5)


# --- the weekly table


def test_a_week_left_out_is_not_recorded_and_a_week_of_rest_is_0() -> None:
    weeks = found(WEEKLY, week(6, 900), week(5, 800), week(2, 0), week(1, 700))
    assert told(weeks) == [
        (7, 900, True),
        (7, 800, True),
        (14, None, True),
        (7, 0, True),
        (7, 700, True),
    ]
    assert changes(weeks.spans) == [None, pytest.approx(-100 / 9), None, None, None]
    assert weeks.described.change_percent is None  # there is no change from nothing
    assert weeks.described.coupled is None


def test_weeks_up_to_the_examination_that_nobody_wrote_down_are_a_gap() -> None:
    weeks = found(WEEKLY, week(4, 900), week(3, 800))
    assert told(weeks) == [(7, 900, True), (7, 800, True), (14, None, True)]
    assert weeks.spans[-1].last == MONDAY - DAY
    assert weeks.week == weeks.spans[1]
    assert weeks.described.change_percent == pytest.approx(-100 / 9)


def test_the_running_week_is_drawn_and_compared_with_nothing() -> None:
    weeks = found(WEEKLY, week(2, 900), week(1, 800), week(0, 500))
    assert told(weeks)[-1] == (7, 500, False)
    assert changes(weeks.spans)[-1] is None
    assert weeks.week == weeks.spans[1]
    assert weeks.described.week.total == 800
    alone = found(WEEKLY, week(0, 500))
    assert (told(alone), alone.week) == ([(7, 500, False)], None)
    assert alone.described.week.total is None


def test_a_running_week_without_its_load_is_not_drawn() -> None:
    assert told(found(WEEKLY, week(1, 800), week(0, None, sessions=2))) == [(7, 800, True)]


def test_a_week_to_come_is_not_read() -> None:
    assert told(found(WEEKLY, week(1, 800), week(-1, 500))) == [(7, 800, True)]


def test_weeks_without_a_load_and_weeks_left_out_are_one_gap() -> None:
    weeks = found(
        WEEKLY, week(7, None, sessions=3), week(6, 900), week(5, None, sessions=3), week(2, 700)
    )
    assert told(weeks) == [
        (7, None, True),
        (7, 900, True),
        (21, None, True),
        (7, 700, True),
        (7, None, True),
    ]


@pytest.mark.parametrize(
    ("rows", "amount", "loads"),
    [
        ([week(2, 900), week(1, 700)], Amount.LOAD, [900, 700]),
        ([week(2, 900), week(1, None, minutes=150)], Amount.MINUTES, [180, 150]),
        ([week(2, 900, distance_km=20), week(1, None, distance_km=25)], Amount.DISTANCE, [20, 25]),
        ([week(2, 900), week(2, 100), week(1, 700)], Amount.LOAD, [1000, 700]),
    ],
    ids=["effort", "no effort", "no minutes", "two lines"],
)
def test_what_is_counted_is_what_most_weeks_have(
    rows: list[dict[str, Any]], amount: Amount, loads: list[float]
) -> None:
    weeks = found(WEEKLY, *rows)
    assert weeks.amount is amount
    assert [span.load for span in weeks.spans] == loads


# --- the session log


def test_a_day_without_a_line_is_rest_unless_seven_in_a_row_have_none() -> None:
    six = found(LOG, session(8, 100), session(1, 200))
    assert told(six) == [(7, 100, False), (7, 200, True)]
    assert six.described.week.total == 200
    assert six.described.week.monotony is not None
    seven = found(LOG, session(9, 100), session(1, 200))
    assert told(seven) == [(7, 100, False), (7, 200, False)]
    assert (seven.week, seven.described.week.total) == (None, None)


def test_a_hole_in_the_log_is_a_gap_and_ends_what_is_described() -> None:
    before = [session(60 - n, 100) for n in range(7)]
    after = [session(15 - n, 100 + 10 * n) for n in range(14)]
    log = found(LOG, *before, *after)
    assert [load for _, load, _ in told(log)][-2:] == [910, 1400]
    assert [span for span in log.spans if span.load is None] == [
        Span(TODAY - 50 * DAY, TODAY - 16 * DAY, None)
    ]
    assert log.described.change_percent == pytest.approx(100 * (1400 / 910 - 1))
    assert log.described.coupled is None


def test_days_since_the_end_of_the_log_are_a_gap_once_they_are_seven() -> None:
    days = [session(13 - n, 100 + n) for n in range(7)]
    assert told(found(LOG, *days)) == [(7, 721, True), (7, None, True)]
    days = [session(12 - n, 100 + n) for n in range(7)]
    assert told(found(LOG, *days)) == [(7, 721, True)]


def test_a_session_without_its_load_makes_the_week_unknown() -> None:
    days = [session(14 - n, 100 + n) for n in range(14)]
    days[10] = session(4, None, distance_km=5)
    log = found(LOG, *days)
    assert told(log) == [(7, 721, True), (7, None, True)]
    assert log.week is None
    assert log.described.week.total is None


def test_minutes_alone_give_no_monotony() -> None:
    log = found(LOG, *(session(7 - n, None, minutes=10 + n) for n in range(7)))
    assert log.amount is Amount.MINUTES
    assert log.described.week.total == 91
    assert (log.described.week.monotony, log.described.week.strain) == (None, None)


def test_several_sessions_of_a_day_are_added_and_those_to_come_left_out() -> None:
    days = [session(7 - n, 100 + n) for n in range(7)]
    log = found(LOG, *days, session(3, 50), session(-1, 999))
    assert told(log) == [(7, 771, True)]


# --- none


@pytest.mark.parametrize(
    ("measure", "rows"),
    [
        (WEEKLY, []),
        (LOG, []),
        (LOG, [session(-1, 100)]),
        (WEEKLY, [week(-1, 100)]),
        (WEEKLY, [week(1, None, sessions=3)]),
        (LOG, [session(1, None)]),
        ("bone-stress-injuries", [{"date": "2026-01-01"}]),
    ],
)
def test_no_diary(measure: str, rows: list[dict[str, Any]]) -> None:
    assert diary(measure, read({measure: rows} if rows else {}), forms()) is None


def test_no_diary_without_the_figures_of_the_trade() -> None:
    assert diary(WEEKLY, read({WEEKLY: [week(1, 700)]}), b.CATALOGUE) is None


def test_changes_of_nothing() -> None:
    assert changes([]) == []


@pytest.mark.parametrize(
    ("day", "weeks", "log"),
    [
        ("0001-01-01", [700], None),
        ("0001-01-08", [700], None),
        ("0002-01-07", [90, None, 700], [90, None]),
    ],
)
def test_a_slip_in_the_year_is_borne(day: str, weeks: list[float], log: list[float] | None) -> None:
    row = {"minutes": 30, "effort": 3}
    assert [one.load for one in found(WEEKLY, row | {"week": day}, week(1, 700)).spans] == weeks
    made = diary(LOG, read({LOG: [row | {"date": day}]}), forms())
    assert (made and [one.load for one in made.spans]) == log
