"""Agreement, error and change against published examples.

Every row of expected_values.csv on agreement, change and pass marks is checked at its own
tolerance, and every row of kappa_expected.csv; what the papers print, once more as printed.
`published`: read in a source; `derived`: recomputed from published data by the formula or by other
programs; `unchecked`: ascribed to a source.
"""

import csv
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from footexam.marking import bland_altman, change, kappa, sem
from footexam.marking.alpha import Metric, alpha
from footexam.marking.change import Formula
from footexam.marking.estimate import Method
from footexam.marking.fleiss import fleiss
from footexam.marking.icc import Form, icc
from footexam.marking.mean_squares import mean_squares
from footexam.marking.passmark import angoff, borderline_regression

DATA = Path(__file__).parents[1] / "data" / "published"
SUBJECTS = ("SF", "ANX", "WEIR", "BA", "FL", "KA", "KW", "JT", "MIX", "BRM", "ANG")


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def numbers(name: str) -> np.ndarray:
    """A table without its first column; empty cells become gaps."""
    lines = [list(row.values())[1:] for row in rows(name)]
    return np.array([[float(cell) if cell else np.nan for cell in line] for line in lines])


def forms(name: str, tag: str, k: int, *, short: bool = False) -> dict[str, float]:
    """Coefficients and limits of a table under the ids of the file."""
    found = {}
    low, high = (" lo", " hi") if short else ("_lo", "_hi")
    for form, batch in icc(numbers(name), method=Method.SATTERTHWAITE).items():
        one = batch.estimate()
        name_of = f"{tag}_{str(form).replace('k', str(k))}"
        found |= {name_of: one.value, name_of + low: one.low, name_of + high: one.high}
    return found


def shrout_fleiss() -> dict[str, float]:
    squares = mean_squares(numbers("shrout_fleiss_1979.csv"))
    return forms("shrout_fleiss_1979.csv", "SF", 4) | {
        "SF_BMS": float(squares.between),
        "SF_WMS": float(squares.within),
        "SF_JMS": float(squares.raters),
        "SF_EMS": float(squares.error),
    }


def weir() -> dict[str, float]:
    table = numbers("weir_2005_setA.csv")
    errors = sem.errors(table)
    found = forms("weir_2005_setA.csv", "WEIR", 2)
    sd, reliability = float(table.std(ddof=1)), found["WEIR_ICC(3,1)"]
    size = errors.sem(Formula.ERROR).estimate().value
    return found | {
        "WEIR_SEM=sqrt(MSE)": size,
        "WEIR_SEE(ICC3,1)": change.estimation_error(sd, reliability),
        "WEIR_SEP(ICC3,1)": change.prediction_error(sd, reliability),
        "WEIR_MDC95": errors.change(Formula.ERROR).estimate().value,
        "WEIR_MDC90 (z 1.645)": 1.645 * change.difference_error(size),
    }


def meters(method: Method = Method.LARGE_SAMPLE, factor: float = 2) -> bland_altman.Limits:
    table = numbers("bland_altman_1986_pefr.csv")
    return bland_altman.limits(table[:, 0], table[:, 2], factor=factor, method=method)


def peak_flow() -> dict[str, float]:
    table = numbers("bland_altman_1986_pefr.csv")
    of_1986 = meters()
    bias, lower, upper = (one.estimate() for one in (of_1986.bias, of_1986.lower, of_1986.upper))
    sd = of_1986.sd.estimate().value
    closer = bland_altman.limits(table[:, 0], table[:, 2])
    return {
        "BA_bias": bias.value,
        "BA_sd of differences": sd,
        "BA_LoA 2sd lower": lower.value,
        "BA_LoA 2sd upper": upper.value,
        "BA_LoA 1.96 lower": meters(factor=1.96).lower.estimate().value,
        "BA_LoA 1.96 upper": meters(factor=1.96).upper.estimate().value,
        "exact 1.96 lower": closer.lower.estimate().value,
        "BA_bias CI lower": bias.low,
        "BA_bias CI upper": bias.high,
        "BA_se LoA sqrt(3)s/sqrt n": float(bland_altman.limit_error(np.array(sd), np.array(17.0))),
        "BA_lower LoA CI lower": lower.low,
        "BA_lower LoA CI upper": lower.high,
        "BA_upper LoA CI lower": upper.low,
        "BA_upper LoA CI upper": upper.high,
        "BA_within-subject sd wright": within(table[:, :2]),
        "BA_within-subject sd mini": within(table[:, 2:]),
    }


