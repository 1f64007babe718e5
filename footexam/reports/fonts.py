"""The embedded type families of a document, which family has which character, and text widths."""

import unicodedata
from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any, TypeVar

Made = TypeVar("Made")

FAMILIES = (
    ("AtkinsonHyperlegibleNext-Regular", "AtkinsonHyperlegibleNext-Bold"),
    ("NotoSans-Regular", "NotoSans-Bold"),
    ("NotoSansSymbols-Regular", "NotoSansSymbols-Regular"),
)
"""Regular and bold file names; a character is taken from the first family that has it."""

UNSEEN = frozenset({"Cc", "Cf", "Zl", "Zp"})
"""Unicode categories of characters that have no shape of their own: controls and format marks."""

END = 0xFFFF
"""The end of a font's table of characters, which reportlab reads as one of them."""

NO_BREAK_SPACE = "\u00a0"

Run = tuple[str, str]
"""Font name and the text to draw in it."""


@dataclass(frozen=True, slots=True)
class Face:
    """One font file: its name in the PDF, and the width of each character in 1/1000 of the size."""

    name: str
    widths: dict[str, float]


@dataclass(frozen=True, slots=True)
class Faces:
    """The faces of one weight, the first family first."""

    families: tuple[Face, ...]

    def family_of(self, cluster: str) -> Face | None:
        """The first family that has every character of the cluster; None if there is none."""
        for face in self.families:
            if all(char in face.widths for char in cluster):
                return face
        return None


@cache
def load_faces(folder: Path) -> tuple[Faces, Faces]:
    """The regular and the bold faces in a folder, read and registered once in a process.

    Raises OSError where a file is missing and reportlab's TTFError where it is no font.
    """
    regular, bold = zip(*FAMILIES, strict=True)
    return _faces(folder, regular), _faces(folder, bold)


def _faces(folder: Path, names: tuple[str, ...]) -> Faces:
    """The faces of one weight."""
    return Faces(tuple(_face(folder / f"{name}.ttf") for name in names))


@cache
def _face(path: Path) -> Face:
    """One font file, registered with reportlab under its file name."""
    # the window measures and words nothing with reportlab: only a document pays for its import
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(path.stem, BytesIO(path.read_bytes()))
    pdfmetrics.registerFont(font)
    codes = (code for code in font.face.charToGlyph if 32 <= code != END)
    widths = {chr(code): font.face.getCharWidth(code) for code in codes}
    # reportlab draws a no-break space as a space.
    widths[NO_BREAK_SPACE] = widths.get(" ", 0.0)
    return Face(path.stem, widths)


class Typeset:
    """Measures and splits the text of one document; one per document, so that no text outlives it.

    `coded` holds the characters that were printed as their code point, because no family has them
    or because they show nothing by themselves (marks of writing direction, for example).
    """

    def __init__(self, folder: Path) -> None:
        """Takes the folder of the font files; raises as `load_faces`."""
        self._weights = load_faces(folder)
        self._plain = tuple(frozenset(faces.families[0].widths) for faces in self._weights)
        self._widths: dict[tuple[str, bool], float] = {}
        self._made: dict[Hashable, Any] = {}
        self.coded: set[str] = set()

    def once(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """What was made under a key, made only the first time."""
        if key not in self._made:
            self._made[key] = make()
        made: Made = self._made[key]
        return made

    def shown(self, text: str) -> str:
        """The text with each character that cannot be seen written as its code point: [U+674E]."""
        if self._plain[0].issuperset(text):
            return text
        return "".join(self._shown_char(char) for char in text)

    def _shown_char(self, char: str) -> str:
        """The character itself, or its code point in brackets."""
        if unicodedata.category(char) in UNSEEN or self._weights[0].family_of(char) is None:
            self.coded.add(char)
            return f"[U+{ord(char):04X}]"
        return char

    def width(self, text: str, size: float, bold: bool = False) -> float:
        """The width in points of a text that `shown` has passed, at a size in points."""
        known = self._widths.get((text, bold))
        if known is None:
            known = self._widths[text, bold] = self._measure(text, bold)
        return known * size / 1000

    def _measure(self, text: str, bold: bool) -> float:
        """The width in 1/1000 of the size."""
        faces = self._weights[bold]
        if self._plain[bold].issuperset(text):
            return sum(map(faces.families[0].widths.__getitem__, text))
        return sum(face.widths[char] for face, part in _split(text, faces) for char in part)

    def runs(self, text: str, bold: bool = False) -> tuple[Run, ...]:
        """The text in runs of one font each, for text that `shown` has passed."""
        faces = self._weights[bold]
        if self._plain[bold].issuperset(text):
            return ((faces.families[0].name, text),)
        joined: list[Run] = []
        for face, part in _split(text, faces):
            if joined and joined[-1][0] == face.name:
                joined[-1] = (face.name, joined[-1][1] + part)
            else:
                joined.append((face.name, part))
        return tuple(joined)


def _split(text: str, faces: Faces) -> Iterator[tuple[Face, str]]:
    """Each cluster with its family; a cluster that no family has as a whole goes by characters."""
    for cluster in clusters(text):
        face = faces.family_of(cluster)
        if face is not None:
            yield face, cluster
            continue
        for char in cluster:
            yield faces.family_of(char) or faces.families[0], char


def clusters(text: str) -> Iterator[str]:
    """Characters with the combining marks that follow them, never to be parted."""
    start = 0
    for place in range(1, len(text) + 1):
        if place == len(text) or not unicodedata.combining(text[place]):
            yield text[start:place]
            start = place
