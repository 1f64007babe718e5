"""Aims, features, conflicts, materials and figures as read, and every mistake that is told."""

from decimal import Decimal
from pathlib import Path

import pytest

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms
from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import (
    Aim,
    Avoid,
    Conflict,
    Device,
    DeviceArgument,
    FeatureClaim,
    Limit,
    Material,
    Severity,
    Size,
    Use,
    Zone,
)
from footexam.terms import Grade, Provenance
from tests.catalogue.small import write_forms
from tests.catalogue.small_plan import PLAN, plan_with
from tests.catalogue.test_arguments import line

AIMS, HEEL, COVER = "features/aims.toml", "features/1-heel.toml", "features/2-cover.toml"
CONFLICTS, MATERIALS = "features/conflicts.toml", "features/materials.toml"
FIGURES, CHOICE = "features/figures.toml", "features/choice.toml"
THUMB = "common-practice"


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    return load_catalogue(write_forms(tmp_path_factory.mktemp("forms"), PLAN))


def test_an_aim(small: Catalogue) -> None:
    assert small.aims["bend-more"] == Aim(
        id="bend-more",
        label={"en": "Bend more"},
        says={"en": "The joint should bend more."},
        hypotheses=("stiff-bend", "tired"),
        excludes=("bend-less",),
        note={"en": "Prove it first."},
    )
    assert (small.aims["rest"].excludes, small.aims["rest"].note) == ((), None)


def test_a_feature(small: Catalogue) -> None:
    wedge, cover, tape = small.features.values()
    assert (wedge.where, wedge.made_of) == ({"en": "Under the heel."}, ("felt",))
    assert (wedge.zone, wedge.bulk, wedge.aims) == (Zone.HEEL, 2, ("bend-more", "rest"))
    assert (wedge.mechanism["en"], wedge.needs) == ("It tilts the heel.", {"en": "A deep shoe."})
    assert wedge.claims[0] == FeatureClaim(
        about="bend-more",
        text={"en": "Better than rest in a trial."},
        grade=Grade.E1,
        source="quill-2010",
        provenance=Provenance.PUBLISHED,
    )
    told, shown = wedge.avoids
    assert told == Avoid(
        says={"en": "It does not bend."},
        severity=Severity.BLOCK,
        source="reed-2012",
        provenance=Provenance.PUBLISHED,
        when='bend <= 3 and pace == "slow"',
    )
    assert (shown.when, shown.severity) == ("", Severity.WARN)
    assert (cover.zone, cover.bulk, cover.needs) == (Zone.WHOLE, 0, None)
    assert (cover.avoids, cover.sizes) == ((), ())
    assert tape.first == ()


def test_a_reason_may_give_way_to_a_kept_aim(tmp_path: Path) -> None:
    files = plan_with(
        "features/1-heel.toml", "when = 'bend", 'unless = ["bend-less"]\nwhen = \'bend'
    )
    told, shown = load_catalogue(write_forms(tmp_path, files)).features["wedge"].avoids
    assert (told.unless, shown.unless) == (("bend-less",), ())


def test_dimensions(small: Catalogue) -> None:
    height, angle = small.features["wedge"].sizes
    assert height == Size(
        id="height",
        unit="mm",
        usual=Decimal(6),
        low=Decimal(0),
        high=Decimal(12),
        step=Decimal("0.5"),
        tolerance=Decimal(1),
        source="quill-2010",
        provenance=Provenance.PUBLISHED,
        formula="lift-height",
        note={"en": "Start low."},
    )
    assert (angle.low, angle.usual, angle.high, angle.formula) == (4, 4, 4, "")


def test_what_is_tried_first(small: Catalogue) -> None:
    """`first` speaks of the first aim alone; `for` of any, and prevails."""
    assert small.features["wedge"].first == ("bend-more", "rest")
    assert small.features["cover"].first == ()


@pytest.mark.parametrize(
    ("old", "new", "first"),
    [
        ('aim = "rest"\nfirst = true', 'aim = "rest"\nfirst = false', ("bend-more",)),
        ('aim = "rest"\nfirst = true', 'aim = "bend-more"\nfirst = false', ()),
        ("first = true", "first = false", ("rest",)),
    ],
)
def test_one_aim_may_be_excepted(
    tmp_path: Path, old: str, new: str, first: tuple[str, ...]
) -> None:
    catalogue = load_catalogue(write_forms(tmp_path, plan_with(HEEL, old, new)))
    assert catalogue.features["wedge"].first == first


