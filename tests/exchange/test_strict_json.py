"""JSON without tricks: exact numbers, bounded depth and size, quick refusals."""

import json
import time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.exchange.strict_json import DEEPEST, LARGEST, BadJson, loads

QUICK_S = 30.0
"""Far above what is measured (under 1 s), far below what a search that goes back takes: hours."""

letters = st.text(st.characters(codec="utf-8"))
trees = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**30), 10**30) | letters,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text("abc\u00e9"), inner),
    max_leaves=20,
)  # fmt: skip


@given(trees, st.booleans(), st.sampled_from([None, 1]))
def test_agrees_with_the_standard_library(
    tree: object, ascii_only: bool, indent: int | None
) -> None:
    text = json.dumps(tree, ensure_ascii=ascii_only, indent=indent)
    assert loads(text.encode()) == tree


@given(st.decimals(min_value=-(10**20), max_value=10**20, places=15))
def test_numbers_are_exact(number: Decimal) -> None:
    found = loads(f'{{"a": {number:f}}}'.encode())["a"]
    assert isinstance(found, Decimal)
    assert str(found) == str(Decimal(f"{number:f}"))


@pytest.mark.parametrize(
    ("digits", "value"),
    [("1e3", "1000"), ("1E-3", "0.001"), ("-0", "-0"), ("9" * 40, "9" * 40), ("1e39", "1E+39")],
)
def test_numbers_in_every_form(digits: str, value: str) -> None:
    assert loads(digits.encode()) == Decimal(value)


@pytest.mark.parametrize(
    "digits",
    ["9" * 41, "1e40", "1e-39", "0.1e-38", "1.5e-38", "0e40", "1e1000", "1e-1000000000000"],
)
def test_numbers_of_more_than_forty_digits_are_refused(digits: str) -> None:
    with pytest.raises(BadJson) as bad:
        loads(digits.encode())
    assert bad.value.code == "file-not-a-number"


def test_depth_counts_brackets_outside_of_texts() -> None:
    assert loads(b"[" * DEEPEST + b"]" * DEEPEST)
    text = "[" * 50 + '\\"{' * 50
    assert loads(json.dumps([text]).encode()) == [text]
    many = b"[" + b",".join([b"[[]]"] * 1000) + b"]"
    assert len(loads(many)) == 1000


@pytest.mark.parametrize(
    "data",
    [
        b'["' + b'\\"' * (LARGEST // 2 - 2),  # a text that never ends, full of quotes
        b'"' * LARGEST,
        b"\\" * LARGEST,
        b"[" + b"[]," * (LARGEST // 16),
        b'{"a":' + b'"\\\\' * (LARGEST // 3 - 2),
        b"[" * LARGEST,
        b'["' + b"x" * (LARGEST - 4) + b'"]',
        b" " * LARGEST,
        b"9" * LARGEST,
        b'{"a":"' + b"\xff" * 100 + b'"}',
    ],
    ids=range(10),
)  # fmt: skip
def test_five_hostile_megabytes_are_read_or_refused_quickly(data: bytes) -> None:
    begin = time.perf_counter()
    try:
        found = loads(data)
    except BadJson as bad:
        found = bad
    assert time.perf_counter() - begin < QUICK_S
    assert isinstance(found, BadJson | list)


def test_what_is_valid_elsewhere_stays_valid() -> None:
    assert loads(b'\xef\xbb\xbf{"a": "\\ud83d\\ude00"}') == {"a": "\U0001f600"}
    assert loads(b'"\\u0000"') == "\0"
    assert loads(b" [1, null, true] \r\n") == [1, None, True]
