"""The preview by real keys: turning, sizes, finding, text, saving, printing, leaving."""

import gc
import os
import stat
import sys
import time
import weakref
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QAccessible, QAction, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from footexam.desktop.preview.document import pixels
from footexam.desktop.preview.keeping import Viewer, safe_name
from footexam.desktop.preview.page import PreviewPage
from footexam.desktop.preview.view import LARGEST_SIDE
from footexam.desktop.theme import DARK, LIGHT
from tests.desktop.preview.conftest import MakePreview
from tests.desktop.preview.pdfs import numbered, pdf
from tests.desktop.preview.test_document import array, own_rendering
from tests.desktop.user import settle

KEY, HELD = Qt.Key, Qt.KeyboardModifier
CTRL, SHIFT = HELD.ControlModifier, HELD.ShiftModifier


def press(key: Qt.Key | str, held: Qt.KeyboardModifier = HELD.NoModifier) -> None:
    focus = QApplication.focusWidget()
    assert focus is not None
    QTest.keyClick(focus, key, held)
    settle()


def shows(preview: PreviewPage, data: bytes | Path, title: str = "Report") -> PreviewPage:
    assert preview.show_document(data, title)
    settle()
    return preview


def told(preview: PreviewPage) -> list[str]:
    words: list[str] = []
    preview.told.connect(words.append)
    return words


# --- what is on the screen


@pytest.mark.parametrize("theme", [LIGHT, DARK])
@pytest.mark.parametrize("percent", [None, 100, 300])
def test_the_pixels_on_the_screen_are_those_of_pypdfium2(
    make_preview: MakePreview, theme: object, percent: int | None
) -> None:
    data = pdf("Left foot", "Right foot")
    view = shows(make_preview(theme=theme), data).reader.view
    view.set_percent(percent)
    view.verticalScrollBar().setValue(40)
    settle()
    screen = array(view.viewport().grab().toImage())
    origin = view.origin().toPoint()
    own = own_rendering(data, 1, view.scale())
    height = min(screen.shape[0] - max(0, origin.y()), own.shape[0] + min(0, origin.y()))
    # a frame of two pixels stands outside, one of them on the first row and column of the paper
    seen = screen[max(0, origin.y()) + 2 :, origin.x() + 2 :][: height - 4, : own.shape[1] - 4]
    top = max(0, -origin.y()) + 2
    wanted = own[top : top + seen.shape[0], 2 : 2 + seen.shape[1]]
    assert (wanted != 255).any()
    assert np.array_equal(seen, wanted)


def test_the_paper_stays_white_on_dark(make_preview: MakePreview) -> None:
    view = shows(make_preview(theme=DARK), pdf("Left foot")).reader.view
    image = view.viewport().grab().toImage()
    inside = view.origin().toPoint() + QPoint(20, 20)
    assert image.pixelColor(inside).name() == "#ffffff"
    assert image.pixelColor(1, 1).name() == DARK.paper.lower()
    frame = view.origin().toPoint() + QPoint(-1, 30)
    assert image.pixelColor(frame).name() not in {"#ffffff", DARK.paper.lower()}


def test_only_what_is_seen_is_drawn(preview: PreviewPage) -> None:
    view = shows(preview, pdf("Left foot", size=(595, 4900))).reader.view
    view.set_percent(300)
    settle()
    width, height = pixels(view._size, view.scale())
    assert width * height > 40_000_000
    assert view._image.width() * view._image.height() < 2 * 900 * 700


def test_a_page_that_says_it_is_huge_is_not_drawn_so(preview: PreviewPage) -> None:
    view = shows(preview, pdf("Left foot", size=(14_000, 14_000))).reader.view
    view.set_percent(300)
    settle()
    assert max(pixels(view._size, view.scale())) <= LARGEST_SIDE
    shows(preview, pdf("", size=(3, 3)))
    view.set_percent(None)
    settle()
    assert view.scale() <= 40


# --- turning and sizes


