"""Entries: one canonical text each, written once, hashed as bytes, read back to the same."""

import hashlib
import json
import unicodedata
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.record.entry import (
    Author,
    Draft,
    Entry,
    EntryKind,
    NotAnEntry,
    first_link,
    read,
    write,
)
from footexam.terms import Role, Side
from tests.record.journals import ANN, AT, set_draft

SUBJECT = "examination:1"


def test_the_text_of_an_entry_to_the_letter() -> None:
    draft = set_draft(side=Side.LEFT, value="cafe\u0301")
    entry = write(SUBJECT, 1, first_link(SUBJECT), draft)
    link = hashlib.sha256(b"examination:1").hexdigest()
    assert entry.text == (
        '{"at":"2026-03-04T10:20:00Z","body":{"typed":"caf\u00e9","value":{"text":"caf\u00e9"}},'
        '"by":{"name":"Ann","role":"clinician","sitting":"morning"},"kind":"set","offset":0,'
        f'"previous":"{link}","reason":"","retracts":null,"seq":1,"side":"left",'
        '"subject":"examination:1","target":"measure:goals","v":1}'
    )
    assert entry.hash == hashlib.sha256(entry.text.encode()).hexdigest()
    assert entry.draft.body["typed"] == "caf\u00e9"


texts = st.text(st.characters(codec="utf-8"), max_size=20)
bodies = st.recursive(
    st.none() | st.booleans() | texts | st.integers(-9, 9),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=8,
)
drafts = st.builds(
    Draft,
    kind=st.sampled_from(EntryKind),
    author=st.builds(Author, texts, st.sampled_from(Role), texts),
    at=texts,
    target=texts,
    side=st.sampled_from([None, *Side]),
    body=st.dictionaries(texts, bodies, max_size=4),
    retracts=st.none() | st.integers(1, 99),
    reason=texts,
    offset=st.integers(-840, 840),
)


@given(drafts, texts, st.integers(1, 10**6), texts)
def test_an_entry_reads_back(draft: Draft, subject: str, seq: int, previous: str) -> None:
    entry = write(subject, seq, previous, draft)
    nfc = unicodedata.normalize
    assert read(entry.text) == (entry, nfc("NFC", subject), nfc("NFC", previous))
    assert write(subject, seq, previous, entry.draft) == entry


@given(drafts)
def test_a_text_is_canonical(draft: Draft) -> None:
    text = write(SUBJECT, 1, "", draft).text
    assert unicodedata.is_normalized("NFC", text)
    assert "\n" not in text
    tree = json.loads(text)
    assert text == json.dumps(
        tree, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def test_keys_sort_after_they_are_normalised() -> None:
    # decomposed, e + accent sorts before f; composed after z
    one = write(SUBJECT, 1, "", replace(set_draft(), body={"e\u0301": 1, "f": 2}))
    two = write(SUBJECT, 1, "", replace(set_draft(), body={"f": 2, "\u00e9": 1}))
    assert one == two
    assert '{"f":2,"\u00e9":1}' in one.text


@given(drafts, drafts)
def test_different_entries_have_different_texts(one: Draft, other: Draft) -> None:
    written = [write(SUBJECT, 1, "", draft) for draft in (one, other)]
    assert (written[0].text == written[1].text) is (written[0].draft == written[1].draft)


@pytest.mark.parametrize("number", [Decimal("1.5"), float("nan"), float("inf"), {1, 2}])
def test_what_json_cannot_hold_is_refused(number: object) -> None:
    with pytest.raises((TypeError, ValueError)):
        write(SUBJECT, 1, "", replace(set_draft(), body={"value": number}))


def changed(**parts: Any) -> str:
    tree = json.loads(write(SUBJECT, 1, "", set_draft()).text)
    return json.dumps({**tree, **parts})


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "5",
        "null",
        "{}",
        '{"v": 1}',
        "[" * 100_000,
        changed(kind="erase"),
        changed(side="middle"),
        changed(side=""),
        changed(by={"name": "Ann", "role": "boss", "sitting": ""}),
        changed(by="Ann"),
        changed(seq=None),
        changed(seq="first"),
        changed(retracts="x"),
        changed(body=None),
        changed(body=7),
        changed(offset=None),
    ],
)
def test_a_text_that_is_no_entry(text: str) -> None:
    with pytest.raises(NotAnEntry, match="a text that is no entry"):
        read(text)


def test_an_entry_of_a_newer_form_says_so() -> None:
    with pytest.raises(NotAnEntry, match="an entry of form 2; this program knows form 1"):
        read(changed(v=2))


def test_what_is_not_a_text_is_made_one() -> None:
    entry, subject, previous = read(changed(target=5, subject=6, previous=7, at=8))
    assert (entry.draft.target, subject, previous, entry.draft.at) == ("5", "6", "7", "8")


def test_an_entry_is_a_value() -> None:
    entry = write(SUBJECT, 1, "", Draft(EntryKind.NOTE, ANN, AT))
    assert isinstance(entry, Entry)
    assert entry == write(SUBJECT, 1, "", Draft(EntryKind.NOTE, ANN, AT))
    assert hash(ANN) == hash(Author("Ann", Role.CLINICIAN, "morning"))
