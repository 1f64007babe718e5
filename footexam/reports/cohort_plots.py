"""The plots of a cohort, each with what it shows in words: for the report and for the screen."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean

from footexam.catalogue.marking import Rubric, Standard
from footexam.drawing.agreement_plot import Level, Slope, difference_plot
from footexam.drawing.axes import Axes
from footexam.drawing.borderline_plot import Cut, borderline_plot
from footexam.drawing.item_plot import ItemHeads, ItemRow, ShareRow, item_plot, share_plot
from footexam.drawing.shapes import Drawing
from footexam.drawing.wrapped import Width
from footexam.marking.cohort import CohortItem, Share
from footexam.marking.cohort_agreement import WithReference
from footexam.marking.estimate import Estimate
from footexam.marking.figures import note_of
from footexam.marking.passmark import Borderline, PassMark
from footexam.reports.marking_page import Words, fixed, percent
from footexam.reports.words import rounded_words
from footexam.terms import Kind

LEAST_PLOTTED = 3
"""Pairs from which the differences of a measure are drawn."""
FULL = 499.0
"""The width of a page's text in points."""


@dataclass(frozen=True, slots=True)
class Plot:
    """A drawing, and what it shows in words."""

    drawing: Drawing
    told: str


def is_plotted(one: CohortItem) -> bool:
    """Whether there are differences to see: a measured quantity on no short scale."""
    measure = one.measure
    history = measure.kind is Kind.DURATION or measure.panel == "history"
    return len(one.pairs) >= LEAST_PLOTTED and not one.items[0][1].levels and not history


def _shown(slope: Estimate | None) -> Estimate | None:
    """A slope whose interval leaves out 0."""
    if slope is None or slope.low is None or slope.high is None:
        return None
    return None if slope.low <= 0 <= slope.high else slope


def share_words(share: Share) -> str:
    """How many of how many with the interval in per cent; empty of none."""
    if share.interval is None:
        return ""
    low, high = map(percent, share.interval)
    return f"{share.count}/{share.n} ({low}–{high} %)"


