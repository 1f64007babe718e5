"""Findings of an examination: numbers, words, order, and what is left out."""

from decimal import Decimal

import pytest

from footexam.record.reading import (
    Activities,
    Numbers,
    Reading,
    RegionValues,
    Sites,
    Words,
)
from footexam.scoring import judge
from footexam.scoring.bench import bench
from footexam.scoring.chances import Chances
from footexam.scoring.judge import ends
from footexam.scoring.results import NormShown
from footexam.terms import Absence, Basis, Kind, Label, Provenance, Sex
from tests.scoring.builders import (
    LEFT,
    OTHER,
    RIGHT,
    SAME,
    all_findings,
    catalogue,
    cuts,
    error,
    examination,
    finding,
    group,
    judge_of,
    measure,
    norms,
    reading,
    text,
)

NORM = norms("adults", "range", group(n=50, mean=10, sd=3))
KNOWN = catalogue(
    (
        measure("first", kind=Kind.CHOICE),
        measure("range", unit="deg", errors=(error(OTHER, sem=1),)),
        measure("sign", kind=Kind.YES_NO),
        measure("mass", unit="kg", sided=False),
        measure("spot", kind=Kind.YES_SITES),
        measure("angle", unit="deg", methods=("film", "eye")),
        measure("angle-method", kind=Kind.CHOICE, sided=False),
    ),
    (
        NORM,
        norms("word", "first", outside=("stiff", "loose"), provenance=Provenance.COMMON_PRACTICE),
        norms("yes", "sign", outside=("yes",)),
        norms("yes-spot", "spot", outside=("yes",)),
        norms("film", "angle", group("film", high=("> 15 mild",)), methods=("film",)),
    ),
)


def test_order_is_that_of_forms_left_before_right_before_none() -> None:
    visit = examination(
        {
            ("mass", None): 70,
            ("range", RIGHT): 9,
            ("sign", None): "yes",
            ("sign", RIGHT): "yes",
            ("range", LEFT): 11,
            ("first", RIGHT): "stiff",
        }
    )
    assert [(row.measure, row.side) for row in all_findings(visit, KNOWN)] == [
        ("first", RIGHT),
        ("range", LEFT),
        ("range", RIGHT),
        ("sign", RIGHT),
        ("sign", None),
        ("mass", None),
    ]


def test_only_numbers_and_named_words_make_findings() -> None:
    visit = examination(
        {
            ("first", LEFT): "usual",
            ("first", RIGHT): "loose",
            ("sign", LEFT): "no",
            ("spot", LEFT): Sites("yes", ("hallux",)),
            ("spot", RIGHT): Sites("no"),
            ("range", LEFT): RegionValues({"hallux": Decimal(1)}),
            ("range", RIGHT): Reading("range", RIGHT, None, absent=Absence.DECLINED),
            ("mass", None): text("heavy"),
            ("angle", LEFT): Words(("a",)),
            ("angle", RIGHT): Activities((("walking", 3),)),
            ("retired", LEFT): Numbers((Decimal(1),)),
            ("retired", RIGHT): "stiff",
        }
    )
    assert [(row.measure, row.side) for row in all_findings(visit, KNOWN)] == [
        ("first", RIGHT),
        ("spot", LEFT),
    ]


def test_a_named_word_is_the_state_without_label_or_chance() -> None:
    row = finding(examination({("first", LEFT): "stiff"}), KNOWN, "first", LEFT)
    assert (row.value, row.state, row.label, row.basis) == ("stiff", "stiff", None, None)
    assert (row.probability, row.probability_error_only, row.limit) == (None, None, None)
    assert row.norms == (
        NormShown(
            "word", "", None, None, None, "source-of-norm", Provenance.COMMON_PRACTICE, judged=True
        ),
    )