def test_conflicts(small: Catalogue) -> None:
    among, against, one_side, tight = small.conflicts.values()
    assert among == Conflict(
        id="wedge-with-cover",
        features=("wedge", "cover"),
        aims=(),
        severity=Severity.BLOCK,
        why={"en": "They lie in one place."},
        source=THUMB,
        provenance=Provenance.COMMON_PRACTICE,
    )
    assert (against.id, against.features, against.aims) == (
        "wedge-against-bend-less",
        ("wedge",),
        ("bend-less",),
    )
    assert (one_side.id, one_side.features, one_side.one_sided) == (
        "wedge-on-one-side",
        ("wedge",),
        True,
    )
    assert (tight.when, tight.limits) == (
        "bend < 2",
        (Limit("wedge", "height", Decimal("2.5")),),
    )
    assert (against.when, against.one_sided, against.limits) == ("", False, ())


def test_materials(small: Catalogue) -> None:
    cork, felt = small.materials.values()
    assert cork == Material(
        id="cork",
        label={"en": "Cork"},
        use=(Use.POST, Use.FILL),
        source="reed-2012",
        provenance=Provenance.ESTIMATE,
        modulus_low=Decimal(5),
        modulus_high=Decimal(10),
        density=Decimal("0.3"),
        hardness={"en": "45 to 60 Shore A"},
        stress_at={100: Decimal("0.1"), 200: Decimal("0.25")},
        note={"en": "Replace it by the supplier's."},
    )
    assert (felt.modulus_low, felt.density, felt.hardness, felt.stress_at) == (None,) * 4


def test_arguments_about_the_choice_of_a_device(small: Catalogue) -> None:
    made, alike = small.device_arguments.values()
    assert made == DeviceArgument(
        id="wedge-needs-making",
        says={"en": "A wedge is made for the person."},
        points_to=Device.CUSTOM,
        grade=Grade.E4,
        source=THUMB,
        provenance=Provenance.COMMON_PRACTICE,
        when="bend < 5",
        features=("wedge",),
        aims=("rest",),
    )
    assert (alike.points_to, alike.when) == (Device.PREFABRICATED, "")
    assert (alike.features, alike.aims) == ((), ())


def test_figures(small: Catalogue) -> None:
    assert small.figures["relief-factor"].at == Decimal("0.595")


def test_the_same_out_of_the_cache(small: Catalogue, tmp_path: Path) -> None:
    forms = write_forms(tmp_path / "forms", PLAN)
    for _ in range(2):
        again = load_catalogue(forms, tmp_path / "cache")
        assert (again.aims, again.features) == (small.aims, small.features)
        assert (again.conflicts, again.materials) == (small.conflicts, small.materials)
        assert again.figures == small.figures


def test_without_a_plan_there_is_nothing_to_check(tmp_path: Path) -> None:
    catalogue = load_catalogue(write_forms(tmp_path))
    assert (catalogue.aims, catalogue.features, catalogue.conflicts) == ({}, {}, {})


STRAINS = "strains rise with the pressure and lie between 0 and 1"
TWO = "a conflict lies between two things"
CLAIM = 'claim = [{ about = "general"'

