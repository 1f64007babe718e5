"""What the forms say of features, conflicts and materials, against the reference notes on devices.

`published`: the figure was read in the source. Sizes of the trade are common practice.
"""

from decimal import Decimal

import pytest

from footexam.catalogue.plan_model import Conflict, Device, Severity
from footexam.terms import Grade
from tests.published.cases import derived, forms, practice, published

THUMB = "rule of thumb of the trade"

DEFAULTS = [
    practice(THUMB, "inverted-correction", "angle", 2, 4, 30),
    published("Bonanno 2012", "medial-heel-skive", "depth", 2, 4, 6),
    practice(THUMB, "heel-cup-depth", "depth", 8, 14, 24),
    practice(THUMB, "rearfoot-post-medial", "angle", 2, 4, 10),
    practice(THUMB, "rearfoot-post-lateral", "angle", 2, 3, 6),
    practice(THUMB, "heel-lift", "height", 3, 6, 12),
    practice(THUMB, "forefoot-post-medial", "angle", 2, 3, 6),
    practice(THUMB, "forefoot-post-lateral", "angle", 2, 3, 6),
    published("Palomo-Toucedo 2023, Sanchez-Serena 2023", "first-ray-extension", "height", 2, 3, 5),
    practice(THUMB, "hallux-dorsiflexion-wedge", "height", 2, 3, 4),
    practice(THUMB, "lateral-forefoot-extension", "height", 2, 3, 4),
    practice(THUMB, "metatarsal-dome", "height", 3, 5, 8),
    practice(THUMB, "metatarsal-bar", "height", 3, 5, 7),
    practice(THUMB, "cuboid-pad", "height", 3, 4, 6),
    practice(THUMB, "medial-flange", "height", 20, 30, 40),
    published("Preece 2017", "rocker-sole", "angle", 10, 15, 20),
    practice(THUMB, "rocker-sole", "apex", 50, 55, 65),
    practice(THUMB, "shell-thickness", "thickness", "2.5", "4.0", "5.0"),
]


@pytest.mark.parametrize(("_source", "feature", "size", "low", "usual", "high"), DEFAULTS)
def test_a_default(
    _source: str, feature: str, size: str, low: object, usual: object, high: object
) -> None:
    (found,) = (one for one in forms().features[feature].sizes if one.id == size)
    assert [found.low, found.usual, found.high] == [Decimal(str(x)) for x in (low, usual, high)]


def test_the_whole_of_the_knowledge_is_there() -> None:
    catalogue = forms()
    assert (len(catalogue.features), len(catalogue.aims)) == (54, 25)
    served = {aim for feature in catalogue.features.values() for aim in feature.aims}
    assert served == catalogue.aims.keys()


def test_every_aim_of_a_feature_has_its_own_claim() -> None:
    bare = [
        (feature.id, aim)
        for feature in forms().features.values()
        for aim in feature.aims
        if aim not in {claim.about for claim in feature.claims}
    ]
    assert bare == []


def between(*names: str) -> Conflict | None:
    """The conflict between two features, or between a feature and an aim, in any order."""
    for conflict in forms().conflicts.values():
        if set(names) <= {*conflict.features, *conflict.aims} and not conflict.limits:
            return conflict
    return None


FREES = (
    "first-ray-cut-out",
    "first-metatarsal-head-relief",
    "hallux-dorsiflexion-wedge",
    "lateral-forefoot-extension",
)
RULES = [
    *(practice(THUMB, "forefoot-post-medial", one, Severity.WARN) for one in FREES),
    *(practice(THUMB, "first-ray-extension", one, Severity.BLOCK) for one in FREES),
    practice(THUMB, "medial-heel-skive", "inverted-correction", Severity.WARN),
    practice(THUMB, "medial-heel-skive", "rearfoot-post-medial", Severity.WARN),
    practice(THUMB, "inverted-correction", "rearfoot-post-medial", Severity.WARN),
    practice(THUMB, "rearfoot-post-lateral", "lower-tibialis-posterior-demand", Severity.WARN),
    practice(THUMB, "forefoot-post-lateral", "lower-tibialis-posterior-demand", Severity.WARN),
    practice(THUMB, "full-length-lateral-wedge", "lower-tibialis-posterior-demand", Severity.WARN),
    published("Telfer 2013", "rearfoot-post-medial", "lower-medial-knee-load", Severity.WARN),
    practice(THUMB, "heel-lift", "lower-central-forefoot-pressure", Severity.WARN),
    practice(THUMB, "heel-lift", "protect-plantar-plate", Severity.WARN),
]


@pytest.mark.parametrize(("_source", "one", "other", "severity"), RULES)
def test_a_conflict_is_named(_source: str, one: str, other: str, severity: Severity) -> None:
    conflict = between(one, other)
    assert conflict
    assert conflict.severity is severity


