"""Formulas of load for a person: forefoot share, lever, Achilles force, axis, fascia."""

from footexam.mechanics.for_heel import LENGTH, LEVER, LIFT, lever
from footexam.mechanics.forefoot import (
    achilles_force_n,
    pitched_share,
    push_off_force_n,
    raised_lever_mm,
    weight_n,
)
from footexam.mechanics.formula import Asked, Formula
from footexam.mechanics.lift import tilt_deg
from footexam.mechanics.result import Spread, Standing, exactly, spread
from footexam.mechanics.subtalar import shift_change
from footexam.mechanics.windlass import tension_change_percent

FEET = 2

_FOOT = ("ankle-to-heel", "ankle-to-forefoot", "ankle-height", "reference-foot-length")
_ARM = ("achilles-arm", "achilles-arm-low", "achilles-arm-high")


def _sized(asked: Asked, name: str) -> float:
    """A distance as measured, or that of the figures made as much larger as this foot is."""
    if asked.known(name) or not asked.known("foot-length"):
        return asked.at(name)
    return asked.at(name) * asked.at("foot-length") / asked.at("reference-foot-length")


def _share_over(asked: Asked, height_mm: float, lever_mm: float) -> float:
    places = ("ankle-to-heel", "ankle-to-forefoot", "ankle-height", "pressure-centre")
    back, ahead, up, centre = (_sized(asked, name) for name in places)
    return pitched_share(back, ahead, up, centre, tilt_deg(height_mm, lever_mm))


def _share(asked: Asked) -> Spread:
    height = asked.at(LIFT)

    def share(lever_mm: float) -> float:
        return 100 * _share_over(asked, height, lever_mm)

    return spread(share, lever_mm=lever(asked))


def _share_change(asked: Asked) -> Spread:
    height = asked.at(LIFT)

    def change(lever_mm: float) -> float:
        flat = _share_over(asked, 0, lever_mm)
        return 100 * (_share_over(asked, height, lever_mm) / flat - 1)

    return spread(change, lever_mm=lever(asked))


def _lever_change(asked: Asked) -> Spread:
    height = asked.at(LIFT)
    ahead, up = _sized(asked, "ankle-to-forefoot"), _sized(asked, "ankle-height")

    def change(lever_mm: float) -> float:
        return 100 * (raised_lever_mm(ahead, up, tilt_deg(height, lever_mm)) / ahead - 1)

    return spread(change, lever_mm=lever(asked))


def _standing_force(asked: Asked) -> Spread:
    weight = weight_n(asked.at("body-mass"), asked.at("gravity"))
    return spread(
        achilles_force_n,
        load_n=exactly(weight / FEET),
        ahead_mm=exactly(_sized(asked, "pressure-centre")),
        arm_mm=asked.span("achilles-arm"),
    )


def _walking_force(asked: Asked) -> Spread:
    return spread(
        push_off_force_n,
        mass_kg=exactly(asked.at("body-mass")),
        moment_nm_kg=exactly(asked.at("push-off-moment")),
        arm_mm=asked.span("achilles-arm"),
    )


def _moment_change(asked: Asked) -> Spread:
    forward, medial, shift = (
        asked.at(name) for name in ("load-forward", "load-medial", "load-shift")
    )
    offset = exactly(asked.at("axis-offset"))
    return shift_change(forward, medial, shift, offset, asked.span("axis-deviation"))


def _tension_change(asked: Asked) -> Spread:
    weight = weight_n(asked.at("body-mass"), asked.at("gravity"))
    return spread(
        tension_change_percent,
        load_n=exactly(weight / FEET),
        carried_n=exactly(asked.at("device-arch-load")),
    )


_MODEL, _ESTIMATE = Standing.MODEL, Standing.ESTIMATE
_SHARE = (*_FOOT, "pressure-centre", *LEVER)

FORMULAS = (
    Formula("forefoot-share", "%", _MODEL, ((LIFT,), LENGTH), _SHARE, _share),
    Formula("forefoot-share-change", "%", _MODEL, ((LIFT,), LENGTH), _SHARE, _share_change),
    Formula(
        "forefoot-lever-change", "%", _MODEL, ((LIFT,), LENGTH), (*_FOOT, *LEVER), _lever_change
    ),
    Formula(
        "achilles-force-standing",
        "N",
        _MODEL,
        (("body-mass",),),
        ("gravity", "pressure-centre", "reference-foot-length", *_ARM),
        _standing_force,
    ),
    Formula(
        "achilles-force-walking",
        "N",
        _MODEL,
        (("body-mass",),),
        ("push-off-moment", *_ARM),
        _walking_force,
    ),
    Formula(
        "moment-change",
        "%",
        _MODEL,
        (("load-shift",), ("axis-offset",), ("load-forward",), ("load-medial",)),
        ("axis-deviation", "axis-deviation-high"),
        _moment_change,
    ),
    Formula(
        "fascia-tension-change",
        "%",
        _ESTIMATE,
        (("body-mass",), ("device-arch-load",)),
        ("gravity",),
        _tension_change,
    ),
)
