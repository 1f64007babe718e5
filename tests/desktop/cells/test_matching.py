"""Letters find the places and words that they can mean, and nothing else."""

import pytest

from footexam.catalogue.model import Catalogue
from footexam.desktop.cells.matching import complete, match_places

LAYERS = (("skin", "skin"), ("fat", "fat"), ("tendon", "tendon"), ("bone", "bone"))


def found(catalogue: Catalogue, text: str) -> list[str]:
    return match_places(text, catalogue.regions.values())


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("heel me", "heel-plantar-medial"),
        ("me heel", "heel-plantar-medial"),
        ("MEDIAL SES", "sesamoid-medial"),
        ("nav", "navicular"),
        ("insertion", "achilles-insertion"),
        ("met 2", "met-base-2"),
        ("toe 5", "toe-5"),
        ("below", "subfibular"),
    ],
)
def test_the_beginnings_of_words_find_a_place(catalogue: Catalogue, text: str, first: str) -> None:
    assert found(catalogue, text)[0] == first


def test_each_typed_word_needs_a_word_of_its_own(catalogue: Catalogue) -> None:
    assert found(catalogue, "heel heel") == []
    assert found(catalogue, "hallux joint") == ["hallux-interphalangeal", "hallux-joint-dorsal"]


def test_letters_inside_a_word_do_not_count(catalogue: Catalogue) -> None:
    assert found(catalogue, "eel") == []


def test_nothing_typed_finds_every_place_in_map_order(catalogue: Catalogue) -> None:
    assert found(catalogue, "  ") == list(catalogue.regions)


def test_every_place_is_first_by_its_whole_name(catalogue: Catalogue) -> None:
    for region in catalogue.regions.values():
        assert region.id in found(catalogue, region.label["en"])
        assert found(catalogue, region.id.replace("-", " "))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("f", "fat"),
        ("TEN", "tendon"),
        ("bone", "bone"),
        ("", ""),
        ("  ", ""),
        ("muscle", "muscle"),
        ("skinny", "skinny"),
    ],
)
def test_a_word_is_completed_only_where_it_is_meant(text: str, value: str) -> None:
    assert complete(text, LAYERS) == value


def test_letters_that_two_words_begin_with_stay_as_typed() -> None:
    assert complete("s", (("sand", "sand"), ("skin", "skin"))) == "s"


def test_a_word_that_begins_another_is_meant_when_it_is_whole() -> None:
    assert complete("toe", (("toe-5", "toe fifth"), ("toe", "toe"))) == "toe"
