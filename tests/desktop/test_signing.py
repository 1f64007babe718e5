"""Signing by real keys: the very pages, who signs, what is refused, and what is kept."""

import gc
import hashlib
import shutil
import weakref
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from footexam.desktop.preview.child import Made, Wanted, make
from footexam.desktop.preview.document import Document
from footexam.desktop.preview.making import Maker
from footexam.desktop.signing import Request, Signed, SigningPage, signed_of
from footexam.desktop.theme import LIGHT
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Examination, Patient
from footexam.record.fold import fold_examination
from footexam.record.journal import Journal
from footexam.record.signing import Shown, Standing, signatures, standing
from footexam.store import Conflict, KnownError, Store
from footexam.store.quick_list import PatientList
from footexam.terms import Role
from tests.desktop.preview.pdfs import numbered
from tests.desktop.user import settle

SUBJECT = "examination:1"
AT = "2026-03-04T10:20:00.000Z"
NOW = datetime(2026, 3, 4, 12, 30, tzinfo=timezone(timedelta(hours=2)))
ANN = Author("Ann Berg", Role.CLINICIAN, "s1")
BO = Author("Bo Lund", Role.STUDENT, "s1")
CLEO = Author("Cleo Dahl", Role.SUPERVISOR, "s2")
KEY, HELD = Qt.Key, Qt.KeyboardModifier


@dataclass
class Record:
    """An open record as a Session is one."""

    journal: Journal
    open_entries: int = 0
    refused: bool = False

    @property
    def examination(self) -> Examination:
        return fold_examination(self.journal, Patient("Quist"))

    def unsaved(self) -> int:
        return self.open_entries


def fact(name: str, value: object, author: Author) -> Draft:
    return Draft(EntryKind.SET, author, AT, f"exam:{name}", body={"is": value})


def record(examiner: Author) -> Record:
    journal = Journal(SUBJECT)
    journal.append(fact("examined-on", "2026-03-04", examiner))
    who = {"name": examiner.name, "role": examiner.role.value}
    journal.append(fact("examiner", who, examiner))
    journal.append(fact("supervisor", {"name": CLEO.name, "role": "supervisor"}, examiner))
    return Record(journal)


class Pages(Maker):
    """Gives the same pages at once, as made from the record as it stands."""

    def __init__(self, of: Record, pages: int = 3) -> None:
        super().__init__()
        self.of, self.document = of, numbered(pages)
        self.signers: list[str] = []

    def make(self, wanted: Wanted) -> None:
        self.signers.append(wanted.signer)
        head, version = self.of.journal.head, len(self.of.journal)
        self.made.emit(Made(self.document, b'{"a": 1}\n', head, version, "digest"))


@dataclass
class Desk:
    """Keeps signatures in the journal, as the store would."""

    of: Record
    kept: list[Signed] = field(default_factory=list)
    fails: Exception | None = None

    def keep(self, signed: Signed) -> None:
        if self.fails is not None:
            raise self.fails
        assert signed.head == self.of.journal.head
        for draft in signed.drafts:
            self.of.journal.append(draft)
        self.kept.append(signed)


@dataclass
class Signing:
    """A signing page in use."""

    page: SigningPage
    of: Record
    desk: Desk
    pages: Pages

    def ask(self, author: Author) -> "Signing":
        request = Request(
            record=self.of,
            wanted=Wanted("store", SUBJECT),
            author=author,
            title="Report of QUIST",
            keep=self.desk.keep,
            cell_refused=lambda: self.of.refused,
        )
        self.page.ask(request)
        settle()
        return self

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = HELD.NoModifier) -> "Signing":
        focus = QApplication.focusWidget()
        assert focus is not None
        QTest.keyClick(focus, key, held)
        settle()
        return self

    def reads(self) -> "Signing":
        for _ in range(3):
            self.press(KEY.Key_Right)
        self.page.read.setChecked(True)
        return self

    def signs(self) -> "Signing":
        return self.press(KEY.Key_Return, HELD.ControlModifier)

    @property
    def told(self) -> str:
        return self.page.remark.text()


MakeSigning = Callable[[Author], Signing]


@pytest.fixture
def signing_of() -> Iterator[MakeSigning]:
    made: list[SigningPage] = []

    def build(examiner: Author) -> Signing:
        of = record(examiner)
        pages = Pages(of)
        page = SigningPage(LIGHT, maker=pages, now=lambda: NOW)
        page.resize(1000, 700)
        page.show()
        page.activateWindow()
        QTest.qWaitForWindowExposed(page)
        made.append(page)
        return Signing(page, of, Desk(of), pages)

    yield build
    for page in made:
        page.hide()
        page.deleteLater()
    made.clear()
    settle()


# --- the way it goes


