"""A preview on the screen, closed and freed at the end."""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from footexam.desktop.preview.making import Maker
from footexam.desktop.preview.page import PreviewPage
from footexam.desktop.theme import LIGHT, Theme
from tests.desktop.user import settle

MakePreview = Callable[..., PreviewPage]


@pytest.fixture
def make_preview() -> Iterator[MakePreview]:
    """Makes previews; closed, freed and nothing left at the end."""
    made: list[PreviewPage] = []

    def make(maker: Maker | None = None, theme: Theme = LIGHT) -> PreviewPage:
        page = PreviewPage(theme, maker=maker)
        page.resize(900, 700)
        page.show()
        page.activateWindow()
        QTest.qWaitForWindowExposed(page)
        page.setFocus()
        made.append(page)
        return page

    yield make
    for page in made:
        page.close_document()
        page.hide()
        page.deleteLater()
    made.clear()
    settle()
    assert not [widget for widget in QApplication.topLevelWidgets() if widget.isVisible()]


@pytest.fixture
def preview(make_preview: MakePreview) -> PreviewPage:
    """A preview in light colours."""
    return make_preview()
