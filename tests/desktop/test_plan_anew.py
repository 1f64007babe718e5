"""After any keys the plan sheet shows what a plan sheet opened anew would show."""

import random
from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtCore import Qt

from footexam.assessment import assess
from footexam.desktop.plan_page import PlanPage
from footexam.desktop.summary import summary_lines
from footexam.reasoning.facts import gather
from footexam.terms import Side
from tests.desktop.test_plan_page import CONTROL, EQUINUS, KEY, WALK, accepted
from tests.desktop.user import User, settle

LEFT, RIGHT = Side.LEFT, Side.RIGHT
ACCEPTED = (
    ("pronated-posture-medial-tendon-tension", LEFT),
    ("weak-tibialis-posterior-arch", LEFT),
    (EQUINUS, RIGHT),
)
STEPS = 90
NONE = Qt.KeyboardModifier.NoModifier
KEYS = (
    *[(KEY.Key_Space, NONE)] * 5,
    *[(KEY.Key_Return, NONE)] * 4,
    *[(key, NONE) for key in (KEY.Key_3, KEY.Key_5, KEY.Key_6, KEY.Key_Backspace)],
    *[(key, NONE) for key in (KEY.Key_Right, KEY.Key_Left, KEY.Key_Down, KEY.Key_Escape)],
    *[(key, CONTROL) for key in (KEY.Key_Z, KEY.Key_Y)],
    *WALK[::12],
)
JUMPS = 0.35
"""How often another row is put at hand before a key."""


def shown(page: PlanPage) -> Iterator[tuple[str, Any]]:
    """Everything that the page tells, by name."""
    yield "rows", page.list.rows()
    items = [page.list.item(number) for number in range(page.list.count())]
    spoken = Qt.ItemDataRole.AccessibleTextRole
    yield "items", [(item.text(), item.data(spoken), item.flags()) for item in items]
    yield "heights", [page.list.visualItemRect(item).height() for item in items]
    yield "row at hand", (page.place, page.list.currentRow())
    yield "title", page.title.text()
    yield "text", page.text.toHtml()
    yield "text, height", page.text.height()
    box = page.sizes
    yield "sizes", box.isVisibleTo(page)
    lines = [(line.text(), line.held, line.placeholderText()) for line in box.lines]
    yield "lines", lines
    names = [(line.accessibleName(), line.accessibleDescription()) for line in box.lines]
    yield "lines, spoken", names
    yield "rests", [note.text() for note in box._rests]
    yield "effects", (box.effects.text(), box.effects.isVisibleTo(page))
    drawings = page.drawings
    yield "drawn", (drawings.isVisibleTo(page), drawings.is_empty)
    if not drawings.is_empty:
        yield "drawings", [(view._drawing, view.geometry()) for view in drawings.views]
        yield "drawings, key", (drawings.key.text(), drawings.key.geometry(), drawings.height())
        yield "drawings, spoken", drawings.accessibleDescription()


def anew(page: PlanPage) -> PlanPage:
    """A page opened now, at the same row, with the same rows unfolded and the same lines typed."""
    fresh = PlanPage(page.session, page.theme, page.window())
    fresh.resize(page.size())
    fresh.show()
    fresh._open = dict(page._open)
    fresh.refresh()
    assert page.place is not None
    fresh.list.go_to(page.place)
    for line, typed in zip(fresh.sizes.lines, page.sizes.lines, strict=True):
        line.setText(typed.text())
    if fresh.sizes.is_dirty:
        fresh.sizes.tried.emit()
    settle()
    return fresh


def jumps(page: PlanPage, chance: random.Random) -> None:
    """Another row, a feature if there is one, as by a click."""
    rows = page.list.rows()
    features = [row.place for row in rows if row.level] or [row.place for row in rows[1:]]
    page.list.go_to(chance.choice(features))
    page.focus_list()
    settle()


def follows_from_the_journal(user: User) -> None:
    """What the session holds is what the whole of reasoning says of the record as it stands."""
    session = user.record.session
    assert session.assessment == assess(session.examination, session.catalogue, session.before)
    found = session.assessment
    parts = (found.scores, found.findings, session.catalogue, found.reasons.states)
    assert session.facts == gather(session.examination, *parts)
    lines = summary_lines(session, None, list(user.record._order))
    summary = user.record.summary
    assert list(summary.lines()) == lines
    items = [summary.list.item(number).text() for number in range(summary.list.count())]
    assert items == [line.words for line in lines]


@pytest.mark.parametrize("seed", [5])
@pytest.mark.usefixtures("visit")
def test_the_page_shows_what_one_opened_anew_shows(user: User, seed: int) -> None:
    page = accepted(user)
    session, chance = user.record.session, random.Random(seed)
    for name, side in ACCEPTED:
        assert session.accept(name, side).taken
    kept = [(aim.id, aim.side) for aim in session.assessment.reasons.plan.aims if aim.candidates]
    for name, side in chance.sample(kept, 3):
        session.keep_aim(name, side)
    settle()
    user.presses(KEY.Key_Home)
    most = tried = 0
    for step in range(STEPS):
        if chance.random() < JUMPS:
            jumps(page, chance)
        user.presses(*chance.choice(KEYS))
        if not user.record.planning.is_open:
            user.presses(KEY.Key_Escape).presses(KEY.Key_L, CONTROL)
            assert user.record.planning.is_open
        follows_from_the_journal(user)
        if page.place is None:
            continue
        fresh = anew(page)
        for (name, told), (_, wanted) in zip(shown(page), shown(fresh), strict=True):
            assert told == wanted, (step, name, page.place)
        most = max(most, len(session.examination.decisions["features"]))
        tried += page.sizes.is_dirty
        fresh.hide()
        fresh.deleteLater()
        settle()
    assert most >= 5
    assert tried >= 10
