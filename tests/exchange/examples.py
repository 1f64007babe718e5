"""Examination files for tests: the example of interface.md, and the smallest that is allowed."""

import json
from collections.abc import Callable
from copy import deepcopy
from datetime import date
from typing import Any

TODAY = date(2026, 3, 4)

# the example of interface.md; what it leaves open is filled with invented names
EXAMPLE = """
{"format": "footexam/examination", "version": 1, "purpose": "record",
 "patient": {"family_name": "Quill", "given_names": "Mara", "title": "Ms",
   "record_number": "A-17", "birth_date": "1979-08-30", "sex": "female"},
 "examined_on": "2026-03-04", "examiner": {"name": "Ann Reed", "role": "clinician"},
 "supervisor": {"name": "Eve Marsh", "level": 2},
 "readings": {
   "fpi-talar-head": {"left": 1, "right": "0"},
   "body-mass": "82 kg",
   "ankle-dorsiflexion-knee-straight": {"left": [9, 8, 10], "right": "12 11 13 deg"},
   "lunge-distance": {"left": "7,5 cm",
     "right": {"value": "10 cm", "note": "heel just down", "method": "tape"}},
   "complaint-site": {"left": ["heel-plantar-medial"]},
   "tenderness": {"left": {"heel-plantar-medial": 6, "arch-central": 0}},
   "first-ray-position": {"left": "level",
     "right": {"absent": "could-not-be-tested", "reason": "dressing"}},
   "caution-fever-or-spreading-redness": "no",
   "weekly-load": [{"week": "2026-02-23", "sessions": 3, "minutes": 120, "effort": 5}]},
 "decisions": {"cautions": {"deep-vein-thrombosis": {"side": "left", "decision": "acted",
     "done": "sent to hospital", "by": "Ann Reed", "at": "2026-03-04T10:20:00Z"}},
   "hypotheses": {"accepted": [{"id": "limited-df-calf-achilles-load", "side": "left"}],
     "rejected": [{"id": "fat-pad-atrophy", "side": "left", "reason": "pad is thick"}],
     "own": [{"side": "left", "statement": "new boots"}]},
   "aims": [{"id": "reduce-heel-load", "side": "left"}],
   "features": [{"id": "heel-lift", "side": "left", "height": "6 mm"}]}}
"""

SMALLEST: dict[str, Any] = {
    "format": "footexam/examination",
    "version": 1,
    "patient": {"name": "Quill"},
    "examined_on": "2026-03-04",
    "examiner": {"name": "Ann Reed"},
    "readings": {},
}

# each row of the kinds table once, in forms and shapes as varied as it allows
VARIED: dict[str, Any] = {
    "fpi-talar-head": {"both": "\u22121"},
    "fpi-medial-arch": {"left": {"value": 1, "note": "caf\u00e9 \u2014 \u0391\u03b2"}},
    "body-height": "5 ft 4 in",
    "body-mass": 82.5,
    "duration": "1 year 2 months",
    "morning-stiffness-minutes": {"left": "1 h 5 min", "right": 20},
    "foot-function-index": "12,50 %",
    "lunge-distance": {"left": [7, "80 mm", "7,5"], "right": [8.25, 9]},
    "ankle-dorsiflexion-knee-straight": {"left": "9; 8;10 deg", "right": ["1e1"[:1], 8]},
    "pressure-arm": {"left": "16 kPa", "right": "120"},
    "onset": "Gradual",
    "diabetes": "NO",
    "complaint": "heel hurts <b>&amp;\u00a0\u201cin the morning\u201d",
    "complaint-site": {"left": ["heel-plantar-medial", "heel-plantar"]},
    "activity-kind": ["Walking", "court sport"],
    "training-change": ["none"],
    "allergies": "none-known",
    "conditions": [{"what": "diabetes", "since": "2011-05"}, {"detail": "asthma"}],
    "weekly-load": [
        {"effort": "5", "week": "2026-02-23", "minutes": 120.5, "distance_km": "12,5"},
        {"sessions": 3},
    ],
    "function-activities": [{"activity": "stairs", "score": 4}, {"score": "7", "activity": "run"}],
    "tenderness": {"left": {"arch-central": 0, "heel-plantar": "6"}},
    "skin-temperature": {"right": {"navicular": "86 \u00b0F", "arch-central": 30.5}},
    "caution-fever-or-spreading-redness": "no",
    "caution-focal-bone-tenderness": {
        "left": {"answer": "Yes", "sites": ["navicular", "heel-plantar"]},
        "right": "no",
    },
    "caution-growing-lump": "yes",
    "caution-cannot-bear-weight": {"both": "no"},
    "lesion-bleeding": {"left": {"answer": "yes"}},
    "first-ray-position": {
        "left": {"absent": "could-not-be-tested", "reason": "dressing", "note": "later"},
        "right": {"value": "level", "performed_at": "2026-03-05T08:00Z"},
    },
    "heel-raise-count": {"both": {"absent": "not-done-safety"}},
    "single-leg-stance": {"left": {"value": "12 s", "method": "Eyes Open"}},
}


def file(readings: dict[str, Any] | None = None, **parts: Any) -> dict[str, Any]:
    """A small file with these readings and parts in place of its own."""
    return {**deepcopy(SMALLEST), "readings": readings or {}, **parts}


def data(tree: object) -> bytes:
    """JSON bytes; halves of characters, which UTF-8 cannot hold, as escapes."""
    text = json.dumps(tree, ensure_ascii=False)
    return (text if text.isprintable() else json.dumps(tree)).encode()


def changed(change: Callable[[dict[str, Any]], object]) -> dict[str, Any]:
    """The example with one change made to it in place."""
    tree: dict[str, Any] = json.loads(EXAMPLE)
    change(tree)
    return tree
