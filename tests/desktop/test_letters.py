"""The words of letters at the keyboard: read, changed, left out, put back, signed, on paper."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from footexam.catalogue.letters import Document
from footexam.desktop.letter_page import LetterPage
from footexam.desktop.letter_rows import Piece
from footexam.desktop.plan_rows import Place, What
from footexam.desktop.theme import DARK, LIGHT, Theme
from footexam.desktop.window import Window
from footexam.record.entry import EntryKind
from footexam.record.written import ADDRESSEE, mark
from footexam.terms import Side
from tests.desktop.conftest import MakeWindow
from tests.desktop.test_audit import clipped, focusable, name_of, tab_chain
from tests.desktop.test_papers import Reader
from tests.desktop.test_weighing import sign
from tests.desktop.user import User, settle

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
KEY = Qt.Key


def opens(user: User) -> LetterPage:
    """A complaint is recorded; the words of the letter are open."""
    user.record.session.enter(("complaint-site", Side.LEFT), ["heel-plantar-medial"])
    user.presses(KEY.Key_E, CONTROL)
    page = user.record.lettering.page
    assert user.record.lettering.is_open
    assert page.list.hasFocus()
    return page


def at_hand(page: LetterPage) -> str:
    return page.piece.id if page.piece is not None else ""


def walks_to(user: User, page: LetterPage, name: str) -> Piece:
    """Press the arrow keys until a text is at hand."""
    page.focus_list()
    user.presses(KEY.Key_Home)
    for _ in page.list.rows():
        piece = page.piece
        if piece is not None and piece.id == name:
            return piece
        user.presses(KEY.Key_Down)
    pytest.fail(f"{name} is not shown")


def rewrites(user: User, text: str) -> None:
    """Replace the words of the text at hand."""
    user.presses(KEY.Key_Return)
    user.types(text).presses(KEY.Key_Tab)


def kept(user: User) -> dict[str, dict[str, object]]:
    found: dict[str, dict[str, object]] = user.record.session.examination.decisions.get(
        "letters", {}
    )
    return found


@pytest.mark.usefixtures("visit")
def test_a_text_is_changed_and_kept_as_one_entry(user: User) -> None:
    page = opens(user)
    piece = walks_to(user, page, "told")
    assert page.given.toPlainText() == piece.given
    before = len(user.record.session.journal)
    rewrites(user, "Rest it for a week.")
    assert kept(user) == {"told": {"lines": ["Rest it for a week."], "over": mark(piece.given)}}
    (entry,) = list(user.record.session.journal)[before:]
    assert (entry.draft.kind, entry.draft.target) == (EntryKind.DECIDE, "letter:told")
    assert page.state.text() == "your words"
    assert page.editor.toPlainText() == "Rest it for a week."
    assert not page.is_half_typed


@pytest.mark.usefixtures("visit")
def test_a_text_is_left_out_and_put_back_and_a_change_is_undone(user: User) -> None:
    page = opens(user)
    walks_to(user, page, "told")
    user.presses(KEY.Key_Space)
    assert kept(user)["told"]["lines"] == []
    assert page.state.text() == "left out"
    user.presses(KEY.Key_Space)
    assert kept(user) == {}
    rewrites(user, "Rest.")
    page.focus_list()
    user.presses(KEY.Key_Z, CONTROL)
    assert kept(user) == {}
    assert user.record.lettering.is_open
    user.presses(KEY.Key_Y, CONTROL)
    assert kept(user)["told"]["lines"] == ["Rest."]
    user.presses(KEY.Key_Backspace)
    assert kept(user) == {}


@pytest.mark.usefixtures("visit")
def test_words_that_say_what_the_record_gives_are_not_kept(user: User) -> None:
    page = opens(user)
    piece = walks_to(user, page, "told")
    rewrites(user, "Rest.")
    page.focus_list()
    user.presses(KEY.Key_Return)
    page.editor.setPlainText(piece.given)
    user.presses(KEY.Key_Tab)
    assert kept(user) == {}
    assert not page.is_half_typed


@pytest.mark.usefixtures("visit")
def test_escape_puts_back_what_stood_there(user: User) -> None:
    page = opens(user)
    piece = walks_to(user, page, "told")
    user.presses(KEY.Key_Return).types("No").presses(KEY.Key_Escape)
    assert page.editor.toPlainText() == piece.given
    assert page.list.hasFocus()
    assert kept(user) == {}
    user.presses(KEY.Key_Escape)
    assert not user.record.lettering.is_open


@pytest.mark.usefixtures("visit")
def test_no_danger_is_left_out_or_written_over(user: User) -> None:
    user.record.session.enter(("caution-cold-pale-foot", None), "yes")
    page = opens(user)
    piece = walks_to(user, page, "cautions")
    assert piece.adds
    user.presses(KEY.Key_Space)
    assert kept(user) == {}
    assert "cannot be left out" in user.window.remark.text()
    user.presses(KEY.Key_Return)
    assert page.editor.toPlainText() == ""
    user.types("Telephoned at noon.").presses(KEY.Key_Tab)
    found = page.piece
    assert found is not None
    assert found.prints == f"{found.given}\nTelephoned at noon."
    page.focus_list()
    user.presses(KEY.Key_Return).presses(KEY.Key_Delete).presses(KEY.Key_Tab)
    assert kept(user) == {}


@pytest.mark.usefixtures("visit")
def test_to_whom_it_goes_is_kept_with_the_record(user: User) -> None:
    page = opens(user)
    assert at_hand(page) == ADDRESSEE
    rewrites(user, "Dr Ada Moss")
    assert kept(user) == {ADDRESSEE: {"lines": ["Dr Ada Moss"], "over": ""}}
    assert "To Dr Ada Moss." in walks_to(user, page, "to").given
    walks_to(user, page, ADDRESSEE)
    user.presses(KEY.Key_Space)
    assert kept(user)[ADDRESSEE]["lines"] == ["Dr Ada Moss"]
    rewrites(user, " ")
    assert kept(user) == {}


@pytest.mark.usefixtures("visit")
def test_a_record_that_changed_since_is_told(user: User) -> None:
    page = opens(user)
    walks_to(user, page, "where")
    rewrites(user, "Under the left heel.")
    user.record.session.enter(("complaint-site", Side.RIGHT), ["heel-plantar-medial"])
    settle()
    assert "another text now" in page.state.text()
    row = next(row for row in page.list.rows() if row.place == Place(What.BLOCK, "where"))
    assert "the record has changed" in row.below
    walks_to(user, page, "where")
    user.presses(KEY.Key_Return)
    page.editor.insertPlainText("Under the right heel.")
    user.presses(KEY.Key_Tab)
    assert page.state.text() == "your words"


@pytest.mark.usefixtures("visit")
def test_the_key_goes_on_to_the_leaflet_and_back_to_the_sheet(user: User) -> None:
    page = opens(user)
    user.presses(KEY.Key_E, CONTROL)
    assert (page.document, page.title.text()) == (
        Document.LEAFLET,
        "The words of the patient’s leaflet",
    )
    assert all(row.place.id != ADDRESSEE for row in page.list.rows())
    user.presses(KEY.Key_E, CONTROL)
    assert not user.record.lettering.is_open


@pytest.mark.usefixtures("visit")
def test_other_keys_of_the_sheet_leave_the_page_with_what_was_typed_kept(user: User) -> None:
    page = opens(user)
    walks_to(user, page, "told")
    user.presses(KEY.Key_Return).types("Rest.").presses(KEY.Key_PageDown, CONTROL)
    assert not user.record.lettering.is_open
    assert kept(user)["told"]["lines"] == ["Rest."]
    user.presses(KEY.Key_E, CONTROL)
    walks_to(user, page, "told")
    user.presses(KEY.Key_Return).types("More rest.").presses(KEY.Key_L, CONTROL)
    assert user.record.planning.is_open
    assert kept(user)["told"]["lines"] == ["More rest."]


@pytest.mark.usefixtures("visit")
def test_what_cannot_be_kept_is_refused_and_stays_typed(user: User) -> None:
    page = opens(user)
    walks_to(user, page, "told")
    user.presses(KEY.Key_Return)
    page.editor.insertPlainText("x" * 4001)
    user.presses(KEY.Key_Tab)
    assert kept(user) == {}
    assert page.is_half_typed
    assert "4,000" in user.window.remark.text() or "4000" in user.window.remark.text()
    page.focus_list()
    user.presses(KEY.Key_Down)
    assert at_hand(page) == "told"
    assert page.editor.toPlainText() == "x" * 4001


@pytest.mark.usefixtures("visit")
def test_a_signed_record_asks_why_before_its_letter_is_changed(user: User) -> None:
    sign(user)
    user.presses(KEY.Key_E, CONTROL)
    page = user.record.lettering.page
    walks_to(user, page, "told")
    user.presses(KEY.Key_Return).types("Rest.").presses(KEY.Key_Tab)
    assert user.record.line.isVisible()
    assert kept(user) == {}
    user.enters("the patient asked")
    assert kept(user)["told"]["lines"] == ["Rest."]
    assert list(user.record.session.journal)[-1].draft.reason == "the patient asked"


def test_the_letter_on_paper_says_what_was_written(visit: Window, qtbot: QtBot) -> None:
    user = Reader(visit, qtbot)
    page = opens(user)
    walks_to(user, page, "told")
    rewrites(user, "Rest it for a week.")
    user.gets(KEY.Key_R, CONTROL | SHIFT)
    assert "Rest it for a week." in " ".join(user.text.split())
    assert not user.preview.buttons["words"].isHidden()
    user.presses(KEY.Key_E, CONTROL)
    assert user.record.lettering.is_open
    assert page.list.hasFocus()


def test_letterhead_and_paper_are_those_of_the_practice(opened: Window, qtbot: QtBot) -> None:
    user = Reader(opened, qtbot)
    user.presses(KEY.Key_Comma, CONTROL)
    user.types("Foot clinic Ash Lane").presses(KEY.Key_Tab).presses(KEY.Key_Right)
    user.presses(KEY.Key_Tab).presses(KEY.Key_Return)
    kept_now = opened.preferences
    assert (kept_now.practice, kept_now.paper) == ("Foot clinic Ash Lane", "letter")
    assert opened.walk.on_patient_page
    user.presses(KEY.Key_F2).presses(KEY.Key_Return)
    user.gets(KEY.Key_R, CONTROL | SHIFT)
    assert "Foot clinic Ash Lane" in user.text
    document = user.preview.reader.document
    assert document is not None
    size = document.size(1)
    assert (round(size.width()), round(size.height())) == (612, 792)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("zoom", [1.0, 1.5, 2.0])
def test_every_part_is_named_reached_and_whole(
    make_window: MakeWindow, theme: Theme, zoom: float
) -> None:
    window = make_window(theme, zoom)
    user = User(window)
    user.types("quist").presses(KEY.Key_Return).presses(KEY.Key_Return)
    user.presses(KEY.Key_F2).presses(KEY.Key_Return)
    page = opens(user)
    walks_to(user, page, "told")
    chain = tab_chain(page)
    for widget in focusable(page):
        assert name_of(widget), widget
        assert widget in chain or widget.focusProxy() is not None
    assert not clipped(page)
