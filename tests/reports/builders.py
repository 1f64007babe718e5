"""Hand-made catalogue, examinations and assessments for the tests of documents.

Norms and errors are those of the worked findings of Rule F; readings and people are invented.
"""

import csv
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from footexam.assessment import Assessment, Caution
from footexam.catalogue.model import (
    Catalogue,
    Column,
    Cut,
    DifferenceNorm,
    ErrorSize,
    Measure,
    NormGroup,
    NormSet,
    Panel,
    Region,
    Source,
)
from footexam.record.examination import Age, Examination, Patient, Person
from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    Reading,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Word,
    Words,
)
from footexam.scoring.results import (
    BandShown,
    Change,
    Difference,
    Finding,
    NormShown,
    Problem,
    Score,
)
from footexam.terms import (
    Absence,
    Basis,
    ChangeLabel,
    Depth,
    Examiner,
    Kind,
    Label,
    ProblemKind,
    Provenance,
    Role,
    Sex,
    Side,
)

UMBRELLAS = Path(__file__).parents[1] / "data" / "umbrellas.csv"
LEFT, RIGHT = Side.LEFT, Side.RIGHT


def texts(english: str) -> dict[str, str]:
    return {"en": english}


def measure(name: str, panel: str, kind: Kind, label: str, **more: object) -> Measure:
    depth = Depth(str(more.pop("depth", "when")))
    blank = texts("")
    return Measure(name, panel, kind, texts(label), depth, blank, blank, **more)  # type: ignore[arg-type]


def _umbrellas() -> list[Measure]:
    """The twelve questions of the first block."""
    with UMBRELLAS.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["kind"] == "umbrella"]
    unsided = {"caution-fever-or-spreading-redness", "caution-history-of-cancer"}
    sited = {"caution-focal-bone-tenderness"}
    return [
        measure(
            row["id"],
            "cautions",
            Kind.YES_SITES if row["id"] in sited else Kind.YES_NO,
            row["words_for_the_screen"],
            sided=row["id"] not in unsided,
            depth="core",
        )
        for row in rows
    ]