@pytest.mark.parametrize("feature", ["heel-lift", "limb-length-raise", "walking-boot"])
def test_what_is_done_on_one_side_asks_for_the_other(feature: str) -> None:
    assert forms().conflicts[f"{feature}-on-one-side"].one_sided


def test_a_stiff_shell_over_little_fill_is_refused_where_the_foot_does_not_feel() -> None:
    conflict = forms().conflicts["shell-stiffness-with-arch-fill"]
    assert conflict.severity is Severity.BLOCK
    assert [(limit.feature, limit.most) for limit in conflict.limits] == [("arch-fill", Decimal(1))]
    assert 'vibration-felt == "absent"' in conflict.when
    assert 'midtarsal-range == "reduced"' in conflict.when


@pytest.mark.parametrize("feature", ["heel-aperture", "medial-flange", "lateral-flange"])
def test_an_edge_on_skin_that_does_not_feel_is_refused(feature: str) -> None:
    found = [one for one in forms().features[feature].avoids if "monofilament" in one.when]
    assert [one.severity for one in found] == [Severity.BLOCK]


def test_a_rocker_warns_where_balance_is_poor() -> None:
    assert any("single-leg-stance" in one.when for one in forms().features["rocker-sole"].avoids)


NOTES = "notes on devices, D10 as corrected"
STRAINS = [
    derived(NOTES, "polyurethane-soft", (0.36, 0.50, 0.57, 0.65)),
    derived(NOTES, "polyurethane-firm", (0.21, 0.32, 0.40, 0.49)),
    derived(NOTES, "polyethylene-foam-soft", (0.16, 0.27, 0.35, 0.46)),
    derived(NOTES, "neoprene-sponge", (0.13, 0.23, 0.29, 0.38)),
    derived(NOTES, "eva-very-soft", (0.09, 0.16, 0.22, 0.31)),
    derived(NOTES, "eva-medium", (0.05, 0.09, 0.13, 0.19)),
    derived(NOTES, "eva-firm", (0.02, 0.05, 0.07, 0.11)),
    derived(NOTES, "eva-dense", (0.01, 0.02, 0.03, 0.05)),
]


@pytest.mark.parametrize(("_source", "name", "printed"), STRAINS)
def test_what_a_foam_loses(_source: str, name: str, printed: tuple[float, ...]) -> None:
    """The printed strains, and the same out of modulus and densification: p / (E + p / eD)."""
    catalogue = forms()
    strains = catalogue.materials[name].stress_at or {}
    assert list(strains) == [100, 200, 300, 500]
    modulus = float(catalogue.figures[f"modulus-{name}"].at or 0)
    full = float(catalogue.figures[f"densification-{name}"].at or 0)
    for (kpa, strain), told in zip(strains.items(), printed, strict=True):
        mpa = kpa / 1000
        assert float(strain) == pytest.approx(mpa / (modulus + mpa / full), abs=0.0051)
        assert float(strain) == pytest.approx(told, abs=0.0051)


@pytest.mark.parametrize("name", [name for name in forms().figures if name.startswith("modulus-")])
def test_a_modulus_that_is_used_lies_in_the_range_of_its_material(name: str) -> None:
    material = forms().materials[name.removeprefix("modulus-")]
    assert material.modulus_low is not None
    assert material.modulus_high is not None
    assert material.modulus_low <= (forms().figures[name].at or 0) <= material.modulus_high


NULL = [
    published("paterson-2022", "prefabricated-orthosis", "no better"),
    published("bonanno-2018", "prefabricated-orthosis", "6 to 253"),
    published("lee-2014", "metatarsal-dome", "Against"),
    published("yi-2022", "metatarsal-dome", "Against"),
    published("hyland-2006", "stirrup-taping", "about 10 in each"),
]


@pytest.mark.parametrize(("source", "feature", "words"), NULL)
def test_what_speaks_against_a_feature_is_told(source: str, feature: str, words: str) -> None:
    claims = forms().features[feature].claims
    assert any(one.source == source and words in one.text["en"] for one in claims)


def test_heel_pain_speaks_for_no_custom_device() -> None:
    """Trials that compared the two found no difference; the one trial for custom changed shoes."""
    found = [
        one
        for one in forms().device_arguments.values()
        if one.grade is Grade.E1 and "heel-plantar" in one.when and "arch-medial" not in one.when
    ]
    custom = [one for one in found if one.points_to is Device.CUSTOM]
    assert [one.source for one in custom] == ["bishop-2018"]
    assert "not told apart" in custom[0].says["en"]
    assert len(found) > 2 * len(custom)
