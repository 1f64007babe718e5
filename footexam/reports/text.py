"""Breaking text into lines: as typed, never read as markup, very long words broken."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Text
from footexam.reports.fonts import NO_BREAK_SPACE, Typeset, clusters

BASE_LINE = 0.33
"""Share of the size by which the base line lies below the middle of a line."""


@dataclass(frozen=True, slots=True)
class Style:
    """How a piece of text looks; `size` in points."""

    size: float = 9.0
    bold: bool = False
    ink: Ink = Ink.INK

    @property
    def leading(self) -> float:
        """The height of one line in points; holds the stacked accents of Vietnamese."""
        return self.size * 1.32


Span = tuple[str, Style]
"""A stretch of text in one style."""


@dataclass(frozen=True, slots=True)
class TextLine:
    """One line: its stretches with their x from the left edge, its width and its height."""

    stretches: tuple[tuple[float, str, Style], ...]
    width: float
    height: float

    def shapes(self, x: float, y: float) -> list[Text]:
        """The line drawn with its top left corner at (x, y)."""
        return [
            Text(
                x + dx,
                y + self.height / 2 + BASE_LINE * style.size,
                text,
                style.size,
                style.ink,
                style.bold,
            )
            for dx, text, style in self.stretches
        ]


def break_lines(spans: Iterable[Span], width: float, typeset: Typeset) -> list[TextLine]:
    """The spans in lines of at most `width` points; at least one line, also for empty text.

    Lines break at spaces, and within a word only where it is longer than a line; what is typed as a
    line end stays one. A no-break space holds together also what has two styles.
    """
    told = tuple(spans)
    return list(typeset.once((told, width), lambda: _broken(told, width, typeset)))


def _broken(spans: Iterable[Span], width: float, typeset: Typeset) -> list[TextLine]:
    """The same; a text that is laid out several times is broken once."""
    lines: list[TextLine] = []
    for paragraph in _paragraphs(spans):
        shown = [(typeset.shown(text), style) for text, style in paragraph]
        lines += _one_line(shown, width, typeset) or _filled(shown, width, typeset)
    return lines


def _paragraphs(spans: Iterable[Span]) -> list[list[Span]]:
    """The spans parted at the line ends in them."""
    paragraphs: list[list[Span]] = [[]]
    for text, style in spans:
        if "\n" not in text:
            paragraphs[-1].append((text, style))
            continue
        first, *others = text.split("\n")
        paragraphs[-1].append((first, style))
        paragraphs += [[(other, style)] for other in others]
    return paragraphs


def _one_line(spans: Sequence[Span], width: float, typeset: Typeset) -> list[TextLine]:
    """The common case of a text that fits on one line; empty where it does not."""
    line = _Line(typeset)
    for text, style in spans:
        line.add(text, style, typeset.width(text, style.size, style.bold))
        if line.width > width:
            return []
    return [line.done(spans)]


def _filled(spans: Sequence[Span], width: float, typeset: Typeset) -> list[TextLine]:
    """The spans filled into lines, word by word."""
    lines: list[TextLine] = []
    line = _Line(typeset)
    for word, style, size, follows in _measured(spans, typeset):
        if line.width + size + follows > width and not word.isspace():
            for part in _fitting(word, style, width, typeset):
                part_size = typeset.width(part, style.size, style.bold)
                if line.stretches and line.width + part_size + follows > width:
                    line.end()
                    lines.append(line.done(spans))
                    line = _Line(typeset)
                line.add(part, style, part_size)
        else:
            line.add(word, style, size)
    return [*lines, line.done(spans)]


def _measured(spans: Sequence[Span], typeset: Typeset) -> Iterator[tuple[str, Style, float, float]]:
    """Each word with its style, its width, and that of what a no-break space ties to it."""
    for place, (text, style) in enumerate(spans):
        words = _words(text)
        for number, word in enumerate(words, 1):
            last = number == len(words) and word != " "
            tied = _tied(spans[place + 1 :], typeset) if last else 0.0
            yield word, style, typeset.width(word, style.size, style.bold), tied


def _tied(rest: Sequence[Span], typeset: Typeset) -> float:
    """The width of the first word behind, where a no-break space ties it to what is before."""
    if not rest or not rest[0][0].startswith(NO_BREAK_SPACE):
        return 0.0
    (text, style), *_ = rest
    return typeset.width(text.partition(" ")[0], style.size, style.bold)


def _words(text: str) -> list[str]:
    """Words and the spaces between them, in order; only the plain space parts words."""
    words: list[str] = []
    for word in text.split(" "):
        words += [word, " "] if word else [" "]
    return words[:-1]


def _fitting(word: str, style: Style, width: float, typeset: Typeset) -> list[str]:
    """The word itself, or where it is longer than a line, parts that fit."""
    if typeset.width(word, style.size, style.bold) <= width:
        return [word]
    parts, part, used = [], "", 0.0
    for cluster in clusters(word):
        size = typeset.width(cluster, style.size, style.bold)
        if part and used + size > width:
            parts.append(part)
            part, used = "", 0.0
        part += cluster
        used += size
    return [*parts, part]


class _Line:
    """A line being filled."""

    def __init__(self, typeset: Typeset) -> None:
        self.typeset = typeset
        self.stretches: list[tuple[float, str, Style]] = []
        self.width = 0.0

    def add(self, text: str, style: Style, width: float) -> None:
        """Adds a piece of known width; joins it with what stands before in the same style."""
        if self.stretches and self.stretches[-1][2] is style:
            x, before, _ = self.stretches[-1]
            self.stretches[-1] = (x, before + text, style)
        elif text:
            self.stretches.append((self.width, text, style))
        self.width += width

    def end(self) -> None:
        """Takes away the spaces at the end, where the next line begins instead."""
        while self.stretches:
            x, text, style = self.stretches.pop()
            kept = text.rstrip(" ")
            self.width = x + self.typeset.width(kept, style.size, style.bold)
            if kept:
                self.stretches.append((x, kept, style))
                return

    def done(self, spans: Sequence[Span]) -> TextLine:
        """The finished line; one without text is as high as its first span."""
        styles = [style for _, _, style in self.stretches] or [style for _, style in spans]
        height = max((style.leading for style in styles), default=0.0)
        return TextLine(tuple(self.stretches), self.width, height)
