"""Measures the store with 100,000 invented patients: search, first page, entry, rebuild, backup.

Run by hand: python tests/bench/bench_store.py [PATIENTS] (default 100000; takes a few minutes).
Goal of issue 3: the first page of a search among 100,000 patients, p95 of at most 20 ms.
"""

import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from sqlalchemy import insert

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.journal import Journal
from footexam.store import Store, tables
from footexam.store.engine import writing
from footexam.store.quick_list import PatientList

AUTHOR = Author("Bench")
AT = "2026-03-04T10:00:00Z"
GOAL_MS = 20.0
_AT_A_TIME = 2000


class People:
    """Invented people: names from syllables, some far more common than others."""

    def __init__(self, chance: random.Random) -> None:
        self._chance = chance
        self._families = [self._name(2, 3) for _ in range(9000)]
        self._given = [self._name(1, 3) for _ in range(900)]

    def _name(self, least: int, most: int) -> str:
        parts = range(self._chance.randint(least, most))
        onset, middle = (
            [
                "b",
                "d",
                "f",
                "g",
                "h",
                "j",
                "k",
                "l",
                "m",
                "n",
                "p",
                "r",
                "s",
                "t",
                "v",
                "w",
                "br",
                "st",
                "sch",
                "tr",
            ],
            list("aeiouäöø"),
        )
        syllables = (
            self._chance.choice(onset) + self._chance.choice(middle) + self._chance.choice("nrlst")
            for _ in parts
        )
        return "".join(syllables).capitalize()

    def _common(self, names: list[str]) -> str:
        """One of the names, the earlier ones much more often."""
        return names[int(len(names) * self._chance.random() ** 3)]

    def person(self, number: int) -> dict[str, str]:
        family, given = self._common(self._families), self._common(self._given)
        if self._chance.random() < 0.06:
            family += "-" + self._common(self._families)
        if self._chance.random() < 0.3:
            given += " " + self._common(self._given)
        born = date(1925, 1, 1) + timedelta(days=self._chance.randrange(36500))
        return {
            "family-name": family,
            "given-names": given,
            "record-number": f"F-{number:06}",
            "birth-date": born.isoformat(),
            "sex": self._chance.choice(["female", "male"]),
        }


def fact(target: str, value: object) -> Draft:
    return Draft(EntryKind.SET, AUTHOR, AT, target, body={"is": value})


def fill(store: Store, count: int, chance: random.Random) -> list[dict[str, str]]:
    """Write patients, each with one examination, in large steps and without the index."""
    people = People(chance)
    everyone = [people.person(number) for number in range(1, count + 1)]
    for start in range(0, count, _AT_A_TIME):
        rows, subjects = [], []
        for place, person in enumerate(everyone[start : start + _AT_A_TIME], start):
            for journal in _journals(place, person):
                subjects.append(_subject(journal))
                rows += [_row(journal.subject, entry) for entry in journal]
        with writing(store._engine, store.folder) as connection:
            connection.execute(insert(tables.subject), subjects)
            connection.execute(insert(tables.journal), rows)
    return everyone


def _journals(place: int, person: dict[str, str]) -> Iterator[Journal]:
    patient = Journal(f"patient:{place:032x}")
    for name, value in person.items():
        patient.append(fact(f"patient:{name}", value))
    yield patient
    examination = Journal(f"examination:{place:032x}")
    examination.append(fact("exam:patient", patient.subject))
    day = date(2016, 1, 1) + timedelta(days=place % 3700)
    examination.append(fact("exam:examined-on", day.isoformat()))
    examination.append(fact("exam:examiner", {"name": "Bench", "role": "clinician"}))
    yield examination


def _subject(journal: Journal) -> dict[str, Any]:
    kind = journal.subject.partition(":")[0]
    return {"id": journal.subject, "kind": kind, "length": 0, "head": ""}


def _row(subject: str, entry: Any) -> dict[str, Any]:
    return {
        "subject": subject,
        "sequence": entry.seq,
        "text": entry.text,
        "hash": entry.hash,
        "kind": entry.draft.kind.value,
        "at": entry.draft.at,
    }