class Plots:
    """Makes the plots of one document or page; `widths` measures its texts."""

    def __init__(self, words: Words, widths: Width) -> None:
        self.words = words
        self.widths = widths

    # --- differences of one measure

    def differences(
        self, one: CohortItem, found: WithReference, width: float = 300.0, height: float = 180.0
    ) -> Plot:
        """Differences against means with bias, limits and a trend where there is one."""
        unit = one.measure.unit
        drawing = difference_plot(
            [((a + b) / 2, a - b) for a, b in one.pairs],
            list(self._levels(found)),
            Axes(self.words("plot-x", unit=unit), self.words("plot-y", unit=unit)),
            self.widths,
            self._slope(one, found),
            width,
            height,
        )
        return Plot(drawing, self.differences_told(one, found))

    def _levels(self, found: WithReference) -> Iterable[Level]:
        for key, line in (
            ("plot-bias", found.bias),
            ("plot-upper", found.upper),
            ("plot-lower", found.lower),
        ):
            if line is not None and line.value is not None:
                name = self.words(key, value=fixed(line.value, 1))
                yield Level(line.value, name, line.low, line.high)

    def _slope(self, one: CohortItem, found: WithReference) -> Slope | None:
        """The line through the middle of all points, where its interval leaves out a level one."""
        slope, bias = _shown(found.slope), found.bias
        if slope is None or slope.value is None or bias is None or bias.value is None:
            return None
        middle = fmean((a + b) / 2 for a, b in one.pairs)
        name = self.words("plot-trend", value=fixed(slope.value))
        return Slope(bias.value - slope.value * middle, slope.value, name)

    def differences_told(self, one: CohortItem, found: WithReference) -> str:
        """The figures of the plot in a sentence or two."""
        return self.words(
            "plot-differences-told",
            measure=self.words.label(one.measure),
            n=found.pairs,
            figures=self._figures(one, found),
            trend=self._trend(one, found),
        ).strip()

    def _figures(self, one: CohortItem, found: WithReference) -> str:
        """Bias and limits with their intervals, or why there are none."""
        lines = {"bias": found.bias, "lower": found.lower, "upper": found.upper}
        if found.bias is None or found.bias.value is None:
            return note_of(found.bias) if found.bias else ""
        said = {name: self._line(line, one) for name, line in lines.items() if line}
        told = self.words("plot-figures-told", **said)
        note = note_of(found.lower) if found.lower else ""
        return self.words("noted", told=told, note=note) if note else told

    def _line(self, line: Estimate, one: CohortItem) -> str:
        """A figure in the unit of its measure, with its interval where there is one."""
        if line.value is None:
            return note_of(line)
        value = rounded_words(line.value, one.measure, signed=True)
        if line.low is None or line.high is None:
            return value
        ends = (rounded_words(end, one.measure, signed=True) for end in (line.low, line.high))
        low, high = ends
        return self.words("plot-line-told", value=value, low=low, high=high)

    def _trend(self, one: CohortItem, found: WithReference) -> str:
        slope = found.slope
        if slope is None or slope.value is None or slope.low is None or slope.high is None:
            return ""
        if _shown(slope) is None:
            return self.words("plot-no-trend-told")
        rise, low, high = map(fixed, (slope.value, slope.low, slope.high))
        return self.words("plot-trend-told", rise=rise, low=low, high=high, unit=one.measure.unit)

    # --- rows

    def errors(self, rows: Sequence[ItemRow], heads: ItemHeads, width: float = FULL) -> Plot:
        """Standardised errors by row."""
        said = "; ".join(map(self._errors_row, rows))
        told = self.words("plot-errors-told", rows=said)
        return Plot(item_plot(rows, heads, self.widths, width), told)

    def _errors_row(self, row: ItemRow) -> str:
        if len(row.errors) == 1:
            return self.words("plot-errors-one", name=row.name, error=fixed(row.errors[0], 1))
        beyond = sum(abs(error) > 1.96 for error in row.errors)
        return self.words("plot-errors-row", name=row.name, n=len(row.errors), beyond=beyond)

    def shares(self, items: Sequence[CohortItem], width: float = FULL) -> Plot:
        """How much of each measure agrees, with the interval."""
        words = self.words
        rows = []
        for one in items:
            judged = one.judged
            if judged.share is not None and judged.interval is not None:
                name, told = words.label(one.measure), share_words(judged)
                rows.append(ShareRow(name, judged.share, *judged.interval, told))
        heads = ItemHeads(words("measure"), words("agreed-share"), words("plot-share-axis"))
        said = "; ".join(words("plot-share-row", name=r.name, told=r.told) for r in rows)
        drawing = share_plot(rows, heads, self.widths, width)
        return Plot(drawing, words("plot-share-told", rows=said))

    # --- the pass mark

    def borderline(
        self, rubric: Rubric, one: PassMark, width: float = 300.0, height: float = 190.0
    ) -> Plot | None:
        """Points by global grade, the line through them and the cut; None of other pass marks."""
        found, words = one.borderline, self.words
        if one.standard is not Standard.BORDERLINE or found is None or not found.seen:
            return None
        grades = [(float(grade.at), words.say(grade.label)) for grade in rubric.grades]
        cut = self._cut(one, found)
        of = f"{one.of:g}"
        axes = Axes(words("plot-borderline-x"), words("plot-borderline-y", of=of))
        drawing = borderline_plot(found.seen, grades, cut, axes, self.widths, width, height)
        if cut is None:
            said = words("plot-cut-none", why=" ".join(map(words, found.warnings)))
        else:
            grade = next(name for at, name in grades if at == found.at)
            figures = {"cut": fixed(cut.cut, 1), "se": fixed(cut.se)}
            said = words("plot-cut-told", grade=grade, **figures)
        return Plot(drawing, words("plot-borderline-told", n=found.n, cut=said))

    def _cut(self, one: PassMark, found: Borderline) -> Cut | None:
        if found.cut is None or found.slope is None or found.intercept is None or found.se is None:
            return None
        used = one.used if one.cut == found.cut and one.used != one.cut else None
        return Cut(
            start=found.intercept,
            rise=found.slope,
            at=found.at,
            cut=found.cut,
            se=found.se,
            told=self.words("plot-cut", value=fixed(found.cut, 1)),
            used=used,
            told_used="" if used is None else self.words("plot-used", value=fixed(used, 1)),
        )
