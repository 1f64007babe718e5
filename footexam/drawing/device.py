"""The side view of a device to scale: foot, shell, posts, lift, cover and the room in the shoe.

Drawn from the inner side on a flat base; toes to the left for the right foot, as one sees it.
"""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from footexam.drawing.device_parts import (
    LEADING,
    POINTS,
    Device,
    Style,
    Tag,
    broken,
    filled,
    foot_notes,
    legend,
    lines,
    rough,
    scale_bar,
    tags,
    words,
)
from footexam.drawing.outlines import view_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing, Line, Point, Polygon, Shape
from footexam.drawing.wrapped import Width
from footexam.terms import Side

EDGE = 14.0
"""Room before the toes and behind the heel, mm."""
TALL = 0.30
"""How much of the foot is drawn, as a share of its length."""
HEEL = 0.25
"""The back of the foot that is taken for the heel, as a share of its length."""
CLEARANCE = 3.0
"""Between the arch of the foot and the shell as it is drawn where none was chosen, mm."""
SKETCHED = 3.0
"""Thickness of a shell as it is drawn where none was chosen, mm."""
FOREFOOT = (
    "lateral-forefoot-extension",
    "first-ray-extension",
    "forefoot-post-medial",
    "forefoot-post-lateral",
)
"""What raises the forefoot."""
ROW = 22.0
"""Room for the numbers, points."""


def side_view(
    device: Device,
    *,
    scale: float = 2.0,
    language: str = "en",
    measure: Width = rough,
    with_legend: bool = True,
) -> Drawing:
    """The view at 1:`scale` on paper; `measure` gives the width of a text for its line breaks.

    `with_legend` False: a table beside it tells what the numbers and lines are.
    """
    made = _Side(device, scale)
    width = made.width
    title = words("side", language, foot=words(device.side.value, language))
    head, top = lines([title], 0.0, width, measure, bold=True)
    made.top = top + 4.0
    shapes = [*made.shapes(), *head]
    shapes += tags(made.tags, made.ground + ROW / 2 + 3.0, 0.0, width)
    bar, y = scale_bar(made.ground + ROW + 4.0, scale, language)
    told = [*_notes(device, language), *_room(device, language)]
    if with_legend:
        told = [*legend(device, language), *told, *_drawn(device, language)]
    notes, y = lines(told, y + 2.0, width, measure)
    return Drawing(width, y + 0.2 * LEADING, (*shapes, *bar, *notes))


def _notes(device: Device, language: str) -> list[str]:
    told = foot_notes(device, language)
    if device.has_shell and not device.mm("shell-thickness", "thickness"):
        told.append(words("open-shell", language))
    if device.has("rearfoot-post-lateral") and not device.has("rearfoot-post-medial"):
        told.append(words("outer", language))
    return told


def _room(device: Device, language: str) -> list[str]:
    """Whether the shoe was measured, and where the device does not fit."""
    shoe = device.shoe
    told = []
    if shoe.heel is None and shoe.toes is None:
        told.append(words("no-shoe", language))
    rooms = (("heel", shoe.heel_room), ("toes", shoe.forefoot_room))
    tight = [words(name, language) for name, room in rooms if room and room.fits is False]
    if tight:
        told.append(words("tight", language, where=", ".join(tight)))
    return told


def _drawn(device: Device, language: str) -> list[str]:
    """What the broken line is, and what is to scale; told where no table stands beside."""
    shoe = device.shoe
    told = [words("form", language)]
    if shoe.heel is not None or shoe.toes is not None:
        heel, toes = (_mm(depth, language) for depth in (shoe.heel, shoe.toes))
        told.insert(0, words("shoe", language, heel=heel, toes=toes))
    return told


def _mm(depth: float | None, language: str) -> str:
    if depth is None:
        return words("unknown", language)
    return words("mm", language, value=f"{depth:g}")


@dataclass(frozen=True, slots=True)
class _Base:
    """The inner side of the foot in shares of its length: outline, sole, back of the heel."""

    outline: tuple[Point, ...]
    sole: tuple[Point, ...]
    back: tuple[Point, ...]


@cache
def _base() -> _Base:
    points = view_of("medial", Side.RIGHT).outlines[0]
    right = max(x for x, _ in points)
    left = min(x for x, y in points if y > 100)
    low = max(y for _, y in points)
    long = right - left
    shared = tuple(((right - x) / long, (low - y) / long) for x, y in points)
    sole = tuple((x, _lowest(shared, x)) for x in (0.005 + 0.99 * step / 80 for step in range(81)))
    heel = [point for point in shared if point[0] < HEEL]
    seat = min(z for _, z in heel) + 0.003
    back = tuple((_rearmost(shared, z), z) for z in (seat + 0.01 * step for step in range(26)))
    outline = tuple(_below(shared, TALL))
    return _Base(outline, sole, back)


