"""The foot map on paper: where it hurts and where pressing hurts, both feet side by side."""

from collections.abc import Sequence

from footexam.drawing.foot_map import map_drawing
from footexam.drawing.outlines import VIEWS, view_names
from footexam.drawing.shapes import Drawing, joined, scaled
from footexam.record.reading import Reading, RegionValues, Words
from footexam.reports.blocks import (
    BODY,
    SMALL,
    Block,
    Cell,
    Heading,
    Picture,
    Row,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.material import SIDES, Material
from footexam.reports.values import value_lines
from footexam.reports.words import number_words

MEASURES = ("complaint-site", "tenderness")
"""What is drawn: the places of the complaint and those that are tender."""

WIDTHS = (0.2, 0.4, 0.4)
SIZE = 0.56
"""Of a map on paper against the map on the screen."""
LEAST_TEXT = 6.0
"""The smallest number on a map in points."""
ROOM = 188.0
"""Width in points for the views of one foot."""


def maps(material: Material) -> list[Block]:
    """A row for each measure with marks; only the views that hold some, for both feet the same."""
    rows = [row for measure in MEASURES if (row := _row(measure, material))]
    if not rows:
        return []
    phrases = material.phrases
    heads = header(*map(phrases, ("measure", "left", "right")))
    key = para(phrases("map-key"), style=SMALL)
    return [Heading(phrases("on-the-map")), Table(WIDTHS, tuple(rows), heads), key]


def _row(measure: str, material: Material) -> Row | None:
    """The maps of a measure; None where no place is marked."""
    readings = [material.reading(measure, side) for side in SIDES]
    marked = {place for reading in readings for place in _places(reading)}
    names = view_names()
    views = [view for view in VIEWS if any(names.get(place) == view for place in marked)]
    if not views:
        return None
    label = (para(material.label(measure), style=BODY),)
    return Row((label, *(_foot(measure, place, views, material) for place in range(2))))


def _foot(measure: str, place: int, views: Sequence[str], material: Material) -> Cell:
    """The views of one foot with its marks; an absence in words under them."""
    side = SIDES[place]
    reading = material.reading(measure, side)
    chosen: Sequence[str] = ()
    values: dict[str, str] = {}
    if reading is not None and isinstance(reading.value, Words):
        chosen = reading.value.words
    if reading is not None and isinstance(reading.value, RegionValues):
        values = {name: number_words(one) for name, one in reading.value.values.items()}
    drawings: list[Drawing] = [
        scaled(
            map_drawing(side, view, chosen, values, language=material.language), SIZE, LEAST_TEXT
        )
        for view in views
    ]
    told = []
    if reading is None:
        told = [material.phrases("no-entry")]
    elif reading.absent is not None:
        told = value_lines(reading, material)
    return (Picture(joined(drawings, ROOM)), *cell("; ".join(told), SMALL))


def _places(reading: Reading | None) -> Sequence[str]:
    """The places a reading marks."""
    if reading is None:
        return ()
    if isinstance(reading.value, Words):
        return reading.value.words
    return tuple(reading.value.values) if isinstance(reading.value, RegionValues) else ()
