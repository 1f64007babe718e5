"""A document in memory: pictures, texts, places, and what cannot be shown."""

import gc
import random
from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QImage

from footexam.desktop.preview.document import MOST_HITS, Document, NotShown, pixels
from tests.desktop.preview.pdfs import numbered, pdf

THREE = pdf("Left foot", "Right foot, right knee", "")


def array(image: QImage) -> np.ndarray:
    bits = np.frombuffer(image.bits(), np.uint8)
    rows = bits.reshape(image.height(), image.bytesPerLine() // 4, 4)
    return rows[:, : image.width(), :3].copy()  # the bits go with the image


def own_rendering(data: bytes, number: int, scale: float) -> np.ndarray:
    pdf_document = pypdfium2.PdfDocument(data)
    bitmap = pdf_document[number - 1].render(scale=scale, prefer_bgrx=True)
    pixels_of_it = bitmap.to_numpy()[..., :3].copy()
    pdf_document.close()
    return pixels_of_it


@pytest.mark.parametrize("scale", [0.5, 1.0, 1.37, 3.0])
@pytest.mark.parametrize("number", [1, 2])
def test_a_page_is_what_pypdfium2_draws(scale: float, number: int) -> None:
    document = Document(THREE)
    width, height = pixels(document.size(number), scale)
    shown = array(document.picture(number, scale, QRect(0, 0, width, height)))
    own = own_rendering(THREE, number, scale)
    assert shown.shape == own.shape
    assert (shown != 255).any()
    assert np.array_equal(shown, own)
    document.close()


def test_a_part_of_a_page_is_that_part() -> None:
    document = Document(THREE)
    part = array(document.picture(1, 2.0, QRect(90, 130, 301, 207)))
    assert np.array_equal(part, own_rendering(THREE, 1, 2.0)[130 : 130 + 207, 90 : 90 + 301])
    document.close()


def test_text_and_places_of_words() -> None:
    document = Document(THREE)
    assert (document.pages, document.text(1), document.text(3)) == (3, "Left foot", "")
    assert len(document.find(2, "RIGHT")) == 2
    ((box,),) = document.find(1, "foot")
    assert 60 < box.left() < box.right() < 160
    assert 80 < box.top() < box.bottom() < 110
    assert document.find(1, "knee") == document.find(1, "   ") == document.find(3, "e") == []
    document.close()


@pytest.mark.parametrize("words", ["\0", "a\0b", "\ud800", "(.*", "𝒙" * 300, "\u202eleft"])
def test_any_words_can_be_sought(words: str) -> None:
    document = Document(THREE)
    assert document.find(1, words) == []
    document.close()


def test_places_on_a_page_are_bounded() -> None:
    document = Document(pdf("\n".join(["e" * 60] * 20)))
    assert len(document.find(1, "e")) == MOST_HITS
    document.close()


def test_no_page_stays_open() -> None:
    document = Document(THREE)
    document.picture(1, 1.0, QRect(0, 0, 10, 10))
    document.text(2)
    document.find(1, "foot")
    gc.collect()
    assert not [kid for kid in document._pdf._kids if kid() is not None]
    document.close()
    assert document.data == b""


# --- what cannot be shown


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "damaged, or no PDF"),
        (b"hello", "damaged, or no PDF"),
        (b"%PDF-1.7\n", "damaged, or no PDF"),
        (b"\0" * 4096, "damaged, or no PDF"),
        (b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 1 0 R>>endobj\n%%EOF", "damaged, or no PDF"),
        (pdf("secret", lock_word="open sesame"), "locked with a password"),
    ],
)
def test_what_is_no_document_is_told(data: bytes, told: str) -> None:
    with pytest.raises(NotShown, match=told):
        Document(data)


def test_a_document_without_pages_is_told() -> None:
    empty = pypdfium2.PdfDocument.new()
    buffer = BytesIO()
    empty.save(buffer)
    with pytest.raises(NotShown):
        Document(buffer.getvalue())


def everything(data: bytes) -> bool:
    """Ask everything of a document that may be broken; whether anything was shown."""
    try:
        document = Document(data)
    except NotShown:
        return False
    shown = False
    for number in range(1, min(document.pages, 5) + 1):
        try:
            width, height = pixels(document.size(number), 0.2)
            document.picture(number, 0.2, QRect(0, 0, min(width, 500), min(height, 500)))
            document.text(number)
            document.find(number, "e")
            shown = True
        except NotShown:
            continue
    document.close()
    return shown


def test_a_document_cut_anywhere_is_shown_or_told() -> None:
    whole = numbered(3)
    assert everything(whole)
    for length in range(0, len(whole), 97):
        everything(whole[:length])


def test_a_document_with_turned_bytes_is_shown_or_told() -> None:
    chance = random.Random(5)
    whole = numbered(3)
    for _ in range(150):
        data = bytearray(whole)
        for _ in range(chance.randint(1, 40)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        everything(bytes(data))


def test_the_file_can_be_overwritten_while_it_is_shown(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(THREE)
    document = Document(path.read_bytes())
    path.write_bytes(b"other")
    path.unlink()
    assert document.text(1) == "Left foot"
    document.close()
