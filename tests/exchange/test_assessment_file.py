"""The assessment as JSON: keys in the order of interface.md, numbers as it fixes them."""

import json
from decimal import Decimal
from typing import Any

import pytest

from footexam.assessment import Assessment, Caution, assess
from footexam.catalogue.model import Catalogue
from footexam.exchange.assessment import _number, as_tree, write_assessment
from footexam.exchange.examination import read_examination
from footexam.record.examination import Age
from footexam.scoring.results import (
    BandShown,
    Change,
    Difference,
    Finding,
    NormShown,
    Problem,
    Score,
)
from footexam.terms import Basis, ChangeLabel, Label, ProblemKind, Provenance, Side
from tests.exchange.examples import EXAMPLE, TODAY, VARIED, data, file

BAND = BandShown("fpi-adults", "pronated", "redmond-2006", Provenance.PUBLISHED, True)
NORM = NormShown("set", "adults", 22.7, 5.9, 64, "s", Provenance.PUBLISHED, False, -2.25, 1.2)
FINDING = Finding(
    "lunge-distance",
    Side.LEFT,
    Decimal("9.3333333333333"),
    "cm",
    3,
    "tape",
    "below",
    Label.POSSIBLE,
    Basis.NORM,
    0.64123,
    0.84129,
    10.0,
    "<",
    True,
    5.758825560,
    (),
    (NORM,),
)
WHOLE = Assessment(
    age=Age(46, 558),
    scores=(
        Score("fpi-total", Side.LEFT, Decimal(9), "points", (BAND,), ("fpi-talar-head",)),
        Score("fpi-total", Side.RIGHT, Decimal("2.5"), "points", (), ()),
        Score("body-mass-index", None, Decimal("26.8"), "kg/m2", (), ()),
        Score("complaint-sides", None, "left", "", (), ("complaint-site",)),
    ),
    findings=(FINDING,),
    differences=(
        Difference(
            "lunge-distance",
            Decimal(9),
            Decimal(12),
            Decimal(-3),
            5.8,
            False,
            6.0,
            ">",
            "within",
            Label.WITHIN,
            None,
            0.08124,
        ),
    ),
    changes=(
        Change(
            "lunge-distance",
            Side.LEFT,
            Decimal(5),
            Decimal(9),
            Decimal(4),
            5.8,
            0.97128,
            ChangeLabel.INSIDE_ERROR,
        ),
    ),
    cautions=(Caution(None, None, Side.LEFT, None, ("measure:caution-calf-pain-swelling",)),),
    problems=(Problem("body-mass", None, "200", ProblemKind.WARN, "look again."),),
)


def test_every_key_and_number() -> None:
    tree = as_tree(WHOLE)
    assert list(tree) == [
        "format", "version", "patient", "scores", "findings", "differences", "changes", "cautions",
        "held_by", "hypotheses", "next_tests", "aims", "features", "problems",
    ]  # fmt: skip
    assert tree["patient"] == {"age": {"years": 46, "months": 558}}
    assert tree["scores"] == {
        "fpi-total": {
            "left": {
                "value": 9,
                "unit": "points",
                "bands": [
                    {
                        "set": "fpi-adults",
                        "band": "pronated",
                        "source": "redmond-2006",
                        "provenance": "published",
                        "default": True,
                    }
                ],
                "from": ["fpi-talar-head"],
            },
            "right": {"value": 2.5, "unit": "points", "bands": [], "from": []},
        },
        "body-mass-index": {"value": 26.8, "unit": "kg/m2", "bands": [], "from": []},
        "complaint-sides": {"value": "left", "unit": "", "bands": [], "from": ["complaint-site"]},
    }
    assert tree["findings"] == [
        {
            "measure": "lunge-distance",
            "side": "left",
            "value": 9.33333333,
            "unit": "cm",
            "repeats": 3,
            "method": "tape",
            "state": "below",
            "label": "possible",
            "basis": "norm",
            "probability": 0.6412,
            "probability_error_only": 0.8413,
            "limit": 10.0,
            "operator": "<",
            "near_limit": True,
            "change_needed": 5.75882556,
            "from": [],
            "norms": [
                {
                    "set": "set",
                    "group": "adults",
                    "mean": 22.7,
                    "sd": 5.9,
                    "n": 64,
                    "source": "s",
                    "provenance": "published",
                    "judged": False,
                    "z": -2.25,
                    "centile": 1.2,
                }
            ],
        }
    ]
    assert tree["differences"] == [
        {
            "measure": "lunge-distance",
            "left": 9.0,
            "right": 12.0,
            "difference": -3.0,
            "change_needed": 5.8,
            "beyond_error": False,
            "usual_limit": 6.0,
            "operator": ">",
            "state": "within",
            "label": "within",
            "probability": None,
            "probability_error_only": 0.0812,
        }
    ]
    assert tree["changes"] == [
        {
            "measure": "lunge-distance",
            "side": "left",
            "before": 5.0,
            "now": 9.0,
            "change": 4.0,
            "change_needed": 5.8,
            "probability_error_only": 0.9713,
            "label": "inside-error",
        }
    ]
    assert tree["cautions"] == [
        {
            "id": None,
            "branch": None,
            "side": "left",
            "tier": None,
            "because": ["measure:caution-calf-pain-swelling"],
            "action": None,
            "source": None,
            "decision": None,
        }
    ]
    assert tree["problems"] == [
        {
            "measure": "body-mass",
            "side": None,
            "value": "200",
            "kind": "warn",
            "message": "look again.",
        }
    ]
    for later in ("held_by", "hypotheses", "next_tests", "aims", "features"):
        assert tree[later] == []


