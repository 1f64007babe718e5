"""Text broken into lines of a given width, as wide as the caller's own type makes it."""

import re
import unicodedata
from collections.abc import Callable, Iterator

_SPACES = re.compile("[ \t\r\n\f\v]+")

Width = Callable[[str, float, bool], float]
"""The width in points of a text at a size in points, bold or not."""


def wrapped(
    text: str, size: float, width: float, measure: Width, *, bold: bool = False
) -> list[str]:
    """The text in lines of at most `width` points; empty for a text without words.

    Lines break at spaces and line ends, not at a fixed space, and within a word only where it is
    longer than a line.
    """
    words = [word for word in _SPACES.split(text) if word]
    whole = " ".join(words)
    if whole and measure(whole, size, bold) <= width:
        return [whole]
    lines: list[str] = []
    line = ""
    for word in words:
        for part in _fitting(word, size, width, measure, bold):
            longer = f"{line} {part}" if line else part
            if line and measure(longer, size, bold) > width:
                lines.append(line)
                line = part
            else:
                line = longer
    return [*lines, line] if line else lines


def _fitting(word: str, size: float, width: float, measure: Width, bold: bool) -> list[str]:
    """The word, or where it is longer than a line, parts that fit."""
    if measure(word, size, bold) <= width:
        return [word]
    parts, part = [], ""
    for cluster in _clusters(word):
        if part and measure(part + cluster, size, bold) > width:
            parts.append(part)
            part = ""
        part += cluster
    return [*parts, part]


def _clusters(word: str) -> Iterator[str]:
    """Characters with the marks that combine with them."""
    held = ""
    for char in word:
        if held and not unicodedata.combining(char):
            yield held
            held = ""
        held += char
    yield held
