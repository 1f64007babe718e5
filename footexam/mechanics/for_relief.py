"""Formulas of a relief for a person: how deep, what it takes off, and what it may add beside."""

from footexam.mechanics.formula import Asked, Formula
from footexam.mechanics.reach import within
from footexam.mechanics.relief import (
    Layer,
    neighbour_rise_percent,
    relief_change_percent,
    relief_depth_mm,
    stiffness_through_tissue,
)
from footexam.mechanics.result import Span, Spread, Standing, spread

MODULUS, MODULUS_HIGH = "material-modulus", "material-modulus-high"
HEAD_DEPTH = "first-metatarsal-head-relief.depth"


def _relief(asked: Asked) -> Spread:
    """By the fitted factor; the band reaches to the fall that was measured, whatever the share."""
    change = relief_change_percent(asked.at("region-share"), asked.at("relief-factor"))
    measured = -asked.at("relief-fall")
    return Spread(change, min(change, measured), max(change, measured))


def _neighbours(asked: Asked) -> Spread:
    """From nothing, as was measured, to the bound; the bound is the value."""
    bound = neighbour_rise_percent(asked.at("region-share"), asked.at("relief-factor"))
    return Spread(bound, 0, bound)


def _fill(asked: Asked) -> Span:
    """The modulus of what a relief is filled with."""
    low = asked.at(MODULUS)
    high = asked.at(MODULUS_HIGH) if asked.known(MODULUS_HIGH) else low
    return Span(low, (low + high) / 2, high)


def _tissue(asked: Asked) -> Layer:
    return Layer(asked.at("tissue-thickness"), asked.at("tissue-modulus"))


def _base(asked: Asked) -> Layer:
    return Layer(asked.at("relief-base-thickness"), asked.at("relief-base-modulus"))


def _depth(asked: Asked) -> Spread:
    """So deep that the relief is felt as soft as the one that was tested."""
    tissue, base, wanted = _tissue(asked), _base(asked), asked.at("relief-factor")

    def depth(fill_mpa: float) -> float:
        return relief_depth_mm(wanted, tissue, base, fill_mpa)

    return spread(depth, fill_mpa=_fill(asked))


def _felt(asked: Asked, fill_mpa: float) -> float:
    """How stiff a relief of the chosen depth is felt."""
    base, depth = _base(asked), asked.at(HEAD_DEPTH)
    within("The depth of the relief", depth, 0, base.thickness_mm, "mm")
    layers = Layer(depth, base.modulus_mpa), Layer(depth, fill_mpa)
    return stiffness_through_tissue(_tissue(asked), *layers)


def _under_head(asked: Asked) -> Spread:
    """By how much a relief of this depth changes the pressure under the first head."""
    share = asked.at("first-head-share")

    def change(fill_mpa: float) -> float:
        return relief_change_percent(share, _felt(asked, fill_mpa))

    return spread(change, fill_mpa=_fill(asked))


def _beside_head(asked: Asked) -> Spread:
    """From nothing, as was measured, to the bound with the softest fill, which is the value."""
    felt = _felt(asked, _fill(asked).low)
    bound = neighbour_rise_percent(asked.at("first-head-share"), felt)
    return Spread(bound, 0, bound)


_ESTIMATE = Standing.ESTIMATE
_SHARE = (("region-share",),)
_LAYERS = ("tissue-thickness", "tissue-modulus", "relief-base-thickness", "relief-base-modulus")
_AT_DEPTH = ((HEAD_DEPTH,), (MODULUS,)), (*_LAYERS, "first-head-share")

FORMULAS = (
    Formula("relief-change", "%", _ESTIMATE, _SHARE, ("relief-factor", "relief-fall"), _relief),
    Formula("relief-neighbours", "%", _ESTIMATE, _SHARE, ("relief-factor",), _neighbours),
    Formula("relief-depth", "mm", _ESTIMATE, ((MODULUS,),), (*_LAYERS, "relief-factor"), _depth),
    Formula("head-relief-change", "%", _ESTIMATE, *_AT_DEPTH, _under_head),
    Formula("head-relief-neighbours", "%", _ESTIMATE, *_AT_DEPTH, _beside_head),
)