def test_pages_turn_by_keys(preview: PreviewPage) -> None:
    reader = shows(preview, numbered(12)).reader
    assert reader.place.text() == "Page 1 of 12"
    press(KEY.Key_Right)
    assert (reader.number, reader.place.text()) == (2, "Page 2 of 12")
    press(KEY.Key_End)
    assert reader.number == 12
    press(KEY.Key_Right)
    assert reader.number == 12
    press(KEY.Key_Left)
    assert reader.number == 11
    press(KEY.Key_Home)
    press(KEY.Key_Left)
    assert reader.number == 1
    press(KEY.Key_PageDown, CTRL)
    assert reader.number == 2


def test_page_down_reads_to_the_end_of_a_page_before_it_turns(preview: PreviewPage) -> None:
    reader = shows(preview, numbered(3)).reader
    bar = reader.view.verticalScrollBar()
    assert bar.maximum() > 0
    press(KEY.Key_PageDown)
    assert (reader.number, bar.value() > 0) == (1, True)
    while bar.value() < bar.maximum():
        press(KEY.Key_Space)
    press(KEY.Key_PageDown)
    assert (reader.number, bar.value()) == (2, 0)
    press(KEY.Key_PageUp)
    assert (reader.number, bar.value()) == (1, bar.maximum())
    press(KEY.Key_Up)
    assert bar.value() < bar.maximum()


def test_sizes_by_keys(preview: PreviewPage) -> None:
    reader = shows(preview, numbered(2)).reader
    view = reader.view
    assert reader.size_label.text().endswith("%, fit to width")
    assert view.horizontalScrollBar().maximum() == 0
    room = view.viewport().width()
    assert room * 0.9 < view._page().width() <= room
    for _ in range(9):
        press("-")
    assert (view.percent, reader.size_label.text()) == (100, "100 %")
    sizes = []
    for _ in range(7):
        press("+")
        sizes.append(view.percent)
    assert sizes == [125, 150, 200, 250, 300, 300, 300]
    assert view.horizontalScrollBar().maximum() > 0
    press("0")
    assert view.percent is None
    before = view._page().width()
    preview.resize(700, 600)
    settle()
    assert view._page().width() < before


# --- finding


def sought(preview: PreviewPage, qtbot: QtBot, words: str) -> None:
    press(KEY.Key_F, CTRL)
    QTest.keyClicks(QApplication.focusWidget(), words)
    press(KEY.Key_Return)
    qtbot.waitUntil(lambda: not preview.reader.search.goes_on)
    settle()


def test_finding_goes_round_from_the_page_that_is_shown(preview: PreviewPage, qtbot: QtBot) -> None:
    reader = shows(preview, numbered(30)).reader
    press(KEY.Key_Right)
    sought(preview, qtbot, "AGAIN  leaf")
    assert (reader.number, reader.found.text()) == (10, "1 of 3")
    places = []
    for _ in range(4):
        press(KEY.Key_F3)
        places.append((reader.number, reader.found.text()))
    assert places == [(20, "2 of 3"), (30, "3 of 3"), (10, "1 of 3"), (20, "2 of 3")]
    press(KEY.Key_F3, SHIFT)
    press(KEY.Key_F3, SHIFT)
    assert (reader.number, reader.found.text()) == (30, "3 of 3")
    press(KEY.Key_Return)
    assert reader.number == 10


def test_finding_outlines_every_place_and_the_one_at_hand_more_strongly(
    preview: PreviewPage, qtbot: QtBot
) -> None:
    reader = shows(preview, numbered(10)).reader
    reader.last_page()
    settle()
    plain = array(reader.view.viewport().grab().toImage())
    sought(preview, qtbot, "leaf 10")
    assert reader.found.text() == "1 of 2"
    boxed = array(reader.view.viewport().grab().toImage())
    changed = (boxed != plain).any(axis=2)
    first, second = [box[0] for box in reader.view._hits]
    factor, origin = reader.view.scale(), reader.view.origin()

    def inked(at: QRectF) -> int:
        x, y = at.left() * factor + origin.x() - 3, at.top() * factor + origin.y() - 3
        area = QRect(round(x) - 3, round(y) - 3, round(at.width() * factor) + 12, 8)
        return int(changed[area.top() : area.bottom(), area.left() : area.right()].sum())

    assert inked(first) > inked(second) > 0
    press(KEY.Key_Escape)
    assert reader.line.isHidden()
    again = array(reader.view.viewport().grab().toImage())
    assert np.array_equal(again[5:-5, 20:-20], plain[5:-5, 20:-20])