def test_the_examiner_reads_and_signs_by_keys(signing_of: MakeSigning, qtbot: QtBot) -> None:
    signing = signing_of(ANN).ask(ANN)
    page = signing.page
    assert (page.name.text(), page.role.value()) == ("Ann Berg", "clinician")
    assert signing.pages.signers == ["Ann Berg"]
    assert page.reader.place.text() == "Page 1 of 3"
    assert signing.told == "Not shown yet: pages 2 to 3. PageDown goes on."
    signing.press(KEY.Key_Right)
    assert signing.told == "Not shown yet: page 3. PageDown goes on."
    signing.press(KEY.Key_Right)
    assert signing.told == ""
    signing.press(KEY.Key_R, HELD.AltModifier)
    qtbot.waitUntil(page.read.isChecked)
    with qtbot.waitSignal(page.signed) as signed:
        signing.signs()
    assert signed.args == [ANN]
    assert standing(signing.of.journal, signing.of.examination) is Standing.SIGNED
    assert page.reader.document is None


def test_what_is_kept_are_the_bytes_that_were_shown(signing_of: MakeSigning) -> None:
    signing = signing_of(ANN).ask(ANN)
    head, version = signing.of.journal.head, len(signing.of.journal)
    signing.reads().signs()
    (kept,) = signing.desk.kept
    document, assessment = kept.attachments
    assert (document.data, document.type) == (signing.pages.document, "application/pdf")
    assert (assessment.data, assessment.type) == (b'{"a": 1}\n', "application/json")
    assert (kept.head, [draft.kind for draft in kept.drafts]) == (
        head,
        [EntryKind.ATTACH, EntryKind.ATTACH, EntryKind.SIGN],
    )
    (one,) = signatures(signing.of.journal)
    assert one.sound
    assert one.document == hashlib.sha256(signing.pages.document).hexdigest()
    assert (one.covers, one.version, one.pages) == (head, version, 3)
    assert (one.at, one.offset) == ("2026-03-04T10:30:00.000Z", 120)
    assert (one.statement, one.catalogue) == ("I have read these pages.", "digest")
    assert one.by == ANN


def test_student_then_supervisor(signing_of: MakeSigning) -> None:
    signing = signing_of(BO).ask(BO)
    signing.reads().signs()
    assert standing(signing.of.journal, signing.of.examination) is Standing.AWAITING
    signing.ask(BO)
    page = signing.page
    assert (page.name.text(), page.role.value()) == ("Cleo Dahl", "supervisor")
    assert page.history.text() == "Bo Lund (student) signed version 3."
    signing.reads().signs()
    assert standing(signing.of.journal, signing.of.examination) is Standing.SIGNED
    assert signing.pages.signers == ["Bo Lund", "Cleo Dahl"]
    signing.ask(CLEO)
    assert signing.told == "Cleo Dahl has signed already, and nothing has changed since."
    assert signing.page.reader.document is None
    assert signing.pages.signers == ["Bo Lund", "Cleo Dahl"]


def test_another_name_makes_other_pages_to_be_read_anew(signing_of: MakeSigning) -> None:
    signing = signing_of(ANN).ask(ANN).reads()
    page = signing.page
    page.name.setFocus()
    page.name.setText("ann  berg")
    signing.press(KEY.Key_Return)
    assert signing.pages.signers == ["Ann Berg", "ann berg"]
    assert not page.read.isChecked()
    assert "Not shown yet: pages 2 to 3" in signing.told
    page.name.setText("Ann Berg-Olsen")
    signing.signs()
    assert signing.desk.kept == []
    assert "Ann Berg" not in signing.pages.signers[2:]


# --- what is refused


def test_nothing_is_signed_unread(signing_of: MakeSigning) -> None:
    signing = signing_of(ANN).ask(ANN)
    signing.page.read.setChecked(True)
    signing.signs()
    assert signing.told == "Not shown yet: pages 2 to 3. PageDown goes on."
    signing.reads()
    signing.page.read.setChecked(False)
    signing.signs()
    assert signing.told == "Say first that you have read these pages (Alt+R)."
    assert signing.desk.kept == []


@pytest.mark.parametrize(
    ("late", "told"),
    [
        (lambda of: setattr(of, "open_entries", 1), "An entry is not saved yet"),
        (lambda of: setattr(of, "refused", True), "A cell is not taken over"),
        (lambda of: of.journal.append(fact("purpose", "record", ANN)), "The record has changed"),
        (
            lambda of: of.journal.append(fact("entered-in-error", {"reason": "x"}, ANN)),
            "entered in error",
        ),
    ],
)
def test_what_happens_meanwhile_is_not_signed_over(
    signing_of: MakeSigning, late: Callable[[Record], object], told: str
) -> None:
    signing = signing_of(ANN).ask(ANN).reads()
    late(signing.of)
    signing.signs()
    assert told in signing.told
    assert signing.desk.kept == []


@pytest.mark.parametrize(
    ("name", "role", "told"),
    [
        ("", "clinician", "Write who signs."),
        ("Cleo Dahl", "supervisor", "Ann Berg, who examined, signs first."),
        ("Ann Berg", "supervisor", "Ann Berg examined as clinician and signs as that."),
        ("Ann\x07Berg", "clinician", "Write who signs."),
    ],
)
def test_who_cannot_sign_is_told_why(
    signing_of: MakeSigning, name: str, role: str, told: str
) -> None:
    signing = signing_of(ANN).ask(ANN).reads()
    signing.page.name.setText(name)
    signing.page.role.set_value(role)
    signing.signs()
    assert signing.told == told
    assert signing.desk.kept == []


