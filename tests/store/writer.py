"""Writes to a store for ever and says what is acknowledged; made to be killed (see kills).

python writer.py FOLDER: one line `subject sequence hash` behind each commit.
"""

import random
import sys
from pathlib import Path

from footexam.record.entry import Draft, first_link
from footexam.store import KnownError, Store, StoreWorker
from footexam.store.journals import Attachment
from tests.store.builders import attach, fact, reading, retract, sign

PATIENT, EXAMINATION = "patient:killed", "examination:killed"
_COPY_EVERY = 40


def open_or_make(folder: Path) -> Store:
    try:
        return Store.open(folder)
    except KnownError as bad:
        if bad.code != "no-store":
            raise
        return Store.create(folder)


def heads(store: Store) -> dict[str, str]:
    found = {}
    for subject in (PATIENT, EXAMINATION):
        try:
            found[subject] = store.journal(subject).head
        except KnownError as bad:
            if bad.code != "no-subject":
                raise
            found[subject] = first_link(subject)
    return found


def step(chance: random.Random, number: int) -> tuple[str, list[Draft], list[Attachment]]:
    """What is written next, and where."""
    picture = Attachment(chance.randbytes(chance.randint(1, 20_000)), "image/png")
    choices: list[tuple[str, list[Draft], list[Attachment]]] = [
        (EXAMINATION, [reading(f"m{number}")], []),
        (EXAMINATION, [reading(f"m{number}-{part}") for part in range(6)], []),
        (EXAMINATION, [reading(f"m{number}"), retract(1)], []),
        (EXAMINATION, [fact("exam:patient", PATIENT), sign()], []),
        (EXAMINATION, [attach(picture.body())], [picture]),
        (PATIENT, [fact("patient:family-name", f"Name {number}")], []),
    ]
    return chance.choices(choices, weights=(12, 2, 2, 2, 1, 3))[0]


def main() -> None:
    worker = StoreWorker(Path(sys.argv[1]), open_or_make)
    chance = random.Random()
    head = worker.do(heads).result()
    number = 0
    while True:
        number += 1
        subject, drafts, attachments = step(chance, number)
        entries = worker.do(Store.append, subject, head[subject], drafts, attachments).result()
        head[subject] = entries[-1].hash
        lines = [f"{subject} {entry.seq} {entry.hash}\n" for entry in entries]
        sys.stdout.write("".join(lines))
        sys.stdout.flush()
        if number % _COPY_EVERY == 0:
            worker.do(Store.back_up_at_close).result()


if __name__ == "__main__":
    main()
