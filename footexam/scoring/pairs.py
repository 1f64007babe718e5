"""Two values of one measure against each other: left and right, or two visits."""

from collections.abc import Iterable
from decimal import Decimal
from math import hypot

from footexam.catalogue.model import Cut, DifferenceNorm, Measure
from footexam.scoring import certainty, grid
from footexam.scoring.bands import LIMIT_FACTOR, Edge, Scale, edge
from footexam.scoring.chances import NO_CHANCES, Chances
from footexam.scoring.errors import Doubt, Errors, change_needed, pair_doubt
from footexam.scoring.judge import KEPT, ends
from footexam.scoring.norms import fits_method
from footexam.scoring.results import Difference

OUTSIDE = "outside"
"""State beyond 1.96 SD of the differences, where no cut is printed."""

_DIGITS = 12
"""Means of repeats are compared with a limit after this many decimals: 1.9 and not 1.8999...9."""

Value = tuple[Decimal, int]
"""A value and the repeats it is the mean of."""


def settled(difference: Decimal) -> Decimal:
    """The size of a difference, rid of what dividing by the repeats left in its last digits."""
    return round(abs(difference), _DIGITS)


def reached(difference: Decimal, needed: float | None) -> bool | None:
    """Whether a difference is at least what error alone can make (F9, S8); None without error."""
    return None if needed is None else settled(difference) >= Decimal(repr(needed))


class PairJudge:
    """Judges left against right of one measure taken by one method (S9)."""

    __slots__ = ("_found", "_norm", "_scale", "errors", "measure")

    def __init__(
        self,
        measure: Measure,
        method: str | None,
        norms: Iterable[DifferenceNorm],
        errors: Errors,
    ) -> None:
        """The first norm that fits the method judges."""
        self.measure = measure
        self.errors = errors
        self._norm = next((norm for norm in norms if fits_method(norm.methods, method)), None)
        self._scale = _scale(self._norm, measure.ordinal)
        self._found: dict[tuple[str, int, str, int], Difference] = {}

    def difference(self, left: Value, right: Value) -> Difference:
        """Left minus right, both read by one examiner."""
        key = str(left[0]), left[1], str(right[0]), right[1]
        found = self._found.get(key)
        if found is None:
            if len(self._found) >= KEPT:
                self._found.clear()
            doubts = (
                pair_doubt(self.errors, same_examiner=True, repeats=left[1]),
                pair_doubt(self.errors, same_examiner=True, repeats=right[1]),
            )
            found = self._found[key] = self.judged(left[0], right[0], doubts)
        return found

    def judged(self, left: Decimal, right: Decimal, doubts: tuple[Doubt, Doubt]) -> Difference:
        """Left minus right with the error of each."""
        difference = left - right
        limit = self._scale.high[0] if self._scale.high else None
        state = self._scale.state(settled(difference)) if limit else None
        chances = self._chances(left, right, doubts, limit)
        change = change_needed(*doubts)
        return Difference(
            measure=self.measure.id,
            left=left,
            right=right,
            difference=difference,
            change_needed=change,
            beyond_error=reached(difference, change),
            usual_limit=limit.limit if limit else None,
            operator=limit.op if limit else None,
            state=state,
            label=chances.label(state),
            probability=chances.with_norm,
            probability_error_only=chances.error_only,
        )

    def _chances(
        self, left: Decimal, right: Decimal, doubts: tuple[Doubt, Doubt], limit: Edge | None
    ) -> Chances:
        """Chance that the true difference is beyond the usual limit, on either side."""
        one, other = doubts
        if limit is None or one.taken is None or other.taken is None:
            return NO_CHANCES
        cut = limit.point
        if self.measure.ordinal:
            cells = grid.cells(float(left), one.taken, ends(self.measure))
            others = grid.cells(float(right), other.taken, ends(self.measure))
            return Chances(None, grid.chance_apart(cells, others, cut))
        difference, error = float(left - right), hypot(one.taken, other.taken)
        flat = certainty.chance_apart(difference, error, cut)
        return Chances(self._with_norm(difference, error, cut, doubts), flat)

    def _with_norm(
        self, difference: float, error: float, cut: float, doubts: tuple[Doubt, Doubt]
    ) -> float | None:
        """The same with the spread of differences as prior around 0; None where it is not known."""
        one, other = doubts[0].single, doubts[1].single
        if self._norm is None or self._norm.sd is None or one is None or other is None:
            return None
        variance = certainty.true_variance(float(self._norm.sd), hypot(one, other))
        if variance is None:
            return None
        centre, sd = certainty.posterior(difference, 0.0, variance, error)
        return certainty.chance_apart(centre, sd, cut)


def _scale(norm: DifferenceNorm | None, ordinal: bool) -> Scale:
    """Cuts on the absolute difference as printed, else 1.96 SD of the differences."""
    if norm is None:
        return Scale((), ())
    cuts = norm.cuts
    if not cuts and norm.sd is not None:
        cuts = (Cut(">", LIMIT_FACTOR * norm.sd, OUTSIDE),)
    return Scale((), tuple(edge(cut, ordinal) for cut in cuts))
