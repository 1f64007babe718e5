"""A journal: the entries of one subject, in order, chained by hash; it only grows."""

from collections.abc import Iterable, Iterator

from footexam.record.entry import (
    Author,
    Draft,
    Entry,
    EntryKind,
    NotAnEntry,
    first_link,
    read,
    write,
)


class BrokenJournal(ValueError):
    """A chain that does not hold; `seq` is the first entry that does not fit."""

    def __init__(self, seq: int, why: str) -> None:
        super().__init__(f"entry {seq}: {why}")
        self.seq = seq


class Journal:
    """The entries of one subject. Nothing is ever taken out or rewritten."""

    def __init__(self, subject: str) -> None:
        self.subject = subject
        self._entries: list[Entry] = []

    @classmethod
    def of_texts(cls, subject: str, texts: Iterable[str], head: str = "") -> "Journal":
        """The journal of stored texts; BrokenJournal where number, subject or chain is off.

        A change of the last entry shows only against `head`, the hash kept elsewhere.
        """
        journal = cls(subject)
        for place, text in enumerate(texts, 1):
            try:
                entry, owner, previous = read(text)
            except NotAnEntry as bad:
                raise BrokenJournal(place, str(bad)) from bad
            if (entry.seq, owner, previous) != (place, subject, journal.head):
                raise BrokenJournal(place, "it does not follow the one before it")
            try:
                _check_retract(entry.draft, place)
            except ValueError as bad:
                raise BrokenJournal(place, str(bad)) from bad
            journal._entries.append(entry)
        if head and head != journal.head:
            raise BrokenJournal(len(journal), "it is not the last entry that was written")
        return journal

    @property
    def head(self) -> str:
        """The hash of the last entry; before the first, that of the subject's id."""
        return self._entries[-1].hash if self._entries else first_link(self.subject)

    def __len__(self) -> int:
        return len(self._entries)

    def __iter__(self) -> Iterator[Entry]:
        return iter(self._entries)

    def append(self, draft: Draft) -> Entry:
        """Write a draft at the end. ValueError if it takes back what is not there."""
        seq = len(self._entries) + 1
        _check_retract(draft, seq)
        entry = write(self.subject, seq, self.head, draft)
        self._entries.append(entry)
        return entry

    def live(self) -> list[Entry]:
        """The entries that are not retracted, retracts left out."""
        gone = self._retracted()
        return [
            entry
            for entry in self._entries
            if entry.seq not in gone and entry.draft.kind is not EntryKind.RETRACT
        ]

    def _retracted(self) -> set[int]:
        """Numbers taken back by a retract that is not itself taken back."""
        gone: set[int] = set()
        for entry in reversed(self._entries):
            if entry.draft.retracts is not None and entry.seq not in gone:
                gone.add(entry.draft.retracts)
        return gone

    def undoable(self, author: Author) -> Entry | None:
        """The author's last live entry of this sitting; None if there is none.

        Neither a signature nor what came before it: a signed record is amended with a reason.
        """
        for entry in reversed(self.live()):
            if entry.draft.kind is EntryKind.SIGN:
                return None
            if entry.draft.author == author:
                return entry
        return None

    def redoable(self, author: Author) -> Entry | None:
        """The author's last undo that nothing new has followed; None if there is none.

        An undo is a retract without a reason of an entry that is no retract. Nothing from before a
        signature comes back.
        """
        gone = self._retracted()
        for entry in reversed(self._entries):
            if entry.draft.kind is EntryKind.SIGN and entry.seq not in gone:
                return None
            if entry.draft.author != author:
                continue
            if entry.draft.retracts is None or entry.draft.reason:
                return None
            undone = self._entries[entry.draft.retracts - 1]
            if entry.seq not in gone and undone.draft.kind is not EntryKind.RETRACT:
                return entry
        return None


def _check_retract(draft: Draft, seq: int) -> None:
    """ValueError unless a retract, and nothing else, names an entry before `seq`."""
    if (draft.kind is EntryKind.RETRACT) != (draft.retracts is not None):
        raise ValueError("only a retract names the entry it takes back")
    if draft.retracts is not None and not 1 <= draft.retracts < seq:
        raise ValueError(f"there is no entry {draft.retracts} to take back")
