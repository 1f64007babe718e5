"""Values as canonical JSON and back, nothing rounded."""

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Word,
    Words,
)
from footexam.record.values import from_json, to_json

texts = st.text(max_size=8)
decimals = st.decimals(allow_nan=False, allow_infinity=False)
VALUES = st.one_of(
    st.builds(Numbers, st.lists(decimals, max_size=10).map(tuple)),
    st.builds(Word, texts),
    st.builds(Words, st.lists(texts).map(tuple)),
    st.builds(Text, texts),
    st.builds(Sites, texts, st.lists(texts).map(tuple)),
    st.builds(RegionValues, st.dictionaries(texts, decimals)),
    st.builds(Rows, st.lists(st.dictionaries(texts, texts | decimals), max_size=3).map(tuple)),
    st.builds(NoneKnown),
    st.builds(Activities, st.lists(st.tuples(texts, st.integers())).map(tuple)),
)


@given(VALUES)
def test_a_value_reads_back_from_its_json(value: Value) -> None:
    again = from_json(json.loads(json.dumps(to_json(value))))
    assert again == value
    assert repr(again) == repr(value)  # the digits of every number as well


@pytest.mark.parametrize(
    ("value", "tree"),
    [
        (Numbers((Decimal("9.50"), Decimal(-3))), {"numbers": ["9.50", "-3"]}),
        (Word("yes"), {"word": "yes"}),
        (Words(("a", "b")), {"words": ["a", "b"]}),
        (Text("é"), {"text": "é"}),
        (Sites("yes", ("navicular",)), {"answer": "yes", "sites": ["navicular"]}),
        (RegionValues({"navicular": Decimal(6)}), {"regions": [["navicular", "6"]]}),
        (
            Rows(({"what": "latex", "n": Decimal("1.0")},)),
            {"rows": [{"what": "latex", "n": {"number": "1.0"}}]},
        ),
        (NoneKnown(), {"none-known": True}),
        (Activities((("stairs", 4),)), {"activities": [["stairs", 4]]}),
    ],
)
def test_the_form_is_fixed(value: Value, tree: object) -> None:
    assert to_json(value) == tree


@pytest.mark.parametrize(("body", "named"), [({}, "''"), ({"angles": ["1"]}, "'angles'")])
def test_a_sort_that_is_not_known(body: dict[str, object], named: str) -> None:
    with pytest.raises(KeyError, match=named):
        from_json(body)
