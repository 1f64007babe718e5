"""A document in memory: its pages as pictures, texts and places found; no page is kept open."""

import ctypes
from collections.abc import Iterator
from contextlib import contextmanager
from math import ceil
from typing import Any

from PySide6.QtCore import QRect, QRectF, QSizeF
from PySide6.QtGui import QImage

from footexam.desktop.preview.words import WORDS

MOST_HITS = 500
"""Places that are shown on one page at most; a search for one letter finds thousands."""


class NotShown(ValueError):
    """What cannot be shown, in one sentence for the person at the desk."""


class Document:
    """The pages of a PDF. The bytes are held, no file; pages are numbered from 1.

    Raises NotShown for what is no PDF, is locked, or has no pages.
    """

    def __init__(self, data: bytes) -> None:
        import pypdfium2

        self.data = data
        self._failure: type[Exception] = pypdfium2.PdfiumError
        self._pdf: Any = self._opened(pypdfium2)
        self.pages: int = len(self._pdf)
        if not self.pages:
            self.close()
            raise NotShown(WORDS["no-pages"])

    def _opened(self, pypdfium2: Any) -> Any:
        if not self.data:
            raise NotShown(WORDS["no-pdf"])
        try:
            return pypdfium2.PdfDocument(self.data)
        except self._failure as bad:
            locked = getattr(bad, "err_code", None) == pypdfium2.raw.FPDF_ERR_PASSWORD
            raise NotShown(WORDS["locked" if locked else "no-pdf"]) from bad

    def close(self) -> None:
        """Free everything; nothing can be asked of it after that."""
        self._pdf.close()
        self.data = b""

    @contextmanager
    def _page(self, number: int) -> Iterator[Any]:
        """A page, open for one use. NotShown if it is damaged."""
        try:
            page = self._pdf[number - 1]
        except self._failure as bad:
            raise NotShown(WORDS["no-page"].format(page=number)) from bad
        try:
            yield page
        finally:
            page.close()

    @contextmanager
    def _text_page(self, number: int) -> Iterator[Any]:
        with self._page(number) as page:
            try:
                text_page = page.get_textpage()
            except self._failure as bad:
                raise NotShown(WORDS["no-page"].format(page=number)) from bad
            try:
                yield text_page
            finally:
                text_page.close()

    def size(self, number: int) -> QSizeF:
        """Width and height of a page in points of 1/72 inch."""
        with self._page(number) as page:
            return QSizeF(*page.get_size())

    def picture(self, number: int, scale: float, part: QRect) -> QImage:
        """A part of a page at `scale` pixels a point; `part` is in pixels from its top left.

        It must lie inside the page. The paper is white.
        """
        from pypdfium2 import raw

        image = QImage(part.size(), QImage.Format.Format_RGB32)
        image.fill(0xFFFFFFFF)
        with self._page(number) as page:
            width, height = pixels(QSizeF(*page.get_size()), scale)
            bits = image.bits()
            memory = (ctypes.c_ubyte * len(bits)).from_buffer(bits)
            box = (part.width(), part.height(), raw.FPDFBitmap_BGRx)
            bitmap = raw.FPDFBitmap_CreateEx(*box, memory, image.bytesPerLine())
            place = (-part.x(), -part.y(), width, height, 0)
            raw.FPDF_RenderPageBitmap(bitmap, page, *place, raw.FPDF_ANNOT)
            raw.FPDFBitmap_Destroy(bitmap)
        return image

    def text(self, number: int) -> str:
        """The text of a page, its lines apart."""
        with self._text_page(number) as text_page:
            return str(text_page.get_text_bounded()).replace("\r\n", "\n").strip()

    def find(self, number: int, words: str) -> list[list[QRectF]]:
        """The places of words on a page, each as the boxes of its lines, in points from top left.

        Upper and lower case are the same. At most MOST_HITS.
        """
        sought = words.encode("utf-16-le", "replace").decode("utf-16-le").replace("\0", "")
        if not sought.strip():
            return []
        with self._page(number) as page:
            height = page.get_height()
        found: list[list[QRectF]] = []
        with self._text_page(number) as text_page:
            searcher = text_page.search(sought)
            while len(found) < MOST_HITS and (match := searcher.get_next()) is not None:
                found.append(_boxes(text_page, match, height))
            searcher.close()
        return found


def pixels(size: QSizeF, scale: float) -> tuple[int, int]:
    """Width and height of a page in whole pixels at `scale` pixels a point, at least 1."""
    return max(1, ceil(size.width() * scale)), max(1, ceil(size.height() * scale))


def _boxes(text_page: Any, match: tuple[int, int], height: float) -> list[QRectF]:
    """The boxes around characters, with y downwards."""
    rects = (text_page.get_rect(at) for at in range(text_page.count_rects(*match)))
    return [
        QRectF(left, height - top, right - left, top - bottom) for left, bottom, right, top in rects
    ]