def within(repeats: np.ndarray) -> float:
    return sem.errors(repeats).within.estimate().value


def several_raters() -> dict[str, float]:
    thirty = fleiss(numbers("fleiss_1971_diagnoses.csv"))
    ten = fleiss(numbers("fleiss_wikipedia_10x5.csv"))
    found = {
        "FL_kappa30": thirty.kappa.estimate().value,
        "FL_se0": float(thirty.null_error),
        "FL_kappa10": ten.kappa.estimate().value,
    }
    for tag, name in (("KA", "krippendorff_4x12.csv"), ("KW", "krippendorff_wikipedia_3x15.csv")):
        for metric in Metric:
            found[f"{tag}_{metric}"] = alpha(numbers(name).T, metric).estimate().value
    return found


def change_and_mixed() -> dict[str, float]:
    size = change.sem_from_reliability(7.5, 0.80)
    table = numbers("mixed_items_icc_trap.csv")
    apart = [change.reliable_change(*line) for line in table[:, [0, 1, 2]].tolist()]
    return {
        "JT_S_E": size,
        "JT_S_diff": change.difference_error(size),
        "JT_RC(47.5->32.5)": -change.reliable_change(47.5, 32.5, size),
        "JT_cut-off c": change.recovery_cut((40, 7.5), (60, 7.5)),
        "MIX_icc": icc(table[:, :2])[Form.AGREEMENT].estimate().value,
        "MIX_rms": math.sqrt(sum(one**2 for one in apart) / len(apart)),
    }


def pass_marks() -> dict[str, float]:
    table = numbers("borderline_regression_synthetic.csv")
    line = borderline_regression(table[:, 0].tolist(), table[:, 1].tolist(), 1)
    judges = numbers("angoff_synthetic.csv").tolist()
    cut = angoff(judges)
    return {
        "BRM_slope": line.slope,
        "BRM_intercept": line.intercept,
        "BRM_cut at 1": line.cut,
        "BRM_se of cut": line.se,
        "BRM_CI lo": line.low,
        "BRM_CI hi": line.high,
        "ANG_cut of 12": cut.cut,
        "ANG_cut %": 100 * cut.cut / cut.of,
        "ANG_se over judges": cut.se,
        "ANG_CI lo": cut.low,
        "ANG_CI hi": cut.high,
        "ANG_trimmed": cut.trimmed,
        "ANG_median": cut.median,
    }


WAYS: tuple[Callable[[], dict[str, float]], ...] = (
    shrout_fleiss,
    lambda: forms("irr_anxiety_20x3.csv", "ANX", 3, short=True),
    weir,
    peak_flow,
    several_raters,
    change_and_mixed,
    pass_marks,
)


@pytest.fixture(scope="module")
def found() -> dict[str, float]:
    return {name: value for way in WAYS for name, value in way().items()}


EXPECTED = [row for row in rows("expected_values.csv") if row["id"].split("_")[0] in SUBJECTS]


def test_all_rows_on_these_subjects_are_there() -> None:
    assert len(EXPECTED) == 80


@pytest.mark.derived
@pytest.mark.parametrize("row", EXPECTED, ids=lambda row: row["id"])
def test_expected_value(row: dict[str, str], found: dict[str, float]) -> None:
    assert found[row["id"]] == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


# Kappa: 7 tables by 3 weights; agreed upon by statsmodels, scikit-learn and the printed formula.

KINDS = {
    "un": kappa.Weights.UNWEIGHTED,
    "lin": kappa.Weights.LINEAR,
    "quad": kappa.Weights.QUADRATIC,
}
EIGHT = 5.1e-9


def counts(name: str) -> np.ndarray:
    cells = [row for row in rows("kappa_tables.csv") if row["table"] == name]
    size = max(int(cell["row"]) for cell in cells)
    table = np.zeros((size, size))
    for cell in cells:
        table[int(cell["row"]) - 1, int(cell["col"]) - 1] = float(cell["count"])
    return table


