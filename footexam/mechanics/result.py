"""A number worked out by mechanics: with its band, its unit, its class and what it rests on."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from itertools import product

from footexam.terms import Provenance

_WEAKEST_LAST = (
    Provenance.PUBLISHED,
    Provenance.PUBLISHED_UNCHECKED,
    Provenance.COMMON_PRACTICE,
    Provenance.ESTIMATE,
)


class Standing(StrEnum):
    """How far a number may be trusted.

    Geometry follows from what was measured. A model is sound physics with uncertain inputs. An
    estimate gives the order of magnitude and is always called one.
    """

    GEOMETRY = "geometry"
    MODEL = "model"
    ESTIMATE = "estimate"


@dataclass(frozen=True, slots=True)
class Span:
    """A usual value with the lowest and the highest that it may have, in one unit."""

    low: float
    usual: float
    high: float


@dataclass(frozen=True, slots=True)
class Part:
    """What one uncertain input alone does to a result, in the unit of the result."""

    name: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Spread:
    """A value with its band; `parts` say what each uncertain input adds to it by itself."""

    value: float
    low: float
    high: float
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True)
class Result:
    """A number for this person.

    `figures` are the names of the figures of forms/ that it rests on, `inputs` what was measured
    or chosen, `sources` those of the figures. `provenance` is that of the weakest figure, or None
    where only measured values went in. The band has every uncertain input at its end at once.
    """

    formula: str
    value: float
    low: float
    high: float
    unit: str
    standing: Standing
    provenance: Provenance | None
    sources: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    inputs: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()


def exactly(value: float) -> Span:
    """A value without a band of its own."""
    return Span(value, value, value)


def around(value: float, error: float) -> Span:
    """A value and an error to both sides, in the same unit."""
    return Span(value - error, value, value + error)


def around_percent(value: float, error_percent: float) -> Span:
    """A value and an error to both sides, % of the value."""
    return around(value, abs(value) * error_percent / 100)


def spread(work: Callable[..., float], **inputs: Span) -> Spread:
    """A formula of these inputs with the band that their spans imply.

    The formula is worked out at every combination of ends; for one that rises or falls steadily
    with each input, as ours do, nothing lies outside. Whatever the formula refuses is raised.
    """
    usual = {name: span.usual for name, span in inputs.items()}
    value = work(**usual)
    ends = [
        [(name, end) for end in dict.fromkeys((span.low, span.high))]
        for name, span in inputs.items()
    ]
    found = [work(**dict(corner)) for corner in product(*ends)]
    parts = []
    for name, span in inputs.items():
        if span.low < span.high:
            alone = [work(**{**usual, name: end}) for end in (span.low, span.high)]
            parts.append(Part(name, min(value, *alone), max(value, *alone)))
    return Spread(value, min(value, *found), max(value, *found), tuple(parts))


def weakest(found: tuple[Provenance, ...]) -> Provenance | None:
    """The provenance that was checked least; None for none."""
    return max(found, key=_WEAKEST_LAST.index, default=None)
