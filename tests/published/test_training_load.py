"""Training load, damage and energy by mechanics/, against the worked examples of the notes.

E1 to E18 are the examples of the reference notes, computed from formulas of the sources named;
S are the invented 28 days of the statistics notes, computed there by an independent library.
`published`: the figure was read in the source.
"""

import csv
from math import inf, sqrt
from pathlib import Path
from statistics import pstdev

import pytest

from footexam.mechanics.damage import (
    Bout,
    Exponents,
    cumulative_load,
    cycles_of_a_leg,
    damage,
    exponents,
    load_of_equal_damage,
    steps_per_km,
)
from footexam.mechanics.energy import energy_availability
from footexam.mechanics.load import (
    coupled_ratio,
    described,
    exponential_average,
    exponential_ratio,
    load_figures,
    rolling_ratio,
    session_load,
    session_spike_percent,
    spike_band,
    sum_known,
    week_of,
)
from footexam.scoring.loads import change_percent, monotony
from tests.published.cases import derived, forms, published, unchecked

DATA = Path(__file__).parents[1] / "data" / "published"
FOSTER = "Foster 1998 Med Sci Sports Exerc 30:1164"
WILLIAMS = "Williams 2017 Br J Sports Med 51:209"
LOLLI = "Lolli 2019 Br J Sports Med 53:921"
WINDT = "Windt 2019 Br J Sports Med 53:988"
FRANDSEN = "Frandsen 2025 Br J Sports Med 59:1203"
EDWARDS = "Edwards 2018 Exerc Sport Sci Rev 46:224"
WEEK, MONTH = 7, 28
FIGURES = load_figures(forms().training)
BONE = exponents(forms().training, "bone")
TENDON = exponents(forms().training, "tendon")


