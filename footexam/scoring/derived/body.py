"""Derived measures of the body as a whole: body mass index."""

from footexam.scoring.derived.result import Derived, Slopes, numbers
from footexam.scoring.visit import Visit
from footexam.terms import Side

MEASURES = ("body-height", "body-mass")
_CM_A_METRE = 100


def body_mass_index(visit: Visit) -> Derived | None:
    """Body mass (kg) over the square of body height (cm, turned into m), kg/m2."""
    found = numbers(visit, None, MEASURES)
    if found is None or not found[0]:
        return None
    return Derived(found[1] / (found[0] / _CM_A_METRE) ** 2, MEASURES)


def slopes(visit: Visit, _side: Side | None) -> Slopes:
    """Slopes of m / h² by height in cm and mass in kg."""
    height, mass = (float(number) for number in numbers(visit, None, MEASURES) or ())
    height /= _CM_A_METRE
    return (
        (("body-height", None), -2.0 * mass / height**3 / _CM_A_METRE),
        (("body-mass", None), 1.0 / height**2),
    )
