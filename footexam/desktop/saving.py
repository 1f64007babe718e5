"""Hands the entries of an open journal to the store, in order, and tries again what failed."""

from collections import deque
from collections.abc import Sequence
from concurrent.futures import Future
from typing import Any, Protocol

from PySide6.QtCore import QObject, Qt, Signal, Slot

from footexam.desktop.texts import TEXTS
from footexam.record.entry import Draft, Entry, first_link
from footexam.record.journal import Journal
from footexam.store import Conflict, KnownError

WAIT_S = 0.1
"""How long the window waits for an entry to be durable before it moves on."""


class Keeper(Protocol):
    """Where entries are made durable; the store, or nothing in tests of the window."""

    def keep(self, subject: str, head: str, drafts: Sequence[Draft]) -> "Future[Any]":
        """Make drafts durable as the entries behind `head`, in the order of the calls.

        The future raises what the store raises.
        """


class Saving(QObject):
    """Which entries of a journal are durable.

    `changed()`: that has changed. `failed(error)`: entries could not be made durable; they stay,
    and go to the store again with the next entry or `keep`. `grown(entries)`: the store holds
    entries that the journal does not; `follow` takes up a journal that does.
    """

    changed = Signal()
    failed = Signal(object)
    grown = Signal(object)
    _late = Signal()

    def __init__(self, keeper: Keeper, journal: Journal, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._keeper = keeper
        self._late.connect(self.settle, Qt.ConnectionType.QueuedConnection)
        self.follow(journal, len(journal))

    def follow(self, journal: Journal, durable: int) -> None:
        """Look after a journal whose first `durable` entries are in the store."""
        self._journal = journal
        self._flights: deque[tuple[int, Future[Any]]] = deque()
        self._handed = self._durable = durable
        self.trouble = ""
        """The sentence of what stands in the way of saving; "" if nothing does."""

    @property
    def unsaved(self) -> int:
        """How many entries are not durable yet."""
        return len(self._journal) - self._durable

    def is_saved(self, seq: int) -> bool:
        """Whether an entry is durable."""
        return seq <= self._durable

    def keep(self) -> None:
        """Hand over what the store does not have yet, and wait a little for it."""
        self.hand_over()
        self.wait()

    def hand_over(self) -> None:
        """Hand over what the store does not have yet.

        After a failure nothing more is handed over until all that was under way has come back.
        """
        entries = list(self._journal)
        if self._handed < len(entries) and not (self.trouble and self._flights):
            self._flights.append((len(entries), self._ask_for(entries)))
            self._handed = len(entries)

    def wait(self) -> None:
        """Wait a little for what was handed over; what takes longer is told by `changed`."""
        if self._flights:
            future = self._flights[-1][1]
            try:
                future.exception(WAIT_S)
            except TimeoutError:
                future.add_done_callback(self._kept)
        self.settle()

    def _ask_for(self, entries: list[Entry]) -> "Future[Any]":
        head = entries[self._handed - 1].hash if self._handed else first_link(self._journal.subject)
        drafts = [entry.draft for entry in entries[self._handed :]]
        try:
            return self._keeper.keep(self._journal.subject, head, drafts)
        except KnownError as bad:  # the store is closed or was never opened
            failed: Future[Any] = Future()
            failed.set_exception(bad)
            return failed

    def _kept(self, _future: "Future[Any]") -> None:
        """In the store's thread: only tell; `settle` runs in the window's."""
        self._late.emit()

    @Slot()
    def settle(self) -> None:
        """Take note of what has come back from the store."""
        before, trouble, failure = self._durable, self.trouble, None
        foreign: tuple[Entry, ...] = ()
        while self._flights and self._flights[0][1].done():
            upto, future = self._flights.popleft()
            bad = future.exception()
            if bad is None:
                self._durable, self.trouble = upto, ""
            elif isinstance(bad, Conflict):
                foreign = self._compare(bad)
            else:
                failure = bad
                self.trouble = str(bad) if isinstance(bad, KnownError) else TEXTS["fault"]
        if not self._flights:
            self._handed = self._durable  # what failed goes to the store again
        if failure is not None:
            self.failed.emit(failure)
        if foreign:
            self.grown.emit(foreign)
        elif (self._durable, self.trouble) != (before, trouble) or failure is not None:
            self.changed.emit()

    def take_note(self, conflict: Conflict) -> None:
        """Tell by `grown` what the store holds and the journal does not, if there is anything."""
        foreign = self._compare(conflict)
        if foreign:
            self.grown.emit(foreign)

    def _compare(self, conflict: Conflict) -> tuple[Entry, ...]:
        """All entries of the store if it holds some that the journal does not; else none.

        Without any, the conflict only followed from an entry before it that could not be written,
        or the entries are there although the store said otherwise.
        """
        ours = list(self._journal)
        start = conflict.entries[0].seq - 1 if conflict.entries else 0
        theirs = [*ours[:start], *conflict.entries]
        shared = shared_beginning(ours, theirs)
        self._durable = max(self._durable, shared)
        return tuple(theirs) if shared < len(theirs) else ()


def shared_beginning(ours: Sequence[Entry], theirs: Sequence[Entry]) -> int:
    """How many entries two journals of one subject have in common from the first on."""
    count = 0
    for our, their in zip(ours, theirs, strict=False):
        if our.hash != their.hash:
            break
        count += 1
    return count
