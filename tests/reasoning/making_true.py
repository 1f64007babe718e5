"""Builds examinations in which an expression of forms/ is true, atom by atom.

Every alternative of an expression (its disjunctive normal form) is tried; a reading is chosen for
each measure from its own words, limits or places. What is worked out has a recipe of its inputs.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from decimal import Decimal
from functools import cache
from itertools import chain, islice, product
from typing import Any

from footexam.catalogue.expression import (
    AGE,
    SEX,
    Atom,
    Compared,
    Either,
    Every,
    Expression,
    Marked,
    Worded,
    parse_expression,
)
from footexam.catalogue.model import Measure
from footexam.reasoning.engine import engine
from footexam.reasoning.truth import _Maker
from footexam.reasoning.view import View
from footexam.record.examination import Examination
from footexam.terms import Kind
from tests.reasoning.making import LEFT, TODAY, Readings, examination, forms, seen

SIDE = LEFT
"""The side on which expressions are made true."""
AGES = (40, 14, 10, 6, 70, 17, 20, 55)
MOST_ALTERNATIVES = 400
MONDAY = TODAY - timedelta(days=TODAY.weekday())


@dataclass
class Made:
    """Readings of a file, and of whom."""

    readings: Readings = field(default_factory=dict)
    age: int = 40
    sex: str = "female"

    def examination(self) -> Examination:
        return examination(self.readings, age=self.age, sex=self.sex)


def alternatives(tree: Expression) -> list[tuple[Atom, ...]]:
    """The ways in which an expression can be true, each as atoms that hold together."""
    if isinstance(tree, Either):
        return list(chain.from_iterable(alternatives(part) for part in tree.parts))
    if isinstance(tree, Every):
        ways = product(*(alternatives(part) for part in tree.parts))
        return [tuple(chain.from_iterable(way)) for way in ways]
    return [(tree,)]


def ways(*texts: str) -> Iterator[Made]:
    """Examinations in which all these expressions are true, one for each alternative."""
    tree = Every(tuple(parse_expression(text) for text in texts))
    for atoms in islice(alternatives(tree), MOST_ALTERNATIVES):
        made = together(atoms)
        if made is not None:
            yield made


def together(atoms: tuple[Atom, ...]) -> Made | None:
    """An examination in which these atoms hold; None where none was found."""
    made = _together(atoms)
    return made and Made(dict(made.readings), made.age, made.sex)


@cache
def _together(atoms: tuple[Atom, ...]) -> Made | None:
    by_measure: dict[str, list[Atom]] = {}
    for atom in dict.fromkeys(atoms):
        by_measure.setdefault(atom.measure, []).append(atom)
    made = Made()
    if not _person(made, by_measure):
        return None
    for asked in list(by_measure.values()):
        for other in _limits(asked):
            asked.extend(by_measure.pop(other, []))
    for name in sorted(by_measure, key=_turn):
        if not _reading(made, name, by_measure[name]):
            return None
    whole = View(seen(made.examination()), SIDE)
    return made if all(_holds(atom, whole) for atom in atoms) else None


def _turn(name: str) -> int:
    """Places of the complaint first, then their sides, then what else is worked out."""
    if name in {"complaint-site", "complaint-sides"}:
        return ("complaint-site", "complaint-sides").index(name)
    return 2 if forms().measures[name].kind is Kind.DERIVED else 3


def _person(made: Made, by_measure: dict[str, list[Atom]]) -> bool:
    """Choose age and sex."""
    asked = [*by_measure.pop(AGE, []), *by_measure.pop(SEX, [])]
    for age, sex in product(AGES, ("female", "male")):
        made.age, made.sex = age, sex
        view = View(seen(examination({}, age=age, sex=sex)), SIDE)
        if all(_holds(atom, view) for atom in asked):
            return True
    return False


def _reading(made: Made, name: str, atoms: list[Atom]) -> bool:
    """Add a reading for which the atoms of one measure hold."""
    measure = forms().measures[name]
    for more in _candidates(measure, atoms):
        readings = _merged(made.readings, more)
        if name == "complaint-sides" and "complaint-site" in made.readings:
            places = made.readings["complaint-site"][SIDE.value]
            (side,) = more["complaint-site"]
            readings = {**made.readings, "complaint-site": {side: places}}
        if readings is None:
            continue
        view = View(seen(examination(readings, age=made.age, sex=made.sex)), SIDE)
        if all(_holds(atom, view) for atom in atoms):
            made.readings = readings
            return True
    return False


def _merged(old: Readings, more: Readings) -> Readings | None:
    """Both; None where they contradict each other."""
    if any(name in old and old[name] != value for name, value in more.items()):
        return None
    return {**old, **more}


def _holds(atom: Atom, view: View) -> bool:
    made = engine(forms())
    return _Maker(made._groups, made._error).atom(atom)[0](view) is True


def _candidates(measure: Measure, atoms: list[Atom]) -> Iterator[Readings]:
    if measure.kind is Kind.DERIVED:
        yield from RECIPES[measure.id]()
        return
    for other in _limits(atoms):
        held = forms().measures[other]
        own = [one for one in atoms if one.measure == measure.id]
        rest = [one for one in atoms if one.measure == other]
        for low, high in product(_numbers(measure, own), _numbers(held, rest)):
            yield {measure.id: _sided(measure.id, low), other: _sided(other, high)}
        return
    if any(isinstance(one, Compared) and one.of for one in atoms):
        for left, right in product(_numbers(measure, atoms), repeat=2):
            yield {measure.id: {"left": left, "right": right}}
        return
    for value in _values(measure, atoms):
        yield {measure.id: _sided(measure.id, value)}


def _limits(atoms: Iterable[Atom]) -> list[str]:
    """The measures that numbers are held against."""
    return [one.limit for one in atoms if isinstance(one, Compared) and isinstance(one.limit, str)]


def _sided(name: str, value: object) -> object:
    return {SIDE.value: value} if forms().measures[name].sided else value


def _values(measure: Measure, atoms: list[Atom]) -> Iterator[Any]:
    match measure.kind:
        case Kind.CHOICE:
            yield from measure.words
        case Kind.YES_NO:
            yield from ("yes", "no")
        case Kind.SEVERAL:
            yield from ([word] for word in measure.words)
            asked = dict.fromkeys(word for one in atoms for word in _words(one))
            yield [word for word in asked if word != "none"] or ["none"]
        case Kind.YES_SITES:
            yield from ({"answer": "yes", "sites": places} for places in _places(atoms))
            yield from ("no", "yes")
        case Kind.REGIONS:
            yield from _places(atoms)
        case Kind.REGION_VALUES:
            clear = dict.fromkeys(_all_places(atoms, "clear"), 0)
            for much, places in product((3, 1), _places(atoms)):
                yield {**clear, **dict.fromkeys(places, much)}
            yield clear
        case _:
            yield from _numbers(measure, atoms)


def _words(atom: Atom) -> tuple[str, ...]:
    if isinstance(atom, Worded):
        return atom.words if atom.is_one else ()
    return atom.names if isinstance(atom, Marked) else ()


def _members(name: str) -> list[str]:
    regions = forms().regions
    return [name] if name in regions else [one.id for one in regions.values() if name in one.groups]


def _all_places(atoms: list[Atom], how: str) -> list[str]:
    marked = [one for one in atoms if isinstance(one, Marked) and one.how == how]
    names = chain.from_iterable(one.names for one in marked)
    return list(dict.fromkeys(chain.from_iterable(_members(name) for name in names)))


def _places(atoms: list[Atom]) -> Iterator[list[str]]:
    """Places to mark: one of each that is asked for, and none that must be clear."""
    clear = set(_all_places(atoms, "clear"))
    marked = [one for one in atoms if isinstance(one, Marked) and one.how == "region"]
    choices = [_all_places([one], "region") for one in marked]
    for chosen in islice(product(*choices), 60):
        places = [place for place in dict.fromkeys(chosen) if place not in clear]
        yield places or [next(place for place in forms().regions if place not in clear)]


def _numbers(measure: Measure, atoms: list[Atom]) -> Iterator[str | int]:
    """Numbers about the limits asked for, then some through the whole range."""
    found: dict[str, None] = {}
    low, high = measure.hard_low or Decimal(0), measure.hard_high or Decimal(0)
    for one in atoms:
        if isinstance(one, Compared) and isinstance(one.limit, Decimal) and not one.of:
            for step in (Decimal(0), Decimal(1), Decimal(-1), Decimal("0.1"), Decimal("-0.1")):
                found[_digits(one.limit + step, measure)] = None
    ask_low, ask_high = measure.ask_low or low, measure.ask_high or high
    for part in range(21):
        found[_digits(ask_low + (ask_high - ask_low) * part / 20, measure)] = None
    found[_digits(low, measure)] = None
    found[_digits(high, measure)] = None
    yield from (text for text in found if low <= Decimal(text) <= high)


def _digits(value: Decimal, measure: Measure) -> str:
    return f"{round(value, measure.decimals):f}"


# --- recipes of what is worked out


def _of_side(**parts: object) -> Readings:
    return {name.replace("_", "-"): {SIDE.value: value} for name, value in parts.items()}


def _whole(**parts: object) -> Readings:
    return {name.replace("_", "-"): value for name, value in parts.items()}


def _wells() -> Iterator[Readings]:
    items = _of_side(deep_vein_tender="yes", whole_leg_swollen="yes", alternative_as_likely="no")
    more = _of_side(pitting_oedema_one_side="yes", collateral_veins="yes")
    rest = _whole(**{"bed-rest-or-surgery-12-weeks": "no", "previous-clot": "no"})
    calf = {"calf-circumference": {"left": 40, "right": 36}}
    for cancer in ("yes", "no"):
        others = {"active-cancer": cancer, "leg-paralysis-or-cast": "no"}
        yield {**items, **more, **rest, **calf, **others}
        none = {
            **_of_side(deep_vein_tender="no", whole_leg_swollen="no", alternative_as_likely="no"),
            **_of_side(pitting_oedema_one_side="no", collateral_veins="no"),
            "calf-circumference": {"left": 36, "right": 36},
        }
        yield {**none, **rest, **others}


def _ankle_brachial() -> Iterator[Readings]:
    for ankle in (100, 40, 60, 75, 130, 150, 180, 110):
        yield {
            "pressure-arm": {"left": 100, "right": 100},
            **_of_side(pressure_dorsalis_pedis=ankle, pressure_posterior_tibial=ankle),
        }


def _wounds() -> Iterator[Readings]:
    for weeks, infected in product((1, 3, 5, 14), ("no", "yes")):
        wound = {"region": "hallux", "weeks": weeks, "depth": "skin", "infected": infected}
        yield _of_side(wound=[wound])


def _temperature() -> Iterator[Readings]:
    for left in (30, 32, 33, 35, 27):
        yield {"skin-temperature": {"left": {"navicular": left}, "right": {"navicular": 30}}}


def _complaint_sides() -> Iterator[Readings]:
    for sides in ("left", "both"):
        yield {"complaint-site": {sides: ["heel-plantar"]}}


def _reds_primary() -> Iterator[Readings]:
    yield {"primary-amenorrhoea": "no"}
    yield {"primary-amenorrhoea": "yes"}
    yield {"missed-cycles": 4}
    yield {"bone-stress-injuries": [{"date": TODAY.isoformat(), "bone": "sacrum"}]}


def _reds_secondary() -> Iterator[Readings]:
    yield {"low-libido": "no", "poor-sleep": "no"}
    yield {"restricting-food": "yes"}
    yield {"restricting-food": "yes", "poor-sleep": "yes"}


def _cubed() -> Iterator[Readings]:
    names = ("not-skin-colour", "uncertain", "bleeding", "enlarging", "slow-to-heal")
    for many in range(len(names) + 1):
        yield {
            f"lesion-{name}": {
                SIDE.value: {"answer": "yes", "sites": ["hallux"]} if at < many else "no"
            }
            for at, name in enumerate(names)
        }


def _gastrocnemius() -> Iterator[Readings]:
    for straight in (20, 35, 10):
        yield {
            "lunge-angle-knee-bent-20": {SIDE.value: 38},
            "lunge-angle-knee-straight": {SIDE.value: straight},
        }


def _drop() -> Iterator[Readings]:
    for resting in (25, 30, 38, 43, 48):
        yield _of_side(navicular_height_neutral=50, navicular_height_resting=resting)


def _arch() -> Iterator[Readings]:
    for standing, seated in product((60, 45, 50, 75, 66, 70), (70, 62, 77, 52, 50, 61)):
        if standing <= seated:
            yield _of_side(
                dorsal_arch_height_standing=standing,
                dorsal_arch_height_seated=seated,
                truncated_foot_length=180,
            )


def _posture() -> Iterator[Readings]:
    items = ("talar-head", "malleolar-curves", "calcaneal-position", "talonavicular-bulge")
    others = ("medial-arch", "forefoot-abduction")
    for left, right in product((2, 1, 0, -1, -2), repeat=2):
        yield {f"fpi-{one}": {"left": left, "right": right} for one in (*items, *others)}
    half = {f"fpi-{one}": {"left": 1, "right": 1} for one in (*items, *others)}
    for few in range(1, 6):
        names = [f"fpi-{one}" for one in (*items, *others)][:few]
        yield {**half, **{name: {"left": 0, "right": 0} for name in names}}


def _mass_index() -> Iterator[Readings]:
    for mass in (70, 100, 45, 55, 85, 78):
        yield {"body-height": 170, "body-mass": mass}


def _weeks(*minutes: int) -> Readings:
    return {
        "weekly-load": [
            {
                "week": (MONDAY - timedelta(weeks=len(minutes) - place)).isoformat(),
                "sessions": 3 if much < 600 else 7,
                "minutes": much,
                "effort": 5,
            }
            for place, much in enumerate(minutes)
        ]
    }


def _weekly() -> Iterator[Readings]:
    steady = (200,) * 14
    yield _weeks(*steady)
    yield _weeks(*steady, 400, 400)
    yield _weeks(*steady, 250, 300, 350, 500)
    yield _weeks(*steady, 100)
    yield _weeks(*(700,) * 14)
    yield _weeks(*(200,) * 20)


def _sessions(*minutes: int) -> Readings:
    first = TODAY - timedelta(days=len(minutes))
    return {
        "session-log": [
            {
                "date": (first + timedelta(days=day)).isoformat(),
                "kind": "run",
                "minutes": much,
                "distance_km": much / 6,
                "effort": 5,
            }
            for day, much in enumerate(minutes)
            if much
        ]
    }


def _logged() -> Iterator[Readings]:
    yield _sessions(*(60, 0, 30) * 10, 60)
    yield _sessions(*(60, 0, 30) * 10, 120)
    yield _sessions(*(30,) * 30)
    yield _sessions(*(60, 58, 62, 60, 59, 61, 60) * 4)
    yield _sessions(*(120, 0, 60) * 10, 120)


def _previous() -> Iterator[Readings]:
    for weeks in (8, 30, 80):
        day = (TODAY - timedelta(weeks=weeks)).isoformat()
        yield {"previous-injuries": [{"date": day, "side": "left", "what": "sprain"}]}


def _limbs() -> Iterator[Readings]:
    for right in (900, 885, 870, 915, 930):
        yield {"limb-length": {"left": 900, "right": right}}


RECIPES: dict[str, Callable[[], Iterator[Readings]]] = {
    "wells-two-level": _wells,
    "ankle-brachial-index": _ankle_brachial,
    "wound-infected": _wounds,
    "wound-weeks": _wounds,
    "skin-temperature-difference": _temperature,
    "complaint-sides": _complaint_sides,
    "reds-primary-indicators": _reds_primary,
    "reds-secondary-indicators": _reds_secondary,
    "lesion-cubed-count": _cubed,
    "gastrocnemius-difference": _gastrocnemius,
    "navicular-drop": _drop,
    "arch-height-change": _arch,
    "arch-height-index": _arch,
    "fpi-total": _posture,
    "body-mass-index": _mass_index,
    "load-change-4-weeks": _weekly,
    "load-change-2-weeks": _weekly,
    "load-stable-weeks": _weekly,
    "sessions-per-week": _weekly,
    "session-spike-30-days": _logged,
    "training-monotony": _logged,
    "longest-session": _logged,
    "weeks-since-previous-injury": _previous,
    "limb-length-difference": _limbs,
}
