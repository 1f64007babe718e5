"""Dimensions of a feature: chosen before worked out before usual, and what is missing for them."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from footexam.mechanics.formula import INPUTS, NotGiven
from footexam.mechanics.result import Result, Standing
from footexam.reasoning import sizing
from footexam.reasoning.planned import Dimension
from footexam.reasoning.sizing import (
    dimensions,
    effects,
    effects_of,
    known_inputs,
    read_size,
    with_material,
)
from footexam.reasoning.view import View
from footexam.terms import Provenance, Side
from tests.reasoning.making import LEFT, RIGHT, Readings, examination, forms, seen
from tests.reasoning.making_plan import feature, size

WALKER: Readings = {
    "foot-length": {"left": 250, "right": 262},
    "ankle-dorsiflexion-knee-straight": {"left": 7, "right": 12},
    "shoe-drop": 4,
    "body-mass": 70,
}


def inputs(readings: Readings, side: Side | None = LEFT, **chosen: dict[str, str]) -> Any:
    view = View(seen(examination(readings)), side)
    named = {name.replace("_", "-"): sizes for name, sizes in chosen.items()}
    return known_inputs(view, named)


def sized(name: str, readings: Readings, **typed: str) -> dict[str, Dimension]:
    """The dimensions of a feature as shipped; with `typed` it is chosen so."""
    found = dimensions(forms().features[name], inputs(readings), typed or None, forms())
    return {one.size.id: one for one in found}


def done(name: str, readings: Readings, **typed: str) -> dict[str, Result | NotGiven]:
    """What a feature as shipped would do."""
    one, known = forms().features[name], inputs(readings)
    parts = dimensions(one, known, typed or None, forms())
    return {found.formula: found for found in effects(one, effects_of(one), parts, known, forms())}


# --- inputs


def test_inputs_are_in_the_unit_of_their_measure() -> None:
    known = {name: unit for name, (_, unit) in INPUTS.items() if name in forms().measures}
    assert len(known) > 5
    for name, unit in known.items():
        if name != "fpi-total":
            assert forms().measures[name].unit == unit, name


def test_inputs_are_those_of_the_side_with_those_without_a_side() -> None:
    left, right, both = (inputs(WALKER, side) for side in (LEFT, RIGHT, None))
    assert (left["foot-length"], right["foot-length"], both["foot-length"]) == (250, 262, None)
    assert left["shoe-drop"] == right["shoe-drop"] == both["shoe-drop"] == 4
    assert left["limb-length-difference"] is None
    assert left.keys() == INPUTS.keys()


def test_chosen_dimensions_are_inputs_in_their_unit() -> None:
    found = inputs(WALKER, heel_lift={"height": "7,5 mm"}, rearfoot_post_medial={"angle": "4 mm"})
    assert found["heel-lift.height"] == 7.5
    assert found["rearfoot-post-medial.angle"] is None
    assert found["medial-heel-skive.depth"] is None


def test_a_number_that_is_not_text_is_not_a_dimension() -> None:
    odd: Any = {"heel-lift": {"height": 6}}
    assert known_inputs(View(seen(examination({})), LEFT), odd)["heel-lift.height"] is None


@pytest.mark.parametrize(
    ("typed", "unit", "expected"),
    [
        ("6", "mm", "6"),
        ("6 mm", "mm", "6"),
        ("6mm", "mm", "6"),
        (" 6,5 mm ", "mm", "6.5"),
        ("6.50", "mm", "6.50"),
        ("+6 mm", "mm", "6"),
        ("-3 mm", "mm", "-3"),
        ("−3", "mm", "-3"),
        ("–3", "mm", "-3"),
        ("4°", "deg", "4"),
        ("4 °", "deg", "4"),
        ("4 deg", "deg", "4"),
        ("30 %", "%", "30"),
        ("6 cm", "mm", None),
        ("4°", "mm", None),
        ("6 MM", "mm", None),
        ("six", "mm", None),
        ("", "mm", None),
        ("6 to 8 mm", "mm", None),
        ("1/2 mm", "mm", None),
        ("1e3", "mm", None),
        (".5", "mm", None),
        ("inf", "mm", None),
    ],
)
def test_a_dimension_as_typed(typed: str, unit: str, expected: str | None) -> None:
    assert read_size(typed, unit) == (None if expected is None else Decimal(expected))


# --- chosen, worked out, usual


def test_nothing_measured_leaves_the_usual_one_and_says_what_is_missing() -> None:
    lift = sized("heel-lift", {})["height"]
    assert (lift.value, lift.low, lift.high) == (6, 3, 12)
    assert (lift.chosen, lift.result, lift.provenance) == (False, None, Provenance.COMMON_PRACTICE)
    assert lift.remark == (
        "Not worked out without dorsiflexion with the knee straight and the drop of the shoe and "
        "foot length."
    )


@pytest.mark.parametrize(
    ("left_out", "words"),
    [
        ("foot-length", "foot length"),
        ("shoe-drop", "the drop of the shoe"),
        ("ankle-dorsiflexion-knee-straight", "dorsiflexion with the knee straight"),
    ],
)
def test_what_is_missing_is_named_and_nothing_else(left_out: str, words: str) -> None:
    some = {name: value for name, value in WALKER.items() if name != left_out}
    lift = sized("heel-lift", some)["height"]
    assert (lift.value, lift.result) == (6, None)
    assert lift.remark == f"Not worked out without {words}."


def test_a_lift_is_worked_out_in_steps_and_within_what_it_can_have() -> None:
    lift = sized("heel-lift", WALKER)["height"]
    assert isinstance(lift.result, Result)
    assert lift.result.inputs == ("shoe-drop", "ankle-dorsiflexion-knee-straight", "foot-length")
    assert lift.value == lift.value.to_integral_value()
    assert abs(float(lift.value) - lift.result.value) <= 0.5
    assert (lift.low, lift.high) == (3, 12)  # the band is wider than what it can have
    assert lift.result.low < lift.low < lift.high < lift.result.high
    assert (lift.chosen, lift.remark, lift.provenance) == (False, "", Provenance.ESTIMATE)
    none_lacking = {**WALKER, "ankle-dorsiflexion-knee-straight": {"left": 30}}
    assert sized("heel-lift", none_lacking)["height"].value == 3
    stiff = {**WALKER, "ankle-dorsiflexion-knee-straight": {"left": -5}}
    assert sized("heel-lift", stiff)["height"].value == 12


def test_a_chosen_dimension_stands_beside_what_was_worked_out() -> None:
    worked, chosen = (
        sized("heel-lift", WALKER, **typed)["height"] for typed in ({}, {"height": "9 mm"})
    )
    assert (chosen.value, chosen.chosen, chosen.remark) == (9, True, "")
    assert (chosen.result, chosen.low, chosen.high) == (worked.result, worked.low, worked.high)
    bare = sized("heel-lift", {}, height="9 mm")["height"]
    assert (bare.value, bare.chosen) == (9, True)
    assert bare.remark.startswith("Not worked out without")


@pytest.mark.parametrize(
    ("typed", "remark"),
    [
        ("-3 mm", "-3 mm lies outside what it can have: 3 to 12 mm."),
        ("25", "25 mm lies outside what it can have: 3 to 12 mm."),
    ],
)
def test_a_chosen_dimension_that_cannot_be_is_kept_and_said_to_be_so(
    typed: str, remark: str
) -> None:
    lift = sized("heel-lift", WALKER, height=typed)["height"]
    assert lift.chosen
    assert lift.value in {-3, 25}
    assert lift.remark == remark


@pytest.mark.parametrize("end", [3, 12])
def test_the_ends_of_what_it_can_have_are_sound(end: int) -> None:
    assert sized("heel-lift", WALKER, height=str(end))["height"].remark == ""


def test_another_unit_is_not_taken() -> None:
    lift = sized("heel-lift", WALKER, height="6 cm")["height"]
    assert not lift.chosen
    assert lift.value == sized("heel-lift", WALKER)["height"].value
    assert lift.remark == "“6 cm” is not a number in mm: it was not taken."


def test_a_dimension_that_follows_from_another_takes_the_chosen_or_the_usual_one() -> None:
    usual = sized("rearfoot-post-medial", {})
    steeper = dimensions(
        forms().features["rearfoot-post-medial"],
        inputs({}, rearfoot_post_medial={"angle": "8°"}),
        {"angle": "8°"},
        forms(),
    )
    height = next(one for one in usual.values() if one.size.formula == "post-height")
    higher = next(one for one in steeper if one.size.formula == "post-height")
    assert isinstance(height.result, Result)
    assert isinstance(higher.result, Result)
    assert higher.result.value > height.result.value


def test_a_post_is_not_sized_by_another_post() -> None:
    lateral = forms().features["rearfoot-post-lateral"]
    alone = dimensions(lateral, inputs({}), None, forms())
    beside = dimensions(lateral, inputs({}, rearfoot_post_medial={"angle": "10°"}), None, forms())
    assert alone == beside


def test_a_body_mass_that_is_missing_is_said_of_the_shell() -> None:
    shell = sized("shell-thickness", {})["thickness"]
    assert shell.result is None
    assert shell.remark == "Not worked out without body mass."
    light, heavy = (sized("shell-thickness", {"body-mass": mass})["thickness"] for mass in (55, 95))
    assert light.value <= heavy.value
    assert light.provenance is Provenance.ESTIMATE


def test_measured_numbers_alone_make_an_estimate(monkeypatch: pytest.MonkeyPatch) -> None:
    """A result without figures of forms/ has no provenance of its own."""
    found = Result("lift-height", 5.2, 4.1, 6.3, "mm", Standing.GEOMETRY, None)
    monkeypatch.setattr(sizing, "work_out", lambda *_: found)
    one = feature("a", "x", sizes=(size("height", 6, 0, 12, formula="lift-height"),))
    (part,) = dimensions(one, {}, None, forms())
    assert (part.value, part.low, part.high) == (5, Decimal("4.1"), Decimal("6.3"))
    assert part.provenance is Provenance.ESTIMATE
    read = replace(found, provenance=Provenance.PUBLISHED)
    monkeypatch.setattr(sizing, "work_out", lambda *_: read)
    assert dimensions(one, {}, None, forms())[0].provenance is Provenance.PUBLISHED
    loose = feature("a", "x", sizes=(size("height", 6, 0, 12, formula="lift-height", step=0),))
    assert dimensions(loose, {}, None, forms())[0].value == Decimal("5.2")


def test_half_a_step_goes_up_and_never_beyond_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    for value, step, high, expected in ((4.5, 1, 12, 5), (4.4, 1, 12, 4), (7, 2, 7, 7)):
        found = Result("lift-height", value, value, value, "mm", Standing.GEOMETRY, None)
        monkeypatch.setattr(sizing, "work_out", lambda *_, one=found: one)
        sizes = (size("height", 6, 0, high, formula="lift-height", step=step),)
        assert dimensions(feature("a", "x", sizes=sizes), {}, None, forms())[0].value == expected


# --- effects


def test_effects_are_of_the_dimensions_as_they_stand() -> None:
    tighter = {**WALKER, "ankle-dorsiflexion-knee-straight": {"left": 5.5}}
    worked, low, high = (
        done("heel-lift", tighter, **typed) for typed in ({}, {"height": "6"}, {"height": "11"})
    )
    shares = [found["forefoot-share-change"] for found in (low, worked, high)]
    values = [one.value for one in shares if isinstance(one, Result)]
    assert values == sorted(values)
    assert values[0] < values[2]
    assert sized("heel-lift", tighter)["height"].value in {7, 8, 9}  # the usual one is 6
    assert len(set(values)) == 3


def test_what_cannot_be_worked_out_says_so() -> None:
    found = done("heel-lift", {})
    assert found
    for one in found.values():
        assert isinstance(one, NotGiven)
        assert one.missing == ("foot-length",)
    refused = done("heel-lift", WALKER, height="-3 mm")
    assert all(isinstance(one, NotGiven) for one in refused.values())
    assert any(isinstance(one, NotGiven) and one.refusal for one in refused.values())


def test_a_feature_that_nothing_is_worked_out_of_has_no_effects() -> None:
    assert effects_of(forms().features["low-dye-taping"]) == ()
    assert done("low-dye-taping", WALKER) == {}


@pytest.mark.parametrize("name", ["heel-lift", "rearfoot-post-medial", "shell-thickness"])
def test_what_sizes_a_feature_is_not_among_its_effects(name: str) -> None:
    one = forms().features[name]
    assert not {part.formula for part in one.sizes} & set(effects_of(one))


def relief(material: str | None = None, **typed: str) -> Dimension:
    """The depth of a relief under the first head, made of a material or the usual one."""
    one = forms().features["first-metatarsal-head-relief"]
    decided = {**typed, **({"material": material} if material else {})}
    known = with_material(one, inputs({}), decided, forms())
    found = dimensions(one, known, decided, forms())
    return next(part for part in found if part.size.id == "depth")


def test_the_depth_of_a_relief_follows_from_what_it_is_filled_with() -> None:
    usual = relief()
    assert (usual.value, usual.low, usual.high) == (4, 3, 5)
    assert usual.provenance is Provenance.ESTIMATE
    assert usual.result is not None
    assert usual.result.inputs == ("material-modulus", "material-modulus-high")
    for name in ("polyurethane-firm", "eva-medium"):
        firm = relief(name)
        assert (firm.value, firm.result) == (4, None)
        assert "too firm to be felt as a relief within 6 mm" in firm.remark


@pytest.mark.parametrize("material", ["the usual", "cork-mix-of-mine"])
def test_a_material_that_is_not_known_leaves_the_usual_depth(material: str) -> None:
    part = relief(material)
    assert (part.value, part.result) == (4, None)
    assert part.remark == "Not worked out without the modulus of the material."


def test_a_feature_of_several_materials_or_one_without_a_modulus_has_none() -> None:
    known = inputs({})
    for name in ("total-contact-insole", "relief-pocket"):
        assert with_material(forms().features[name], known, None, forms()) is known
    without = next(one.id for one in forms().materials.values() if one.modulus_low is None)
    one = forms().features["first-metatarsal-head-relief"]
    assert with_material(one, known, {"material": without}, forms()) is known
    assert with_material(one, known, {"material": 3}, forms())["material-modulus"] == 0.1


def test_a_chosen_depth_tells_what_it_takes_off_and_what_it_may_add_beside() -> None:
    one = forms().features["first-metatarsal-head-relief"]
    known = with_material(one, inputs({}), {"depth": "5 mm"}, forms())
    parts = dimensions(one, known, {"depth": "5 mm"}, forms())
    found = {each.formula: each for each in effects(one, effects_of(one), parts, known, forms())}
    assert found.keys() == {"head-relief-change", "head-relief-neighbours"}
    assert all(isinstance(each, Result) for each in found.values())


def test_every_dimension_of_every_feature_is_worked_out_or_says_why_not() -> None:
    for readings in ({}, WALKER):
        for one in forms().features.values():
            for part in dimensions(one, inputs(readings), None, forms()):
                assert part.size.low <= part.value <= part.size.high
                assert part.size.low <= part.low <= part.high <= part.size.high
                assert bool(part.remark) is bool(part.size.formula and part.result is None)
