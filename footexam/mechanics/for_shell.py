"""Formulas of the shell for a person: its thickness by body mass, and how far it sags."""

from footexam.mechanics.forefoot import weight_n
from footexam.mechanics.formula import Asked, Formula
from footexam.mechanics.result import Spread, Standing, exactly
from footexam.mechanics.shell import shell_sag
from footexam.mechanics.strip import centre_sag_mm
from footexam.mechanics.thickness import (
    MassRule,
    TrialRule,
    equal_stiffness_mm,
    shell_thickness,
)

MASS = "body-mass"
THICKNESS = "shell-thickness.thickness"
HARD_USE = "hard-use"
"""An input above 0 for heavy manual work or running."""

_TRIAL = (
    "trial-rule-mass",
    "trial-rule-light",
    "trial-rule-heavy",
    "trial-rule-supinated-light",
    "trial-rule-supinated-heavy",
)
_BY_MASS = (
    "shell-reference-thickness",
    "shell-reference-mass",
    "shell-mass-lightest",
    "shell-mass-heaviest",
    "hard-use-more",
)
_STRIP = ("arch-load-share", "gravity", "shell-span", "shell-width", "shell-modulus")
_CURVED = (
    "shell-sagitta",
    "shell-sagitta-low",
    "end-restraint",
    "end-restraint-low",
    "end-restraint-high",
)


def _thickness(asked: Asked) -> Spread:
    trial = TrialRule(*(asked.at(name) for name in _TRIAL))
    rule = MassRule(*(asked.at(name) for name in _BY_MASS))
    index = asked.at("fpi-total") if asked.known("fpi-total") else None
    heavy = asked.known(HARD_USE) and asked.at(HARD_USE) > 0
    found = shell_thickness(asked.at(MASS), index, trial, rule, heavy=heavy)
    if not asked.known("shell-modulus-chosen"):
        return found
    reference, chosen = asked.at("shell-modulus"), asked.at("shell-modulus-chosen")
    value, low, high = (
        equal_stiffness_mm(thickness, reference, chosen)
        for thickness in (found.value, found.low, found.high)
    )
    return Spread(value, low, high)


def _load(asked: Asked) -> float:
    return asked.at("arch-load-share") * weight_n(asked.at(MASS), asked.at("gravity"))


def _modulus(asked: Asked) -> float:
    chosen = "shell-modulus-chosen"
    return asked.at(chosen if asked.known(chosen) else "shell-modulus")


def _sag(asked: Asked) -> Spread:
    return shell_sag(
        exactly(_load(asked)),
        exactly(asked.at("shell-span")),
        exactly(asked.at("shell-width")),
        exactly(asked.at(THICKNESS)),
        exactly(_modulus(asked)),
        asked.span("shell-sagitta"),
        asked.span("end-restraint"),
    )


def _flat_bound(asked: Asked) -> Spread:
    span, width = asked.at("shell-span"), asked.at("shell-width")
    sag = centre_sag_mm(_load(asked), span, width, asked.at(THICKNESS), _modulus(asked))
    return Spread(sag, sag, sag)


_NEEDS = ((MASS,), (THICKNESS,))

FORMULAS = (
    Formula(
        "shell-thickness",
        "mm",
        Standing.ESTIMATE,
        ((MASS,),),
        (*_TRIAL, *_BY_MASS, "shell-modulus"),
        _thickness,
    ),
    Formula("shell-sag", "mm", Standing.ESTIMATE, _NEEDS, (*_STRIP, *_CURVED), _sag),
    Formula("shell-sag-flat-bound", "mm", Standing.MODEL, _NEEDS, _STRIP, _flat_bound),
)
