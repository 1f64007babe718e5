"""One open examination: what is entered goes into its journal, is kept, and is judged at once."""

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any, Protocol

from PySide6.QtCore import QObject, Qt, Signal

from footexam.assessment import Assessment, assess
from footexam.catalogue.model import Catalogue
from footexam.desktop.judgement import Judge, Key
from footexam.exchange.examination import draft_of
from footexam.reasoning.facts import Facts, gather
from footexam.record.doubts import doubt
from footexam.record.entry import Author, Draft, Entry, EntryKind
from footexam.record.examination import Examination, Patient
from footexam.record.fold import fold_examination
from footexam.record.journal import Journal
from footexam.record.parse import parse
from footexam.record.reading import Reading
from footexam.record.refusal import Refusal, text
from footexam.terms import Absence

WAIT_S = 0.1
"""How long the window waits for an entry to be durable before it moves on."""


class Keeper(Protocol):
    """Where entries are made durable; the store, or nothing in tests of the window."""

    def keep(self, subject: str, head: str, drafts: Sequence[Draft]) -> "Future[Any]":
        """Make drafts durable as the entries behind `head`, in the order of the calls.

        The future raises what the store raises.
        """


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of what was typed: taken, refused (why), or doubted (why; again keeps it)."""

    taken: bool
    refusal: str = ""
    doubt: str = ""


TAKEN = Answer(True)


class Session(QObject):
    """The open examination. Everything that is shown comes from `examination` and `assessment`.

    `recorded(keys)` after every change with the keys entered; `saving()` when what is durable has
    changed; `failed(error)` when an entry could not be made durable; `touched` at every key typed.
    """

    recorded = Signal(object)
    saving = Signal()
    failed = Signal(object)
    touched = Signal()
    _late = Signal()

    def __init__(
        self,
        catalogue: Catalogue,
        keeper: Keeper,
        patient: Patient,
        journal: Journal,
        author: Author,
        before: Examination | None = None,
        now: Callable[[], datetime] = lambda: datetime.now(UTC).astimezone(),
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.catalogue = catalogue
        self.keeper = keeper
        self.patient = patient
        self.journal = journal
        self.author = author
        self.before = before
        self._now = now
        self._pending: dict[int, Future[Any]] = {}
        self.examination: Examination
        self.assessment: Assessment
        self.facts: Facts
        self.judge: Judge
        self._late.connect(self.settle, Qt.ConnectionType.QueuedConnection)
        self._refold()

    # --- what is entered

    def enter(self, key: Key, typed: object, *, keep: bool = False) -> Answer:
        """Take a value for a measure and side; `keep` confirms one beyond the warn limits."""
        measure = self.catalogue.measures[key[0]]
        try:
            parsed = parse(typed, measure, self.catalogue)
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        old = self.examination.reading(*key)
        reading = Reading(measure.id, key[1], parsed.value, parsed.typed)
        if old is not None:
            reading = replace(reading, note=old.note, method=old.method)
        why = doubt(reading, measure, self.examination.age())
        if why and not keep:
            return Answer(False, doubt=why)
        self._record([self._reading_draft(reading, confirmed=bool(why))], {key})
        return TAKEN

    def set_absent(self, keys: Iterable[Key], absence: Absence, reason: str = "") -> Answer:
        """Note why there is no value; several cells at once for a whole panel."""
        try:
            clean = text(reason) if reason.strip() else ""
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        wanted = list(keys)
        drafts = [
            self._reading_draft(Reading(measure, side, None, absent=absence, reason=clean))
            for measure, side in wanted
        ]
        self._record(drafts, set(wanted))
        return TAKEN

    def annotate(self, key: Key, *, note: str | None = None, method: str | None = None) -> Answer:
        """Put a note or a method beside a reading that is there."""
        old = self.examination.reading(*key)
        if old is None:
            return Answer(False, refusal="There is no reading yet; enter the value first.")
        try:
            clean = text(note) if note and note.strip() else ""
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        reading = replace(old, note=clean if note is not None else old.note)
        if method is not None:
            reading = replace(reading, method=method or None)
        self._record([self._reading_draft(reading)], {key})
        return TAKEN

    def take_back(self, key: Key) -> bool:
        """Take the reading of a cell back; what was there before shows again."""
        reading = self.examination.reading(*key)
        if reading is None:
            return False
        self._record([self._draft(EntryKind.RETRACT, retracts=reading.seq)], {key})
        return True

    def undo(self) -> Key | None:
        """Take back my last entry of this sitting; the cell it concerned, None if there is none."""
        entry = self.journal.undoable(self.author)
        if entry is not None and entry.draft.target.startswith("exam:"):
            return None  # what started the visit stays
        return self._retract(entry)

    def redo(self) -> Key | None:
        """Bring back what I took back last."""
        return self._retract(self.journal.redoable(self.author))

    def _retract(self, entry: Entry | None) -> Key | None:
        if entry is None:
            return None
        concerned = entry
        if entry.draft.retracts is not None:
            concerned = list(self.journal)[entry.draft.retracts - 1]
        key = _key_of(concerned)
        self._record([self._draft(EntryKind.RETRACT, retracts=entry.seq)], {key})
        return key

    def decide(self, target: str, key: Key, body: dict[str, object]) -> None:
        """Record a decision about `kind:id` on a side."""
        draft = replace(self._draft(EntryKind.DECIDE), target=target, side=key[1], body=body)
        self._record([draft], {key})

    # --- the way of an entry

    def _reading_draft(self, reading: Reading, *, confirmed: bool = False) -> Draft:
        at, offset = self._clock()
        draft = draft_of(reading, self.author, at)
        body = {**draft.body, "confirmed": True} if confirmed else draft.body
        return replace(draft, offset=offset, body=body)

    def _draft(self, kind: EntryKind, retracts: int | None = None) -> Draft:
        at, offset = self._clock()
        return Draft(kind, self.author, at, retracts=retracts, offset=offset)

    def _clock(self) -> tuple[str, int]:
        """The time in UTC and the local minutes east of it."""
        local = self._now()
        shift = local.utcoffset()
        minutes = int(shift.total_seconds() // 60) if shift else 0
        utc = local.astimezone(UTC).replace(tzinfo=None)
        return f"{utc.isoformat(timespec='milliseconds')}Z", minutes

    def _record(self, drafts: list[Draft], keys: set[Key]) -> None:
        """Write, hand to the store, judge, show; then wait a little for the store."""
        head = self.journal.head
        entries = [self.journal.append(draft) for draft in drafts]
        future = self.keeper.keep(self.journal.subject, head, drafts)
        for entry in entries:
            self._pending[entry.seq] = future
        self._refold()
        try:
            future.exception(WAIT_S)
        except TimeoutError:
            future.add_done_callback(self._kept)
        self.settle()
        self.recorded.emit(frozenset(keys))

    def _kept(self, _future: "Future[Any]") -> None:
        """In the store's thread: only tell; `settle` runs in the window's."""
        self._late.emit()

    def settle(self) -> None:
        """Forget what is durable by now; tell of what could not be made so."""
        done = [seq for seq, future in self._pending.items() if future.done()]
        failures = {self._pending[seq].exception() for seq in done} - {None}
        for seq in done:
            if self._pending[seq].exception() is None:
                del self._pending[seq]
        for failure in failures:
            self.failed.emit(failure)
        if done:
            self.saving.emit()

    def unsaved(self) -> int:
        """How many entries are not durable yet."""
        return sum(
            1
            for future in self._pending.values()
            if not future.done() or future.exception() is not None
        )

    def saving_keys(self) -> frozenset[Key]:
        """The cells whose reading is not durable yet."""
        if not self._pending:
            return frozenset()
        return frozenset(
            key
            for key, reading in self.examination.readings.items()
            if reading.seq in self._pending
        )

    def is_saved(self, key: Key) -> bool:
        """Whether the reading of a cell is durable."""
        reading = self.examination.reading(*key)
        return reading is None or reading.seq not in self._pending

    def _refold(self) -> None:
        self.examination = fold_examination(self.journal, self.patient)
        self.assessment = assess(self.examination, self.catalogue, self.before)
        self.facts = gather(
            self.examination, self.assessment.scores, self.assessment.findings, self.catalogue
        )
        self.judge = Judge(self.examination, self.assessment, self.catalogue, self.before)


def _key_of(entry: Entry) -> Key:
    _, _, name = entry.draft.target.partition(":")
    return name, entry.draft.side
