"""What the cohort page tells beside its table about the chosen row, in plots and in words."""

from collections.abc import Iterator

from footexam.desktop.cohort.data import MeasureLine, PlotLine, StandardLine, TermShown
from footexam.desktop.cohort.detail import Detail, Picture, with_mark, with_row
from footexam.desktop.cohort.rows import Place, sided
from footexam.desktop.cohort.words import WORDS


def plots_of(about: object) -> set[str]:
    """Which plots are shown beside a row."""
    if isinstance(about, MeasureLine):
        return {f"measure:{about.id}", "shares"}
    if isinstance(about, Place):
        return {f"measure:{about.measure.id}"}
    if isinstance(about, StandardLine):
        return {f"standard:{about.id}"}
    return {f"examiner:{about}"} if isinstance(about, int) else set()


def detail_of(shown: TermShown, level: object, about: object) -> Detail:
    """What is told of a row; `level` is what its table is about."""
    if isinstance(about, MeasureLine):
        return _measure(shown, about)
    if isinstance(about, Place):
        return _reading(shown, about, by_examiner=isinstance(level, int))
    if isinstance(about, StandardLine):
        return _standard(shown, about)
    if isinstance(about, int):
        return _examiner(shown, about)
    return Detail("", (), _nothing(shown, str(about)))


def _nothing(shown: TermShown, part: str) -> tuple[str, ...]:
    if part == "standards":
        return (WORDS["no-standards"],)
    if part == "measures":
        return (WORDS["nothing"],)
    return (WORDS["left-how"] if shown.left else WORDS["none-left"],)


def _measure(shown: TermShown, one: MeasureLine) -> Detail:
    """The differences of a measure, and its share among all."""
    pictures = [*_differences(shown, one), *_shares(shown, one)]
    told = [] if f"measure:{one.id}" in shown.plots else [_why_none(shown)]
    return Detail(one.name, pictures, [*one.told, *told])


def _why_none(shown: TermShown) -> str:
    """Whether a plot is still to come; the plots of students come after those of measures."""
    made = any(of.startswith("examiner:") for of in shown.plots)
    return WORDS["no-plot" if made else "plot-coming"]


def _differences(shown: TermShown, one: MeasureLine, at: int | None = None) -> Iterator[Picture]:
    plot = shown.plots.get(f"measure:{one.id}")
    drawing = plot.drawing() if plot else None
    if plot is None or drawing is None:
        return
    mark = plot.marks[at] if at is not None else None
    yield Picture(with_mark(drawing, mark) if mark else drawing, plot.told)


def _shares(shown: TermShown, one: MeasureLine) -> Iterator[Picture]:
    plot = shown.plots.get("shares")
    drawing = plot.drawing() if plot else None
    if plot is None or drawing is None:
        return
    if one.id in plot.rows:
        drawing = with_row(drawing, plot.rows[one.id])
    yield Picture(drawing, plot.told, WORDS["all-measures"])


def _reading(shown: TermShown, place: Place, *, by_examiner: bool) -> Detail:
    """A reading among those of its measure, and the rule that judged it."""
    one = place.reading
    who = shown.examiner(one.examiner)
    title = sided(place) if by_examiner else f"{sided(place)}: {who}"
    told = [WORDS[f"rule-{one.rule}"]]
    if one.allowed:
        told.insert(0, f"{WORDS['allowed']}: {one.allowed}")
    if one.slip:
        told.append(f"{WORDS['slip']}: {WORDS[f'slip-{one.slip}']}")
    return Detail(title, list(_differences(shown, place.measure, place.at)), told)


def _standard(shown: TermShown, one: StandardLine) -> Detail:
    plot = shown.plots.get(f"standard:{one.id}")
    return Detail(one.name, _alone(plot), one.told)


def _examiner(shown: TermShown, number: int) -> Detail:
    one = shown.lines[number]
    told = [
        WORDS["steady-one"].format(
            measure=each.measure, difference=each.difference, n=each.n, mean=each.mean
        )
        for each in one.steady
    ]
    if not told:
        told = [WORDS["steady-none" if one.looks else "steady-few"].format(looks=one.looks)]
    plot = shown.plots.get(f"examiner:{number}")
    return Detail(shown.examiner(number), _alone(plot), [*told, WORDS["spread-how"]])


def _alone(plot: PlotLine | None) -> list[Picture]:
    drawing = plot.drawing() if plot else None
    return [Picture(drawing, plot.told)] if plot and drawing else []