def table(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


DAYS = table("training_load_28d.csv")
LOADS = [float(row["load"]) for row in DAYS]


def days_of(weeks: tuple[float, ...]) -> list[float]:
    """Weekly loads spread evenly over their days."""
    return [week / WEEK for week in weeks for _ in range(WEEK)]


# --- figures that forms/ hold, as printed


@pytest.mark.parametrize(
    ("source", "name", "figure"),
    [
        published(LOLLI, "acute-days", 7),
        published(LOLLI, "chronic-days", 28),
        published(FRANDSEN, "spike-mark-1", 10),
        published(FRANDSEN, "spike-mark-2", 30),
        published(FRANDSEN, "spike-mark-3", 100),
        unchecked("Matijevich, Hunter 2019 to 2020", "bone-exponent", 6.7),
        unchecked("Carter 1987, Whalen 1988", "bone-exponent-low", 4),
        unchecked("Carter 1987, Whalen 1988", "bone-exponent-high", 8),
        unchecked("Firminger 2020, Wren 2003", "tendon-exponent", 9),
    ],
)
def test_figures_of_the_forms(source: str, name: str, figure: float) -> None:
    assert float(forms().training[name].at or 0) == figure, source


@pytest.mark.parametrize(
    ("source", "name", "printed"),
    [
        published(FRANDSEN, "spike-mark-1", "1.64 times the injuries (1.31 to 2.05)"),
        published(FRANDSEN, "spike-mark-2", "1.52 times the injuries (1.16 to 2.00)"),
        published(FRANDSEN, "spike-mark-3", "2.28 times the injuries (1.50 to 3.48)"),
    ],
)
def test_what_the_bands_of_a_longest_session_went_with(
    source: str, name: str, printed: str
) -> None:
    assert printed in (forms().training[name].note or {})["en"], source


@pytest.mark.parametrize(
    ("source", "remark", "printed"),
    [
        published(WINDT, "ratio-coupled", "r = 0.52"),
        published(WILLIAMS, "ratio-order", "1.43 had exponential ratios of 1.25, 1.41 and 1.55"),
        published(FRANDSEN, "ratio-runners", "5,205 runners"),
        published("Peltonen 2010 J Exp Biol 213:1259", "damage-living", "1,150 to 2,600 hops"),
        published("Matijevich 2019 PLoS One 14", "damage-ground-force", "-0.29 and -0.20"),
    ],
)
def test_the_criticism_is_told_as_printed(source: str, remark: str, printed: str) -> None:
    assert printed in forms().remarks[remark].text["en"], source


@pytest.mark.parametrize(
    ("source", "days", "weight"), [published(WILLIAMS, 7, 0.25), published(WILLIAMS, 28, 0.0690)]
)
def test_weight_of_the_newest_day(source: str, days: int, weight: float) -> None:
    # a load of 1 after nothing leaves the weight itself
    assert exponential_average([1.0], days, 0.0) == pytest.approx(weight, abs=0.00005), source


@pytest.mark.parametrize(
    ("source", "percent", "band"),
    [
        published(FRANDSEN, 10.0, 0),
        published(FRANDSEN, 10.1, 1),
        published(FRANDSEN, 30.0, 1),
        published(FRANDSEN, 30.1, 2),
        published(FRANDSEN, 100.0, 2),
        published(FRANDSEN, 100.1, 3),
    ],
)
def test_bands_of_a_longest_session(source: str, percent: float, band: int) -> None:
    assert spike_band(percent, FIGURES.spike_marks) == band, source


# --- E1 to E4: load, monotony, strain


@pytest.mark.derived
def test_e1_session_load() -> None:
    assert session_load(6, 45) == 270  # Foster 2001
    assert session_load(6, 60) == 360  # S


@pytest.mark.parametrize(
    ("source", "loads", "total", "even", "strain"),
    [
        derived(f"{FOSTER}, E2", (270, 0, 300, 180, 0, 540, 120), 1410, 1.058, 1492.5),
        derived(f"{FOSTER}, E3", (200, 200, 200, 210, 200, 190, 200), 1400, 34.64, 48497),
        derived(f"{FOSTER}, E4", (200,) * 7, 1400, None, None),
        derived(f"{FOSTER}, S: 700, then six days of rest", (700, *(0,) * 6), 700, 0.377964, None),
    ],
)
def test_e2_to_e4_a_week(
    source: str, loads: tuple[float, ...], total: float, even: float | None, strain: float | None
) -> None:
    week = week_of(loads)
    assert week.total == total, source
    if even is None:
        assert (week.monotony, week.strain) == (None, None), source
        return
    assert week.monotony == pytest.approx(even, rel=0.0005), source
    if strain is not None:
        assert week.strain == pytest.approx(strain, rel=0.0005), source


@pytest.mark.derived
def test_e2_the_other_standard_deviation_would_be_larger_by_a_fixed_factor() -> None:
    loads = (270, 0, 300, 180, 0, 540, 120)
    with_population_sd = 1410 / 7 / pstdev(loads)
    assert with_population_sd == pytest.approx(1.143, abs=0.0005)
    assert with_population_sd / (monotony(loads) or 0) == pytest.approx(sqrt(7 / 6))


@pytest.mark.derived
def test_e3_equal_totals_give_strains_thirty_times_apart() -> None:
    uneven = week_of((270, 0, 300, 180, 0, 540, 120))
    even = week_of((200, 200, 200, 210, 200, 190, 200))
    assert change_percent(even.total or 0, uneven.total or 1) == pytest.approx(-0.7, abs=0.05)
    assert (even.strain or 0) / (uneven.strain or 1) == pytest.approx(32.5, abs=0.05)


@pytest.mark.derived
@pytest.mark.parametrize("place", range(4))
def test_s_four_invented_weeks(place: int) -> None:
    printed = table("training_load_weeks.csv")[place]
    week = week_of(LOADS[place * WEEK : (place + 1) * WEEK])
    assert week.total == float(printed["load"])
    assert week.monotony == pytest.approx(float(printed["monotony"]), abs=0.00005)
    assert week.strain == pytest.approx(float(printed["strain"]), abs=0.0001)


# --- E5 to E11: ratios


@pytest.mark.parametrize(
    ("source", "coupled", "expected"),
    [derived(f"{LOLLI}, E5", True, 1.333), derived(f"{WINDT}, E5", False, 1.500)],
)
def test_e5_rolling_ratios(source: str, coupled: bool, expected: float) -> None:
    days = days_of((1000, 1000, 1000, 1500))
    found = rolling_ratio(days, WEEK, MONTH, coupled=coupled)
    assert found == pytest.approx(expected, abs=0.0005), source


@pytest.mark.parametrize(
    ("source", "uncoupled", "coupled"),
    [
        derived(f"{WINDT}, E6", 3.0, 2.0),
        derived(f"{WINDT}, E6", 10.0, 3.077),
        derived(f"{WINDT}, E6, the limit", inf, 4.0),
        derived(f"{WINDT}, E5", 1.5, 1.333),
        derived("no recent load", 0.0, 0.0),
    ],
)
def test_e6_the_coupled_ratio_has_a_limit(source: str, uncoupled: float, coupled: float) -> None:
    assert coupled_ratio(uncoupled, WEEK, MONTH) == pytest.approx(coupled, abs=0.0005), source


@pytest.mark.derived
def test_e7_exponential_averages_day_by_day() -> None:
    loads = [300.0, 0.0, 400.0, 0.0, 500.0]
    acute = [exponential_average(loads[:day], WEEK, 300) for day in range(1, 6)]
    chronic = [exponential_average(loads[:day], MONTH, 300) for day in range(1, 6)]
    assert acute == pytest.approx([300, 225, 268.75, 201.56, 276.17], abs=0.005)
    assert chronic == pytest.approx([300, 279.31, 287.63, 267.80, 283.81], abs=0.005)
    assert exponential_ratio(loads, WEEK, MONTH, 300) == pytest.approx(0.973, abs=0.0005)


@pytest.mark.parametrize(
    ("source", "loads", "start", "acute", "chronic", "ratio"),
    [
        derived("E8: one day of 400", (400.0,), 100, 175, 120.69, 1.450),
        derived("E9: begun at 0", (100.0,) * 28, 0, 99.97, 86.48, 1.156),
        derived("E10: two weeks of rest", (0.0,) * 14, 100, 1.78, 36.77, 0.048),
    ],
)
def test_e8_to_e10_exponential_ratios(
    source: str, loads: tuple[float, ...], start: float, acute: float, chronic: float, ratio: float
) -> None:
    assert exponential_average(loads, WEEK, start) == pytest.approx(acute, abs=0.005), source
    assert exponential_average(loads, MONTH, start) == pytest.approx(chronic, abs=0.005), source
    found = exponential_ratio(loads, WEEK, MONTH, start)
    assert found == pytest.approx(ratio, abs=0.0005), source


@pytest.mark.derived
def test_e10_a_usual_ratio_just_after_two_weeks_of_rest() -> None:
    loads = [0.0] * 14 + [50.0] * 7
    assert exponential_ratio(loads, WEEK, MONTH, 100) == pytest.approx(1.038, abs=0.0005)


@pytest.mark.parametrize(
    ("source", "last_week", "ratio"),
    [
        derived("E11: three days of 350 first, four of rest", (350,) * 3 + (0,) * 4, 0.695),
        derived("E11: four days of rest, three of 350 last", (0,) * 4 + (350,) * 3, 1.683),
    ],
)
def test_e11_only_the_exponential_ratio_sees_the_order(
    source: str, last_week: tuple[float, ...], ratio: float
) -> None:
    days = [100.0] * 21 + [float(load) for load in last_week]
    rolling = rolling_ratio(days, WEEK, MONTH, coupled=True)
    assert rolling == pytest.approx(1.333, abs=0.0005), source
    found = exponential_ratio(days, WEEK, MONTH, 100)
    assert found == pytest.approx(ratio, abs=0.0005), source


@pytest.mark.derived
def test_s_exponential_averages_of_every_day() -> None:
    for day, row in enumerate(DAYS, start=1):
        for days, column in ((WEEK, "ewma7"), (MONTH, "ewma28")):
            found = exponential_average(LOADS[1:day], days, LOADS[0])
            assert found == pytest.approx(float(row[column]), abs=1e-6), (day, column)
        ratio = exponential_ratio(LOADS[1:day], WEEK, MONTH, LOADS[0])
        assert ratio == pytest.approx(float(row["ratio"]), abs=1e-6), day


@pytest.mark.parametrize(
    ("source", "start_acute", "start_chronic", "ratio"),
    [
        derived("S: begun at the first load", 300.0, 300.0, 1.085142),
        derived("S: begun at the mean of the first days", 1760 / 7, 7920 / 28, 1.094081),
        derived("S: begun at 0, which nobody should", 0.0, 0.0, 1.267288),
    ],
)
def test_s_the_start_still_tells_after_28_days(
    source: str, start_acute: float, start_chronic: float, ratio: float
) -> None:
    acute = exponential_average(LOADS[1:], WEEK, start_acute)
    chronic = exponential_average(LOADS[1:], MONTH, start_chronic)
    assert acute / chronic == pytest.approx(ratio, abs=1e-6), source


@pytest.mark.parametrize(
    ("source", "tenth", "acute", "chronic"),
    [
        derived("S: day 10 taken for rest", 0.0, 327.566525, 293.874691),
        derived("S: day 10 passed over", None, 327.849272, 298.904442),
    ],
)
def test_s_a_day_that_is_not_known(
    source: str, tenth: float | None, acute: float, chronic: float
) -> None:
    days = [*LOADS[:9], tenth, *LOADS[10:]]
    assert exponential_average(days[1:], WEEK, 300) == pytest.approx(acute, abs=1e-6), source
    assert exponential_average(days[1:], MONTH, 300) == pytest.approx(chronic, abs=1e-6), source


@pytest.mark.derived
def test_s_rolling_ratios_of_day_28() -> None:
    for day in range(WEEK, MONTH + 1):
        mean = (sum_known(LOADS[day - WEEK : day]) or 0) / WEEK
        assert mean == pytest.approx(float(DAYS[day - 1]["roll7"]), abs=1e-6), day
    coupled = rolling_ratio(LOADS, WEEK, MONTH, coupled=True)
    assert coupled == pytest.approx(1.287878788, abs=1e-8)
    uncoupled = rolling_ratio(LOADS, WEEK, MONTH, coupled=False)
    assert uncoupled == pytest.approx(1.424581006, abs=1e-8)
    assert coupled_ratio(uncoupled or 0, WEEK, MONTH) == pytest.approx(coupled)


@pytest.mark.parametrize(
    ("source", "days", "ratio"),
    [
        derived("S: load doubled", 1, 1.169355),
        derived("S: load doubled", 3, 1.322870),
        derived("S: load doubled", 7, 1.339350),
        derived("S: load doubled", 14, 1.214366),
    ],
)
def test_s_a_step_from_steady_load(source: str, days: int, ratio: float) -> None:
    found = exponential_ratio([200.0] * days, WEEK, MONTH, 100)
    assert found == pytest.approx(ratio, abs=1e-6), source


@pytest.mark.derived
def test_s_the_28_days_described() -> None:
    found = described(LOADS, FIGURES)
    assert found.week.total == 2550
    assert found.change_percent == pytest.approx((2550 / 1720 - 1) * 100)
    assert (found.coupled, found.uncoupled) == pytest.approx((1.287878788, 1.424581006), abs=1e-8)
    assert found.exponential is None  # hidden for the first 28 days


# --- E12: longest session


@pytest.mark.derived
def test_e12_a_longest_run_in_a_quieter_week() -> None:
    spike = session_spike_percent(14, [11, 12, 9])
    assert spike == pytest.approx(16.7, abs=0.05)
    assert spike_band(spike or 0, FIGURES.spike_marks) == 1  # above 10 to 30 %: 1.64
    quieter = change_percent(14 + 5 + 5, 12 + 9 + 9)
    assert quieter is not None
    assert quieter < 0


# --- E13 to E17: damage


@pytest.mark.parametrize(
    ("source", "tissue", "load", "low", "usual"),
    [
        derived(f"{EDWARDS}, E13: bone", BONE, 1.05, 1.216, 1.387),
        derived(f"{EDWARDS}, E13: bone", BONE, 1.10, 1.464, 1.894),
        derived(f"{EDWARDS}, E13: bone", BONE, 0.90, 0.656, 0.494),
        derived(f"{EDWARDS}, E13: tendon", TENDON, 1.05, None, 1.551),
        derived(f"{EDWARDS}, E13: tendon", TENDON, 1.10, None, 2.358),
        derived(f"{EDWARDS}, E13: tendon", TENDON, 0.90, None, 0.387),
    ],
)
def test_e13_damage_of_a_changed_load(
    source: str, tissue: Exponents, load: float, low: float | None, usual: float
) -> None:
    found = damage([Bout(1, load)], tissue)
    assert found.usual == pytest.approx(usual, abs=0.0005), source
    if low is not None:
        assert found.low == pytest.approx(low, abs=0.0005), source


@pytest.mark.derived
def test_e14_more_and_smaller_steps() -> None:
    bout = [Bout(1.05, 0.97)]
    assert damage(bout, BONE).usual == pytest.approx(0.856, abs=0.0005)
    assert cumulative_load(bout) == pytest.approx(1.0185)


@pytest.mark.parametrize(
    ("source", "cycles", "exponent", "drop"),
    [
        derived("E14: 5 % more steps, bone", 1.05, BONE.usual, 0.73),
        derived("E14: 5 % more steps, tendon", 1.05, TENDON.usual, 0.54),
        derived("E14: 5 % more steps, bone, low", 1.05, BONE.low, 1.21),
        derived("E17: the same as half the cycles, bone", 2.0, BONE.usual, 9.8),
        derived("E17: the same as half the cycles, tendon", 2.0, TENDON.usual, 7.4),
    ],
)
def test_e14_and_e17_the_load_of_equal_damage(
    source: str, cycles: float, exponent: float, drop: float
) -> None:
    found = (1 - load_of_equal_damage(cycles, exponent)) * 100
    assert found == pytest.approx(drop, abs=0.05 if cycles > 1.5 else 0.005), source


@pytest.mark.derived
def test_e15_faster_running_lowers_load_and_raises_damage() -> None:
    slow, fast = steps_per_km(3.33, 168), steps_per_km(4.33, 176)
    assert (slow, fast) == pytest.approx((841, 677), abs=0.5)
    assert (slow / 2, fast / 2) == pytest.approx((420, 339), abs=0.5)
    assert fast / slow == pytest.approx(0.806, abs=0.0005)
    bout = [Bout(fast / slow, 1.09)]
    assert cumulative_load(bout) == pytest.approx(0.878, abs=0.0005)
    assert damage(bout, BONE).usual == pytest.approx(1.435, abs=0.0005)
    assert damage(bout, TENDON).usual == pytest.approx(1.750, abs=0.0005)


@pytest.mark.derived
def test_e16_fewer_harder_cycles_do_the_same_damage() -> None:
    easy, hard = Bout(5000, 1.00), Bout(2000, 1.15)
    assert damage([easy], BONE).usual == 5000
    assert damage([hard], BONE).usual == pytest.approx(5102, abs=0.5)
    assert damage([easy, hard], BONE).usual == pytest.approx(10102, abs=0.5)


@pytest.mark.derived
def test_e17_half_the_running_is_half_the_damage() -> None:
    whole, half = cycles_of_a_leg(30, 168), cycles_of_a_leg(15, 168)
    assert (whole, half) == (2520, 1260)
    assert damage([Bout(half, 1)], BONE).usual / damage([Bout(whole, 1)], BONE).usual == 0.5


# --- E18: energy


@pytest.mark.parametrize(
    ("source", "intake", "exercise", "lean", "expected"),
    [
        derived("E18, Heikura 2018", 2000, 800, 50, 24.0),
        derived("E18, Heikura 2018", 2400, 600, 48, 37.5),
    ],
)
def test_e18_energy_availability(
    source: str, intake: float, exercise: float, lean: float, expected: float
) -> None:
    assert energy_availability(intake, exercise, lean) == expected, source
