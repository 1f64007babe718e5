"""The dangers of a referral: how soon, which, what they rest on, what was done about them."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from footexam.assessment import Caution
from footexam.reasoning.letters import stands
from footexam.reports.cautions import (
    branch_of,
    caution_name,
    decision_about,
    decision_words,
    raised_cautions,
)
from footexam.reports.letter_phrases import letter_phrase
from footexam.reports.material import Material
from footexam.reports.values import score_words, value_lines
from footexam.reports.words import opened
from footexam.terms import Side, Tier

_TIERS = tuple(Tier)


@dataclass(frozen=True, slots=True)
class Danger:
    """One caution on the sides where it stands for the same reason; `done` is what was decided.

    `id` is None for a yes that no caution rests on.
    """

    first: Caution | None
    name: str
    sides: tuple[Side | None, ...]
    rests: tuple[str, ...]
    done: str

    @property
    def tier(self) -> Tier | None:
        """How soon it must be acted on."""
        return self.first.tier if self.first else None


def dangers(material: Material) -> list[Danger]:
    """Every caution and every yes that still speaks, the most serious first."""
    return _dangers(material, excluded=False)


def excluded(material: Material) -> list[Danger]:
    """What was raised and ruled out."""
    return _dangers(material, excluded=True)


def foremost(found: Iterable[Danger]) -> tuple[Tier | None, list[Danger]]:
    """The most serious tier and the dangers that stand there; a yes without a tier stands with all.

    None where nothing has a tier.
    """
    every = list(found)
    tiers = [one.tier for one in every if one.tier]
    if not tiers:
        return None, every
    tier = min(tiers, key=_TIERS.index)
    return tier, [one for one in every if one.tier in {tier, None}]


def _dangers(material: Material, *, excluded: bool) -> list[Danger]:
    found: dict[tuple[object, ...], Danger] = {}
    for item in raised_cautions(material):
        caution = item.caution
        if (caution is not None and not stands(caution)) is not excluded:
            continue
        done = _done(caution, material)
        name = caution_name(caution, material) if caution else material.label(item.measure)
        rests = item.because if item.is_reasoned else ()
        key = (name, caution and caution.branch, item.side is None, done)
        before = found.get(key)
        sides = (*before.sides, item.side) if before else (item.side,)
        names = tuple(dict.fromkeys((*(before.rests if before else ()), *rests)))
        first = before.first if before else caution
        found[key] = Danger(first, name, sides, names, done)
    return list(found.values())


def _done(caution: Caution | None, material: Material) -> str:
    """What a named person decided about it; empty where nothing is recorded."""
    made = decision_about(caution, material) if caution else None
    return " · ".join(decision_words(made, material)) if made else ""


def sided(name: str, sides: Iterable[Side | None], material: Material) -> str:
    """A name with its side or both."""
    known = [side for side in dict.fromkeys(sides) if side]
    if not known:
        return name
    word = material.side_word(known[0]) if len(known) == 1 else material.phrases("both-word")
    return letter_phrase("named-side", material.language, name=name, side=word)


def danger_lines(found: Sequence[Danger], material: Material, most: int | None) -> Iterator[str]:
    """What each is, what to do, what it rests on (at most so many answers), what was done."""
    alike = len(found) > 1 and not any(one.done for one in found)
    for one in found:
        yield " ".join(filter(None, _parts(one, material, most, alike=alike)))
    if alike:
        yield _say(material, "undecided-all")


def _parts(one: Danger, material: Material, most: int | None, *, alike: bool) -> Iterator[str]:
    name = sided(one.name, one.sides, material)
    if one.first is None or one.tier is None:
        yield _say(material, "caution-plain", name=name)
    else:
        tier = material.phrases(f"tier-{one.tier}")
        yield _say(material, "caution", name=name, tier=tier, action=_action(one.first, material))
    rests = [_answer(measure, one.sides, material) for measure in one.rests]
    if most is not None and len(rests) > most:
        left = len(rests) - most
        rests = [_say(material, "listed-more", what="; ".join(rests[:most]), count=left)]
    if rests and most != 0:
        yield _say(material, "rests", what="; ".join(rests))
    if one.done:
        yield _say(material, "decided", what=opened(one.done))
    elif not alike:
        yield _say(material, "undecided")


def _action(caution: Caution, material: Material) -> str:
    """What is to be done, without saying twice how soon."""
    branch = branch_of(caution, material)
    action = material.say(branch.action) if branch else caution.action or ""
    start, colon, rest = action.partition(": ")
    tier = material.phrases(f"tier-{caution.tier}")
    return opened(rest) if colon and tier.startswith(start) else action


def _answer(measure: str, sides: Iterable[Side | None], material: Material) -> str:
    """An answer with its value; of both sides where they differ."""
    told = {side: _value(measure, side, material) for side in sides}
    label, values = material.label(measure), dict.fromkeys(filter(None, told.values()))
    if not values:
        return label
    if len(values) == 1:
        return f"{label}: {next(iter(values))}"
    parts = (f"{material.side_word(side)} {text}" for side, text in told.items() if side and text)
    return f"{label}: {', '.join(parts)}"


def _value(measure: str, side: Side | None, material: Material) -> str:
    reading = material.reading(measure, side) or material.reading(measure)
    if reading is None:
        return score_words(measure, side, material)
    return "" if reading.absent else " ".join(" ".join(value_lines(reading, material)).split())


def _say(material: Material, key: str, **parts: object) -> str:
    return letter_phrase(key, material.language, **parts)
