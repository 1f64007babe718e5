"""The pass mark in the cohort report, how its judges came together, and how two markers agree."""

from collections.abc import Iterator, Mapping, Sequence

from footexam.marking.estimate import Estimate
from footexam.marking.judges import apart, judge_codes
from footexam.marking.markers import DomainMarks, Markers
from footexam.marking.passmark import Angoff, PassMark
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
from footexam.reports.cohort_figures import estimate_words
from footexam.reports.cohort_plots import Plots, share_words
from footexam.reports.marking_page import Words, fixed

_DOMAINS = (0.3, 0.2, 0.25, 0.25)
_MOST_ROUNDS = 5
"""Rounds that a table shows, the last ones."""


class MarksParts:
    """The parts of one report that tell of marks; `anonymous` writes codes for judges."""

    def __init__(
        self,
        words: Words,
        drawn: Plots,
        standards: Sequence[tuple[str, PassMark]],
        *,
        anonymous: bool,
    ) -> None:
        self.words = words
        self.drawn = drawn
        self.given = standards
        judges = judge_codes([one for _, one in standards])
        self.judges: Mapping[str, str] = judges if anonymous else {name: name for name in judges}

    # --- the pass mark

    def standards(self) -> list[Block]:
        """The pass mark of each rubric with how steady it is."""
        if not self.given:
            return []
        words = self.words
        blocks: list[Block] = [Heading(words("standards"))]
        for name, one in self.given:
            rubric = words.catalogue.rubrics[name]
            told = " ".join(self.told(one))
            blocks.append(para(words("standard", rubric=words.say(rubric.label), told=told)))
            blocks += self._rounds(one.angoff)
            plot = self.drawn.borderline(rubric, one)
            blocks += [Space(4), Picture(plot.drawing)] if plot else []
        return blocks

    def told(self, one: PassMark) -> Iterator[str]:
        """The cut, what it rests on, what is added, and every warning."""
        words, found = self.words, one.borderline
        if one.cut is None:
            yield words("standard-none")
        elif one.angoff:
            yield self._judged(one.angoff[-1], len(one.angoff))
        elif one.se is None:
            yield words("standard-fixed", cut=fixed(one.cut, 1), of=f"{one.of:g}")
        else:
            yield self._regressed(one)
        if one.used is not None and one.used != one.cut:
            used = fixed(one.used, 1)
            yield words("standard-added", errors=f"{one.standard_errors:g}", used=used)
        if one.angoff:
            yield from map(words, one.angoff[-1].warnings)
        elif (found and one.cut is None) or (found and one.se is not None):
            yield from map(words, found.warnings)
        elif one.cut is None:
            yield words("standard-no-judges")

    def _regressed(self, one: PassMark) -> str:
        found = one.borderline
        if found is None or found.r_squared is None or one.cut is None or one.se is None:
            return ""
        return self.words(
            "standard-cut",
            cut=fixed(one.cut, 1),
            of=f"{one.of:g}",
            n=found.n,
            r2=fixed(found.r_squared),
            se=fixed(one.se),
            low=fixed(found.low or 0.0, 1),
            high=fixed(found.high or 0.0, 1),
            spacing=", ".join(f"{place:g}" for place in found.spacing),
        )

    def _judged(self, last: Angoff, rounds: int) -> str:
        """The cut by judges, with its interval where there are two."""
        words = self.words
        cut, of, n = fixed(last.cut or 0.0, 1), f"{last.of:g}", len(last.sums)
        if last.se is None or last.low is None or last.high is None:
            return words("standard-judge", cut=cut, of=of)
        se, low, high = fixed(last.se), fixed(last.low, 1), fixed(last.high, 1)
        figures = {"se": se, "low": low, "high": high}
        return words("standard-judges", cut=cut, of=of, n=n, rounds=rounds, **figures)

    def _rounds(self, rounds: Sequence[Angoff]) -> Iterator[Block]:
        """Each judge's sum round by round, and how far apart they were."""
        if not rounds:
            return
        words, shown = self.words, rounds[-_MOST_ROUNDS:]
        names = dict.fromkeys(name for one in shown for name in one.judges)
        rows = [[self.judges[name], *(_sum_of(one, name) for one in shown)] for name in names]
        rows.append([words("judges-mean"), *(_figure(one.cut) for one in shown)])
        rows.append([words("judges-apart"), *(_figure(apart(one)) for one in shown)])
        titles = (words("round", number=one.round) for one in shown)
        widths = (0.34, *(0.13 for _ in shown))
        cells = tuple(Row((cell(first, STRONG), *map(cell, rest))) for first, *rest in rows)
        yield para(words("judges-note"), style=SMALL)
        yield Table(widths, cells, header(words("judge"), *titles))

    # --- two markers

    def markers(self, found: Sequence[Markers]) -> list[Block]:
        """How first and second markers agree, rubric by rubric."""
        words = self.words
        blocks: list[Block] = []
        for one in found:
            rubric = words.catalogue.rubrics[one.rubric]
            told = " ".join(self._markers(one))
            blocks.append(para(words("standard", rubric=words.say(rubric.label), told=told)))
            labels = {domain.id: words.say(domain.label) for domain in rubric.domains}
            rows = tuple(self._domain(each, labels[each.domain]) for each in one.domains)
            heads = map(words, ("domain", "same-mark", "marks-kappa", "second-first"))
            blocks.append(Table(_DOMAINS, rows, header(*heads)))
        if not blocks:
            return []
        note = para(words("markers-note"), style=SMALL)
        return [Heading(words("markers")), note, *blocks]

    def _markers(self, one: Markers) -> Iterator[str]:
        words = self.words
        yield words("markers-size", n=one.examinations, students=one.students)
        if not (one.difference and one.lower and one.upper and one.icc):
            yield words("markers-no-totals")
            return
        key = _harder(one.difference)
        yield words(key, told=estimate_words(words, one.difference, _signed))
        lower, upper = (estimate_words(words, end, _signed) for end in (one.lower, one.upper))
        yield words("markers-limits", lower=lower, upper=upper)
        yield words("markers-icc", n=one.whole, told=estimate_words(words, one.icc))
        if one.same and one.verdicts:
            kappa = estimate_words(words, one.verdicts)
            yield words("markers-verdict", same=share_words(one.same), kappa=kappa)
        else:
            yield words("markers-no-cut")

    def _domain(self, one: DomainMarks, label: str) -> Row:
        words = self.words
        return Row(
            (
                cell(label),
                cell(share_words(one.same), SMALL_INK),
                cell(estimate_words(words, one.kappa), SMALL_INK),
                cell(estimate_words(words, one.difference, _signed), SMALL_INK),
            )
        )


def _harder(one: Estimate) -> str:
    """The phrase for second minus first; who marks harder is only said where 0 is ruled out."""
    if one.low is not None and one.low > 0:
        return "markers-milder"
    if one.high is not None and one.high < 0:
        return "markers-harder"
    return "markers-unclear"


def _signed(value: float) -> str:
    return f"+{fixed(value)}" if value > 0 else fixed(value)


def _figure(value: float | None) -> str:
    return "" if value is None else fixed(value, 1)


def _sum_of(one: Angoff, judge: str) -> str:
    """The sum of a judge in a round; empty for one who did not judge in it."""
    return _figure(dict(zip(one.judges, one.sums, strict=True)).get(judge))
