"""Where each feature lies and what it is usually made of: common practice, in our own words.

What the examiner typed with a feature (“material”, “position”, “note”) goes before it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from footexam.catalogue.model import Texts


@dataclass(frozen=True, slots=True)
class Making:
    """Where a feature lies, and the ids of its usual materials; none for what is no material."""

    where: Texts
    materials: tuple[str, ...] = ()


def _made(where: str, *materials: str) -> Making:
    return Making({"en": where}, materials)


POLYPROPYLENE = "polypropylene-copolymer"

MAKING: Mapping[str, Making] = {
    "foot-capture-posture": _made("the whole foot, when its shape is taken"),
    "balanced-correction": _made("heel of the model"),
    "inverted-correction": _made("whole model, heel and arch tilted inward"),
    "everted-correction": _made("whole model, heel tilted outward"),
    "medial-heel-skive": _made("inner half of the heel seat, cut into the model", POLYPROPYLENE),
    "lateral-heel-skive": _made("outer half of the heel seat, cut into the model", POLYPROPYLENE),
    "arch-contour-height": _made("highest point of the inner arch", POLYPROPYLENE),
    "arch-fill": _made("inner arch of the model, highest at its middle"),
    "heel-expansion": _made("both sides of the heel of the model"),
    "shell-stiffness": _made("whole shell", POLYPROPYLENE),
    "shell-thickness": _made("whole shell, even", POLYPROPYLENE),
    "shell-length-and-width": _made("front edge of the shell, behind all heads", POLYPROPYLENE),
    "sub-arch-reinforcement": _made("under the arch of the shell, down to the ground", "eva-firm"),
    "heel-cup-depth": _made("wall around the heel, above the lowest point of the seat"),
    "rearfoot-post-medial": _made(
        "under the heel, inner edge the higher one, ends before the arch", "eva-firm"
    ),
    "rearfoot-post-lateral": _made(
        "under the heel, outer edge the higher one, ends before the arch", "eva-firm"
    ),
    "rearfoot-post-neutral": _made("under the whole heel, flat, ends before the arch", "eva-firm"),
    "no-rearfoot-post": _made("under the heel, shell ground flat"),
    "heel-lift": _made(
        "under the heel, whole height under the middle of the heel, thin at the front edge",
        "eva-firm",
    ),
    "heel-aperture": _made("under the tender middle of the heel", "polyurethane-soft"),
    "lateral-heel-flare": _made("outer edge of the base of the heel", "eva-firm"),
    "forefoot-post-medial": _made("front edge of the shell, inner half, to the heads", "eva-firm"),
    "forefoot-post-lateral": _made("front edge of the shell, outer half, to the heads", "eva-firm"),
    "forefoot-post-intrinsic": _made("within the front edge of the shell"),
    "full-length-lateral-wedge": _made("outer edge from heel to toes", "eva-firm"),
    "first-ray-cut-out": _made("inner front edge of the shell, along the first metatarsal"),
    "first-metatarsal-head-relief": _made("under the first metatarsal head", "polyurethane-soft"),
    "first-ray-extension": _made(
        "from the front edge under the first head to the end of the big toe", POLYPROPYLENE
    ),
    "hallux-dorsiflexion-wedge": _made(
        "under the big toe, rising forward; first head left free", "eva-firm"
    ),
    "lateral-forefoot-extension": _made(
        "from the front edge under heads 2 to 5 to the toe webs, inner edge bevelled", "eva-medium"
    ),
    "metatarsal-dome": _made(
        "behind heads 2 to 4, in the middle between their edges", "polyurethane-firm"
    ),
    "metatarsal-bar": _made("across behind all five heads", "eva-medium"),
    "plantar-fascial-groove": _made(
        "from the inner tubercle of the heel to the middle of the first metatarsal"
    ),
    "plantar-plate-offload": _made(
        "behind and beside the sore head, open to its toe", "felt-semi-compressed"
    ),
    "toe-prop": _made("under and between the toes, as moulded", "silicone"),
    "cuboid-pad": _made("under the cuboid, ends behind the base of metatarsal 5", "eva-medium"),
    "medial-flange": _made("inner wall of the shell, highest at the navicular", POLYPROPYLENE),
    "lateral-flange": _made(
        "outer wall of the shell, ends behind the base of metatarsal 5", POLYPROPYLENE
    ),
    "cover-material": _made("top of the device, over its whole length", "eva-very-soft"),
    "cover-length": _made("front end of the cover"),
    "total-contact-insole": _made(
        "whole sole, toe end to heel: soft on top, firm below",
        "polyethylene-foam-soft",
        "eva-medium",
    ),
    "rocker-sole": _made("sole of the shoe; apex from the back of the heel", "eva-dense"),
    "stiff-forefoot-insert": _made("whole length, under the device", "carbon-epoxy-woven"),
    "shoe-drop": _made("shoe, heel against forefoot"),
    "shoe-fit": _made("shoe, before the longest toe"),
    "medially-firm-midsole": _made("inner half of the midsole of the shoe"),
    "heel-counter-and-fastening": _made("heel counter, laces or strap, and shank of the shoe"),
    "limb-length-raise": _made(
        "shorter leg; in the shoe under the heel first, the rest under the whole sole", "eva-dense"
    ),
    "low-dye-taping": _made("sole and edges of the foot, by the clinician"),
    "stirrup-taping": _made("heel and ankle, by the clinician"),
    "walking-boot": _made("foot and lower leg"),
    "prefabricated-orthosis": _made("whole foot, size by foot length"),
}
"""By the id of a feature. A pocket and a patch are not here: their place must be typed."""
