"""What is not known, not defined or too short in a training load; and the figures of forms/."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.catalogue.model import Rule
from footexam.mechanics.figures import figure
from footexam.mechanics.load import (
    LoadFigures,
    described,
    exponential_average,
    exponential_ratio,
    load_figures,
    rolling_ratio,
    session_spike_percent,
    sum_known,
    week_of,
)
from footexam.scoring.loads import change_percent, monotony
from footexam.terms import Provenance
from tests.published.cases import forms

FIGURES = LoadFigures(acute_days=7, chronic_days=28, shown_after_days=28, spike_marks=(10, 30, 100))
DAYS = st.lists(st.integers(0, 2000).map(float), min_size=28, max_size=60)


def test_the_figures_of_the_forms() -> None:
    assert load_figures(forms().training) == FIGURES


@pytest.mark.parametrize("rules", [{}, {"n": Rule("n", "x", Provenance.PUBLISHED, words=("a",))}])
def test_a_figure_that_forms_do_not_give(rules: dict[str, Rule]) -> None:
    with pytest.raises(KeyError):
        figure(rules, "n")


def test_an_unknown_day_makes_the_week_unknown_and_a_day_of_rest_does_not() -> None:
    assert sum_known([100, None, 50]) is None
    assert sum_known([100, 0, 50]) == 150
    assert sum_known([]) == 0
    week = week_of([100, None, 50, 0, 0, 80, 90])
    assert (week.total, week.monotony, week.strain) == (None, None, None)


@pytest.mark.parametrize("loads", [[0.1] * 7, [Decimal("0.1")] * 7, [0.0] * 7, [5.0], []])
def test_monotony_is_never_infinite(loads: list[float]) -> None:
    assert monotony(loads) is None


def test_floats_and_decimals_agree() -> None:
    loads = (270, 0, 300, 180, 0, 540, 120)
    exact = monotony([Decimal(load) for load in loads])
    assert isinstance(exact, Decimal)
    assert float(exact) == pytest.approx(monotony([float(load) for load in loads]))


def test_no_change_from_nothing() -> None:
    assert change_percent(10.0, 0.0) is None
    assert session_spike_percent(10, []) is None
    assert session_spike_percent(10, [0]) is None
    assert session_spike_percent(6, [12, 3]) == -50


@pytest.mark.parametrize(
    "days",
    [
        [100.0] * 27,
        [*[100.0] * 27, None],
        [None, *[100.0] * 27],
        [0.0] * 28,
    ],
    ids=["too short", "recent day unknown", "usual day unknown", "no load at all"],
)
def test_no_coupled_ratio(days: list[float | None]) -> None:
    assert rolling_ratio(days, 7, 28, coupled=True) is None


def test_no_uncoupled_ratio_after_rest() -> None:
    days = [0.0] * 21 + [100.0] * 7
    assert rolling_ratio(days, 7, 28, coupled=False) is None
    assert rolling_ratio(days, 7, 28, coupled=True) == 4


def test_no_exponential_ratio_of_nothing() -> None:
    assert exponential_ratio([0.0] * 3, 7, 28, 0) is None
    assert exponential_average([], 7, 12) == 12


def test_the_exponential_ratio_is_shown_from_the_twenty_ninth_day() -> None:
    steady = [100.0] * 28
    assert described(steady, FIGURES).exponential is None
    assert described([*steady, 100.0], FIGURES).exponential == pytest.approx(1)
    assert described([*steady, 400.0], FIGURES).exponential == pytest.approx(1.450, abs=0.0005)


@pytest.mark.parametrize("unknown", [0, 20, 35, 39])
def test_no_exponential_ratio_with_an_unknown_day_that_it_rests_on(unknown: int) -> None:
    days: list[float | None] = [100.0] * 40
    assert described(days, FIGURES).exponential == pytest.approx(1)
    days[unknown] = None
    assert described(days, FIGURES).exponential is None


def test_a_series_that_is_too_short_or_has_gaps_is_described_as_far_as_it_goes() -> None:
    short = described([100.0] * 3, FIGURES)
    assert (short.week.total, short.change_percent, short.coupled) == (None, None, None)
    assert described([], FIGURES).exponential is None
    one_week = described([50.0, *[100.0] * 6], FIGURES)
    assert (one_week.week.total, one_week.change_percent) == (650, None)
    gap = described([*[50.0] * 6, None, *[100.0] * 7], FIGURES)
    assert (gap.week.total, gap.change_percent) == (700, None)
    gap = described([*[50.0] * 13, None], FIGURES)
    assert (gap.week.total, gap.change_percent) == (None, None)
    rest = described([*[0.0] * 7, *[100.0] * 7], FIGURES)
    assert rest.change_percent is None


@given(DAYS)
def test_the_coupled_ratio_never_exceeds_its_limit(days: list[float]) -> None:
    found = rolling_ratio(days, 7, 28, coupled=True)
    assert found is None or 0 <= found <= 4 + 1e-9


@given(DAYS, st.integers(2, 9))
def test_ratios_and_monotony_do_not_depend_on_the_unit(days: list[float], factor: int) -> None:
    one, other = described(days, FIGURES), described([day * factor for day in days], FIGURES)
    for name in ("change_percent", "coupled", "uncoupled", "exponential"):
        first, second = getattr(one, name), getattr(other, name)
        assert (first is None) == (second is None)
        assert first is None or second == pytest.approx(first, rel=1e-9, abs=1e-9)
    assert (one.week.monotony is None) == (other.week.monotony is None)


@given(DAYS, st.floats(0, 2000))
def test_an_exponential_average_lies_among_its_loads(days: list[float], start: float) -> None:
    for width in (7, 28):
        found = exponential_average(days, width, start)
        assert min(*days, start) - 1e-9 <= found <= max(*days, start) + 1e-9
