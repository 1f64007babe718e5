"""Paper by real keys: the report beside its sheet, signing it, the patient's copy, the form."""

from concurrent.futures import Future
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from footexam.desktop.desk import Desk
from footexam.desktop.paper_page import PaperPage
from footexam.desktop.preview.keeping import Viewer
from footexam.desktop.preview.page import PreviewPage
from footexam.desktop.signing import SigningPage
from footexam.desktop.theme import DARK
from footexam.desktop.window import Window
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.signing import Standing, signatures, standing
from footexam.store import KnownError
from footexam.terms import Role, Side
from tests.desktop.user import User, settle

KEY, HELD = Qt.Key, Qt.KeyboardModifier
CTRL, SHIFT, ALT = HELD.ControlModifier, HELD.ShiftModifier, HELD.AltModifier
LEFT, RIGHT = Side.LEFT, Side.RIGHT
LONG_MS = 60_000


@dataclass
class Reader(User):
    """Somebody at the keyboard who also reads what is made for them."""

    window: Window
    qtbot: QtBot
    keys: int = 0
    asked: list[str] = field(default_factory=list)

    @property
    def page(self) -> PaperPage:
        return self.window.walk.papers.page

    @property
    def preview(self) -> PreviewPage:
        return self.page.preview

    @property
    def signing(self) -> SigningPage:
        return self.page.signing

    @property
    def text(self) -> str:
        """The text of all pages that are shown."""
        document = self.preview.reader.document
        assert document is not None
        return "\n".join(document.text(number) for number in range(1, document.pages + 1))

    def gets(self, key: KEY, held: HELD = HELD.NoModifier) -> "Reader":
        """Press a key, and wait for page one of what it makes."""
        with self.qtbot.waitSignal(self.preview.shown, timeout=LONG_MS):
            self.presses(key, held)
        settle()
        return self

    def asks_to_sign(self) -> "Reader":
        """Press the key that signs, and wait for the pages that are to be signed."""
        self.presses(KEY.Key_Return, CTRL)
        self.qtbot.waitUntil(self._has_pages, timeout=LONG_MS)
        settle()
        return self

    def _has_pages(self) -> None:
        assert self.signing.reader.document is not None

    def reads_and_signs(self) -> "Reader":
        document = self.signing.reader.document
        assert document is not None
        for _ in range(document.pages - 1):
            self.presses(KEY.Key_Right)
        self.presses(KEY.Key_R, ALT)
        self.qtbot.waitUntil(self.signing.read.isChecked)
        self.presses(KEY.Key_Return, CTRL)
        return self


@pytest.fixture
def reader(window: Window, qtbot: QtBot) -> Reader:
    return Reader(window, qtbot)


@pytest.fixture
def measured(visit: Window, reader: Reader) -> Reader:
    """A visit of today with a reading, and the keys in the cell of the other foot."""
    assert visit.record is not None
    reader.goes_to("lunge-distance", LEFT).enters("9")
    assert reader.place.startswith("Lunge, toe to wall, right foot")
    return reader


@pytest.fixture
def in_viewer(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, bytes]]:
    """What was handed to the system's viewer: names and bytes."""
    handed: list[tuple[str, bytes]] = []

    def open_file(_cls: type, path: Path) -> bool:
        handed.append((path.name, path.read_bytes()))
        return True

    monkeypatch.setattr(Viewer, "open", classmethod(open_file))
    return handed


def is_shown(user: Reader) -> bool:
    return user.window.stack.currentWidget() is user.page


# --- the report


def test_ctrl_p_shows_page_one_in_place_of_the_sheet(measured: Reader) -> None:
    cell = measured.at
    measured.gets(KEY.Key_P, CTRL)
    assert is_shown(measured)
    assert measured.preview.reader.place.text().startswith("Page 1 of ")
    assert measured.page.banner.isVisible()
    assert "QUIST, Maren" in measured.page.banner.accessibleDescription()
    assert measured.preview.title.startswith("Examination of ")
    for words in ("QUIST, Maren", "T-0001", "DRAFT, not signed", "9 cm"):
        assert words in measured.text
    assert measured.at is measured.preview.reader.view
    measured.presses(KEY.Key_Escape)
    assert measured.window.stack.currentWidget() is measured.record
    assert measured.at is cell
    assert measured.preview.reader.document is None
    assert measured.page.paper is None


