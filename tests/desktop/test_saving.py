"""What the store cannot do: nothing typed is lost, it is told, and it is tried again."""

from collections.abc import Sequence
from concurrent.futures import Future
from typing import Any

import pytest
from PySide6.QtCore import Qt

from footexam.desktop.desk import Desk
from footexam.desktop.merging import merge
from footexam.desktop.saving import Saving
from footexam.desktop.window import Window
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.journal import Journal
from footexam.store import Conflict, KnownError
from footexam.terms import Side
from tests.desktop.user import User, settle

LEFT, RIGHT = Side.LEFT, Side.RIGHT
CONTROL = Qt.KeyboardModifier.ControlModifier
ME, OTHER = Author("R. Lind"), Author("M. Tau")


def draft(number: int, author: Author = ME, side: Side = LEFT) -> Draft:
    body = {"value": {"numbers": [str(number)]}, "typed": str(number)}
    return Draft(EntryKind.SET, author, "2026-05-12T09:00:00Z", "measure:x", side, body)


class Store:
    """A store in memory that can be told to fail, and to be slow."""

    def __init__(self, journal: Journal) -> None:
        self.journal = Journal.of_texts(journal.subject, [entry.text for entry in journal])
        self.fault: Exception | None = None
        self.waiting: list[tuple[Future[Any], str, Sequence[Draft]]] | None = None

    def keep(self, subject: str, head: str, drafts: Sequence[Draft]) -> "Future[Any]":
        assert subject == self.journal.subject
        future: Future[Any] = Future()
        if self.waiting is not None:
            self.waiting.append((future, head, drafts))
        else:
            self.answer(future, head, drafts)
        return future

    def answer(self, future: "Future[Any]", head: str, drafts: Sequence[Draft]) -> None:
        if self.fault is not None:
            future.set_exception(self.fault)
        elif head != self.journal.head:
            entries = list(self.journal)
            places = [entry.seq for entry in entries if entry.hash == head]
            future.set_exception(Conflict(self.journal.subject, entries[sum(places) :]))
        else:
            future.set_result([self.journal.append(one) for one in drafts])

    def catch_up(self) -> None:
        waiting, self.waiting = self.waiting or [], None
        for future, head, drafts in waiting:
            self.answer(future, head, drafts)


@pytest.fixture
def journal() -> Journal:
    made = Journal("examination:1")
    made.append(draft(1))
    return made


def full() -> KnownError:
    return KnownError("disk-full", "here", why="no space")


@pytest.mark.usefixtures("qapp")
class TestSaving:
    def test_saved(self, journal: Journal) -> None:
        store = Store(journal)
        saving = Saving(store, journal)
        journal.append(draft(2))
        assert saving.unsaved == 1
        saving.keep()
        assert (saving.unsaved, saving.trouble, store.journal.head) == (0, "", journal.head)

    def test_failure_is_told_and_the_next_entry_takes_the_rest_along(
        self, journal: Journal
    ) -> None:
        store = Store(journal)
        saving = Saving(store, journal)
        told: list[object] = []
        saving.failed.connect(told.append)
        store.fault = full()
        journal.append(draft(2))
        saving.keep()
        assert told == [store.fault]
        assert saving.unsaved == 1
        assert "full" in saving.trouble
        assert not saving.is_saved(2)
        store.fault = None
        journal.append(draft(3))
        saving.keep()
        assert (saving.unsaved, saving.trouble, store.journal.head) == (0, "", journal.head)

    def test_what_follows_a_failed_entry_is_no_conflict(self, journal: Journal) -> None:
        store = Store(journal)
        saving = Saving(store, journal)
        grown: list[object] = []
        saving.grown.connect(grown.append)
        store.waiting = []
        for number in (2, 3):
            journal.append(draft(number))
            saving.hand_over()
        (first, head, drafts), second = store.waiting
        first.set_exception(full())
        assert (head, len(drafts)) == (next(iter(journal)).hash, 1)
        store.waiting = [second]
        store.catch_up()
        saving.settle()
        assert grown == []
        assert saving.unsaved == 2
        saving.keep()
        assert (saving.unsaved, saving.trouble) == (0, "")
        assert store.journal.head == journal.head

    def test_late_answer_is_told(self, journal: Journal) -> None:
        store = Store(journal)
        saving = Saving(store, journal)
        told: list[int] = []
        saving.changed.connect(lambda: told.append(saving.unsaved))
        store.waiting = []
        journal.append(draft(2))
        saving.keep()
        assert saving.unsaved == 1
        store.catch_up()
        settle()
        assert told == [0]

    def test_written_although_the_store_said_otherwise(self, journal: Journal) -> None:
        store = Store(journal)
        saving = Saving(store, journal)
        journal.append(draft(2))
        store.journal.append(draft(2))
        store.fault = full()
        saving.keep()
        store.fault = None
        saving.keep()
        assert (saving.unsaved, len(store.journal)) == (0, 2)

    def test_others_entries_are_told(self, journal: Journal) -> None:
        store = Store(journal)
        saving = Saving(store, journal)
        grown: list[Any] = []
        saving.grown.connect(grown.append)
        store.journal.append(draft(7, OTHER))
        journal.append(draft(2))
        saving.keep()
        assert [entry.draft.author for entry in grown[0]] == [ME, OTHER]
        assert saving.unsaved == 1


