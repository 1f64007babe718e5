"""How sure a value beyond a limit is: from two chances to a basis and a label."""

from dataclasses import dataclass
from math import inf

from footexam.terms import WITHIN, Basis, Label

LIKELY_WITH_NORM, POSSIBLE_WITH_NORM = 0.80, 0.50
"""Chances from which a finding is likely or possible, with a prior (F7, S14)."""
LIKELY_ERROR_ONLY, POSSIBLE_ERROR_ONLY = 0.95, 0.80
"""The same from measurement error alone (F7)."""


@dataclass(frozen=True, slots=True)
class Chances:
    """Chance that the true value is beyond a limit: with the norm as prior, and without.

    `before` is the chance of that in the norm group before the reading was taken.
    """

    with_norm: float | None
    error_only: float | None
    before: float | None = None

    @property
    def basis(self) -> Basis:
        """What a label can rest on (S6)."""
        if self.with_norm is not None:
            return Basis.NORM
        return Basis.NONE if self.error_only is None else Basis.ERROR_ONLY

    def label(self, state: str | None) -> Label:
        """How sure a state is (F7); one beyond the limit is to be repeated if no error is known."""
        if state is None:
            return Label.NOT_JUDGED
        if state == WITHIN:
            return Label.WITHIN
        if self.with_norm is not None:
            return _label(self.with_norm, LIKELY_WITH_NORM, POSSIBLE_WITH_NORM)
        chance = -inf if self.error_only is None else self.error_only
        return _label(chance, LIKELY_ERROR_ONLY, POSSIBLE_ERROR_ONLY)


def _label(chance: float, likely: float, possible: float) -> Label:
    if chance >= likely:
        return Label.LIKELY
    return Label.POSSIBLE if chance >= possible else Label.REPEAT


NO_CHANCES = Chances(None, None)
"""Where no error is known."""
