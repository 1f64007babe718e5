"""Measures as shipped with arguments made for a test, and examinations read from files."""

import json
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

from footexam.assessment import Assessment, assess
from footexam.catalogue.arguments import (
    Accuracy,
    Branch,
    Condition,
    DangerSign,
    Defeater,
    Gate,
    GateCause,
    Hold,
    Hypothesis,
    Row,
)
from footexam.catalogue.model import Catalogue, Rule
from footexam.exchange.examination import read_examination
from footexam.reasoning.view import Seen
from footexam.record.examination import Examination
from footexam.scoring.bench import bench
from footexam.scoring.findings import find
from footexam.scoring.measured import measured
from footexam.scoring.scores import score
from footexam.terms import Grade, Provenance, Side, Tier
from tests.shipped import shipped

TODAY = date(2026, 3, 4)
LEFT, RIGHT = Side.LEFT, Side.RIGHT
EVERYTHING = (Hold.LOADING, Hold.PROVOCATION, Hold.DEVICE)
Readings = dict[str, Any]

WEIGHING = {
    "minutes-other": Decimal("0.5"),
    "minutes-quantity": Decimal(1),
    "minutes-yes-no": Decimal("0.25"),
    "minutes-move": Decimal(1),
    "reliability-unknown": Decimal("0.5"),
}


@cache
def forms() -> Catalogue:
    """The forms as shipped."""
    return shipped()


def said(words: str) -> dict[str, str]:
    return {"en": words}


def row(
    when: str,
    points: float | None = None,
    ratio: float | None = None,
    group: str = "",
    says: str = "",
) -> Row:
    """A row with points, 3 if neither points nor a ratio is told."""
    weight = 3 if points is None and ratio is None else points
    return Row(
        when=when,
        says=said(says or when),
        group=group,
        source="common-practice",
        provenance=Provenance.COMMON_PRACTICE,
        points=None if weight is None else Decimal(str(weight)),
        ratio=None if ratio is None else Decimal(str(ratio)),
    )


def hypothesis(
    name: str,
    require: Iterable[Row | str] = (),
    support: Iterable[Row | str] = (),
    against: Iterable[Row | str] = (),
    tests: Iterable[str] = (),
    conditions: Iterable[str] = ("everywhere",),
    *,
    stable: bool = False,
    why_now: bool = False,
    capacity: bool = False,
) -> Hypothesis:
    """A hypothesis whose rows may be written as bare expressions."""
    require, support, against = (
        tuple(row(one) if isinstance(one, str) else one for one in rows)
        for rows in (require, support, against)
    )
    return Hypothesis(
        id=name,
        label=said(name.replace("-", " ").capitalize()),
        statement=said(f"{name} would be expected to load it."),
        mechanism=said("How."),
        tissue=said("tissue"),
        capacity=capacity,
        stable=stable,
        why_now=why_now,
        conditions=tuple(conditions),
        grade_mechanics=Grade.E3,
        grade_injury=Grade.E4,
        counter=said("Little is known."),
        test=said("Look again."),
        tests=tuple(tests),
        evidence=(),
        require=require,
        support=support,
        against=against,
    )


def condition(name: str, regions: Iterable[str]) -> Condition:
    return Condition(
        id=name,
        label=said(name),
        regions=tuple(regions),
        tissue=said("tissue"),
        modes=("tension",),
        nonunion_risk="none",
        reds_site_class="none",
        companions=(),
        imaging=said("None."),
        refer=said("If it stays."),
        first_line=said("Wait."),
        raises=(),
        lowers=(),
        claims=(),
    )


def branch(
    name: str,
    when: str,
    tier: Tier = Tier.SAME_DAY,
    umbrella: Iterable[str] = (),
    unfolds: Iterable[str] = (),
) -> Branch:
    return Branch(
        id=name,
        tier=tier,
        when=when,
        trigger=said("Found."),
        action=said(f"Do {name}."),
        umbrella=tuple(umbrella),
        unfolds=tuple(unfolds),
        source="common-practice",
        provenance=Provenance.COMMON_PRACTICE,
    )


