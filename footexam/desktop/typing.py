"""How single keys become a score or a word: no Qt, so that it can be shown to be right."""

from collections.abc import Sequence
from dataclasses import dataclass

MINUS = "-\u2212\u2013"


@dataclass(frozen=True, slots=True)
class Typed:
    """What the keys so far amount to.

    `buffer` is what waits for more; `chosen` the option meant so far (None: none yet); `done` says
    that no further key could mean anything else, so that the next cell may come.
    """

    buffer: str = ""
    chosen: int | None = None
    done: bool = False
    known: bool = True


def type_score(buffer: str, key: str, low: int, high: int) -> Typed:
    """The next key of a score from `low` to `high`; `chosen` is the score itself.

    A digit that can only mean one score is done at once; `-` and, where 10 or more exist, `1` wait.
    """
    text = buffer + ("-" if key in MINUS else key)
    if not ((text.isascii() and text.lstrip("-").isdigit()) or text == "-"):
        return Typed(buffer, known=False)
    scores = range(low, high + 1)
    fitting = [score for score in scores if str(score).startswith(text)]
    if not fitting:
        return Typed("", known=False)
    exact = int(text) if text != "-" and int(text) in scores else None
    done = exact is not None and fitting == [exact]
    return Typed("" if done else text, exact, done)


def type_word(buffer: str, key: str, words: Sequence[str]) -> Typed:
    """The next letter of one of some words as shown; `chosen` is the word's place in `words`.

    The first letters that tell a word from all others choose it.
    """
    text = buffer + key.casefold()
    fitting = [at for at, word in enumerate(words) if word.casefold().startswith(text)]
    if not fitting:
        return type_word("", key, words) if buffer else Typed("", known=False)
    if len(fitting) == 1:
        return Typed("", fitting[0], done=True)
    exact = next((at for at in fitting if words[at].casefold() == text), None)
    return Typed(text, exact, done=False)
