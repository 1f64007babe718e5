"""Room in the shoe: what lies on top of each other under heel and forefoot, and what is left."""

from collections.abc import Sequence
from dataclasses import dataclass

from footexam.mechanics.reach import above, not_below_zero, within

_HAIR = 1e-9
"""What sums of floats may be off by, mm."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A layer of the device: what it is, its thickness (mm) and its strain under load (0 to 1)."""

    name: str
    thickness_mm: float
    strain: float = 0


@dataclass(frozen=True, slots=True)
class ForefootRoom:
    """The room over the toes: what is left (mm), and whether that is enough.

    `margin_mm` and `fits` are None where something was not measured; `missing` says what.
    """

    stack_mm: float
    margin_mm: float | None
    fits: bool | None
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HeelRoom:
    """The counter that is left above the device.

    `left_mm` and its share of the counter as it was, `left_percent`; `over_mm` how much the stack
    is too high, 0 where it fits. None where something was not measured; `missing` says what.
    """

    stack_mm: float
    left_mm: float | None
    left_percent: float | None
    fits: bool | None
    over_mm: float | None
    missing: tuple[str, ...] = ()


def stack_mm(pieces: Sequence[Piece]) -> float:
    """The height of layers on each other under load.

    Σ t · (1 - ε), with t thickness (mm) and ε strain of each layer.
    Assumes: each layer covers the whole zone.
    Holds: t from 0, ε from 0 to 0.9.
    Class: geometry. Source: definition.
    """
    for piece in pieces:
        not_below_zero(f"The thickness of {piece.name}", piece.thickness_mm, "mm")
        within(f"The strain of {piece.name}", piece.strain, 0, 0.9)
    return sum((piece.thickness_mm * (1 - piece.strain) for piece in pieces), 0.0)


def forefoot_room(
    pieces: Sequence[Piece],
    depth_mm: float | None,
    insole_mm: float | None,
    foot_mm: float | None,
    sock_mm: float,
    least_mm: float,
) -> ForefootRoom:
    """Whether toes and forefoot have room over the device; None stands for not measured.

    margin = depth + insole removed - foot - sock - stack, all in mm; it fits from `least_mm` on.
    Assumes: the depth was gauged with the insole in place, and the insole comes out (else 0).
    Holds: measures from 0.
    Class: geometry. Source: own rule, figure “toe-room”.
    """
    stack = stack_mm(pieces)
    known = {
        "shoe-forefoot-depth": depth_mm,
        "shoe-insole-thickness": insole_mm,
        "forefoot-height": foot_mm,
    }
    not_below_zero("The sock", sock_mm, "mm")
    missing = _missing(known)
    if depth_mm is None or insole_mm is None or foot_mm is None:
        return ForefootRoom(stack, None, None, missing)
    margin = depth_mm + insole_mm - foot_mm - sock_mm - stack
    return ForefootRoom(stack, margin, margin >= least_mm - _HAIR)


def heel_room(
    pieces: Sequence[Piece],
    counter_mm: float | None,
    insole_mm: float | None,
    least_share: float,
) -> HeelRoom:
    """Whether the counter still holds the heel over the device; None stands for not measured.

    left = counter + insole removed - stack (mm), and left / counter · 100 (%).
    Assumes: the counter was gauged with the insole in place, and the insole comes out (else 0);
    the heel does not slip, which is seen and not worked out.
    Holds: counter above 0, insole from 0.
    Class: geometry, with a rule of thumb for how much must be left. Source: own rule, figure
    “heel-counter-share”.
    """
    stack = stack_mm(pieces)
    missing = _missing({"shoe-heel-depth": counter_mm, "shoe-insole-thickness": insole_mm})
    if counter_mm is None or insole_mm is None:
        return HeelRoom(stack, None, None, None, None, missing)
    above("The depth of the counter", counter_mm, "mm")
    left = counter_mm + insole_mm - stack
    over = max(0.0, counter_mm * least_share - left)
    return HeelRoom(stack, left, 100 * left / counter_mm, over <= _HAIR, over)


def highest_lift_mm(
    others: Sequence[Piece], counter_mm: float, insole_mm: float, least_share: float
) -> float:
    """The highest lift that the counter allows beside the other pieces; 0 where there is no room.

    h = max(0, counter · (1 - k) + insole - Σ t · (1 - ε)), with k the share to be left (0 to 1).
    Assumes: as heel_room; a lift that gives way may be higher by what it loses.
    Holds: as heel_room.
    Class: geometry, with a rule of thumb. Source: as heel_room.
    """
    above("The depth of the counter", counter_mm, "mm")
    not_below_zero("The insole", insole_mm, "mm")
    within("The share to be left", least_share, 0, 1)
    return max(0.0, counter_mm * (1 - least_share) + insole_mm - stack_mm(others))


def displaced_volume_cm3(area_cm2: float, thickness_mm: float) -> float:
    """The room that a device takes, to compare with the insole that comes out.

    V = A · t / 10, with A area (cm²) and t mean thickness (mm).
    Assumes: a mean thickness speaks for the whole.
    Holds: A above 0, t from 0.
    Class: geometry. Source: definition.
    """
    above("The area", area_cm2, "cm2")
    not_below_zero("The mean thickness", thickness_mm, "mm")
    return area_cm2 * thickness_mm / 10


def _missing(known: dict[str, float | None]) -> tuple[str, ...]:
    for name, value in known.items():
        if value is not None:
            not_below_zero(name, value, "mm")
    return tuple(name for name, value in known.items() if value is None)
