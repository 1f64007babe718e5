"""What the child of the cohort page tells line by line: whom, measures, examiners, plots."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import Catalogue
from footexam.desktop.cohort.words import WORDS
from footexam.drawing.item_plot import ItemHeads, ItemRow
from footexam.drawing.shape_lists import as_list
from footexam.drawing.shapes import Circle, Drawing
from footexam.exchange.term import Term
from footexam.marking.cohort import Cohort, CohortExaminer, CohortItem, Drift, Share
from footexam.marking.cohort_agreement import agreed
from footexam.marking.compared import Comparison, Item, Outcome, Rule
from footexam.marking.estimate import Estimate
from footexam.marking.pairing import identity
from footexam.marking.passmark import PassMark
from footexam.record.examination import Patient
from footexam.reports.cohort_figures import Agreement
from footexam.reports.cohort_marks import MarksParts
from footexam.reports.cohort_plots import Plot, Plots, is_plotted
from footexam.reports.marking_page import Words, fixed, typeset
from footexam.reports.words import rounded_number, rounded_words, with_unit

Line = Mapping[str, Any]
_APPROXIMATE = "≈"
"""Marks an approximate interval."""
SCREEN = 300.0
"""The width of a plot on the screen in points, before it is scaled."""


class Lines:
    """The lines of one cohort, in the order in which the page needs them."""

    def __init__(
        self,
        term: Term,
        cohort: Cohort,
        standards: Sequence[tuple[str, PassMark]],
        catalogue: Catalogue,
    ) -> None:
        self.term = term
        self.cohort = cohort
        self.standards = standards
        self.words = Words(catalogue, "en")
        self.agreement = Agreement(self.words, agreed(cohort))
        fonts = typeset()
        shown = fonts.shown
        self.plots = Plots(
            self.words, lambda text, size, bold: fonts.width(shown(text), size, bold)
        )
        self.marks = MarksParts(self.words, self.plots, standards, anonymous=True)
        self.examiners = [one.name for one in cohort.examiners]
        patients = {identity(c.student.patient): c.student.patient for c in cohort.comparisons}
        self.patients = list(patients)
        self.patient_names = [_patient_name(one) for one in patients.values()]

    # --- tables

    def head(self) -> Line:
        """Whom it is about, and what was left out."""
        return {
            "kind": "head",
            "examiners": self.examiners,
            "patients": self.patient_names,
            "pairs": len(self.cohort.comparisons),
            "left": list(self.term.problems),
        }

    def measures(self) -> Iterator[Line]:
        """A line for each measure, with its readings."""
        rows: dict[str, list[list[Any]]] = {}
        for comparison in self.cohort.comparisons:
            for item in comparison.items:
                rows.setdefault(item.measure.id, []).append(self._reading(comparison, item))
        for one in self.cohort.items:
            yield self._measure(one, rows[one.measure.id])

    def _measure(self, one: CohortItem, readings: list[list[Any]]) -> Line:
        return {
            "kind": "measure",
            "id": one.measure.id,
            "name": self.words.label(one.measure),
            "n": len(one.items) - one.missing,
            "missing": one.missing,
            "agreed": _share(one.judged),
            **self._figures(one),
            "derived": all(item.is_derived for _, item in one.items if item.outcome in _BOTH),
            "listed": readings,
        }

    def _figures(self, one: CohortItem) -> dict[str, Any]:
        """Mean error and limits of a number, kappa of a scale or a choice, and all in sentences."""
        found = self.agreement.by_measure.get(one.measure.id)
        if found is None:
            return {"mean": "", "limits": "", "told": []}
        words, reference = self.words, found.reference
        told = [*self.agreement.against(found), *self.agreement.between(found)]
        if any(_APPROXIMATE in line for line in told):
            told.append(words("approximate-note"))
        if reference.kappa is not None:
            kappa = words("kappa-words", told=_short(reference.kappa, fixed))
            return {"mean": "", "limits": kappa, "told": told}

        def show(value: float) -> str:
            return rounded_number(value, one.measure, signed=True)

        bias = reference.bias
        mean = _short(bias, show, one.measure.unit) if bias else ""
        ends = [line.value for line in (reference.lower, reference.upper) if line]
        limits = " to ".join(show(end) for end in ends if end is not None)
        return {"mean": mean, "limits": limits, "told": told}

    def _reading(self, comparison: Comparison, item: Item) -> list[Any]:
        """The fields of a `cohort_data.Reading`, in their order."""
        words = self.words
        student = comparison.student
        several = len(item.missed) + len(item.added) > 1
        return [
            self.examiners.index(student.examiner.name),
            self.patients.index(identity(student.patient)),
            student.examined_on.isoformat(),
            words.phrases(f"{item.side}-word") if item.side else "",
            words.student(item),
            words.reference(item),
            words.difference(item),
            None if item.error is None else round(item.error, 3),
            item.outcome.value,
            item.rule.value,
            self._allowed(item),
            "" if item.standard_error is None else self._size(item.standard_error, item),
            "" if item.beyond is None else self._size(item.beyond, item),
            "; ".join(map(words.word, item.missed)) if several else "",
            "; ".join(map(words.word, item.added)) if several else "",
            item.slip.value if item.slip else "",
            item.is_derived,
        ]

    def _allowed(self, item: Item) -> str:
        if item.tolerance is None:
            return ""
        if item.rule is Rule.LEVELS:
            count = int(item.tolerance)
            key = "levels-allowed" if count == 1 else "levels-allowed-more"
            return self.words(key, count=count)
        return self._size(item.tolerance, item)

    def _size(self, value: float, item: Item) -> str:
        return rounded_words(value, item.measure)

    def examiner_lines(self) -> Iterator[Line]:
        """A line for each examiner."""
        for one in self.cohort.examiners:
            yield self._examiner(one)

    def _examiner(self, one: CohortExaminer) -> Line:
        return {
            "kind": "examiner",
            "visits": len(one.comparisons),
            "agreed": _share(one.judged),
            "apart": one.apart,
            "missing": one.missing,
            "spread": "" if one.errors.rms is None else fixed(one.errors.rms),
            "mean": "" if one.errors.mean is None else fixed(one.errors.mean),
            "steady": [self._drift(d) for d in self.cohort.drifts if d.examiner == one.name],
            "looks": self.cohort.looks,
            "critical": sum(bool(each.critical) for each in one.comparisons),
        }

    def _drift(self, one: Drift) -> dict[str, Any]:
        return {
            "measure": self.words.label(one.measure),
            "difference": rounded_words(one.difference, one.measure, signed=True),
            "n": one.n,
            "mean": fixed(one.mean, 1),
        }

    def standard_lines(self) -> Iterator[Line]:
        """A line for each pass mark."""
        for name, one in self.standards:
            yield self._standard(self.words.catalogue.rubrics[name], one)

    def _standard(self, rubric: Rubric, one: PassMark) -> Line:
        found = one.angoff[-1] if one.angoff else one.borderline
        low, high = (found.low, found.high) if found and one.se is not None else (None, None)
        interval = "" if low is None or high is None else f"{fixed(low, 1)} to {fixed(high, 1)}"
        return {
            "kind": "standard",
            "id": rubric.id,
            "name": self.words.say(rubric.label),
            "of": f"{one.of:g}",
            "cut": "" if one.cut is None else fixed(one.cut, 1),
            "used": "" if one.used is None else fixed(one.used, 1),
            "se": "" if one.se is None else fixed(one.se),
            "interval": interval,
            "n": one.borderline.n if one.borderline else 0,
            "told": list(self.marks.told(one)),
        }

    # --- plots

    @property
    def plot_count(self) -> int:
        """How many plots `plot_lines` makes."""
        measures = sum(map(is_plotted, self.cohort.items))
        return 1 + measures + len(self.cohort.examiners) + len(self.standards)

    def plot_lines(self) -> Iterator[Line]:
        """The plots: of all measures first, of the pass marks, of each measure and examiner."""
        judged = [one for one in self.cohort.items if one.judged.share is not None]
        judged.sort(key=lambda one: one.judged.share or 0.0)  # as the table
        rows = {one.measure.id: place for place, one in enumerate(judged)}
        yield _plotted("shares", self.plots.shares(judged, SCREEN), rows=rows)
        for name, standard in self.standards:
            plot = self.plots.borderline(self.words.catalogue.rubrics[name], standard)
            yield _plotted(f"standard:{name}", plot)
        for one in self.cohort.items:
            if is_plotted(one):
                plot = self.plots.differences(
                    one, self.agreement.by_measure[one.measure.id].reference
                )
                marks = _marks(one, plot.drawing)
                yield _plotted(f"measure:{one.measure.id}", plot, marks=marks)
        for number, examiner in enumerate(self.cohort.examiners):
            yield _plotted(f"examiner:{number}", self._errors(examiner))

    def _errors(self, one: CohortExaminer) -> Plot | None:
        """The standardised errors of one examiner by measure."""
        found: dict[str, list[float]] = {}
        for item in one.items:
            if item.error is not None:
                found.setdefault(self.words.label(item.measure), []).append(item.error)
        if not found:
            return None
        rows = [ItemRow(name, tuple(errors), f"n {len(errors)}") for name, errors in found.items()]
        heads = ItemHeads(self.words("plot-item"), "", self.words("plot-axis"))
        return self.plots.errors(rows, heads, SCREEN)


_BOTH = frozenset(Outcome) - {Outcome.MISSING, Outcome.MISSING_REASON, Outcome.NO_REFERENCE}


def _short(one: Estimate, show: Callable[[float], str], unit: str = "") -> str:
    """A figure for a cell of a table; why there is no interval is told beside the table."""
    if one.value is None:
        return WORDS["not-computable"]
    if one.low is None or one.high is None:
        return WORDS["no-interval"].format(value=with_unit(show(one.value), unit))
    key = "approximate" if one.approximate else "interval-of"
    value, low, high = map(show, (one.value, one.low, one.high))
    return with_unit(WORDS[key].format(value=value, low=low, high=high), unit)


def _share(share: Share) -> dict[str, Any]:
    interval = share.interval
    return {"count": share.count, "n": share.n, "interval": list(interval) if interval else None}


def _patient_name(patient: Patient) -> str:
    return patient.record_number or f"{patient.family_name} {patient.given_names}".strip()


def _plotted(of: str, plot: Plot | None, **more: Any) -> Line:
    drawing = as_list(plot.drawing) if plot else None
    return {"kind": "plot", "of": of, "drawing": drawing, "told": plot.told if plot else "", **more}


def _marks(one: CohortItem, drawing: Drawing) -> list[list[float] | None]:
    """Where each reading of a measure stands in its plot; None of one that has no place there."""
    points = [_point(item) for _, item in one.items]
    dots = [s for s in drawing.shapes if isinstance(s, Circle) and s.fill is not None]
    places = dict(zip(dict.fromkeys(filter(None, points)), dots, strict=True))
    found = [places[point] if point else None for point in points]
    return [[round(dot.x, 2), round(dot.y, 2)] if dot else None for dot in found]


def _point(item: Item) -> tuple[float, float] | None:
    """Mean and difference of a reading and its reference, as they are plotted."""
    if item.student_value is None or item.reference_value is None:
        return None
    if item.outcome is Outcome.METHOD_DIFFERS:
        return None
    student, reference = float(item.student_value), float(item.reference_value)
    return (student + reference) / 2, student - reference
