"""What is meant by what is typed into the search."""

import pytest

from footexam.store.search import Token, meanings

BORN = ("@1979-08-30",)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("", []),
        (" -- ", []),
        ("Smith", [(("smith",),)]),
        ("Smith-Jones, Anna", [(("smith",), ("jones",), ("anna",))]),
        ("Müller", [(("muller", "mueller"),)]),
        ("FT-00123", [(("#ft00123", "ft00123"),)]),
        ("00123", [(("#00123", "#123", "00123"),)]),
        ("000", [(("#000", "000"),)]),
        ("1979", [(("#1979", "@1979", "1979"),)]),
        ("1779", [(("#1779", "1779"),)]),
        ("30081979", [(("#30081979", "@1979-08-30", "30081979"),)]),
    ],
)
def test_one_meaning(typed: str, meant: list[tuple[Token, ...]]) -> None:
    assert meanings(typed) == meant


def test_a_date_is_tried_as_a_date_first() -> None:
    assert meanings("Smi 30.8.1979") == [
        (BORN, ("smi",)),
        (("smi",), ("#3081979", "3081979")),
    ]


def test_digits_with_blanks_are_tried_as_one_number_first() -> None:
    assert meanings("943 476") == [(("#943476", "943476"),), (("#943", "943"), ("#476", "476"))]


def test_an_iso_date_may_be_a_number_in_the_end() -> None:
    assert meanings("1979-08-30") == [(BORN,), (("#19790830", "@1979-08-30", "19790830"),)]