def test_the_keys_of_the_preview_work_in_the_window(measured: Reader, qtbot: QtBot) -> None:
    """None of them does what it does on the sheet: F3 writes no note, Ctrl+PgDown turns a page."""
    entries = len(measured.record.session.journal)
    reader = measured.gets(KEY.Key_P, CTRL).preview.reader
    measured.presses(KEY.Key_PageDown, CTRL)
    assert (reader.number, measured.record.panel) == (2, measured.record.worksheet.panel.id)
    measured.types("+")
    assert reader.view.percent is not None
    measured.types("0")
    assert reader.view.percent is None
    measured.presses(KEY.Key_F3).types("lunge").presses(KEY.Key_Return)
    qtbot.waitUntil(lambda: not reader.search.goes_on)
    assert reader.search.total > 0
    measured.presses(KEY.Key_Escape).types("t")
    assert reader.text.isVisible()
    measured.presses(KEY.Key_F7)
    assert is_shown(measured)
    assert len(measured.record.session.journal) == entries


def test_ctrl_p_again_prints_in_the_viewer(
    measured: Reader, in_viewer: list[tuple[str, bytes]]
) -> None:
    measured.gets(KEY.Key_P, CTRL).presses(KEY.Key_P, CTRL)
    ((name, data),) = in_viewer
    assert data == measured.preview.data
    number = measured.record.session.journal.subject.partition(":")[2]
    assert name == f"examination-{number[:12]}.pdf"
    assert "print it there" in measured.window.remark.text()
    measured.presses(KEY.Key_Escape)


