"""The pattern of ankle dorsiflexion on the couch, knee straight against knee bent (degrees).

The rules are tried in this order; the first that fits gives the word.
"""

from decimal import Decimal

from footexam.scoring.derived.result import Derived
from footexam.scoring.results import BandShown
from footexam.scoring.visit import Visit
from footexam.terms import Provenance, Side

STRAIGHT, BENT = "ankle-dorsiflexion-knee-straight", "ankle-dorsiflexion-knee-bent"
END_FEEL, TORQUE = "ankle-end-feel", "ankle-torque"

# DiGiovanni et al. 2002, J Bone Joint Surg Am 84:962: knee straight at most 5 degrees at 10 N·m.
RESTRICTED_DEG = 5
SOURCE = "digiovanni-2002"
TORQUE_NM, TORQUE_WITHIN_NM = 10, 2
# Common practice: the borderline, what the bent knee must gain, and readings that do not agree.
USUAL_DEG = 10
BENT_USUAL_DEG = 10
BLOCKED_GAIN_DEG = 5
INCONSISTENT_DEG = 3


def ankle_pattern(visit: Visit, side: Side) -> Derived | None:
    """The pattern of one side; None without a reading with the knee straight.

    The rule is common practice. Only the limit for the straight knee is published, and only for
    a torque near 10 N·m; with such a torque recorded it stands as a band of its own.
    """
    straight = visit.number(STRAIGHT, side)
    if straight is None:
        return None
    bent = visit.number(BENT, side)
    feel = visit.word(END_FEEL, side)
    word = pattern(straight, bent, feel)
    torque = visit.number(TORQUE, side)
    parts = ((STRAIGHT, straight), (BENT, bent), (END_FEEL, feel), (TORQUE, torque))
    inputs = tuple(measure for measure, found in parts if found is not None)
    return Derived(word, inputs, bands=_bands(word, straight, torque))


def pattern(straight: Decimal, bent: Decimal | None, feel: str | None) -> str:
    """The word for readings in degrees and an end-feel; first match wins."""
    if bent is not None and bent < straight - INCONSISTENT_DEG:
        return "inconsistent"
    if straight > RESTRICTED_DEG:
        return "not-restricted" if straight > USUAL_DEG else "borderline"
    return _restricted(straight, bent, feel)


def _restricted(straight: Decimal, bent: Decimal | None, feel: str | None) -> str:
    if bent is None:
        return "restricted-bent-missing"
    if bent > BENT_USUAL_DEG:
        return "gastrocnemius"
    if feel == "hard" and bent - straight < BLOCKED_GAIN_DEG:
        return "possible-bony-block"
    return "gastrocnemius-soleus"


def _bands(word: str, straight: Decimal, torque: Decimal | None) -> tuple[BandShown, ...]:
    rule = BandShown("ankle-pattern", word, "common-practice", Provenance.COMMON_PRACTICE, True)
    if torque is None or abs(torque - TORQUE_NM) > TORQUE_WITHIN_NM:
        return (rule,)
    band = "restricted" if straight <= RESTRICTED_DEG else "not-restricted"
    at_torque = BandShown("ankle-straight-10-nm", band, SOURCE, Provenance.PUBLISHED, False)
    return rule, at_torque
