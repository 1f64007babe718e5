"""Two people wrote into one record: their entries stay where they are, ours follow; no Qt."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from footexam.desktop.judgement import Key
from footexam.desktop.saving import shared_beginning
from footexam.record.entry import Entry
from footexam.record.journal import Journal
from footexam.record.reading import Reading


@dataclass(frozen=True, slots=True)
class Merged:
    """The journal with theirs before ours; for each cell that both filled, what they entered."""

    journal: Journal
    clashes: Mapping[Key, Reading]
    authors: tuple[str, ...]


def merge(ours: Journal, theirs: Sequence[Entry]) -> Merged:
    """Put the entries that only we have behind all entries of the store.

    What ours take back is what they took back before, whatever its number is now.
    """
    mine = list(ours)
    shared = shared_beginning(mine, theirs)
    journal = Journal.of_texts(ours.subject, [entry.text for entry in theirs])
    numbers = {seq: seq for seq in range(1, shared + 1)}
    for entry in mine[shared:]:
        draft = entry.draft
        if draft.retracts is not None:
            draft = replace(draft, retracts=numbers[draft.retracts])
        numbers[entry.seq] = journal.append(draft).seq
    foreign = theirs[shared:]
    own = {(entry.reading.measure, entry.reading.side) for entry in mine[shared:] if entry.reading}
    return Merged(
        journal,
        {
            (entry.reading.measure, entry.reading.side): entry.reading
            for entry in foreign
            if entry.reading and (entry.reading.measure, entry.reading.side) in own
        },
        tuple(dict.fromkeys(entry.draft.author.name for entry in foreign)),
    )