def _lowest(points: Sequence[Point], x: float) -> float:
    return min(_crossed(points, x, 0), default=0.0)


def _rearmost(points: Sequence[Point], z: float) -> float:
    return min((x for x in _crossed(points, z, 1) if x < HEEL), default=0.0)


def _crossed(points: Sequence[Point], at: float, axis: int) -> list[float]:
    """The other coordinate where an outline crosses a value of one coordinate."""
    found = []
    for one, other in zip(points, (*points[1:], points[0]), strict=True):
        if (one[axis] > at) != (other[axis] > at):
            share = (at - one[axis]) / (other[axis] - one[axis])
            found.append(one[1 - axis] + share * (other[1 - axis] - one[1 - axis]))
    return found


def _below(points: Sequence[Point], most: float) -> list[Point]:
    """The part of a figure below a height."""
    kept: list[Point] = []
    for one, other in zip(points, (*points[1:], points[0]), strict=True):
        if one[1] <= most:
            kept.append(one)
        if (one[1] <= most) != (other[1] <= most):
            share = (most - one[1]) / (other[1] - one[1])
            kept.append((one[0] + share * (other[0] - one[0]), most))
    return kept


def _ramp(x: float, full: float, none: float) -> float:
    """1 up to `full`, falling to 0 at `none`."""
    share = (none - x) / (none - full)
    return 0.0 if share < 0.0 else min(share, 1.0)


