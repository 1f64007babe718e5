"""Finds where the clock of the computer stepped back; entries are kept as they came."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

from footexam.record.entry import Entry


@dataclass(frozen=True, slots=True)
class ClockStep:
    """An entry whose time lies before that of the entry before it.

    `back_s` is how far, in seconds; None if its time cannot be read.
    """

    seq: int
    at: str
    before: str
    back_s: float | None


def clock_steps(entries: Iterable[Entry]) -> tuple[ClockStep, ...]:
    """The entries of a journal at which time went back, in order."""
    steps = []
    previous: tuple[str, datetime] | None = None
    for entry in entries:
        at = entry.draft.at
        time = _time(at)
        if time is None:
            steps.append(ClockStep(entry.seq, at, previous[0] if previous else "", None))
            continue
        if previous and time < previous[1]:
            back_s = (previous[1] - time).total_seconds()
            steps.append(ClockStep(entry.seq, at, previous[0], back_s))
        previous = at, time
    return tuple(steps)


def stepped_back(last_at: str, now: datetime) -> float:
    """Seconds by which the clock lies before the last entry of a store; 0.0 if it does not."""
    last = _time(last_at)
    return max((last - now).total_seconds(), 0.0) if last else 0.0


def _time(at: str) -> datetime | None:
    """A time as it stands in an entry; None if it cannot be read. Without a zone it is UTC."""
    try:
        time = datetime.fromisoformat(at)
    except ValueError:
        return None
    return time if time.tzinfo else time.replace(tzinfo=UTC)
