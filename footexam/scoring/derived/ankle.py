"""The pattern of ankle dorsiflexion on the couch, knee straight against knee bent (degrees).

The rules are tried in this order; the first that fits gives the word. Their figures stand with
source and provenance under `ankle-pattern` in forms/panels.
"""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from footexam.scoring.derived.result import Derived
from footexam.scoring.results import BandShown
from footexam.scoring.visit import Visit
from footexam.terms import Provenance, Side

STRAIGHT, BENT = "ankle-dorsiflexion-knee-straight", "ankle-dorsiflexion-knee-bent"
END_FEEL, TORQUE = "ankle-end-feel", "ankle-torque"
PATTERN = "ankle-pattern"

_Figure = Callable[[str], Decimal]
"""A figure of the rule by its name."""


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
    figure = partial(visit.figure, PATTERN)
    word = _pattern(straight, bent, feel, figure)
    torque = visit.number(TORQUE, side)
    parts = ((STRAIGHT, straight), (BENT, bent), (END_FEEL, feel), (TORQUE, torque))
    inputs = tuple(measure for measure, found in parts if found is not None)
    return Derived(word, inputs, bands=_bands(visit, word, straight, torque))


def _pattern(straight: Decimal, bent: Decimal | None, feel: str | None, figure: _Figure) -> str:
    """The word for readings in degrees and an end-feel; first match wins."""
    if bent is not None and bent < straight - figure("inconsistent"):
        return "inconsistent"
    if straight > figure("restricted"):
        return "not-restricted" if straight > figure("usual") else "borderline"
    if bent is None:
        return "restricted-bent-missing"
    if bent > figure("bent-usual"):
        return "gastrocnemius"
    if feel == "hard" and bent - straight < figure("blocked-gain"):
        return "possible-bony-block"
    return "gastrocnemius-soleus"


def _bands(
    visit: Visit, word: str, straight: Decimal, torque: Decimal | None
) -> tuple[BandShown, ...]:
    trade = BandShown(PATTERN, word, "common-practice", Provenance.COMMON_PRACTICE, True)
    figure = partial(visit.figure, PATTERN)
    if torque is None or abs(torque - figure("torque")) > figure("torque-within"):
        return (trade,)
    limit = visit.rule(PATTERN, "restricted")
    band = "restricted" if straight <= figure("restricted") else "not-restricted"
    at_torque = BandShown("ankle-straight-10-nm", band, limit.source, limit.provenance, False)
    return trade, at_torque
