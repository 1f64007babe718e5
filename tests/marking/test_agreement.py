"""The way in to agreement: tables of plain numbers, measure by measure."""

import numpy as np
import pytest

from footexam.marking import agreement, alpha, bland_altman, icc, kappa, sem
from footexam.marking.agreement import quantities, scales
from footexam.marking.change import Formula
from footexam.marking.estimate import Reason
from footexam.marking.fleiss import fleiss
from footexam.marking.tables import Rated, Table, arranged
from tests.marking.cohorts import SEED, readings

LEVELS = (-2, -1, 0, 1, 2)


def table(values: np.ndarray) -> Table:
    rows = tuple(tuple(None if np.isnan(x) else float(x) for x in line) for line in values.tolist())
    n, k = values.shape
    return Table(tuple(map(str, range(n))), tuple(map(str, range(k))), rows)


def scored(n: int, k: int = 2, gaps: float = 0.0) -> np.ndarray:
    rng = np.random.default_rng(SEED)
    true = rng.integers(-2, 3, (n, 1))
    found = np.clip(true + rng.choice([-1, 0, 0, 0, 1], (n, k)), -2, 2).astype(float)
    return np.where(rng.random((n, k)) < gaps, np.nan, found)


def test_readings_are_arranged_by_measure() -> None:
    found = arranged(
        [
            Rated("navicular-drop", "left", "ref", 7.0),
            Rated("navicular-drop", "left", "s1", 8.5),
            Rated("heel-angle", "left", "s1", 4.0),
            Rated("navicular-drop", "right", "s1", 6.0),
            Rated("navicular-drop", "right", "ref", None),
        ]
    )
    assert found["navicular-drop"] == Table(
        ("left", "right"), ("ref", "s1"), ((7.0, 8.5), (None, 6.0))
    )
    assert found["heel-angle"].rows == ((4.0,),)
    assert found["navicular-drop"].pair("s1", "ref").rows == ((8.5, 7.0), (6.0, None))
    with pytest.raises(ValueError, match="not both among the examiners"):
        found["heel-angle"].pair("s1", "ref")


def test_a_cell_is_read_once() -> None:
    with pytest.raises(ValueError, match="two readings of s1"):
        arranged([Rated("drop", "left", "s1", 7.0), Rated("drop", "left", "s1", 8.0)])


def test_quantities_are_those_of_each_table_alone() -> None:
    """Tables of several sizes at once, some with gaps, in the order they came."""
    values = {
        "long": readings(1, 40, 2)[0],
        "short": readings(1, 9, 2, bias=1)[0],
        "gaps": readings(1, 12, 2)[0],
        "three": readings(1, 9, 3)[0],
    }
    values["gaps"][4, 0] = np.nan
    found = quantities({key: table(value) for key, value in values.items()})
    assert list(found) == list(values)
    for key, value in values.items():
        one = found[key]
        for form, batch in icc.icc(value).items():
            same(one.icc[str(form)], batch.estimate())
        errors = sem.errors(value)
        for formula in (Formula.ERROR, Formula.AGREEMENT, Formula.WITHIN):
            same(one.sem[formula], errors.sem(formula).estimate())
            same(one.smallest_change[formula], errors.change(formula).estimate())
        same(one.alpha, alpha.alpha(value, alpha.Metric.INTERVAL).estimate())
        if value.shape[1] == 2:
            limits = bland_altman.limits(value[:, 0], value[:, 1])
            for name in ("bias", "sd", "lower", "upper", "slope"):
                same(getattr(one.limits, name), getattr(limits, name).estimate())
            assert one.limits.slope_chance == pytest.approx(float(limits.slope_chance))
    assert found["three"].limits is None
    assert found["gaps"].limits.bias.n == 11


def same(one: object, other: object) -> None:
    numbers = [(e.value, e.low, e.high) for e in (one, other)]
    assert numbers[0] == pytest.approx(numbers[1])
    assert (one.n, one.reason, one.method) == (other.n, other.reason, other.method)


