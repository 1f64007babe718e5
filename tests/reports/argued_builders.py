"""Hand-made hypotheses, cautions and arguments for the tests of documents; all figures invented."""

from dataclasses import replace
from decimal import Decimal

from footexam.assessment import Assessment
from footexam.catalogue.arguments import Branch, Claim, DangerSign, Hold, Hypothesis, Row
from footexam.catalogue.model import Catalogue
from footexam.reasoning.argue import Argument, Nearly, SetAside, Thought, Weighed
from footexam.reasoning.dangers import Caution
from footexam.reasoning.engine import NOTHING, Reasons
from footexam.reasoning.next_test import NextTest, Route, Suggested
from footexam.record.examination import Examination
from footexam.record.reading import Word
from footexam.terms import Grade, Provenance, Side, Tier
from tests.reports import builders as b

COLD = "caution-cold-pale-foot"
AT = "2026-05-12T09:40:00Z"


def row(says: str, points: str = "3", **more: object) -> Row:
    made = Row("true", b.texts(says), "", "common-practice", Provenance.COMMON_PRACTICE)
    weighs = {} if "ratio" in more else {"points": Decimal(points)}
    return replace(made, **weighs, **more)  # type: ignore[arg-type]


def weighed(made: Row, *because: str, points: float = 3.0, full: float = 3.0) -> Weighed:
    return Weighed(made, tuple(f"measure:{name}" for name in because), points, full)


def hypothesis(name: str, label: str, **more: object) -> Hypothesis:
    made = Hypothesis(
        id=name,
        label=b.texts(label),
        statement=b.texts(f"Proposed: {label.lower()} would be expected to load the tissue."),
        mechanism=b.texts(f"Mechanism of {name}."),
        tissue=b.texts(f"tissue of {name}"),
        capacity=False,
        stable=True,
        why_now=False,
        conditions=(),
        grade_mechanics=Grade.E2,
        grade_injury=Grade.E3,
        counter=b.texts(f"First counter of {name}. Second counter of {name}."),
        test=b.texts(f"Settle {name} so."),
        tests=(),
        evidence=(
            Claim(b.texts(f"Claim about {name}."), "powden-2015", Provenance.PUBLISHED_UNCHECKED),
        ),
        require=(),
        support=(),
        against=(),
    )
    return replace(made, **more)  # type: ignore[arg-type]


CALF = hypothesis("calf", "Short calf loads the forefoot")
POSTURE = hypothesis("posture", "Low arch pulls the fascia", grade_injury=Grade.E4)
WEAK = hypothesis("weak", "Weak muscle gives way", capacity=True, stable=False)
SPIKE = hypothesis("spike", "A sudden long walk", why_now=True, stable=False)
SHOE = hypothesis("shoe", "Narrow shoe presses the toes")
HYPOTHESES = {one.id: one for one in (CALF, POSTURE, WEAK, SPIKE, SHOE)}

RATIO = row(
    "The navicular stands low.",
    ratio=Decimal("4.2"),
    source="nilsson-2012",
    provenance=Provenance.PUBLISHED,
    note=b.texts("27 people"),
)

ARGUMENTS = (
    Argument(
        POSTURE,
        b.LEFT,
        8.0,
        (
            weighed(RATIO, "navicular-height", points=6.2, full=6.2),
            weighed(row("The arch is low.", group="posture"), "fpi-arch"),
            weighed(row("The ray is low.", group="posture"), "first-ray-position", points=2.0),
        ),
        (weighed(row("The arch was always so."), "previous-device", points=1.6),),
        (SetAside(row("Feeling is lost."), ("measure:monofilament",), "a dressing covers it"),),
        ("step-width", "body-mass-index"),
        both_sides=True,
    ),
    Argument(
        CALF,
        b.LEFT,
        5.0,
        (
            weighed(row("The pain is there.", "0"), "complaint-site", points=0.0, full=0.0),
            weighed(row("It bends little.", "5"), "ankle-dorsiflexion", points=5.0, full=5.0),
        ),
        (),
        (),
        (),
    ),
    Argument(WEAK, b.LEFT, 2.0, (weighed(row("It is weak."), "lunge-distance"),), (), (), ()),
    Argument(
        SHOE,
        b.LEFT,
        4.0,
        (weighed(row("Only in the argument of the shoe."), "onset"),),
        (),
        (),
        ("step-width",),
    ),
    Argument(SPIKE, b.RIGHT, -2.0, (), (weighed(row("No walk was long."), "onset"),), (), ()),
)

ACCEPTED = (
    {"id": "posture", "side": "left"},
    {"id": "calf", "side": "left"},
    {"id": "weak", "side": None},
)
OWN = "Two jobs leave the tendon no day of rest."
DECIDED = {
    "accepted": list(ACCEPTED),
    "rejected": [{"id": "spike", "side": "right", "reason": "She did not walk at all that week."}],
    "own": [{"side": "left", "statement": OWN}],
}

BRANCH = Branch(
    "limb-cold",
    Tier.EMERGENCY,
    "true",
    b.texts("The foot turned cold suddenly."),
    b.texts("Emergency: call the surgeon on call now."),
    (COLD,),
    (),
    "powden-2015",
    Provenance.PUBLISHED_UNCHECKED,
    guideline="Guideline 7, 2024",
    country="Scotland",
)
SIGN = DangerSign("limb", b.texts("Bloodless limb"), (Hold.LOADING, Hold.DEVICE), (BRANCH,))
CAUTION = Caution(
    "limb",
    "limb-cold",
    b.LEFT,
    Tier.EMERGENCY,
    (f"measure:{COLD}", "measure:onset"),
    "Emergency: call the surgeon on call now.",
    "powden-2015",
    None,
    SIGN.holds,
)
DONE = {"decision": "acted", "done": "Rang the surgeon.", "by": "N. Haddad", "at": AT}


def catalogue() -> Catalogue:
    return replace(b.CATALOGUE, hypotheses=HYPOTHESES, cautions={"limb": SIGN})


CATALOGUE = catalogue()

NEXT = (
    NextTest("caution-fever", None, (), "follows from: fever", "lying", Route.DANGER),
    NextTest("lunge-distance", b.RIGHT, (), "separates one from another", "standing", Route.RATIO),
)


def reasons(**more: object) -> Reasons:
    thought = Thought(SHOE, (), (), (), sided=True)
    made = replace(
        NOTHING,
        arguments=ARGUMENTS,
        nearly=(Nearly(thought, b.RIGHT, ("step-width",)),),
        suggested=Suggested(NEXT, ("body-height",)),
        sides=(b.LEFT,),
    )
    return replace(made, **more)  # type: ignore[arg-type]


def argued(**more: object) -> Assessment:
    """What the examination amounts to, with the arguments."""
    return b.rich_assessment(reasons=reasons(), **more)


def examined(hypotheses: object = DECIDED, cautions: object = None, **more: object) -> Examination:
    decisions = {"hypotheses": hypotheses, "cautions": cautions or {}}
    return b.rich_examination(decisions=decisions, **more)


def endangered(made: Examination, side: Side | None = b.LEFT) -> Examination:
    """The same with the yes that the caution rests on."""
    key, reading = b.entry(COLD, Word("yes"), side)
    return replace(made, readings={**made.readings, key: reading})
