"""Readings as they are written down: from a reading to the draft of its entry."""

from typing import Any

from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.reading import Reading
from footexam.record.values import to_json


def draft_of(reading: Reading, author: Author, at: str) -> Draft:
    """The entry that a reading is written down as."""
    body: dict[str, Any] = {}
    if reading.value is not None:
        body = {"value": to_json(reading.value), "typed": reading.typed}
    if reading.absent is not None:
        body["absent"] = reading.absent.value
    for key in ("note", "method", "performed_at"):
        if getattr(reading, key):
            body[key] = getattr(reading, key)
    if reading.typed_both:
        body["both"] = True
    return Draft(
        kind=EntryKind.ABSENT if reading.absent else EntryKind.SET,
        author=author,
        at=at,
        target=f"measure:{reading.measure}",
        side=reading.side,
        body=body,
        reason=reading.reason,
    )
