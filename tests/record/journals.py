"""Small journals, and a naive model of what a journal's fold must be."""

from dataclasses import dataclass, field
from typing import Any

from footexam.record.entry import Author, Draft, Entry, EntryKind
from footexam.record.journal import Journal
from footexam.terms import Role, Side

AT = "2026-03-04T10:20:00Z"
ANN = Author("Ann", Role.CLINICIAN, "morning")
BOB = Author("Bob", Role.STUDENT, "morning")


def set_draft(
    measure: str = "goals",
    value: str = "walk",
    author: Author = ANN,
    side: Side | None = None,
    **more: Any,
) -> Draft:
    body = {"value": {"text": value}, "typed": value, **more}
    return Draft(EntryKind.SET, author, AT, f"measure:{measure}", side, body)


def retract(seq: int, author: Author = ANN, reason: str = "") -> Draft:
    return Draft(EntryKind.RETRACT, author, AT, retracts=seq, reason=reason)


def sign(author: Author = ANN) -> Draft:
    return Draft(EntryKind.SIGN, author, AT)


def journal(*drafts: Draft, subject: str = "examination:1") -> Journal:
    made = Journal(subject)
    for draft in drafts:
        made.append(draft)
    return made


def texts(of: Journal) -> list[str]:
    return [entry.text for entry in of]


@dataclass
class Model:
    """A list of what was set, and a flag beside each line that a retract turns."""

    lines: list[Entry] = field(default_factory=list)
    standing: list[bool] = field(default_factory=list)

    def write(self, entry: Entry) -> None:
        """A retract turns the flag of its line; turning a retract's own flag undoes that."""
        self.lines.append(entry)
        self.standing.append(True)
        if entry.draft.retracts is not None:
            self._turn(entry.draft.retracts - 1, on=False)

    def _turn(self, at: int, *, on: bool) -> None:
        if self.standing[at] is on:
            return
        self.standing[at] = on
        target = self.lines[at].draft.retracts
        if target is not None:
            others = any(
                self.standing[other] and line.draft.retracts == target
                for other, line in enumerate(self.lines)
            )
            self._turn(target - 1, on=not others)

    def live(self) -> list[int]:
        return [
            line.seq
            for line, stands in zip(self.lines, self.standing, strict=True)
            if stands and line.draft.retracts is None
        ]