@pytest.mark.parametrize(
    ("bad", "told"),
    [
        (KnownError("disk-full", Path("store")), "could not be kept; nothing is signed."),
        (Conflict(SUBJECT, ()), "The record has changed"),
    ],
)
def test_what_cannot_be_kept_is_not_signed(
    signing_of: MakeSigning, qtbot: QtBot, bad: Exception, told: str
) -> None:
    signing = signing_of(ANN).ask(ANN).reads()
    signing.desk.fails = bad
    with qtbot.assertNotEmitted(signing.page.signed):
        signing.signs()
    assert told in signing.told
    assert signatures(signing.of.journal) == ()
    signing.desk.fails = None
    signing.signs()
    assert len(signatures(signing.of.journal)) == 1


def test_pages_that_cannot_be_made_are_not_signed(signing_of: MakeSigning) -> None:
    signing = signing_of(ANN)
    signing.pages.document = b"no pdf"
    signing.ask(ANN)
    assert "could not be made" in signing.told
    assert not signing.page.go.isEnabled()
    signing.page.read.setChecked(True)
    signing.signs()
    assert signing.desk.kept == []
    signing.page.maker.failed.emit("The disk is full.")
    assert signing.told.endswith("The disk is full.")
    signing.page.maker.waiting.emit(2)
    assert "(2 s)" in signing.told


# --- leaving, names, memory


def test_escape_leaves_without_a_signature(signing_of: MakeSigning, qtbot: QtBot) -> None:
    signing = signing_of(ANN).ask(ANN).reads()
    with qtbot.waitSignal(signing.page.escaped):
        signing.press(KEY.Key_Escape)
    assert signing.desk.kept == []
    assert signing.page.reader.document is None
    signing.page.sign()
    assert signing.desk.kept == []


def test_everything_that_takes_keys_has_a_name(signing_of: MakeSigning) -> None:
    signing = signing_of(ANN).ask(ANN)
    names = [
        QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)
        for widget in signing.page.findChildren(QWidget)
        if widget.focusPolicy() is not Qt.FocusPolicy.NoFocus and widget.isVisible()
    ]
    assert all(names)
    assert {"Your name", "Your role: Student"} <= set(names)
    assert any(name.startswith("Report of QUIST, page 1") for name in names)


def test_the_pages_turn_from_the_box_as_well(signing_of: MakeSigning) -> None:
    signing = signing_of(ANN).ask(ANN)
    signing.page.read.setFocus()
    signing.press(KEY.Key_PageDown, HELD.ControlModifier)
    assert signing.page.reader.number == 2
    signing.page.name.setFocus()
    signing.press(KEY.Key_Home)
    QTest.keyClicks(signing.page.name, "t+0")
    assert (signing.page.reader.number, signing.page.name.text()) == (2, "t+0Ann Berg")


def test_the_page_is_freed_on_close() -> None:
    gc.collect()
    gc.disable()
    try:
        page = SigningPage(LIGHT)
        page.show()
        settle()
        watched = weakref.ref(page)
        page.deleteLater()
        del page
        settle()
        assert watched() is None
    finally:
        gc.enable()


# --- with the real child and the real store


def test_a_signature_in_a_real_store_shows_what_was_signed(
    demo_master: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "store"
    shutil.copytree(demo_master, folder)
    for left in folder.glob("*.lock"):
        left.unlink()
    with Store.open(folder) as store:
        row = next(
            row
            for patient in _patients(folder)
            for row in store.examinations(patient)
            if row.purpose == "student"
        )
        examination = store.examination(row.subject)
    student = Author(examination.examiner.name, Role.STUDENT)
    supervisor = Author(examination.supervisor.name, Role.SUPERVISOR)
    for author, mark in ((student, "DRAFT, not countersigned"), (supervisor, "Signed by")):
        made = make(Wanted(str(folder), row.subject, signer=author.name))
        shown = Shown(made.document, made.assessment, 5, made.head, made.version, made.catalogue)
        signed = signed_of(shown, author, NOW)
        with Store.open(folder) as store:
            store.append(row.subject, signed.head, signed.drafts, signed.attachments)
            with pytest.raises(Conflict):  # not behind what has come since
                store.append(row.subject, signed.head, signed.drafts, signed.attachments)
            journal = store.journal(row.subject)
            last = signatures(journal)[-1]
            assert last.sound
            assert store.attachment(last.document).data == made.document
            assert store.attachment(last.assessment).data == made.assessment
            assert store.verify().whole
        assert mark in _text(made.document)
    assert standing(journal, _examination(folder, row.subject)) is Standing.SIGNED


def _patients(folder: Path) -> list[str]:
    patients = PatientList(folder)
    found = [row.subject for row in patients.search("HQ-0007").rows]
    patients.close()
    return found


def _examination(folder: Path, subject: str) -> Examination:
    with Store.read(folder) as store:
        return store.examination(subject)


def _text(data: bytes) -> str:
    document = Document(data)
    text = document.text(1) + document.text(document.pages)
    document.close()
    return text
