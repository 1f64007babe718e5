"""Rows of table measures and the activities a patient names."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from footexam.catalogue.model import Catalogue, Measure
from footexam.messages import listed
from footexam.record import cells
from footexam.record.numbers import score
from footexam.record.refusal import Refusal, Typed, shape, text

MOST_ACTIVITIES = 5
_LONGEST_NAME = 200


def rows(
    typed: Typed, measure: Measure, catalogue: Catalogue
) -> tuple[Mapping[str, str | Decimal], ...]:
    """The rows of a table, each with the listed columns only, in the order of the columns."""
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what=shape(typed), words="a list of rows")
    if not typed:
        raise Refusal("list-empty")
    return tuple(_row(row, measure, catalogue) for row in typed)


def _row(typed: Typed, measure: Measure, catalogue: Catalogue) -> Mapping[str, str | Decimal]:
    if not isinstance(typed, Mapping):
        raise Refusal("wrong-shape", what=f"{shape(typed)} as a row", words="an object for a row")
    if not typed:
        raise Refusal("row-empty")
    columns = {column.id: column for column in measure.columns}
    unknown = typed.keys() - columns.keys()
    if unknown:
        raise Refusal("unknown-column", what=min(unknown), words=listed(columns))
    return {
        name: cells.read(typed[name], column, catalogue)
        for name, column in columns.items()
        if name in typed
    }


def activities(typed: Typed, measure: Measure) -> tuple[tuple[str, int], ...]:
    """One to five activities with their scores."""
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what=shape(typed), words="a list of activities")
    if not 1 <= len(typed) <= MOST_ACTIVITIES:
        raise Refusal("activities-count", count=len(typed))
    return tuple(_activity(item, measure) for item in typed)


def _activity(typed: Typed, measure: Measure) -> tuple[str, int]:
    if not isinstance(typed, Mapping) or typed.keys() != {"activity", "score"}:
        raise Refusal("activity-shape")
    return text(typed["activity"], _LONGEST_NAME), int(score(typed["score"], measure))