def sign(name: str, *branches: Branch, holds: tuple[Hold, ...] = EVERYTHING) -> DangerSign:
    return DangerSign(name, said(name), holds, branches)


def gate(name: str, forbids: Iterable[str], *causes: tuple[str, str]) -> Gate:
    return Gate(
        id=name,
        label=said(name),
        forbids=tuple(forbids),
        causes=tuple(GateCause(when, said(says)) for when, says in causes),
        because=said("A danger sign is open."),
        record=said("Look first."),
        source="common-practice",
        provenance=Provenance.COMMON_PRACTICE,
    )


def defeater(
    name: str, measures: Iterable[str], when: str, says: str, unless: Iterable[str] = ()
) -> Defeater:
    return Defeater(
        id=name,
        measures=tuple(measures),
        when=when,
        says=said(says),
        source="common-practice",
        provenance=Provenance.COMMON_PRACTICE,
        unless=tuple(unless),
    )


def accuracy(measure: str, condition: str, sensitivity: float, specificity: float) -> Accuracy:
    return Accuracy(
        id=f"{measure}-{condition}",
        measure=measure,
        target=said(condition),
        condition=condition,
        reference=said("Picture"),
        source="common-practice",
        provenance=Provenance.PUBLISHED,
        sensitivity=Decimal(str(sensitivity)),
        specificity=Decimal(str(specificity)),
    )


def _by_id(things: Iterable[Any]) -> dict[str, Any]:
    return {thing.id: thing for thing in things}


def catalogue(
    *,
    hypotheses: Iterable[Hypothesis] = (),
    cautions: Iterable[DangerSign] = (),
    gates: Iterable[Gate] = (),
    defeaters: Iterable[Defeater] = (),
    accuracies: Iterable[Accuracy] = (),
    conditions: Iterable[Condition] = (),
) -> Catalogue:
    """The shipped measures and norms with these arguments and no others.

    The condition "everywhere" is felt in any place.
    """
    weighing = {
        name: Rule(name, "common-practice", Provenance.COMMON_PRACTICE, at)
        for name, at in WEIGHING.items()
    }
    return replace(
        forms(),
        cautions=_by_id(cautions),
        gates=_by_id(gates),
        checks={},
        hypotheses=_by_id(hypotheses),
        defeaters=_by_id(defeaters),
        conditions=_by_id([condition("everywhere", forms().regions), *conditions]),
        accuracy=_by_id(accuracies),
        weighing=weighing,
    )


def examination(
    readings: Readings,
    *,
    age: int | None = 40,
    sex: str = "female",
    born: str | None = None,
    decisions: dict[str, Any] | None = None,
) -> Examination:
    """The examination of a file with these readings of a person who turns `age` on the day.

    `born` may name a year or a month alone instead.
    """
    if born is None and age is not None:
        born = TODAY.replace(year=TODAY.year - age).isoformat()
    file = {
        "format": "footexam/examination",
        "version": 1,
        "patient": {"family_name": "Example", "birth_date": born, "sex": sex},
        "examined_on": TODAY.isoformat(),
        "examiner": {"name": "A. Examiner"},
        "readings": readings,
        "decisions": decisions or {},
    }
    return read_examination(json.dumps(file).encode(), forms(), TODAY).examination


def assessed(readings: Readings, made: Catalogue, **who: Any) -> Assessment:
    return assess(examination(readings, **who), made)


def seen(found: Examination) -> Seen:
    """What an examination shows, judged by the norms as shipped."""
    desk = bench(forms())
    visit = desk.visit(found)
    scores, _ = score(found, forms())
    numbers = measured(desk, visit, scores)
    return Seen(found, scores, find(desk, visit, numbers, scores), numbers)
