"""Conditions under which a measure comes onto the sheet, compiled from `when` in forms/.

    region:heel or region:arch          a place of the complaint, or a group of places
    context:injury                      a context of forms/contexts.toml
    first-step-pain=yes, age<18         a word or number, on either side; not recorded is not true
    conditions recorded                 anything recorded for a measure
    low(lunge-distance)                 a finding below (high: above) the usual range
    gate open                           nothing forbids to provoke the pain
    hypothesis asks                     an open hypothesis or a suggestion asks for the measure
    device considered, boot considered, imaging considered   see footexam/reasoning/gates.py

`and` binds before `or`; brackets group. Nothing is evaluated as Python.
"""

import operator
import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Generic, TypeVar

from footexam.reasoning.facts import Facts

Condition = Callable[[Facts], bool]

_TOKEN = re.compile(r"\s*(?:(\(|\))|(low|high)\(([a-z0-9-]+)\)|([a-z0-9:.-]+)|(!=|<=|>=|=|<|>))")
COMPARE: Mapping[str, Callable[[Decimal, Decimal], bool]] = {
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "=": operator.eq,
    "!=": operator.ne,
}
_STATES: Mapping[tuple[str, str], Condition] = {
    ("gate", "open"): lambda facts: facts.states.gate_open,
    ("device", "considered"): lambda facts: facts.states.device,
    ("boot", "considered"): lambda facts: facts.states.boot,
    ("imaging", "considered"): lambda facts: facts.states.imaging,
}
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")


class BadCondition(ValueError):
    """A condition that cannot be read; its text says where."""


def compile_when(
    text: str, contexts: Mapping[str, Condition] | None = None, measure: str = ""
) -> Condition:
    """The condition of a `when` text; `contexts` are the conditions of context ids.

    `measure` is the one that the condition brings onto the sheet. Raises BadCondition.
    """
    return _OfFacts(text, contexts or {}, measure).whole()


Known = TypeVar("Known")
"""What is known when a condition is asked."""


class Parser(ABC, Generic[Known]):
    """Recursive descent over the few tokens of a condition; what an atom asks is for a subclass."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = _tokens(text)
        self.at = 0

    def whole(self) -> Callable[[Known], bool]:
        """The condition of the whole text. Raises BadCondition."""
        condition = self._either()
        if self.at < len(self.tokens):
            raise self.wrong()
        return condition

    def wrong(self) -> BadCondition:
        """What cannot be read from here on."""
        rest = " ".join(self.tokens[self.at :]) or "the end"
        return BadCondition(f"“{self.text}” cannot be read at “{rest}”")

    def peek(self) -> str:
        """The next token; empty at the end."""
        return self.tokens[self.at] if self.at < len(self.tokens) else ""

    def take(self) -> str:
        """The next token, which is passed. Raises BadCondition at the end."""
        token = self.peek()
        if not token:
            raise self.wrong()
        self.at += 1
        return token

    def _either(self) -> Callable[[Known], bool]:
        parts = [self._every()]
        while self.peek() == "or":
            self.take()
            parts.append(self._every())
        return parts[0] if len(parts) == 1 else lambda known: any(part(known) for part in parts)

    def _every(self) -> Callable[[Known], bool]:
        parts = [self._term()]
        while self.peek() == "and":
            self.take()
            parts.append(self._term())
        return parts[0] if len(parts) == 1 else lambda known: all(part(known) for part in parts)

    def _term(self) -> Callable[[Known], bool]:
        if self.peek() == "(":
            self.take()
            inside = self._either()
            if self.take() != ")":
                self.at -= 1
                raise self.wrong()
            return inside
        return self.atom()

    @abstractmethod
    def atom(self) -> Callable[[Known], bool]:
        """One question; takes its tokens."""


class _OfFacts(Parser[Facts]):
    """Conditions about the facts of an examination."""

    def __init__(self, text: str, contexts: Mapping[str, Condition], measure: str) -> None:
        super().__init__(text)
        self.measure = measure
        self.contexts = contexts

    def atom(self) -> Condition:
        name = self.take()
        if name.startswith(("low(", "high(")):
            return _beyond(name)
        if ":" in name:
            return self.named(name)
        follows = self.take()
        if follows == "recorded":
            return lambda facts: name in facts.recorded
        if (name, follows) == ("hypothesis", "asks"):
            measure = self.measure
            return lambda facts: measure in facts.states.asked
        if (name, follows) in _STATES:
            return _STATES[name, follows]
        if follows not in COMPARE:
            self.at -= 1
            raise self.wrong()
        return _comparison(name, follows, self.take())

    def named(self, name: str) -> Condition:
        """A region or a context."""
        kind, _, what = name.partition(":")
        if kind == "region":
            return lambda facts: what in facts.regions
        if kind != "context" or what not in self.contexts:
            raise BadCondition(f"“{self.text}” names the unknown “{name}”")
        return self.contexts[what]


def _tokens(text: str) -> list[str]:
    tokens = []
    at = 0
    while at < len(text.rstrip()):
        found = _TOKEN.match(text, at)
        if not found:
            raise BadCondition(f"“{text}” cannot be read at “{text[at:]}”")
        bracket, way, inside, word, compare = found.groups()
        tokens.append(f"{way}({inside})" if way else bracket or word or compare)
        at = found.end()
    return tokens


def _beyond(call: str) -> Condition:
    way, _, rest = call.partition("(")
    measure = rest.rstrip(")")
    return lambda facts: measure in (facts.low if way == "low" else facts.high)


def _comparison(name: str, sign: str, value: str) -> Condition:
    compare = COMPARE[sign]
    if name == "sex":
        return lambda facts: compare_words(frozenset({facts.sex.value}), sign, value)
    if _NUMBER.fullmatch(value):
        limit = Decimal(value)
        if name == "age":
            return lambda facts: facts.age is not None and compare(Decimal(facts.age.years), limit)
        return lambda facts: any(compare(number, limit) for number in facts.numbers.get(name, ()))
    return lambda facts: compare_words(facts.words.get(name, frozenset()), sign, value)


def compare_words(words: frozenset[str], sign: str, value: str) -> bool:
    """Whether one of the recorded words is (`=`) or is not (`!=`) the value."""
    if sign == "=":
        return value in words
    return bool(words - {value})
