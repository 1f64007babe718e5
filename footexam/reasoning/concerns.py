"""Which measures can never be asked of a patient: their condition fails by age or sex alone."""

import re
from collections.abc import Callable
from decimal import Decimal

from footexam.catalogue.model import Catalogue
from footexam.reasoning.view import View
from footexam.reasoning.when import COMPARE, Parser, compare_words
from footexam.terms import Depth, Sex

Possible = Callable[[View], bool]
_OF_PATIENT = re.compile(r"\b(?:sex|age)[!<>=]")


class Concerns:
    """The conditions of a catalogue's measures that speak of age or sex, compiled once."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._possible = {
            one.id: _OfPatient(one.when).whole()
            for one in catalogue.measures.values()
            if one.depth is Depth.WHEN and _OF_PATIENT.search(one.when)
        }

    def never(self, view: View) -> frozenset[str]:
        """The measures whose condition cannot hold for this patient, whatever is answered.

        An age or a sex that is not known rules nothing out.
        """
        return frozenset(name for name, possible in self._possible.items() if not possible(view))


class _OfPatient(Parser[View]):
    """Whether a condition may hold: only age and sex are looked at, all else is taken for true."""

    def atom(self) -> Possible:
        name = self.take()
        if name.startswith(("low(", "high(")) or ":" in name:
            return _maybe
        sign = self.take()
        if sign not in COMPARE:
            return _maybe
        value = self.take()
        if name == "sex":
            return lambda view: _of_sex(view, sign, value)
        return _of_age(sign, Decimal(value)) if name == "age" else _maybe


def _maybe(_: View) -> bool:
    return True


def _of_sex(view: View, sign: str, value: str) -> bool:
    return view.sex is Sex.UNKNOWN or compare_words(frozenset({view.sex.value}), sign, value)


def _of_age(sign: str, limit: Decimal) -> Possible:
    """Whether one of the ages in whole years that the birth date allows compares so."""
    compare = COMPARE[sign]

    def possible(view: View) -> bool:
        if view.ages is None:
            return True
        least, most = (int(age) for age in view.ages)
        return any(compare(Decimal(years), limit) for years in range(least, most + 1))

    return possible
