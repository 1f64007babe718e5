"""Measurement error: which figure is used, what repeats make of it, what change it needs.

Every figure is a standard error of measurement (SEM) in the unit of the measure. `repeats` is the
number of readings whose mean is the value.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot, sqrt

from footexam.catalogue.model import MDC_FACTOR, ErrorSize
from footexam.terms import Examiner


@dataclass(frozen=True, slots=True)
class Size:
    """The error of one reading, and the MDC95 where the source prints it."""

    sem: float
    mdc95: float | None = None

    @property
    def change(self) -> float:
        """Smallest change beyond error (95 %) between single readings; as printed if printed."""
        return MDC_FACTOR * self.sem if self.mdc95 is None else self.mdc95


@dataclass(frozen=True, slots=True)
class Errors:
    """Errors of the same and of another examiner; None where not known (S1: other >= same)."""

    same: Size | None = None
    other: Size | None = None

    def against_norm(self, repeats: int = 1) -> float | None:
        """SEM of the mean of the repeats against a norm (F3, F4); None without any figure.

        Repeats shrink only the same examiner's part, and nothing if only one figure is known.
        """
        if self.same is None or self.other is None:
            known = self.other or self.same
            return known.sem if known else None
        if repeats == 1:
            return self.other.sem
        same, other = self.same.sem, self.other.sem
        return sqrt(other * other - same * same + same * same / repeats)

    def between(self, same_examiner: bool, repeats: int) -> float | None:
        """SEM of one of two values that are compared with each other (F3, F4).

        Two values of one examiner share that examiner's bias, which cancels. None where the figure
        is missing; another examiner's error is never replaced by the smaller one of the same.
        """
        if not same_examiner:
            return self.against_norm(repeats) if self.other else None
        if self.same is None:
            return self.other.sem if self.other else None
        return self.same.sem / sqrt(repeats)

    def one_change(self, same_examiner: bool = True) -> float | None:
        """Change needed between two single readings (F9, S8)."""
        if not same_examiner:
            return self.other.change if self.other else None
        known = self.same or self.other
        return known.change if known else None


UNKNOWN = Errors()


@dataclass(frozen=True, slots=True)
class Doubt:
    """The error of one value in hand.

    `single` is the SEM of one reading, `taken` that of the repeats taken, `change` what a change
    between two single readings needs. All None where not known.
    """

    single: float | None
    taken: float | None
    change: float | None


def norm_doubt(errors: Errors, repeats: int) -> Doubt:
    """The error of a value against a norm."""
    return Doubt(errors.against_norm(), errors.against_norm(repeats), errors.one_change())


def pair_doubt(errors: Errors, *, same_examiner: bool, repeats: int) -> Doubt:
    """The error of one of two values that are compared with each other."""
    single, taken = (errors.between(same_examiner, count) for count in (1, repeats))
    return Doubt(single, taken, errors.one_change(same_examiner))


def change_needed(one: Doubt, other: Doubt) -> float | None:
    """Smallest difference beyond error (95 %) between two values, with the repeats taken (S8).

    Between single readings a printed MDC95 is used as printed. None where an error is not known.
    """
    if one.taken is None or other.taken is None:
        return None
    singles = one.taken == one.single and other.taken == other.single
    if singles and one.change == other.change:
        return one.change
    return 1.96 * hypot(one.taken, other.taken)


def choose(sizes: Iterable[ErrorSize], method: str | None) -> Errors:
    """The errors in use for a method: the method's own pair, else the pair for any method (S2)."""
    used = [size for size in sizes if size.used]
    own = [size for size in used if method and size.method == method]
    found = {size.examiner: size for size in own or [s for s in used if not s.method]}
    same, other = _size(found.get(Examiner.SAME)), _size(found.get(Examiner.OTHER))
    if same and other and other.sem < same.sem:
        # S1: two examiners cannot be surer than one.
        other = same
    return Errors(same, other)


def _size(figure: ErrorSize | None) -> Size | None:
    """A figure as Size; an error of nothing is no known error."""
    if figure is None:
        return None
    sem = figure.standard_error()
    printed = None if figure.mdc95 is None else float(figure.mdc95)
    return Size(sem, printed) if sem > 0.0 else None


def propagated(parts: Iterable[tuple[float, Errors, int]]) -> Doubt | None:
    """Error of a derived value from those of its inputs (F11, S7).

    Each part is an input's slope (first derivative), errors and repeats. One examiner read all
    inputs, so the same examiner's error counts and the errors are independent. None if an input
    has none.
    """
    single = taken = 0.0
    for slope, errors, repeats in parts:
        if errors.same is None:
            return None
        variance = (slope * errors.same.sem) ** 2
        single += variance
        taken += variance / repeats
    if single <= 0.0:
        return None
    return Doubt(sqrt(single), sqrt(taken), MDC_FACTOR * sqrt(single))
