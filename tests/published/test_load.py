"""Training load against the worked examples of the reference notes (E1 to E18).

All expected values are computed (marked derived), from Foster 1998 (session load and monotony) and
Frandsen 2025 (session spike), through the measures that the program works out. All examples, also
E6 to E11 and E13 to E18, are checked by mechanics/ alone in test_training_load.py.
"""

import csv
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from footexam.exchange.examination import BadInput
from tests.published.cases import TODAY, assessed, derived, forms, read, score

DATA = Path(__file__).parents[1] / "data" / "published"
FOSTER = "Foster 1998 Med Sci Sports Exerc 30:1164"
FRANDSEN = "Frandsen 2025 Br J Sports Med 59:1203"
MONDAY = TODAY - timedelta(days=TODAY.weekday())


def days(loads: tuple[float, ...]) -> dict[str, Any]:
    """A session of effort 5 each day, the last one yesterday; a load of 0 is a day of rest."""
    first = TODAY - timedelta(days=len(loads))
    rows = [
        {
            "date": (first + timedelta(days=day)).isoformat(),
            "kind": "run",
            "minutes": str(load / 5),
            "effort": 5,
        }
        for day, load in enumerate(loads)
    ]
    return {"session-log": rows}


def weeks(*loads: int) -> dict[str, Any]:
    """Complete weeks up to the last one, as minutes at effort 5."""
    return {
        "weekly-load": [
            {
                "week": (MONDAY - timedelta(weeks=len(loads) - place)).isoformat(),
                "sessions": 4,
                "minutes": load // 5,
                "effort": 5,
            }
            for place, load in enumerate(loads)
        ]
    }


def worked_out(readings: dict[str, Any], measure: str) -> float | None:
    found = score(assessed(readings), measure, None)
    return None if found is None else float(found.value)


MONOTONY = [
    derived(f"{FOSTER}, E2", (270, 0, 300, 180, 0, 540, 120), 1.058),
    derived(f"{FOSTER}, E3", (200, 200, 200, 210, 200, 190, 200), 34.64),
    derived(f"{FOSTER}, E4", (200,) * 7, None),
]


@pytest.mark.parametrize(("source", "loads", "expected"), MONOTONY)
def test_e2_to_e4_monotony(source: str, loads: tuple[float, ...], expected: float | None) -> None:
    found = worked_out(days(loads), "training-monotony")
    if expected is None:
        assert found is None, source
    else:
        assert found == pytest.approx(expected, rel=0.0005), source


def _table(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.derived
@pytest.mark.parametrize("week", [1, 2, 3, 4])
def test_monotony_of_four_invented_weeks(week: int) -> None:
    loads = [float(row["load"]) for row in _table("training_load_28d.csv")]
    printed = _table("training_load_weeks.csv")[week - 1]
    one_week = tuple(loads[(week - 1) * 7 : week * 7])
    assert sum(one_week) == float(printed["load"])
    found = worked_out(days(one_week), "training-monotony")
    assert found == pytest.approx(float(printed["monotony"]), abs=0.00005)


@pytest.mark.derived
def test_days_of_rest_that_are_not_written_count_between_sessions() -> None:
    # E2 without its two days of rest: the log spans the same seven days
    whole = days((270, 0, 300, 180, 0, 540, 120))
    kept = [row for row in whole["session-log"] if row["minutes"] != "0.0"]
    assert len(kept) == 5
    assert worked_out({"session-log": kept}, "training-monotony") == pytest.approx(
        1.058, abs=0.0005
    )


@pytest.mark.derived
def test_e1_minutes_times_effort() -> None:
    # 45 min at effort 6 is 270, as 54 min at 5 is: no change from one to the other
    same = weeks(270, 270, 270)
    same["weekly-load"][-1] |= {"minutes": 45, "effort": 6}
    assert worked_out(same, "load-change-2-weeks") == 0.0


@pytest.mark.parametrize(
    ("source", "loads", "measure", "percent"),
    [
        # E5: 1000, 1000, 1000, 1500 is an uncoupled ratio of 1.500, so + 50 %
        derived("E5", (1000, 1000, 1000, 1500), "load-change-2-weeks", 50.0),
        derived("E5", (1000, 1000, 1000, 1000, 1500), "load-change-4-weeks", 50.0),
        derived(
            "E5, four weeks before are needed",
            (1000, 1000, 1000, 1500),
            "load-change-4-weeks",
            None,
        ),
    ],
)
def test_e5_change_of_the_weekly_load(
    source: str, loads: tuple[int, ...], measure: str, percent: float | None
) -> None:
    assert worked_out(weeks(*loads), measure) == percent, source


def runs(*distances: tuple[int, float]) -> dict[str, Any]:
    """Runs so many days ago over so many kilometres."""
    return {
        "session-log": [
            {
                "date": (TODAY - timedelta(days=ago)).isoformat(),
                "kind": "run",
                "distance_km": str(km),
            }
            for ago, km in distances
        ]
    }


@pytest.mark.parametrize(
    ("source", "distances", "percent"),
    [
        derived(f"{FRANDSEN}, E12", ((20, 11), (10, 12), (0, 14)), 16.7),
        derived(f"{FRANDSEN}, window of 30 days", ((30, 12), (0, 14)), 16.7),
        derived(f"{FRANDSEN}, window of 30 days", ((31, 14), (10, 12), (0, 14)), 16.7),
        derived(f"{FRANDSEN}, no run before", ((31, 14), (0, 14)), None),
    ],
)
def test_e12_longest_run_against_the_thirty_days_before(
    source: str, distances: tuple[tuple[int, float], ...], percent: float | None
) -> None:
    found = worked_out(runs(*distances), "session-spike-30-days")
    if percent is None:
        assert found is None, source
    else:
        assert found == pytest.approx(percent, abs=0.05), source


@pytest.mark.published
def test_the_figures_of_the_session_spike_are_told_as_printed() -> None:
    # Frandsen 2025: 5205 runners; 1.64 (10 to 30 %), 1.52 (30 to 100 %), 2.28 (above 100 %)
    text = forms().measures["session-spike-30-days"].against["en"]
    assert "5,205 runners" in text
    assert all(figure in text for figure in ("1.64", "1.52", "2.28"))


@pytest.mark.derived
def test_a_week_begins_on_a_monday() -> None:
    wrong = weeks(1000)
    wrong["weekly-load"][0]["week"] = (MONDAY - timedelta(days=6)).isoformat()
    with pytest.raises(BadInput, match="Monday"):
        read(wrong)
