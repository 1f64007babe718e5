"""Strict reading of one TOML table: every key known, every value of its type, every text whole."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from enum import StrEnum
from functools import cache
from typing import Any, TypeVar

from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Texts

_Enum = TypeVar("_Enum", bound=StrEnum)


class Fields:
    """One table with the place it stands at; every method raises Complaint on a mistake."""

    __slots__ = ("languages", "place", "table")

    def __init__(self, table: object, place: Place, languages: Sequence[str]) -> None:
        if not isinstance(table, dict):
            raise Complaint(place, "a table is expected here", "write keys and values")
        self.table: Mapping[str, Any] = table
        self.place = place
        self.languages = languages

    def only(self, allowed: frozenset[str], required: frozenset[str]) -> None:
        """Refuse unknown and missing keys."""
        unknown = self.table.keys() - allowed
        if unknown:
            key = min(unknown)
            what = f"the key “{key}” is not known here"
            raise self.wrong(key, what, "remove it or check its spelling")
        missing = required - self.table.keys()
        if missing:
            raise Complaint(self.place, f"“{min(missing)}” is missing", "add it")

    def wrong(self, key: str, what: str, todo: str) -> Complaint:
        """A complaint about one key of this table."""
        return Complaint(self.place.at(key), what, todo)

    def text(self, key: str, default: str = "") -> str:
        """A text that needs no translation: an id, a unit, a citation."""
        value = self.table.get(key, default)
        if not isinstance(value, str):
            raise self.wrong(key, f"“{key}” is not text", "put it between quotation marks")
        return value

    def texts(self, key: str) -> Texts:
        """A text in every language of the catalogue."""
        value = self.table.get(key)
        if not isinstance(value, dict):
            raise self.wrong(key, f"“{key}” has no language", f'write {key}.en = "…"')
        for language in self.languages:
            if not isinstance(value.get(language), str) or not value[language].strip():
                raise self.wrong(
                    key, f"“{key}” lacks the language {language}", f'write {key}.{language} = "…"'
                )
        unlisted = value.keys() - set(self.languages)
        if unlisted:
            what = f"the language {min(unlisted)} is not listed"
            raise self.wrong(key, what, "add it to forms/languages.toml")
        return value

    def maybe_texts(self, key: str) -> Texts | None:
        """Like texts; None where the key is absent."""
        return self.texts(key) if key in self.table else None

    def flag(self, key: str, default: bool = False) -> bool:
        """True or false."""
        value = self.table.get(key, default)
        if not isinstance(value, bool):
            raise self.wrong(key, f"“{key}” is neither true nor false", "write true or false")
        return value

    def number(self, key: str) -> Decimal | None:
        """An exact decimal; None where the key is absent."""
        value = self.table.get(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise self.wrong(
                key, f"“{key}” is not a number", "write a number without quotation marks"
            )
        number = Decimal(value)
        if not number.is_finite():
            raise self.wrong(key, f"“{key}” is not a finite number", "write its digits")
        return number

    def whole(self, key: str) -> int | None:
        """A whole number from 0 on; None where the key is absent."""
        value = self.table.get(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int) or value < 0:
            raise self.wrong(key, f"“{key}” is not a whole number", "write 0, 1, 2 …")
        return value

    def words(self, key: str) -> tuple[str, ...]:
        """A list of texts; empty where the key is absent."""
        value = self.table.get(key, [])
        if not isinstance(value, list) or not all(isinstance(word, str) for word in value):
            raise self.wrong(key, f"“{key}” is not a list of words", 'write ["a", "b"]')
        if len(set(value)) != len(value):
            raise self.wrong(key, f"“{key}” names a word twice", "remove one of them")
        return tuple(value)

    def one_of(self, key: str, enum: type[_Enum]) -> _Enum:
        """A word of a closed list."""
        value = self.table.get(key)
        try:
            return enum(str(value))
        except ValueError as bad:
            todo = f"use {', '.join(enum)}"
            raise self.wrong(key, f"“{value}” is not known for “{key}”", todo) from bad

    def maybe_one_of(self, key: str, enum: type[_Enum]) -> _Enum | None:
        """Like one_of; None where the key is absent."""
        return self.one_of(key, enum) if key in self.table else None

    def tables(self, key: str) -> list["Fields"]:
        """The tables of an array; empty where the key is absent."""
        value = self.table.get(key, [])
        if not isinstance(value, list):
            raise self.wrong(key, f"“{key}” is not a list of tables", f"write [[{key}]]")
        place = self.place.at(key)
        return [Fields(item, place.at(at), self.languages) for at, item in enumerate(value)]

    def table_at(self, key: str) -> "Fields":
        """The table that stands under a key."""
        return Fields(self.table.get(key), self.place.at(key), self.languages)


class TrustedFields(Fields):
    """The same table out of the cache: it was read strictly before, nothing is checked again."""

    __slots__ = ()

    def __init__(self, table: Any, place: Place, languages: Sequence[str]) -> None:
        self.table = table
        self.place = place
        self.languages = languages

    def only(self, allowed: frozenset[str], required: frozenset[str]) -> None:
        """Nothing: the keys were checked."""

    def text(self, key: str, default: str = "") -> str:
        """A text as it stands."""
        found: str = self.table.get(key, default)
        return found

    def one_of(self, key: str, enum: type[_Enum]) -> _Enum:
        """A word of a closed list as it stands."""
        found: _Enum = _member(enum, self.table[key])
        return found

    def texts(self, key: str) -> Texts:
        """The texts by language as they stand."""
        found: Texts = self.table[key]
        return found

    def flag(self, key: str, default: bool = False) -> bool:
        """A truth value as it stands."""
        return bool(self.table.get(key, default))

    def number(self, key: str) -> Decimal | None:
        """A number as it stands."""
        value = self.table.get(key)
        return None if value is None else Decimal(value)

    def words(self, key: str) -> tuple[str, ...]:
        """A list as it stands."""
        return tuple(self.table.get(key, ()))

    def tables(self, key: str) -> list[Fields]:
        """The tables of an array as they stand."""
        return [TrustedFields(item, self.place, ()) for item in self.table.get(key, ())]

    def table_at(self, key: str) -> Fields:
        """The table under a key as it stands."""
        return TrustedFields(self.table[key], self.place, ())


@cache
def _member(enum: type[StrEnum], word: str) -> Any:
    return enum(word)
