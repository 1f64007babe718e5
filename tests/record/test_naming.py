"""Names as they are listed: capitals never change a letter."""

import pytest

from footexam.record.naming import listed_name


@pytest.mark.parametrize(
    ("family", "given", "title", "listed"),
    [
        ("Nguyễn", "Lan", "", "NGUYỄN, Lan"),
        ("Łódzki", "Paweł", "Dr", "ŁÓDZKI, Paweł (Dr)"),
        ("Größl", "Anna", "", "Größl, Anna"),
        ("Ağaoğlu", "Yiğit", "", "Ağaoğlu, Yiğit"),
        ("Γιου", "", "", "ΓΙΟΥ"),
        ("", "Ana", "Ms", "Ana (Ms)"),
        ("", "", "Ms", ""),
    ],
)
def test_family_names_stand_in_capitals_where_that_keeps_their_letters(
    family: str, given: str, title: str, listed: str
) -> None:
    assert listed_name(family, given, title) == listed
