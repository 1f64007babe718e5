"""The chart of a training load: lengths, gaps, words, and no colour of risk."""

import pytest

from footexam.drawing.load_chart import WIDTH, Bar, Heads, load_chart
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing, Line, Rect, Text
from footexam.reports.fonts import Typeset
from footexam.resources import assets_dir
from tests.reports.pages import figure_box, text_box

HEADS = Heads("7 days to", "minutes × effort", "against the 7 days before")
BARS = [
    Bar("02-Feb-2026", 1000.0, "1000"),
    Bar("09-Feb-2026", 2000.0, "2000", "100 % more"),
    Bar("16-Feb-2026", None, "2 weeks not recorded"),
    Bar("02-Mar-2026", 0.0, "0"),
    Bar("09-Mar-2026", 500.0, "500 in part", whole=False),
]


def drawn(*bars: Bar) -> Drawing:
    return load_chart(bars or BARS, HEADS)


def rects(drawing: Drawing) -> list[Rect]:
    return [shape for shape in drawing.shapes if isinstance(shape, Rect)]


def lines(drawing: Drawing) -> list[Line]:
    return [shape for shape in drawing.shapes if isinstance(shape, Line)]


def test_a_bar_is_as_long_as_its_load_and_all_begin_at_one_line() -> None:
    first, second, part = rects(drawn())
    assert second.width == pytest.approx(2 * first.width) == pytest.approx(4 * part.width)
    assert first.x == second.x == part.x == lines(drawn())[0].x1


def test_everything_is_said_in_words_in_the_order_of_the_weeks() -> None:
    said = [shape.text for shape in drawn().shapes if isinstance(shape, Text)]
    assert said[:3] == [HEADS.day, HEADS.load, HEADS.change]
    words = [one for bar in BARS for one in (bar.day, bar.told, bar.change) if one]
    assert said[3:] == words
    assert HEADS.change not in [
        shape.text
        for shape in load_chart(BARS, Heads("Week from", "km")).shapes
        if isinstance(shape, Text)
    ]


def test_a_week_of_rest_stands_on_the_line_and_one_that_is_not_recorded_breaks_it() -> None:
    drawing = drawn()
    above, below = lines(drawing)
    row = (above.y2 - above.y1) / 2
    assert below.y1 - above.y2 == pytest.approx(row)  # one line of the chart is left out
    assert below.y2 - below.y1 == pytest.approx(2 * row)  # rest and the week in part
    (gap,) = (s for s in drawing.shapes if isinstance(s, Text) and s.text == BARS[2].told)
    assert gap.ink is Ink.MUTED
    assert above.y2 < gap.y < below.y1


def test_a_week_in_part_is_an_open_bar() -> None:
    *_, whole, part = rects(drawn())
    assert (whole.fill, whole.stroke) == (Ink.MUTED, None)
    assert (part.fill, part.stroke) == (None, Ink.MUTED)


def test_no_colour_of_risk_and_no_line_across_the_bars() -> None:
    steep = [Bar(f"day {n}", 10.0**n, "much", "900 % more") for n in range(6)]
    for drawing in (drawn(), drawn(*steep)):
        inks = {
            ink
            for shape in drawing.shapes
            for ink in (getattr(shape, name, None) for name in ("ink", "fill", "stroke"))
            if ink
        }
        assert inks <= {Ink.INK, Ink.MUTED}
        assert {rect.fill for rect in rects(drawing)} <= {Ink.MUTED, None}
        assert {line.x1 for line in lines(drawing)} == {rects(drawing)[0].x}


def test_weeks_of_nothing_but_rest_and_no_weeks_at_all() -> None:
    assert rects(drawn(Bar("02-Feb-2026", 0.0, "0"))) == []
    assert len(load_chart([], HEADS).shapes) == 3


def test_nothing_overlaps_or_leaves_the_drawing_even_with_large_numbers() -> None:
    typeset = Typeset(assets_dir() / "fonts")
    large = [
        Bar("30-Sep-2026", 100_800.0, "100800", "99999 % more"),
        Bar("07-Oct-2026", 100_800.0, "100800 in part", whole=False),
        *BARS,
    ]
    drawing = load_chart(large, HEADS)
    texts = [text_box(shape, typeset) for shape in drawing.shapes if isinstance(shape, Text)]
    figures = [box for shape in drawing.shapes if (box := figure_box(shape))]
    assert len(texts) == 3 + 2 * len(large) + 2
    assert figures
    for place, box in enumerate(texts):
        assert box.left >= 0
        assert box.right <= WIDTH
        assert box.top >= -1
        assert box.bottom <= drawing.height + 1
        for other in (*texts[place + 1 :], *figures):
            assert not box.meets(other), (box, other)
