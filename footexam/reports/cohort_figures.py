"""The tables of agreement in the cohort report: against the reference, and among one another."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from footexam.catalogue.model import Measure
from footexam.marking.cohort import CohortItem
from footexam.marking.cohort_agreement import Among, MeasureAgreement, WithReference
from footexam.marking.compared import Sort
from footexam.marking.estimate import WORDS, Estimate, Reason
from footexam.reports.blocks import (
    SMALL,
    SMALL_INK,
    Block,
    Cell,
    Heading,
    Row,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.cohort_plots import share_words
from footexam.reports.marking_page import Words, fixed
from footexam.reports.words import rounded_number, with_unit
from footexam.terms import Side

FEW_VOLUNTEERS = 10
"""Volunteers below which it is said that coefficients over them tell little (common practice)."""
_ITEMS = (0.25, 0.12, 0.18, 0.08, 0.37)
_AMONG = (0.27, 0.12, 0.36, 0.25)
_Show = Callable[[float], str]


def estimate_words(words: Words, one: Estimate, show: _Show = fixed, unit: str = "") -> str:
    """A figure with its interval, or why there is none; an approximate one with its coverage."""
    why = WORDS[one.reason or Reason.TOO_FEW]
    if one.value is None:
        return why
    value = show(one.value)
    if one.low is None or one.high is None:
        few = one.reason is Reason.FEW_UNITS
        key = "estimate-few" if few else "estimate-bare"
        return words(key, value=with_unit(value, unit), why=why)
    low, high = show(one.low), show(one.high)
    if one.approximate:
        held = f"{100 * (one.coverage or 0):.0f}"
        told = words("estimate-approximate", value=value, low=low, high=high, held=held)
    else:
        told = words("estimate", value=value, low=low, high=high)
    return with_unit(told, unit)


class Agreement:
    """The parts of one report that tell how well its examiners agree."""

    def __init__(self, words: Words, found: Sequence[MeasureAgreement]) -> None:
        self.words = words
        self.found = found
        self.by_measure = {one.measure.id: one for one in found}

    def notes(self) -> Iterator[Block]:
        """What the figures are over, and what they cannot tell."""
        words = self.words
        yield para(words("units-note"), style=SMALL)
        if any(one.approximate for one in self._estimates()):
            yield para(words("approximate-note"), style=SMALL)
        volunteers = max((one.reference.volunteers for one in self.found), default=0)
        if 0 < volunteers < FEW_VOLUNTEERS:
            key = "volunteer-only" if volunteers == 1 else "volunteers-few"
            yield para(words(key, volunteers=volunteers))

    def _estimates(self) -> Iterator[Estimate]:
        for one in self.found:
            reference = one.reference
            told: list[Estimate | None] = [reference.lower, reference.icc, reference.kappa]
            told += [figure for a in one.among for figure in (a.icc, a.sem, a.fleiss, a.alpha)]
            yield from (figure for figure in told if figure)

    # --- against the reference

    def measures(self, items: Iterable[CohortItem]) -> list[Block]:
        """One row a measure that two could be compared in."""
        words = self.words
        rows = tuple(self._measure(one) for one in items if one.judged.n or one.pairs)
        keys = ("measure", "readings", "agreed-share", "missing-count", "cohort-agreement")
        heads = header(*map(words, keys))
        return [Heading(words("cohort-items")), *self.notes(), Table(_ITEMS, rows, heads)]

    def _measure(self, one: CohortItem) -> Row:
        found = self.by_measure.get(one.measure.id)
        return Row(
            (
                cell(self.words.label(one.measure)),
                cell(self._size(one, found)),
                cell(share_words(one.judged)),
                cell(str(one.missing)),
                self._against(found) if found else (),
            )
        )

    def _size(self, one: CohortItem, found: MeasureAgreement | None) -> str:
        read = len(one.items) - one.missing
        if found is None:
            return str(read)
        size = found.reference
        return self.words("crossed", n=read, students=size.students, volunteers=size.volunteers)

    def _against(self, found: MeasureAgreement) -> Cell:
        return tuple(para(line, style=SMALL_INK) for line in self.against(found))

    def against(self, found: MeasureAgreement) -> Iterator[str]:
        """Kappa of levels and words; bias, limits and ICC of another number; each on its line."""
        words, reference = self.words, found.reference
        if reference.kappa:
            key = "kappa-words" if found.sort is Sort.WORD else "kappa-levels"
            yield words(key, told=estimate_words(words, reference.kappa))
        else:
            yield from self._lines(found.measure, reference)

    def between(self, found: MeasureAgreement) -> Iterator[str]:
        """How the students agree among one another, a line for each side."""
        for each in found.among:
            told = filter(None, (self._coefficients(each), self._error(found.measure, each)))
            size = self.words("by", students=each.students, volunteers=each.volunteers)
            yield self._sided(each.side, f"{'; '.join(told)} ({size})")

    def _lines(self, measure: Measure, found: WithReference) -> Iterator[str]:
        def show(value: float) -> str:
            return rounded_number(value, measure, signed=True)

        words, unit = self.words, measure.unit
        bias, lower, upper, icc = found.bias, found.lower, found.upper, found.icc
        if not (bias and lower and upper and icc):
            return
        yield words("bias-line", told=estimate_words(words, bias, show, unit))
        if bias.value is None or bias.reason is Reason.IDENTICAL:
            return
        ends = [estimate_words(words, one, show) for one in (lower, upper)]
        yield words("limits-line", lower=ends[0], upper=with_unit(ends[1], unit))
        yield words("icc-line", told=estimate_words(words, icc))

    # --- among one another

    def among(self) -> list[Block]:
        """One row a measure and side, without those of which nothing can be computed."""
        words = self.words
        if not any(one.among for one in self.found):
            return []
        rows = tuple(row for one in self.found if (row := self._among(one)))
        flat = [
            words.sided(words.label(one.measure), each.side)
            for one in self.found
            for each in one.among
            if _is_flat(each)
        ]
        notes = ["among-note", "icc-note"]
        if any(e.reason is Reason.FEW_UNITS for e in self._estimates()):
            notes.append("few-units-note")
        blocks: list[Block] = [Heading(words("among"))]
        blocks += [para(words(key), style=SMALL) for key in notes]
        if rows:
            heads = header(*map(words, ("measure", "volunteers", "coefficient", "one-reading")))
            blocks.append(Table(_AMONG, rows, heads))
        if flat:
            blocks.append(para(words("among-flat", what="; ".join(flat)), style=SMALL_INK))
        return blocks

    def _among(self, one: MeasureAgreement) -> Row | None:
        """The row of a measure, a line for each side; None where nothing varies."""
        words = self.words
        found = [each for each in one.among if not _is_flat(each)]
        if not found:
            return None
        sizes = dict.fromkeys(
            words("by", students=each.students, volunteers=each.volunteers) for each in found
        )
        told = [self._coefficients(each) for each in found]
        errors = [self._error(one.measure, each) for each in found]
        return Row(
            (
                cell(words.label(one.measure)),
                tuple(para(size) for size in sizes),
                self._by_side(found, told),
                self._by_side(found, errors),
            )
        )

    def _by_side(self, found: Sequence[Among], told: Sequence[str]) -> Cell:
        lines = zip(found, told, strict=True)
        shown = (self._sided(each.side, line) for each, line in lines if line)
        return tuple(para(line, style=SMALL_INK) for line in shown)

    def _sided(self, side: Side | None, line: str) -> str:
        words = self.words
        return words("side-value", side=words.phrases(f"{side}-word"), value=line) if side else line

    def _coefficients(self, found: Among) -> str:
        words = self.words
        told = []
        if found.icc:
            told.append(words("icc-line", told=estimate_words(words, found.icc)))
        if found.fleiss:
            told.append(words("fleiss-line", told=estimate_words(words, found.fleiss)))
        if found.gaps or not told:
            alpha = estimate_words(words, found.alpha)
            told.append(words("alpha-line", metric=words(found.metric), told=alpha))
        if found.gaps:
            told.append(words("gaps-line", gaps=found.gaps))
        return "; ".join(told)

    def _error(self, measure: Measure, found: Among) -> str:
        def show(value: float) -> str:
            return rounded_number(value, measure)

        return estimate_words(self.words, found.sem, show, measure.unit) if found.sem else ""


def _is_flat(found: Among) -> bool:
    """Whether nothing can be computed for want of variation."""
    told = (found.icc or found.fleiss or found.alpha, found.alpha)
    return all(one.reason is Reason.NO_VARIATION for one in told)