def _measures() -> list[Measure]:
    m, core = measure, {"depth": "core"}
    return [
        m("complaint", "history", Kind.TEXT, "Complaint", **core),
        m("complaint-site", "history", Kind.REGIONS, "Place of the complaint", sided=True, **core),
        m("onset", "history", Kind.CHOICE, "Onset", words=("sudden", "gradual"), **core),
        m("duration", "history", Kind.DURATION, "Duration", unit="weeks", decimals=1, **core),
        m("impression", "history", Kind.TEXT, "Examiner’s impression"),
        m(
            "allergies",
            "history",
            Kind.TABLE,
            "Allergies",
            none_known=True,
            columns=(
                Column("what", "text", texts("what")),
                Column("since", "date", texts("since")),
            ),
            **core,
        ),
        m("function-activities", "history", Kind.ACTIVITIES, "Activities that are hard"),
        m("body-height", "history", Kind.QUANTITY, "Body height", unit="cm", decimals=1),
        m("body-mass-index", "history", Kind.DERIVED, "Body mass index", unit="kg/m2", decimals=1),
        m("previous-device", "history", Kind.YES_NO, "Earlier device did not help"),
        *_umbrellas(),
        m("caution-fever", "cautions", Kind.YES_NO, "Fever now"),
        m(
            "monofilament",
            "nerve-and-vessel",
            Kind.SCORE,
            "Monofilament, first toe",
            unit="points",
            ordinal=True,
            hard_low=Decimal(0),
            hard_high=Decimal(3),
            sided=True,
            **core,
        ),
        m(
            "ankle-dorsiflexion",
            "lying",
            Kind.QUANTITY,
            "Ankle dorsiflexion, knee straight",
            unit="deg",
            sided=True,
            repeats=True,
            hard_low=Decimal(-60),
            hard_high=Decimal(60),
            errors=(
                ErrorSize(
                    Examiner.OTHER,
                    "jonson-1993",
                    Provenance.PUBLISHED_UNCHECKED,
                    sd=Decimal("5.9"),
                    icc=Decimal("0.876"),
                ),
            ),
            methods=("goniometer", "inclinometer"),
            **core,
        ),
        m(
            "first-ray-position",
            "lying",
            Kind.CHOICE,
            "First ray position",
            words=("plantarflexed", "level", "dorsiflexed"),
            sided=True,
        ),
        m(
            "tenderness",
            "lying",
            Kind.REGION_VALUES,
            "Tenderness",
            unit="points",
            sided=True,
            hard_low=Decimal(0),
            hard_high=Decimal(10),
        ),
        m(
            "navicular-height",
            "standing",
            Kind.QUANTITY,
            "Navicular height",
            unit="mm",
            sided=True,
            hard_low=Decimal(0),
            hard_high=Decimal(100),
            errors=(
                ErrorSize(
                    Examiner.OTHER,
                    "nilsson-2012",
                    Provenance.PUBLISHED,
                    sd=Decimal("9.5"),
                    icc=Decimal("0.73"),
                ),
                ErrorSize(
                    Examiner.SAME,
                    "nilsson-2012",
                    Provenance.PUBLISHED,
                    sd=Decimal("9.5"),
                    icc=Decimal("0.96"),
                ),
            ),
            **core,
        ),
        m(
            "fpi-total",
            "standing",
            Kind.DERIVED,
            "Foot Posture Index",
            unit="points",
            sided=True,
            ordinal=True,
            hard_low=Decimal(-12),
            hard_high=Decimal(12),
            derived_from=("fpi-arch",),
            errors=(
                ErrorSize(
                    Examiner.OTHER,
                    "evans-2012",
                    Provenance.PUBLISHED,
                    sd=Decimal("2.93"),
                    icc=Decimal("0.86"),
                ),
                ErrorSize(
                    Examiner.SAME,
                    "evans-2012",
                    Provenance.PUBLISHED,
                    sd=Decimal("2.93"),
                    icc=Decimal("0.945"),
                ),
            ),
        ),
        m(
            "fpi-arch",
            "standing",
            Kind.SCORE,
            "Arch, Foot Posture Index item",
            unit="points",
            sided=True,
            ordinal=True,
            hard_low=Decimal(-2),
            hard_high=Decimal(2),
            **core,
        ),
        m(
            "lunge-distance",
            "standing",
            Kind.QUANTITY,
            "Lunge, toe to wall",
            unit="cm",
            decimals=1,
            sided=True,
            repeats=True,
            hard_low=Decimal(0),
            hard_high=Decimal(30),
            errors=(
                ErrorSize(Examiner.SAME, "powden-2015", Provenance.PUBLISHED, mdc95=Decimal("1.9")),
                ErrorSize(
                    Examiner.OTHER, "powden-2015", Provenance.PUBLISHED, mdc95=Decimal("1.6")
                ),
            ),
            **core,
        ),
        m("step-width", "moving", Kind.QUANTITY, "Step width", unit="cm", decimals=1, **core),
    ]


PANELS = {
    "history": ("History", "seated"),
    "cautions": ("Cautions", "seated"),
    "nerve-and-vessel": ("Nerve and vessel", "lying"),
    "lying": ("Lying", "on the back, knees straight"),
    "standing": ("Standing", "relaxed, both feet loaded"),
    "moving": ("Moving", "walking"),
}

SOURCES = {
    "redmond-2008": Source(
        "redmond-2008", "Redmond et al. 2008, J Foot Ankle Res 1:6", "10.1186/1757-1146-1-6"
    ),
    "evans-2012": Source("evans-2012", "Evans et al. 2012, J Foot Ankle Res 5:29"),
    "nilsson-2012": Source(
        "nilsson-2012", "Nilsson et al. 2012, J Foot Ankle Res 5:3", pmid="22321056"
    ),
    "powden-2015": Source("powden-2015", "Powden et al. 2015, Man Ther 20:524"),
    "jonson-1993": Source("jonson-1993", "Jonson and Gross 1993, invented entry for this test"),
    "common-practice": Source("common-practice", "Rule of thumb of the trade"),
}

