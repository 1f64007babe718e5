"""Look-ups in one examination."""

from datetime import date
from decimal import Decimal

import pytest

from footexam.record.examination import Age
from footexam.record.reading import Numbers, Reading, Sites
from footexam.scoring.visit import Visit, mean, person, word
from footexam.terms import Absence, Sex
from tests.published.cases import forms
from tests.scoring.builders import LEFT, RIGHT, examination, measure, reading, text


def visit(readings: dict, **options: object) -> Visit:
    names = {name for name, _ in readings}
    measures = {name: measure(name, best=name == "hold") for name in names}
    return Visit(examination(readings, **options), measures, frozenset({"angle"}))


def test_mean_and_best_of_repeats() -> None:
    assert mean((Decimal("9.0"),)) == Decimal("9.0")
    assert mean((Decimal(9), Decimal(10), Decimal(8))) == 9
    assert mean((Decimal(1), Decimal(2)), best=True) == 2
    seen = visit({("hold", LEFT): (10, 12, 11), ("lunge", LEFT): (10, 12, 11)})
    assert seen.number("hold", LEFT) == 12
    assert seen.number("lunge", LEFT) == 11
    assert seen.repeats("lunge", LEFT) == 3
    assert seen.repeats("lunge", RIGHT) == 0


def test_an_answer_without_a_side_counts_for_both_sides() -> None:
    seen = visit({("vein", None): "yes", ("cancer", None): "no"})
    assert seen.word("vein", LEFT) == seen.word("vein", RIGHT) == "yes"
    assert seen.word("cancer") == "no"


def test_a_rule_of_words_is_no_figure() -> None:
    seen = Visit(examination({}), forms().measures)
    assert seen.figure("ankle-pattern", "restricted") == 5  # DiGiovanni et al. 2002
    assert "sacrum" in seen.rule("reds-primary-indicators", "high-risk-bones").words
    with pytest.raises(KeyError, match="the rule high-risk-bones of reds-primary-indicators is"):
        seen.figure("reds-primary-indicators", "high-risk-bones")


def test_absent_and_not_recorded_have_no_value() -> None:
    absent = Reading("lunge", LEFT, None, absent=Absence.DECLINED)
    seen = visit({("lunge", LEFT): absent, ("word", LEFT): "yes"})
    assert seen.reading("lunge", LEFT) is absent
    assert seen.number("lunge", LEFT) is None
    assert seen.value("lunge", RIGHT) is None
    assert seen.reading("nothing") is None
    assert seen.text("word", LEFT) is None
    assert visit({("why", LEFT): text("a sprain")}).text("why", LEFT) == "a sprain"


def test_words() -> None:
    assert word(Sites("yes", ("hallux",))) == "yes"
    assert word(Numbers((Decimal(1),))) is None
    assert word(None) is None


def test_method_of_a_reading_or_of_its_question() -> None:
    seen = visit(
        {
            ("angle", LEFT): reading("angle", LEFT, 20, "picture"),
            ("angle", RIGHT): 21,
            ("angle-method", None): "radiograph",
            ("other", LEFT): 3,
            ("other-method", None): "radiograph",
        }
    )
    assert seen.method("angle", LEFT) == "picture"
    assert seen.method("angle", RIGHT) == "radiograph"
    assert seen.method("other", LEFT) is None
    assert seen.method("nothing", LEFT) is None


def test_a_method_is_shared_only_if_all_have_it() -> None:
    seen = visit(
        {
            ("a", LEFT): reading("a", LEFT, 1, "tape"),
            ("b", LEFT): reading("b", LEFT, 1, "tape"),
            ("c", LEFT): 1,
        }
    )
    assert seen.shared_method(("a", "b"), LEFT) == "tape"
    assert seen.shared_method(("a", "c"), LEFT) is None
    assert seen.shared_method((), LEFT) is None


@pytest.mark.parametrize(
    ("born", "age", "minor"),
    [
        ("1979-08-30", Age(46, 558), False),
        ("2012-03-05", Age(13, 167), True),
        ("1979-08", None, False),
        ("2012", None, True),
        (None, None, False),
    ],
)
def test_person(born: str | None, age: Age | None, minor: bool) -> None:
    seen = examination({("puberty", None): "before"}, born=born, years=None, sex=Sex.MALE)
    found = person(seen, ("puberty", "other"))
    assert (found.sex, found.age, found.minor) == (Sex.MALE, age, minor)
    assert found.answers == (("puberty", "before"), ("other", None))


def test_born_on_29_february_turns_a_year_older_on_1_march() -> None:
    for day, years in ((date(2026, 2, 28), 17), (date(2026, 3, 1), 18)):
        seen = examination({}, born="2008-02-29", on=day)
        assert person(seen).age == Age(years, years * 12 + (11 if years == 17 else 0))
