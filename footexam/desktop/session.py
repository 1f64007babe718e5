"""One open examination: what is entered goes into its journal, is kept, and is judged at once."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from itertools import islice

from PySide6.QtCore import QObject, Signal

from footexam.assessment import Assessment, assess, assess_after
from footexam.catalogue.arguments import Hold
from footexam.catalogue.model import Catalogue
from footexam.desktop.judgement import Judge, Key
from footexam.desktop.late import taken_at
from footexam.desktop.merging import merge
from footexam.desktop.saving import Keeper, Saving
from footexam.desktop.texts import TEXTS
from footexam.reasoning.dangers import is_danger
from footexam.reasoning.engine import engine
from footexam.reasoning.facts import Facts, gather
from footexam.reasoning.sheet import OnSheet
from footexam.record.doubts import doubt
from footexam.record.drafts import draft_of
from footexam.record.entry import Author, Draft, Entry, EntryKind
from footexam.record.examination import Examination, Patient
from footexam.record.fold import fold_examination
from footexam.record.journal import Journal
from footexam.record.parse import parse
from footexam.record.reading import Reading
from footexam.record.refusal import Refusal, text
from footexam.record.withdrawn import said_yes
from footexam.terms import Absence, Side

STRUCK = "exam:entered-in-error"
ADVICE = "load-advice"
"""The measure that holds the advice on exercise and load."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of what was typed: taken, refused (why), or doubted (why; again keeps it).

    `wants_reason`: the record is signed, and a change of it needs a reason first (`amend`).
    """

    taken: bool
    refusal: str = ""
    doubt: str = ""
    wants_reason: bool = False


TAKEN = Answer(True)
WANTS_REASON = Answer(False, wants_reason=True)


class Session(QObject):
    """The open examination. Everything that is shown comes from `examination` and `assessment`.

    `recorded(keys)` after every change with the keys entered; `saving()` when what is durable has
    changed; `failed(error)` when an entry could not be made durable; `told(words)` when somebody
    else has written into the record; `touched` at every key typed.
    """

    recorded = Signal(object)
    saving = Signal()
    failed = Signal(object)
    told = Signal(str)
    touched = Signal()

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
        self.patient = patient
        self.journal = journal
        self.author = author
        self.before = before
        self._now = now
        self._reason = ""
        self.taken_at: str | None = None
        """When the readings typed now were taken (UTC), while they are typed from paper."""
        self._looked_at = 0
        self._ever_struck = False
        self.in_error = False
        """Whether the examination is struck through; nothing is added to it then."""
        self.clashes: dict[Key, str] = {}
        """What somebody else entered for a cell at the same time, in words."""
        self.examination: Examination
        self.assessment: Assessment
        self.facts: Facts
        self.recorded_measures: frozenset[str]
        self.judge: Judge
        self._judged: tuple[Examination, Assessment] | None = None
        self.store = Saving(keeper, journal, self)
        self.store.changed.connect(self.saving)
        self.store.failed.connect(self.failed)
        self.store.grown.connect(self._on_grown)
        self._refold()

    # --- whether a change may be made

    def amend(self, reason: str) -> Answer:
        """Give the reason of the next change of a signed record."""
        try:
            self._reason = text(reason)
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        return TAKEN

    def drop_reason(self) -> None:
        """Forget a reason whose change was not made."""
        self._reason = ""

    @property
    def has_reason(self) -> bool:
        """Whether the reason of the next change has been given."""
        return bool(self._reason)

    @property
    def wants_reason(self) -> bool:
        """Whether the next change needs a reason first."""
        return bool(self.examination.signed_by) and not self._reason and not self.in_error

    @property
    def wants_reason_to_undo(self) -> bool:
        """Whether what undo would take back is a yes on a danger question, which needs a reason."""
        entry = self.journal.undoable(self.author)
        if entry is None or self._reason or self.in_error:
            return False
        return self._is_danger_yes(self._uncovered(entry.reading))

    def holds_danger(self, key: Key) -> bool:
        """Whether a cell holds a yes on a danger question, which only a reason takes away."""
        return self._is_danger_yes(self.examination.reading(*key))

    def _uncovered(self, reading: Reading | None) -> Reading | None:
        """A reading that would go; None if the one before it, which then shows, is a yes too."""
        if reading is None:
            return None
        key = reading.measure, reading.side
        before = [
            one
            for one in (entry.reading for entry in self.journal.live())
            if one is not None and (one.measure, one.side) == key and one.seq < reading.seq
        ]
        return None if before and said_yes(before[-1]) else reading

    def _is_danger_yes(self, reading: Reading | None) -> bool:
        return (
            reading is not None and said_yes(reading) and is_danger(reading.measure, self.catalogue)
        )

    def _barred(self, *gone: Reading | None) -> Answer | None:
        """Why nothing may be changed now; None if it may.

        `gone` are readings that the change would replace: a yes on a danger question is taken back
        by a named person with a reason only.
        """
        if self.in_error:
            return Answer(False, refusal=TEXTS["struck"])
        danger = not self._reason and any(map(self._is_danger_yes, gone))
        return WANTS_REASON if self.wants_reason or danger else None

    # --- what is entered

    def enter(self, key: Key, typed: object, *, keep: bool = False) -> Answer:
        """Take a value for a measure and side; `keep` confirms one beyond the warn limits."""
        measure = self.catalogue.measures[key[0]]
        try:
            parsed = parse(typed, measure, self.catalogue)
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        if measure.id == ADVICE and self.bars_load:
            return Answer(False, refusal=TEXTS["advice-held"])
        old = self.examination.reading(*key)
        reading = Reading(measure.id, key[1], parsed.value, parsed.typed)
        barred = self._barred(None if said_yes(reading) else old)
        if barred:
            return barred
        if old is not None:
            reading = replace(reading, note=old.note, method=old.method)
        why = doubt(reading, measure, self.examination.age()) or self._contradicts(reading)
        if why and not keep:
            return Answer(False, doubt=why)
        self._record([self._reading_draft(reading, confirmed=bool(why))], {key})
        return TAKEN

    def _contradicts(self, reading: Reading) -> str | None:
        """Why a reading cannot be so beside the others; None if it can, or was so before."""
        readings = {**self.examination.readings, (reading.measure, reading.side): reading}
        tried = replace(self.examination, readings=readings)
        known = self.assessment.reasons.contradicted
        for one in engine(self.catalogue).contradicted_by(reading.measure, tried):
            if one not in known and reading.measure in one.measures:
                return one.why.rstrip(".")
        return None

    def set_absent(self, keys: Iterable[Key], absence: Absence, reason: str = "") -> Answer:
        """Note why there is no value; several cells at once for a whole panel."""
        try:
            clean = text(reason) if reason.strip() else ""
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        wanted = list(keys)
        barred = self._barred(*(self.examination.reading(*key) for key in wanted))
        if barred:
            return barred
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
            return Answer(False, refusal=TEXTS["no-reading"])
        barred = self._barred()
        if barred:
            return barred
        try:
            clean = text(note) if note and note.strip() else ""
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        reading = replace(old, note=clean if note is not None else old.note)
        if method is not None:
            reading = replace(reading, method=method or None)
        self._record([self._reading_draft(reading)], {key})
        return TAKEN

    def take_back(self, key: Key) -> Answer:
        """Take the reading of a cell back; what was there before shows again."""
        reading = self.examination.reading(*key)
        if reading is None:
            return TAKEN
        barred = self._barred(self._uncovered(reading))
        if barred:
            return barred
        self._record([self._draft(EntryKind.RETRACT, retracts=reading.seq)], {key})
        return TAKEN

    def undo(self) -> Key | None:
        """Take back my last entry of this sitting; the cell it concerned, None if there is none.

        What was written after a signature is changed with a reason, not taken back so.
        """
        entry = self.journal.undoable(self.author)
        if entry is not None and entry.draft.target.startswith("exam:"):
            return None  # what started the visit stays
        return self._retract(entry)

    def redo(self) -> Key | None:
        """Bring back what I took back last."""
        return self._retract(self.journal.redoable(self.author))

    def _retract(self, entry: Entry | None) -> Key | None:
        if entry is None or self._barred(self._uncovered(entry.reading)):
            return None
        concerned = entry
        if entry.draft.retracts is not None:
            concerned = list(self.journal)[entry.draft.retracts - 1]
        key = _key_of(concerned)
        self._record([self._draft(EntryKind.RETRACT, retracts=entry.seq)], {key})
        return key

    def enter_both(self, measure: str, typed: object) -> Answer:
        """Take one answer for both sides: on the danger questions one key answers a question."""
        parsed = parse(typed, self.catalogue.measures[measure], self.catalogue)
        keys: list[Key] = [(measure, side) for side in Side]
        barred = self._barred(*(self.examination.reading(*key) for key in keys))
        if barred:
            return barred
        drafts = [
            self._reading_draft(Reading(measure, side, parsed.value, parsed.typed, typed_both=True))
            for _, side in keys
        ]
        self._record(drafts, set(keys))
        return TAKEN

    def enter_from_paper(self, typed: str) -> Answer:
        """What is typed from now on was taken at this time; nothing typed: it is taken now."""
        if not typed.strip():
            self.taken_at = None
            return TAKEN
        when = taken_at(typed, self.examination.examined_on, self._now())
        if when is None:
            return Answer(False, refusal=TEXTS["no-time"].format(typed=typed))
        self.taken_at = when
        return TAKEN

    # --- what is decided

    def decide_caution(self, name: str, side: Side | None, decision: str, done: str) -> Answer:
        """Record what a named person did about a caution: acted, excluded or transferred."""
        body: dict[str, object] = {"decision": decision, "done": done}
        for caution in self.assessment.cautions:
            if (caution.about, caution.side) == (name, side) and caution.tier:
                body["tier"] = caution.tier.value
        return self._decide(f"caution:{name}", side, body, done)

    def accept(self, name: str, side: Side | None) -> Answer:
        """Accept a hypothesis."""
        return self._decide(f"hypothesis:{name}", side, {"list": "accepted"})

    def set_aside(self, name: str, side: Side | None, reason: str) -> Answer:
        """Set a hypothesis aside, with the reason."""
        body: dict[str, object] = {"list": "rejected", "reason": reason}
        return self._decide(f"hypothesis:{name}", side, body, reason)

    def add_own(self, statement: str, side: Side | None) -> Answer:
        """Add a hypothesis in the clinician's own words."""
        body: dict[str, object] = {"list": "own", "statement": statement}
        return self._decide("hypothesis:", side, body, statement)

    def keep_aim(self, name: str, side: Side | None) -> Answer:
        """Keep an aim for a side."""
        return self._decide(f"aim:{name}", side, {})

    def choose_feature(self, name: str, side: Side | None, sizes: Mapping[str, str]) -> Answer:
        """Choose a feature for a side with its dimensions as typed, by the id of the size."""
        return self._decide(f"feature:{name}", side, dict(sizes), *sizes.values())

    def write_letter(self, name: str, lines: Sequence[str], over: str = "") -> Answer:
        """Keep what was written for a block of a letter, over what the record gave (its mark)."""
        body: dict[str, object] = {"lines": list(lines), "over": over}
        return self._decide(f"letter:{name}", None, body, *lines)

    def drop_decision(self, target: str, side: Side | None) -> Answer:
        """Take back every live decision about a thing on a side; none is left to show again."""
        made = [
            entry
            for entry in self.journal.live()
            if entry.draft.kind is EntryKind.DECIDE
            and (entry.draft.target, entry.draft.side) == (target, side)
        ]
        barred = self._barred()
        if barred or not made:
            return barred or Answer(False, refusal=TEXTS["nothing-to-drop"])
        self._record([self._draft(EntryKind.RETRACT, retracts=one.seq) for one in made], set())
        return TAKEN

    @property
    def bars_load(self) -> bool:
        """Whether a caution that nobody has decided about forbids to load, on any side."""
        sides = (*Side, None)
        cautions = self.assessment.cautions
        return any(one.holds_back(Hold.LOADING, side) for one in cautions for side in sides)

    def offered(self, shown: OnSheet) -> OnSheet:
        """What may be asked of all that is on a sheet: no advice to load while that is barred."""
        if not self.bars_load or ADVICE in self.recorded_measures or ADVICE not in shown.measures:
            return shown
        return replace(shown, measures=tuple(one for one in shown.measures if one != ADVICE))

    def _decide(
        self, target: str, side: Side | None, body: dict[str, object], *typed: str
    ) -> Answer:
        """One decision of this author, now; `typed` must say something and be plain text."""
        try:
            for words in typed:
                text(words)
        except Refusal as bad:
            return Answer(False, refusal=str(bad))
        barred = self._barred()
        if barred:
            return barred
        draft = self._draft(EntryKind.DECIDE)
        if target.startswith("caution:"):
            body = {**body, "by": self.author.name, "at": draft.at}
        self._record([replace(draft, target=target, side=side, body=body)], set())
        return TAKEN

    # --- the way of an entry

    def _reading_draft(self, reading: Reading, *, confirmed: bool = False) -> Draft:
        at, offset = self._clock()
        if self.taken_at is not None and reading.performed_at is None:
            reading = replace(reading, performed_at=self.taken_at)
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
        """Write, hand to the store, judge, show."""
        for draft in drafts:
            self.journal.append(self._with_reason(draft))
        self._reason = ""
        self.clashes = {key: words for key, words in self.clashes.items() if key not in keys}
        self.store.hand_over()
        self._refold()
        self.recorded.emit(frozenset(keys))
        self.store.wait()  # the store writes while the window is brought up to date

    def _with_reason(self, draft: Draft) -> Draft:
        """The reason of an amendment beside it; an absence has its own before it."""
        if not self._reason:
            return draft
        return replace(draft, reason="; ".join(filter(None, (draft.reason, self._reason))))

    def _on_grown(self, theirs: tuple[Entry, ...]) -> None:
        """Somebody else has written: take it up, and put what is not saved yet behind it."""
        merged = merge(self.journal, theirs)
        self.journal, self._looked_at = merged.journal, 0
        self.store.follow(merged.journal, len(theirs))
        self._refold()
        names = ", ".join(merged.authors)
        self.clashes.update(
            (key, TEXTS["clash"].format(name=names, value="; ".join(self.judge.values(reading))))
            for key, reading in merged.clashes.items()
        )
        self.store.keep()
        self.recorded.emit(frozenset(self.examination.readings))
        self.told.emit(TEXTS["grown"].format(name=names, count=len(merged.clashes)))

    def take_signature(self, drafts: Iterable[Draft]) -> None:
        """Take up the entries of a signature that the store has kept behind what was entered."""
        for draft in drafts:
            self.journal.append(draft)
        self.store.follow(self.journal, len(self.journal))
        self._refold()
        self.recorded.emit(frozenset(self.examination.readings))

    # --- what is durable

    def unsaved(self) -> int:
        """How many entries are not durable yet."""
        return self.store.unsaved

    def try_again(self) -> int:
        """Hand what is not durable to the store again; how many entries are not even so."""
        if self.store.unsaved:
            self.store.keep()
        return self.store.unsaved

    def saving_keys(self) -> frozenset[Key]:
        """The cells whose reading is not durable yet."""
        if not self.store.unsaved:
            return frozenset()
        return frozenset(
            key
            for key, reading in self.examination.readings.items()
            if not self.store.is_saved(reading.seq)
        )

    def is_saved(self, key: Key) -> bool:
        """Whether the reading of a cell is durable."""
        reading = self.examination.reading(*key)
        return reading is None or self.store.is_saved(reading.seq)

    def _refold(self) -> None:
        """Work out anew everything that follows from the journal."""
        new = islice(self.journal, self._looked_at, None)
        self._ever_struck |= any(entry.draft.target == STRUCK for entry in new)
        self._looked_at = len(self.journal)
        self.in_error = self._ever_struck and any(
            entry.draft.target == STRUCK for entry in self.journal.live()
        )
        self.examination = fold_examination(self.journal, self.patient)
        self.recorded_measures = frozenset(measure for measure, _ in self.examination.readings)
        self._judge()
        self.judge = Judge(self.examination, self.assessment, self.catalogue, self.before)

    def _judge(self) -> None:
        """Judge the examination; of a choice, only what it can change is worked out anew."""
        known, now = self._judged, self.examination
        if known is None:
            found = assess(now, self.catalogue, self.before)
        else:
            found = assess_after(known, now, self.catalogue, self.before)
        self.assessment, self._judged = found, (now, found)
        reasons = found.reasons
        is_a_choice = known is not None and known[1].reasons.views is reasons.views
        if not (is_a_choice and self.facts.states == reasons.states):
            self.facts = gather(now, found.scores, found.findings, self.catalogue, reasons.states)


def _key_of(entry: Entry) -> Key:
    """The cell that an entry concerns; for a decision what it is about, which no cell is."""
    kind, _, name = entry.draft.target.partition(":")
    return name if kind == "measure" else entry.draft.target, entry.draft.side
