"""Journals: they only grow, their chain shows any change, undo and redo are a stack."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.record.entry import Author, Draft, EntryKind, first_link
from footexam.record.journal import BrokenJournal, Journal
from footexam.terms import Role
from tests.record.journals import (
    ANN,
    AT,
    BOB,
    Model,
    journal,
    retract,
    set_draft,
    sign,
    texts,
)


def test_an_empty_journal() -> None:
    empty = Journal("patient:7")
    assert len(empty) == 0
    assert empty.head == first_link("patient:7")
    assert empty.live() == []
    assert empty.undoable(ANN) is None
    assert empty.redoable(ANN) is None
    assert Journal.of_texts("patient:7", [], empty.head).head == empty.head


def test_entries_are_chained() -> None:
    made = journal(set_draft(), set_draft(value="run"), retract(1))
    links = [json.loads(text)["previous"] for text in texts(made)]
    assert links == [first_link("examination:1"), *(entry.hash for entry in made)][:3]
    assert made.head == list(made)[-1].hash
    assert [entry.seq for entry in made] == [1, 2, 3]


@pytest.mark.parametrize(
    ("draft", "why"),
    [
        (retract(0), "there is no entry 0 to take back"),
        (retract(3), "there is no entry 3 to take back"),
        (retract(-1), "there is no entry -1 to take back"),
        (Draft(EntryKind.RETRACT, ANN, AT), "only a retract names the entry it takes back"),
        (Draft(EntryKind.SET, ANN, AT, retracts=1), "only a retract names the entry"),
    ],
)
def test_a_retract_names_an_entry_that_is_there(draft: Draft, why: str) -> None:
    made = journal(set_draft(), set_draft())
    before = made.head
    with pytest.raises(ValueError, match=why):
        made.append(draft)
    assert (len(made), made.head) == (2, before)


# --- the chain


def steps() -> st.SearchStrategy[list[tuple[str, int]]]:
    """What to do, and a number that chooses on what."""
    return st.lists(
        st.tuples(
            st.sampled_from(["set", "set", "retract", "undo", "redo"]), st.integers(0, 10**6)
        ),
        max_size=25,
    )


def play(moves: list[tuple[str, int]]) -> Journal:
    made = Journal("examination:1")
    for move, number in moves:
        draft = _draft(made, move, number)
        if draft is not None:
            made.append(draft)
    return made


def _draft(made: Journal, move: str, number: int) -> Draft | None:
    if move == "set" or not len(made):
        return set_draft(f"measure-{number % 3}", str(number))
    if move == "retract":
        return retract(1 + number % len(made), reason="wrong foot")
    found = made.undoable(ANN) if move == "undo" else made.redoable(ANN)
    return retract(found.seq) if found else None


@given(steps())
def test_a_journal_reads_back(moves: list[tuple[str, int]]) -> None:
    made = play(moves)
    again = Journal.of_texts(made.subject, texts(made), made.head)
    assert list(again) == list(made)
    assert again.head == made.head
    assert again.live() == made.live()


@given(steps().filter(bool), st.data())
def test_the_chain_shows_any_change(moves: list[tuple[str, int]], data: st.DataObject) -> None:
    made = play(moves)
    stored = texts(made)
    at = data.draw(st.integers(0, len(stored) - 1))
    place = data.draw(st.integers(0, len(stored[at]) - 1))
    letter = data.draw(st.sampled_from('0aZ"{}, \u00e9').filter(lambda c: c != stored[at][place]))
    stored[at] = stored[at][:place] + letter + stored[at][place + 1 :]
    with pytest.raises(BrokenJournal) as broken:
        Journal.of_texts(made.subject, stored, made.head)
    assert at + 1 <= broken.value.seq <= at + 2


@given(steps().filter(lambda moves: len(moves) > 1), st.data())
def test_the_chain_shows_what_is_missing_doubled_or_moved(
    moves: list[tuple[str, int]], data: st.DataObject
) -> None:
    made = play(moves)
    stored = texts(made)
    at = data.draw(st.integers(0, len(stored) - 1))
    for broken in (
        stored[:at] + stored[at + 1 :],
        [*stored[: at + 1], *stored[at:]],
        [*stored[at:], *stored[:at]] if at else list(reversed(stored)),
    ):
        if broken != stored:
            with pytest.raises(BrokenJournal):
                Journal.of_texts(made.subject, broken, made.head)


def test_a_journal_of_another_subject_is_refused() -> None:
    with pytest.raises(BrokenJournal, match="entry 1: it does not follow the one before it"):
        Journal.of_texts("examination:2", texts(journal(set_draft())))


def test_without_a_head_the_last_entry_may_be_missing_with_one_not() -> None:
    made = journal(set_draft(), set_draft())
    assert len(Journal.of_texts(made.subject, texts(made)[:1])) == 1
    with pytest.raises(BrokenJournal, match="entry 1: it is not the last entry that was written"):
        Journal.of_texts(made.subject, texts(made)[:1], made.head)


def test_a_stored_text_that_is_no_entry_is_named() -> None:
    made = journal(set_draft())
    with pytest.raises(BrokenJournal, match="entry 2: a text that is no entry") as broken:
        Journal.of_texts(made.subject, [*texts(made), "{}"])
    assert broken.value.seq == 2


def test_a_stored_retract_of_nothing_is_refused() -> None:
    made = journal(set_draft(), retract(1))
    first, second = texts(made)
    forged = second.replace('"retracts":1', '"retracts":2')
    with pytest.raises(BrokenJournal, match="entry 2: there is no entry 2 to take back"):
        Journal.of_texts(made.subject, [first, forged])


# --- retracts


@given(steps())
def test_what_is_live_agrees_with_a_naive_model(moves: list[tuple[str, int]]) -> None:
    made = play(moves)
    model = Model()
    for entry in made:
        model.write(entry)
    assert [entry.seq for entry in made.live()] == model.live()


@given(steps(), st.integers(0, 10**6))
def test_taking_back_a_retract_restores(moves: list[tuple[str, int]], number: int) -> None:
    made = play([*moves, ("set", 1)])
    before = made.live()
    taken = before[number % len(before)]
    made.append(retract(taken.seq))
    assert made.live() == [entry for entry in before if entry != taken]
    made.append(retract(len(made)))
    assert made.live() == before


# --- undo and redo


@given(st.lists(st.sampled_from(["set", "undo", "redo"]), max_size=40))
def test_undo_and_redo_are_a_stack(moves: list[str]) -> None:
    made = Journal("examination:1")
    done: list[int] = []
    undone: list[int] = []
    for number, move in enumerate(moves):
        if move == "set":
            done.append(made.append(set_draft(value=str(number))).seq)
            undone.clear()
            continue
        found = made.undoable(ANN) if move == "undo" else made.redoable(ANN)
        source, target = (done, undone) if move == "undo" else (undone, done)
        if not source:
            assert found is None
            continue
        assert found is not None
        entry = found if found.draft.retracts is None else list(made)[found.draft.retracts - 1]
        assert entry.seq == source.pop()
        target.append(entry.seq)
        made.append(retract(found.seq))
    assert [entry.seq for entry in made.live()] == done


def test_only_my_own_entries_of_this_sitting_are_undone() -> None:
    later = Author("Ann", Role.CLINICIAN, "afternoon")
    made = journal(set_draft(), set_draft(author=BOB))
    found = made.undoable(ANN)
    assert found is not None
    assert found.seq == 1
    assert made.undoable(later) is None
    made.append(retract(1))
    made.append(set_draft(author=BOB))
    assert made.undoable(ANN) is None
    redo = made.redoable(ANN)  # what others write does not stand between
    assert redo is not None
    assert redo.draft.retracts == 1
    assert made.redoable(later) is None


def test_a_retract_with_a_reason_is_no_undo() -> None:
    made = journal(set_draft(), set_draft(), retract(1, reason="entered in error"))
    found = made.undoable(ANN)
    assert found is not None
    assert found.seq == 2
    assert made.redoable(ANN) is None


@pytest.mark.parametrize("author", [ANN, BOB])
def test_nothing_is_undone_or_redone_across_a_signature(author: Author) -> None:
    made = journal(set_draft(), set_draft(), retract(2), sign(author))
    assert made.undoable(ANN) is None
    assert made.redoable(ANN) is None
    made.append(set_draft())
    found = made.undoable(ANN)
    assert found is not None
    assert found.seq == 5


def test_a_signature_taken_back_stands_in_nobodys_way() -> None:
    made = journal(set_draft(), retract(1), sign(BOB), retract(3, BOB, "signed too early"))
    redo = made.redoable(ANN)
    assert redo is not None
    assert redo.seq == 2
    made.append(retract(2))
    found = made.undoable(ANN)
    assert found is not None
    assert found.seq == 1
