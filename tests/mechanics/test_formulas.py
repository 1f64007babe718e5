"""Formulas for a person: each gives a number or says what is missing, and none ever raises."""

import csv
from math import inf, isfinite, nan
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.mechanics.formula import INPUTS, NotGiven
from footexam.mechanics.formulas import FORMULAS, work_out
from footexam.mechanics.result import Result, Standing
from footexam.terms import FORMULAS as TERMS
from footexam.terms import Provenance
from tests.mechanics.given import figures
from tests.published.cases import forms

FIGURES = Path(__file__).parents[1] / "data" / "mechanics" / "figures.csv"

PERSON: dict[str, float | None] = {
    "ankle-dorsiflexion-knee-straight": 4,
    "axis-offset": -20,
    "body-mass": 70,
    "device-arch-load": 60,
    "first-metatarsal-head-relief.depth": 4,
    "foot-length": 260,
    "forefoot-post-medial.angle": 3,
    "fpi-total": 5,
    "hallux-dorsiflexion-wedge.height": 3,
    "heel-lift.height": 6,
    "limb-length-difference": 16,
    "load-forward": 25,
    "load-medial": 0,
    "load-shift": 3,
    "medial-heel-skive.depth": 4,
    "material-modulus": 0.1,
    "material-modulus-high": 0.2,
    "plate-modulus": 50_000,
    "plate-modulus-high": 60_000,
    "rearfoot-post-medial.angle": 4,
    "region-share": 0.26,
    "rocker-sole.angle": 15,
    "rocker-sole.apex": 55,
    "shell-thickness.thickness": 4,
    "shoe-drop": 8,
    "shoe-length": 285,
    "stiff-forefoot-insert.thickness": 1,
}


def asked(formula: str, **changes: float | None) -> Result | NotGiven:
    """A formula for the person, with changes; `_` in their names stands for a hyphen."""
    named = {name.replace("_", "-"): value for name, value in changes.items()}
    return work_out(formula, {**PERSON, **named}, figures())


@pytest.mark.parametrize("formula", FORMULAS)
def test_every_formula_gives_a_number_for_a_person_who_was_measured(formula: str) -> None:
    found = asked(formula)
    assert isinstance(found, Result), found
    assert found.low <= found.value <= found.high
    assert found.formula == formula
    assert found.unit == FORMULAS[formula].unit
    assert set(found.figures) <= set(FORMULAS[formula].figures)
    assert set(found.sources) == {figures()[name].source for name in found.figures}
    assert set(found.inputs) <= set(PERSON)
    assert (found.provenance is None) == (not found.figures)


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_formula_without_its_inputs_says_what_is_missing(formula: str) -> None:
    for names in FORMULAS[formula].needs:
        found = work_out(formula, {**PERSON, **dict.fromkeys(names)}, figures())
        assert isinstance(found, NotGiven)
        assert found.missing == (names[0],)
        assert INPUTS[names[0]][0] in found.sentence
        assert found.refusal is None
    nothing = work_out(formula, {}, figures())
    assert nothing.missing == tuple(names[0] for names in FORMULAS[formula].needs)


@pytest.mark.parametrize("formula", FORMULAS)
def test_inputs_and_figures_are_known_by_name(formula: str) -> None:
    assert set(FORMULAS[formula].figures) <= set(figures())
    assert {name for names in FORMULAS[formula].needs for name in names} <= set(INPUTS)


def test_the_forms_hold_the_figures_that_the_numbers_were_checked_with() -> None:
    """Another value, unit or source of a figure has to be looked at here as well."""
    with FIGURES.open(encoding="utf-8", newline="") as file:
        expected = list(csv.DictReader(file))
    for row in expected:
        rule = figures()[row["id"]]
        held = (str(rule.at), rule.unit, rule.source, rule.provenance.value)
        assert held == (row["at"], row["unit"], row["source"], row["provenance"]), row["id"]
    taken = {name for formula in FORMULAS.values() for name in formula.figures}
    assert taken <= {row["id"] for row in expected}


def test_every_formula_that_a_feature_names_is_there() -> None:
    sizes = [size for feature in forms().features.values() for size in feature.sizes]
    assert set(TERMS) == set(FORMULAS)
    named = {size.formula for size in sizes if size.formula}
    assert named
    assert named <= set(FORMULAS)
    for size in sizes:
        if size.formula:
            assert FORMULAS[size.formula].unit == size.unit, size.formula


