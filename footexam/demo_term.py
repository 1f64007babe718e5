"""The demo's term: invented students who examine three volunteers, a reference, and some marks.

The references lie in assets/; what the students record is the reference with the error that their
measures have between two examiners, and with the habits of some of them. The same seed gives the
same bytes.
"""

import json
import random
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from footexam.catalogue.marking import BEST, Rubric
from footexam.catalogue.model import Catalogue, Measure
from footexam.demo import SAYS
from footexam.exchange import files
from footexam.exchange.marks import write_marks
from footexam.exchange.marks_files import stem_of
from footexam.marking.rubric import Hand, Marks
from footexam.resources import assets_dir
from footexam.store.layout import DEMO_MARK
from footexam.terms import Side

FOLDER = "marking"
"""Name of the term's folder inside the demo's folder; there the window of the demo marks."""
SEED = 2026
STUDENTS = (
    "Adaeze Brightwater",
    "Benedikt Fox-Larsen",
    "Chiara Monteverdi",
    "Dafydd Penhallow",
    "Eilidh Strachan",
    "Farid Nasseri",
    "Greta Holmqvist",
    "Hamza Yıldırım",
    "Ines Carvalhosa",
    "Jude Okparaebo",
    "Katya Morozova",
    "Lorcan Delahunty",
)
SKILL = (3, 2, 3, 2, 4, 3, 1, 3, 2, 3, 1, 4)
"""About which mark each of them gets."""
MARKED = 10
"""So many have marks of the first volunteer; the others are to be marked."""
TWICE = (0, 3)
"""Students whom a second marker has marked too; with the last of them the two lie apart."""
HIGH, EXCHANGING, TURNING, BLIND, BRIEF = 1, 6, 3, 10, 8
"""Who reads dorsiflexion high, exchanges sides, turns signs, misses a danger, leaves tests out."""
_HIGH_ERRORS = 3
"""By how many standard errors the one who reads high does so."""
_READ_HIGH = ("ankle-dorsiflexion-knee-straight", "ankle-dorsiflexion-knee-bent")
_LEFT_OUT = ("single-leg-stance", "heel-raise-count", "hallux-lift-test")
_TURNED = "fpi-talar-head"
_MARKERS = ("Mairi Strang", "Osei Lindqvist")
_SIGNED = ("2026-03-18T15:20:00Z", "2026-03-19T09:40:00Z")
_GOOD = "In good order, and safe."
_WEAK = "Not safe on your own yet: stop and ask before you go on."
_NEXT = "Take three readings with the scale turned away."


def make_demo_term(folder: Path, catalogue: Catalogue) -> list[Path]:
    """Write the term into the demo's folder; the files, sorted. Marks that are there stay.

    Raises OSError where a file cannot be written or the program's assets are missing.
    """
    out = folder / FOLDER
    out.mkdir(parents=True, exist_ok=True)
    made = []
    for name, data in _files(catalogue):
        path = out / name
        if not (name.startswith("marks-") and path.exists()):
            files.write_whole(path, data)
        made.append(path)
    return sorted(made)


def _files(catalogue: Catalogue) -> Iterator[tuple[str, bytes]]:
    """Name and bytes of every file."""
    yield DEMO_MARK, SAYS.encode()
    chance = random.Random(SEED)  # noqa: S311 - invented data, the same each time
    sources = sorted((assets_dir() / "demo" / "term").glob("*.json"))
    for source in sources:
        reference = json.loads(source.read_bytes())
        yield f"{source.stem}-reference.json", source.read_bytes()
        for number, student in enumerate(STUDENTS):
            tree = _examined(reference, number, catalogue, chance)
            name = f"{source.stem}-{student.split()[0].casefold()}.json"
            yield name, f"{json.dumps(tree, ensure_ascii=False, indent=1)}\n".encode()
    first = json.loads(sources[0].read_bytes())
    rubric = next(iter(catalogue.rubrics.values()))
    for marks in _all_marks(first, rubric):
        stem = stem_of(marks.key, f"marks-{marks.student}")
        yield f"{stem}-{marks.hand}.json", write_marks(marks)


# --- what a student records


