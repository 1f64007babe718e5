"""Late entries: when a reading was taken that is typed from paper afterwards."""

import re
from datetime import UTC, date, datetime

_CLOCK = re.compile(r"(?:(\d{4})-(\d{1,2})-(\d{1,2})\s+)?(\d{1,2})[:.](\d{2})", re.ASCII)


def taken_at(typed: str, day: date, now: datetime) -> str | None:
    """The UTC time of “14:30” on the day of the visit, or of “2026-11-28 14:30”, as 2026-…Z.

    Times are those of the clock on the wall, in the zone of `now`. None for anything else, and
    for a time that is still to come.
    """
    found = _CLOCK.fullmatch(typed.strip())
    if not found:
        return None
    year, month, of_month, hour, minute = found.groups()
    when = (int(year), int(month), int(of_month)) if year else (day.year, day.month, day.day)
    try:
        local = datetime(*when, int(hour), int(minute), tzinfo=now.tzinfo)
    except (ValueError, OverflowError):
        return None
    if local > now:
        return None
    return f"{local.astimezone(UTC).replace(tzinfo=None).isoformat(timespec='seconds')}Z"
