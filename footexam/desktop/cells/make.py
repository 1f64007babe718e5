"""The right editor for each kind of measure."""

from collections.abc import Callable, Mapping

from PySide6.QtWidgets import QWidget

from footexam.catalogue.model import Catalogue, Measure
from footexam.desktop.cells.activities import ActivitiesCell
from footexam.desktop.cells.editor import Editor
from footexam.desktop.cells.lines import NumberCell, TextCell
from footexam.desktop.cells.options import Option, ScoreCell, WordCell
from footexam.desktop.cells.regions import RegionsCell
from footexam.desktop.cells.several import SeveralCell
from footexam.desktop.cells.shown import ShownCell
from footexam.desktop.cells.sites import SitesCell
from footexam.desktop.cells.table import TableCell
from footexam.desktop.theme import Theme
from footexam.terms import Kind, Side

_MOST_BOXES = 12
"""Scores with more steps than this are typed into a line."""

Maker = Callable[[Measure, Theme, Catalogue, QWidget | None], Editor]
SidedMaker = Callable[[Measure, Theme, Catalogue, Side | None, QWidget | None], Editor]


def make_editor(
    measure: Measure,
    theme: Theme,
    catalogue: Catalogue,
    parent: QWidget | None = None,
    side: Side | None = None,
) -> Editor:
    """An editor for a measure, by its kind; `side` tells a foot map which foot to draw."""
    if measure.kind in _SIDED_MAKERS:
        return _SIDED_MAKERS[measure.kind](measure, theme, catalogue, side, parent)
    return _MAKERS[measure.kind](measure, theme, catalogue, parent)


def _score(measure: Measure, theme: Theme, _: Catalogue, parent: QWidget | None) -> Editor:
    steps = (measure.hard_high or 0) - (measure.hard_low or 0) + 1
    if steps > _MOST_BOXES:
        return NumberCell(measure, theme, parent)
    return ScoreCell(measure, theme, parent)


def _choice(measure: Measure, theme: Theme, catalogue: Catalogue, parent: QWidget | None) -> Editor:
    options = [Option(word, catalogue.word(word)) for word in measure.words]
    return WordCell(measure, theme, options, parent)


def _yes_no(measure: Measure, theme: Theme, catalogue: Catalogue, parent: QWidget | None) -> Editor:
    options = [Option(word, catalogue.word(word)) for word in ("no", "yes")]
    return WordCell(measure, theme, options, parent)


def _line(measure: Measure, theme: Theme, _: Catalogue, parent: QWidget | None) -> Editor:
    return NumberCell(measure, theme, parent)


def _text(measure: Measure, theme: Theme, _: Catalogue, parent: QWidget | None) -> Editor:
    return TextCell(measure, theme, parent)


def _several(
    measure: Measure, theme: Theme, catalogue: Catalogue, parent: QWidget | None
) -> Editor:
    options = [Option(word, catalogue.word(word)) for word in measure.words]
    return SeveralCell(measure, theme, options, parent)


def _table(measure: Measure, theme: Theme, catalogue: Catalogue, parent: QWidget | None) -> Editor:
    return TableCell(measure, theme, catalogue, parent)


def _activities(measure: Measure, theme: Theme, _: Catalogue, parent: QWidget | None) -> Editor:
    return ActivitiesCell(measure, theme, parent)


def _shown(measure: Measure, theme: Theme, _: Catalogue, parent: QWidget | None) -> Editor:
    return ShownCell(measure, theme, parent)


_MAKERS: Mapping[Kind, Maker] = {
    Kind.SCORE: _score,
    Kind.QUANTITY: _line,
    Kind.PERCENT: _line,
    Kind.DURATION: _line,
    Kind.CHOICE: _choice,
    Kind.YES_NO: _yes_no,
    Kind.TEXT: _text,
    Kind.DERIVED: _shown,
    Kind.SEVERAL: _several,
    Kind.TABLE: _table,
    Kind.ACTIVITIES: _activities,
}
_SIDED_MAKERS: Mapping[Kind, SidedMaker] = {
    Kind.REGIONS: RegionsCell,
    Kind.REGION_VALUES: RegionsCell,
    Kind.YES_SITES: SitesCell,
}
