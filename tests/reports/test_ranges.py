"""The usual range in words: the last value inside, as the source prints its cuts."""

from dataclasses import replace
from decimal import Decimal

import pytest

from footexam.catalogue.model import Catalogue, Cut, NormGroup, NormSet
from footexam.reports.material import Material
from footexam.reports.ranges import usual_words
from footexam.scoring.results import NormShown
from footexam.terms import Provenance
from tests.reports.builders import CATALOGUE, LEFT, assessment, cuts, examination, finding, texts


def told(measure: str, group: NormGroup, **more: object) -> tuple[str, str]:
    """The words of a range, and the sources cited."""
    norm = NormSet(
        "one", measure, texts("One set"), "evans-2012", Provenance.PUBLISHED, (group,), **more
    )  # type: ignore[arg-type]
    catalogue: Catalogue = replace(CATALOGUE, norms={measure: (norm,)})
    material = Material(examination(), assessment(), catalogue, "en")
    found = finding(measure, LEFT, Decimal(1))
    spread = (float(group.mean), float(group.sd)) if group.mean and group.sd else (None, None)
    shown = replace(
        found_norm(), set="one", group=group.id, mean=spread[0], sd=spread[1], source=norm.source
    )
    words = usual_words(replace(found, norms=(shown,)), material)
    listed = "".join(
        text
        for block in material.citations.blocks()
        for row in getattr(block, "rows", ())
        for piece in row.cells[1]
        for text, _ in piece.spans
    )
    return words, listed


def found_norm() -> NormShown:
    return finding("fpi-total", LEFT, Decimal(1)).norms[0]


def group(low: str = "", high: str = "", **more: object) -> NormGroup:
    return NormGroup("all", texts("Adults"), **cuts(low, high), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("measure", "low", "high", "words"),
    [
        ("fpi-total", "< 0", ">= 6", "usual 0 to +5 points"),
        ("fpi-total", "<= -1", "> 5", "usual 0 to +5 points"),
        ("fpi-total", "", "> 6", "usual up to +6 points"),
        ("fpi-total", "", ">= 1", "usual up to 0 points"),
        ("ankle-dorsiflexion", "< 10", "", "usual 10 deg or more"),
        ("ankle-dorsiflexion", "<= 10", "", "usual more than 10 deg"),
        ("ankle-dorsiflexion", "", ">= 20", "usual less than 20 deg"),
        ("ankle-dorsiflexion", "", "> 20", "usual up to 20 deg"),
        ("ankle-dorsiflexion", "<= 10", ">= 20", "usual more than 10 deg, less than 20 deg"),
        ("ankle-dorsiflexion", "< -3", "> 20", "usual −3 to 20 deg"),
        # at the end of a scale nothing lies beyond
        ("fpi-total", "< 12", "", "usual +12 points"),
        ("fpi-total", "", "> -12", "usual −12 points"),
    ],
)
def test_printed_cuts(measure: str, low: str, high: str, words: str) -> None:
    assert told(measure, group(low, high))[0] == f"{words} [1], published"


def test_bands_of_whole_units_name_the_last_unit_inside() -> None:
    words, _ = told("navicular-height", group("<= 35", ">= 56"), round_to=Decimal(1))
    assert words == "usual 36 to 55 mm [1], published"


def test_mean_and_sd() -> None:
    spread = group(mean=Decimal("45.5"), sd=Decimal("9.5"))
    words, _ = told("navicular-height", spread)
    assert words == "usual 26.9 to 64.1 mm (mean ± 1.96 SD) [1], published"


def test_a_group_among_others_is_named() -> None:
    women = group("< 36", "> 55")
    others = NormGroup("men", texts("Men"), **cuts("< 40"))
    norm = NormSet(
        "one",
        "navicular-height",
        texts("One set"),
        "evans-2012",
        Provenance.COMMON_PRACTICE,
        (women, others),
    )
    material = Material(
        examination(), assessment(), replace(CATALOGUE, norms={"navicular-height": (norm,)}), "en"
    )
    shown = replace(found_norm(), set="one", group="all")
    found = replace(finding("navicular-height", LEFT, Decimal(30)), norms=(shown,))
    assert usual_words(found, material) == "usual 36 to 55 mm (Adults) [1], common practice"


def test_a_cut_of_its_own_source_is_cited_and_the_weaker_standing_told() -> None:
    own = Cut("<", Decimal(10), "below", "nilsson-2012", Provenance.ESTIMATE)
    words, listed = told("ankle-dorsiflexion", NormGroup("all", texts("Adults"), low=(own,)))
    assert words == "usual 10 deg or more [1][2], estimate"
    assert "Nilsson et al. 2012" in listed
    assert "Estimate: usual range of Ankle dorsiflexion" in listed


def test_a_group_without_cuts_and_spread_says_nothing() -> None:
    assert told("ankle-dorsiflexion", group())[0] == ""


def test_a_finding_without_a_judging_norm_says_nothing() -> None:
    material = Material(examination(), assessment(), CATALOGUE, "en")
    shown = replace(found_norm(), judged=False)
    found = replace(finding("fpi-total", LEFT, Decimal(1)), norms=(shown,))
    assert usual_words(found, material) == ""