# file, part to replace, what to put there, part of the line that is named, what is said
WRONG = [
    # aims
    (AIMS, '"stiff-bend"', '"stiff-band"', "stiff-band", "“stiff-band” is not known"),
    (AIMS, '["bend-less"]', '["band"]', "band", "“band” is not known"),
    (AIMS, '["bend-less"]', '["rest"]', 'excludes = ["rest"]', "do not exclude each other"),
    (AIMS, '["bend-less"]', '["bend-more"]', 'excludes = ["bend-more"]',
     "“bend-more” and “bend-more” do not exclude each other"),
    (AIMS, "should bend more", "is stiff, caused by age", "caused by",
     "a plan never says “caused by”"),
    (AIMS, 'note.en = "Prove', 'remark.en = "Prove', "remark.en", "the key “remark” is not known"),
    # features
    (COVER, 'aims = ["rest"]', "aims = []", "aims = []", "a feature serves an aim"),
    (HEEL, 'aims = ["bend-more", "rest"]', 'aims = ["rest", "bend-more", "band"]', "band",
     "“band” is not known"),
    (HEEL, "bulk = 2", "bulk = 6", "bulk = 6", "“6” is more than 5"),
    (HEEL, "bulk = 2", "bulk = -1", "bulk = -1", "“bulk” is not a whole number"),
    (HEEL, '"heel"', '"toe"', '"toe"', "“toe” is not known for “zone”"),
    (HEEL, "It tilts", "It causes", "It causes", "a plan never says"),
    (HEEL, 'made_of = ["felt"]', 'made_of = ["foam"]', "foam", "“foam” is not known"),
    (HEEL, "A deep", "Pain caused by a", "caused by", "a plan never says"),
    (HEEL, 'aim = "rest"', 'aim = "bend-less"', 'aim = "bend-less"',
     "“bend-less” is not an aim of this feature"),
    (HEEL, 'about = "bend-more"', 'about = "bend-less"', "about",
     "“bend-less” is not an aim of this feature"),
    (HEEL, 'about = "harm"', 'about = "harms"', "harms", "“harms” is not an aim of this feature"),
    (HEEL, '"E1"', '"A"', '"A"', "“A” is not known for “grade”"),
    (HEEL, 'source = "quill-2010"\nprovenance = "published"\n\n[[feature.claim]]',
     'provenance = "published"\n\n[[feature.claim]]', "[[feature.claim]]", "“source” is missing"),
    (HEEL, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (HEEL, "Blisters", "Caused by it", "Caused by", "a plan never says"),
    (COVER, PLAN[COVER][PLAN[COVER].index(CLAIM):PLAN[COVER].index("\n[[feature.for]]")],
     "claim = []\n", "[[feature]]", "a feature needs a claim"),
    # when not to use one
    (HEEL, "when = 'bend", "unless = [\"rest\"]\nwhen = 'bend", "unless",
        "no conflict says what “wedge” means for “rest”"),
    (HEEL, "when = 'bend", "unless = [\"rast\"]\nwhen = 'bend", "unless",
        "no conflict says what “wedge” means for “rast”"),
    (COVER, "[[feature]]\nid = \"tape\"", """[[feature.avoid]]
says.en = "No."
unless = ["bend-less"]
severity = "warn"
source = "common-practice"
provenance = "common-practice"

[[feature]]
id = "tape\"""", "unless", "no conflict says what “cover” means for “bend-less”"),
    (HEEL, "bend <= 3", "bend < = 3", "bend < = 3", "cannot be read"),
    (HEEL, "bend <= 3", "band <= 3", "band <= 3", "“band” is not known"),
    (HEEL, 'pace == "slow"', 'pace == "late"', "late", "“late” is not a word of pace"),
    (HEEL, '"block"', '"stop"', '"stop"', "“stop” is not known for “severity”"),
    (HEEL, '"reed-2012"', '"read"', '"read"', "“read” is not known"),
    (HEEL, "The skin is thin", "Pain caused by it", "caused by", "a plan never says"),
    # dimensions
    (HEEL, "low = 0", "low = 7", "low = 7", "the limits do not rise"),
    (HEEL, "low = 0", "low = -1", "low = -1", "the limits do not rise"),
    (HEEL, "high = 12", "high = 5", "low = 0", "the limits do not rise"),
    (HEEL, "step = 0.5", "step = 0", "[[feature.size]]", "a step and a tolerance are above 0"),
    (HEEL, "tolerance = 1", "tolerance = 0", "[[feature.size]]", "are above 0"),
    (HEEL, 'unit = "mm"', 'unit = "inch"', "inch", "“inch” is no unit of a dimension"),
    (HEEL, '"lift-height"', '"list-height"', "list-height", "“list-height” is not a formula"),
    (HEEL, 'id = "angle"', 'id = "height"', "[[feature]]", "two dimensions have one name"),
    (HEEL, 'source = "quill-2010"\nprovenance = "published"\nnote',
     'source = "quail"\nprovenance = "published"\nnote', "quail", "“quail” is not known"),
    (HEEL, 'provenance = "published"\nnote.en = "Start low."', 'provenance = "estimate"',
     "[[feature.size]]", "an estimate must say from what"),
    (HEEL, "usual = 6\n", "", "[[feature.size]]", "“usual” is missing"),
    # conflicts
    (CONFLICTS, '"cover"', '"cow"', '"cow"', "“cow” is not known"),
    (CONFLICTS, 'feature = "wedge"', 'feature = "edge"', '"edge"', "“edge” is not known"),
    (CONFLICTS, 'aims = ["bend-less"]', 'aims = ["bend"]', "aims = ", "“bend” is not known"),
    (CONFLICTS, '"common-practice"', '"thumb"', '"thumb"', "“thumb” is not known"),
    (CONFLICTS, "They lie", "Caused by what lies", "Caused by", "a plan never says"),
    (CONFLICTS, '"wedge", "cover"', '"wedge"', "[[conflict]]", TWO),
    (CONFLICTS, 'aims = ["bend-less"]\n', "", "#2 [[conflict]]", TWO),
    (CONFLICTS, 'features = ["wedge", "cover"]', 'features = ["wedge"]\naims = ["rest"]',
     "[[conflict]]", TWO),
    (CONFLICTS, 'features = ["wedge", "cover"]\n', 'aims = ["rest", "bend-less"]\n',
     "[[conflict]]", TWO),
    (CONFLICTS, 'aims = ["bend-less"]', 'aims = ["rest"]\nfeatures = ["wedge", "cover"]',
     "#2 [[conflict]]", TWO),
    (CONFLICTS, 'features = ["wedge", "cover"]', 'feature = "wedge"\naims = ["bend-less"]',
     "#2 [[conflict]]", "“wedge-against-bend-less” is given twice"),
    (CONFLICTS, "one_sided = true\n", "", "#3 [[conflict]]", TWO),
    (CONFLICTS, "one_sided = true", 'one_sided = true\naims = ["rest"]', "#3 [[conflict]]", TWO),
    (CONFLICTS, "one_sided = true", 'one_sided = true\nfeatures = ["tape", "cover"]',
     "#3 [[conflict]]", TWO),
    (CONFLICTS, 'feature = "wedge"\none_sided', "one_sided", "#3 [[conflict]]", TWO),
    (CONFLICTS, 'features = ["wedge", "tape"]', 'features = ["wedge", "tape"]\none_sided = true',
     "#4 [[conflict]]", TWO),
    (CONFLICTS, "bend < 2", "band < 2", "band < 2", "“band” is not known"),
    (CONFLICTS, 'size = "height"', 'size = "width"', "[[conflict.limit]]",
     "“width” is not a dimension of a feature of this conflict"),
    (CONFLICTS, 'feature = "wedge"\nsize', 'feature = "cover"\nsize', "[[conflict.limit]]",
     "“height” is not a dimension of a feature of this conflict"),
    (CONFLICTS, 'feature = "wedge"\nsize', 'feature = "cow"\nsize', "[[conflict.limit]]",
     "“height” is not a dimension of a feature of this conflict"),
    # materials
    (MATERIALS, '["post", "fill"]', '["post", "hat"]', "hat", "“hat” is no use"),
    (MATERIALS, '["post", "fill"]', "[]", "use = []", "a material is used for something"),
    (MATERIALS, "modulus_low = 5", "modulus_low = 50", "modulus_low", "the moduli do not rise"),
    (MATERIALS, "modulus_low = 5\n", "", "[[material]]", "the moduli do not rise"),
    (MATERIALS, "modulus_low = 5", "modulus_low = 0", "modulus_low", "the moduli do not rise"),
    (MATERIALS, "density = 0.3", "density = 0", "density", "a density is above 0"),
    (MATERIALS, "200 = 0.25", "200 = 0.1", "stress_at", STRAINS),
    (MATERIALS, "200 = 0.25", "200 = 1", "stress_at", STRAINS),
    (MATERIALS, "100 = 0.1,", "100 = 0,", "stress_at", STRAINS),
    (MATERIALS, "100 = 0.1,", "soft = 0.1,", "stress_at", "“soft” is no pressure"),
    (MATERIALS, '"reed-2012"', '"read"', '"read"', "“read” is not known"),
    (MATERIALS, 'note.en = "Replace it by the supplier\'s."\n', "", "[[material]]",
     "an estimate must say from what"),
    # arguments about the choice of a device
    (CHOICE, '"custom"', '"costly"', '"costly"', "“costly” is not known for “points_to”"),
    (CHOICE, "bend < 5", "band < 5", "band < 5", "“band” is not known"),
    (CHOICE, '"wedge"', '"edge"', '"edge"', "“edge” is not known"),
    (CHOICE, '"rest"', '"west"', '"west"', "“west” is not known"),
    (CHOICE, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (CHOICE, "No trial", "Caused by luck: no trial", "Caused by", "a plan never says"),
    (CHOICE, "grade", "degree", "degree", "the key “degree” is not known"),
    # figures
    (FIGURES, "at = 0.595", 'words = ["a"]', "[[figure]]", "a figure of the calculations is"),
    (FIGURES, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (FIGURES, 'note.en = "Fitted to one trial."\n', "", "[[figure]]", "an estimate must say"),
    # files keep to their subject
    (CONFLICTS, "[[conflict]]", "[[feature]]", "[[feature]]", "the key “feature” is not known"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "old", "new", "at", "what"), WRONG)
def test_a_mistake_is_told_with_file_and_line(
    tmp_path: Path, name: str, old: str, new: str, at: str, what: str
) -> None:
    files = plan_with(name, old, new)
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, files))
    found = [one for one in bad.value.mistakes if what in one.what]
    assert found, str(bad.value)
    assert (found[0].file, found[0].line) == (name, line(files[name], at)), str(bad.value)


ALLOWED = [
    (HEEL, "low = 0", "low = 6"),
    (HEEL, "high = 12", "high = 6"),
    (MATERIALS, "modulus_low = 5", "modulus_low = 10"),
    (MATERIALS, "100 = 0.1, 200 = 0.25", "300 = 0.3, 100 = 0.2"),
    (AIMS, '["stiff-bend", "tired"]', "[]"),
]


@pytest.mark.parametrize(("name", "old", "new"), ALLOWED)
def test_what_looks_alike_and_is_no_mistake(tmp_path: Path, name: str, old: str, new: str) -> None:
    assert load_catalogue(write_forms(tmp_path, plan_with(name, old, new))).features
