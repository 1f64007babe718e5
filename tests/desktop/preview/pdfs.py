"""Small documents of known text, and broken ones."""

from io import BytesIO

from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen.canvas import Canvas


def pdf(*pages: str, lock_word: str = "", size: tuple[float, float] = (595.0, 842.0)) -> bytes:
    """A document of one line for each page, with a box on it."""
    buffer = BytesIO()
    lock = StandardEncryption(lock_word, canPrint=0) if lock_word else None
    canvas = Canvas(buffer, pagesize=size, invariant=1, encrypt=lock)
    for words in pages:
        canvas.setFont("Helvetica", 20)
        for at, line in enumerate(words.split("\n")):
            canvas.drawString(60, size[1] - 100 - 30 * at, line)
        canvas.rect(50, 50, 120, 80, stroke=1, fill=1)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def numbered(count: int) -> bytes:
    """A document whose pages say which they are; every tenth says so twice."""
    return pdf(
        *(
            f"This is leaf {n}" + (f"\nagain leaf {n}" if n % 10 == 0 else "")
            for n in range(1, count + 1)
        )
    )
