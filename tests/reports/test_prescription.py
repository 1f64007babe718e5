"""The prescription, read as the maker reads it: everything that is needed is on the paper."""

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import cycle, islice
from typing import Any

import numpy as np
import pytest

from footexam.assessment import Assessment
from footexam.catalogue.plan_model import Severity
from footexam.drawing.shapes import Text
from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import Reading, Word
from footexam.record.reading import Text as Typed
from footexam.reports.fonts import Typeset
from footexam.reports.material import Material
from footexam.reports.prescription import SOURCES, layout, prescription
from footexam.reports.sheet import PAPERS
from footexam.resources import assets_dir
from footexam.terms import Role, Sex, Side
from tests.reports.hostile import FOUR_THOUSAND, LONG_WORD, MARKS, MARKUP
from tests.reports.pages import figure_box, ink_boxes, picture, sizes, text_box, texts, whole_text
from tests.reports.planned_builders import CATALOGUE, LEFT, RIGHT, USUAL, chosen, planned

FULL = (
    *USUAL,
    chosen("shell-thickness", thickness="4 mm", material="polypropylene-homopolymer"),
    chosen("shell-length-and-width"),
    chosen("heel-cup-depth", depth="16 mm"),
    chosen("cover-material", thickness="2 mm", material="neoprene-sponge"),
    chosen("cover-length"),
    chosen("relief-pocket", position="navicular, 38 mm above the ground", note="dye on the shoe"),
)
Made = tuple[Examination, Assessment]


def printed(made: Made, page: str = "A4", **more: Any) -> bytes:
    return prescription(*made, CATALOGUE, page=page, invented=True, practice="Clinic", **more)


def read(made: Made, page: str = "A4") -> str:
    return whole_text(printed(made, page))


USUAL_TEXT = read(planned())
FULL_TEXT = read(planned(FULL))


# --- the maker's checklist


@pytest.mark.parametrize(
    "line",
    [
        "Left foot: one device made to the shape of the foot (custom).",
        "Right foot: nothing is asked for.",
        "3 Features: Left foot",
        "Medial heel skive Depth 4 mm ± 1 mm",
        "Medial rearfoot post Angle 4 deg ± 1 deg",
        "Height 4.2 mm ± 1 mm",
        "Heel lift in the shoe Height 6 mm ± 1 mm (chosen",
        "Position: inner half of the heel seat, cut into the model",
        "Position: under the heel, inner edge the higher one, ends before the arch",
        "Material: Polypropylene, copolymer, 65 to 70 Shore D (usual, not chosen)",
        "Material: Ethylene vinyl acetate foam, firm, 50 to 60 Shore A (usual, not chosen)",
        "4 Drawings, 1:3",
        "Scale 1:3",
        "Left foot, from the inner side",
        "Left foot, from below, inner edge on top",
        "Heel to forefoot drop: 9 mm",
        "Inside depth at the heel: 58 mm",
        "Inside depth at the toes: 24 mm",
        "Thickness of the removable insole: 4.5 mm",
        "Left foot, heel: device 10.2 mm high, 52.3 mm of the counter left (90 % of it): fits.",
        "Body mass: 79.5 kg",
        "Foot length: left 248.0 mm, right 246 mm",
        "Lower the pronation moment",
        "8 Not to be changed without asking",
        "nickel (rash under a watch, 1995)",
        "Speaks for custom",
        "Speaks for prefabricated",
        "DRAFT, not signed",
        "Record version",
        "chain",
    ],
)
def test_the_maker_finds(line: str) -> None:
    assert line in USUAL_TEXT


def test_every_dimension_of_every_feature_is_there_with_unit_and_tolerance() -> None:
    made = planned(FULL)
    text = FULL_TEXT
    features = made[1].reasons.plan.chosen
    assert len(features) == len(FULL)
    for one in features:
        assert one.feature.label["en"] in text
        for part in one.dimensions:
            name = part.size.id.replace("-", " ").capitalize()
            unit = part.size.unit
            value, tolerance = (f"{n.normalize():f}" for n in (part.value, part.size.tolerance))
            assert f"{name} {value} {unit} ± {tolerance} {unit}" in text


