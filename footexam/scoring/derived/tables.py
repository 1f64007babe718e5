"""Tables as formulas read them: rows, cells, dates and sums of columns."""

from collections.abc import Callable, Iterable, Mapping
from datetime import MINYEAR, date, timedelta
from decimal import Decimal

from footexam.record.reading import Rows
from footexam.scoring.visit import Visit

DAYS_A_WEEK = 7

Row = Mapping[str, str | Decimal]
Quantity = Callable[[Row], Decimal | None]
"""What a row amounts to; None where it is not written."""


def rows(visit: Visit, measure: str) -> tuple[Row, ...]:
    """The rows of an unsided table; none if it is absent or not recorded."""
    value = visit.value(measure)
    return value.rows if isinstance(value, Rows) else ()


def last_day(text: object, today: date) -> date | None:
    """The last day that YYYY-MM-DD, YYYY-MM or YYYY may mean, at the latest today; else None."""
    if not isinstance(text, str):
        return None
    parts = text.split("-")
    try:
        year, month, day = (int(part) for part in (*parts, "1", "1")[:3])
        first = date(year, month, day)
    except ValueError:
        return None
    if first > today or len(parts) > 3:
        return None
    return min(_end(first, len(parts)), today)


def _end(first: date, parts: int) -> date:
    if parts == 3:
        return first
    if parts == 1:
        return date(first.year, 12, 31)
    following = date(first.year + first.month // 12, first.month % 12 + 1, 1)
    return following - timedelta(days=1)


def whole_day(text: object) -> date | None:
    """A full ISO date; None for anything else, and for year 1, which has no days before it."""
    try:
        found = date.fromisoformat(str(text))
    except ValueError:
        return None
    return found if found.year > MINYEAR else None


def cell(column: str) -> Quantity:
    """Reads a number of that column; None if it is not written."""

    def read(row: Row) -> Decimal | None:
        found = row.get(column)
        return found if isinstance(found, Decimal) else None

    return read


def effort_minutes(row: Row) -> Decimal | None:
    """Minutes times effort (session load, Foster 1998); 0 minutes are 0 whatever the effort."""
    minutes, effort = row.get("minutes"), row.get("effort")
    if not isinstance(minutes, Decimal):
        return None
    if not minutes:
        return minutes
    return minutes * effort if isinstance(effort, Decimal) else None


def total_of(table: Iterable[Row], quantity: Quantity) -> Decimal | None:
    """The quantity of all rows together; None if a row lacks it."""
    total = Decimal()
    for row in table:
        part = quantity(row)
        if part is None:
            return None
        total += part
    return total
