"""How large an error is and when a change or a difference is more than error; plain numbers.

SEM: standard error of measurement. Weir 2005 (J Strength Cond Res 19:231), Jacobson and Truax 1991
(J Consult Clin Psychol 59:12). Two readings of the same thing differ by an error of √2 · SEM.
"""

from enum import StrEnum
from math import sqrt
from statistics import NormalDist

from footexam.catalogue.model import MDC_FACTOR
from footexam.marking.estimate import CONFIDENCE


class Formula(StrEnum):
    """Where a SEM comes from; the formulas disagree, so it is always stated.

    `ERROR` √(error mean square): a rater's bias does not count. `AGREEMENT`: bias counts, as for
    another examiner. `WITHIN` √(mean square within subjects): the within-subject SD of repeats.
    `RELIABILITY` SD · √(1 − reliability).
    """

    ERROR = "error mean square"
    AGREEMENT = "error and raters"
    WITHIN = "within subjects"
    RELIABILITY = "SD and reliability"


def sem_from_reliability(sd: float, reliability: float) -> float:
    """SEM in the unit of `sd`; ValueError for a reliability outside 0 to 1 or a negative SD."""
    _check(sd, reliability)
    return sd * sqrt(1 - reliability)


def estimation_error(sd: float, reliability: float) -> float:
    """Standard error of an estimated true score (SEE), in the unit of `sd`."""
    _check(sd, reliability)
    return sd * sqrt(reliability * (1 - reliability))


def prediction_error(sd: float, reliability: float) -> float:
    """Standard error of predicting a second reading from a first (SEP), in the unit of `sd`."""
    _check(sd, reliability)
    return sd * sqrt(1 - reliability**2)


def _check(sd: float, reliability: float) -> None:
    if sd < 0 or not 0 <= reliability <= 1:
        raise ValueError("an SD is not negative, and a reliability lies between 0 and 1")


def difference_error(sem: float) -> float:
    """Standard error of the difference of two readings (S_diff), in the unit of `sem`."""
    return sqrt(2) * sem


def change_factor(confidence: float = CONFIDENCE) -> float:
    """What a SEM is multiplied by for the smallest change that is more than error.

    For 95 % that of the rest of the program, 1.96 √2.
    """
    if confidence == CONFIDENCE:
        return MDC_FACTOR
    return difference_error(NormalDist().inv_cdf((1 + confidence) / 2))


def smallest_change(sem: float, confidence: float = CONFIDENCE) -> float:
    """Minimal detectable change (MDC), in the unit of `sem`."""
    return change_factor(confidence) * sem


def reliable_change(first: float, second: float, sem: float) -> float | None:
    """Second minus first in units of its error: beyond ± 1.96 it is more than error.

    The standardised error of a student when `first` is the reference. None where `sem` is not
    above 0.
    """
    return (second - first) / difference_error(sem) if sem > 0 else None


def recovery_cut(troubled: tuple[float, float], usual: tuple[float, float]) -> float:
    """The score nearer to usual than to troubled people (cut-off c), from mean and SD of both.

    ValueError where neither group varies.
    """
    (low, low_sd), (high, high_sd) = troubled, usual
    if low_sd + high_sd <= 0:
        raise ValueError("one of the groups must vary")
    return (low_sd * high + high_sd * low) / (low_sd + high_sd)