ORDER = """
patient: age
finding: measure side value unit repeats method state label basis probability
 probability_error_only limit operator near_limit change_needed from norms
difference: measure left right difference change_needed beyond_error usual_limit operator state
 label probability probability_error_only
change: measure side before now change change_needed probability_error_only label
caution: id branch side tier because action source decision
problem: measure side value kind message
"""


def test_keys_stand_in_the_order_of_the_interface() -> None:
    tree = as_tree(WHOLE)
    tables: dict[str, Any] = {"patient": tree["patient"]}
    tables |= {
        name: tree[f"{name}s"][0]
        for name in ("finding", "difference", "change", "caution", "problem")
    }
    for line in ORDER.strip().replace("\n ", " ").split("\n"):
        name, _, keys = line.partition(": ")
        assert list(tables[name]) == keys.split()


def test_without_an_age() -> None:
    empty = Assessment(None, (), (), (), (), (), ())
    assert as_tree(empty)["patient"] == {"age": None}


@pytest.mark.parametrize(
    ("value", "unit", "written"),
    [
        (None, "", None),
        ("left", "", "left"),
        (3, "", 3),
        (Decimal(9), "deg", 9.0),
        (Decimal(9), "points", 9),
        (9.0, "points", 9),
        (Decimal("0.1") + Decimal("0.2"), "cm", 0.3),
        (0.1 + 0.2, "cm", 0.3),
        (Decimal(1) / 3, "cm", 0.333333333),
        (-0.0, "cm", 0.0),
        (1234567890.123, "cm", 1234567890.0),
    ],
)
def test_numbers(value: Any, unit: str, written: object) -> None:
    found = _number(value, unit)
    assert repr(found) == repr(written)


def test_bytes_are_utf_8_indented_by_one_with_a_final_line_end(catalogue: Catalogue) -> None:
    examination = read_examination(EXAMPLE.encode(), catalogue, TODAY).examination
    written = write_assessment(assess(examination, catalogue))
    text = written.decode()
    assert text.startswith('{\n "format": "footexam/assessment",\n "version": 1,\n "patient": {\n')
    assert text.endswith("}\n")
    assert not text.endswith("\n\n")
    assert json.loads(text)["patient"]["age"] == {"years": 46, "months": 558}
    assert "Quill" not in text  # no name


def test_the_same_examination_gives_the_same_bytes(catalogue: Catalogue) -> None:
    raw = data(file(VARIED))
    written = {
        write_assessment(assess(read_examination(raw, catalogue, TODAY).examination, catalogue))
        for _ in range(3)
    }
    assert len(written) == 1


def test_what_is_no_number_is_never_written() -> None:
    broken = Assessment(None, (Score("a", None, Decimal("NaN"), "cm", (), ()),), (), (), (), (), ())
    with pytest.raises(ValueError, match="Out of range float"):
        write_assessment(broken)
