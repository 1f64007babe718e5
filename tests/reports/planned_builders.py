"""Examinations with a plan, made from a demo visit and decisions, for the tests of documents."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

from footexam.assessment import Assessment, assess
from footexam.demo import demo_files
from footexam.exchange.examination import read_examination
from footexam.record.examination import Examination
from footexam.record.reading import Reading
from footexam.terms import Side
from tests.shipped import shipped

CATALOGUE = shipped()
VISIT = "06-medial-ankle-pain-visit-1"
HYPOTHESES = ("weak-tibialis-posterior-arch", "medial-subtalar-axis-pronation-moment")
AIMS = ("lower-pronation-moment", "lower-tibialis-posterior-demand")
LEFT, RIGHT = Side.LEFT, Side.RIGHT


def chosen(feature: str, side: Side | None = LEFT, **sizes: str) -> dict[str, Any]:
    """A feature as an examination file chooses it; keywords with _ for -."""
    return {
        "id": feature,
        "side": side,
        **{key.replace("_", "-"): typed for key, typed in sizes.items()},
    }


USUAL = (
    chosen("medial-heel-skive"),
    chosen("rearfoot-post-medial"),
    chosen("heel-lift", height="6 mm"),
)


@cache
def visit() -> Examination:
    """The visit before anything is decided."""
    path = next(path for path in demo_files() if path.stem == VISIT)
    return read_examination(path.read_bytes(), CATALOGUE, date(2026, 12, 31)).examination


def planned(
    features: Iterable[Mapping[str, Any]] = USUAL,
    *,
    without: Iterable[str] = (),
    aims: Iterable[str] = AIMS,
    **more: Any,
) -> tuple[Examination, Assessment]:
    """The visit with accepted hypotheses, kept aims and these features.

    `without` are measures that were not recorded; `more` are fields of the examination, `readings`
    come on top of those that it has.
    """
    one = visit()
    gone = set(without)
    readings: dict[tuple[str, Side | None], Reading] = {
        key: reading for key, reading in one.readings.items() if key[0] not in gone
    }
    readings |= more.pop("readings", {})
    decisions = {
        "cautions": {},
        "hypotheses": {
            "accepted": [{"id": name, "side": LEFT} for name in HYPOTHESES],
            "rejected": [],
            "own": [],
        },
        "aims": [{"id": name, "side": LEFT} for name in aims],
        "features": [dict(one) for one in features],
    }
    made = replace(one, readings=readings, **{"decisions": decisions, **more})
    return made, assess(made, CATALOGUE)