def searches(
    everyone: list[dict[str, str]], chance: random.Random, each: int
) -> Iterator[tuple[str, str]]:
    """What is typed into the search, by kind: names letter by letter, numbers, birth dates."""
    for _ in range(each):
        person = chance.choice(everyone)
        family, given = person["family-name"], person["given-names"].split()[0]
        year, month, day = person["birth-date"].split("-")
        yield "one letter", family[0]
        yield "two letters", family[:2]
        yield "four letters", family[:4]
        yield "family name", family
        yield "given name, one letter", given[0]
        yield "given name", given
        yield "one letter each", f"{given[0]} {family[0]}"
        yield "two letters each", f"{family[:2]} {given[:2]}"
        yield "both names", f"{given} {family}"
        yield "both names, other order", f"{family}, {given}"
        yield "record number", person["record-number"]
        yield "record number, beginning", person["record-number"][2:5]
        yield "birth date, ISO", person["birth-date"]
        yield "birth date, points", f"{int(day)}.{int(month)}.{year}"
        yield "birth date and letter", f"{day}/{month}/{year} {family[0]}"
        yield "year of birth", year
        yield "year and letter", f"{year} {family[0]}"
        yield "nobody", f"{family[:3]} zzz"


def timed(act: Callable[[], object]) -> float:
    """How long it took, in milliseconds."""
    start = time.perf_counter()
    act()
    return (time.perf_counter() - start) * 1000


def percentile(times: list[float], share: float) -> float:
    return sorted(times)[min(int(len(times) * share), len(times) - 1)]


def say(name: str, times: list[float]) -> None:
    half, high, worst = percentile(times, 0.5), percentile(times, 0.95), max(times)
    print(f"  {name:28} p50 {half:7.2f}   p95 {high:7.2f}   worst {worst:7.2f} ms")


def measure_search(folder: Path, everyone: list[dict[str, str]], each: int) -> float:
    """The p95 of all searches, in milliseconds; each kind is printed."""
    chance = random.Random(7)
    by_kind: dict[str, list[float]] = {}
    with PatientList(folder) as patients:
        for kind, text in searches(everyone, chance, each):
            by_kind.setdefault(kind, []).append(timed(lambda t=text: patients.search(t)))
        by_kind["first page by name"] = [timed(patients.first) for _ in range(each)]
        by_kind["first page by visit"] = [timed(patients.recent) for _ in range(each)]
    for kind, times in by_kind.items():
        say(kind, times)
    every = [one for times in by_kind.values() for one in times]
    say("all of these", every)
    return percentile(every, 0.95)


def measure_start(folder: Path) -> list[float]:
    """A process that shows the first page with the standard library alone, less an empty one."""
    show = (
        f"import sys; sys.path.insert(0, {sys.path[0]!r})\n"
        "from pathlib import Path; from footexam.store.quick_list import PatientList\n"
        "PatientList(Path(sys.argv[1])).recent()"
    )
    times = []
    for _ in range(7):
        bare = timed(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True))
        full = timed(lambda: subprocess.run([sys.executable, "-c", show, str(folder)], check=True))
        times.append(full - bare)
    return times


def measure_entries(store: Store, count: int) -> list[float]:
    """Entries one by one, each durable before the next."""
    subject = store.new_subject("examination")
    head, times = Journal(subject).head, []
    for number in range(count):
        draft = fact("measure:bench", str(number))
        start = time.perf_counter()
        head = store.append(subject, head, [draft])[-1].hash
        times.append((time.perf_counter() - start) * 1000)
    return times


def main() -> int:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "store"
        with Store.create(folder) as store:
            everyone: list[dict[str, str]] = []
            filled = timed(lambda: everyone.extend(fill(store, count, random.Random(1))))
            print(f"{count} patients with one examination each, written in {filled / 1000:.1f} s")
            print(f"index made in {timed(store.rebuild_index) / 1000:.1f} s")
            print(f"chains walked in {timed(store.verify) / 1000:.1f} s")
            say("one entry, durable", measure_entries(store, 500))
            copied = timed(store.back_up_at_close)
            size = (folder / "store.db").stat().st_size / 1e6
            print(f"verified copy of {size:.0f} MB in {copied / 1000:.1f} s")
        print("search, first page of 50:")
        p95 = measure_search(folder, everyone, 60)
        say("process to first page", measure_start(folder))
    print(f"p95 {p95:.1f} ms, goal {GOAL_MS:.0f} ms")
    return 0 if p95 <= GOAL_MS else 1


if __name__ == "__main__":
    sys.exit(main())
