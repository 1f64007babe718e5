"""Kills a writing process again and again, and looks whether an acknowledged entry is lost.

This shows what a crash of the program does. A power cut is not tested: what the operating
system had taken but not yet written would then count as well.
"""

import os
import random
import subprocess
import sys
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path

from footexam.store import KnownError, Store
from footexam.store.backup import backups, census_of_copy
from footexam.store.layout import BACKUPS

ROOT = Path(__file__).resolve().parents[2]
WRITER = Path(__file__).with_name("writer.py")
LONGEST_S = 0.5


@dataclass
class Kills:
    """What was killed and what was found afterwards."""

    kills: int = 0
    without_store: int = 0
    entries: int = 0
    copies: int = 0
    acknowledged: dict[tuple[str, int], str] = field(default_factory=dict)


def kill_often(folder: Path, count: int, seed: int) -> Kills:
    """Start and kill a writer so many times; AssertionError at the first thing that is lost.

    Killed at a random moment of its start, or of its first half second of writing.
    """
    chance, done = random.Random(seed), Kills()
    for _ in range(count):
        _kill_once(folder, chance, done)
        _check(folder, done)
        done.kills += 1
    return done


def _kill_once(folder: Path, chance: random.Random, done: Kills) -> None:
    writer = subprocess.Popen(
        [sys.executable, str(WRITER), str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert writer.stdout is not None
    assert writer.stderr is not None
    with writer, writer.stdout as said, writer.stderr as trouble:
        if chance.random() < 0.15:  # while it is still opening the store
            time.sleep(chance.uniform(0.2, 1.0))
            writer.kill()
        else:
            first = said.readline()
            end = threading.Timer(chance.uniform(0, LONGEST_S), writer.kill)
            end.start()
            _note(first, done)
        for line in said:
            _note(line, done)
        assert trouble.read() == b""


def _note(line: bytes, done: Kills) -> None:
    """Remember what was acknowledged; a line that was cut off acknowledges nothing."""
    if line.endswith(b"\n"):
        subject, seq, hash_hex = line.decode().split()
        done.acknowledged[subject, int(seq)] = hash_hex


def _check(folder: Path, done: Kills) -> None:
    try:
        store = Store.open(folder)
    except KnownError as bad:
        if bad.code != "no-store" or done.acknowledged:
            raise
        done.without_store += 1
        return
    with store:
        found = store.verify()
        assert found.whole, found.broken
        done.entries = found.entries
        for subject in {subject for subject, _ in done.acknowledged}:
            kept = {(subject, entry.seq): entry.hash for entry in store.journal(subject)}
            said = {key: value for key, value in done.acknowledged.items() if key[0] == subject}
            assert said.items() <= kept.items(), "an acknowledged entry is lost"
    for copy in backups(folder / BACKUPS):
        census_of_copy(copy)
        done.copies += 1
