"""Reads the outlines and places of the foot map; mirrors them for the left foot."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import cos, pi, radians, sin
from typing import Any

from footexam.catalogue.model import Texts
from footexam.drawing.shapes import Point
from footexam.resources import assets_dir
from footexam.terms import Side

VIEWS = ("plantar", "dorsal", "medial", "lateral", "leg")
"""The five drawings, in the order they are shown."""

_STEPS = 6
"""Points between two given ones of a smooth figure."""
_ROUND = 32
"""Points of an ellipse; half as many at each end of a bar."""


@dataclass(frozen=True, slots=True)
class Patch:
    """A place of a view: its outline, where its number stands, the larger place it lies in."""

    region: str
    points: tuple[Point, ...]
    at: Point
    within: str | None = None


@dataclass(frozen=True, slots=True)
class Caption:
    """Words of a drawing, centred on a base line."""

    at: Point
    text: Texts


@dataclass(frozen=True, slots=True)
class View:
    """One drawing of the map, in points; larger places come before those within them."""

    id: str
    label: Texts
    width: float
    height: float
    outlines: tuple[tuple[Point, ...], ...]
    details: tuple[tuple[Point, ...], ...]
    patches: tuple[Patch, ...]
    captions: tuple[Caption, ...]


@cache
def view_of(name: str, side: Side | None) -> View:
    """A view as drawn for a side; None: the right. Raises KeyError for a name not in `VIEWS`."""
    if name not in VIEWS:
        raise KeyError(name)
    if side is Side.LEFT:
        return _mirrored(view_of(name, Side.RIGHT))
    text = (assets_dir() / "foot-map" / f"{name}.toml").read_text(encoding="utf-8")
    return _read(name, tomllib.loads(text))


@cache
def view_names() -> Mapping[str, str]:
    """The view on which each place of the map lies, by region id."""
    return {patch.region: name for name in VIEWS for patch in view_of(name, Side.RIGHT).patches}


def _read(name: str, raw: Mapping[str, Any]) -> View:
    return View(
        id=name,
        label=raw["label"],
        width=float(raw["width"]),
        height=float(raw["height"]),
        outlines=tuple(_figure(item) for item in raw["outline"]),
        details=tuple(_points(item["line"]) for item in raw.get("detail", ())),
        patches=tuple(_patch(item) for item in raw["region"]),
        captions=tuple(
            Caption(_point(item["at"]), item["text"]) for item in raw.get("caption", ())
        ),
    )


def _patch(raw: Mapping[str, Any]) -> Patch:
    return Patch(raw["id"], _figure(raw), _point(raw["at"]), raw.get("within"))


def _figure(raw: Mapping[str, Any]) -> tuple[Point, ...]:
    """The closed figure of a table: smooth, ellipse or bar."""
    if "smooth" in raw:
        return _smooth(_points(raw["smooth"]))
    if "bar" in raw:
        return _bar(*map(float, raw["bar"]))
    return _ellipse(*map(float, raw["ellipse"]))


def _point(raw: Sequence[float]) -> Point:
    x, y = raw
    return float(x), float(y)


def _points(raw: Sequence[Sequence[float]]) -> tuple[Point, ...]:
    return tuple(map(_point, raw))


def _smooth(points: Sequence[Point]) -> tuple[Point, ...]:
    """A closed curve through all points (Catmull-Rom), as a polygon."""
    count = len(points)
    curve = []
    for at in range(count):
        four = [points[(at + step) % count] for step in (-1, 0, 1, 2)]
        curve += [_between(four, step / _STEPS) for step in range(_STEPS)]
    return tuple(curve)


def _between(four: Sequence[Point], t: float) -> Point:
    """The curve between the second and third of four points, `t` from 0 to 1."""
    weights = (
        -0.5 * t + t**2 - 0.5 * t**3,
        1 - 2.5 * t**2 + 1.5 * t**3,
        0.5 * t + 2 * t**2 - 1.5 * t**3,
        -0.5 * t**2 + 0.5 * t**3,
    )
    x, y = (
        sum(weight * point[axis] for weight, point in zip(weights, four, strict=True))
        for axis in (0, 1)
    )
    return x, y


def _ellipse(x: float, y: float, rx: float, ry: float, tilt: float) -> tuple[Point, ...]:
    turn = radians(tilt)
    points = []
    for step in range(_ROUND):
        angle = 2 * pi * step / _ROUND
        dx, dy = rx * cos(angle), ry * sin(angle)
        points.append((x + dx * cos(turn) - dy * sin(turn), y + dx * sin(turn) + dy * cos(turn)))
    return tuple(points)


def _bar(x1: float, y1: float, x2: float, y2: float, half: float) -> tuple[Point, ...]:
    """A straight bar with round ends."""
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    points = []
    for x, y, start in ((x1, y1, pi / 2), (x2, y2, -pi / 2)):
        for step in range(_ROUND // 2 + 1):
            angle = start + pi * step / (_ROUND // 2)
            along, across = half * cos(angle), half * sin(angle)
            points.append((x + along * ux - across * uy, y + along * uy + across * ux))
    return tuple(points)


def _mirrored(view: View) -> View:
    """The same view of the other foot."""

    def flip(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((view.width - x, y) for x, y in points)

    return replace(
        view,
        outlines=tuple(map(flip, view.outlines)),
        details=tuple(map(flip, view.details)),
        patches=tuple(
            replace(patch, points=flip(patch.points), at=flip([patch.at])[0])
            for patch in view.patches
        ),
        captions=tuple(replace(item, at=flip([item.at])[0]) for item in view.captions),
    )
