"""Scores: values with their bands, and what a total lacks."""

from decimal import Decimal

from footexam.record.reading import Reading
from footexam.scoring.derived.feet import FPI_ITEMS
from footexam.scoring.results import BandShown, Problem
from footexam.scoring.scores import score
from footexam.terms import Absence, Kind, ProblemKind, Provenance, Sex
from tests.scoring.builders import (
    LEFT,
    RIGHT,
    all_findings,
    catalogue,
    examination,
    finding,
    group,
    measure,
    norms,
    reading,
    scores,
)

ITEMS = tuple(measure(item, kind=Kind.SCORE, ordinal=True, ends=(-2, 2)) for item in FPI_ITEMS)
TOTAL = measure(
    "fpi-total",
    kind=Kind.DERIVED,
    unit="points",
    ordinal=True,
    ends=(-12, 12),
    derived_from=FPI_ITEMS,
)
WOUND = measure("wound-infected", kind=Kind.DERIVED, derived_from=("wound",), words=("yes", "no"))
SETS = (
    norms("a", "fpi-total", group(ages=(16, 120), low=("< 0 supinated",), high=(">= 6 pronated",))),
    norms(
        "b",
        "fpi-total",
        group(default=False, ages=(18, 30), high=("> 6 outside",)),
        judged=False,
        source="other-source",
        provenance=Provenance.ESTIMATE,
    ),
    norms("mean-only", "fpi-total", group(default=False, mean=4), judged=False),
    norms("infected", "wound-infected", outside=("yes",)),
)
KNOWN = catalogue((*ITEMS, TOTAL, WOUND, measure("unheard-of", kind=Kind.DERIVED)), SETS)


def items(*points: int, side=LEFT) -> dict:  # noqa: ANN001
    return {(item, side): point for item, point in zip(FPI_ITEMS, points, strict=False)}


def test_all_six_items_make_a_total_with_the_band_of_every_set() -> None:
    row = scores(examination(items(1, 1, 1, 1, 1, 1), years=25), KNOWN)["fpi-total", LEFT]
    assert (row.value, row.unit, row.inputs) == (6, "points", FPI_ITEMS)
    assert row.bands == (
        BandShown("a", "pronated", "source-of-norm", Provenance.PUBLISHED, default=True),
        BandShown("b", "within", "other-source", Provenance.ESTIMATE, default=False),
    )


def test_five_items_are_no_total_but_one_problem() -> None:
    rows, problems = score(examination(items(1, 1, 1, 1, 1)), KNOWN)
    assert rows == []
    assert problems == [
        Problem(
            "fpi-total",
            LEFT,
            "",
            ProblemKind.INCOMPLETE,
            "Not worked out; not recorded: Fpi forefoot abduction.",
        )
    ]


def test_an_item_that_could_not_be_tested_is_missing() -> None:
    absent = {
        (FPI_ITEMS[0], LEFT): Reading(
            FPI_ITEMS[0], LEFT, None, absent=Absence.COULD_NOT_BE_TESTED, reason="dressing"
        )
    }
    rows, problems = score(examination(items(1, 1, 1, 1, 1, 1) | absent), KNOWN)
    assert rows == []
    assert [problem.kind for problem in problems] == [ProblemKind.INCOMPLETE]


def test_no_item_is_no_problem_and_each_side_is_its_own() -> None:
    assert score(examination({}), KNOWN) == ([], [])
    rows, problems = score(examination(items(0, 0, 0, 0, 0, 0) | items(2, 2, side=RIGHT)), KNOWN)
    assert [(row.side, row.value) for row in rows] == [(LEFT, 0)]
    assert [problem.side for problem in problems] == [RIGHT]


def test_a_worked_out_word_that_is_named_makes_a_band_and_a_finding() -> None:
    visit = examination(
        {("wound", LEFT): [{"infected": "yes"}], ("wound", RIGHT): [{"infected": "no"}]}
    )
    found = scores(visit, KNOWN)
    assert found["wound-infected", LEFT].bands == (
        BandShown("infected", "yes", "source-of-norm", Provenance.PUBLISHED, default=True),
    )
    assert found["wound-infected", RIGHT].bands == ()
    rows = all_findings(visit, KNOWN)
    assert [(row.measure, row.side, row.state, row.inputs) for row in rows] == [
        ("wound-infected", LEFT, "yes", ("wound",))
    ]


def test_the_method_that_all_inputs_share_chooses_the_norms() -> None:
    heights = ("navicular-height-neutral", "navicular-height-resting")
    known = catalogue(
        (
            *(measure(name, methods=("standing", "seated")) for name in heights),
            measure("navicular-drop", kind=Kind.DERIVED, derived_from=heights),
        ),
        (
            norms(
                "standing", "navicular-drop", group(high=("> 18 flexible",)), methods=("standing",)
            ),
        ),
    )

    def state(*methods: str | None) -> tuple:
        visit = examination(
            {
                (name, LEFT): reading(name, LEFT, value, method)
                for name, value, method in zip(heights, (50, 30), methods, strict=True)
            }
        )
        row = finding(visit, known, "navicular-drop", LEFT)
        return row.method, row.state

    assert state("standing", "standing") == ("standing", "flexible")
    assert state("standing", "seated") == (None, None)
    assert state(None, None) == (None, None)


def test_both_sexed_bands_are_shown_for_sex_other() -> None:
    sets = norms(
        "sexed",
        "fpi-total",
        group("f", sex=Sex.FEMALE, high=("> 5 high",)),
        group("m", sex=Sex.MALE, high=("> 6 high",)),
    )
    known = catalogue((*ITEMS, TOTAL), (sets,))
    row = scores(examination(items(1, 1, 1, 1, 1, 1), sex=Sex.OTHER), known)["fpi-total", LEFT]
    assert [(band.band, band.default) for band in row.bands] == [("high", False), ("within", False)]


def test_a_value_is_not_rounded() -> None:
    known = catalogue(
        (
            measure("body-height", sided=False),
            measure("body-mass", sided=False),
            measure("body-mass-index", kind=Kind.DERIVED, sided=False),
        )
    )
    visit = examination({("body-mass", None): 62, ("body-height", None): 168})
    value = scores(visit, known)["body-mass-index", None].value
    assert value == Decimal(62) / (Decimal("1.68") ** 2)
