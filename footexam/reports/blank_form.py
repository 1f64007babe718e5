"""The examination as a paper form, for power cuts and visits at home; entered late afterwards."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from footexam.catalogue.model import Catalogue, Column, Measure, Panel, Texts, say
from footexam.drawing.foot_map import map_drawing
from footexam.drawing.outlines import VIEWS
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Drawing, Line, Shape, Text, joined, scaled
from footexam.reports import pen
from footexam.reports.blocks import (
    BODY,
    SMALL,
    SMALL_INK,
    STRONG,
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
from footexam.reports.canvas import pdf_bytes
from footexam.reports.fonts import Typeset
from footexam.reports.phrases import Phrases
from footexam.reports.sheet import GUTTER, PAPERS, Paper, Sheet
from footexam.reports.text import Style
from footexam.reports.words import NO_UNIT, number_words
from footexam.resources import assets_dir
from footexam.terms import Depth, Kind, Sex, Side

TITLE = Style(14.0, bold=True)
HEAD = 56.0
"""Height kept free on every page for the lines that say who it is."""
SIDED = (0.25, 0.28, 0.28, 0.19)
SINGLE = (0.25, 0.56, 0.19)
MIDDLE = 0.4
"""Width of an answer that is not of one side, in the middle of both columns."""
MOST_BOXES = 12
"""Values of a score up to which each has its box; of more, the number is written."""
MAP = 0.57
"""Size of the foot map on the form against that on the screen."""
TABLE_ROWS = 3
LINES = 4
"""Lines for remarks at least."""
REPEATS = 3
UNITS_OF_TIME = ("day", "week", "month", "year")


def blank_form(
    catalogue: Catalogue, *, depth: str = "core", page: str = "A4", language: str = "en"
) -> bytes:
    """The form as PDF, with every measure of the core sheet ("core") or of all ("all").

    Worked-out measures have no place on it. The same input gives the same bytes. Raises KeyError
    for another page size, ValueError for another depth, OSError without the fonts.
    """
    typeset = Typeset(assets_dir() / "fonts")
    sheet = form_layout(catalogue, PAPERS[page], typeset, depth=depth, language=language)
    return pdf_bytes(sheet, Phrases(language)("blank-title"), language)


def form_layout(
    catalogue: Catalogue, paper: Paper, typeset: Typeset, *, depth: str, language: str
) -> Sheet:
    """The pages of the form as plain shapes."""
    if depth not in {"core", "all"}:
        raise ValueError(depth)
    paper = replace(paper, top=paper.top + HEAD)
    form = _Form(catalogue, paper, typeset, depth == "core", language)
    sheet = Sheet(paper, typeset)
    sheet.add(form.blocks())
    place = sheet.place()
    sheet.add(form.closing(LINES))
    if len(sheet.pages) > place.pages:  # remarks and signatures on one page
        sheet.back_to(place)
        sheet.new_page()
        place = sheet.place()
        sheet.add(form.closing(LINES))
    spare = int(sheet.room() // pen.ROW)
    if spare > 0:  # the page of the signatures has room for more remarks
        sheet.back_to(place)
        sheet.add(form.closing(LINES + spare))
    for number, shapes in enumerate(sheet.pages, 1):
        shapes[:0] = form.top()
        shapes.extend(form.foot(number, len(sheet.pages)))
    return sheet


class _Form:
    """The parts of one form."""

    def __init__(
        self, catalogue: Catalogue, paper: Paper, typeset: Typeset, core: bool, language: str
    ) -> None:
        self.catalogue = catalogue
        self.paper = paper
        self.typeset = typeset
        self.core = core
        self.language = language
        self.phrases = Phrases(language)
        self.width = paper.width - 2 * paper.margin

    def say(self, texts: Texts | None) -> str:
        return say(texts, self.language)

    # --- every page

    def top(self) -> list[Shape]:
        """The lines that say who it is, above the text of every page."""
        left, right, phrases = self.paper.margin, self.paper.width - self.paper.margin, self.phrases
        rows = (
            (("blank-family", 0.55), ("blank-given", 0.45)),
            (
                ("blank-born", 0.55),
                ("blank-number", 0.45),
            ),
        )
        shapes: list[Shape] = []
        for row, fields in enumerate(rows):
            x, y = left, self.paper.top - HEAD + 14.0 + row * 24.0
            for key, share in fields:
                shapes += self._field(phrases(key), x, y, share * self.width - 10.0)
                x += share * self.width
        y = self.paper.top - 8.0
        return [*shapes, Line(left, y, right, y, Ink.INK, 1.0)]

    def _field(self, label: str, x: float, y: float, width: float) -> list[Shape]:
        """A label with a line to write on."""
        start = x + self.typeset.width(label, SMALL_INK.size) + 5.0
        return [
            Text(x, y, label, SMALL_INK.size),
            Line(start, y + 1.5, x + width, y + 1.5, Ink.INK, 0.6),
        ]

    def foot(self, number: int, pages: int) -> list[Shape]:
        """Which page of how many, who examined, what the form is."""
        phrases, left = self.phrases, self.paper.margin
        right, y = self.paper.width - left, self.paper.height - self.paper.foot + 16.0
        use = phrases("intended-use")
        depth = phrases("blank-core" if self.core else "blank-all")
        told = phrases("blank-foot", depth=depth, use=use)
        half = self.width / 2
        return [
            *self._field(phrases("blank-done"), left, y, half - 10.0),
            *self._field(phrases("blank-by"), left + half, y, half),
            Text(left, y + 20.0, told, SMALL.size, Ink.MUTED),
            Text(
                right, y + 20.0, phrases("page", page=number, pages=pages), 8.4, anchor=Anchor.END
            ),
        ]

    # --- the form

    def blocks(self) -> list[Block]:
        """Title, how to use it, all panels."""
        phrases = self.phrases
        sexes = [phrases(f"sex-{sex}") for sex in Sex if sex is not Sex.UNKNOWN]
        blocks: list[Block] = [
            para(phrases("blank-title"), style=TITLE),
            para(phrases("blank-use"), style=SMALL_INK),
            para(phrases("blank-codes"), style=SMALL_INK),
            Table(
                (0.25, 0.75),
                (
                    self._plain(phrases("blank-sex"), self._words(sexes, 0.75)),
                    self._plain(phrases("blank-supervisor"), self._line(0.75)),
                ),
            ),
        ]
        for panel in self.catalogue.panels.values():
            blocks += self._panel(panel)
        return blocks

    def closing(self, count: int) -> list[Block]:
        """So many lines for remarks, and signatures."""
        phrases = self.phrases
        lines = Picture(pen.ruled(count, self.width))
        rows = tuple(
            self._plain(phrases(key), self._line(0.6))
            for key in ("blank-signature", "blank-counter", "blank-entered")
        )
        return [Heading(phrases("blank-other"), 1), lines, Table((0.4, 0.6), rows)]

    def _plain(self, label: str, drawing: Drawing) -> Row:
        return Row((cell(label), (Picture(drawing),)), lined=False)

    def _panel(self, panel: Panel) -> list[Block]:
        """The measures of one position in their order; tables follow one another as they come."""
        measures = [self.catalogue.measures[name] for name in panel.measures]
        wanted = [one for one in measures if self._is_wanted(one)]
        if not wanted:
            return []
        blocks: list[Block] = [Heading(self.say(panel.label), 0, self.say(panel.position))]
        waiting: list[Measure] = []
        for measure in wanted:
            own = self._own(measure)
            if not own:
                waiting.append(measure)
                continue
            blocks += [self._table(waiting)] if waiting else []
            blocks += own
            waiting = []
        return [*blocks, self._table(waiting)] if waiting else blocks

    def _is_wanted(self, measure: Measure) -> bool:
        return measure.kind is not Kind.DERIVED and (not self.core or measure.depth is Depth.CORE)

    def _table(self, measures: Sequence[Measure]) -> Table:
        """A column for each side; one answer for the person stands in the middle of both."""
        sided = any(measure.sided for measure in measures)
        titles = ["measure", "left", "right"] if sided else ["measure", "answer"]
        rows = tuple(self._row(measure, among_sides=sided) for measure in measures)
        heads = header(*map(self.phrases, (*titles, "blank-absent")))
        return Table(SIDED if sided else SINGLE, rows, heads)

    def _row(self, measure: Measure, *, among_sides: bool) -> Row:
        """Its name, a place to answer for each side or in the middle, room for an absence."""
        label: Cell = (para(self.say(measure.label), style=BODY),)
        if measure.sided:
            answer: Cell = (Picture(self._answer(measure, SIDED[1])),)
            return Row((label, answer, answer, ()))
        if not among_sides:
            return Row((label, (Picture(self._answer(measure, SINGLE[1])),), ()))
        drawing = self._answer(measure, MIDDLE)
        one = para(self.phrases("blank-one"), style=SMALL_INK)
        whole: Cell = (Picture(pen.shifted(drawing, self._room(SINGLE[1]))),)
        return Row(((*label, one), whole, ()), own=SINGLE)

    # --- answers

    def _room(self, share: float) -> float:
        return share * self.width - GUTTER

    def _line(self, share: float, unit: str = "", before: str = "") -> Drawing:
        return pen.write_line(self._room(share), unit, self.typeset, before)

    def _words(self, told: Sequence[str], share: float) -> Drawing:
        return pen.words(told, self._room(share), self.typeset)

    def _answer(self, measure: Measure, share: float) -> Drawing:
        """The place to answer, with the methods to ring under it."""
        place = self._place(measure, share)
        if not measure.methods:
            return place
        methods = [self.catalogue.word(word, self.language) for word in measure.methods]
        return pen.stacked([place, self._words(methods, share)])

    def _place(self, measure: Measure, share: float) -> Drawing:
        """The place to answer, by the kind of the measure."""
        unit = "" if measure.unit in NO_UNIT else measure.unit
        match measure.kind:
            case Kind.SCORE:
                place = self._score(measure, share, unit)
            case Kind.QUANTITY | Kind.PERCENT:
                count = REPEATS if measure.repeats else 1
                place = pen.write_lines(count, self._room(share), unit, self.typeset)
            case Kind.DURATION:
                place = pen.stacked([self._line(share), self._words(UNITS_OF_TIME, share)])
            case Kind.CHOICE | Kind.SEVERAL:
                shown = [self.catalogue.word(word, self.language) for word in measure.words]
                place = self._words(shown, share)
            case Kind.YES_NO:
                place = self._yes_no(share)
            case Kind.YES_SITES:
                where = self._line(share, before=self.phrases("blank-where"))
                place = pen.stacked([self._yes_no(share), where])
            case Kind.REGION_VALUES:
                named = self._line(share, unit, self.phrases("blank-region"))
                place = pen.stacked([named] * 3)
            case _:
                place = self._line(share)
        return place

    def _yes_no(self, share: float) -> Drawing:
        return self._words(
            [self.catalogue.word(word, self.language) for word in ("no", "yes")], share
        )

    def _score(self, measure: Measure, share: float, unit: str) -> Drawing:
        """A box for each value of a short scale; else a line."""
        values = list(_values(measure))
        if not values or len(values) > MOST_BOXES:
            return self._line(share, unit)
        signed = min(values) < 0
        told = [number_words(Decimal(value), signed) for value in values]
        return pen.boxes(told, self._room(share))

    # --- measures that need the width

    def _own(self, measure: Measure) -> list[Block]:
        """Text, tables, activities and maps: blocks of their own; empty for all others."""
        label = self.say(measure.label)
        title = Heading(label, 2)
        match measure.kind:
            case Kind.TEXT:
                return [title, Picture(pen.ruled(2, self.width))]
            case Kind.TABLE:
                return [title, *self._grid(measure)]
            case Kind.ACTIVITIES:
                return [title, self._activities()]
            case Kind.REGIONS:
                return [Heading(label, 2, self.phrases("blank-map")), self._maps()]
            case Kind.REGION_VALUES if measure.id == "tenderness":
                return [Heading(label, 2, self.phrases("blank-map-values")), self._maps()]
        return []

    def _grid(self, measure: Measure) -> list[Block]:
        """Empty rows under the names of the columns, with the words that may be written."""
        columns = measure.columns
        if not columns:
            return []
        widths = tuple(1 / len(columns) for _ in columns)
        empty: Cell = (Picture(Drawing(1.0, pen.ROW - 6.0, ())),)
        rows = tuple(Row(tuple(empty for _ in columns)) for _ in range(TABLE_ROWS))
        heads = Row(tuple(self._column(column) for column in columns))
        sides = [self.phrases(str(side)) for side in Side] if measure.sided else []
        none = [self.phrases("blank-none")] if measure.none_known else []
        before = [Picture(self._words([*none, *sides], 1.0))] if none or sides else []
        return [*before, Table(widths, rows, heads)]

    def _column(self, column: Column) -> Cell:
        words = " / ".join(self.catalogue.word(word, self.language) for word in column.words)
        return (para(self.say(column.label), style=STRONG), *cell(words, SMALL))

    def _activities(self) -> Table:
        """Lines for activities with a box for each mark."""
        marks = pen.boxes([str(mark) for mark in range(11)], self._room(0.5))
        row = Row(((Picture(self._line(0.5)),), (Picture(marks),)))
        return Table((0.5, 0.5), (row,) * 5)

    def _maps(self) -> Table:
        """All drawings of both feet, one row for each foot."""
        rows = []
        for side in Side:
            drawings = (
                scaled(map_drawing(side, view, language=self.language), MAP, 7.0) for view in VIEWS
            )
            title = para(self.phrases(str(side)), style=STRONG)
            rows.append(Row(((title, Picture(joined(drawings, self.width))),), lined=False))
        return Table((1.0,), tuple(rows))


def _values(measure: Measure) -> Iterator[int]:
    """The whole numbers of a scale; none for one without ends."""
    if measure.hard_low is None or measure.hard_high is None or measure.decimals:
        return
    yield from range(int(measure.hard_low), int(measure.hard_high) + 1)
