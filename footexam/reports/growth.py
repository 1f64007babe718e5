"""The growth of a child over visits: a table of the visits and a line for each measure."""

from collections.abc import Mapping
from decimal import Decimal

from footexam.drawing.growth import Point, growth_line
from footexam.record.examination import Examination
from footexam.reports.blocks import (
    BODY,
    Block,
    Cell,
    Heading,
    Picture,
    Row,
    Table,
    cell,
    header,
)
from footexam.reports.material import SIDES, Material
from footexam.reports.words import age_words, alike, date_words, is_signed
from footexam.scoring.scores import score
from footexam.scoring.visit import ADULT_FROM, Visit
from footexam.terms import Side

GROWING = (
    "body-height",
    "body-mass",
    "body-mass-index",
    "foot-length",
    "fpi-total",
    "lunge-distance",
)
"""What is followed, in this order; only what was measured at two visits or more."""

MOST_VISITS = 5
"""Columns of visits: the first and the latest."""

LINE = 0.28
"""Share of the page's width for the line."""

Values = Mapping[tuple[str, Side | None], Decimal]


def growth(material: Material) -> list[Block]:
    """The table; empty for an adult, at unknown age, or without an earlier visit."""
    age = material.assessment.age
    if age is None or age.years >= ADULT_FROM or not material.earlier:
        return []
    visits = sorted((*material.earlier, material.examination), key=lambda visit: visit.examined_on)
    if len(visits) > MOST_VISITS:
        visits = [visits[0], *visits[1 - MOST_VISITS :]]
    values = [_values(visit, material) for visit in visits]
    rows = [
        _row(key, visits, values, material)
        for key in _keys(material)
        if sum(key in found for found in values) > 1
    ]
    if not rows:
        return []
    phrases = material.phrases
    share = (1 - LINE - 0.2) / len(visits)
    widths = (0.2, *([share] * len(visits)), LINE)
    days = (_visit_words(visit, material) for visit in visits)
    heads = header(phrases("measure"), *days, "")
    return [Heading(phrases("growth")), Table(widths, tuple(rows), heads)]


def _keys(material: Material) -> list[tuple[str, Side | None]]:
    """The measures with their sides."""
    return [
        (name, side)
        for name in GROWING
        if name in material.catalogue.measures
        for side in (SIDES if material.measure(name).sided else (None,))
    ]


def _values(visit: Examination, material: Material) -> Values:
    """The numbers of a visit, worked-out ones included."""
    catalogue = material.catalogue
    look = Visit(visit, catalogue.measures)
    found = {key: number for key in _keys(material) if (number := look.number(*key)) is not None}
    scores, _ = score(visit, catalogue)
    found |= {
        (one.measure, one.side): one.value
        for one in scores
        if one.measure in GROWING and isinstance(one.value, Decimal)
    }
    return found


def _visit_words(visit: Examination, material: Material) -> str:
    """The day of a visit with the age."""
    phrases = material.phrases
    day, age = date_words(visit.examined_on, phrases), age_words(visit.age(), phrases)
    return phrases("visit-on", day=day, age=age) if age else day


def _row(
    key: tuple[str, Side | None],
    visits: list[Examination],
    values: list[Values],
    material: Material,
) -> Row:
    """The values of one measure at each visit, and their line."""
    measure = material.measure(key[0])
    there = {visit: found[key] for visit, found in enumerate(values) if key in found}
    signed = is_signed(measure)
    told = {visit: alike([value], measure, signed=signed)[0] for visit, value in there.items()}
    points = [
        Point(
            float(visits[visit].examined_on.toordinal()),
            float(there[visit]),
            told[visit].split(" ")[0],
            date_words(visits[visit].examined_on, material.phrases),
        )
        for visit in there
    ]
    line: Cell = (Picture(growth_line(points, width=132.0, height=42.0)),)
    cells = (cell(told.get(visit, "–"), BODY) for visit in range(len(visits)))
    return Row((cell(material.sided_label(*key)), *cells, line))