def test_words_by_method_and_person() -> None:
    known = catalogue(
        (measure("wave", kind=Kind.CHOICE, methods=("doppler",)),),
        (
            norms("by-method", "wave", outside=("flat",), methods=("doppler",)),
            norms("children", "wave", group(ages=(0, 17)), outside=("low",)),
            norms("women", "wave", group(sex=Sex.FEMALE), outside=("wide",)),
            norms("beside", "wave", outside=("late",), judged=False),
        ),
    )

    def states(
        word: str, years: int = 40, method: str | None = None, sex: Sex = Sex.FEMALE
    ) -> list:
        visit = examination(
            {("wave", LEFT): reading("wave", LEFT, word, method)}, years=years, sex=sex
        )
        return [row.state for row in all_findings(visit, known)]

    assert states("flat") == []
    assert states("flat", method="doppler") == ["flat"]
    assert states("low") == []
    assert states("low", years=9) == ["low"]
    assert states("wide") == ["wide"]
    assert states("wide", sex=Sex.MALE) == []
    assert states("late") == []


def test_without_a_norm_a_number_is_not_judged_but_keeps_its_error() -> None:
    known = catalogue((measure("range", unit="deg", errors=(error(SAME, mdc95=5),)),))
    row = finding(examination({("range", LEFT): (9, 10, 8)}), known, "range", LEFT)
    assert (row.value, row.unit, row.repeats) == (9, "deg", 3)
    assert (row.state, row.label, row.basis, row.near_limit) == (
        None, Label.NOT_JUDGED, None, None,
    )  # fmt: skip
    assert row.change_needed == 5.0


def test_the_method_question_is_the_method_where_the_reading_states_none() -> None:
    asked = examination({("angle", LEFT): 30, ("angle-method", None): "film"})
    row = finding(asked, KNOWN, "angle", LEFT)
    assert (row.method, row.state) == ("film", "mild")
    stated = examination(
        {("angle", LEFT): reading("angle", LEFT, 30, "eye"), ("angle-method", None): "film"}
    )
    row = finding(stated, KNOWN, "angle", LEFT)
    assert (row.method, row.state, row.norms) == ("eye", None, ())


def test_a_limit_with_its_own_source_says_so() -> None:
    own = cuts("> 10 high")[0]
    own = type(own)(own.op, own.at, own.state, "own-source", Provenance.ESTIMATE)
    base = group(low=("< 2 low",))
    mixed = type(base)(base.id, base.label, default=True, low=base.low, high=(own,))
    known = catalogue((measure("m"),), (norms("set", "m", mixed),))
    shown = {
        value: finding(examination({("m", LEFT): value}), known, "m", LEFT).norms[0]
        for value in (1, 11)
    }
    assert (shown[1].source, shown[1].provenance) == ("source-of-norm", Provenance.PUBLISHED)
    assert (shown[11].source, shown[11].provenance) == ("own-source", Provenance.ESTIMATE)


def test_a_judge_forgets_when_it_has_kept_many(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judge, "KEPT", 2)
    known = catalogue((measure("range"),), (NORM,))
    visit = examination({("range", LEFT): 1})
    one = judge_of(known, visit, "range", LEFT)
    first = one.finding(Decimal(1))
    assert one.finding(Decimal(1)) is first
    one.finding(Decimal(2))
    one.finding(Decimal(3))
    assert len(one._found) == 1
    assert one.finding(Decimal(1)) == first


@pytest.mark.parametrize(
    ("chances", "basis", "label"),
    [
        ((0.80, 0.1), Basis.NORM, Label.LIKELY),
        ((0.7999, 0.99), Basis.NORM, Label.POSSIBLE),
        ((0.50, 0.99), Basis.NORM, Label.POSSIBLE),
        ((0.4999, 0.99), Basis.NORM, Label.REPEAT),
        ((None, 0.95), Basis.ERROR_ONLY, Label.LIKELY),
        ((None, 0.9499), Basis.ERROR_ONLY, Label.POSSIBLE),
        ((None, 0.80), Basis.ERROR_ONLY, Label.POSSIBLE),
        ((None, 0.7999), Basis.ERROR_ONLY, Label.REPEAT),
        ((None, None), Basis.NONE, Label.REPEAT),
    ],
)
def test_labels_at_their_thresholds(
    chances: tuple[float | None, float | None], basis: Basis, label: Label
) -> None:
    found = Chances(*chances)
    assert (found.basis, found.label("below")) == (basis, label)
    assert found.label("within") == Label.WITHIN
    assert found.label(None) == Label.NOT_JUDGED


