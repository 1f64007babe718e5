"""Agreement of examiners, measure by measure: the way in to ICC, kappa, alpha, limits and SEM.

Tables of plain numbers go in, estimates with interval and n come out. Tables of one shape are
worked out together. numpy and scipy are imported at the first call, not before.
"""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from footexam.marking.change import Formula
from footexam.marking.estimate import CONFIDENCE, Estimate
from footexam.marking.tables import Table

if TYPE_CHECKING:
    from footexam.marking.batch import Floats
    from footexam.marking.bland_altman import Limits

Key = TypeVar("Key", bound=Hashable)
"""What tables are called by."""

_AT_ONCE = 4_000_000
"""Numbers that are worked out together, about."""


@dataclass(frozen=True, slots=True)
class LimitsShown:
    """Bias and limits of agreement, first minus second, in the unit of the measure.

    `slope` is the proportional bias, `slope_chance` the chance of one as steep by chance alone.
    """

    bias: Estimate
    sd: Estimate
    lower: Estimate
    upper: Estimate
    slope: Estimate
    slope_chance: float | None


@dataclass(frozen=True, slots=True)
class Quantity:
    """Agreement on a measure with a unit. `icc` by its form, as `ICC(2,1)`; errors by formula.

    `limits` is None where there are more than two examiners.
    """

    icc: Mapping[str, Estimate]
    sem: Mapping[Formula, Estimate]
    smallest_change: Mapping[Formula, Estimate]
    alpha: Estimate
    limits: LimitsShown | None


@dataclass(frozen=True, slots=True)
class Scale:
    """Agreement on an ordinal scale or a list of choices.

    `kappa` by its weights (`unweighted`, `linear`, `quadratic`), empty for more than two examiners.
    `fleiss` is None where readings are missing. `alpha` by its metric, `nominal` and `ordinal`.
    """

    kappa: Mapping[str, Estimate]
    fleiss: Estimate | None
    alpha: Mapping[str, Estimate]


def quantities(tables: Mapping[Key, Table], confidence: float = CONFIDENCE) -> dict[Key, Quantity]:
    """Agreement on measures with a unit, by the keys of `tables`.

    ValueError for a table with fewer than two examiners.
    """
    found: dict[Key, Quantity] = {}
    for keys, readings in _alike(tables.items()):
        found |= zip(keys, _quantities(readings, confidence), strict=True)
    return {key: found[key] for key in tables}


def scales(
    tables: Mapping[Key, Table],
    levels: Mapping[Key, Sequence[float]],
    confidence: float = CONFIDENCE,
) -> dict[Key, Scale]:
    """Agreement on scales, by the keys of `tables`; `levels` are all that a scale has, in order.

    ValueError for fewer than two examiners or levels, or a reading that is no level.
    """
    found: dict[Key, Scale] = {}
    for known in dict.fromkeys(tuple(levels[key]) for key in tables):
        same = [(key, table) for key, table in tables.items() if tuple(levels[key]) == known]
        for keys, readings in _alike(same, len(known) ** 2):
            found |= zip(keys, _scales(readings, known, confidence), strict=True)
    return {key: found[key] for key in tables}


