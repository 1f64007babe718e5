"""What a person wrote in a letter, line by line, and what it was written over."""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

ADDRESSEE = "addressee"
"""The name under which it is kept to whom a referral goes; the other names are ids of blocks."""
_LENGTH = 16


@dataclass(frozen=True, slots=True)
class Written:
    """Lines written for a block of a letter; none: the block is left out.

    `over` is the mark of what the record gave for the block then; "" where that is not known.
    """

    lines: tuple[str, ...]
    over: str = ""

    @property
    def text(self) -> str:
        """The lines as one text."""
        return "\n".join(self.lines)


def mark(given: str) -> str:
    """What tells whether the record gives another text than before: 16 digits of its SHA-256."""
    return sha256(given.encode()).hexdigest()[:_LENGTH]


def written(decisions: Mapping[str, Any]) -> dict[str, Written]:
    """What is kept in the decisions of an examination, by block."""
    return {
        name: Written(tuple(one["lines"]), one.get("over", ""))
        for name, one in decisions.get("letters", {}).items()
    }
