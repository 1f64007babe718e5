"""Text is broken at spaces, long words inside; every typed character is there, in order."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.reports.fonts import Typeset, clusters
from footexam.reports.text import Style, break_lines
from footexam.resources import assets_dir

PLAIN, BOLD = Style(9.0), Style(12.0, bold=True)


@pytest.fixture
def typeset() -> Typeset:
    return Typeset(assets_dir() / "fonts")


def lines_of(text: str, width: float, typeset: Typeset) -> list[str]:
    lines = break_lines([(text, PLAIN)], width, typeset)
    return ["".join(part for _, part, _ in line.stretches) for line in lines]


def test_a_short_text_is_one_line(typeset: Typeset) -> None:
    (line,) = break_lines([("Heel pain", PLAIN)], 200, typeset)
    assert line.stretches == ((0.0, "Heel pain", PLAIN),)
    assert line.height == PLAIN.leading


def test_lines_break_at_spaces(typeset: Typeset) -> None:
    lines = lines_of("one two three four five six seven", 50, typeset)
    assert len(lines) > 2
    assert [line.strip() for line in lines] == [line.rstrip() for line in lines]
    assert " ".join(line.strip() for line in lines) == "one two three four five six seven"


def test_a_word_longer_than_a_line_is_broken(typeset: Typeset) -> None:
    lines = lines_of("x" * 400, 100, typeset)
    assert "".join(lines) == "x" * 400
    assert all(typeset.width(line, PLAIN.size) <= 100 for line in lines)


def test_a_long_word_goes_on_after_a_short_one(typeset: Typeset) -> None:
    lines = lines_of("see " + "x" * 60, 100, typeset)
    assert "".join(lines).replace(" ", "") == "see" + "x" * 60


def test_markup_is_text(typeset: Typeset) -> None:
    hostile = "<b>&amp;</bogus> {x} %s"
    assert lines_of(hostile, 500, typeset) == [hostile]


def test_empty_text_keeps_its_height(typeset: Typeset) -> None:
    (line,) = break_lines([("", BOLD)], 100, typeset)
    assert line.stretches == ()
    assert line.height == BOLD.leading


def test_a_typed_line_end_stays(typeset: Typeset) -> None:
    assert lines_of("one\n\ntwo", 100, typeset) == ["one", "", "two"]


def test_spans_keep_their_style_and_the_line_the_greatest_height(typeset: Typeset) -> None:
    (line,) = break_lines([("Born ", PLAIN), ("14-Mar-1981", BOLD)], 300, typeset)
    assert [style for _, _, style in line.stretches] == [PLAIN, BOLD]
    assert line.height == BOLD.leading
    assert line.stretches[1][0] == pytest.approx(typeset.width("Born ", PLAIN.size))


@given(text=st.text("ab <&\u0301Łệ李", max_size=60), width=st.floats(20, 200))
def test_no_character_is_lost_and_no_line_too_long(text: str, width: float) -> None:
    typeset = Typeset(assets_dir() / "fonts")
    lines = break_lines([(text, PLAIN)], width, typeset)
    joined = "".join(part for line in lines for _, part, _ in line.stretches)
    assert joined.replace(" ", "") == typeset.shown(text).replace(" ", "")
    for line in lines:
        told = "".join(part for _, part, _ in line.stretches)
        # one letter with its marks, or blanks at the very end, may be wider than the line
        fits = typeset.width(told, PLAIN.size) <= width + 0.01
        assert fits or len(list(clusters(told))) == 1 or told.isspace() or line is lines[-1]


def test_a_no_break_space_holds_two_styles_together(typeset: Typeset) -> None:
    spans = [("Pronation: ", PLAIN), ("prolonged", BOLD), ("\u00a0[2];", PLAIN), (" more", PLAIN)]
    whole = typeset.width("Pronation: ", 9.0) + typeset.width("prolonged", 12.0, bold=True)
    lines = break_lines(spans, whole + 3, typeset)
    told = ["".join(part for _, part, _ in line.stretches) for line in lines]
    assert told == ["Pronation:", "prolonged\u00a0[2]; more"]


def test_what_is_tied_and_longer_than_a_line_is_still_broken(typeset: Typeset) -> None:
    spans = [("x" * 40, PLAIN), ("\u00a0" + "y" * 40, PLAIN)]
    lines = break_lines(spans, 60, typeset)
    assert "".join(part for line in lines for _, part, _ in line.stretches).count("x") == 40
    assert all(line.width <= 60 for line in lines)
