"""Derived measures of the history: sides of the complaint, injuries, lesions."""

from decimal import Decimal

from footexam.record.reading import Words
from footexam.scoring.derived.result import Derived
from footexam.scoring.derived.tables import DAYS_A_WEEK, last_day, rows
from footexam.scoring.visit import Visit
from footexam.terms import Side

LESION_ITEMS = (
    "lesion-not-skin-colour",
    "lesion-uncertain",
    "lesion-bleeding",
    "lesion-enlarging",
    "lesion-slow-to-heal",
)


def complaint_sides(visit: Visit) -> Derived | None:
    """The sides on which a region of complaint is marked: right, left or both."""
    marked = [one for one in Side if _marked(visit, one)]
    if not marked:
        return None
    return Derived("both" if len(marked) > 1 else str(marked[0]), ("complaint-site",))


def _marked(visit: Visit, side: Side) -> bool:
    value = visit.value("complaint-site", side)
    return isinstance(value, Words) and bool(value.words)


def weeks_since_previous_injury(visit: Visit) -> Derived | None:
    """Weeks from the newest dated injury to the examination, unrounded.

    A date known to the month or year only counts as its last day: at least so many weeks.
    """
    today = visit.examination.examined_on
    days = [last_day(row.get("date"), today) for row in rows(visit, "previous-injuries")]
    known = [day for day in days if day is not None]
    if not known:
        return None
    return Derived(Decimal((today - max(known)).days) / DAYS_A_WEEK, ("previous-injuries",))


def lesion_cubed_count(visit: Visit, side: Side) -> Derived | None:
    """How many of the five lesion questions are answered yes so far, a count (Bristow 2010)."""
    answers = {item: visit.word(item, side) for item in LESION_ITEMS}
    known = tuple(item for item, answer in answers.items() if answer is not None)
    if not known:
        return None
    missing = tuple(item for item in LESION_ITEMS if item not in known)
    positives = sum(answer == "yes" for answer in answers.values())
    return Derived(Decimal(positives), known, missing)