def test_merging_keeps_both_and_follows_what_was_taken_back(journal: Journal) -> None:
    theirs = Journal.of_texts(journal.subject, [entry.text for entry in journal])
    theirs.append(draft(7, OTHER))
    theirs.append(draft(8, OTHER, RIGHT))
    journal.append(draft(2))
    journal.append(Draft(EntryKind.RETRACT, ME, "2026-05-12T09:01:00Z", retracts=2))
    journal.append(Draft(EntryKind.RETRACT, ME, "2026-05-12T09:01:00Z", retracts=1))
    merged = merge(journal, list(theirs))
    assert [entry.hash for entry in merged.journal][:3] == [entry.hash for entry in theirs]
    assert [entry.draft.retracts for entry in merged.journal] == [None] * 4 + [4, 1]
    assert merged.authors == ("M. Tau",)
    assert {key: reading.typed for key, reading in merged.clashes.items()} == {("x", LEFT): "7"}


# --- in the window


class Broken:
    """Stands before the desk's store and fails while `fault` is set."""

    def __init__(self, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
        self.fault: Exception | None = None
        self._keep = desk.keep
        monkeypatch.setattr(desk, "keep", self.keep)

    def keep(self, subject: str, head: str, drafts: Sequence[Draft]) -> "Future[Any]":
        if self.fault is None:
            return self._keep(subject, head, drafts)
        future: Future[Any] = Future()
        future.set_exception(self.fault)
        return future


@pytest.fixture
def broken(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Broken:
    return Broken(desk, monkeypatch)


def stored(user: User, desk: Desk) -> list[str]:
    return [entry.text for entry in desk.journal(user.record.session.journal.subject)]


def test_not_saved_is_shown_and_tried_again(
    broken: Broken, visit: Window, user: User, desk: Desk
) -> None:
    broken.fault = full()
    user.goes_to("lunge-distance", LEFT).enters("9")
    left = user.cell("lunge-distance", LEFT)
    assert left.editor.typed() == "9"
    assert (left.state.text(), left.state.toolTip()) == ("!", "not saved")
    assert "NOT SAVED" in user.record.state.text()
    assert "Ctrl+S" in user.record.state.text()
    assert "full" in visit.remark.text()
    user.presses(Qt.Key.Key_S, CONTROL)
    assert "NOT SAVED" in user.record.state.text()
    broken.fault = None
    user.presses(Qt.Key.Key_S, CONTROL)
    assert "all saved" in user.record.state.text()
    assert left.state.toolTip() == "saved"
    assert stored(user, desk) == [entry.text for entry in user.record.session.journal]


def test_a_slow_disk_is_told_and_its_end_too(
    desk: Desk, visit: Window, user: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert visit.record is not None
    slow: Future[Any] = Future()
    monkeypatch.setattr(desk, "keep", lambda *_: slow)
    user.goes_to("lunge-distance", LEFT).enters("9")
    cell = user.cell("lunge-distance", LEFT)
    assert cell.state.toolTip() == "saving"
    slow.set_result(())
    settle()
    assert cell.state.toolTip() == "saved"


@pytest.mark.usefixtures("desk")
def test_record_stays_open_while_it_is_not_saved(
    broken: Broken,
    visit: Window,
    user: User,
) -> None:
    broken.fault = full()
    user.goes_to("lunge-distance", LEFT).enters("9").presses(Qt.Key.Key_W, CONTROL)
    assert visit.record is not None
    assert "1 entries are not saved yet" in visit.remark.text()
    user.presses(Qt.Key.Key_P, CONTROL)
    assert "still being saved" in visit.remark.text()
    assert not visit.close()
    assert "Close again" in visit.remark.text()
    broken.fault = None
    user.presses(Qt.Key.Key_W, CONTROL)
    assert visit.record is None


def test_fault_of_the_program_is_told_plainly(broken: Broken, visit: Window, user: User) -> None:
    broken.fault = ZeroDivisionError("secret")
    user.goes_to("lunge-distance", LEFT).enters("9")
    assert "A fault of the program" in user.record.state.text()
    assert "secret" not in user.record.state.text() + visit.remark.text()


def test_two_people_in_one_record(visit: Window, user: User, desk: Desk) -> None:
    session = user.record.session
    subject = session.journal.subject
    user.goes_to("lunge-distance", RIGHT).enters("6")
    entry = list(session.journal)[-1]
    body = {**entry.draft.body}
    other = Draft(
        EntryKind.SET, OTHER, "2026-05-12T09:00:00Z", "measure:lunge-distance", LEFT, body
    )
    desk.keep(subject, desk.journal(subject).head, [other]).result()
    user.goes_to("lunge-distance", LEFT).enters("9")
    left = user.cell("lunge-distance", LEFT)
    assert left.editor.typed() == "9"
    assert "M. Tau entered 6 cm" in left.message.text()
    assert "M. Tau" in visit.remark.text()
    assert session.unsaved() == 0
    assert stored(user, desk) == [entry.text for entry in session.journal]
    user.presses(Qt.Key.Key_Z, CONTROL)
    assert left.editor.typed() == "6"
    assert left.message.text() == ""