def test_an_ordinal_measure_needs_both_ends() -> None:
    assert ends(measure("m", ordinal=True, ends=(0, 9))) == (0, 9)
    with pytest.raises(ValueError, match="hard limits"):
        ends(measure("m", ordinal=True))


def test_hypermobility_by_age_and_puberty() -> None:
    # 2017 criteria: 6 before puberty, 5 once pubertal up to 50 years, 4 from 51 on.
    sets = norms(
        "criteria",
        "score",
        group("before", ages=(5, 17), needs={"puberty": ("before",)}, high=(">= 6 positive",)),
        group(
            "after", ages=(5, 17), needs={"puberty": ("started", "after")}, high=(">= 5 positive",)
        ),
        group("adults", ages=(18, 50), high=(">= 5 positive",)),
        group("over-50", ages=(51, 120), high=(">= 4 positive",)),
    )
    known = catalogue(
        (
            measure("puberty", kind=Kind.CHOICE, sided=False),
            measure("score", kind=Kind.SCORE, sided=False, ordinal=True, ends=(0, 9)),
        ),
        (sets,),
    )

    def state(points: int, years: int, puberty: str | None = None) -> str | None:
        answers = {("puberty", None): puberty} if puberty else {}
        visit = examination({("score", None): points, **answers}, years=years)
        return finding(visit, known, "score", None).state

    assert state(5, 30) == "positive"
    assert state(5, 50) == "positive"
    assert state(4, 50) == "within"
    assert state(4, 51) == "positive"
    assert state(5, 12, "before") == "within"
    assert state(6, 12, "before") == "positive"
    assert state(5, 12, "started") == "positive"
    assert state(5, 12) is None
    assert state(9, 12, "not-stated") is None


def test_a_cut_without_mean_and_sd_or_with_less_spread_than_error_rests_on_the_error_alone() -> (
    None
):
    for spread in ({}, {"mean": 10, "sd": 1}):
        limit = norms("cut", "range", group(low=("< 8 low",), **spread))
        known = catalogue((measure("range", errors=(error(OTHER, sem=2),)),), (limit,))
        row = finding(examination({("range", LEFT): 6}), known, "range", LEFT)
        assert (row.basis, row.probability) == (Basis.ERROR_ONLY, None)
        assert row.probability_error_only == pytest.approx(0.8413, abs=5e-5)
        assert row.label == Label.POSSIBLE


def test_a_worked_out_number_carries_the_error_of_its_inputs() -> None:
    travels = ("first-ray-dorsal-travel", "first-ray-plantar-travel")
    total = "first-ray-total-travel"
    known = catalogue(
        (
            *(measure(name, errors=(error(SAME, sem=3),)) for name in travels),
            measure(total, kind=Kind.DERIVED, derived_from=travels),
        ),
        (norms("cut", total, group(high=("> 10 loose",))),),
    )
    visit = examination({(travels[0], LEFT): (8, 8, 8), (travels[1], LEFT): 6})
    row = finding(visit, known, total, LEFT)
    # 9 / 3 + 9: SEM 3.4641; for single readings 9 + 9
    assert row.probability_error_only == pytest.approx(0.8759, abs=5e-5)
    assert row.change_needed == pytest.approx(1.96 * 6)
    assert row.inputs == travels
    without = catalogue(
        (
            measure(travels[0], errors=(error(SAME, sem=3),)),
            measure(travels[1]),
            known.measures[total],
        )
    )
    assert finding(visit, without, total, LEFT).change_needed is None


def test_only_the_last_few_people_are_kept() -> None:
    known = catalogue((measure("range"),), (NORM,))
    desk = bench(known)
    for years in range(18, 60):
        desk.judges(examination({}, years=years))
    assert 0 < len(desk._people) <= 16
    assert bench(known) is desk
