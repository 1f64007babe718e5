"""Rubrics as shipped, and every mistake that a practice's own rubric can hold."""

import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.marking import BEST, Seen, Standard
from footexam.catalogue.mistakes import BadForms
from footexam.catalogue.model import Catalogue
from footexam.resources import forms_dir

FILE = "marking/2-measuring-station.toml"


@pytest.fixture
def forms(tmp_path: Path) -> Path:
    return Path(shutil.copytree(forms_dir(), tmp_path / "forms"))


def test_the_shipped_rubrics(catalogue: Catalogue) -> None:
    whole, station, reasoning = catalogue.rubrics.values()
    assert (reasoning.standard, reasoning.points) == (Standard.ANGOFF, 40)
    assert [domain.weight for domain in whole.domains] == [10, 10, 10, 20, 15, 15, 10, 5, 5]
    assert (whole.points, station.points) == (100, 50)
    assert all(len(d.anchors) == BEST + 1 for r in (whole, station) for d in r.domains)
    assert whole.standard is Standard.BORDERLINE
    assert {one.seen for one in whole.critical} == {None, *Seen}
    assert [grade.at for grade in whole.grades] == [0, 1, 2, 3, 4]
    assert [one.moderation.points for one in (whole, station) if one.moderation] == [10, 5]
    assert station.pass_share == Decimal("0.6")
    assert {one.measure for one in whole.limits} == {"body-height", "body-mass", "foot-length"}


def test_the_cache_gives_the_same_rubrics(tmp_path: Path, catalogue: Catalogue) -> None:
    load_catalogue(cache_dir=tmp_path)
    again = load_catalogue(cache_dir=tmp_path)
    assert dict(again.rubrics) == dict(catalogue.rubrics)


def test_a_rubric_may_do_without_limits_of_moderation(forms: Path) -> None:
    text = (forms / FILE).read_text(encoding="utf-8")
    (forms / FILE).write_text(text.partition("[rubric.moderation]")[0], encoding="utf-8")
    assert load_catalogue(forms).rubrics["measuring-station"].moderation is None


def test_a_practice_adds_its_own_by_adding_a_file(forms: Path) -> None:
    own = (
        (forms / FILE)
        .read_text(encoding="utf-8")
        .replace('id = "measuring-station"', 'id = "our-station"')
    )
    (forms / "marking" / "9-ours.toml").write_text(own, encoding="utf-8")
    assert "our-station" in load_catalogue(forms).rubrics


WRONG = [
    ("weight = 15", "weight = 14", "the weights of the domains add up to"),
    ("weight = 5\n", "weight = 0\n", "a weight is above 0"),
    ("mark = 4\n", "mark = 3\n", "the marks of the anchors do not count up"),
    ('borderline = "borderline"', 'borderline = "nearly"', "is not a global grade"),
    ("at = 4", "at = 3", "the global grades do not rise"),
    ("pass_share = 0.6\n", "", "a share that passes belongs to the fixed standard"),
    ('standard = "fixed"', 'standard = "angoff"', "a share that passes belongs"),
    ("pass_share = 0.6", "pass_share = 1.6", "a share lies between 0 and 1"),
    ("standard_errors = 0", "standard_errors = 2", "none or one standard error"),
    ('measure = "body-mass"', 'measure = "body-weight"', "body-weight"),
    ("at = 3\nsource", "at = 0\nsource", "a limit is above 0"),
    ('panels = ["cautions"]', 'panels = ["warnings"]', "warnings"),
    ('id = "no-consent"', 'id = "missed-danger"', "two of them have one id"),
    ('seen = "wrong-side"', 'seen = "tired"', "is not known for “seen”"),
    ("points = 50", "points = 50\nbonus = 3", "the key “bonus” is not known"),
    ("level_limit = 1\n", "", "“level_limit” is missing"),
    ("points = 5\n", "points = 50\n", "two markers may lie from 0 to all points apart"),
    ("points = 5\n", "points = -1\n", "two markers may lie from 0 to all points apart"),
    ("grades = 1\n", "", "“grades” is missing"),
]


@pytest.mark.parametrize(("right", "wrong", "told"), WRONG)
def test_a_mistake_is_told_with_file_and_line(
    forms: Path, right: str, wrong: str, told: str
) -> None:
    file = forms / FILE
    text = file.read_text(encoding="utf-8")
    assert right in text
    file.write_text(text.replace(right, wrong, 1), encoding="utf-8")
    with pytest.raises(BadForms) as bad:
        load_catalogue(forms)
    assert any(told in str(one) and one.file == FILE for one in bad.value.mistakes)


def test_a_domain_without_every_anchor_is_refused(forms: Path) -> None:
    file = forms / FILE
    head, anchor, tail = file.read_text(encoding="utf-8").partition(
        "[[rubric.domain.anchor]]\nmark = 4\n"
    )
    assert anchor
    file.write_text(head + tail.partition("\n\n")[2], encoding="utf-8")
    with pytest.raises(BadForms, match="does not say what each mark means"):
        load_catalogue(forms)