def test_every_feature_has_a_position_a_material_an_aim_and_a_mechanism() -> None:
    made = planned(FULL)
    count = len(made[1].reasons.plan.chosen)
    assert len(re.findall("Position: ", FULL_TEXT)) == count
    assert len(re.findall("Material: ", FULL_TEXT)) == count
    for one in made[1].reasons.plan.chosen:
        assert one.feature.mechanism["en"] in FULL_TEXT


def test_what_was_typed_goes_before_what_is_usual() -> None:
    assert "Material: Polypropylene, homopolymer, about 70 to 75 Shore D" in FULL_TEXT
    assert "Material: Neoprene sponge, 15 to 25 Shore A" in FULL_TEXT
    assert "Position: navicular, 38 mm above the ground" in FULL_TEXT
    assert "Note: dye on the shoe" in FULL_TEXT


def test_a_depth_that_was_worked_out_roughly_is_called_an_estimate() -> None:
    text = read(planned([chosen("first-metatarsal-head-relief")]))
    assert "Depth 4 mm ± 1 mm (worked out, 3 to 5; estimate [1])" in text
    firm = read(planned([chosen("first-metatarsal-head-relief", material="eva-medium")]))
    assert "Depth 4 mm ± 1 mm (usual; practice [1])" in firm
    assert "Not worked out. Left foot: Soft relief under the first head, depth: A fill of" in firm


def test_a_place_that_nobody_stated_must_be_asked_for() -> None:
    assert CATALOGUE.features["relief-pocket"].where is None
    assert "Position: ask; not stated" in read(planned([chosen("relief-pocket")]))
    assert "Position: ask" not in FULL_TEXT


def test_a_material_that_nobody_stated_must_be_asked_for() -> None:
    patch = read(planned([chosen("low-friction-patch")]))
    assert "Position: ask; not stated Material: ask; not stated" in patch
    cup = read(planned([chosen("heel-cup-depth")]))
    assert "Material: none asked for" in cup


def test_parts_of_a_shell_that_were_not_chosen_are_named() -> None:
    assert (
        "Not given, ask before making: Thickness of the shell; Length and width of the shell; "
        "Depth of the heel cup; Cover material; Length of the cover." in USUAL_TEXT
    )
    assert "Not given" not in FULL_TEXT
    assert "Heights without the shell, whose thickness is not given" in USUAL_TEXT
    assert "Heights without the shell" not in FULL_TEXT


def test_each_feature_has_where_it_lies_and_materials_that_exist() -> None:
    features = CATALOGUE.features.values()
    placed = [one.where["en"] for one in features if one.where is not None]
    assert all(placed)
    assert {one.id for one in features if one.where is None} == {
        "relief-pocket",
        "low-friction-patch",
    }
    for one in features:
        assert set(one.made_of) <= CATALOGUE.materials.keys()


def test_numbers_in_the_drawing_are_those_of_the_table() -> None:
    made = planned()
    sheet = layout(
        Material(*made, CATALOGUE, "en"), PAPERS["A4"], Typeset(assets_dir() / "fonts"), "C", True
    )
    numbers = [
        s.text for page in sheet.pages for s in page if isinstance(s, Text) and s.text in "123"
    ]
    assert {one: numbers.count(one) for one in "123"} == {"1": 3, "2": 3, "3": 3}


@pytest.mark.parametrize("page", list(PAPERS))
def test_it_fits_on_two_pages(page: str) -> None:
    data = printed(planned(), page)
    assert len(sizes(data)) == 2
    assert sizes(data)[0] == pytest.approx((PAPERS[page].width, PAPERS[page].height), abs=0.1)