REGIONS = {
    name: Region(name, texts(label), ("heel",), False, "plantar")
    for name, label in (
        ("heel-plantar-medial", "heel, plantar medial"),
        ("arch-central", "arch, central"),
        ("achilles-midportion", "Achilles tendon, middle"),
    )
}

WORDS = {
    word: texts(word.replace("-", " "))
    for word in ("yes", "no", "level", "gradual", "below", "above", "within", "pronated", "outside")
}


def cuts(
    low: str = "", high: str = "", names: tuple[str, str] = ("below", "above")
) -> dict[str, tuple[Cut, ...]]:
    """Cuts written as `< 10`."""
    made: dict[str, tuple[Cut, ...]] = {"low": (), "high": ()}
    for key, text, state in (("low", low, names[0]), ("high", high, names[1])):
        if text:
            op, at = text.split()
            made[key] = (Cut(op, Decimal(at), state),)
    return made


NORMS = {
    "fpi-total": (
        NormSet(
            "fpi-adults",
            "fpi-total",
            texts("Bands for adults"),
            "redmond-2008",
            Provenance.PUBLISHED,
            (
                NormGroup(
                    "adults",
                    texts("adults"),
                    default=True,
                    **cuts("< 0", ">= 6", ("supinated", "pronated")),
                ),
            ),
        ),
        NormSet(
            "fpi-survey",
            "fpi-total",
            texts("Survey of adults"),
            "evans-2012",
            Provenance.PUBLISHED_UNCHECKED,
            (NormGroup("all", texts("all")),),
            judged=False,
        ),
    ),
    "navicular-height": (
        NormSet(
            "navicular-bands",
            "navicular-height",
            texts("Bands"),
            "nilsson-2012",
            Provenance.PUBLISHED,
            (
                NormGroup(
                    "adults",
                    texts("adults"),
                    default=True,
                    n=254,
                    mean=Decimal("45.5"),
                    sd=Decimal("9.5"),
                    **cuts("< 36", "> 55", ("low", "high")),
                ),
            ),
            round_to=Decimal(1),
            note=texts("SD worked out from the printed bands"),
        ),
    ),
    "lunge-distance": (
        NormSet(
            "lunge-adults",
            "lunge-distance",
            texts("Healthy adults"),
            "powden-2015",
            Provenance.PUBLISHED_UNCHECKED,
            (
                NormGroup(
                    "adults",
                    texts("adults"),
                    default=True,
                    n=35,
                    mean=Decimal(12),
                    sd=Decimal("2.8"),
                ),
            ),
        ),
    ),
    "ankle-dorsiflexion": (
        NormSet(
            "ankle-thumb",
            "ankle-dorsiflexion",
            texts("Rule of thumb"),
            "common-practice",
            Provenance.COMMON_PRACTICE,
            (NormGroup("adults", texts("adults"), default=True, **cuts("< 10")),),
        ),
    ),
    "first-ray-position": (
        NormSet(
            "ray-level",
            "first-ray-position",
            texts("Level with the others"),
            "common-practice",
            Provenance.COMMON_PRACTICE,
            (NormGroup("all", texts("all"), default=True),),
            outside=("plantarflexed", "dorsiflexed"),
        ),
    ),
}

DIFFERENCES = {
    "lunge-distance": (
        DifferenceNorm(
            "lunge-sides",
            "lunge-distance",
            "powden-2015",
            Provenance.PUBLISHED_UNCHECKED,
            (Cut(">", Decimal("1.5"), "outside"),),
            texts("Healthy adults"),
        ),
    )
}


