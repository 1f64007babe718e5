"""From a finding to its mark: the edges that judged it, its place, its error."""

from decimal import Decimal

import pytest

from footexam.drawing.measured import error_of, mark_of, place_of, usual_of
from footexam.drawing.ruler import Place
from footexam.terms import Basis, Label
from tests.reports.builders import CATALOGUE, LEFT, finding


def test_whole_bands_have_their_edge_half_a_unit_outside() -> None:
    mark = mark_of(finding("navicular-height", LEFT, Decimal(30)), CATALOGUE)
    assert mark is not None
    assert (mark.low, mark.high) == (35.5, 55.5)


def test_ordinal_cuts_lie_half_a_point_outside() -> None:
    mark = mark_of(finding("fpi-total", LEFT, Decimal(9)), CATALOGUE)
    assert mark is not None
    assert (mark.low, mark.high) == (-0.5, 5.5)


def test_mean_and_sd_give_the_usual_range() -> None:
    mark = mark_of(finding("lunge-distance", LEFT, Decimal("6.4")), CATALOGUE)
    assert mark is not None
    assert (mark.low, mark.high) == (pytest.approx(6.512), pytest.approx(17.488))


def test_the_error_is_that_of_another_examiner_with_the_repeats_taken() -> None:
    # worked finding 3: SEM of another examiner 1.0963
    assert error_of(finding("fpi-total", LEFT, Decimal(7)), CATALOGUE) == pytest.approx(
        1.96 * 1.0963, rel=1e-4
    )
    # worked finding 2: three repeats, SEM 0.3958
    three = finding("lunge-distance", LEFT, Decimal(8), repeats=3)
    assert error_of(three, CATALOGUE) == pytest.approx(1.96 * 0.3958, rel=1e-3)


def test_a_propagated_error_comes_from_the_change_needed() -> None:
    derived = finding("body-mass-index", None, Decimal(22), change_needed=7.4479)
    assert error_of(derived, CATALOGUE) == pytest.approx(1.96 * 2.687, rel=1e-3)
    assert error_of(finding("body-mass-index", None, Decimal(22)), CATALOGUE) is None


@pytest.mark.parametrize(
    ("state", "label", "operator", "place"),
    [
        ("within", Label.WITHIN, "<", Place.WITHIN),
        ("below", Label.REPEAT, "<", Place.BELOW),
        ("highly-pronated", Label.LIKELY, ">=", Place.ABOVE),
        ("above", Label.POSSIBLE, ">", Place.ABOVE),
        (None, Label.NOT_JUDGED, None, Place.NOT_JUDGED),
    ],
)
def test_the_place_follows_the_limit_crossed(
    state: str | None, label: Label, operator: str | None, place: Place
) -> None:
    found = finding(
        "fpi-total", LEFT, Decimal(3), state=state, label=label, operator=operator, basis=Basis.NORM
    )
    assert place_of(found) is place


@pytest.mark.parametrize(
    ("label", "uncertain"),
    [(Label.LIKELY, False), (Label.POSSIBLE, True), (Label.REPEAT, True), (Label.WITHIN, False)],
)
def test_only_what_is_doubtful_is_uncertain(label: Label, uncertain: bool) -> None:
    mark = mark_of(finding("fpi-total", LEFT, Decimal(9), label=label, state="pronated"), CATALOGUE)
    assert mark is not None
    assert mark.uncertain is uncertain


def test_a_word_has_no_mark_and_no_usual_range() -> None:
    found = finding("first-ray-position", LEFT, "plantarflexed", label=None)
    assert mark_of(found, CATALOGUE) is None
    assert place_of(found) is Place.NOT_JUDGED


def test_without_norms_nothing_is_usual() -> None:
    assert usual_of(finding("monofilament", LEFT, Decimal(3)), CATALOGUE) is None
