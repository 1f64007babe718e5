"""The aims and features as shipped: what opens an aim, and what is said of every feature."""

import csv
from pathlib import Path

import pytest

from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import GENERAL, HARM, Severity
from footexam.mechanics.formulas import FORMULAS
from footexam.terms import Grade

AIMS = Path(__file__).parent.parent / "data" / "aims.csv"
with AIMS.open(encoding="utf-8", newline="") as _file:
    OPENED = {
        row["hypothesis_id"]: frozenset(filter(None, row["aim_ids"].split("|")))
        for row in csv.DictReader(_file)
    }

LONGEST_LABEL = 48

# feature, dimension, least, usual, most, unit: table A8 of the notes
DEFAULTS = [
    ("inverted-correction", "angle", 2, 4, 30, "deg"),
    ("medial-heel-skive", "depth", 2, 4, 6, "mm"),
    ("heel-cup-depth", "depth", 8, 14, 24, "mm"),
    ("rearfoot-post-medial", "angle", 2, 4, 10, "deg"),
    ("rearfoot-post-lateral", "angle", 2, 3, 6, "deg"),
    ("heel-lift", "height", 3, 6, 12, "mm"),
    ("forefoot-post-medial", "angle", 2, 3, 6, "deg"),
    ("forefoot-post-lateral", "angle", 2, 3, 6, "deg"),
    ("first-ray-extension", "height", 2, 3, 5, "mm"),
    ("hallux-dorsiflexion-wedge", "height", 2, 3, 4, "mm"),
    ("shell-thickness", "thickness", 2.5, 4, 5, "mm"),
]


def test_every_hypothesis_is_listed(catalogue: Catalogue) -> None:
    assert OPENED.keys() == catalogue.hypotheses.keys()


@pytest.mark.parametrize("hypothesis", OPENED)
def test_a_hypothesis_opens_exactly_its_aims(catalogue: Catalogue, hypothesis: str) -> None:
    opened = {aim.id for aim in catalogue.aims.values() if hypothesis in aim.hypotheses}
    assert opened == OPENED[hypothesis]


def test_there_are_25_aims_and_opposites_exclude_each_other(catalogue: Catalogue) -> None:
    assert len(catalogue.aims) == 25
    pairs = {frozenset({aim.id, name}) for aim in catalogue.aims.values() for name in aim.excludes}
    assert pairs == {
        frozenset({"ease-hallux-dorsiflexion", "limit-hallux-dorsiflexion"}),
        frozenset({"lower-pronation-moment", "lower-supination-moment"}),
    }


def test_labels_are_short_and_one_of_a_kind(catalogue: Catalogue) -> None:
    for things in (catalogue.aims, catalogue.features):
        labels = [thing.label["en"] for thing in things.values()]
        assert len(set(labels)) == len(labels)
        assert max(map(len, labels)) <= LONGEST_LABEL


def test_something_is_said_of_every_feature_for_every_aim(catalogue: Catalogue) -> None:
    """Also that nothing was found."""
    for feature in catalogue.features.values():
        told = {claim.about for claim in feature.claims}
        assert set(feature.aims) <= told, feature.id
        assert told <= {*feature.aims, HARM, GENERAL}


def test_what_rests_on_opinion_is_not_graded_higher(catalogue: Catalogue) -> None:
    for feature in catalogue.features.values():
        for claim in feature.claims:
            if claim.source == "common-practice":
                assert claim.grade is Grade.E4, (feature.id, claim.text)


def test_null_trials_are_said_plainly(catalogue: Catalogue) -> None:
    """Trials without an effect keep the grade of a trial, and say that there was none."""
    for name, source, words in (
        ("first-ray-cut-out", "paterson-2022", "no better than a flat sham"),
        ("full-length-lateral-wedge", "zhang-2018", "no effect on knee pain"),
        ("rearfoot-post-lateral", "zhang-2018", "no effect on knee pain"),
    ):
        claims = [one for one in catalogue.features[name].claims if one.source == source]
        assert [one.grade for one in claims] == [Grade.E1]
        assert words in claims[0].text["en"]


@pytest.mark.common_practice
@pytest.mark.parametrize(("name", "size", "low", "usual", "high", "unit"), DEFAULTS)
def test_defaults(
    catalogue: Catalogue, name: str, size: str, low: float, usual: float, high: float, unit: str
) -> None:
    found = next(one for one in catalogue.features[name].sizes if one.id == size)
    assert (found.low, found.usual, found.high, found.unit) == (low, usual, high, unit)


def test_an_opening_is_refused_where_its_edge_would_not_be_felt(catalogue: Catalogue) -> None:
    blocked = [one for one in catalogue.features["heel-aperture"].avoids if one.when]
    assert (blocked[0].severity, "monofilament-hallux <= 1" in blocked[0].when) == (
        Severity.BLOCK,
        True,
    )


def test_a_dimension_is_in_the_unit_of_its_formula(catalogue: Catalogue) -> None:
    sizes = [size for one in catalogue.features.values() for size in one.sizes if size.formula]
    assert {"lift-height", "shell-thickness"} <= {size.formula for size in sizes}
    for size in sizes:
        assert size.unit == FORMULAS[size.formula].unit, size


def test_every_aim_is_served_by_one_of_54_features(catalogue: Catalogue) -> None:
    served = {aim for feature in catalogue.features.values() for aim in feature.aims}
    assert (len(catalogue.features), served) == (54, catalogue.aims.keys())


def test_only_edges_give_way_where_skin_without_feeling_is_the_aim(catalogue: Catalogue) -> None:
    """A9 rule 7 of the notes: a block unless the insensate pathway is chosen."""
    giving = {
        feature.id: (avoid.severity, avoid.unless)
        for feature in catalogue.features.values()
        for avoid in feature.avoids
        if avoid.unless
    }
    edges = ("heel-aperture", "medial-flange", "lateral-flange")
    assert giving == dict.fromkeys(edges, (Severity.BLOCK, ("protect-insensate-skin",)))
    for name in edges:
        (left,) = (
            one
            for one in catalogue.conflicts.values()
            if one.features == (name,) and one.aims == ("protect-insensate-skin",)
        )
        assert left.severity is Severity.WARN