def catalogue() -> Catalogue:
    measures = {one.id: one for one in _measures()}
    panels = {
        name: Panel(
            name,
            texts(label),
            texts(""),
            texts(position),
            tuple(one.id for one in measures.values() if one.panel == name),
        )
        for name, (label, position) in PANELS.items()
    }
    return Catalogue(
        panels, measures, SOURCES, REGIONS, WORDS, NORMS, DIFFERENCES, renamed={}, **_later()
    )


def _later() -> dict[str, object]:
    """Fields that the catalogue has gained since, empty here."""
    known = {"panels", "measures", "sources", "regions", "words", "norms", "differences", "renamed"}
    return {
        name: {}
        for name, one in Catalogue.__dataclass_fields__.items()
        if name not in known and one.init
    }


CATALOGUE = catalogue()

PATIENT = Patient("Okonjo", "Adaeze", "Ms", "HL-00214", "1981-03-14", Sex.FEMALE)


def entry(
    measure: str, value: Value | None, side: Side | None = None, **more: object
) -> tuple[tuple[str, Side | None], Reading]:
    return (measure, side), Reading(measure, side, value, **more)  # type: ignore[arg-type]


def numbers(*values: str) -> Numbers:
    return Numbers(tuple(map(Decimal, values)))


def cautions_no(but: tuple[str, ...] = ()) -> dict[tuple[str, Side | None], Reading]:
    """All twelve questions answered no, save those named."""
    asked = [one for one in CATALOGUE.measures.values() if one.depth is Depth.CORE]
    return dict(
        entry(one.id, Sites("no") if one.kind is Kind.YES_SITES else Word("no"), side)
        for one in asked
        if one.panel == "cautions" and one.id not in but
        for side in ((LEFT, RIGHT) if one.sided else (None,))
    )


def examination(
    readings: dict[tuple[str, Side | None], Reading] | None = None, **more: object
) -> Examination:
    """An examination of the invented patient; `more` replaces fields."""
    made = Examination(
        patient=PATIENT,
        examined_on=date(2026, 5, 12),
        examiner=Person("R. Lindqvist", Role.STUDENT),
        supervisor=Person("M. Tau", Role.SUPERVISOR, 2),
        readings=readings or {},
        version=57,
        head="7f3a9c01d2e4b5a697887f3a9c01d2e4b5a697887f3a9c01d2e4b5a69788aabb",
    )
    return replace(made, **more)  # type: ignore[arg-type]


def assessment(**more: object) -> Assessment:
    """An assessment of nothing; `more` replaces fields."""
    empty = Assessment(Age(45, 541), (), (), (), (), (), ())
    return replace(empty, **more)  # type: ignore[arg-type]


def shown(measure: str) -> tuple[NormShown, ...]:
    """The first set of a measure, as a judging norm."""
    norm = NORMS[measure][0]
    group = norm.groups[0]
    return (
        NormShown(
            norm.id,
            group.id,
            None if group.mean is None else float(group.mean),
            None if group.sd is None else float(group.sd),
            group.n,
            norm.source,
            norm.provenance,
            judged=True,
        ),
    )


def finding(measure: str, side: Side | None, value: Decimal | str, **more: object) -> Finding:
    """A finding that is within its usual range; `more` replaces fields."""
    known = CATALOGUE.measures[measure]
    made = Finding(
        measure=measure,
        side=side,
        value=value,
        unit=known.unit,
        repeats=1,
        method=None,
        state="within",
        label=Label.WITHIN,
        basis=Basis.NORM,
        probability=0.0471,
        probability_error_only=0.0856,
        limit=None,
        operator=None,
        near_limit=False,
        change_needed=None,
        inputs=(),
        norms=shown(measure) if measure in NORMS else (),
    )
    return replace(made, **more)  # type: ignore[arg-type]


