"""Formulas of the shoe for a person: raise of a limb, rocker, and plate in the forefoot."""

from footexam.mechanics.formula import Asked, Formula
from footexam.mechanics.insert import bending_torque_nm
from footexam.mechanics.limb import StagingRule, staged_mm
from footexam.mechanics.result import Span, Spread, Standing, exactly, spread
from footexam.mechanics.rocker import (
    apex_mm,
    behind_heads_mm,
    head_line_mm,
    sole_at_apex_mm,
    toe_rise_mm,
)

DIFFERENCE = "limb-length-difference"
RADIOGRAPH = "limb-length-radiograph"
"""An input above 0 where the difference was measured on a radiograph."""
ANGLE = "rocker-sole.angle"
APEX = "rocker-sole.apex"
PLATE = "stiff-forefoot-insert.thickness"
SHOE = "shoe-length"


def _stages(asked: Asked, fraction: float) -> tuple[float, ...]:
    step, inside, least = (
        asked.at(name) for name in ("raise-step", "raise-in-shoe-most", "raise-smallest")
    )
    seen = asked.known(RADIOGRAPH) and asked.at(RADIOGRAPH) > 0
    rule = StagingRule(fraction, step, inside, least)
    return staged_mm(asked.at(DIFFERENCE), rule, radiograph=seen)


def _target(asked: Asked) -> Spread:
    def target(fraction: float) -> float:
        return _stages(asked, fraction)[-1]

    return spread(target, fraction=asked.span("raise-fraction"))


def _stage(asked: Asked) -> Spread:
    stages = _stages(asked, asked.at("raise-fraction"))
    first = min(stages[0], asked.at("raise-in-shoe-most"))
    return Spread(first, first, first)


def _apex(asked: Asked) -> Spread:
    found = apex_mm(asked.at(SHOE), asked.at(APEX))
    return Spread(found, found, found)


def _behind(asked: Asked) -> Spread:
    shoe, place, length = (asked.at(name) for name in (SHOE, APEX, "foot-length"))
    offset = asked.at("rocker-offset")
    if asked.known("truncated-foot-length"):
        heads = asked.at("truncated-foot-length") + offset
    else:
        heads = head_line_mm(length, asked.at("head-line-share"), offset)
    found = behind_heads_mm(shoe, place, heads)
    return Spread(found, found, found)


def _rise(asked: Asked) -> Spread:
    found = toe_rise_mm(asked.at(SHOE), asked.at(APEX), asked.at(ANGLE))
    return Spread(found, found, found)


def _sole(asked: Asked) -> Spread:
    spring, tip = asked.at("toe-spring"), asked.at("rocker-tip")
    found = sole_at_apex_mm(_rise(asked).value, spring, tip)
    return Spread(found, found, found)


def _torque(asked: Asked) -> Spread:
    low = asked.at("plate-modulus")
    high = asked.at("plate-modulus-high") if asked.known("plate-modulus-high") else low
    return spread(
        bending_torque_nm,
        thickness_mm=exactly(asked.at(PLATE)),
        width_mm=exactly(asked.at("plate-width")),
        length_mm=exactly(asked.at("plate-bend-length")),
        bend_deg=exactly(asked.at("plate-bend-angle")),
        modulus_mpa=Span(low, (low + high) / 2, high),
    )


_STAGES = ("raise-step", "raise-in-shoe-most", "raise-smallest", "raise-fraction")
_GEOMETRY = Standing.GEOMETRY
_ROCKER = ((SHOE,), (APEX,), (ANGLE,))

FORMULAS = (
    Formula(
        "limb-length-target",
        "mm",
        _GEOMETRY,
        ((DIFFERENCE,),),
        (*_STAGES, "raise-fraction-low", "raise-fraction-high"),
        _target,
    ),
    Formula("limb-length-stage", "mm", _GEOMETRY, ((DIFFERENCE,),), _STAGES, _stage),
    Formula("rocker-apex", "mm", _GEOMETRY, ((SHOE,), (APEX,)), (), _apex),
    Formula(
        "rocker-behind-heads",
        "mm",
        _GEOMETRY,
        ((SHOE,), (APEX,), ("foot-length",)),
        ("head-line-share", "rocker-offset"),
        _behind,
    ),
    Formula("rocker-toe-rise", "mm", _GEOMETRY, _ROCKER, (), _rise),
    Formula(
        "rocker-sole",
        "mm",
        _GEOMETRY,
        _ROCKER,
        ("toe-spring", "rocker-tip"),
        _sole,
    ),
    Formula(
        "insert-torque",
        "N m",
        Standing.ESTIMATE,
        ((PLATE,), ("plate-modulus",)),
        ("plate-width", "plate-bend-length", "plate-bend-angle"),
        _torque,
    ),
)