@pytest.mark.derived
@pytest.mark.parametrize(
    "row", rows("kappa_expected.csv"), ids=lambda row: f"{row['table']}-{row['weights']}"
)
def test_kappa_of_published_tables(row: dict[str, str]) -> None:
    table, kind = counts(row["table"]), KINDS[row["weights"]]
    one = kappa.kappa(table, kind, method=Method.LARGE_SAMPLE).estimate()
    assert one.n == float(row["n"])
    for value, column in ((one.value, "kappa"), (one.low, "ci_lo"), (one.high, "ci_hi")):
        assert value == pytest.approx(float(row[column]), abs=EIGHT)
    assert one.value == pytest.approx(float(row["sklearn"]), abs=EIGHT)
    error, null = (float(way(table, kind)) for way in (kappa.large_sample_error, kappa.null_error))
    assert error == pytest.approx(float(row["se"]), abs=EIGHT)
    assert null == pytest.approx(float(row["se0"]), abs=EIGHT)
    assert one.value / null == pytest.approx(float(row["z"]), rel=1e-8)


@pytest.mark.published
@pytest.mark.parametrize(
    ("table", "kind", "printed", "digits"),
    [
        ("sas_3x3", "un", 0.4842, 4),  # printed by SAS, kept in the tests of statsmodels
        ("sas_3x3", "lin", 0.4701, 4),
        ("abstractors", "un", 0.79641, 5),  # Gwet, data and figure of irrCAC
        ("diag4x4", "un", 0.4315, 4),
    ],
)
def test_kappa_as_printed(table: str, kind: str, printed: float, digits: int) -> None:
    assert round(kappa.kappa(counts(table), KINDS[kind]).estimate().value, digits) == printed


@pytest.mark.unchecked
@pytest.mark.parametrize(("kind", "printed"), [("un", 0.3449), ("lin", 0.5082)])
def test_kappa_of_the_skin_table(kind: str, printed: float) -> None:
    assert round(kappa.kappa(counts("sas_skin"), KINDS[kind]).estimate().value, 4) == printed


@pytest.mark.derived
def test_unused_level_of_the_anxiety_scale() -> None:
    """Raters 2 and 3 use 5 of the 6 levels; the full scale is what counts."""
    two, three = numbers("irr_anxiety_20x3.csv")[:, 1:].T
    full = kappa.table(two - 1, three - 1, 6)
    seen = np.unique(np.concatenate([two, three]))
    short = kappa.table(np.searchsorted(seen, two), np.searchsorted(seen, three), len(seen))
    assert len(seen) == 5
    for kind, right, wrong in (("lin", 0.126214, 0.145907), ("quad", 0.229798, 0.252033)):
        for table, expected in ((full, right), (short, wrong)):
            value = kappa.kappa(table, KINDS[kind]).estimate().value
            assert value == pytest.approx(expected, abs=5.1e-7)


# What the papers print.


@pytest.mark.published
@pytest.mark.parametrize(
    ("form", "printed", "low", "high"),
    [
        (Form.ONE_WAY, 0.17, -0.133, 0.72),
        (Form.AGREEMENT, 0.29, 0.019, 0.76),
        (Form.CONSISTENCY, 0.71, 0.342, 0.95),
        (Form.ONE_WAY_MEAN, 0.44, -0.884, 0.91),
        (Form.AGREEMENT_MEAN, 0.62, 0.071, 0.93),
        (Form.CONSISTENCY_MEAN, 0.91, 0.676, 0.99),
    ],
)
def test_shrout_and_fleiss_1979(form: Form, printed: float, low: float, high: float) -> None:
    table = numbers("shrout_fleiss_1979.csv")
    one = icc(table, method=Method.SATTERTHWAITE)[form].estimate()
    assert (round(one.value, 2), round(one.low, 3), round(one.high, 2)) == (printed, low, high)


@pytest.mark.published
def test_fleiss_1971() -> None:
    """Psychol Bull 76:378; .4302445 and z 17.65183 by R, kept in the tests of statsmodels."""
    found = fleiss(numbers("fleiss_1971_diagnoses.csv"))
    value = found.kappa.estimate().value
    assert round(value, 3) == 0.430
    assert round(value, 7) == 0.4302445
    assert round(value / float(found.null_error), 5) == 17.65183


@pytest.mark.derived
def test_fleiss_1971_by_category() -> None:
    found = fleiss(numbers("fleiss_1971_diagnoses.csv")).categories
    expected = [0.244755, 0.244755, 0.520000, 0.471127, 0.566118]
    assert found.tolist() == pytest.approx(expected, abs=5.1e-7)


@pytest.mark.published
@pytest.mark.parametrize(
    ("metric", "printed"),
    [("nominal", 0.743), ("ordinal", 0.815), ("interval", 0.849), ("ratio", 0.797)],
)
def test_krippendorff_example(metric: str, printed: float) -> None:
    one = alpha(numbers("krippendorff_4x12.csv").T, Metric(metric)).estimate()
    assert round(one.value, 3) == printed
    assert one.n == 11  # unit 12 has one value alone


