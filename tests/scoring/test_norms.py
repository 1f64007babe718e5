"""Which norm groups fit a person, a side and a method, and which judges."""

from decimal import Decimal

import pytest

from footexam.catalogue.model import NormGroup, NormSet
from footexam.record.examination import Age
from footexam.scoring.norms import fitted
from footexam.scoring.visit import Person
from footexam.terms import Sex, Side
from tests.scoring.builders import LEFT, RIGHT, group, measure, norms

M = measure("m")


def who(
    years: int | None = 40,
    sex: Sex = Sex.FEMALE,
    *,
    minor: bool = False,
    months: int = 0,
    **answers: str,
) -> Person:
    age = None if years is None else Age(years, years * 12 + months)
    return Person(sex, age, minor, tuple(answers.items()))


def found(
    *sets: NormSet, person: Person, side: Side | None = RIGHT, method: str | None = None
) -> list[tuple[str, bool]]:
    return [(fit.group.id, fit.judges) for fit in fitted(M, sets, person, side, method)]


def one(*groups: NormGroup, **options: object) -> NormSet:
    return norms("one", "m", *groups, **options)


def test_ages_are_completed_years_both_included() -> None:
    sets = one(group("child", ages=(6, 11)), group("adult"))
    assert found(sets, person=who(5)) == []
    assert found(sets, person=who(6)) == [("child", True)]
    assert found(sets, person=who(11)) == [("child", True)]
    assert found(sets, person=who(12)) == []
    # without ages from 18 on
    assert found(sets, person=who(17)) == []
    assert found(sets, person=who(18)) == [("adult", True)]


def test_unknown_age_leaves_norms_without_ages_unless_certainly_a_minor() -> None:
    sets = one(group("child", ages=(6, 11)), group("adult"))
    assert found(sets, person=who(None)) == [("adult", True)]
    assert found(sets, person=who(None, minor=True)) == []


def test_sides() -> None:
    sets = one(group("l", side=LEFT), group("r", side=RIGHT))
    assert found(sets, person=who(), side=LEFT) == [("l", True)]
    assert found(sets, person=who(), side=RIGHT) == [("r", True)]
    assert found(sets, person=who(), side=None) == []


def test_sex_and_what_is_pooled() -> None:
    sexed = one(group("f", sex=Sex.FEMALE), group("m", sex=Sex.MALE))
    assert found(sexed, person=who(sex=Sex.MALE)) == [("m", True)]
    assert found(sexed, person=who(sex=Sex.OTHER)) == [("f", False), ("m", False)]
    assert found(sexed, person=who(sex=Sex.UNKNOWN)) == [("f", False), ("m", False)]
    pooled = one(group("f", sex=Sex.FEMALE), group("m", sex=Sex.MALE), group("all", default=False))
    assert found(pooled, person=who()) == [("f", True), ("all", False)]
    assert found(pooled, person=who(sex=Sex.OTHER)) == [("f", False), ("m", False), ("all", True)]


def test_the_default_pooled_group_goes_first_for_other_sexes() -> None:
    sets = one(group("a", default=False), group("b"))
    assert found(sets, person=who(sex=Sex.OTHER)) == [("a", False), ("b", True)]


def test_the_particular_goes_before_the_pooled() -> None:
    sets = one(group("all"), group("f", sex=Sex.FEMALE), group("right", side=RIGHT))
    assert found(sets, person=who(), side=LEFT) == [("all", False), ("f", True)]
    assert dict(found(sets, person=who(), side=RIGHT))["right"] is True


def test_a_norm_belongs_to_its_method() -> None:
    film = norms("film", "m", group("film"), methods=("radiograph",))
    assert found(film, person=who()) == []
    assert found(film, person=who(), method="goniometer") == []
    assert found(film, person=who(), method="radiograph") == [("film", True)]
    # for any method, stated or not; the method's own set goes first
    either = norms("either", "m", group("either"))
    assert found(either, film, person=who(), method="radiograph") == [
        ("either", False),
        ("film", True),
    ]
    assert found(either, film, person=who(), method="goniometer") == [("either", True)]


def test_sets_that_never_judge_are_shown() -> None:
    beside = norms("beside", "m", group("beside"), judged=False)
    assert found(beside, person=who()) == [("beside", False)]
    assert found(beside, person=who(sex=Sex.OTHER)) == [("beside", False)]
    assert found(one(group("other", default=False)), person=who()) == [("other", False)]


def test_groups_that_need_an_answer() -> None:
    needs = {"puberty": ("started", "after")}
    sets = one(
        group("before", ages=(5, 17), needs={"puberty": ("before",)}),
        group("after", ages=(5, 17), needs=needs),
    )
    assert found(sets, person=who(12, puberty="started")) == [("after", True)]
    assert found(sets, person=who(12, puberty="before")) == [("before", True)]
    assert found(sets, person=who(12, puberty="not-stated")) == []
    assert found(sets, person=who(12)) == []


CHAIN = one(
    group("young", ages=(4, 5), mean=10, sd=2),
    group("middle", ages=(6, 15), mean=20, sd=4),
    group("old", ages=(16, 16), mean=25, sd=5),
    group("other-sex", sex=Sex.MALE, default=False, ages=(6, 15), mean=99, sd=9),
    interpolate=True,
)


@pytest.mark.parametrize(
    ("years", "months", "mean", "sd"),
    [
        (4, 0, 10, 2),  # before the first midpoint: nothing is extrapolated
        (5, 0, 10, 2),  # the midpoint of [4, 6)
        (8, 0, 15, 3),  # half way from 5 to 11
        (11, 0, 20, 4),
        (13, 9, 22.5, 4.5),  # half way from 11 to 16.5
        (16, 6, 25, 5),
        (16, 11, 25, 5),
    ],
)
def test_interpolation_between_midpoints(years: int, months: int, mean: float, sd: float) -> None:
    fits = fitted(M, (CHAIN,), who(years, months=months), RIGHT, None)
    assert [(fit.mean, fit.sd) for fit in fits] == [(pytest.approx(mean), pytest.approx(sd))]
    assert float(fits[0].scale.low[0].cut) == pytest.approx(mean - 1.96 * sd)


def test_interpolation_stays_inside_the_ages() -> None:
    assert fitted(M, (CHAIN,), who(3), RIGHT, None) == ()
    assert fitted(M, (CHAIN,), who(17), RIGHT, None) == ()


def test_a_set_that_interpolates_leaves_a_group_without_ages_alone() -> None:
    sets = one(group("adult", mean=1, sd=1), interpolate=True)
    assert fitted(M, (sets,), who(40), RIGHT, None)[0].mean == 1.0


def test_a_mean_without_sd_is_shown_and_judges_nothing() -> None:
    fits = fitted(M, (one(group(mean=4)),), who(), RIGHT, None)
    assert (fits[0].mean, fits[0].sd) == (4.0, None)
    assert (fits[0].scale.low, fits[0].scale.high) == ((), ())
    assert fits[0].group.mean == Decimal(4)