def test_save_as_offers_a_name_without_the_patient(
    measured: Reader, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def ask(_cls: type, _parent: QWidget, name: str) -> str:
        measured.asked.append(name)
        return str(tmp_path / "kept.pdf")

    monkeypatch.setattr(PreviewPage, "ask", classmethod(ask))
    for held in (CTRL, CTRL | SHIFT):
        measured.gets(KEY.Key_P, held).presses(KEY.Key_S, CTRL)
        assert (tmp_path / "kept.pdf").read_bytes() == measured.preview.data
        measured.presses(KEY.Key_Escape)
    report, copy = measured.asked
    assert report.startswith("examination-")
    assert copy.startswith("patient-copy-")
    for name in measured.asked:
        assert "quist" not in name.casefold()
        assert "maren" not in name.casefold()


def test_what_is_typed_is_on_the_paper(measured: Reader) -> None:
    """A value that is typed and not yet left is taken over first."""
    measured.types("7,5").gets(KEY.Key_P, CTRL)
    assert "7.5 cm" in measured.text
    measured.presses(KEY.Key_Escape)
    assert measured.place.startswith("Lunge, toe to wall, right foot")


def test_a_refused_cell_holds_printing_and_signing(measured: Reader) -> None:
    measured.types("abc")
    for key in (KEY.Key_P, KEY.Key_Return):
        measured.presses(key, CTRL)
        assert measured.window.stack.currentWidget() is measured.record
        assert "not taken over" in measured.window.remark.text()
    assert measured.place.startswith("Lunge, toe to wall, right foot")


def test_an_unsaved_entry_holds_printing_and_signing(
    measured: Reader, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept, failed = desk.keep, Future()  # type: ignore[var-annotated]
    failed.set_exception(KnownError("disk-full", "here", why="no space"))
    monkeypatch.setattr(desk, "keep", lambda *_: failed)
    measured.enters("8")
    assert measured.record.session.unsaved() == 1
    for key, held in ((KEY.Key_P, CTRL), (KEY.Key_P, CTRL | SHIFT), (KEY.Key_Return, CTRL)):
        measured.presses(key, held)
        assert measured.window.stack.currentWidget() is measured.record
        assert "1 entries are still being saved" in measured.window.remark.text()
    monkeypatch.setattr(desk, "keep", kept)
    measured.gets(KEY.Key_P, CTRL)
    assert "8 cm" in measured.text


def test_a_failing_child_is_told_and_the_sheet_is_there_again(
    measured: Reader, qtbot: QtBot
) -> None:
    cell = measured.at
    maker = measured.preview.maker
    maker._arguments = ["-c", "import sys; sys.stderr.write('The disk is full.'); sys.exit(4)"]
    with qtbot.waitSignal(maker.failed, timeout=LONG_MS):
        measured.presses(KEY.Key_P, CTRL)
    settle()
    told = measured.window.remark.text()
    assert told.startswith("Examination of ")
    assert told.endswith("could not be made; the examination is saved. The disk is full.")
    assert measured.preview.progress.text() == told
    assert not measured.preview.buttons["print"].isEnabled()
    measured.presses(KEY.Key_P, CTRL).presses(KEY.Key_S, CTRL).presses(KEY.Key_Return, CTRL)
    assert is_shown(measured)
    measured.presses(KEY.Key_Escape)
    assert measured.at is cell


def test_escape_stops_what_is_being_made(measured: Reader) -> None:
    cell = measured.at
    measured.preview.maker._arguments = ["-c", "import time; time.sleep(60)"]
    measured.presses(KEY.Key_P, CTRL)
    assert measured.preview.maker.runs
    assert "is being made" in measured.preview.progress.text()
    measured.presses(KEY.Key_Escape)
    assert not measured.preview.maker.runs
    assert measured.at is cell
    assert measured.window.remark.text() == "Stopped; the examination is saved."


# --- signing


def test_signing_by_keys_and_the_report_after_it(
    measured: Reader, desk: Desk, in_viewer: list[tuple[str, bytes]]
) -> None:
    cell, session = measured.at, measured.record.session
    measured.asks_to_sign()
    signing = measured.signing
    assert is_shown(measured)
    assert measured.page.banner.isVisible()
    assert (signing.name.text(), signing.role.value()) == ("R. Lind", "clinician")
    pages = signing.reader.document
    assert pages is not None
    data = pages.data
    measured.reads_and_signs()
    assert measured.window.remark.text() == "Signed by R. Lind."
    assert measured.at is cell
    assert session.examination.signed_by == ("R. Lind",)
    journal = desk.journal(session.journal.subject)
    assert [entry.hash for entry in journal] == [entry.hash for entry in session.journal]
    assert standing(journal, session.examination) is Standing.SIGNED
    (one,) = signatures(journal)
    assert one.by == session.author
    assert "Signed by R. Lind" in measured.record.banner.accessibleDescription()
    measured.gets(KEY.Key_P, CTRL).presses(KEY.Key_P, CTRL)
    assert "DRAFT" not in measured.text
    assert "Signed by R. Lind" in measured.text
    assert measured.preview.data == data == in_viewer[-1][1]  # to the byte what was signed
    measured.presses(KEY.Key_Escape)


def test_a_change_behind_the_signature_is_a_draft_again(measured: Reader) -> None:
    measured.asks_to_sign().reads_and_signs().types("8").presses(KEY.Key_Return)
    measured.enters("misread")
    assert measured.reading("lunge-distance", RIGHT) is not None
    measured.gets(KEY.Key_P, CTRL)
    assert "DRAFT" in measured.text
    assert "8 cm" in measured.text
    measured.asks_to_sign().reads_and_signs()
    measured.qtbot.waitUntil(lambda: bool(measured.preview.data), timeout=LONG_MS)
    assert "DRAFT" not in measured.text


def test_signing_from_the_preview_comes_back_to_it(measured: Reader, qtbot: QtBot) -> None:
    cell = measured.at
    measured.gets(KEY.Key_P, CTRL)
    before = measured.preview.data
    measured.asks_to_sign().presses(KEY.Key_Escape)
    assert (measured.page.is_signing, measured.preview.data) == (False, before)
    assert measured.at is measured.preview.reader.view
    with qtbot.waitSignal(measured.preview.shown, timeout=LONG_MS):
        measured.asks_to_sign().reads_and_signs()
    assert not measured.page.is_signing
    assert "DRAFT" not in measured.text
    assert "Signed by R. Lind" in measured.page.banner.accessibleDescription()
    measured.presses(KEY.Key_Escape)
    assert measured.at is cell


def test_escape_leaves_signing_for_the_cell(measured: Reader) -> None:
    cell = measured.at
    measured.asks_to_sign().presses(KEY.Key_Escape)
    assert measured.at is cell
    assert signatures(measured.record.session.journal) == ()
    assert measured.signing.request is None


def test_who_cannot_sign_is_told_with_the_keys_in_the_name(opened: Window, reader: Reader) -> None:
    reader.presses(KEY.Key_F2)
    opened.walk.card.role.set_value(Role.STUDENT)
    opened.walk.card.supervisor.setText("M. Tau")
    reader.presses(KEY.Key_Return)
    reader.record.session.author = Author("M. Tau", Role.SUPERVISOR, "s")
    reader.presses(KEY.Key_Return, CTRL)
    assert reader.signing.remark.text() == "R. Lind, who examined, signs first."
    assert reader.place == "Your name"
    reader.presses(KEY.Key_Escape)
    assert opened.stack.currentWidget() is reader.record


def test_what_somebody_else_wrote_meanwhile_is_not_signed_over(
    measured: Reader, desk: Desk
) -> None:
    measured.asks_to_sign()
    session = measured.record.session
    other = Draft(
        EntryKind.SET,
        Author("M. Tau", Role.CLINICIAN, "s2"),
        "2026-05-12T09:00:00.000Z",
        "measure:lunge-distance",
        RIGHT,
        {"value": {"numbers": ["8"]}, "typed": "8"},
    )
    subject = session.journal.subject
    desk.keep(subject, desk.journal(subject).head, [other]).result()
    measured.reads_and_signs()
    assert "The record has changed" in measured.signing.remark.text()
    assert signatures(desk.journal(subject)) == ()
    measured.presses(KEY.Key_Escape).asks_to_sign().reads_and_signs()
    assert session.examination.signed_by == ("R. Lind",)
    assert len(signatures(desk.journal(subject))) == 1


def test_a_signature_that_cannot_be_kept_is_told(
    measured: Reader, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise KnownError("disk-full", "here", why="no space")

    monkeypatch.setattr(desk, "sign", full)
    measured.asks_to_sign().reads_and_signs()
    assert "nothing is signed" in measured.signing.remark.text()
    assert is_shown(measured)
    assert signatures(measured.record.session.journal) == ()


# --- from the patient's page and the list


@pytest.mark.usefixtures("demo_desk")
def test_any_visit_and_its_copy_from_the_patients_page(window: Window, reader: Reader) -> None:
    reader.types("HQ-0003").presses(KEY.Key_Return).presses(KEY.Key_Return)
    page = window.walk.patient_page
    reader.presses(KEY.Key_Down)
    chosen = page.chosen()
    assert chosen is not None
    reader.gets(KEY.Key_P, CTRL)
    assert "11-Mar-2026" in reader.preview.title
    assert "Examined 11-Mar-2026" in reader.text
    assert "HQ-0003" in reader.page.banner.accessibleDescription()
    assert not reader.preview.buttons["sign"].isVisible()
    reader.presses(KEY.Key_Escape)
    assert window.stack.currentWidget() is page
    assert (reader.at, page.chosen()) == (page.list, chosen)
    reader.gets(KEY.Key_P, CTRL | SHIFT)
    assert "Patient's copy of 11-Mar-2026" in reader.preview.title
    assert "Your feet" in reader.text
    assert "[1]" not in reader.text
    reader.presses(KEY.Key_Escape)
    assert (reader.at, page.chosen()) == (page.list, chosen)


def test_without_a_visit_there_is_nothing_to_print(opened: Window, reader: Reader) -> None:
    reader.presses(KEY.Key_P, CTRL)
    assert opened.walk.on_patient_page
    assert "Choose a visit" in opened.remark.text()
    assert not opened.walk.patient_page.report.isEnabled()


def test_the_patients_copy_of_the_open_examination(measured: Reader) -> None:
    cell = measured.at
    measured.gets(KEY.Key_P, CTRL | SHIFT)
    assert "Your feet" in measured.text
    assert not measured.preview.buttons["sign"].isVisible()
    measured.presses(KEY.Key_Return, CTRL)
    assert not measured.page.is_signing
    measured.presses(KEY.Key_Escape)
    assert measured.at is cell


@pytest.mark.parametrize(
    ("key", "title", "says"),
    [
        (KEY.Key_X, "Prescription of", "Prescription"),
        (KEY.Key_R, "Referral letter of", "Referral letter"),
        (KEY.Key_L, "Leaflet of", ""),
    ],
)
def test_prescription_letter_and_leaflet_of_the_open_examination(
    measured: Reader, key: Qt.Key, title: str, says: str
) -> None:
    cell = measured.at
    measured.gets(key, CTRL | SHIFT)
    assert measured.preview.title.startswith(title)
    assert says in measured.text
    assert "Quist" in measured.text or "QUIST" in measured.text
    assert not measured.preview.buttons["sign"].isVisible()
    measured.presses(KEY.Key_Escape)
    assert measured.at is cell


def test_a_blank_form_from_the_list_and_the_patients_page(window: Window, reader: Reader) -> None:
    reader.gets(KEY.Key_F, CTRL | SHIFT)
    assert "paper form" in reader.text
    assert not reader.page.banner.isVisible()
    document = reader.preview.reader.document
    assert document is not None
    core = document.pages
    reader.gets(KEY.Key_M, CTRL)
    document = reader.preview.reader.document
    assert document is not None
    assert document.pages > core
    assert reader.preview.name == "blank-form-all.pdf"
    reader.gets(KEY.Key_M, CTRL)
    assert reader.preview.name == "blank-form-core.pdf"
    reader.presses(KEY.Key_Escape)
    assert reader.at is window.walk.patients.line
    reader.types("quist").presses(KEY.Key_Return).presses(KEY.Key_Return)
    reader.gets(KEY.Key_F, CTRL | SHIFT)
    assert "QUIST" not in reader.text
    assert not reader.page.banner.isVisible()
    reader.presses(KEY.Key_Escape)
    assert window.walk.on_patient_page


def test_a_form_that_is_not_made_says_nothing_of_an_examination(
    reader: Reader, qtbot: QtBot
) -> None:
    maker = reader.preview.maker
    maker._arguments = ["-c", "import sys; sys.exit(4)"]
    with qtbot.waitSignal(maker.failed, timeout=LONG_MS):
        reader.presses(KEY.Key_F, CTRL | SHIFT)
    told = reader.window.remark.text()
    assert told == "Blank form, core sheet could not be made. It broke off; try again."


@pytest.mark.parametrize("button", ["report", "copy", "form"])
def test_the_buttons_of_the_patients_page(measured: Reader, button: str, qtbot: QtBot) -> None:
    window = measured.window
    measured.presses(KEY.Key_W, CTRL)
    pressed = getattr(window.walk.patient_page, button)
    with qtbot.waitSignal(measured.preview.shown, timeout=LONG_MS):
        pressed.click()
    kinds = {"report": "examination", "copy": "patient-copy", "form": "blank-form"}
    assert measured.page.paper is not None
    assert measured.page.paper.wanted.kind == kinds[button]


# --- other colours, the blank screen, help, the child ahead


def test_other_colours_keep_what_is_read_and_the_way_back(measured: Reader) -> None:
    measured.gets(KEY.Key_P, CTRL).presses(KEY.Key_Right)
    old = measured.page
    measured.presses(KEY.Key_D, CTRL | SHIFT)
    assert measured.window.theme is DARK
    assert measured.page is not old
    assert (measured.preview.reader.number, is_shown(measured)) == (2, True)
    assert "QUIST" in measured.page.banner.accessibleDescription()
    assert measured.preview.buttons["sign"].isVisible()
    measured.presses(KEY.Key_Escape)
    assert measured.window.stack.currentWidget() is measured.record
    assert measured.place.startswith("Lunge, toe to wall, right foot")


def test_other_colours_while_signing_show_the_pages_anew(measured: Reader, qtbot: QtBot) -> None:
    measured.asks_to_sign()
    measured.signing.name.setFocus()
    measured.types("x").presses(KEY.Key_Plus, CTRL)
    assert measured.window.preferences.zoom == 1.0
    assert "not taken over yet" in measured.window.remark.text()
    assert "x" in measured.signing.name.text()
    measured.signing.name.setText("R. Lind")
    measured.presses(KEY.Key_D, CTRL | SHIFT)
    assert measured.page.is_signing
    qtbot.waitUntil(lambda: measured.signing.reader.document is not None, timeout=LONG_MS)
    settle()
    measured.reads_and_signs()
    assert measured.record.session.examination.signed_by == ("R. Lind",)


def test_help_and_the_blank_screen_come_back_to_the_page(measured: Reader) -> None:
    measured.gets(KEY.Key_P, CTRL)
    for key, held in ((KEY.Key_F1, HELD.NoModifier), (KEY.Key_B, CTRL)):
        measured.presses(key, held)
        assert not is_shown(measured)
        measured.presses(KEY.Key_Escape)
        assert is_shown(measured)
        assert measured.at is measured.preview.reader.view
    assert measured.preview.data


def test_the_next_child_is_started_when_nobody_types(measured: Reader, qtbot: QtBot) -> None:
    papers = measured.window.walk.papers
    assert papers._quiet.isActive()
    papers._quiet.start(1)
    qtbot.waitUntil(lambda: measured.preview.maker._ahead is not None)
    ahead = measured.preview.maker._ahead
    assert ahead is not None
    measured.gets(KEY.Key_P, CTRL)
    assert measured.preview.maker._ahead is None
    papers._quiet.start(1)
    qtbot.waitUntil(lambda: not papers._quiet.isActive())
    assert measured.preview.maker._ahead is None  # not while a document is read
    measured.presses(KEY.Key_Escape)
    papers._quiet.start(1)
    qtbot.waitUntil(lambda: measured.preview.maker._ahead is not None)
    measured.presses(KEY.Key_W, CTRL)
    assert measured.preview.maker._ahead is None
    assert not papers._quiet.isActive()


def test_leaving_the_record_forgets_the_paper(measured: Reader) -> None:
    measured.asks_to_sign().presses(KEY.Key_Escape).presses(KEY.Key_W, CTRL)
    page = measured.page
    assert (page.paper, page.signing.request, page.preview.data) == (None, None, b"")
    QApplication.processEvents()