def test_what_is_not_there_is_told(preview: PreviewPage, qtbot: QtBot) -> None:
    reader = shows(preview, numbered(5)).reader
    sought(preview, qtbot, "hand")
    assert (reader.number, reader.found.text()) == (1, "not found")
    assert reader.line.accessibleDescription() == "not found"
    press(KEY.Key_F3)
    assert reader.number == 1


def test_finding_holds_nothing_up_and_stops_with_the_document(
    preview: PreviewPage, qtbot: QtBot
) -> None:
    reader = shows(preview, numbered(1000)).reader
    assert reader.place.text() == "Page 1 of 1000"
    reader.open_find()
    reader.line.setText("again leaf 990")
    press(KEY.Key_Return)
    assert reader.search.goes_on
    assert "searching" in reader.found.text()
    qtbot.waitUntil(lambda: not reader.search.goes_on, timeout=20_000)
    assert (reader.number, reader.found.text()) == (990, "1 of 1")
    reader.line.setText("leaf")
    press(KEY.Key_Return)
    assert reader.search.goes_on
    preview.close_document()
    settle()
    assert not reader.search.goes_on


# --- text, names, shortcuts


def test_the_page_is_offered_as_text(preview: PreviewPage) -> None:
    reader = shows(preview, numbered(3), "Report of the visit").reader
    press("t")
    assert reader.text.isVisible()
    assert QApplication.focusWidget() is reader.text
    assert (reader.text.toPlainText(), reader.text.accessibleName()) == (
        "This is leaf 1",
        "Text of page 1",
    )
    assert reader.text.isReadOnly()
    press(KEY.Key_PageDown, CTRL)
    assert reader.text.toPlainText() == "This is leaf 2"
    press("t")
    assert QApplication.focusWidget() is reader.view
    assert reader.view.accessibleName() == "Report of the visit, page 2 of 3"
    assert reader.view.accessibleDescription() == "This is leaf 2"
    shows(preview, pdf(""))
    assert reader.view.accessibleDescription() == "This page holds no text."


def test_everything_that_takes_keys_has_a_name(preview: PreviewPage) -> None:
    shows(preview, numbered(2))
    preview.offer_signing(offered=True)
    preview.reader.open_find()
    preview.reader.toggle_text()
    settle()
    seen = 0
    for widget in preview.findChildren(QWidget):
        if widget.focusPolicy() is not Qt.FocusPolicy.NoFocus and widget.isVisible():
            face = QAccessible.queryAccessibleInterface(widget)
            assert face.text(QAccessible.Text.Name), widget
            seen += 1
    assert seen >= 8


def test_the_window_does_not_take_the_keys_of_the_preview(
    qtbot: QtBot,
) -> None:
    window = QMainWindow()
    qtbot.addWidget(window)
    taken: list[str] = []
    for keys in ("F3", "Ctrl+P", "Ctrl+S", "Ctrl+F", "Ctrl+PgDown", "F1"):
        action = QAction(keys, window)
        action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda _=False, keys=keys: taken.append(keys))
        window.addAction(action)
    page = PreviewPage(LIGHT, window)
    window.setCentralWidget(page)
    window.show()
    window.activateWindow()
    QTest.qWaitForWindowExposed(window)
    shows(page, numbered(3))
    saved: list[str] = []
    page.viewer.show = lambda _data, name: bool(saved.append(name))  # type: ignore[method-assign]
    press(KEY.Key_PageDown, CTRL)
    assert page.reader.number == 2
    press(KEY.Key_P, CTRL)
    assert saved == ["document.pdf"]
    press(KEY.Key_F3)
    assert page.reader.line.isVisible()
    press(KEY.Key_F1)
    assert taken == ["F1"]
    page.close_document()


# --- saving, printing, signing, leaving