def _examined(
    reference: Mapping[str, Any], number: int, catalogue: Catalogue, chance: random.Random
) -> dict[str, Any]:
    """A student's examination of a volunteer."""
    readings = {
        name: _noisy(catalogue.measures[name], value, chance)
        for name, value in reference["readings"].items()
    }
    _habits(readings, number, catalogue)
    return {
        **reference,
        "purpose": "student",
        "examiner": {"name": STUDENTS[number], "role": "student"},
        "supervisor": {"name": _MARKERS[0], "level": 2},
        "readings": readings,
        "decisions": {} if number in {BRIEF, BLIND} else reference["decisions"],
    }


def _noisy(measure: Measure, value: Any, chance: random.Random) -> Any:
    """A value as another examiner reads it; words stay as they are."""
    if isinstance(value, dict):
        kept = ("method", "note")
        return {k: v if k in kept else _noisy(measure, v, chance) for k, v in value.items()}
    if isinstance(value, list):
        return [_noisy(measure, one, chance) for one in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    if measure.ordinal:
        return _clipped(measure, value + chance.choice((0, 0, 0, 0, 1, -1)))
    return _clipped(measure, value + chance.gauss(0, _error(measure)))


def _error(measure: Measure) -> float:
    """The standard error of another examiner; 0 where none is known."""
    sizes = (e.standard_error() for e in measure.errors if e.used and e.examiner == "other")
    return next(sizes, 0.0)


def _clipped(measure: Measure, value: float) -> int | float:
    """A number that can be recorded: within the hard limits, in the measure's decimals."""
    low, high = measure.hard_low, measure.hard_high
    limited = max(float(low), value) if low is not None else value
    limited = min(float(high), limited) if high is not None else limited
    exact = round(Decimal(str(limited)), measure.decimals)
    return int(exact) if exact == exact.to_integral_value() else float(exact)


def _habits(readings: dict[str, Any], number: int, catalogue: Catalogue) -> None:
    """What some of them always do."""
    if number == HIGH:
        for name in _READ_HIGH:
            measure = catalogue.measures[name]
            shift = _HIGH_ERRORS * _error(measure)
            readings[name] = _shifted(measure, readings[name], shift)
    if number == EXCHANGING:
        for name, value in readings.items():
            if isinstance(value, dict) and set(value) == set(Side):
                readings[name] = {Side.LEFT: value["right"], Side.RIGHT: value["left"]}
    if number == TURNING:
        turned = readings[_TURNED]
        readings[_TURNED] = {side: -value for side, value in turned.items()}
    if number == BLIND:
        readings["caution-calf-pain-swelling"] = {"left": "no", "right": "no"}
    if number == BRIEF:
        for name in _LEFT_OUT:
            del readings[name]


def _shifted(measure: Measure, value: Any, shift: float) -> Any:
    if isinstance(value, dict):
        return {k: v if k == "method" else _shifted(measure, v, shift) for k, v in value.items()}
    if isinstance(value, list):
        return [_shifted(measure, one, shift) for one in value]
    return _clipped(measure, value + shift)


# --- marks


def _all_marks(reference: Mapping[str, Any], rubric: Rubric) -> Iterator[Marks]:
    """Signed marks of the first volunteer: of most students once, of some twice."""
    for number in range(MARKED):
        yield _marks(reference, rubric, number, Hand.FIRST)
        if number in TWICE:
            yield _marks(reference, rubric, number, Hand.SECOND)


def _marks(reference: Mapping[str, Any], rubric: Rubric, number: int, hand: Hand) -> Marks:
    patient = reference["patient"]
    marker = _MARKERS[hand is Hand.SECOND]
    harder = 1 if hand is Hand.SECOND and number == TWICE[-1] else 0
    domains = {
        domain.id: max(0, min(BEST, SKILL[number] + (place + number) % 3 - 1 - harder))
        for place, domain in enumerate(rubric.domains)
    }
    grades = [grade.id for grade in rubric.grades]
    return Marks(
        rubric.id,
        STUDENTS[number],
        marker,
        (patient["record_number"], patient["birth_date"]),
        reference["examined_on"],
        domains,
        grade=grades[max(0, SKILL[number] - 1 - harder)],
        lines=(_GOOD if SKILL[number] - harder > 1 else _WEAK, _NEXT),
        hand=hand,
        signed_at=_SIGNED[hand is Hand.SECOND],
    )