def test_inputs_are_named_after_measures_and_sizes_in_their_units() -> None:
    """What is in neither is measured or chosen for the calculation alone."""
    sizes = {
        f"{feature.id}.{size.id}": size.unit
        for feature in forms().features.values()
        for size in feature.sizes
    }
    measures = {measure.id: measure.unit for measure in forms().measures.values()}
    for name, (_, unit) in INPUTS.items():
        if "." in name:
            assert sizes[name] == unit, name
        elif name in measures:
            assert (measures[name] or "").replace("points", "") == unit, name
    alone = set(INPUTS) - set(sizes) - set(measures)
    assert alone == {
        *("axis-offset", "device-arch-load", "hard-use", "lever", "limb-length-radiograph"),
        *("load-forward", "load-medial", "load-shift", "plate-modulus", "plate-modulus-high"),
        *("material-modulus", "material-modulus-high"),
        *("region-share", "shell-modulus-chosen", "shoe-length"),
    }


@pytest.mark.parametrize(
    ("formula", "medial", "lateral"),
    [
        ("post-height", "rearfoot-post-medial.angle", "rearfoot-post-lateral.angle"),
        ("forefoot-post-height", "forefoot-post-medial.angle", "forefoot-post-lateral.angle"),
        ("skive-facet", "medial-heel-skive.depth", "lateral-heel-skive.depth"),
    ],
)
def test_medial_and_lateral_have_one_arithmetic(formula: str, medial: str, lateral: str) -> None:
    one, other = (work_out(formula, {name: 4}, figures()) for name in (medial, lateral))
    assert (one.value, one.low, one.high) == (other.value, other.low, other.high)
    assert (one.inputs, other.inputs) == ((medial,), (lateral,))


NUMBERS = st.one_of(
    st.none(),
    st.floats(),
    st.floats(-50, 300),
    st.sampled_from([0.0, -0.0, nan, inf, -inf, 1e308, -1e308, 5e-324]),
)


@given(st.sampled_from(sorted(FORMULAS)), st.data())
def test_bad_input_never_raises(formula: str, data: st.DataObject) -> None:
    """Whatever is typed, there is a finite number with its band, or a sentence."""
    bad = data.draw(st.dictionaries(st.sampled_from(sorted({*PERSON, *INPUTS})), NUMBERS))
    found = work_out(formula, {**PERSON, **bad}, figures())
    if isinstance(found, Result):
        assert all(isfinite(number) for number in (found.low, found.value, found.high))
        assert found.low <= found.value <= found.high
    else:
        assert found.missing or found.refusal
        assert found.sentence.endswith(".")