def rich_examination(**more: object) -> Examination:
    """An examination with every kind of reading, every absence, notes, methods and repeats."""
    readings = cautions_no(
        but=("caution-focal-bone-tenderness", "caution-numb-or-weak", "caution-open-wound")
    )
    late = "2026-05-12T08:20:00Z"
    readings |= dict(
        [
            entry(
                "complaint",
                Text("Heel hurts with the first steps of the morning, worse since the new shoes."),
            ),
            entry("complaint-site", Words(("heel-plantar-medial", "arch-central")), LEFT),
            entry("onset", Word("gradual")),
            entry("duration", numbers("10.7142857142857142857142857142857143"), typed="75 days"),
            entry(
                "impression", Text("Most consistent with fascia tension from a pronated stance.")
            ),
            entry("allergies", Rows(({"since": "2011-06", "what": "latex, rash"},))),
            entry("function-activities", Activities((("stairs", 4), ("standing at work", 2)))),
            entry("body-height", numbers("162.56"), typed="5 ft 4 in"),
            entry("previous-device", Word("no")),
            entry(
                "caution-focal-bone-tenderness",
                Sites("yes", ("heel-plantar-medial",)),
                LEFT,
                note="deep, not on squeeze",
            ),
            entry("caution-focal-bone-tenderness", Sites("no"), RIGHT),
            entry(
                "caution-numb-or-weak",
                None,
                None,
                absent=Absence.DECLINED,
                reason="will say next time",
            ),
            entry("caution-fever", Word("no")),
            entry("monofilament", numbers("3"), LEFT),
            entry("monofilament", numbers("3"), RIGHT),
            entry("ankle-dorsiflexion", numbers("9", "8", "10"), LEFT, method="goniometer"),
            entry("ankle-dorsiflexion", numbers("12", "11", "13"), RIGHT, method="goniometer"),
            entry("first-ray-position", Word("plantarflexed"), LEFT),
            entry(
                "first-ray-position",
                None,
                RIGHT,
                absent=Absence.COULD_NOT_BE_TESTED,
                reason="dressing",
            ),
            entry(
                "tenderness",
                RegionValues({"heel-plantar-medial": Decimal(6), "arch-central": Decimal(0)}),
                LEFT,
            ),
            entry("tenderness", RegionValues({"heel-plantar-medial": Decimal(1)}), RIGHT),
            entry("navicular-height", numbers("30"), LEFT),
            entry("navicular-height", numbers("41"), RIGHT),
            entry("fpi-arch", numbers("2"), LEFT),
            entry("fpi-arch", numbers("-1"), RIGHT),
            entry("lunge-distance", numbers("6.4"), LEFT, note="heel just down"),
            entry("lunge-distance", numbers("10.0"), RIGHT, performed_at=late),
            entry(
                "step-width", None, absent=Absence.NOT_DONE_SAFETY, reason="unsteady without a rail"
            ),
        ]
    )
    return examination(readings, **more)


