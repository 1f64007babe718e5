"""The two-level score for deep vein thrombosis (Wells 2003, N Engl J Med 349:1227), by leg.

For adults only, and not in pregnancy, the six weeks after birth or in people who inject drugs:
there neither the score nor its positives are given. The figures of the score stand with their
source under `wells-two-level` in forms/panels.
"""

from decimal import Decimal

from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import ADULT_FROM, Visit
from footexam.terms import Side

GENERAL = (
    "active-cancer",
    "leg-paralysis-or-cast",
    "bed-rest-or-surgery-12-weeks",
    "previous-clot",
)
OF_THE_LEG = (
    "deep-vein-tender",
    "whole-leg-swollen",
    "pitting-oedema-one-side",
    "collateral-veins",
)
CALF = "calf-circumference"
ALTERNATIVE = "alternative-as-likely"
ITEMS = (*GENERAL[:3], *OF_THE_LEG[:2], CALF, *OF_THE_LEG[2:], GENERAL[3])
SCORE = "wells-two-level"
UNNAMED = frozenset({"no", "none", "nil", "nothing", "not", "n/a", "na", "unknown", "unsure"})
"""What people write where there is nothing to name; with signs only ("-", "?") as well."""


def two_level(visit: Visit, side: Side) -> Derived | None:
    """The word likely from so many points on, else unlikely; only when every item is recorded.

    An alternative diagnosis takes points off only where it is named.
    """
    answers = _answers(visit, side)
    if answers is None:
        return None
    known = tuple(item for item in ITEMS if answers[item] is not None)
    missing = tuple(item for item in ITEMS if answers[item] is None)
    if missing:
        # What is missing is named only once the leg itself was looked at.
        return Derived(None, known, missing) if _looked_at(visit, side) else None
    if visit.examination.age() is None:
        return None
    named = _names(visit.text(ALTERNATIVE, side) or "")
    points = Decimal(sum(bool(answer) for answer in answers.values()))
    if named:
        points -= visit.figure(SCORE, "alternative")
    inputs = (*known, ALTERNATIVE) if named else known
    return Derived("likely" if points >= visit.figure(SCORE, "likely") else "unlikely", inputs)


def positives(visit: Visit, side: Side) -> Derived | None:
    """How many items are positive so far, an alternative diagnosis left out; a count."""
    answers = _answers(visit, side)
    if answers is None:
        return None
    known = tuple(item for item in ITEMS if answers[item] is not None)
    return Derived(Decimal(sum(bool(answers[item]) for item in known)), known)


def _names(alternative: str) -> bool:
    """Whether a text names anything: "none" does not, and takes no points off."""
    word = alternative.strip(" .!").casefold()
    return word not in UNNAMED and any(letter.isalpha() for letter in word)


def _answers(visit: Visit, side: Side | None) -> dict[str, bool | None] | None:
    """Each item as positive, negative or not recorded; None where the score must not be used."""
    if _barred(visit) or not _asked(visit, side):
        return None
    answers: dict[str, bool | None] = {}
    for item in ITEMS:
        answers[item] = _calf_larger(visit, side) if item == CALF else _yes(visit, item, side)
    return answers


def _yes(visit: Visit, item: str, side: Side | None) -> bool | None:
    word = visit.word(item, side)
    return None if word is None else word == "yes"


def _barred(visit: Visit) -> bool:
    age = visit.examination.age()
    return (
        (age is not None and age.years < ADULT_FROM)
        or visit.word("pregnant-or-recent-birth") == "yes"
        or visit.word("injects-drugs") == "yes"
    )


def _looked_at(visit: Visit, side: Side | None) -> bool:
    """Whether something of the leg itself was recorded."""
    return any(visit.word(item, side) for item in OF_THE_LEG) or bool(visit.repeats(CALF, side))


def _asked(visit: Visit, side: Side | None) -> bool:
    """Whether the clot questions were opened, beyond the general history."""
    return _looked_at(visit, side) or any(visit.word(item) for item in GENERAL[1:3])


def _calf_larger(visit: Visit, side: Side | None) -> bool | None:
    own = visit.number(CALF, side)
    other = visit.number(CALF, Side.RIGHT if side is Side.LEFT else Side.LEFT)
    if own is None or other is None:
        return None
    return own - other >= visit.figure(SCORE, "calf-larger")
