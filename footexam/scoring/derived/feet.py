"""Derived measures of posture, arch, mobility and ankle range; lengths in mm, angles in degrees."""

from decimal import Decimal

from footexam.scoring.derived.result import Derived, Slopes, numbers, total
from footexam.scoring.visit import Visit
from footexam.terms import Side

FPI_ITEMS = (
    "fpi-talar-head",
    "fpi-malleolar-curves",
    "fpi-calcaneal-position",
    "fpi-talonavicular-bulge",
    "fpi-medial-arch",
    "fpi-forefoot-abduction",
)
NAVICULAR = ("navicular-height-neutral", "navicular-height-resting")
STANDING = ("dorsal-arch-height-standing", "truncated-foot-length")
SEATED = ("dorsal-arch-height-seated", "truncated-foot-length")
INDICES = ("arch-height-index-seated", "arch-height-index")
MOBILITY = (
    "dorsal-arch-height-seated",
    "dorsal-arch-height-standing",
    "midfoot-width-unloaded",
    "midfoot-width-standing",
)
LUNGES = ("lunge-angle-knee-bent-20", "lunge-angle-knee-straight")
TRAVELS = ("first-ray-dorsal-travel", "first-ray-plantar-travel")


def fpi_total(visit: Visit, side: Side) -> Derived | None:
    """Sum of the six items, -12 to +12 points; five items are no total (Redmond 2006)."""
    return total(visit, side, FPI_ITEMS)


def first_ray_total_travel(visit: Visit, side: Side) -> Derived | None:
    """Dorsal and plantar travel together, mm."""
    return total(visit, side, TRAVELS)


def navicular_drop(visit: Visit, side: Side) -> Derived | None:
    """Height in subtalar neutral less height at rest, mm."""
    return _difference(visit, side, NAVICULAR)


def gastrocnemius_difference(visit: Visit, side: Side) -> Derived | None:
    """Lunge with the knee bent 20 degrees less lunge with it straight, degrees."""
    return _difference(visit, side, LUNGES)


def _difference(visit: Visit, side: Side | None, pair: tuple[str, str]) -> Derived | None:
    found = numbers(visit, side, pair)
    return Derived(found[0] - found[1], pair) if found else None


def arch_height_index(visit: Visit, side: Side) -> Derived | None:
    """Dorsal arch height over truncated foot length, standing; a ratio."""
    index = _ratio(visit, side, STANDING)
    return None if index is None else Derived(index, STANDING)


def arch_height_index_seated(visit: Visit, side: Side) -> Derived | None:
    """Dorsal arch height over truncated foot length, seated; a ratio."""
    index = _ratio(visit, side, SEATED)
    return None if index is None else Derived(index, SEATED)


def arch_height_change(visit: Visit, side: Side) -> Derived | None:
    """Seated less standing arch height index: how much of its height the arch gives up."""
    seated, standing = _ratio(visit, side, SEATED), _ratio(visit, side, STANDING)
    return None if seated is None or standing is None else Derived(seated - standing, INDICES)


def _ratio(visit: Visit, side: Side, pair: tuple[str, str]) -> Decimal | None:
    found = numbers(visit, side, pair)
    return found[0] / found[1] if found and found[1] else None


def foot_mobility_magnitude(visit: Visit, side: Side) -> Derived | None:
    """Root of the summed squares of arch lowering and midfoot widening under load, mm."""
    found = numbers(visit, side, MOBILITY)
    if found is None:
        return None
    seated, standing, unloaded, loaded = found
    return Derived(((seated - standing) ** 2 + (loaded - unloaded) ** 2).sqrt(), MOBILITY)


def limb_length_difference(visit: Visit) -> Derived | None:
    """Longer less shorter limb, mm, never negative; short-side says which is short."""
    left = visit.number("limb-length", Side.LEFT)
    right = visit.number("limb-length", Side.RIGHT)
    if left is None or right is None:
        return None
    return Derived(abs(left - right), ("limb-length",))


def sum_slopes(*measures: str) -> "_Linear":
    """Slopes of a sum."""
    return _Linear(measures, (1.0,) * len(measures))


def difference_slopes(first: str, second: str) -> "_Linear":
    """Slopes of the first less the second."""
    return _Linear((first, second), (1.0, -1.0))


class _Linear:
    """Slopes of a sum or difference: they do not depend on the readings."""

    __slots__ = ("_measures", "_slopes")

    def __init__(self, measures: tuple[str, ...], slopes: tuple[float, ...]) -> None:
        self._measures = measures
        self._slopes = slopes

    def __call__(self, _visit: Visit, side: Side | None) -> Slopes:
        pairs = zip(self._measures, self._slopes, strict=True)
        return tuple(((measure, side), slope) for measure, slope in pairs)


def limb_slopes(_visit: Visit, _side: Side | None) -> Slopes:
    """Slopes of the difference of the limbs; its sign does not matter for the error."""
    return (("limb-length", Side.LEFT), 1.0), (("limb-length", Side.RIGHT), -1.0)


def ratio_slopes(upper: str, lower: str) -> "_Ratio":
    """Slopes of the first over the second."""
    return _Ratio(upper, lower)


class _Ratio:
    """Slopes of a ratio a / b: 1 / b and -a / b²."""

    __slots__ = ("_lower", "_upper")

    def __init__(self, upper: str, lower: str) -> None:
        self._upper = upper
        self._lower = lower

    def __call__(self, visit: Visit, side: Side | None) -> Slopes:
        upper, lower = _floats(visit, side, (self._upper, self._lower))
        return (
            ((self._upper, side), 1.0 / lower),
            ((self._lower, side), -upper / lower**2),
        )


def change_slopes(visit: Visit, side: Side | None) -> Slopes:
    """Slopes of (seated - standing) / length; both indices share the length."""
    seated, standing, length = _floats(visit, side, (SEATED[0], *STANDING))
    return (
        ((SEATED[0], side), 1.0 / length),
        ((STANDING[0], side), -1.0 / length),
        ((STANDING[1], side), -(seated - standing) / length**2),
    )


def mobility_slopes(visit: Visit, side: Side | None) -> Slopes:
    """Slopes of the mobility magnitude; none at 0, where it has no derivative."""
    seated, standing, unloaded, loaded = _floats(visit, side, MOBILITY)
    height, width = seated - standing, loaded - unloaded
    size = (height**2 + width**2) ** 0.5
    if size == 0.0:
        return ()
    slopes = (height / size, -height / size, -width / size, width / size)
    return tuple(((m, side), slope) for m, slope in zip(MOBILITY, slopes, strict=True))


def _floats(visit: Visit, side: Side | None, measures: tuple[str, ...]) -> list[float]:
    return [float(number) for number in numbers(visit, side, measures) or ()]
