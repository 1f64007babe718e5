"""Printed without colour, below, above, within and uncertain are still told apart."""

from collections.abc import Sequence

import numpy as np
import pytest

from footexam.drawing.agreement_plot import Level, difference_plot
from footexam.drawing.axes import Axes
from footexam.drawing.palette import ON_PAPER, Ink
from footexam.drawing.ruler import Mark, Place, Scale, ruler
from footexam.drawing.shapes import Line
from footexam.reports.blocks import Picture
from footexam.reports.canvas import pdf_bytes
from footexam.reports.fonts import Typeset
from footexam.reports.sheet import PAPERS, Sheet
from footexam.resources import assets_dir
from tests.reports.pages import picture

SCALE = Scale(-10.0, 10.0)
WIDTH, HEIGHT = 100.0, 11.0
ZOOM = 6.0


def grey_marks(marks: Sequence[Mark]) -> list[np.ndarray]:
    """The rendered marks alone, all cut out around the middle of their rulers; 0 black, 1 white."""
    paper = PAPERS["A4"]
    sheet = Sheet(paper, Typeset(assets_dir() / "fonts"))
    tops = []
    for mark in marks:
        tops.append(sheet.y + 1.2)
        sheet.add([Picture(ruler(mark, SCALE, WIDTH, HEIGHT))])
    page = np.asarray(picture(pdf_bytes(sheet, "marks", "en"), scale=ZOOM), dtype=float) / 255
    middle, half = paper.margin + WIDTH / 2, 5.0
    return [
        page[
            round(top * ZOOM) : round((top + HEIGHT) * ZOOM),
            round((middle - half) * ZOOM) : round((middle + half) * ZOOM),
        ]
        for top in tops
    ]


def mark(place: Place, *, uncertain: bool = False) -> Mark:
    return Mark(0.0, place=place, uncertain=uncertain)


BELOW, ABOVE, BELOW_MAYBE, ABOVE_MAYBE, WITHIN, BARE = grey_marks(
    [
        mark(Place.BELOW),
        mark(Place.ABOVE),
        mark(Place.BELOW, uncertain=True),
        mark(Place.ABOVE, uncertain=True),
        mark(Place.WITHIN),
        mark(Place.NOT_JUDGED),
    ]
)


def weight(image: np.ndarray) -> tuple[float, float]:
    """Ink in the left and in the right half."""
    half = image.shape[1] // 2
    return float((1 - image[:, :half]).sum()), float((1 - image[:, half:]).sum())


def test_below_has_its_body_right_of_its_tip_and_above_the_other_way() -> None:
    left, right = weight(BELOW)
    assert right > 1.5 * left
    left, right = weight(ABOVE)
    assert left > 1.5 * right


@pytest.mark.parametrize(("sure", "maybe"), [(BELOW, BELOW_MAYBE), (ABOVE, ABOVE_MAYBE)])
def test_an_uncertain_mark_is_much_lighter_inside(sure: np.ndarray, maybe: np.ndarray) -> None:
    assert (1 - maybe).sum() < 0.8 * (1 - sure).sum()


def test_an_uncertain_mark_still_points() -> None:
    left, right = weight(BELOW_MAYBE)
    assert right > 1.3 * left
    left, right = weight(ABOVE_MAYBE)
    assert left > 1.3 * right


def test_all_six_differ_in_greys() -> None:
    images = [BELOW, ABOVE, BELOW_MAYBE, ABOVE_MAYBE, WITHIN, BARE]
    for place, one in enumerate(images):
        for other in images[place + 1 :]:
            assert np.abs(one - other).sum() > 0.1 * (1 - one).sum()


def test_the_lines_of_a_plot_are_told_apart_without_colour() -> None:
    """The mean is whole and the limits are dashed; no dot hides in the line of its mean."""
    paper = PAPERS["A4"]
    sheet = Sheet(paper, Typeset(assets_dir() / "fonts"))
    levels = [Level(0.0, "bias", -1.0, 1.0), Level(5.0, "upper"), Level(-5.0, "lower")]
    points = [(1.0, -6.0), (9.0, 6.0)]
    axes, widths = Axes("x", "y"), sheet.typeset.width
    drawing = difference_plot(points, levels, axes, widths)
    top = sheet.y + 1.2
    sheet.add([Picture(drawing)])
    page = np.asarray(picture(pdf_bytes(sheet, "plot", "en"), scale=ZOOM), dtype=float) / 255
    ends = {
        name: next(s for s in drawing.shapes if isinstance(s, Line) and s.width == width)
        for name, width in (("bias", 1.1), ("limit", 0.9))
    }
    shares = {}
    for name, line in ends.items():
        row = page[round((top + line.y1) * ZOOM)]
        left, right = paper.margin + 60.0, paper.margin + 200.0
        shares[name] = float((row[round(left * ZOOM) : round(right * ZOOM)] < 0.6).mean())
    assert shares["bias"] > 0.99
    assert 0.4 < shares["limit"] < 0.8


def luminance(colour: str) -> float:
    """Relative luminance by the WCAG formula."""
    channels = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("ink", [Ink.INK, Ink.MUTED, Ink.ACCENT, Ink.BELOW, Ink.ABOVE, Ink.CAUTION])
def test_what_is_read_has_contrast_on_white(ink: Ink) -> None:
    assert 1.05 / (luminance(ON_PAPER[ink]) + 0.05) >= 4.5
