"""Where cuts lie and which band a value is in."""

from decimal import Decimal

import pytest

from footexam.scoring.bands import EMPTY, edge, scale
from tests.scoring.builders import cuts, group


def cut(text: str):  # noqa: ANN201
    return cuts(text)[0]


@pytest.mark.parametrize(
    ("text", "inside", "outside"),
    [
        ("< 6 low", "6", "5.9"),
        ("<= 6 low", "6.1", "6"),
        ("> 6 high", "6", "6.1"),
        (">= 6 high", "5.9", "6"),
    ],
)  # fmt: skip
def test_operators_as_printed(text: str, inside: str, outside: str) -> None:
    one = edge(cut(text))
    assert not one.beyond(Decimal(inside), one.cut)
    assert one.beyond(Decimal(outside), one.cut)
    assert (one.limit, one.op) == (6.0, text.split(maxsplit=1)[0])
    assert one.above is (">" in text)


@pytest.mark.parametrize(
    ("text", "at"),
    [
        (">= 6 pronated", "5.5"),
        ("> 6 pronated", "6.5"),
        ("< 0 supinated", "-0.5"),
        ("<= -5 highly", "-4.5"),
        # mean - 1.96 SD of whole points: the cut lies between the last inside and the first outside
        ("< -2.0028 below", "-2.5"),
        ("> 9.4828 above", "9.5"),
    ],
)
def test_half_points_of_ordinal_scales(text: str, at: str) -> None:
    one = edge(cut(text), ordinal=True)
    assert one.cut == Decimal(at)
    assert one.limit == float(text.split()[1])
    assert one.op == text.split(maxsplit=1)[0]


@pytest.mark.parametrize(
    ("text", "unit", "at", "op"),
    [
        ("< 36 low", "1", "35.5", "<"),
        ("<= 35 low", "1", "35.5", "<"),
        ("> 55 high", "1", "55.5", ">="),
        (">= 56 high", "1", "55.5", ">="),
        ("<= 0.90 abnormal", "0.01", "0.905", "<"),
        ("> 1.40 stiff", "0.01", "1.405", ">="),
    ],
)
def test_half_units_between_printed_bands(text: str, unit: str, at: str, op: str) -> None:
    one = edge(cut(text), round_to=Decimal(unit))
    assert (one.cut, one.op, one.limit) == (Decimal(at), op, float(at))


# Hallux valgus bands of a radiograph, J Foot Ankle Res 2009;2:15, table 1; whole degrees.
VALGUS = group(high=(">= 15 mild", ">= 21 moderate", ">= 40 severe"))


@pytest.mark.parametrize(
    ("angle", "state"),
    [
        ("14.4", "within"),
        ("14.5", "mild"),
        ("20.4", "mild"),
        ("20.5", "moderate"),
        ("39.4", "moderate"),
        ("39.5", "severe"),
    ],
)
def test_rounding_half_up_before_banding(angle: str, state: str) -> None:
    assert scale(VALGUS, round_to=Decimal(1)).state(Decimal(angle)) == state


def test_state_is_the_last_cut_crossed_and_the_limit_the_edge_of_the_usual_range() -> None:
    bands = scale(group(low=("< 6 rigid", "< 0 very-rigid"), high=("> 18 flexible", "> 23 very")))
    assert [bands.state(Decimal(drop)) for drop in (-1, 0, 6, 18, 20, 24)] == [
        "very-rigid", "rigid", "within", "within", "flexible", "very",
    ]  # fmt: skip
    for value, limit in ((-1, 6), (5, 6), (7, 6), (12, 6), (13, 18), (24, 18)):
        found = bands.limit(Decimal(value))
        assert found is not None
        assert found.limit == limit


def test_one_sided_and_empty_scales() -> None:
    upper = scale(group(high=("> 6 pronated",)))
    assert upper.limit(Decimal(-5)) is upper.high[0]
    assert scale(group()) == EMPTY
    assert EMPTY.limit(Decimal(1)) is None
    assert EMPTY.state(Decimal(1)) == "within"
    assert scale(group(mean=4)) == EMPTY


def test_mean_and_sd_make_the_usual_range_without_cuts() -> None:
    bands = scale(group(mean=12, sd="2.8"), round_to=Decimal(1))
    assert (bands.low[0].cut, bands.high[0].cut) == (Decimal("6.512"), Decimal("17.488"))
    assert (bands.low[0].op, bands.high[0].op) == ("<", ">")
    assert (bands.low[0].state, bands.high[0].state) == ("below", "above")
    moved = scale(group(mean=12, sd="2.8"), spread=(Decimal(10), Decimal(1)))
    assert (moved.low[0].cut, moved.high[0].cut) == (Decimal("8.04"), Decimal("11.96"))