@pytest.mark.parametrize(
    ("formula", "changes", "said"),
    [
        ("lift-height", {"foot_length": None}, "Not worked out without foot length."),
        ("lift-height", {"shoe_drop": None}, "Not worked out without the drop of the shoe."),
        ("lift-height", {"foot_length": -260}, "Foot length is -260 mm and has to be above 0 mm"),
        ("lift-height", {"foot_length": nan}, "Nan is no number that is measured: check it."),
        ("shell-thickness", {"body_mass": None}, "Not worked out without body mass."),
        ("shell-thickness", {"body_mass": 30}, "Body mass is 30 kg; this is worked out only"),
        ("shell-thickness", {"body_mass": 121}, "only from 45 kg to 120 kg"),
        ("shell-thickness", {"fpi_total": nan}, "Nan is no number that is measured: check it."),
        ("shell-sag", {"shell_thickness.thickness": -3}, "The thickness is -3 mm"),
        ("shell-sag", {"shell_thickness.thickness": 1e-200}, "1e-200 is no number"),
        ("shell-sag", {"shell_thickness.thickness": None}, "without the thickness of the shell"),
        ("shell-sag-flat-bound", {"shell_thickness.thickness": 11}, "thicker than a tenth"),
        ("shell-sag-flat-bound", {"shell_thickness.thickness": 2}, "sag by more than a fifth"),
        ("rocker-apex", {"shoe_length": None}, "without the outer length of the shoe"),
        ("relief-depth", {"material_modulus": None}, "without the modulus of the material"),
        (
            "relief-depth",
            {"material_modulus": 1.2, "material_modulus_high": None},
            "A fill of 1.2 MPa is too firm",
        ),
        (
            "relief-depth",
            {"material_modulus": -1, "material_modulus_high": None},
            "The modulus of a layer is -1 MPa",
        ),
        ("head-relief-change", {"material_modulus": 3, "material_modulus_high": 5}, "gives way"),
        ("head-relief-change", {"first_metatarsal_head_relief.depth": 7}, "only from 0 mm to 6 mm"),
        (
            "head-relief-neighbours",
            {"first_metatarsal_head_relief.depth": 0},
            "The thickness of a layer is 0 mm and has to be above 0 mm",
        ),
        ("limb-length-target", {"limb_length_difference": 3}, "measured on a radiograph"),
        ("limb-length-target", {"limb_length_difference": -9}, "from 0 on"),
        (
            "limb-length-target",
            {"limb_length_difference": inf},
            "Inf is no number that is measured",
        ),
        ("moment-change", {"axis_offset": -8}, "mark the axis on this foot"),
        ("moment-change", {"axis_offset": 600}, "A place on the sole is 600 mm"),
        ("fascia-tension-change", {"device_arch_load": 400}, "What the device carries"),
        ("lift-tilt", {"heel_lift.height": 80}, "The tilt is"),
        ("insert-torque", {"stiff_forefoot_insert.thickness": 0}, "above 0 mm"),
    ],
)
def test_what_is_said_where_there_is_no_number(
    formula: str, changes: dict[str, float | None], said: str
) -> None:
    found = asked(formula, **changes)
    assert isinstance(found, NotGiven), found
    assert said in found.sentence


def test_a_formula_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        work_out("no-such-formula", PERSON, figures())


def test_a_figure_that_forms_do_not_give_is_a_mistake_of_the_forms() -> None:
    with pytest.raises(KeyError, match="lever-error"):
        work_out("lift-height", PERSON, {n: f for n, f in figures().items() if n != "lever-error"})


# --- which lever


def test_a_lever_is_measured_before_it_is_estimated() -> None:
    estimated = asked("lift-tilt")
    measured = asked("lift-tilt", truncated_foot_length=180)
    given_lever = asked("lift-tilt", lever=156)
    assert "lever-share" in estimated.figures
    assert "heel-contact-share" in measured.figures
    assert "lever-share" not in measured.figures
    assert "truncated-foot-length" in measured.inputs
    assert measured.value > estimated.value  # a shorter lever tilts more
    assert (given_lever.figures, given_lever.parts) == ((), ())
    assert given_lever.provenance is None
    assert given_lever.low == given_lever.value == pytest.approx(estimated.value)


def test_a_truncated_length_cannot_be_the_longer_one() -> None:
    found = asked("lift-tilt", truncated_foot_length=270)
    assert found.refusal.code == "not-above"


def test_the_drop_of_the_shoe_counts_as_lift() -> None:
    with_drop, without = (
        asked("dorsiflexion-demanded"),
        asked("dorsiflexion-demanded", shoe_drop=None),
    )
    assert with_drop.value < without.value
    assert asked("heel-height-wanted").value == pytest.approx(asked("lift-height").value + 8)


def test_nothing_is_lacking_no_lift() -> None:
    found = asked("lift-height", ankle_dorsiflexion_knee_straight=25)
    assert (found.low, found.value, found.high) == (0, 0, 0)


# --- what rests on what


def test_another_value_takes_the_place_of_a_figure() -> None:
    found = asked("post-height", heel_width=55)
    assert "heel-width" in found.inputs
    assert found.figures == ()
    assert found.low == found.value == found.high
    usual = asked("post-height")
    assert (usual.low, usual.high) != (usual.value, usual.value)
    assert usual.provenance is Provenance.COMMON_PRACTICE


def test_the_weakest_figure_tells_the_provenance() -> None:
    assert asked("shell-sag").provenance is Provenance.ESTIMATE
    assert asked("shell-sag").standing is Standing.ESTIMATE
    assert asked("rocker-apex").provenance is None