def test_scales_are_those_of_each_table_alone() -> None:
    values = {"two": scored(30), "three": scored(30, 3), "gaps": scored(30, 2, gaps=0.2)}
    values["three"][4] = np.nan  # nobody rated it: left out, not a gap
    found = scales(
        {key: table(value) for key, value in values.items()}, dict.fromkeys(values, LEVELS)
    )
    assert list(found) == list(values)
    for key, value in values.items():
        for metric in (alpha.Metric.NOMINAL, alpha.Metric.ORDINAL):
            same(found[key].alpha[str(metric)], alpha.alpha(value, metric, LEVELS).estimate())
        if value.shape[1] == 2:
            counts = kappa.table(value[:, 0] + 2, value[:, 1] + 2, 5)
            for kind in kappa.Weights:
                same(found[key].kappa[str(kind)], kappa.kappa(counts, kind).estimate())
    assert found["three"].kappa == {}
    assert found["gaps"].fleiss is None
    among = (np.delete(values["three"], 4, axis=0)[..., None] == np.array(LEVELS)).sum(axis=-2)
    same(found["three"].fleiss, fleiss(among.astype(float)).kappa.estimate())
    assert found["gaps"].kappa["linear"].n < 30


def test_each_scale_has_its_own_levels_in_its_own_order() -> None:
    value = np.array([[0.0, 0], [3, 1], [1, 1], [3, 3], [0, 0], [1, 1]])
    tables = {"up": table(value), "turned": table(value)}
    found = scales(tables, {"up": (0, 1, 2, 3), "turned": (1, 0, 3)})
    up = kappa.kappa(kappa.table(value[:, 0], value[:, 1], 4), "linear").estimate()
    place = np.array([1.0, 0, np.nan, 2])[value.astype(int)]
    turned = kappa.kappa(kappa.table(place[:, 0], place[:, 1], 3), "linear").estimate()
    same(found["up"].kappa["linear"], up)
    same(found["turned"].kappa["linear"], turned)
    assert up.value != pytest.approx(turned.value)


def test_traps_are_named_not_numbered() -> None:
    """One rater who never varies, nobody who varies, one student only, nothing at all."""
    constant = np.column_stack([np.zeros(9), np.arange(9) % 5 - 2])
    tables = {
        "constant": table(constant),
        "flat": table(np.ones((9, 2))),
        "single": table(np.array([[1.0, 2]])),
        "none": Table((), ("ref", "s1"), ()),
    }
    levels = dict.fromkeys(tables, LEVELS)
    expected = {
        "constant": Reason.NO_VARIATION,
        "flat": Reason.NO_VARIATION,
        "single": Reason.TOO_FEW,
        "none": Reason.TOO_FEW,
    }
    numbers, ranks = quantities(tables), scales(tables, levels)
    for key, reason in expected.items():
        for one in (*numbers[key].icc.values(), *ranks[key].kappa.values()):
            assert (one.value, one.reason) == (None, reason)
            assert one.n == len(tables[key].rows)
            assert "not computable" in one.described()


def test_identical_ratings() -> None:
    value = np.repeat(np.arange(5.0)[:, None], 2, axis=1) - 2
    numbers, ranks = quantities({"x": table(value)}), scales({"x": table(value)}, {"x": LEVELS})
    one = numbers["x"].icc["ICC(2,1)"]
    assert (one.value, one.low, one.reason) == (1.0, None, Reason.IDENTICAL)
    assert numbers["x"].limits.slope_chance is None
    weighted = ranks["x"].kappa["quadratic"]
    assert (weighted.value, weighted.high) == (1.0, 1.0)
    assert weighted.low < 0.6


def test_refused_tables() -> None:
    alone = {"x": table(np.array([[1.0], [2.0]]))}
    for work in (lambda: quantities(alone), lambda: scales(alone, {"x": LEVELS})):
        with pytest.raises(ValueError, match="at least two"):
            work()
    for wrong in (7.0, 0.5):
        beyond = {"x": table(np.array([[1.0, 2], [wrong, 1]]))}
        with pytest.raises(ValueError, match="not in the list of levels"):
            scales(beyond, {"x": LEVELS})


def test_many_tables_are_worked_out_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    tables = {str(place): table(scored(10 + place % 5)) for place in range(30)}
    levels = dict.fromkeys(tables, LEVELS)
    whole = quantities(tables), scales(tables, levels)
    monkeypatch.setattr(agreement, "_AT_ONCE", 500)
    assert (quantities(tables), scales(tables, levels)) == whole
