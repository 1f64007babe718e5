"""Every derived measure by its id: the formula, and the slopes that carry errors through it."""

from collections.abc import Mapping

from footexam.catalogue.model import Measure
from footexam.scoring.derived import (
    ankle,
    body,
    energy,
    feet,
    history,
    sessions,
    vessel,
    weekly,
    wells,
)
from footexam.scoring.derived.result import Derived, Formula, Slope, WholeFormula
from footexam.scoring.visit import Visit
from footexam.terms import Side

SIDED: Mapping[str, Formula] = {
    "wells-two-level": wells.two_level,
    "wells-positives": wells.positives,
    "lesion-cubed-count": history.lesion_cubed_count,
    "ankle-brachial-index": vessel.ankle_brachial_index,
    "toe-brachial-index": vessel.toe_brachial_index,
    "wound-weeks": vessel.wound_weeks,
    "wound-infected": vessel.wound_infected,
    "ankle-pattern": ankle.ankle_pattern,
    "first-ray-total-travel": feet.first_ray_total_travel,
    "fpi-total": feet.fpi_total,
    "navicular-drop": feet.navicular_drop,
    "arch-height-index": feet.arch_height_index,
    "arch-height-index-seated": feet.arch_height_index_seated,
    "arch-height-change": feet.arch_height_change,
    "foot-mobility-magnitude": feet.foot_mobility_magnitude,
    "gastrocnemius-difference": feet.gastrocnemius_difference,
}
"""Measures of each side."""

WHOLE: Mapping[str, WholeFormula] = {
    "complaint-sides": history.complaint_sides,
    "weeks-since-previous-injury": history.weeks_since_previous_injury,
    "reds-primary-indicators": energy.reds_primary_indicators,
    "reds-secondary-indicators": energy.reds_secondary_indicators,
    "body-mass-index": body.body_mass_index,
    "load-change-4-weeks": weekly.load_change_4_weeks,
    "load-change-2-weeks": weekly.load_change_2_weeks,
    "load-stable-weeks": weekly.load_stable_weeks,
    "sessions-per-week": weekly.sessions_per_week,
    "longest-session": sessions.longest_session,
    "session-spike-30-days": sessions.session_spike_30_days,
    "training-monotony": sessions.training_monotony,
    "skin-temperature-difference": vessel.skin_temperature_difference,
    "limb-length-difference": feet.limb_length_difference,
}
"""Measures without sides."""

SLOPES: Mapping[str, Slope] = {
    "body-mass-index": body.slopes,
    "ankle-brachial-index": vessel.ankle_slopes,
    "toe-brachial-index": vessel.toe_slopes,
    "first-ray-total-travel": feet.sum_slopes(*feet.TRAVELS),
    "limb-length-difference": feet.limb_slopes,
    "fpi-total": feet.sum_slopes(*feet.FPI_ITEMS),
    "navicular-drop": feet.difference_slopes(*feet.NAVICULAR),
    "arch-height-index": feet.ratio_slopes(*feet.STANDING),
    "arch-height-index-seated": feet.ratio_slopes(*feet.SEATED),
    "arch-height-change": feet.change_slopes,
    "foot-mobility-magnitude": feet.mobility_slopes,
    "gastrocnemius-difference": feet.difference_slopes(*feet.LUNGES),
}
"""Only measures whose error can be worked out from that of their inputs (F11)."""


def has_formula(measure: Measure) -> bool:
    """Whether a derived measure can be worked out here."""
    return measure.id in (SIDED if measure.sided else WHOLE)


def work_out(measure: str, visit: Visit, side: Side | None) -> Derived | None:
    """A derived measure of one side, or without a side; None where nothing is recorded for it."""
    return WHOLE[measure](visit) if side is None else SIDED[measure](visit, side)