def test_a_longer_foot_has_longer_levers_unless_they_were_measured() -> None:
    short, long = (asked("achilles-force-standing", foot_length=n) for n in (230, 290))
    assert long.value / short.value == pytest.approx(290 / 230)
    same = [
        asked("achilles-force-standing", foot_length=n, pressure_centre=40)
        for n in (230, 290, None)
    ]
    assert len({found.value for found in same}) == 1
    unknown = asked("achilles-force-standing", foot_length=None)
    assert unknown.value == asked("achilles-force-standing", foot_length=260).value
    by_lever = asked("forefoot-share", foot_length=None, lever=156)
    assert by_lever.value == pytest.approx(asked("forefoot-share").value)


# --- shell


def test_thickness_for_hard_use_another_material_and_no_posture() -> None:
    usual = asked("shell-thickness")
    assert asked("shell-thickness", hard_use=0).value == usual.value
    assert asked("shell-thickness", hard_use=1).value == pytest.approx(usual.value + 0.5)
    heavier = [asked("shell-thickness", body_mass=90, hard_use=use) for use in (0, 1)]
    assert heavier[1].low == pytest.approx(heavier[0].low + 0.5)  # the trial rule, 4.5, with it
    assert heavier[1].high == pytest.approx(heavier[0].high + 0.5)
    light = [asked("shell-thickness", body_mass=50, hard_use=use) for use in (0, 1)]
    assert (light[0].high, light[1].high) == (4.0, 4.5)
    carbon = asked("shell-thickness", shell_modulus_chosen=55_000)
    assert carbon.value == pytest.approx(usual.value * (1300 / 55_000) ** (1 / 3))
    assert "shell-modulus" in carbon.figures
    unscored = asked("shell-thickness", fpi_total=None)
    assert unscored.value == usual.value == unscored.high
    assert unscored.low == pytest.approx(usual.value - 1)
    supinated = asked("shell-thickness", fpi_total=-3)
    assert supinated.value == pytest.approx(usual.value - 1)
    assert supinated.low <= 3.0 <= supinated.high
    neutral = asked("shell-thickness", fpi_total=0)
    assert neutral.low == neutral.value == neutral.high == usual.value
    between = asked("shell-thickness", fpi_total=-3, body_mass=75)
    assert between.high - between.low == pytest.approx(0.5)


def test_a_stiffer_material_sags_less() -> None:
    assert asked("shell-sag", shell_modulus_chosen=1600).value < asked("shell-sag").value


# --- relief and limb


def test_relief_reaches_to_what_was_measured_whatever_the_share() -> None:
    small = asked("relief-change", region_share=0.1)
    assert small.high == -32.3
    assert small.low == small.value < -32.3
    large = asked("relief-change", region_share=0.6)
    assert large.low == -32.3
    assert large.high == large.value > -32.3


def test_a_small_difference_seen_on_a_radiograph() -> None:
    seen = asked("limb-length-stage", limb_length_difference=4, limb_length_radiograph=1)
    assert seen.value == 3
    assert isinstance(asked("limb-length-stage", limb_length_difference=4), NotGiven)
    unseen = asked("limb-length-stage", limb_length_difference=4, limb_length_radiograph=0)
    assert isinstance(unseen, NotGiven)


def test_a_deeper_relief_takes_off_more_and_a_firmer_fill_has_to_be_deeper() -> None:
    depth = "first_metatarsal_head_relief.depth"
    falls = [asked("head-relief-change", **{depth: mm}).value for mm in (3, 4, 5)]
    assert 0 > falls[0] > falls[1] > falls[2] > -100
    bounds = [asked("head-relief-neighbours", **{depth: mm}) for mm in (3, 4, 5)]
    assert bounds[0].value < bounds[1].value < bounds[2].value
    assert all((one.low, one.high) == (0, one.value) for one in bounds)
    fills = [{"material_modulus": mpa, "material_modulus_high": None} for mpa in (0.05, 0.1, 0.2)]
    depths = [asked("relief-depth", **fill).value for fill in fills]
    assert depths[0] < depths[1] < depths[2]


def test_heads_that_were_measured_place_the_rocker() -> None:
    by_share = asked("rocker-behind-heads").value
    measured = asked("rocker-behind-heads", truncated_foot_length=0.73 * 260 + 4).value
    assert measured == pytest.approx(by_share + 4)


def test_a_plate_of_one_modulus_has_no_band() -> None:
    found = asked("insert-torque", plate_modulus_high=None)
    assert found.low == found.value == found.high
