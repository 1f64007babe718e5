"""The drawing of an argument: for and against apart by place, sign and shape; nothing overlaps."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.drawing.argument import Chain, Heads, Point, argument_drawing
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Drawing, Line, Polygon, Rect, Shape, Text
from footexam.drawing.wrapped import wrapped

HEADS = Heads("For", "Against", "Struck", "Unknown", "Mechanism", "Tissue", "Counter")
LONG = "Ankle dorsiflexion with the knee straight is below the usual range by a good deal. "
CHAIN = Chain(
    heads=HEADS,
    statement=LONG * 2,
    supports=(
        Point(LONG, "Dorsiflexion: 4 deg, likely below · expert weight [2]", "+3", 3.0, 3.0),
        Point("Said alike.", "expert weight [2]", "+2 of 5", 2.0, 5.0, "These 2 count +4."),
        Point("Where it hurts.", "weighs nothing [2]", "needed"),
    ),
    opposes=(Point("It bends freely.", "30 deg, within · ratio 0.2 [4]", "−7", 7.0, 7.0),),
    struck=(Point("The squeeze was silent.", "numb there · expert weight [2]"),),
    unknown=("Lunge, knee bent", "Heel rise in walking", LONG, "Step width"),
    mechanism=LONG,
    tissue="metatarsal heads",
    counter=LONG * 3,
    total="For 7, against 7: 0 points",
    none_against="Nothing that was examined.",
)
WIDTHS = (220.0, 300.0, 379.0, 380.0, 499.0, 700.0)


def measure(text: str, size: float, bold: bool) -> float:
    """A type that is wider than most, so that what fits it fits."""
    return len(text) * size * (0.58 if bold else 0.54)


def drawn(width: float = 499.0, **changes: object) -> Drawing:
    return argument_drawing(replace(CHAIN, **changes), width, measure)


def texts(drawing: Drawing) -> list[Text]:
    return [shape for shape in drawing.shapes if isinstance(shape, Text)]


def said(drawing: Drawing) -> str:
    return " ".join(" ".join(text.text for text in texts(drawing)).split())


Extent = tuple[float, float, float, float]


def extent(shape: Shape) -> Extent:
    """Left, top, right, bottom."""
    match shape:
        case Text():
            width = measure(shape.text, shape.size, shape.bold)
            left = shape.x - (width if shape.anchor is Anchor.END else 0.0)
            return left, shape.y - 0.72 * shape.size, left + width, shape.y + 0.2 * shape.size
        case Line():
            xs, ys = sorted((shape.x1, shape.x2)), sorted((shape.y1, shape.y2))
            return xs[0], ys[0], xs[1], ys[1]
        case Rect():
            return shape.x, shape.y, shape.x + shape.width, shape.y + shape.height
        case Circle():
            r = shape.radius
            return shape.x - r, shape.y - r, shape.x + r, shape.y + r
        case Polygon():
            xs, ys = ([point[axis] for point in shape.points] for axis in (0, 1))
            return min(xs), min(ys), max(xs), max(ys)


def meet(one: Extent, other: Extent) -> bool:
    return (
        one[0] < other[2] - 0.1
        and other[0] < one[2] - 0.1
        and one[1] < other[3] - 0.1
        and other[1] < one[3] - 0.1
    )


def is_frame(shape: Shape) -> bool:
    return isinstance(shape, Rect) and shape.fill is None and shape.height > 10.0


@pytest.mark.parametrize("width", WIDTHS)
def test_no_text_meets_a_text_or_a_figure_and_nothing_leaves_the_width(width: float) -> None:
    drawing = drawn(width)
    figures = [s for s in drawing.shapes if not isinstance(s, Text) and not is_frame(s)]
    words = texts(drawing)
    for place, text in enumerate(words):
        for other in (*words[place + 1 :], *figures):
            assert not meet(extent(text), extent(other)), (text, other)
    for shape in drawing.shapes:
        left, top, right, bottom = extent(shape)
        assert left >= -0.6, shape
        assert right <= width + 0.6, shape
        assert top >= 0.0, shape
        assert bottom <= drawing.height, shape


def test_a_frame_holds_its_text() -> None:
    drawing = drawn()
    frames = [extent(shape) for shape in drawing.shapes if is_frame(shape)]
    assert len(frames) == 3
    for text in texts(drawing):
        left, top, right, bottom = extent(text)
        inside = [f for f in frames if meet(f, (left, top, right, bottom))]
        for frame in inside:
            assert frame[0] < left < right < frame[2] + 0.1
            assert frame[1] < top < bottom < frame[3]


def test_everything_is_said_in_its_order() -> None:
    told = said(drawn())
    order = [
        "For",
        LONG.strip(),
        "Said alike.",
        "These 2 count +4.",
        "Where it hurts.",
        "Against",
        "It bends freely.",
        "ratio 0.2 [4]",
        "For 7, against 7: 0 points",
        "Struck",
        "The squeeze was silent.",
        "Unknown",
        "Lunge, knee bent",
        "Step width",
        "Mechanism",
        "Tissue",
        "metatarsal heads",
        "Counter",
    ]
    place = 0
    for part in order:
        found = told.find(part, place)
        assert found >= 0, part
        place = found


@pytest.mark.parametrize("width", WIDTHS)
def test_everything_is_said_at_every_width(width: float) -> None:
    told = said(drawn(width))
    assert told.count(LONG.strip()) == 2 + 1 + 1 + 1 + 3
    for weight in ("+3", "+2 of 5", "needed", "−7"):
        assert weight in [text.text for text in texts(drawn(width))]
    for part in ("These 2 count +4.", "metatarsal heads", TOTAL, "Heel rise in walking"):
        assert part in told


def test_where_it_is_narrow_the_rows_for_it_lead_down_to_the_tissue_and_the_rest_follows() -> None:
    heads = {text.text: text.y for text in texts(drawn(300.0))}
    order = ["For", "Mechanism", "Tissue", "Against", TOTAL, "Counter", "Struck", "Unknown"]
    assert sorted(order, key=heads.__getitem__) == order


TOTAL = CHAIN.total


def rows(drawing: Drawing, kind: type, above: str, below: str) -> Sequence[Shape]:
    """The figures of a kind between two headings, in the left column."""
    heads = {text.text: text.y for text in texts(drawing)}
    found = (shape for shape in drawing.shapes if isinstance(shape, kind))
    return [s for s in found if heads[above] < extent(s)[1] < heads[below] and extent(s)[0] < 12.0]


def test_signs_differ_in_shape_by_what_the_rows_say() -> None:
    drawing = drawn()
    discs = rows(drawing, Circle, "For", "Against")
    assert len(discs) == 3
    assert all(isinstance(disc, Circle) and disc.fill is Ink.INK for disc in discs)
    assert not rows(drawing, Rect, "For", "Against")
    squares = rows(drawing, Rect, "Against", TOTAL)
    assert len(squares) == 1
    assert all(isinstance(one, Rect) and one.fill is Ink.SURFACE for one in squares)
    assert not rows(drawing, Circle, "Against", TOTAL)
    (crossed,) = rows(drawing, Rect, "Struck", "Unknown")
    inside = [s for s in drawing.shapes if isinstance(s, Line) and meet_line(s, crossed)]
    assert len(inside) == 2


def meet_line(line: Line, around: Shape) -> bool:
    left, top, right, bottom = extent(around)
    return all(
        left <= x <= right and top <= y <= bottom
        for x, y in ((line.x1, line.y1), (line.x2, line.y2))
    )


def test_what_was_not_examined_is_an_open_ring() -> None:
    drawing = drawn()
    rings = [
        s for s in drawing.shapes if isinstance(s, Circle) and s.fill is Ink.SURFACE and s.stroke
    ]
    assert len(rings) == len(CHAIN.unknown)


def bars(drawing: Drawing) -> list[Rect]:
    return [s for s in drawing.shapes if isinstance(s, Rect) and s.height == 6.4]


def axis(drawing: Drawing) -> float:
    """The longest upright line left of the boxes."""
    upright = (s for s in drawing.shapes if isinstance(s, Line) and s.x1 == s.x2)
    return max(upright, key=lambda line: line.y2 - line.y1).x1


def test_bars_for_lie_right_of_the_axis_and_filled_those_against_left_and_hatched() -> None:
    drawing = drawn()
    middle = axis(drawing)
    right = [bar for bar in bars(drawing) if bar.x >= middle]
    left = [bar for bar in bars(drawing) if bar.x < middle]
    assert len(right) == 2 + 2  # two rows that weigh, each filled and framed
    assert sum(bar.fill is Ink.INK for bar in right) == 2
    (framed,) = left
    assert framed.fill is None
    assert framed.x + framed.width == pytest.approx(middle)
    hatching = [
        s for s in drawing.shapes if isinstance(s, Line) and s.x1 != s.x2 and meet_line(s, framed)
    ]
    assert len(hatching) > 3


def test_an_unsure_row_fills_only_a_part_of_its_frame() -> None:
    drawing = drawn(supports=CHAIN.supports[1:2], opposes=())
    filled, frame = bars(drawing)
    assert filled.fill is Ink.INK
    assert filled.width == pytest.approx(0.4 * frame.width)


def test_a_row_that_weighs_nothing_has_no_bar_and_one_that_lost_all_an_empty_frame() -> None:
    assert not bars(drawn(supports=CHAIN.supports[2:], opposes=()))
    lost = replace(CHAIN.supports[0], points=0.0)
    (frame,) = bars(drawn(supports=(lost,), opposes=()))
    assert frame.fill is None


def test_bars_are_drawn_to_one_scale_and_end_at_the_most_a_row_weighs() -> None:
    one, five, huge = (
        bars(drawn(supports=(Point("It is so.", "", "+", points, points),), opposes=()))[0].width
        for points in (1.0, 5.0, 99.0)
    )
    assert five == pytest.approx(5 * one)
    assert huge == pytest.approx(10 * one)


def test_nothing_depends_on_a_colour() -> None:
    inks = set()
    for shape in drawn().shapes:
        for part in ("ink", "fill", "stroke"):
            inks.add(getattr(shape, part, None))
    assert inks - {None} == {Ink.INK, Ink.MUTED, Ink.SURFACE}


def test_counter_evidence_stands_beside_the_rows_and_under_them_where_it_is_narrow() -> None:
    def place(width: float) -> tuple[float, float, float]:
        drawing = drawn(width)
        counter = next(text for text in texts(drawing) if text.text == "Counter")
        total = next(text for text in texts(drawing) if text.text == TOTAL)
        return counter.x, counter.y, total.y

    x, y, total = place(499.0)
    assert x > 300
    assert y < total + 40.0
    x, y, total = place(300.0)
    assert x < 30
    assert y > total


def test_an_arrow_leads_from_the_rows_to_the_mechanism_and_from_there_to_the_tissue() -> None:
    drawing = drawn()
    heads = [shape for shape in drawing.shapes if isinstance(shape, Polygon)]
    words = {text.text: text for text in texts(drawing)}
    frames = [extent(shape) for shape in drawing.shapes if is_frame(shape)]
    mechanism = next(f for f in frames if f[1] < words["Mechanism"].y < f[3])
    tissue = next(f for f in frames if f[1] < words["Tissue"].y < f[3])
    across = next(one for one in heads if one.points[1][0] == one.points[2][0])
    down = next(one for one in heads if one.points[1][1] == one.points[2][1])
    assert 0 <= mechanism[0] - across.points[0][0] < 2.5
    assert mechanism[1] < across.points[0][1] < mechanism[3]
    assert 0 <= tissue[1] - down.points[0][1] < 3.0
    assert tissue[0] < down.points[0][0] < tissue[2]


def test_nothing_against_is_said() -> None:
    assert "Nothing that was examined." in said(drawn(opposes=()))
    assert "Nothing that was examined." not in said(drawn())


def test_without_more_there_is_no_heading_for_more() -> None:
    told = said(drawn(struck=(), unknown=()))
    assert "Struck" not in told
    assert "Unknown" not in told


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=60)


@given(st.lists(WORDS, max_size=8).map(" ".join), st.floats(20.0, 400.0), st.booleans())
def test_lines_fit_and_lose_nothing(text: str, width: float, bold: bool) -> None:
    lines = wrapped(text, 8.0, width, measure, bold=bold)
    assert "".join("".join(lines).split()) == "".join(text.split())
    for line in lines:
        assert measure(line, 8.0, bold) <= width or " " not in line
        assert line == line.strip(" ")


def test_a_long_word_is_broken_and_a_mark_stays_with_its_letter() -> None:
    lines = wrapped("a\u0301" * 9, 10.0, 24.0, measure)
    assert len(lines) > 1
    assert all(line.startswith("a") for line in lines)
    assert wrapped("", 10.0, 24.0, measure) == []


@given(st.sampled_from(WIDTHS), st.text(max_size=300))
def test_whatever_is_said_stays_within_the_width(width: float, text: str) -> None:
    point = Point(text, text, "+10", 10.0, 10.0, text)
    drawing = drawn(width, supports=(point,) * 2, struck=(point,), unknown=(text,), counter=text)
    for shape in drawing.shapes:
        left, _, right, bottom = extent(shape)
        assert left >= -0.6
        assert right <= width + 0.6 or len(getattr(shape, "text", "")) == 1
        assert bottom <= drawing.height