def test_saving_asks_where_and_offers_no_name_of_a_patient(
    preview: PreviewPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = numbered(2)
    assert preview.show_document(data, "Report of QUIST, Maren", "examination-12ab.pdf")
    offered: list[str] = []

    def ask(_cls: type, _parent: QWidget, name: str) -> str:
        offered.append(name)
        return str(tmp_path / "mine")

    monkeypatch.setattr(PreviewPage, "ask", classmethod(ask))
    words = told(preview)
    press(KEY.Key_S, CTRL)
    made = tmp_path / "mine.pdf"
    assert made.read_bytes() == data
    assert offered == ["examination-12ab.pdf"]
    assert words[-1].startswith("Saved as mine.pdf.")
    if sys.platform != "win32":
        assert stat.S_IMODE(made.stat().st_mode) == 0o600
    assert [path.name for path in tmp_path.iterdir() if path.is_file()] == ["mine.pdf"]


def test_what_cannot_be_saved_is_told_and_leaves_nothing(
    preview: PreviewPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shows(preview, numbered(1))
    words = told(preview)
    for target in ("missing/a.pdf", "folder.pdf"):
        (tmp_path / "folder.pdf").mkdir(exist_ok=True)
        monkeypatch.setattr(
            PreviewPage, "ask", classmethod(lambda *_, to=target: str(tmp_path / to))
        )
        press(KEY.Key_S, CTRL)
        assert words[-1].startswith("It could not be saved as ")
    monkeypatch.setattr(PreviewPage, "ask", classmethod(lambda *_: ""))
    press(KEY.Key_S, CTRL)
    assert len(words) == 2
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == []


def test_printing_hands_a_private_copy_to_the_viewer_and_removes_it(
    make_preview: MakePreview, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Path] = []
    monkeypatch.setattr(Viewer, "open", classmethod(lambda _, path: not opened.append(path)))
    preview = make_preview()
    data = numbered(1)
    preview.show_document(data, "Report", "examination-12ab.pdf")
    words = told(preview)
    press(KEY.Key_P, CTRL)
    (path,) = opened
    assert (path.name, path.read_bytes()) == ("examination-12ab.pdf", data)
    assert home in path.parents
    if sys.platform != "win32":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    assert words == ["It opens in your viewer; print it there."]
    preview.hide()
    preview.viewer.clear()
    assert not path.exists()


def test_the_copy_goes_when_the_preview_goes(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Viewer, "open", classmethod(lambda *_: False))
    preview = PreviewPage(LIGHT)
    preview.show_document(numbered(1), "Report")
    words = told(preview)
    preview.print_document()
    assert words == ["No viewer opened it. Save it with Ctrl+S and open it yourself."]
    assert len(list(home.rglob("*.pdf"))) == 1
    preview.close_document()
    preview.deleteLater()
    settle()
    assert list(home.rglob("*.pdf")) == []


def test_what_an_earlier_run_left_is_removed_after_a_day(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Viewer, "open", classmethod(lambda *_: True))
    root = home / "data" / "documents" / "viewer"
    for name, age_h in (("old", 30), ("new", 1)):
        (root / name).mkdir(parents=True)
        (root / name / "a.pdf").write_bytes(b"x")
        os.utime(root / name, (time.time() - age_h * 3600,) * 2)
    viewer = Viewer()
    viewer.show(b"x", "b.pdf")
    assert sorted(path.name for path in root.iterdir() if path.name in {"old", "new"}) == ["new"]
    viewer.clear()


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("examination-12.pdf", "examination-12.pdf"),
        ("../../etc/passwd", "etcpasswd.pdf"),
        ("", "document.pdf"),
        ("\0:*?", "document.pdf"),
        ("x" * 300, "x" * 80 + ".pdf"),
    ],
)
def test_file_names_hold_no_paths(name: str, kept: str) -> None:
    assert safe_name(name) == kept


def test_signing_is_asked_only_where_it_is_offered(preview: PreviewPage) -> None:
    asked: list[int] = []
    preview.sign_wanted.connect(lambda: asked.append(1))
    shows(preview, numbered(1))
    press(KEY.Key_Return, CTRL)
    preview.offer_signing(offered=True)
    press(KEY.Key_Return, CTRL)
    assert asked == [1]
    preview.close_document()
    preview.sign()
    assert asked == [1]