@pytest.mark.published
def test_bland_and_altman_1986() -> None:
    """Lancet i:307. The paper works on with rounded figures, so the last place may differ."""
    found = meters()
    bias, sd, lower, upper = (
        one.estimate() for one in (found.bias, found.sd, found.lower, found.upper)
    )
    assert (round(bias.value, 1), round(sd.value, 1)) == (-2.1, 38.8)
    assert (round(bias.low, 1), round(bias.high, 1)) == (-22.0, 17.8)
    assert lower.value == pytest.approx(-79.7, abs=0.1)
    assert upper.value == pytest.approx(75.5, abs=0.1)
    assert lower.low == pytest.approx(-114.3, abs=0.15)
    assert lower.high == pytest.approx(-45.1, abs=0.1)


@pytest.mark.derived
def test_peak_flow_further() -> None:
    table = numbers("bland_altman_1986_pefr.csv")
    found = meters()
    assert found.slope.estimate().value == pytest.approx(0.0287, abs=5e-5)
    assert float(found.slope_chance) == pytest.approx(0.749, abs=5e-4)
    means = bland_altman.limits(table[:, :2].mean(axis=1), table[:, 2:].mean(axis=1))
    sd = means.sd.estimate().value
    assert means.bias.estimate().value == pytest.approx(-6.029412, abs=5.1e-7)
    assert sd == pytest.approx(33.204137, abs=5.1e-7)
    both = within(table[:, :2]), within(table[:, 2:])
    single = float(bland_altman.single_reading_sd(sd, both, 2))
    assert single == pytest.approx(37.654779, abs=5.1e-7)
    assert [1.96 * change.difference_error(one) for one in both] == pytest.approx(
        [42.427922, 55.190007], abs=5.1e-7
    )


@pytest.mark.published
def test_weir_2005(found: dict[str, float]) -> None:
    """J Strength Cond Res 19:231."""
    for name, printed in (("SEM=sqrt(MSE)", 7.6), ("SEE(ICC3,1)", 7.1), ("SEP(ICC3,1)", 10.2)):
        assert round(found[f"WEIR_{name}"], 1) == printed


@pytest.mark.derived
def test_weir_by_another_formula_is_another_figure(found: dict[str, float]) -> None:
    sd = float(numbers("weir_2005_setA.csv").std(ddof=1))
    for form, expected in (("ICC(3,1)", 7.308), ("ICC(2,1)", 7.101)):
        size = change.sem_from_reliability(sd, found[f"WEIR_{form}"])
        assert size == pytest.approx(expected, abs=5e-4)
    assert found["WEIR_ICC(2,1)_lo"] == pytest.approx(0.786959, abs=5.1e-7)
    assert found["WEIR_ICC(2,1)_hi"] == pytest.approx(0.989637, abs=5.1e-7)


@pytest.mark.published
def test_jacobson_and_truax_1991(found: dict[str, float]) -> None:
    """J Consult Clin Psychol 59:12."""
    assert round(found["JT_S_diff"], 2) == 4.74
    assert round(found["JT_RC(47.5->32.5)"], 2) == 3.16


@pytest.mark.derived
def test_a_reliable_change_is_one_beyond_the_smallest_change() -> None:
    size = change.sem_from_reliability(7.5, 0.80)
    needed = change.smallest_change(size)
    assert needed == pytest.approx(9.297096, abs=5.1e-7)
    assert change.reliable_change(0, needed, size) == pytest.approx(1.96)


@pytest.mark.derived
def test_mixed_items_look_like_agreement_and_are_not(found: dict[str, float]) -> None:
    """Each item is wrong by 1.2 to 2.1 of its errors, and ICC over all of them is .99."""
    table = numbers("mixed_items_icc_trap.csv")
    apart = np.array([change.reliable_change(*line[:3]) for line in table.tolist()])
    assert np.abs(apart).min() > 1.2
    assert found["MIX_icc"] > 0.99
    assert apart.tolist() == pytest.approx(table[:, 3].tolist(), abs=5.1e-5)
    assert apart.mean() == pytest.approx(1.026, abs=5e-4)
    assert (np.abs(apart) > 1.96).sum() == 3
    assert (apart**2).sum() == pytest.approx(38.96, abs=5e-3)
