"""The plantar view of a device to scale: shell, posts, lift, reliefs, pads and extensions.

The sole from below, the inner edge on top; toes to the left for the right foot, as in the side
view, so that both stand in line under each other.
"""

from collections.abc import Callable, Iterable
from functools import cache
from math import cos, pi, sin

from footexam.catalogue.model import say
from footexam.catalogue.plan_model import Zone
from footexam.drawing.device import EDGE, ROW
from footexam.drawing.device_parts import (
    LEADING,
    NOT_DRAWN,
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

INSET = 4.0
"""How far the edge of the shell as drawn lies inside the outline of the sole, mm."""
MOST, STEPS = 0.78, 78
"""Up to where the sole is one figure, as a share of its length, and its steps."""
_ROUND = 24


def sole_view(
    device: Device,
    *,
    scale: float = 2.0,
    language: str = "en",
    measure: Width = rough,
    with_legend: bool = True,
) -> Drawing:
    """The view at 1:`scale` on paper; the arguments are those of `side_view`."""
    made = _Sole(device, scale)
    title = words("sole", language, foot=words(device.side.value, language))
    head, top = lines([title], 0.0, made.width, measure, bold=True)
    made.top = top + ROW + 2.0
    drawn = made.shapes()
    middle = made.top + made.tall / 2
    upper = [tag for tag in made.tags if tag.at[1] <= middle]
    lower = [tag for tag in made.tags if tag.at[1] > middle]
    bottom = made.top + made.tall
    shapes = [*drawn, *head]
    shapes += tags(upper, made.top - ROW / 2 - 2.0, 0.0, made.width)
    shapes += tags(lower, bottom + ROW / 2 + 2.0, 0.0, made.width)
    bar, y = scale_bar(bottom + ROW + 4.0, scale, language)
    told = [*foot_notes(device, language), *_not_drawn(device, made.tags, language)]
    if with_legend:
        told = [*legend(device, language), *told]
    notes, y = lines(told, y + 2.0, made.width, measure)
    return Drawing(made.width, y + 0.2 * LEADING, (*shapes, *bar, *notes))


def _not_drawn(device: Device, drawn: Iterable[Tag], language: str) -> list[str]:
    """The features of the device that have no place here."""
    numbers = {tag.number for tag in drawn}
    away = {Zone.SHOE, Zone.LEG}
    names = [
        f"{device.numbers[one.id]} {say(one.feature.label, language)}"
        for one in device.features
        if device.numbers[one.id] not in numbers
        and (one.id in NOT_DRAWN or one.feature.zone not in away)
    ]
    return [words("not-drawn", language, what=", ".join(names))] if names else []


@cache
def _base() -> tuple[tuple[tuple[Point, ...], ...], dict[str, Point]]:
    """The sole in shares of foot length: outlines and places, (from the heel, from outside)."""
    view = view_of("plantar", Side.RIGHT)
    ys = [y for outline in view.outlines for _, y in outline]
    xs = [x for outline in view.outlines for x, _ in outline]
    low, long, left = max(ys), max(ys) - min(ys), min(xs)

    def shared(point: Point) -> Point:
        return (low - point[1]) / long, (point[0] - left) / long

    outlines = tuple(tuple(map(shared, outline)) for outline in view.outlines)
    places = {patch.region: shared(patch.at) for patch in view.patches}
    return outlines, places


@cache
def _edges() -> tuple[tuple[float, float], ...]:
    """The outer and the inner edge of the sole at even steps up to `MOST` of its length."""
    outline = _base()[0][0]
    found = []
    for step in range(STEPS + 1):
        share = max(0.004, MOST * step / STEPS)
        crossed = [
            m1 + (share - x1) / (x2 - x1) * (m2 - m1)
            for (x1, m1), (x2, m2) in zip(outline, (*outline[1:], outline[0]), strict=True)
            if (x1 > share) != (x2 > share)
        ]
        found.append((min(crossed), max(crossed)))
    return tuple(found)


class _Sole:
    """One plantar view being drawn; x in mm from the heel, m in mm from the outer edge."""

    def __init__(self, device: Device, scale: float) -> None:
        self.device = device
        self.long = device.foot.length
        self.factor = POINTS / scale
        self.width = (self.long + 2 * EDGE) * self.factor
        outlines, self.places = _base()
        self.broad = max(m for outline in outlines for _, m in outline) * self.long
        self.tall = (self.broad + 8.0) * self.factor
        self.top = 0.0
        self.tags: list[Tag] = []
        self.ball = device.foot.ball
        self.front = device.front

    def at(self, x: float, m: float) -> Point:
        """A point in mm as it is drawn."""
        along = (EDGE + x) * self.factor
        if self.device.side is Side.RIGHT:
            along = self.width - along
        return along, self.top + (self.broad + 4.0 - m) * self.factor

    def place(self, region: str) -> Point:
        """A place of the foot map in mm."""
        x, m = self.places[region]
        return x * self.long, m * self.long

    def head(self, ray: int) -> Point:
        """The head of a metatarsal, moved with the measured line of the ball."""
        x, m = self.place(f"met-head-{ray}")
        return x + self.ball - self.place("met-head-1")[0] - 6.0, m

    def shapes(self) -> list[Shape]:
        """All of the view but its numbers and words."""
        return [
            *self._foot(),
            *(self._shell() if self.device.has_shell else ()),
            *(shape for draw in self._parts() for shape in draw),
        ]

    def tag(self, feature: str, x: float, m: float) -> None:
        """Notes where the number of a chosen feature points to."""
        number = self.device.numbers.get(feature)
        if number is not None:
            self.tags.append(Tag(number, self.at(x, m)))

    def _foot(self) -> list[Shape]:
        outlines = [
            tuple(self.at(x * self.long, m * self.long) for x, m in outline)
            for outline in _base()[0]
        ]
        return [
            *(Polygon(points, stroke=Ink.BORDER, line_width=2.0) for points in outlines),
            *(Polygon(points, fill=Ink.SURFACE) for points in outlines),
        ]

    def edges(self, x: float) -> tuple[float, float]:
        """The outer and the inner edge of the shell at a distance from the heel."""
        table = _edges()
        place = min(max(x / self.long, 0.0), MOST) / MOST * (len(table) - 1)
        low = min(int(place), len(table) - 2)
        part = place - low
        (outer, inner), (outer2, inner2) = table[low], table[low + 1]
        outer = (outer + part * (outer2 - outer)) * self.long
        inner = (inner + part * (inner2 - inner)) * self.long
        inset = min(INSET, 0.4 * (inner - outer))
        return outer + inset, inner - inset

    def _strip(
        self, start: float, end: float, low: float, high: float, style: Style, gap: float = 3.0
    ) -> list[Shape]:
        """A part of the shell between two places and two shares of its width (0: outer edge)."""
        xs = [start + (end - start) * step / 16 for step in range(17)]
        edges = [(x, *self.edges(x)) for x in xs]
        points = [self.at(x, outer + high * (inner - outer)) for x, outer, inner in edges]
        edges.reverse()
        points += [self.at(x, outer + low * (inner - outer)) for x, outer, inner in edges]
        return filled(points, style, gap)

    def _shell(self) -> list[Shape]:
        self.tag("shell-length-and-width", self.front, self._middle(self.front, 0.9))
        self.tag("shell-thickness", 0.5 * self.long, self._middle(0.5 * self.long, 0.12))
        self.tag("heel-cup-depth", 0.05 * self.long, self._middle(0.05 * self.long, 0.1))
        self.tag("arch-contour-height", 0.45 * self.long, self._middle(0.45 * self.long, 0.85))
        self.tag("arch-fill", 0.41 * self.long, self._middle(0.41 * self.long, 0.75))
        self.tag("heel-expansion", 0.12 * self.long, self._middle(0.12 * self.long, 0.02))
        return self._strip(0.03 * self.long, self.front, 0.0, 1.0, Style.OPEN)

    def _middle(self, x: float, share: float = 0.5) -> float:
        outer, inner = self.edges(x)
        return outer + share * (inner - outer)

    def _parts(self) -> Iterable[list[Shape]]:
        """What is chosen, the lowest layer first."""
        for name, draw in _DRAWN.items():
            if self.device.has(name):
                yield draw(self, name)

    # --- one kind of part each

    def lift(self, name: str) -> list[Shape]:
        """Under the heel, thinning towards the front."""
        end = self.front if name != "prefabricated-orthosis" else 0.35 * self.long
        if name == "prefabricated-orthosis" and not self.device.mm(name, "lift"):
            self.tag(name, 0.35 * self.long, self._middle(0.35 * self.long))
            return []
        self.tag(name, 0.30 * self.long, self._middle(0.30 * self.long, 0.3))
        return self._strip(0.03 * self.long, end, 0.0, 1.0, Style.RISING, 6.0)

    def post(self, name: str) -> list[Shape]:
        """Under the whole heel, marked on the side that is raised."""
        low, high = {"rearfoot-post-medial": (0.5, 1.0), "rearfoot-post-lateral": (0.0, 0.5)}.get(
            name, (0.0, 1.0)
        )
        middle = (low + high) / 2
        self.tag(name, 0.22 * self.long, self._middle(0.22 * self.long, middle + 0.1))
        return self._strip(0.04 * self.long, 0.29 * self.long, low, high, Style.FALLING)

    def skive(self, name: str) -> list[Shape]:
        """A facet in one half of the heel seat."""
        low, high = (0.5, 0.95) if name.startswith("medial") else (0.05, 0.5)
        x = 0.14 * self.long
        self.tag(name, x, self._middle(x, (low + high) / 2))
        return self._strip(0.08 * self.long, 0.20 * self.long, low, high, Style.LEVEL, 2.2)

    def forefoot_post(self, name: str) -> list[Shape]:
        """At the front edge on one side."""
        low, high = (0.5, 1.0) if name.endswith("medial") else (0.0, 0.5)
        end = self.front + 12.0
        self.tag(name, self.front + 6.0, self._middle(self.front, (low + high) / 2))
        return self._strip(self.front - 6.0, end, low, high, Style.FALLING)

    def wedge(self, name: str) -> list[Shape]:
        """Along the whole outer edge."""
        self.tag(name, 0.6 * self.long, self._middle(0.6 * self.long, 0.12))
        return self._strip(0.05 * self.long, 0.74 * self.long, 0.0, 0.25, Style.FALLING)

    def aperture(self, name: str) -> list[Shape]:
        """A round opening under the heel."""
        x, m = self.place("heel-plantar")
        x = 0.15 * self.long
        self.tag(name, x, m)
        return self._round(x, m, self.device.mm(name, "diameter"))

    def head_relief(self, name: str) -> list[Shape]:
        """A round hollow under the first head."""
        x, m = self.head(1)
        self.tag(name, x, m)
        return self._round(x, m, self.device.mm(name, "diameter"))

    def cut_out(self, name: str) -> list[Shape]:
        """A piece off the inner front edge."""
        wide, long = self.device.mm(name, "width"), self.device.mm(name, "length")
        outer, inner = self.edges(self.front)
        wide, long = min(wide, 0.7 * (inner - outer)), min(long, 0.3 * self.long)
        corners = [(self.front, inner + 1.0), (self.front, inner - wide)]
        corners += [(self.front - long, inner - wide), (self.front - long, inner + 1.0)]
        self.tag(name, self.front - long / 2, inner - wide / 3)
        return filled([self.at(*corner) for corner in corners], Style.HOLE)

    def under_first(self, name: str) -> list[Shape]:
        """A platform from the front edge to the end of the big toe."""
        x, m = self.head(1)
        end = 0.97 * self.long if name == "first-ray-extension" else x + 42.0
        start = self.front if name == "first-ray-extension" else x + 12.0
        half = 0.045 * self.long
        corners = [(start, m + half), (min(end, 0.98 * self.long), m + half)]
        corners += [(min(end, 0.98 * self.long), m - half), (start, m - half)]
        self.tag(name, (start + end) / 2, m)
        return filled([self.at(*corner) for corner in corners], Style.UPRIGHT)

    def under_others(self, name: str) -> list[Shape]:
        """From the front edge under the heads of rays 2 to 5 to the toe webs."""
        outer, _ = self.edges(self.front)
        x2, m2 = self.head(2)
        inner = m2 + 0.03 * self.long
        end2 = self.place("web-space-2")[0] - 2.0
        end4 = self.place("web-space-4")[0] - 2.0
        corners = [(self.front + 1.0, outer), (self.front + 1.0, inner)]
        corners += [(max(end2, x2 + 8.0), inner), (max(end4, self.front + 12.0), outer)]
        self.tag(name, x2, (inner + outer) / 2)
        return filled([self.at(*corner) for corner in corners], Style.UPRIGHT)

    def dome(self, name: str) -> list[Shape]:
        """A drop behind heads 2 to 4; its tip at the distance that was chosen."""
        x, m = self.head(3)
        x -= self.device.mm(name, "apex-behind-heads") + 6.0
        long = min(self.device.mm(name, "length"), 0.3 * self.long)
        self.tag(name, x - 0.25 * long, m)
        points = _ellipse(x - 0.3 * long, m, 0.5 * long, 0.35 * long)
        return filled([self.at(*point) for point in points], Style.UPRIGHT)

    def bar(self, name: str) -> list[Shape]:
        """Across behind all heads."""
        behind = self.device.mm(name, "front-edge-behind-heads")
        heads = [self.head(ray) for ray in (1, 2, 3, 4, 5)]
        front = [(x - behind - 4.0, m) for x, m in heads]
        points = [*front, *((x - 16.0, m) for x, m in reversed(front))]
        self.tag(name, front[2][0] - 8.0, front[2][1])
        return filled([self.at(*point) for point in points], Style.UPRIGHT)

    def groove(self, name: str) -> list[Shape]:
        """From the heel to the middle of the first metatarsal."""
        half = self.device.mm(name, "width") / 2
        (x1, m1), (x2, m2) = self.place("heel-plantar-medial"), self.head(1)
        x2 = x1 + 0.62 * (x2 - x1)
        m2 = m1 + 0.62 * (m2 - m1)
        corners = [(x1, m1 + half), (x2, m2 + half), (x2, m2 - half), (x1, m1 - half)]
        self.tag(name, (x1 + x2) / 2, (m1 + m2) / 2)
        return filled([self.at(*corner) for corner in corners], Style.HOLE)

    def cuboid(self, name: str) -> list[Shape]:
        """An oval under the outer midfoot."""
        long = min(self.device.mm(name, "length"), 0.2 * self.long)
        x = 0.40 * self.long
        m = self._middle(x, 0.25)
        self.tag(name, x, m)
        points = _ellipse(x, m, 0.5 * long, 0.3 * long)
        return filled([self.at(*point) for point in points], Style.UPRIGHT)

    def plate_pad(self, name: str) -> list[Shape]:
        """A horseshoe behind and beside the second head, open to the toe."""
        x, m = self.head(2)
        outer = [(x + 9.0 * cos(a), m + 13.0 * sin(a)) for a in _half()]
        inner = [(x + 4.0 * cos(a), m + 6.0 * sin(a)) for a in reversed(_half())]
        self.tag(name, x - 6.5, m)
        return filled([self.at(*point) for point in (*outer, *inner)], Style.UPRIGHT)

    def flange(self, name: str) -> list[Shape]:
        """A wall along one edge of the midfoot."""
        start, end = 0.25 * self.long, (0.55 if name.startswith("medial") else 0.45) * self.long
        low, high = (0.9, 1.06) if name.startswith("medial") else (-0.06, 0.1)
        x = (start + end) / 2
        self.tag(name, x, self._middle(x, (low + high) / 2))
        return self._strip(start, end, low, high, Style.SOLID)

    def filler(self, name: str) -> list[Shape]:
        """Under the arch of the shell."""
        x = 0.5 * self.long
        self.tag(name, x, self._middle(x, 0.7))
        return self._strip(0.32 * self.long, self.front - 8.0, 0.4, 0.95, Style.RISING, 4.0)

    def flare(self, name: str) -> list[Shape]:
        """Outside the outer edge of the heel."""
        wide = self.device.mm(name, "width")
        xs = [(0.06 + 0.02 * step) * self.long for step in range(11)]
        points = [(x, self.edges(x)[0]) for x in xs]
        points += [(x, self.edges(x)[0] - INSET - wide) for x in reversed(xs)]
        self.tag(name, 0.16 * self.long, self.edges(0.16 * self.long)[0] - INSET)
        return filled([self.at(*point) for point in points], Style.FALLING)

    def cover_end(self, name: str) -> list[Shape]:
        """Where the cover ends: a broken line across."""
        behind = self.device.mm(name, "ends-behind-toe-webs")
        xs = [self.place(f"web-space-{web}") for web in (4, 3, 2, 1)]
        points = [self.at(x - behind, m) for x, m in xs]
        x, m = xs[-1]
        self.tag(name, x - behind, m)
        return broken(points)

    def insert(self, name: str) -> list[Shape]:
        """The plate under everything: its outline alone."""
        outline = [
            self.at(x, m)
            for x, m in [
                *((x, self.edges(x)[1]) for x in (0.05 * self.long, 0.4 * self.long, self.ball)),
                (0.96 * self.long, self.place("met-head-2")[1] + 10.0),
                (0.9 * self.long, self.place("met-head-4")[1]),
                *((x, self.edges(x)[0]) for x in (self.ball, 0.4 * self.long, 0.05 * self.long)),
            ]
        ]
        self.tag(name, 0.9 * self.long, self.place("met-head-3")[1])
        pairs = zip(outline, (*outline[1:], outline[0]), strict=True)
        return [Line(*one, *other, Ink.INK, 0.8) for one, other in pairs]

    def _round(self, x: float, m: float, diameter: float) -> list[Shape]:
        points = _ellipse(x, m, diameter / 2, diameter / 2)
        return filled([self.at(*point) for point in points], Style.HOLE)


def _ellipse(x: float, m: float, along: float, across: float) -> list[Point]:
    angles = (2 * pi * step / _ROUND for step in range(_ROUND))
    return [(x + along * cos(angle), m + across * sin(angle)) for angle in angles]


def _half() -> list[float]:
    """Angles around the back of a head, from one side to the other."""
    return [pi / 2 + pi * step / 12 for step in range(13)]


_DRAWN: dict[str, Callable[[_Sole, str], list[Shape]]] = {
    "stiff-forefoot-insert": _Sole.insert,
    "heel-lift": _Sole.lift,
    "limb-length-raise": _Sole.lift,
    "prefabricated-orthosis": _Sole.lift,
    "full-length-lateral-wedge": _Sole.wedge,
    "sub-arch-reinforcement": _Sole.filler,
    "rearfoot-post-neutral": _Sole.post,
    "no-rearfoot-post": _Sole.post,
    "rearfoot-post-medial": _Sole.post,
    "rearfoot-post-lateral": _Sole.post,
    "lateral-heel-flare": _Sole.flare,
    "medial-heel-skive": _Sole.skive,
    "lateral-heel-skive": _Sole.skive,
    "forefoot-post-medial": _Sole.forefoot_post,
    "forefoot-post-lateral": _Sole.forefoot_post,
    "medial-flange": _Sole.flange,
    "lateral-flange": _Sole.flange,
    "first-ray-extension": _Sole.under_first,
    "hallux-dorsiflexion-wedge": _Sole.under_first,
    "lateral-forefoot-extension": _Sole.under_others,
    "metatarsal-bar": _Sole.bar,
    "metatarsal-dome": _Sole.dome,
    "cuboid-pad": _Sole.cuboid,
    "plantar-plate-offload": _Sole.plate_pad,
    "first-ray-cut-out": _Sole.cut_out,
    "plantar-fascial-groove": _Sole.groove,
    "heel-aperture": _Sole.aperture,
    "first-metatarsal-head-relief": _Sole.head_relief,
    "cover-length": _Sole.cover_end,
}
"""What draws a feature, the lowest layer first."""
