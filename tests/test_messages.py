"""Every message: used, whole, and a sentence that reads well."""

import re
from pathlib import Path

import pytest

import footexam
from footexam.messages import FILES, LONGEST_SHOWN, REFUSALS, in_one_line, listed, sentence

CODE = re.compile(r'"([a-z]+(?:-[a-z0-9]+)+)"')
TOLD = re.compile(
    r'(?:Refusal|BadJson|NotANumber|sentence|_file_problem|_pair_problem)\((?:\w+, )*"([a-z0-9-]+)"'
)
ALL = {**REFUSALS, **FILES}
FILLED = {
    "what": "7,5,1",
    "unit": " mm",
    "repeats": ", and a space between repeats",
    "low": "0",
    "high": "10",
    "words": "a, b or c",
    "only": "mm",
    "count": 11,
    "value": "12",
    "longest": 4000,
    "column": "minutes",
    "near": ", or use shoe-drop if that is meant",
    "why": "permission denied",
    "small": "1.5",
    "large": "1500",
}


def sources() -> str:
    folder = Path(footexam.__file__).parent
    files = [*folder.glob("record/*.py"), *folder.glob("exchange/*.py")]
    files += [*folder.glob("marking/*.py"), *folder.glob("cli*.py"), folder / "units.py"]
    return "\n".join(path.read_text(encoding="utf-8") for path in files)


def test_no_code_stands_in_both_tables() -> None:
    assert not REFUSALS.keys() & FILES.keys()


def test_every_message_is_used() -> None:
    assert ALL.keys() <= set(CODE.findall(sources()))


def test_every_code_used_has_a_message() -> None:
    found = set(TOLD.findall(sources()))
    assert len(found) > 50
    assert found <= ALL.keys()


@pytest.mark.parametrize("code", ALL)
def test_a_sentence_says_what_happened_what_is_safe_and_what_to_do(code: str) -> None:
    told = sentence(code, FILLED)
    happened, safe, todo = re.split(r"; (nothing was stored); ", told, maxsplit=1)
    assert safe == "nothing was stored"
    assert len(happened) > 10
    assert len(todo) > 6
    assert told.endswith(".")
    assert not re.search(r"\.\.|\.\.$| \.$|  | ,|\n|\{\w*\}", told)
    assert told.count("“") == told.count("”")
    assert not re.search(r"\b(please|sorry|oops|you failed|wrong of you|invalid)\b", told.lower())


@pytest.mark.parametrize("code", ALL)
def test_without_optional_parts_it_is_a_sentence_as_well(code: str) -> None:
    told = sentence(code, {**FILLED, "unit": "", "repeats": "", "near": ""})
    assert not re.search(r"\.\.|  | ,| \.$", told)


def test_another_safe_part() -> None:
    told = sentence("cannot-write", {"why": "no space left on device"}, "no other file was changed")
    assert told == (
        "the output could not be written: no space left on device; no other file was changed; "
        "choose another place, or free some space."
    )


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("7,5 cm", "7,5 cm"),
        ("a\nb\tc", "a\\u000ab\\u0009c"),
        ("\u202eabc", "\\u202eabc"),
        ("\ud800", "\\ud800"),
        ("x" * 80, "x" * 80),
        ("x" * 81, "x" * 80 + "…"),
        ("{what}", "{what}"),
    ],
)
def test_what_was_typed_is_shown_in_one_line(typed: str, shown: str) -> None:
    assert in_one_line(typed) == shown
    assert f"“{shown}”" in sentence("not-a-number", {**FILLED, "what": typed})


def test_a_long_text_is_shortened_before_it_is_looked_at() -> None:
    assert len(in_one_line("\n" * 10**7)) <= 6 * LONGEST_SHOWN + 1


@pytest.mark.parametrize(
    ("words", "told"),
    [([], ""), (["a"], "a"), (["a", "b"], "a or b"), (["a", "b", "c"], "a, b or c")],
)
def test_lists_of_words(words: list[str], told: str) -> None:
    assert listed(words) == told
    assert listed(iter(words), "and") == told.replace(" or ", " and ")