EIGHT = FULL[:-1]
FOURTEEN = (
    *FULL,
    *map(
        chosen,
        (
            "arch-contour-height",
            "sub-arch-reinforcement",
            "medial-flange",
            "metatarsal-dome",
            "first-ray-cut-out",
        ),
    ),
)


def on_both(features: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    return [{**one, "side": side} for one in features for side in (LEFT, RIGHT)]


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize(
    ("features", "most"),
    [
        (EIGHT, 2),
        (on_both(EIGHT[:6]), 2),
        ([*on_both(USUAL[:2]), USUAL[2], chosen("heel-lift", RIGHT, height="3 mm")], 2),
        (FOURTEEN, 3),
        (on_both(FOURTEEN), 3),
    ],
    ids=["eight", "six-both", "three-differ", "fourteen", "fourteen-both"],
)
def test_pages_are_used(features: list[dict[str, Any]], most: int, page: str) -> None:
    assert len(sizes(printed(planned(features), page))) <= most


def test_drawings_are_smaller_only_to_save_a_page() -> None:
    made = planned(EIGHT)
    usual, letter = read(made), read(made, "letter")
    assert "4 Drawings, 1:3" in usual
    assert usual.count("Scale 1:3") == 2
    assert "4 Drawings, 1:5" in letter
    assert letter.count("Scale 1:5") == 2
    assert "4 Drawings, 1:3" in read(planned(FOURTEEN))  # three pages either way


@pytest.mark.parametrize("features", [USUAL, FOURTEEN], ids=["three", "fourteen"])
def test_no_type_is_smaller_than_that_of_the_sources(features: Any) -> None:
    material = Material(*planned(features), CATALOGUE, "en")
    sheet = layout(material, PAPERS["A4"], Typeset(assets_dir() / "fonts"), "C", invented=True)
    read_ = [s for page in sheet.pages for s in page if isinstance(s, Text) if not s.text.isdigit()]
    assert min(s.size for s in read_) == SOURCES.size == 7.4


# --- the kind of device


@pytest.mark.parametrize(
    ("features", "line"),
    [
        ([chosen("heel-lift", height="6 mm")], "the single parts listed, without a shell"),
        ([chosen("prefabricated-orthosis")], "one prefabricated device, changed as listed"),
        (
            [chosen("prefabricated-orthosis"), chosen("medial-heel-skive")],
            "a prefabricated device and features of a custom one are both asked for",
        ),
    ],
)
def test_the_kind_follows_from_what_was_chosen(features: Any, line: str) -> None:
    assert f"Left foot: {line}" in read(planned(features))


# --- sides


def test_both_sides_are_spelled_out_and_drawn() -> None:
    features = [{**one, "side": side} for one in USUAL for side in (LEFT, RIGHT)]
    text = read(planned(features))
    assert "Left foot: one device" in text
    assert "Right foot: one device" in text
    for foot in ("Left", "Right"):
        assert f"{foot} foot, from the inner side" in text
        assert f"{foot} foot, from below" in text


def test_sides_with_different_dimensions_have_tables_of_their_own() -> None:
    text = read(planned([*USUAL, chosen("heel-lift", RIGHT, height="3 mm")]))
    left, right = text.index("Features: Left foot"), text.index("Features: Right foot")
    assert left < text.index("Height 6 mm ± 1 mm") < right < text.index("Height 3 mm ± 1 mm")


def test_what_both_sides_share_is_told_once_for_both() -> None:
    text = read(planned([*on_both(USUAL[:2]), USUAL[2], chosen("heel-lift", RIGHT, height="3 mm")]))
    both = text.index("3 Features: Left foot and right foot")
    left, right = (text.index(f"3 Features: {side} foot No.") for side in ("Left", "Right"))
    assert both < text.index("Medial heel skive Depth 4 mm ± 1 mm") < left < right
    assert text.count("Depth 4 mm ± 1 mm") == text.count("Angle 4 deg ± 1 deg") == 1
    # one number for a feature, whichever the side and the table
    assert "3 Heel lift in the shoe Height 6 mm ± 1 mm" in text[left:right]
    assert "3 Heel lift in the shoe Height 3 mm ± 1 mm" in text[right:]


def test_what_one_side_lacks_is_said_of_that_side() -> None:
    text = read(planned([*on_both(EIGHT[:-1]), EIGHT[-1]]))
    assert "Right foot. Not given, ask before making: Length of the cover." in text
    assert text.count("Not given") == 1


def test_a_feature_tells_the_letters_of_its_kept_aims_or_the_aim_it_was_chosen_under() -> None:
    assert "A Lower the pronation moment. Left foot" in USUAL_TEXT
    assert "B Lower the demand on tibialis posterior. Left foot" in USUAL_TEXT
    skive, post, lift = (
        USUAL_TEXT.index(name) for name in ("Medial heel", "Medial rear", "Heel l")
    )
    assert "Aim A, B; " in USUAL_TEXT[skive:post]
    assert "Make up for lost ankle dorsiflexion; controlled trials [" in USUAL_TEXT[lift:]


# --- identifiers, signature, version


@pytest.mark.parametrize("page", list(PAPERS))
def test_both_identifiers_and_the_state_are_on_every_page(page: str) -> None:
    for text in texts(printed(planned(FULL), page)):
        assert "Born 30-Mar-1968" in text
        assert "Record number HQ-0006" in text
        assert "DRAFT, not signed" in text
        assert "Invented patient, not a real person" in text


def test_once_signed_it_is_no_draft() -> None:
    examiner = planned()[0].examiner.name
    text = read(planned(signed_by=(examiner,), amended=False))
    assert "DRAFT" not in text
    assert f"Signed by {examiner}" in text


def test_the_same_record_gives_the_same_bytes() -> None:
    assert printed(planned()) == printed(planned())


# --- held back


def danger() -> Made:
    yes = Reading("caution-cold-pale-foot", LEFT, Word("yes"), typed="yes")
    return planned(FULL, readings={("caution-cold-pale-foot", LEFT): yes})


def test_a_held_plan_says_so_and_why_and_gives_no_dimension() -> None:
    made = danger()
    assert LEFT in made[1].reasons.plan.held
    text = read(made)
    assert "Held back, do not make" in text
    assert "Left foot: nothing is prescribed and no dimension is given" in text
    names = {CATALOGUE.cautions[one.id].label["en"] for one in made[1].held_by if one.id}
    assert names
    assert all(name in text for name in names)
    assert "±" not in text
    assert "Depth" not in text
    assert "Scale" not in text
    assert "Medial heel skive" not in text


def test_one_side_held_leaves_the_other() -> None:
    made = planned([*USUAL, chosen("heel-lift", RIGHT, height="3 mm")])
    plan = replace(made[1].reasons.plan, held=(LEFT,))
    reasons = replace(made[1].reasons, plan=plan)
    text = read((made[0], replace(made[1], reasons=reasons)))
    assert "Left foot: nothing is prescribed" in text
    assert "Features: Left foot" not in text
    assert "Features: Right foot" in text
    assert "Height 3 mm ± 1 mm" in text
    assert "Height 6 mm" not in text


# --- what is missing


def test_a_missing_foot_length_is_named() -> None:
    text = read(planned(without=("foot-length", "truncated-foot-length")))
    assert "Foot length not recorded: drawn at a usual 260 mm (not a measure)." in text
    assert "Missing from the record Not recorded: Foot length, left; Length heel to ball, left" in (
        text
    )


def test_a_missing_shoe_is_named_and_no_room_is_told() -> None:
    gone = [name for name in CATALOGUE.measures if name.startswith("shoe-")]
    text = read(planned(without=gone))
    assert "Shoes worn most; " in text
    assert "room not worked out without inside depth at the heel" in text
    assert "Shoe not measured: no room drawn." in text
    assert "of the counter left" not in text


def test_feeling_that_was_not_tested_is_named() -> None:
    gone = ("monofilament-hallux", "monofilament-met-head-1", "monofilament-met-head-5")
    assert "Not recorded: feeling of the foot." in read(planned(without=gone))
    assert "feeling of the foot" not in USUAL_TEXT


def test_nothing_chosen_is_said() -> None:
    text = read(planned([]))
    assert "No feature is chosen: there is nothing to make yet." in text
    assert "±" not in text


def test_a_device_that_does_not_fit_must_be_asked_about() -> None:
    text = read(planned([chosen("heel-lift", height="40 mm")]))
    assert "does NOT fit by" in text
    assert "Check the number. Left foot: Heel lift in the shoe, height:" in text


# --- against


def test_clashes_and_reasons_against_are_named() -> None:
    made = planned([*USUAL, chosen("forefoot-post-medial"), chosen("first-ray-cut-out")])
    text, plan = read(made), made[1].reasons.plan
    reasons = [
        why
        for one in plan.chosen
        for why in (
            *(clash.why for clash in one.clashes),
            *(reason.says["en"] for reason in one.avoid),
        )
    ]
    assert len(reasons) > 2
    assert all(why in text for why in reasons)
    assert "Medial heel skive against Medial rearfoot post" in text


def test_a_refused_feature_is_said_to_be_refused() -> None:
    made = planned([chosen("first-ray-extension"), chosen("first-ray-cut-out")])
    clashes = [clash for one in made[1].reasons.plan.chosen for clash in one.clashes]
    assert Severity.BLOCK in {clash.severity for clash in clashes}
    assert "REFUSED unless the prescriber confirms. Left foot:" in read(made)


# --- geometry, greys, hostile text


def hostile(name: str) -> Made:
    texts_ = {
        "markup": MARKUP,
        "long word": LONG_WORD,
        "long text": "".join(islice(cycle(FOUR_THOUSAND), 900)),
        "marks": MARKS,
    }
    bad = texts_[name]
    features = [
        chosen("medial-heel-skive", depth=bad[:200], material=bad[:200], position=bad[:200]),
        chosen("relief-pocket", position=bad[:200], note=bad, colour=bad[:200]),
        chosen("heel-lift", height="6 mm"),
    ]
    kind = {("shoe-kind", None): Reading("shoe-kind", None, Typed(bad), typed=bad)}
    patient = Patient(bad[:90], bad[:90], "Ms", bad[:60], "1981-03-14", Sex.OTHER)
    person = Person(bad[:90], Role.STUDENT)
    return planned(features, readings=kind, patient=patient, examiner=person)


HOSTILE = ("markup", "long word", "long text", "marks")
CASES: dict[str, Made] = {
    "usual": planned(),
    "full": planned(FULL),
    "both": planned([{**one, "side": side} for one in USUAL for side in (LEFT, RIGHT)]),
    "held": danger(),
    "empty": planned([]),
    **{name: hostile(name) for name in HOSTILE},
}


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("case", list(CASES))
def test_text_lies_inside_the_margins_and_overlaps_nowhere(case: str, page: str) -> None:
    paper = PAPERS[page]
    for boxes in ink_boxes(printed(CASES[case], page)):
        assert boxes
        for place, box in enumerate(boxes):
            assert box.left >= paper.margin - 1.0, box
            assert box.right <= paper.width - paper.margin + 1.0, box
            assert box.bottom <= paper.height - 12.0, box
            for other in boxes[place + 1 :]:
                assert not box.overlaps(other), (box, other)


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("case", list(CASES))
def test_words_meet_no_line_and_no_figure(case: str, page: str) -> None:
    typeset = Typeset(assets_dir() / "fonts")
    material = Material(*CASES[case], CATALOGUE, "en")
    sheet = layout(material, PAPERS[page], typeset, "Clinic", invented=True)
    for shapes in sheet.pages:
        found = [text_box(s, typeset) for s in shapes if isinstance(s, Text)]
        figures = [box for s in shapes if (box := figure_box(s))]
        for box in found:
            if not box.what.isdigit():
                assert not any(box.overlaps(other) for other in figures), box


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_is_printed_as_typed(name: str) -> None:
    text = read(hostile(name))
    squeezed = "".join(text.split())
    wanted = {
        "markup": "<bogus>&amp;",
        "long word": LONG_WORD[:60],
        "long text": "Painafterstandingallday",
        "marks": "[U+200E]",
    }[name]
    assert wanted in squeezed
    assert "Heightofthe" not in squeezed.replace("Heightofthemedialarch", "")


def test_a_dimension_that_is_no_number_is_named() -> None:
    text = read(planned([chosen("heel-lift", height="as usual")]))
    assert "Check the number. Left foot: Heel lift in the shoe, height: “as usual” is not" in text


def test_lift_post_and_skive_differ_in_greys() -> None:
    page = np.asarray(picture(printed(planned()), page=1, scale=4.0), dtype=float) / 255
    colour = np.asarray(picture(printed(planned()), page=1, scale=4.0, grey=False), dtype=float)
    spread = colour.max(axis=2) - colour.min(axis=2)
    # the ink is a dark grey and no part of the page is told by a colour
    assert spread.max() < 40
    assert page.min() < 0.2


def test_a_number_that_could_not_be_worked_out_is_no_mistake() -> None:
    text = read(planned(without=("shoe-drop",)))
    assert "Not worked out. Left foot: Heel lift in the shoe, height: Not worked out" in text
    assert "Check the number" not in text


def test_what_must_be_known_before_a_boot_is_named() -> None:
    made = planned([chosen("walking-boot")])
    unmet = made[1].reasons.plan.unmet
    assert unmet
    text = read(made)
    for one in unmet:
        assert f"Before it is given: {one.check.says['en']}" in text
        assert all(CATALOGUE.measures[name].label["en"] in text for name in one.missing)


def test_a_feature_without_a_dimension_says_so() -> None:
    assert "No dimension." in read(planned([chosen("shell-stiffness")]))
    assert "No dimension." not in USUAL_TEXT


def test_a_length_without_a_side_counts_for_both_and_is_told_once() -> None:
    number = planned()[0].readings["foot-length", LEFT]
    bare = {("foot-length", None): replace(number, side=None)}
    made = planned(without=("foot-length",), readings=bare)
    text = read(made)
    assert "Foot length: 248" in text
    assert "drawn at a usual" not in text


def test_signature_of_a_student_asks_for_a_second_one() -> None:
    student = Person("A. Learner", Role.STUDENT)
    assert "Countersigned by" in read(planned(examiner=student))


def test_every_size_is_a_number_of_the_plan_and_none_is_made_up() -> None:
    made = planned(FULL)
    values = {part.value for one in made[1].reasons.plan.chosen for part in one.dimensions}
    found = re.findall(r"(\d+(?:\.\d+)?) (?:mm|deg|Shore A) ± ", FULL_TEXT)
    assert {Decimal(one) for one in found} == {value.normalize() for value in values}


def test_an_unknown_day_of_birth_is_said() -> None:
    patient = replace(planned()[0].patient, birth_date=None)
    made = planned(patient=patient, examined_on=date(2026, 2, 3))
    assert all("Born Not known" in text for text in texts(printed(made)))


def test_other_page_sizes_are_refused() -> None:
    with pytest.raises(KeyError):
        printed(planned(), "A3")


def test_the_side_of_the_device_is_a_word_on_the_paper() -> None:
    for side in Side:
        text = read(planned([chosen("heel-lift", side, height="6 mm")]))
        other = "Right" if side is Side.LEFT else "Left"
        assert f"3 Features: {side.value.capitalize()} foot" in text
        assert f"{other} foot: nothing is asked for." in text
