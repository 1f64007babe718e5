"""An invented term: students who examine the same volunteers, with known biases and slips."""

import random
from collections.abc import Iterator
from typing import Any

DAY = "2026-03-04"
FPI = (
    "fpi-talar-head",
    "fpi-malleolar-curves",
    "fpi-calcaneal-position",
    "fpi-talonavicular-bulge",
    "fpi-medial-arch",
    "fpi-forefoot-abduction",
)
ANGLES = {
    # measure: (left, right) of the reference, spread between examiners
    "ankle-dorsiflexion-knee-straight": ((9, 2), 2.0),
    "ankle-dorsiflexion-knee-bent": ((17, 12), 2.0),
    "hallux-dorsiflexion": ((64, 40), 5.0),
    "lunge-distance": ((11, 6), 0.6),
}
BIASED, SWAPPER, SLIPPER, BLIND = 2, 4, 6, 8
"""Who reads dorsiflexion 8 degrees high, exchanges sides, turns signs, and misses a danger."""


def patient(volunteer: int) -> dict[str, Any]:
    return {
        "family_name": f"Volunteer{volunteer}",
        "record_number": f"V-{volunteer}",
        "birth_date": f"{1980 + volunteer}-05-21",
        "sex": "female",
    }


def tree(purpose: str, name: str, volunteer: int, readings: dict[str, Any]) -> dict[str, Any]:
    role = "student" if purpose == "student" else "supervisor"
    return {
        "format": "footexam/examination",
        "version": 1,
        "purpose": purpose,
        "patient": patient(volunteer),
        "examined_on": DAY,
        "examiner": {"name": name, "role": role},
        "readings": readings,
    }


def reference_readings(volunteer: int) -> dict[str, Any]:
    found: dict[str, Any] = {
        "body-height": 170 + volunteer,
        "complaint-site": {"right": ["heel-plantar-medial"]},
        "caution-cold-pale-foot": "no",
        "caution-fever-or-spreading-redness": "yes" if volunteer == 1 else "no",
        "limp": {"left": "no", "right": "yes"},
        "heel-rise-timing": {"left": "usual", "right": "late"},
        "achilles-tender-insertion": {"left": "no", "right": "yes"},
    }
    for place, item in enumerate(FPI):
        found[item] = {"left": (place + volunteer) % 5 - 2, "right": 2 - place % 3}
    for measure, ((left, right), _) in ANGLES.items():
        found[measure] = {"left": left + volunteer, "right": right + volunteer}
    return found


def student_readings(student: int, volunteer: int, chance: random.Random) -> dict[str, Any]:
    found = reference_readings(volunteer)
    for item in FPI:
        found[item] = {
            side: max(-2, min(2, value + chance.choice((0, 0, 0, 1, -1))))
            for side, value in found[item].items()
        }
    for measure, (_, spread) in ANGLES.items():
        found[measure] = {
            side: round(value + chance.gauss(0, spread), 1)
            for side, value in found[measure].items()
        }
    if student == BIASED:
        for measure in ("ankle-dorsiflexion-knee-straight", "ankle-dorsiflexion-knee-bent"):
            found[measure] = {side: value + 8 for side, value in found[measure].items()}
    if student == SWAPPER:
        found = {name: exchanged(value) for name, value in found.items()}
    if student == SLIPPER:
        found["fpi-talar-head"] = {s: -v for s, v in reference_readings(volunteer)[FPI[0]].items()}
    if student == BLIND:
        found["caution-fever-or-spreading-redness"] = "no"
    return found


def exchanged(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    other = {"left": "right", "right": "left"}
    return {other[side]: told for side, told in value.items()}


def term(
    students: int = 12, volunteers: int = 3, seed: int = 7
) -> Iterator[tuple[str, dict[str, Any]]]:
    """Name and tree of every file."""
    chance = random.Random(seed)
    for volunteer in range(1, volunteers + 1):
        name = f"v{volunteer}-reference.json"
        yield name, tree("reference", "Ada Reference", volunteer, reference_readings(volunteer))
        for student in range(1, students + 1):
            readings = student_readings(student, volunteer, chance)
            name = f"v{volunteer}-student-{student:02}.json"
            yield name, tree("student", f"Student {student:02}", volunteer, readings)


def marks(
    student: int, volunteer: int, mark: int, grade: str, domains: list[str]
) -> dict[str, Any]:
    return {
        "format": "footexam/marks",
        "version": 1,
        "rubric": "whole-examination",
        "student": f"Student {student:02}",
        "marker": "Ada Reference",
        "patient": {"record_number": f"V-{volunteer}", "birth_date": f"{1980 + volunteer}-05-21"},
        "examined_on": DAY,
        "domains": dict.fromkeys(domains, mark),
        "grade": grade,
        "lines": ["Good order.", "Repeat the readings."],
    }


def angoff() -> dict[str, Any]:
    """Three judges in two rounds, the second nearer together: 24 of 40 points."""
    first = ((0.5, 0.4, 0.6, 0.8), (0.8, 0.7, 0.5, 0.6), (0.6, 0.9, 0.7, 0.4))
    second = ((0.55, 0.55, 0.6, 0.6), (0.6, 0.6, 0.6, 0.6), (0.65, 0.65, 0.6, 0.6))
    domains = ("reasoning", "plan", "communication", "record")
    rounds = [
        {
            "judges": [
                {"name": f"Judge {number}", "estimates": dict(zip(domains, row, strict=True))}
                for number, row in enumerate(rows, 1)
            ]
        }
        for rows in (first, second)
    ]
    return {
        "format": "footexam/angoff",
        "version": 1,
        "rubric": "reasoning-station",
        "rounds": rounds,
    }