def rich_assessment(**more: object) -> Assessment:
    """What the rich examination amounts to; figures from the worked findings where known."""
    error_only = {"probability": None, "basis": Basis.ERROR_ONLY}
    findings = (
        finding("monofilament", LEFT, Decimal(3), label=Label.NOT_JUDGED, state=None, basis=None),
        finding(
            "ankle-dorsiflexion",
            LEFT,
            Decimal(9),
            repeats=3,
            method="goniometer",
            state="below",
            label=Label.POSSIBLE,
            limit=10.0,
            operator="<",
            near_limit=True,
            change_needed=5.8,
            **error_only,
        ),
        finding(
            "ankle-dorsiflexion",
            RIGHT,
            Decimal(12),
            repeats=3,
            method="goniometer",
            limit=10.0,
            operator="<",
            near_limit=True,
            change_needed=5.8,
            **error_only,
        ),
        finding(
            "first-ray-position",
            LEFT,
            "plantarflexed",
            state="plantarflexed",
            label=Label.NOT_JUDGED,
            basis=None,
            probability=None,
        ),
        finding(
            "navicular-height",
            LEFT,
            Decimal(30),
            state="low",
            label=Label.POSSIBLE,
            probability=0.6224,
            limit=35.5,
            operator="<",
            near_limit=True,
            change_needed=5.2665,
        ),
        finding(
            "navicular-height", RIGHT, Decimal(41), limit=35.5, operator="<", change_needed=5.2665
        ),
        finding(
            "fpi-total",
            LEFT,
            Decimal(9),
            state="pronated",
            label=Label.LIKELY,
            limit=6.0,
            operator=">=",
            change_needed=1.9047,
            inputs=("fpi-arch",),
            **error_only,
        ),
        finding(
            "fpi-total",
            RIGHT,
            Decimal(4),
            limit=6.0,
            operator=">=",
            change_needed=1.9047,
            inputs=("fpi-arch",),
        ),
        finding(
            "lunge-distance",
            LEFT,
            Decimal("6.4"),
            state="below",
            label=Label.REPEAT,
            probability=0.3683,
            limit=6.512,
            operator="<",
            near_limit=True,
            change_needed=1.9,
        ),
        finding(
            "lunge-distance", RIGHT, Decimal("10.0"), limit=6.512, operator="<", change_needed=1.9
        ),
        finding(
            "body-mass-index",
            None,
            Decimal("21.9671"),
            label=Label.NOT_JUDGED,
            state=None,
            basis=None,
        ),
    )
    made = Assessment(
        age=Age(45, 541),
        scores=(
            Score(
                "fpi-total",
                LEFT,
                Decimal(9),
                "points",
                (
                    BandShown(
                        "fpi-survey",
                        "highly-pronated",
                        "evans-2012",
                        Provenance.PUBLISHED_UNCHECKED,
                        False,
                    ),
                    BandShown("fpi-adults", "pronated", "redmond-2008", Provenance.PUBLISHED, True),
                ),
                ("fpi-arch",),
            ),
            Score(
                "fpi-total",
                RIGHT,
                Decimal(4),
                "points",
                (BandShown("fpi-adults", "within", "redmond-2008", Provenance.PUBLISHED, True),),
                ("fpi-arch",),
            ),
            Score("body-mass-index", None, Decimal("21.9671"), "kg/m2", (), ()),
        ),
        findings=findings,
        differences=(
            Difference(
                "ankle-dorsiflexion",
                Decimal(9),
                Decimal(12),
                Decimal(-3),
                5.8,
                False,
                None,
                None,
                None,
                Label.NOT_JUDGED,
                None,
                0.08,
            ),
            Difference(
                "lunge-distance",
                Decimal("6.4"),
                Decimal("10.0"),
                Decimal("-3.6"),
                1.9,
                True,
                1.5,
                ">",
                "outside",
                Label.LIKELY,
                0.91,
                0.98,
            ),
        ),
        changes=(
            Change(
                "fpi-total",
                LEFT,
                Decimal(5),
                Decimal(9),
                Decimal(4),
                1.9047,
                0.99,
                ChangeLabel.CHANGED,
            ),
            Change(
                "lunge-distance",
                LEFT,
                Decimal("6.0"),
                Decimal("6.4"),
                Decimal("0.4"),
                1.9,
                0.66,
                ChangeLabel.INSIDE_ERROR,
            ),
            Change(
                "body-mass-index",
                None,
                Decimal("22.4"),
                Decimal("21.9671"),
                Decimal("-0.4329"),
                None,
                None,
                ChangeLabel.NOT_JUDGED,
            ),
        ),
        cautions=(Caution(None, None, LEFT, None, ("measure:caution-focal-bone-tenderness",)),),
        problems=(
            Problem(
                "lunge-distance",
                LEFT,
                "6.4",
                ProblemKind.WARN,
                "less than 7 cm is seldom seen; kept as typed.",
            ),
        ),
    )
    return replace(made, **more)  # type: ignore[arg-type]


def sparse_examination(**more: object) -> Examination:
    """Only who it is, and twelve answers of no."""
    return examination(
        cautions_no() | dict([entry("allergies", NoneKnown())]),
        examiner=Person("M. Tau", Role.CLINICIAN),
        supervisor=None,
        **more,
    )