class _Side:
    """One side view being drawn: heights in mm above the base by the distance from the heel."""

    def __init__(self, device: Device, scale: float) -> None:
        self.device = device
        self.long = device.foot.length
        self.factor = POINTS / scale
        self.width = (self.long + 2 * EDGE) * self.factor
        self.top = 0.0
        self.tags: list[Tag] = []
        mm = device.mm
        self.lift = mm("heel-lift", "height") + mm("limb-length-raise", "in-shoe-height")
        self.lift += mm("prefabricated-orthosis", "lift")
        posts = (mm("rearfoot-post-medial", "height"), mm("rearfoot-post-lateral", "height"))
        self.post = max(posts)
        self.plate = mm("stiff-forefoot-insert", "thickness")
        self.shell = (mm("shell-thickness", "thickness") or SKETCHED) if device.has_shell else 0.0
        self.cover = mm("cover-material", "thickness") or mm(
            "total-contact-insole", "forefoot-thickness"
        )
        self.clear = mm("arch-contour-height", "clearance") or CLEARANCE
        self.added = max(mm(name, "height") for name in FOREFOOT)
        self.front = device.front
        self.ends = self._cover_end()
        self.xs = [x for x, _ in _base().sole]
        shoe = device.shoe
        self.tall = max(
            TALL * self.long + self.under(0.0) + self.cover + 2.0,
            *(depth + 4.0 for depth in (shoe.heel, shoe.toes) if depth is not None),
            0.0,
        )

    @property
    def ground(self) -> float:
        """The y of the base."""
        return self.top + self.tall * self.factor

    def at(self, x: float, z: float) -> Point:
        """A point in mm as it is drawn."""
        along = (EDGE + x) * self.factor
        if self.device.side is Side.RIGHT:
            along = self.width - along
        return along, self.ground - z * self.factor

    def _cover_end(self) -> float:
        mm = self.device.mm
        if self.device.has("total-contact-insole"):
            return 0.97 * self.long
        if self.device.has("cover-length"):
            return 0.80 * self.long - mm("cover-length", "ends-behind-toe-webs")
        return self.front

    # --- heights

    def lifted(self, x: float) -> float:
        """Plate and lift, whole under the heel and thin at the front edge."""
        return self.plate + self.lift * _ramp(x, 0.20 * self.long, self.front)

    def posted(self, x: float) -> float:
        """The top of the rearfoot post."""
        return self.lifted(x) + self.post * _ramp(x, 0.22 * self.long, 0.29 * self.long)

    def arch(self, x: float) -> float:
        """The arch of the shell over its base."""
        if not 0.22 * self.long < x < self.front or not self.shell:
            return 0.0
        return max(0.0, self.sole(x) - self.clear)

    def sole(self, x: float) -> float:
        """The sole of the foot over flat ground."""
        share = x / self.long
        place = min(len(self.xs) - 1, max(1, bisect_right(self.xs, share)))
        (x1, z1), (x2, z2) = _base().sole[place - 1], _base().sole[place]
        part = min(1.0, max(0.0, (share - x1) / (x2 - x1)))
        return (z1 + part * (z2 - z1)) * self.long

    def under(self, x: float) -> float:
        """What is between base and foot, without arch and cover."""
        shell = self.shell * _ramp(x, self.front - 2.0, self.front + 4.0)
        return self.posted(x) + shell + self._added(x)

    def _added(self, x: float) -> float:
        """Extensions and posts of the forefoot."""
        return self.added * (1.0 - _ramp(x, self.front, self.front + 8.0))

    def risen(self, x: float) -> float:
        """How much the foot stands above flat ground."""
        cover = self.cover * _ramp(x, self.ends - 1.0, self.ends + 4.0)
        return self.under(x) + cover

    # --- parts

    def shapes(self) -> list[Shape]:
        """All of the view but its numbers and words."""
        base = [self.at(-EDGE + 2.0, 0.0), self.at(self.long + EDGE - 2.0, 0.0)]
        return [
            *self._foot(),
            *self._plate(),
            *self._lift(),
            *self._post(),
            *self._cover(),
            *self._shell(),
            *self._skive(),
            *self._forefoot(),
            *self._shoe(),
            Line(*base[0], *base[1], Ink.INK, 1.2),
        ]

    def tag(self, feature: str, x: float, z: float) -> None:
        """Notes where the number of a chosen feature points to."""
        number = self.device.numbers.get(feature)
        if number is not None:
            self.tags.append(Tag(number, self.at(x, z)))

    def _foot(self) -> list[Shape]:
        points = [
            self.at(x * self.long, z * self.long + self.risen(x * self.long))
            for x, z in _base().outline
        ]
        return [Polygon(tuple(points), fill=Ink.SURFACE, stroke=Ink.BORDER, line_width=1.2)]

    def _band(
        self,
        start: float,
        end: float,
        low: Callable[[float], float],
        high: Callable[[float], float],
        style: Style,
    ) -> list[Shape]:
        """What lies between two heights from one place to another."""
        xs = [start + (end - start) * step / 24 for step in range(25)]
        upper = [self.at(x, high(x)) for x in xs]
        lower = [self.at(x, low(x)) for x in reversed(xs)]
        return filled([*upper, *lower], style)

    def _plate(self) -> list[Shape]:
        if not self.plate:
            return []
        self.tag("stiff-forefoot-insert", 0.9 * self.long, self.plate / 2)
        return self._band(0.0, 0.98 * self.long, _nothing, lambda _: self.plate, Style.LEVEL)

    def _lift(self) -> list[Shape]:
        if not self.lift:
            return []
        for place, name in enumerate(("heel-lift", "limb-length-raise", "prefabricated-orthosis")):
            self.tag(name, (0.12 + 0.06 * place) * self.long, self.plate + self.lift / 2)
        return self._band(
            0.03 * self.long, self.front, lambda _: self.plate, self.lifted, Style.RISING
        )

    def _post(self) -> list[Shape]:
        if not self.post:
            return []
        self.tag("rearfoot-post-medial", 0.20 * self.long, self.posted(0.0) - self.post / 2)
        self.tag("rearfoot-post-lateral", 0.24 * self.long, self.posted(0.0) - self.post / 3)
        inner = self.device.has("rearfoot-post-medial")
        style = Style.FALLING if inner else Style.OPEN
        return self._band(0.03 * self.long, 0.29 * self.long, self.lifted, self.posted, style)

    def _shell(self) -> list[Shape]:
        if not self.device.has_shell:
            return []
        known = self.device.mm("shell-thickness", "thickness") > 0
        cup = self.device.mm("heel-cup-depth", "depth")
        wall = [
            (x * self.long, z * self.long) for x, z in _base().back if z * self.long <= cup + 0.5
        ]
        seat = self.posted(0.0) + self.shell
        start = wall[0][0] if wall else 0.05 * self.long
        xs = [start + (self.front - start) * step / 40 for step in range(41)]
        inner = [self.at(x, z + seat) for x, z in reversed(wall)]
        outer = [self.at(x - self.shell, z + seat - self.shell) for x, z in wall]
        top = [self.at(x, self.posted(x) + self.shell + self.arch(x)) for x in xs]
        low = [self.at(x, self.posted(x) + self.arch(x)) for x in reversed(xs)]
        self.tag("shell-thickness", 0.5 * self.long, self.posted(0.5 * self.long) + self._mid(0.5))
        self.tag("heel-cup-depth", start - 0.5 * self.shell, seat + 0.5 * cup)
        for name, share in (("arch-contour-height", 0.45), ("arch-fill", 0.40)):
            self.tag(name, share * self.long, self.posted(share * self.long) + self._mid(share))
        self.tag("shell-length-and-width", self.front, self.under(self.front) / 2)
        return filled([*inner, *top, *low, *outer], Style.SOLID if known else Style.OPEN)

    def _mid(self, share: float) -> float:
        return self.arch(share * self.long) + self.shell / 2

    def _skive(self) -> list[Shape]:
        shapes: list[Shape] = []
        for name in ("medial-heel-skive", "lateral-heel-skive"):
            depth = self.device.mm(name, "depth")
            if depth:
                seat = self.posted(0.0) + self.shell
                start, end = 0.07 * self.long, 0.20 * self.long
                points = [(start, seat), (end, seat), (end, seat + depth), (start, seat + depth)]
                self.tag(name, (start + end) / 2, seat + depth / 2)
                shapes += filled([self.at(*point) for point in points], Style.LEVEL, 2.0)
        return shapes

    def _cover(self) -> list[Shape]:
        if not self.cover:
            return []

        def low(x: float) -> float:
            return self.under(x) + self.arch(x)

        self.tag("cover-material", 0.36 * self.long, low(0.36 * self.long) + self.cover / 2)
        self.tag("total-contact-insole", 0.6 * self.long, low(0.6 * self.long) + self.cover / 2)
        self.tag("cover-length", self.ends, low(self.ends) + self.cover / 2)
        return self._band(
            0.05 * self.long, self.ends, low, lambda x: low(x) + self.cover, Style.PALE
        )

    def _forefoot(self) -> list[Shape]:
        ball, mm = self.device.foot.ball, self.device.mm
        shapes: list[Shape] = []
        long = {
            "lateral-forefoot-extension": 0.80 * self.long,
            "first-ray-extension": 0.97 * self.long,
            "forefoot-post-medial": ball + 6.0,
            "forefoot-post-lateral": ball + 6.0,
        }
        for name, end in long.items():
            height = mm(name, "height")
            if height:
                self.tag(name, (self.front + end) / 2, height / 2 + self.plate)
                shapes += self._band(
                    self.front + 1.0, end, lambda _: self.plate, self._top(height), Style.UPRIGHT
                )
        humps = {
            "metatarsal-dome": (mm("metatarsal-dome", "apex-behind-heads"), 30.0),
            "metatarsal-bar": (mm("metatarsal-bar", "front-edge-behind-heads"), 16.0),
        }
        for name, (behind, back) in humps.items():
            height = mm(name, "height")
            if height:
                shapes += self._hump(name, ball - behind, back, height)
        ramp = mm("hallux-dorsiflexion-wedge", "height")
        if ramp:
            start, end = ball + 12.0, min(ball + 42.0, 0.98 * self.long)
            self.tag("hallux-dorsiflexion-wedge", end - 6.0, ramp / 2)
            points = [(start, 0.0), (end, 0.0), (end, ramp)]
            shapes += filled([self.at(*point) for point in points], Style.UPRIGHT)
        return shapes

    def _top(self, height: float) -> Callable[[float], float]:
        return lambda x: self.plate + height * (1.0 - _ramp(x, self.front, self.front + 8.0))

    def _hump(self, name: str, apex: float, back: float, height: float) -> list[Shape]:
        """A pad on the shell: rising from the back, falling steeply before the heads."""
        low = self.under(apex) + self.arch(apex)
        points = [(apex - back, low), (apex - 4.0, low + height), (apex, low + height)]
        points += [(apex + 7.0, low)]
        self.tag(name, apex - 3.0, low + height / 2)
        return filled([self.at(*point) for point in points], Style.UPRIGHT)

    def _shoe(self) -> list[Shape]:
        shoe, shapes = self.device.shoe, list[Shape]()
        if shoe.heel is not None:
            x = -self.shell - 3.0
            shapes += broken([self.at(x, 0.0), self.at(x, shoe.heel), self.at(12.0, shoe.heel)])
        if shoe.toes is not None:
            ball, end = self.device.foot.ball, self.long + 8.0
            start = ball + 0.5 * (self.long - ball)
            top = [self.at(start, shoe.toes), self.at(end, shoe.toes), self.at(end, 0.0)]
            shapes += broken(top)
        return shapes


def _nothing(_: float) -> float:
    return 0.0
