"""The cohort report: which measures agree, which examiners differ, where the pass mark falls."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

from footexam.catalogue.model import Catalogue
from footexam.drawing.item_plot import ItemHeads, ItemRow
from footexam.drawing.shapes import Drawing
from footexam.marking.cohort import Cohort, CohortExaminer, CohortItem, Drift, codes
from footexam.marking.cohort_agreement import MeasureAgreement, agreed
from footexam.marking.markers import Markers
from footexam.marking.pairing import identity
from footexam.marking.passmark import PassMark
from footexam.reports.blocks import (
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Heading,
    Picture,
    Row,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.blocks import Rule as Line
from footexam.reports.canvas import pdf_bytes
from footexam.reports.cohort_figures import Agreement, estimate_words
from footexam.reports.cohort_marks import MarksParts
from footexam.reports.cohort_plots import Plots, is_plotted, share_words
from footexam.reports.feedback import TITLE
from footexam.reports.marking_page import Words, add_feet, fixed, typeset
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.words import rounded_words

MOST_PLOTTED = 12
"""Measures whose differences are drawn, those with the most pairs first."""
_EXAMINERS = (0.27, 0.09, 0.22, 0.09, 0.1, 0.1, 0.13)
_HALF = 243.0, 150.0
"""Width and height of a plot of which two stand side by side, in points."""


def cohort_report(
    cohort: Cohort,
    catalogue: Catalogue,
    *,
    left_out: Sequence[str] = (),
    standards: Sequence[tuple[str, PassMark]] = (),
    markers: Sequence[Markers] = (),
    anonymous: bool = False,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
) -> bytes:
    """The report as PDF; the same input gives the same bytes.

    `left_out` are lines about files that were not compared, `standards` the pass marks by rubric,
    `markers` how first and second markers agree. `anonymous` prints codes for names, and no file
    names. Raises KeyError for another page size.
    """
    words = Words(catalogue, language)
    known = codes(cohort)
    names = known if anonymous else {name: name for name in known}
    sheet = Sheet(PAPERS[page], typeset())
    drawn = Plots(words, sheet.typeset.width)
    found = agreed(cohort)
    report, agreement = _Report(cohort, words, names, drawn, found), Agreement(words, found)
    marks = MarksParts(words, drawn, standards, anonymous=anonymous)
    sheet.add(
        [
            *report.head(anonymous=anonymous),
            *report.left_out(() if anonymous else left_out),
            *report.examiners(),
            *report.drifts(),
            *marks.standards(),
            *marks.markers(markers),
            *agreement.measures(cohort.items),
            *agreement.among(),
            *report.shares(),
            *report.errors(),
            *report.plots(),
        ]
    )
    add_feet(sheet, words, report.told(), invented)
    return pdf_bytes(sheet, words("cohort"), language)


class _Report:
    """The parts of one report."""

    def __init__(
        self,
        cohort: Cohort,
        words: Words,
        names: Mapping[str, str],
        drawn: Plots,
        agreement: Sequence[MeasureAgreement],
    ) -> None:
        self.cohort = cohort
        self.words = words
        self.names = names
        self.drawn = drawn
        self.agreement = {one.measure.id: one for one in agreement}

    def told(self) -> str:
        """How many students, pairs and patients."""
        patients = {identity(one.student.patient) for one in self.cohort.comparisons}
        return self.words(
            "cohort-of",
            students=len(self.cohort.examiners),
            pairs=len(self.cohort.comparisons),
            patients=len(patients),
        )

    def head(self, *, anonymous: bool) -> list[Block]:
        """Title, size, and what must be known of it."""
        words = self.words
        blocks: list[Block] = [para(words("cohort"), style=TITLE), para(self.told(), style=STRONG)]
        if len(self.cohort.examiners) == 1:
            blocks.append(para(words("cohort-one"), style=STRONG))
        if anonymous:
            blocks.append(para(words("anonymous")))
        notes = [para(words(key), style=SMALL) for key in ("fair", "independent")]
        return [*blocks, *notes, Space(2), Line(), Space(4)]

    def left_out(self, lines: Sequence[str]) -> list[Block]:
        """The files that were not compared, by name."""
        if not lines:
            return []
        note = para(self.words("left-out-note"), style=SMALL)
        told = [para(line, style=SMALL_INK) for line in lines]
        return [Heading(self.words("left-out"), 3), note, *told]

    def examiners(self) -> list[Block]:
        """One row an examiner."""
        words = self.words
        keys = ("examiner", "pairs", "agreed-share", "apart-count", "missing-count", "spread")
        heads = header(*map(words, (*keys, "critical-short")))
        rows = tuple(map(self._examiner, self.cohort.examiners))
        note = para(words("spread-note"), style=SMALL)
        return [Heading(words("examiners")), note, Table(_EXAMINERS, rows, heads)]

    def _examiner(self, one: CohortExaminer) -> Row:
        rms = one.errors.rms
        critical = sum(bool(each.critical) for each in one.comparisons)
        return Row(
            (
                cell(self.names[one.name], STRONG),
                cell(str(len(one.comparisons))),
                cell(share_words(one.judged)),
                cell(str(one.apart)),
                cell(str(one.missing)),
                cell("" if rms is None else fixed(rms)),
                cell(str(critical) if critical else "", STRONG),
            )
        )

    def drifts(self) -> list[Block]:
        """Examiners who read a measure steadily higher or lower than the reference."""
        words, cohort = self.words, self.cohort
        blocks: list[Block] = [Heading(words("drifts"), 3)]
        if not cohort.looks:
            return [*blocks, para(words("drifts-few"), style=SMALL_INK)]
        if not cohort.drifts:
            return [*blocks, para(words("drifts-none", looks=cohort.looks), style=SMALL_INK)]
        told = [para(self._drift(one)) for one in cohort.drifts]
        return [*blocks, *told, para(words("drifts-note", looks=cohort.looks), style=SMALL)]

    def _drift(self, one: Drift) -> str:
        return self.words(
            "drift",
            examiner=self.names[one.examiner],
            measure=self.words.label(one.measure),
            difference=rounded_words(one.difference, one.measure, signed=True),
            n=one.n,
            mean=fixed(one.mean, 1),
        )

    # --- plots

    def shares(self) -> list[Block]:
        """How much of each measure agrees."""
        judged = [one for one in self.cohort.items if one.judged.n]
        if not judged:
            return []
        parts = (self.drawn.shares(part).drawing for part in _split(judged))
        return [Heading(self.words("plot-share")), *map(Picture, parts)]

    def errors(self) -> list[Block]:
        """Standardised errors of every measure that has them."""
        words = self.words
        rows = [
            ItemRow(words.label(one.measure), errors, self._spread(one))
            for one in self.cohort.items
            if (errors := tuple(i.error for _, i in one.items if i.error is not None))
        ]
        if not rows:
            return []
        heads = ItemHeads(words("plot-item"), words("spread"), words("plot-axis"))
        parts = (self.drawn.errors(part, heads).drawing for part in _split(rows))
        return [Heading(words("cohort-plot")), *map(Picture, parts)]

    def _spread(self, one: CohortItem) -> str:
        """The spread of the errors of a measure with its interval."""
        found = self.agreement.get(one.measure.id)
        return estimate_words(self.words, found.spread) if found and found.spread else ""

    def plots(self) -> list[Block]:
        """Differences against means, two beside each other."""
        words = self.words
        fit = [one for one in self.cohort.items if is_plotted(one)]
        most = sorted(fit, key=lambda one: -len(one.pairs))[:MOST_PLOTTED]
        drawn = [one for one in fit if one in most]
        if not drawn:
            return []
        note = para(words("plots-note"), style=SMALL)
        rows = []
        for place in range(0, len(drawn), 2):
            cells = [
                (para(words.label(one.measure), style=STRONG), Picture(self._differences(one)))
                for one in drawn[place : place + 2]
            ]
            cells += [()] * (2 - len(cells))  # type: ignore[list-item]
            rows.append(Row(tuple(cells), lined=False))
        return [Heading(words("plots")), note, Table((0.5, 0.5), tuple(rows))]

    def _differences(self, one: CohortItem) -> Drawing:
        found = self.agreement[one.measure.id].reference
        return self.drawn.differences(one, found, *_HALF).drawing


_ROWS_A_PLOT = 30
"""Rows of a plot of rows that fit on a page."""
_Row = TypeVar("_Row")


def _split(rows: Sequence[_Row]) -> Iterable[Sequence[_Row]]:
    for place in range(0, len(rows), _ROWS_A_PLOT):
        yield rows[place : place + _ROWS_A_PLOT]
