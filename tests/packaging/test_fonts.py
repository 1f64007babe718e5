"""The shipped fonts: what they cover, whether a PDF can embed them, and their licences."""

import unicodedata
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parents[2] / "assets" / "fonts"
FIRST = ("AtkinsonHyperlegibleNext-Regular", "AtkinsonHyperlegibleNext-Bold")
SECOND = ("NotoSans-Regular", "NotoSans-Bold")
SIGNS = "NotoSansSymbols-Regular"
PAIRS = list(zip(FIRST, SECOND, strict=True))


def covered(*names: str) -> set[int]:
    """The code points that at least one of the named fonts has."""
    points: set[int] = set()
    for name in names:
        with TTFont(FONTS / f"{name}.ttf") as font:
            points |= set(font.getBestCmap())
    return points


def letters(first: int, last: int) -> set[int]:
    """The assigned characters of a block, both ends included, without control characters."""
    span = range(first, last + 1)
    return {point for point in span if unicodedata.category(chr(point)) not in {"Cn", "Cc"}}


BASIC_LATIN = letters(0x20, 0x7E)
LATIN_1 = letters(0xA0, 0xFF)
LATIN_EXTENDED_A = letters(0x100, 0x17F)
VIETNAMESE = letters(0x1EA0, 0x1EF9) | {ord(letter) for letter in "ƠơƯưĂăĐđĨĩŨũ₫"}
GREEK = letters(0x384, 0x3CE) | letters(0x1F00, 0x1FFE)
CYRILLIC = letters(0x400, 0x4FF)


@pytest.mark.parametrize("name", FIRST)
def test_the_first_family_has_all_that_western_european_text_needs(name: str) -> None:
    points = covered(name)
    assert len(BASIC_LATIN) == 95
    assert points >= BASIC_LATIN
    assert LATIN_1 - points == {0xAD, 0xB5}  # soft hyphen and micro sign
    assert points >= {ord(sign) for sign in "≤≥≠≈−±°½×–—‘’“”„…•"}


@pytest.mark.parametrize("name", FIRST)
def test_the_first_family_has_most_of_latin_extended_a(name: str) -> None:
    assert len(LATIN_EXTENDED_A) == 128
    assert len(LATIN_EXTENDED_A & covered(name)) == 93
    assert covered(name) >= {ord(letter) for letter in "ĄąĆćĘęŁłŃńŚśŹźŻżČčŘřŠšŽžŐőŰűĞğİıŞş"}


@pytest.mark.parametrize(("first", "second"), PAIRS)
@pytest.mark.parametrize(
    "block",
    [LATIN_1, LATIN_EXTENDED_A, VIETNAMESE, GREEK, CYRILLIC],
    ids=["latin-1", "latin-extended-a", "vietnamese", "greek", "cyrillic"],
)
def test_the_two_families_together_lose_no_letter(first: str, second: str, block: set[int]) -> None:
    assert block - covered(first, second) == set()


def test_the_third_family_has_arrows_and_the_signs_of_sex() -> None:
    assert covered(SIGNS) >= {ord(sign) for sign in "←↑→↓↔♀♂"}


@pytest.mark.parametrize("name", [*FIRST, *SECOND, SIGNS])
def test_each_font_can_be_embedded(name: str) -> None:
    with TTFont(FONTS / f"{name}.ttf") as font:
        assert "glyf" in font  # the PDF writer cannot embed CFF outlines
        assert "CFF " not in font
        assert "fvar" not in font  # a static font, not a variable one
        assert font["OS/2"].fsType == 0  # embedding is not restricted


@pytest.mark.parametrize("name", [*FIRST, *SECOND, SIGNS])
def test_each_family_has_its_licence_beside_it(name: str) -> None:
    licence = FONTS / f"{name.split('-', maxsplit=1)[0]}-OFL.txt"
    text = licence.read_text(encoding="utf-8")
    assert text.startswith("Copyright ")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text


def test_the_fonts_stay_small() -> None:
    assert sum(file.stat().st_size for file in FONTS.iterdir()) < 3_000_000
