"""Reads the expressions of cautions and hypotheses into trees; nothing is evaluated as Python.

    caution-fever == "yes"                       a word; also != and in ("a", "b")
    hallux-dorsiflexion < 65                     a number, in the measure's unit; < <= > >= == !=
    shoe-forefoot-width < foot-breadth           two numbers of one unit
    low(id)  ok(id)  high(id)                    below, inside, above the usual range
    region(map, "r", …)  clear(map, "r", …)      any of these marked; all looked at, nothing there
    has(id, "choice", …)                         any of these chosen
    side_difference(id) > 5                      |right - left|; side_percent(id): % of the larger
    age >= 18, sex == "female"                   of the patient

`and` binds before `or`; brackets group. A missing reading makes an atom unknown, never true or
false (footexam/reasoning/truth.py).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

AGE = "age"
SEX = "sex"

_TOKEN = re.compile(
    r"\s*(?:(?P<text>\"[^\"]*\")|(?P<name>[a-z][a-z0-9_-]*)|(?P<number>-?[0-9]+(?:\.[0-9]+)?)"
    r"|(?P<sign><=|>=|==|!=|<|>|\(|\)|,))"
)
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_SIGNS = frozenset({"<", "<=", ">", ">=", "==", "!="})
_BANDS = frozenset({"low", "ok", "high"})
_MARKS = frozenset({"region", "clear", "has"})
_SIDES = frozenset({"side_difference", "side_percent"})


class BadExpression(ValueError):
    """An expression that cannot be read; its text says where."""


@dataclass(frozen=True, slots=True)
class Worded:
    """A word of a measure (or the patient's sex) is, or is not, one of these."""

    measure: str
    words: tuple[str, ...]
    is_one: bool = True


@dataclass(frozen=True, slots=True)
class Compared:
    """A number of a measure, or the patient's age in years, against a limit in its unit.

    The limit is a number, or the number of another measure. `of` is "" for the reading of the
    side, else "side_difference" or "side_percent".
    """

    measure: str
    sign: str
    limit: Decimal | str
    of: str = ""


@dataclass(frozen=True, slots=True)
class Ranged:
    """A reading lies below ("low"), inside ("ok") or above ("high") its usual range."""

    measure: str
    where: str


@dataclass(frozen=True, slots=True)
class Marked:
    """Places of a map or choices of a list: "region", "clear" or "has"."""

    measure: str
    how: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Every:
    """All parts hold."""

    parts: "tuple[Expression, ...]"


@dataclass(frozen=True, slots=True)
class Either:
    """At least one part holds."""

    parts: "tuple[Expression, ...]"


Atom = Worded | Compared | Ranged | Marked
Expression = Atom | Every | Either


def parse_expression(text: str) -> Expression:
    """The tree of an expression. Raises BadExpression."""
    return _Parser(text).whole()


def atoms(expression: Expression) -> Iterator[Atom]:
    """The atoms of a tree in the order they are written."""
    if isinstance(expression, Every | Either):
        for part in expression.parts:
            yield from atoms(part)
    else:
        yield expression


def measures_of(expression: Expression) -> tuple[str, ...]:
    """The measures that an expression asks for, each once, in the order they are written."""
    names: dict[str, None] = {}
    for atom in atoms(expression):
        names[atom.measure] = None
        if isinstance(atom, Compared) and isinstance(atom.limit, str):
            names[atom.limit] = None
    return tuple(name for name in names if name not in {AGE, SEX})


class _Parser:
    """Recursive descent over the tokens of one expression."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = _tokens(text)
        self.at = 0

    def whole(self) -> Expression:
        tree = self.either()
        if self.at < len(self.tokens):
            raise self.wrong()
        return tree

    def wrong(self) -> BadExpression:
        rest = " ".join(self.tokens[self.at :]) or "the end"
        return BadExpression(f"“{self.text}” cannot be read at “{rest}”")

    def peek(self) -> str:
        return self.tokens[self.at] if self.at < len(self.tokens) else ""

    def take(self, wanted: str = "") -> str:
        token = self.peek()
        if not token or (wanted and token != wanted):
            raise self.wrong()
        self.at += 1
        return token

    def either(self) -> Expression:
        parts = [self.every()]
        while self.peek() == "or":
            self.take()
            parts.append(self.every())
        return parts[0] if len(parts) == 1 else Either(tuple(parts))

    def every(self) -> Expression:
        parts = [self.term()]
        while self.peek() == "and":
            self.take()
            parts.append(self.term())
        return parts[0] if len(parts) == 1 else Every(tuple(parts))

    def term(self) -> Expression:
        if self.peek() == "(":
            self.take()
            inside = self.either()
            self.take(")")
            return inside
        return self.atom()

    def atom(self) -> Atom:
        name = self.name()
        if name in _BANDS:
            return Ranged(self.inside_brackets(), name)
        if name in _MARKS:
            return self.marked(name)
        if name in _SIDES:
            return self.compared(self.inside_brackets(), name)
        if self.peek() == "in":
            self.take()
            return Worded(name, self.words())
        if self.tokens[self.at + 1 : self.at + 2] and self.tokens[self.at + 1].startswith('"'):
            return self.worded(name)
        return self.compared(name, "")

    def name(self) -> str:
        token = self.peek()
        if not token or not token[0].isalpha() or token in {"and", "or", "in"}:
            raise self.wrong()
        return self.take()

    def inside_brackets(self) -> str:
        self.take("(")
        name = self.name()
        self.take(")")
        return name

    def marked(self, how: str) -> Marked:
        self.take("(")
        measure = self.name()
        names = []
        while self.peek() == ",":
            self.take()
            names.append(self.word())
        if not names:
            raise self.wrong()
        self.take(")")
        return Marked(measure, how, tuple(names))

    def words(self) -> tuple[str, ...]:
        self.take("(")
        words = [self.word()]
        while self.peek() == ",":
            self.take()
            words.append(self.word())
        self.take(")")
        return tuple(words)

    def word(self) -> str:
        if not self.peek().startswith('"'):
            raise self.wrong()
        return self.take()[1:-1]

    def worded(self, name: str) -> Worded:
        sign = self.peek()
        if sign not in {"==", "!="}:
            raise self.wrong()
        self.take()
        return Worded(name, (self.word(),), sign == "==")

    def compared(self, name: str, of: str) -> Compared:
        sign = self.peek()
        if sign not in _SIGNS:
            raise self.wrong()
        self.take()
        if self.peek()[:1].isalpha() and not of:
            return Compared(name, sign, self.name())
        if not _NUMBER.fullmatch(self.peek()):
            raise self.wrong()
        return Compared(name, sign, Decimal(self.take()), of)


def _tokens(text: str) -> list[str]:
    tokens = []
    at = 0
    end = len(text.rstrip())
    while at < end:
        found = _TOKEN.match(text, at)
        if not found:
            raise BadExpression(f"“{text}” cannot be read at “{text[at:].strip()}”")
        tokens.append(found.group().strip())
        at = found.end()
    return tokens
