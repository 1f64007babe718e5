"""The words that every room uses: sides, kinds, absences, labels."""

from enum import StrEnum


class Side(StrEnum):
    """A side of the patient, always the patient's own."""

    LEFT = "left"
    RIGHT = "right"


class Sex(StrEnum):
    """Sex as recorded; norms are looked up by female and male only."""

    FEMALE = "female"
    MALE = "male"
    OTHER = "other"
    UNKNOWN = "unknown"


class Role(StrEnum):
    """What somebody is at this visit."""

    CLINICIAN = "clinician"
    STUDENT = "student"
    SUPERVISOR = "supervisor"


class Purpose(StrEnum):
    """Why an examination was made."""

    RECORD = "record"
    STUDENT = "student"
    REFERENCE = "reference"


class Kind(StrEnum):
    """What sort of answer a measure takes; see interface.md, the kinds table."""

    SCORE = "score"
    QUANTITY = "quantity"
    PERCENT = "percent"
    DURATION = "duration"
    CHOICE = "choice"
    YES_NO = "yes-no"
    YES_SITES = "yes-sites"
    SEVERAL = "several"
    TEXT = "text"
    TABLE = "table"
    REGIONS = "regions"
    REGION_VALUES = "region-values"
    ACTIVITIES = "activities"
    DERIVED = "derived"


NUMBER_KINDS = frozenset({Kind.SCORE, Kind.QUANTITY, Kind.PERCENT, Kind.DURATION})


class Absence(StrEnum):
    """Why there is no value; never zero and never "no"."""

    NOT_EXAMINED = "not-examined"
    DECLINED = "declined"
    COULD_NOT_BE_TESTED = "could-not-be-tested"
    NOT_APPLICABLE = "not-applicable"
    NOT_DONE_SAFETY = "not-done-safety"


class Depth(StrEnum):
    """How readily a measure comes onto the sheet."""

    CORE = "core"
    WHEN = "when"
    MORE = "more"


class Provenance(StrEnum):
    """How well a clinical number was checked."""

    PUBLISHED = "published"
    PUBLISHED_UNCHECKED = "published-unchecked"
    COMMON_PRACTICE = "common-practice"
    ESTIMATE = "estimate"


class Examiner(StrEnum):
    """Whose repeat a measurement error describes."""

    SAME = "same"
    OTHER = "other"


class Label(StrEnum):
    """How sure a finding is (Rule F 7)."""

    LIKELY = "likely"
    POSSIBLE = "possible"
    REPEAT = "repeat"
    WITHIN = "within"
    NOT_JUDGED = "not-judged"


class ChangeLabel(StrEnum):
    """What a change between two visits amounts to (S10)."""

    CHANGED = "changed"
    INSIDE_ERROR = "inside-error"
    NOT_JUDGED = "not-judged"


class Basis(StrEnum):
    """What a finding's label rests on (S6)."""

    NORM = "norm"
    ERROR_ONLY = "error-only"
    NONE = "none"


class ProblemKind(StrEnum):
    """What kind of remark stands under `problems`."""

    WARN = "warn"
    INCOMPLETE = "incomplete"
    CONTRADICTION = "contradiction"
    METHOD_DIFFERS = "method-differs"
    RETIRED = "retired"


class Tier(StrEnum):
    """How soon a caution must be acted on, the most serious first."""

    EMERGENCY = "emergency"
    SAME_DAY = "same-day"
    WITHIN_DAYS = "within-days"
    CANCER_PATHWAY = "suspected-cancer-pathway"
    ROUTINE = "routine-referral"


class Grade(StrEnum):
    """What a claim rests on: trials; cohorts or laboratory; cross-sections; opinion."""

    E1 = "E1"
    E2 = "E2"
    E3 = "E3"
    E4 = "E4"


BELOW = "below"
WITHIN = "within"
ABOVE = "above"

FORMULAS = (
    "heel-height-wanted",
    "lift-height",
    "lift-tilt",
    "dorsiflexion-demanded",
    "post-height",
    "forefoot-post-height",
    "post-change",
    "skive-facet",
    "hallux-ramp-angle",
    "shell-thickness",
    "shell-sag",
    "shell-sag-flat-bound",
    "forefoot-share",
    "forefoot-share-change",
    "forefoot-lever-change",
    "achilles-force-standing",
    "achilles-force-walking",
    "moment-change",
    "fascia-tension-change",
    "relief-change",
    "relief-neighbours",
    "relief-depth",
    "head-relief-change",
    "head-relief-neighbours",
    "limb-length-target",
    "limb-length-stage",
    "rocker-apex",
    "rocker-behind-heads",
    "rocker-toe-rise",
    "rocker-sole",
    "insert-torque",
)
"""Formulas of mechanics/ that a dimension of a device may be worked out by, by name."""
