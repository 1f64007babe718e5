"""What might explain it on page one: accepted hypotheses in a line or two, counter-evidence too."""

from footexam.reports.argued import total_words
from footexam.reports.blocks import BODY, SMALL, SMALL_INK, STRONG, Block, Heading, Para
from footexam.reports.brief import Limits, Pages
from footexam.reports.hypotheses import Accepted, Decided
from footexam.reports.material import Material
from footexam.reports.text import Span

ARGUMENTS = "arguments"
"""The section that holds the whole argument."""


def arguments_brief(material: Material, limits: Limits, pages: Pages) -> list[Block]:
    """The accepted hypotheses and the examiner's own; empty without any.

    The counter-evidence stands beside each, never only on another page.
    """
    decided, page = Decided(material), pages.get(ARGUMENTS, 2)
    lines: list[Block] = [
        Para(tuple(_line(one, title, material, limits, pages.get(title, page))))
        for title, one in zip(decided.titles, decided.accepted, strict=True)
    ]
    for own in decided.own:
        side = f"{material.phrases(str(own.side))}: " if own.side else ""
        text, is_whole = _cut(own.statement, limits.typed)
        told: list[Span] = [(side, STRONG), (text, BODY)]
        if not is_whole:
            told.append((f" ({material.phrases('brief-own', page=page)})", SMALL))
        lines.append(Para(tuple(told)))
    return [Heading(material.phrases("arguments-brief"), 3), *lines] if lines else []


def _line(one: Accepted, title: str, material: Material, limits: Limits, page: int) -> list[Span]:
    """Name and side, points, how good the evidence for the link is, what stands against it."""
    phrases, hypothesis = material.phrases, one.hypothesis
    spans: list[Span] = [(f"{title}.   ", STRONG)]
    if hypothesis is None:
        return [*spans, (phrases("argument-retired"), SMALL_INK)]
    if one.argument is None:
        spans.append((phrases("argument-closed") + " ", SMALL_INK))
    else:
        told = phrases(
            "brief-argument",
            total=total_words(one.argument, material),
            injury=phrases(f"grade-{hypothesis.grade_injury}"),
            page=page,
        )
        spans.append((told + " ", BODY))
    counter = material.say(hypothesis.counter)
    if not limits.counter:
        counter = _first_sentence(counter)
    return [*spans, (phrases("brief-against", counter=counter), SMALL_INK)]


def _first_sentence(text: str) -> str:
    """Up to the first full stop that ends a sentence; a figure's own point is none."""
    first, stop, _ = text.partition(". ")
    return f"{first}." if stop else text


def _cut(text: str, longest: int) -> tuple[str, bool]:
    """A typed text up to a space, and whether it is whole."""
    if len(text) <= longest:
        return text, True
    start = text[:longest]
    return f"{start.rpartition(' ')[0] or start} …", False
