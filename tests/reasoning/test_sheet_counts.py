"""How many measures of a panel are recorded, and how many its sheet has: worked out once."""

import pytest

from footexam.reasoning.facts import Facts, gather
from footexam.reasoning.sheet import Sheet
from footexam.terms import Kind
from tests.reasoning.making import Readings, assessed, examination, forms


def facts(readings: Readings) -> tuple[Facts, frozenset[str]]:
    exam = examination(readings)
    found = assessed(readings, forms())
    told = gather(exam, found.scores, found.findings, forms(), found.reasons.states)
    return told, frozenset(name for name, _ in exam.readings)


def test_counts_are_of_what_is_asked_without_what_is_derived() -> None:
    told, recorded = facts({"fpi-talar-head": {"both": 1}, "body-mass": 70})
    sheet = Sheet(forms())
    counts = sheet.counts(told, recorded)
    assert counts.keys() == forms().panels.keys()
    for panel, (filled, all_) in counts.items():
        shown = sheet.of(panel, told, recorded, more=False).measures
        asked = [name for name in shown if forms().measures[name].kind is not Kind.DERIVED]
        assert (filled, all_) == (len(recorded & set(asked)), len(asked))
    assert sum(filled for filled, _ in counts.values()) == 2


def test_counts_are_kept_until_something_is_recorded(monkeypatch: pytest.MonkeyPatch) -> None:
    told, recorded = facts({"body-mass": 70})
    sheet = Sheet(forms())
    first = sheet.counts(told, recorded)
    with monkeypatch.context() as patch:
        patch.setattr(Sheet, "of", None)  # not asked again
        assert sheet.counts(told, recorded) is first
    more, now = facts({"body-mass": 70, "fpi-talar-head": {"left": 1}})
    assert sheet.counts(more, now) != first
