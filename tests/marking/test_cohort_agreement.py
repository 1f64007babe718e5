"""Agreement of a cohort by measure: what is put together, what is kept apart, what is left out."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from footexam.marking import alpha, fleiss, icc, sem
from footexam.marking.cohort import Cohort, gather
from footexam.marking.cohort_agreement import Among, MeasureAgreement, agreed
from footexam.marking.compared import Sort
from footexam.marking.estimate import Reason
from footexam.marking.tables import Table, whole_part
from footexam.terms import Side
from tests.marking.build import CATALOGUE, compared, examination
from tests.marking.term import patient

FPI = "fpi-talar-head"
LUNGE = "lunge-distance"


def cohort(told: dict[tuple[str, int], dict[str, Any]], reference: dict[int, Any]) -> Cohort:
    """What each student read on each volunteer, and the reference of each."""
    from footexam.assessment import assess
    from footexam.marking.compare import compare

    rows = []
    for (name, volunteer), readings in told.items():
        who = {"patient": patient(volunteer)}
        one = examination(readings, "student", name, **who)
        other = examination(reference[volunteer], "reference", **who)
        rows.append(
            compare(one, assess(one, CATALOGUE), other, assess(other, CATALOGUE), CATALOGUE)
        )
    return gather(rows)


def measure(found: tuple[MeasureAgreement, ...], name: str) -> MeasureAgreement:
    return next(one for one in found if one.measure.id == name)


READ = {
    # volunteer: lunge left and right by A, B, C
    1: ((9.0, 6.0), (9.5, 6.5), (10.5, 7.0)),
    2: ((12.0, 8.0), (11.5, 8.5), (13.0, 9.5)),
    3: ((7.0, 4.0), (7.5, 4.5), (9.0, 5.0)),
    4: ((10.0, 5.5), (10.5, 5.0), (11.5, 6.5)),
}


def lunges() -> Cohort:
    told = {
        (f"Student {name}", volunteer): {LUNGE: {"left": row[at][0], "right": row[at][1]}}
        for volunteer, row in READ.items()
        for at, name in enumerate("ABC")
    }
    reference = {volunteer: {LUNGE: {"left": 10, "right": 6}} for volunteer in READ}
    return cohort(told, reference)


def test_each_side_is_an_analysis_of_its_own_over_volunteers() -> None:
    found = measure(agreed(lunges()), LUNGE)
    assert [one.side for one in found.among] == [Side.LEFT, Side.RIGHT]
    for place, one in enumerate(found.among):
        table = np.array([[pair[place] for pair in row] for row in READ.values()])
        assert (one.volunteers, one.students, one.gaps) == (4, 3, 0)
        expected = icc.icc(table)[icc.Form.AGREEMENT].estimate()
        assert one.icc is not None
        assert one.sem is not None
        assert (one.icc.value, one.icc.low, one.icc.n) == pytest.approx(
            (expected.value, expected.low, 4)
        )
        error = sem.errors(table).agreement.estimate()
        assert (one.sem.value, one.sem.high) == pytest.approx((error.value, error.high))
        assert one.alpha.value == pytest.approx(
            alpha.alpha(table, alpha.Metric.INTERVAL).estimate().value
        )
        assert (one.alpha.low, one.alpha.reason) == (None, Reason.FEW_UNITS)


def test_both_sides_stand_together_against_the_reference() -> None:
    found = measure(agreed(lunges()), LUNGE)
    one = found.reference
    assert (one.pairs, one.students, one.volunteers) == (24, 3, 4)
    told = [value for row in READ.values() for pair in row for value in pair]
    assert one.bias is not None
    assert one.bias.value == pytest.approx(np.mean(told) - 8)
    assert one.bias.n == 24
    assert found.spread is not None
    assert found.spread.n == 3
    assert (found.sort, one.kappa) == (Sort.NUMBER, None)


def test_a_missing_reading_costs_whoever_lacks_most() -> None:
    told = {
        (f"Student {name}", volunteer): {LUNGE: {"left": row[at][0]}}
        for volunteer, row in READ.items()
        for at, name in enumerate("ABC")
    }
    told["Student B", 3] = {"limp": {"left": "no"}}
    reference = {volunteer: {LUNGE: {"left": 10}, "limp": {"left": "no"}} for volunteer in READ}
    (one,) = measure(agreed(cohort(told, reference)), LUNGE).among
    table = np.array([[pair[0] for pair in row] for row in READ.values()])
    assert (one.volunteers, one.students, one.gaps) == (3, 3, 1)
    assert one.icc is not None
    expected = icc.icc(np.delete(table, 2, axis=0))[icc.Form.AGREEMENT].estimate()
    assert one.icc.value == pytest.approx(expected.value)
    table[2, 1] = np.nan
    assert one.alpha.value == pytest.approx(
        alpha.alpha(table, alpha.Metric.INTERVAL).estimate().value
    )


def scored(words: tuple[Any, ...], name: str) -> tuple[Among, MeasureAgreement]:
    """Eight volunteers, three students; the last reads one volunteer otherwise."""
    told = {
        (f"Student {student}", v): {name: {"left": words[(v + (student == "C" and v == 2)) % 3]}}
        for v in range(1, 9)
        for student in "ABC"
    }
    found = measure(
        agreed(cohort(told, {v: {name: {"left": words[v % 3]}} for v in range(1, 9)})), name
    )
    (among,) = found.among
    return among, found


def test_words_have_fleiss_kappa_and_alpha_and_no_icc() -> None:
    among, found = scored(("early", "usual", "late"), "heel-rise-timing")
    table = np.array([[v % 3, v % 3, (v + (v == 2)) % 3] for v in range(1, 9)], dtype=float)
    counts = (table[..., None] == np.arange(4)).sum(axis=-2).astype(float)
    assert among.fleiss is not None
    assert among.fleiss.value == pytest.approx(fleiss.fleiss(counts).kappa.estimate().value)
    assert among.alpha.value == pytest.approx(
        alpha.alpha(table, alpha.Metric.NOMINAL).estimate().value
    )
    assert (among.metric, among.icc, among.sem) == ("nominal", None, None)
    assert (found.sort, found.reference.bias, found.spread) == (Sort.WORD, None, None)
    assert found.reference.kappa is not None
    assert found.reference.kappa.n == 24


def test_levels_have_weighted_kappa_over_the_full_scale_and_ordinal_alpha() -> None:
    from footexam.marking.figures import kappa_of

    among, found = scored((-2, 0, 1), FPI)
    assert (among.metric, among.fleiss, found.sort) == ("ordinal", None, Sort.ORDINAL)
    levels = (-2, 0, 1)
    pairs = [
        (levels[(v + (name == "C" and v == 2)) % 3], levels[v % 3])
        for v in range(1, 9)
        for name in "ABC"
    ]
    assert found.reference.kappa is not None
    assert found.reference.kappa.value == pytest.approx(kappa_of(pairs, (-2, -1, 0, 1, 2)).value)


def test_yes_and_no_that_never_vary_are_said_to() -> None:
    told = {(f"Student {s}", v): {"limp": {"left": "no"}} for v in (1, 2, 3) for s in "AB"}
    found = measure(agreed(cohort(told, {v: {"limp": {"left": "no"}} for v in (1, 2, 3)})), "limp")
    (among,) = found.among
    for one in (among.alpha, among.fleiss, found.reference.kappa):
        assert one is not None
        assert (one.value, one.reason) == (None, Reason.NO_VARIATION)


def test_one_student_has_nobody_to_agree_with() -> None:
    told = {("Student A", v): {LUNGE: {"left": READ[v][0][0]}} for v in READ}
    found = measure(agreed(cohort(told, {v: {LUNGE: {"left": 10}} for v in READ})), LUNGE)
    assert found.among == ()
    assert (found.reference.students, found.reference.volunteers) == (1, 4)
    assert found.reference.bias is not None
    assert found.reference.bias.low is not None


def test_what_cannot_be_compared_is_left_out() -> None:
    """Several words, places, typed texts, an absence."""
    own: dict[str, Any] = {
        "activity-kind": ["cycling"],
        "impression": "A tendon.",
        "complaint-site": {"left": ["heel-plantar-medial"]},
        "limp": {"left": {"absent": "declined", "reason": "tired"}},
        LUNGE: {"left": 9},
    }
    reference = {**own, "limp": {"left": "no"}}
    found = agreed(cohort({("A", 1): own, ("B", 1): own}, {1: reference}))
    assert [one.measure.id for one in found] == [LUNGE]
    assert agreed(gather([])) == ()


def test_who_lacks_most_goes_first_until_nothing_lacks() -> None:
    rows = ((1.0, None, 3.0), (1.0, 2.0, None), (1.0, 2.0, None), (None, None, None))
    table = Table(("a", "b", "c", "d"), ("x", "y", "z"), rows)
    assert table.gaps == 6
    assert whole_part(table) == Table(("b", "c"), ("x", "y"), ((1.0, 2.0), (1.0, 2.0)))
    torn = Table(("a", "b"), ("x", "y"), ((1.0, None), (None, 2.0)))
    assert whole_part(torn) == Table((), ("x", "y"), ())
    assert whole_part(table.pair("x", "y")).rows == ((1.0, 2.0), (1.0, 2.0))


def test_a_mean_between_two_levels_and_two_methods_are_no_pair() -> None:
    readings = {FPI: {"left": 1, "right": 2}}
    one = compared(readings, readings)
    left, right = (one_item for one_item in one.items if one_item.measure.id == FPI)
    between = replace(left, student_value=Decimal("1.5"))
    found = measure(agreed(gather([replace(one, items=(between, right))])), FPI)
    assert found.reference.pairs == 1
    angle = "lunge-angle-knee-bent"
    methods = CATALOGUE.measures[angle].methods
    own, other = ({angle: {"left": {"value": 40, "method": m}}} for m in methods[:2])
    assert agreed(gather([compared(own, other)])) == ()
    assert measure(agreed(gather([compared(own, own)])), angle).reference.pairs == 1
