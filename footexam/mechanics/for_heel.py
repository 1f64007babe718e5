"""Formulas of the heel for a person: lift, posts, skive, and the ramp under the hallux."""

from footexam.mechanics.formula import Asked, Formula
from footexam.mechanics.lift import (
    dorsiflexion_demanded_deg,
    lever_estimated_mm,
    lever_measured_mm,
    lift_height_mm,
    tilt_deg,
)
from footexam.mechanics.reach import not_below_zero
from footexam.mechanics.result import (
    Span,
    Spread,
    Standing,
    around,
    around_percent,
    exactly,
    spread,
)
from footexam.mechanics.wedge import (
    bone_change_deg,
    edge_height_mm,
    skive_facet_mm,
    wedge_angle_deg,
)

DORSIFLEXION = "ankle-dorsiflexion-knee-straight"
LIFT = "heel-lift.height"
POST = "rearfoot-post-medial.angle"
POSTS = (POST, "rearfoot-post-lateral.angle")
FOREFOOT_POSTS = ("forefoot-post-medial.angle", "forefoot-post-lateral.angle")
SKIVES = ("medial-heel-skive.depth", "lateral-heel-skive.depth")
RAMP = "hallux-dorsiflexion-wedge.height"
LENGTH = ("foot-length", "lever")
LEVER = ("lever-share", "heel-contact-share", "lever-error")


def lever(asked: Asked) -> Span:
    """The lever from heel to heads: as given, from the truncated length, or from the foot's."""
    if asked.known("lever"):
        return exactly(asked.at("lever"))
    length = asked.at("foot-length")
    if asked.known("truncated-foot-length"):
        truncated = asked.at("truncated-foot-length")
        found = lever_measured_mm(truncated, length, asked.at("heel-contact-share"))
    else:
        found = lever_estimated_mm(length, asked.at("lever-share"))
    return around_percent(found, asked.at("lever-error"))


def _lacking(asked: Asked) -> Span:
    lacking = asked.at("dorsiflexion-required") - asked.at(DORSIFLEXION)
    return around(lacking, asked.at("dorsiflexion-error"))


def _wanted(asked: Asked) -> Spread:
    return spread(
        lift_height_mm, lacking_deg=_lacking(asked), drop_mm=exactly(0), lever_mm=lever(asked)
    )


def _lift(asked: Asked) -> Spread:
    drop = exactly(asked.at("shoe-drop"))
    return spread(lift_height_mm, lacking_deg=_lacking(asked), drop_mm=drop, lever_mm=lever(asked))


def _tilt(asked: Asked) -> Spread:
    return spread(tilt_deg, height_mm=exactly(asked.at(LIFT)), lever_mm=lever(asked))


def _demanded(asked: Asked) -> Spread:
    lift, drop = asked.at(LIFT), asked.at("shoe-drop") if asked.known("shoe-drop") else 0
    not_below_zero("The height of the lift", lift, "mm")  # with a drop the sum may hide it
    return spread(
        dorsiflexion_demanded_deg,
        required_deg=exactly(asked.at("dorsiflexion-required")),
        height_mm=exactly(lift + drop),
        lever_mm=lever(asked),
    )


def _post_height(asked: Asked) -> Spread:
    return spread(
        edge_height_mm, width_mm=asked.span("heel-width"), angle_deg=exactly(asked.first(POSTS))
    )


def _forefoot_post_height(asked: Asked) -> Spread:
    angle = exactly(asked.first(FOREFOOT_POSTS))
    return spread(edge_height_mm, width_mm=asked.span("forefoot-width"), angle_deg=angle)


def _post_change(asked: Asked) -> Spread:
    return spread(
        bone_change_deg,
        post_deg=exactly(asked.at(POST)),
        neutral_deg=exactly(asked.at("post-change-neutral")),
        per_degree=exactly(asked.at("post-change-per-degree")),
        tested_most_deg=exactly(asked.at("post-tested-medial")),
    )


def _skive(asked: Asked) -> Spread:
    facet = exactly(asked.at("skive-facet-angle"))
    return spread(skive_facet_mm, depth_mm=exactly(asked.first(SKIVES)), facet_deg=facet)


def _ramp(asked: Asked) -> Spread:
    length = exactly(asked.at("hallux-ramp-length"))
    return spread(wedge_angle_deg, height_mm=exactly(asked.at(RAMP)), width_mm=length)


_LACKING = ("dorsiflexion-required", "dorsiflexion-error", *LEVER)
_GEOMETRY = Standing.GEOMETRY

FORMULAS = (
    Formula("heel-height-wanted", "mm", _GEOMETRY, ((DORSIFLEXION,), LENGTH), _LACKING, _wanted),
    Formula(
        "lift-height", "mm", _GEOMETRY, ((DORSIFLEXION,), ("shoe-drop",), LENGTH), _LACKING, _lift
    ),
    Formula("lift-tilt", "deg", _GEOMETRY, ((LIFT,), LENGTH), LEVER, _tilt),
    Formula(
        "dorsiflexion-demanded",
        "deg",
        Standing.ESTIMATE,
        ((LIFT,), LENGTH),
        ("dorsiflexion-required", *LEVER),
        _demanded,
    ),
    Formula(
        "post-height",
        "mm",
        _GEOMETRY,
        (POSTS,),
        ("heel-width", "heel-width-low", "heel-width-high"),
        _post_height,
    ),
    Formula(
        "forefoot-post-height",
        "mm",
        _GEOMETRY,
        (FOREFOOT_POSTS,),
        ("forefoot-width",),
        _forefoot_post_height,
    ),
    Formula(
        "post-change",
        "deg",
        Standing.ESTIMATE,
        ((POST,),),
        ("post-change-neutral", "post-change-per-degree", "post-tested-medial"),
        _post_change,
    ),
    Formula("skive-facet", "mm", _GEOMETRY, (SKIVES,), ("skive-facet-angle",), _skive),
    Formula("hallux-ramp-angle", "deg", _GEOMETRY, ((RAMP,),), ("hallux-ramp-length",), _ramp),
)
