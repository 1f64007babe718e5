"""A judge: all that can be worked out before a reading is known, for one measure and person."""

from decimal import Decimal
from math import sqrt

from footexam.catalogue.model import Measure
from footexam.scoring import certainty, grid
from footexam.scoring.bands import EMPTY, Edge
from footexam.scoring.chances import NO_CHANCES, Chances
from footexam.scoring.errors import Doubt, Errors, norm_doubt
from footexam.scoring.normal import standing
from footexam.scoring.norms import Fitted
from footexam.scoring.results import BandShown, Finding, NormShown
from footexam.terms import WITHIN, Side

KEPT = 64
"""How many findings a judge keeps before it starts anew."""
NEAR_FACTOR = 1.96
"""A reading closer to the limit than 1.96 SEM is near it (F8)."""


class Judge:
    """Judges values of one measure and side, taken by one method from one person.

    Everything but the value is fixed, so findings are kept: after a key press only one value of an
    examination is new.
    """

    __slots__ = ("_doubts", "_found", "_judging", "errors", "measure", "method", "norms", "side")

    def __init__(
        self,
        measure: Measure,
        side: Side | None,
        method: str | None,
        norms: tuple[Fitted, ...],
        errors: Errors,
    ) -> None:
        """A judge with the norm groups that fit and the errors of the method."""
        self.measure = measure
        self.side = side
        self.method = method
        self.norms = norms
        self.errors = errors
        self._judging = next((norm for norm in norms if norm.judges), None)
        self._doubts: dict[int, Doubt] = {}
        self._found: dict[tuple[str, int, tuple[str, ...]], Finding] = {}

    def finding(self, value: Decimal, repeats: int = 1, inputs: tuple[str, ...] = ()) -> Finding:
        """What a value is worth that is the mean of so many repeats."""
        # By text, as 9 and 9.0 are equal but not written alike.
        key = str(value), repeats, inputs
        found = self._found.get(key)
        if found is None:
            if len(self._found) >= KEPT:
                self._found.clear()
            found = self._found[key] = self.judged(value, repeats, self.doubt(repeats), inputs)
        return found

    def doubt(self, repeats: int) -> Doubt:
        """The error of a value with so many repeats, by the measure's own figures."""
        if repeats not in self._doubts:
            self._doubts[repeats] = norm_doubt(self.errors, repeats)
        return self._doubts[repeats]

    def judged(
        self, value: Decimal, repeats: int, error: Doubt, inputs: tuple[str, ...] = ()
    ) -> Finding:
        """What a value is worth with this error; `inputs` are what it was worked out from."""
        scale = self._judging.scale if self._judging else EMPTY
        edge = scale.limit(value)
        state = scale.state(value) if edge else None
        chances = self.chances(value, edge, error) if edge else NO_CHANCES
        return Finding(
            measure=self.measure.id,
            side=self.side,
            value=value,
            unit=self.measure.unit,
            repeats=repeats,
            method=self.method,
            state=state,
            label=chances.label(state),
            basis=chances.basis if edge else None,
            probability=chances.with_norm,
            probability_error_only=chances.error_only,
            limit=edge.limit if edge else None,
            operator=edge.op if edge else None,
            near_limit=_near(value, edge, error) if edge else None,
            change_needed=error.change,
            inputs=inputs,
            norms=self._shown(value, edge),
            prior=chances.before,
        )

    def chances(self, value: Decimal, edge: Edge, error: Doubt) -> Chances:
        """Chances that the true value is beyond the edge, on its side (F5, F6)."""
        if error.taken is None or error.single is None:
            return NO_CHANCES
        reading, norm = float(value), self._judging
        flat = self._beyond(reading, error.taken, edge, None)
        if norm is None or norm.mean is None or norm.sd is None:
            return Chances(None, flat)
        variance = certainty.true_variance(norm.sd, error.single)
        if variance is None:
            return Chances(None, flat)
        prior = norm.mean, variance
        beyond = certainty.chance_above if edge.above else certainty.chance_below
        before = beyond(norm.mean, sqrt(variance), edge.point)
        return Chances(self._beyond(reading, error.taken, edge, prior), flat, before)

    def _beyond(
        self, reading: float, sem: float, edge: Edge, prior: tuple[float, float] | None
    ) -> float:
        """Chance beyond an edge; without mean and variance as prior from the error alone."""
        if self.measure.ordinal:
            scale = ends(self.measure)
            chances = grid.cells(reading, sem, scale, prior)
            beyond = grid.chance_above if edge.above else grid.chance_below
            return beyond(chances, scale[0], edge.point)
        centre, sd = certainty.posterior(reading, *prior, sem) if prior else (reading, sem)
        chance = certainty.chance_above if edge.above else certainty.chance_below
        return chance(centre, sd, edge.point)

    def _shown(self, value: Decimal, edge: Edge | None) -> tuple[NormShown, ...]:
        """The norms beside the value; of the judging one the source of the limit in hand."""
        return tuple(_norm_shown(norm, value, edge) for norm in self.norms)

    def bands(self, value: Decimal) -> tuple[BandShown, ...]:
        """The band of every set that fits, the judging one marked as default."""
        return tuple(
            _band_shown(norm, value) for norm in self.norms if norm.scale.limit(value) is not None
        )


def ends(measure: Measure) -> tuple[int, int]:
    """Lowest and highest point of an ordinal scale; ValueError without hard limits."""
    if measure.hard_low is None or measure.hard_high is None:
        raise ValueError(f"{measure.id} is ordinal: it needs both hard limits")
    return int(measure.hard_low), int(measure.hard_high)


def _near(value: Decimal, edge: Edge, error: Doubt) -> bool | None:
    """Whether the value is closer to the cut than its error allows to tell (F8)."""
    if error.taken is None:
        return None
    return abs(float(value) - edge.point) < NEAR_FACTOR * error.taken


def _norm_shown(norm: Fitted, value: Decimal, edge: Edge | None) -> NormShown:
    z = centile = None
    if norm.mean is not None and norm.sd is not None:
        z, centile = standing(float(value), norm.mean, norm.sd)
    own = edge if norm.judges else None
    return NormShown(
        set=norm.set.id,
        group=norm.group.id,
        mean=norm.mean,
        sd=norm.sd,
        n=norm.group.n,
        source=(own.source if own else "") or norm.set.source,
        provenance=(own.provenance if own else None) or norm.set.provenance,
        judged=own is not None,
        z=z,
        centile=centile,
    )


def _band_shown(norm: Fitted, value: Decimal) -> BandShown:
    edge = norm.scale.crossed(value)
    return BandShown(
        set=norm.set.id,
        band=edge.state if edge else WITHIN,
        source=(edge.source if edge else "") or norm.set.source,
        provenance=(edge.provenance if edge else None) or norm.set.provenance,
        default=norm.judges,
    )