def _alike(
    tables: Iterable[tuple[Key, Table]], width: int = 1
) -> Iterator[tuple[list[Key], "Floats"]]:
    """Tables with as many examiners and about as many subjects, as one array padded with gaps.

    `width` is how many numbers the work needs for each subject, beside its readings.
    """
    import numpy as np

    groups: dict[tuple[int, int], list[tuple[Key, Table]]] = {}
    for key, table in tables:
        shape = len(table.examiners), len(table.rows).bit_length()
        groups.setdefault(shape, []).append((key, table))
    for (examiners, bits), members in groups.items():
        step = max(1, _AT_ONCE // (examiners + width << bits))
        for start in range(0, len(members), step):
            some = members[start : start + step]
            longest = max(len(table.rows) for _, table in some)
            readings = np.full((len(some), longest, examiners), np.nan)
            for place, (_, table) in enumerate(some):
                if table.rows:
                    readings[place, : len(table.rows)] = np.array(table.rows, dtype=np.float64)
            yield [key for key, _ in some], readings


def _quantities(readings: "Floats", confidence: float) -> list[Quantity]:
    from footexam.marking import alpha, bland_altman, icc, sem
    from footexam.marking.mean_squares import mean_squares

    squares = mean_squares(readings)
    forms = icc.from_mean_squares(squares, confidence)
    sizes = sem.from_mean_squares(squares, confidence)
    formulas = (Formula.ERROR, Formula.AGREEMENT, Formula.WITHIN)
    errors = {formula: sizes.sem(formula) for formula in formulas}
    changes = {formula: sizes.change(formula) for formula in formulas}
    alphas = alpha.alpha(readings, alpha.Metric.INTERVAL, confidence=confidence)
    limits = None
    if readings.shape[-1] == 2:
        limits = bland_altman.limits(readings[..., 0], readings[..., 1], confidence)
    return [
        Quantity(
            icc={str(form): found.estimate(place) for form, found in forms.items()},
            sem={formula: found.estimate(place) for formula, found in errors.items()},
            smallest_change={formula: found.estimate(place) for formula, found in changes.items()},
            alpha=alphas.estimate(place),
            limits=_shown(limits, place) if limits else None,
        )
        for place in range(len(readings))
    ]


def _shown(limits: "Limits", place: int) -> LimitsShown:
    slope = limits.slope.estimate(place)
    return LimitsShown(
        bias=limits.bias.estimate(place),
        sd=limits.sd.estimate(place),
        lower=limits.lower.estimate(place),
        upper=limits.upper.estimate(place),
        slope=slope,
        slope_chance=None if slope.low is None else float(limits.slope_chance[place]),
    )


def _scales(readings: "Floats", levels: Sequence[float], confidence: float) -> list[Scale]:
    import numpy as np

    from footexam.marking import alpha, kappa
    from footexam.marking.fleiss import fleiss

    if readings.shape[-1] < 2:
        raise ValueError("agreement needs at least two examiners")
    known = np.asarray(levels, dtype=np.float64)
    kappas = {}
    if readings.shape[-1] == 2:
        places = _places(readings, known)
        counts = kappa.table(places[..., 0], places[..., 1], len(levels))
        kappas = {str(kind): kappa.kappa(counts, kind, confidence) for kind in kappa.Weights}
    metrics = (alpha.Metric.NOMINAL, alpha.Metric.ORDINAL)
    alphas = {str(metric): alpha.alpha(readings, metric, levels, confidence) for metric in metrics}
    gap = np.asarray(np.isnan(readings))
    incomplete = np.asarray(gap.any(axis=-1))
    chosen = np.where(incomplete[..., None, None], False, readings[..., None] == known)
    among = fleiss(chosen.sum(axis=-2).astype(np.float64), confidence).kappa
    partly = np.asarray((incomplete & ~gap.all(axis=-1)).any(axis=-1))
    return [
        Scale(
            kappa={kind: found.estimate(place) for kind, found in kappas.items()},
            fleiss=None if partly[place] else among.estimate(place),
            alpha={metric: found.estimate(place) for metric, found in alphas.items()},
        )
        for place in range(len(readings))
    ]


def _places(readings: "Floats", levels: "Floats") -> "Floats":
    """The place of each reading in the list of levels; ValueError for one that is not in it."""
    import numpy as np

    order = np.argsort(levels)
    found = order[np.minimum(np.searchsorted(levels[order], readings), levels.size - 1)]
    missing = np.isnan(readings)
    if (~missing & (levels[found] != readings)).any():
        raise ValueError("a reading is not in the list of levels")
    return np.where(missing, np.nan, found)