def test_escape_closes_the_line_then_the_preview(preview: PreviewPage) -> None:
    reader = shows(preview, numbered(2)).reader
    gone: list[int] = []
    preview.escaped.connect(lambda: gone.append(1))
    press(KEY.Key_F, CTRL)
    press(KEY.Key_Escape)
    assert (gone, reader.line.isHidden(), reader.number) == ([], True, 1)
    assert QApplication.focusWidget() is reader.view
    press(KEY.Key_Escape)
    assert gone == [1]
    assert (reader.document, preview.data, reader.place.text()) == (None, b"", "")
    assert reader.view._image.isNull()
    for name in ("save", "print", "find", "text"):
        assert not preview.buttons[name].isEnabled()


# --- broken documents, memory


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"no pdf", "damaged, or no PDF"),
        (numbered(3)[:400], "damaged, or no PDF"),
        (pdf("x", lock_word="y"), "locked with a password"),
    ],
)
def test_what_cannot_be_shown_is_told_and_the_next_is_shown(
    preview: PreviewPage, data: bytes, words: str
) -> None:
    heard = told(preview)
    assert not preview.show_document(data, "Report")
    assert words in heard[-1]
    assert words in preview.progress.text()
    assert preview.progress.isVisible()
    assert preview.data == b""
    shows(preview, numbered(1))
    assert preview.progress.isHidden()


def test_a_file_is_read_and_not_kept_open(preview: PreviewPage, tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(numbered(2))
    shows(preview, path)
    path.unlink()
    press(KEY.Key_Right)
    assert preview.reader.number == 2
    heard = told(preview)
    assert not preview.show_document(path, "The report")
    assert heard == ["The report could not be read: no such file or directory."]


def test_memory_does_not_grow_with_documents_shown(preview: PreviewPage) -> None:
    data = numbered(20)
    documents = []
    for _ in range(5):
        shows(preview, data)
        documents.append(weakref.ref(preview.reader.document))
        for _ in range(19):
            preview.reader.next_page()
        settle()
    preview.close_document()
    gc.collect()
    assert [one() for one in documents] == [None] * 5


@pytest.mark.skipif(sys.platform != "linux", reason="reads the memory where Linux tells it")
def test_turning_many_pages_keeps_memory_flat(preview: PreviewPage) -> None:
    def resident_kb() -> int:
        status = Path("/proc/self/status").read_text()
        return int(status.split("VmRSS:")[1].split()[0])

    reader = shows(preview, numbered(400)).reader
    for _ in range(100):
        reader.next_page()
        settle()
    gc.collect()
    before = resident_kb()
    for _ in range(290):
        reader.next_page()
        settle()
    gc.collect()
    assert resident_kb() - before < 8_000  # one page kept would be 3 MB, 290 of them 900 MB


def test_the_preview_is_freed_on_close() -> None:
    gc.collect()
    gc.disable()
    try:
        preview = PreviewPage(LIGHT)
        preview.show_document(numbered(2), "Report")
        preview.show()
        settle()
        watched, reader = weakref.ref(preview), weakref.ref(preview.reader)
        preview.close_document()
        preview.deleteLater()
        del preview
        settle()
        assert (watched(), reader()) == (None, None)
    finally:
        gc.enable()


def with_a_lost_page(number: int) -> bytes:
    """Three pages, of which one is named but not there."""
    data = numbered(3)
    start = data.index(b"/Kids [") + len(b"/Kids [")
    kids = data[start : data.index(b"]", start)]
    lost = kids.split()
    lost[3 * (number - 1)] = b"99"
    return data.replace(kids, b" ".join(lost).ljust(len(kids)))


def test_a_lost_page_is_told_and_the_others_are_shown(preview: PreviewPage, qtbot: QtBot) -> None:
    reader = shows(preview, with_a_lost_page(2)).reader
    heard = told(preview)
    press(KEY.Key_Right)
    words = "Page 2 of this document is damaged and cannot be shown."
    assert (reader.number, heard[-1], reader.view.accessibleDescription()) == (2, words, words)
    assert reader.text.toPlainText() == words
    sought(preview, qtbot, "leaf")
    assert (reader.number, reader.found.text()) == (3, "2 of 2")


def test_a_lost_first_page_is_told(preview: PreviewPage) -> None:
    heard = told(preview)
    assert not preview.show_document(with_a_lost_page(1), "Report")
    assert heard == ["Page 1 of this document is damaged and cannot be shown."]
    assert preview.data == b""
