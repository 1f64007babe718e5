"""A training table described: a chart of its weeks, lines on its end, and what is against them."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from footexam.catalogue.arguments import Hold
from footexam.catalogue.training import Remark
from footexam.drawing.load_chart import Bar, Heads, load_chart
from footexam.drawing.shapes import Drawing
from footexam.mechanics.diary import LOG, WEEKLY, Amount, Diary, Span, changes, diary
from footexam.mechanics.load import DAYS_A_WEEK
from footexam.reports.blocks import SMALL, SMALL_INK, Block, Picture, Row, Space, Table, para
from footexam.reports.cautions import caution_name
from footexam.reports.material import Material
from footexam.reports.values import score_words
from footexam.reports.words import date_words

MOST_LINES = 16
"""Lines of a chart; of more the latest."""

TABLES = frozenset({WEEKLY, LOG})
"""The measures that are described."""

HOLDING = frozenset({Hold.LOADING, Hold.IMPACT})
"""What a caution must hold back so that no change and no ratio is described."""

SPIKE = "session-spike-30-days"
CRITICISM = "criticism-of"

BESIDE = (0.62, 0.38)
"""Shares of the line: chart and description, and beside them what is known against them."""


@dataclass(frozen=True, slots=True)
class Training:
    """The chart, the same in words, the description line by line, and what is against it."""

    chart: Drawing
    chart_told: str
    lines: tuple[str, ...]
    against: tuple[Remark, ...]


def holding_names(material: Material) -> tuple[str, ...]:
    """The names of the open cautions that hold back loading, on whichever side."""
    found = (
        caution_name(one, material)
        for one in material.assessment.cautions
        if one.is_open and not HOLDING.isdisjoint(one.holds)
    )
    return tuple(dict.fromkeys(found))


def training(measure: str, material: Material) -> Training | None:
    """The description of a training table; None for other measures and where no load is known.

    While a caution that holds back loading is open, loads stand as history: no change, no ratio.
    """
    found = diary(measure, material.examination, material.catalogue)
    if found is None:
        return None
    held = holding_names(material)
    bars = _bars(found, material, told=not held)
    lines, about = [], ["load"]
    if held:
        lines.append(material.phrases("load-held", names="; ".join(held)))
    else:
        for subject, line in _described(found, material):
            lines.append(line)
            about.append(subject)
    lines += _notes(found, bars, material)
    bars = bars[-MOST_LINES:]
    return Training(
        load_chart(bars, _heads(found, bars, material)),
        _bars_told(found, bars, material),
        tuple(lines),
        _against(about, material),
    )


def training_blocks(measure: str, material: Material) -> list[Block]:
    """The same on paper, beneath the table of what was recorded; empty without a load."""
    found = training(measure, material)
    if found is None:
        return []
    against = tuple(para(_cited(one, measure, material), style=SMALL) for one in found.against)
    lines = (para(line, style=SMALL_INK) for line in found.lines)
    row = Row(((Picture(found.chart), *lines), against), lined=False)
    return [Table(BESIDE, (row,)), Space(6)]


def _cited(remark: Remark, measure: str, material: Material) -> str:
    """A remark with the number of its source."""
    label = material.label(measure)
    cite = material.citations.cite(remark.source, remark.provenance, CRITICISM, label)
    return f"{material.say(remark.text)}\u00a0{cite}"


# --- the chart


def _bars(found: Diary, material: Material, *, told: bool) -> list[Bar]:
    """A bar for each span; its change too where it is told."""
    return [
        Bar(
            _day(span, found, material),
            span.load,
            _load_words(span, found.amount, material),
            _change_words(change, material) if told and change is not None else "",
            span.whole,
        )
        for span, change in zip(found.spans, changes(found.spans), strict=True)
    ]


def _heads(found: Diary, bars: Iterable[Bar], material: Material) -> Heads:
    kind = "week" if found.measure == WEEKLY else "days"
    change = f"load-than-{kind}" if any(bar.change for bar in bars) else ""
    return Heads(
        material.phrases(f"load-of-{kind}"),
        material.phrases(f"load-amount-{found.amount}"),
        material.phrases(change) if change else "",
    )


def _bars_told(found: Diary, bars: Iterable[Bar], material: Material) -> str:
    """The chart in words, for those who do not see it."""
    heads = _heads(found, bars, material)
    parts = (", ".join(filter(None, (bar.day, bar.told, bar.change))) for bar in bars)
    return f"{heads.day}, {heads.load}: {'; '.join(parts)}"


def _day(span: Span, found: Diary, material: Material) -> str:
    """The day by which a week is called: its Monday, or the last of its seven days."""
    weekly = found.measure == WEEKLY
    return date_words(span.first if weekly else span.last, material.phrases)


def _load_words(span: Span, amount: Amount, material: Material) -> str:
    phrases = material.phrases
    if span.load is None:
        weeks, rest = divmod(span.days, DAYS_A_WEEK)
        if weeks == 1 and not rest:
            return phrases("not-recorded")
        if rest:
            return phrases("load-gap-days", count=span.days)
        return phrases("load-gap-weeks", count=weeks)
    load = _digits(span.load, amount)
    return load if span.whole else phrases("load-part", load=load)


def _digits(load: float, amount: Amount) -> str:
    """A load in whole units; kilometres with a tenth where it is not 0."""
    return f"{load:.1f}".removesuffix(".0") if amount is Amount.DISTANCE else f"{load:.0f}"


def _change_words(percent: float, material: Material) -> str:
    size = f"{abs(percent):.0f}"
    if size == "0":
        return material.phrases("load-same")
    return material.phrases("load-more" if percent > 0 else "load-less", percent=size)


# --- the description


def _described(found: Diary, material: Material) -> Iterator[tuple[str, str]]:
    """Each line with the subject of the criticism that belongs to it."""
    if found.week is not None:
        yield from _week_lines(found, found.week, material)
        yield from _ratio_lines(found, material)
    spike = score_words(SPIKE, None, material) if found.measure == LOG else ""
    if spike:
        window = material.measure(SPIKE).rule("window").at
        yield "spike", material.phrases("load-spike", percent=spike, window=window)


def _week_lines(found: Diary, week: Span, material: Material) -> Iterator[tuple[str, str]]:
    """The last whole week: its load and change, how even its days were."""
    phrases, last = material.phrases, found.described
    kind = "week" if found.measure == WEEKLY else "days"
    day, amount = _day(week, found, material), phrases(f"load-amount-{found.amount}")
    load = _digits(week.load or 0.0, found.amount)
    line = phrases(f"load-last-{kind}", day=day, load=load, amount=amount)
    if last.change_percent is not None:
        change = _change_words(last.change_percent, material)
        line = phrases(f"load-changed-{kind}", line=line, change=change)
    yield "change" if last.change_percent is not None else "load", f"{line}."
    if last.week.monotony is not None and last.week.strain is not None:
        even, strain = f"{last.week.monotony:.2f}", f"{last.week.strain:.0f}"
        yield "monotony", phrases("load-monotony", monotony=even, strain=strain)
    elif found.measure == LOG and found.amount is Amount.LOAD:
        yield "monotony", phrases("load-monotony-none")


def _ratio_lines(found: Diary, material: Material) -> Iterator[tuple[str, str]]:
    """Recent over usual load, three ways; why there is none where there is none."""
    phrases, last = material.phrases, found.described
    training = material.catalogue.training
    days = {name: training[f"{name}-days"].at for name in ("acute", "chronic")}
    if last.coupled is None:
        yield "load", phrases("load-no-ratio", **days)
        return
    yield "ratio", phrases("load-coupled", ratio=f"{last.coupled:.2f}", **days)
    if last.uncoupled is not None:
        yield "ratio", phrases("load-uncoupled", ratio=f"{last.uncoupled:.2f}", **days)
    if last.exponential is not None:
        yield "exponential", phrases("load-exponential", ratio=f"{last.exponential:.2f}", **days)


def _notes(found: Diary, bars: Sequence[Bar], material: Material) -> Iterator[str]:
    """What the reader must know of the chart."""
    if not all(bar.whole for bar in bars[-MOST_LINES:]):
        yield material.phrases("load-part-told")
    if found.measure == LOG:
        gap = material.catalogue.training["gap-days"].at
        yield material.phrases("load-rest", gap=gap)
    if len(bars) > MOST_LINES:
        yield material.phrases("load-earlier", count=len(bars) - MOST_LINES)


def _against(subjects: Iterable[str], material: Material) -> tuple[Remark, ...]:
    """The remarks on what is told, in the order of forms/."""
    told = set(subjects)
    return tuple(one for one in material.catalogue.remarks.values() if one.about in told)
