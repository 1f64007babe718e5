"""What a marker must look at first, in words: missed dangers, sides, unsafe plans, signs."""

from collections.abc import Iterator

from footexam.catalogue.marking import Seen
from footexam.marking.compared import CautionMissed, Comparison, Slip
from footexam.reports.marking_page import Words


def critical_words(comparison: Comparison, words: Words) -> Iterator[tuple[Seen | None, str]]:
    """What was found and the critical fail that it may be; None for turned signs, which are none.

    Whether it is so, the marker decides.
    """
    missed = comparison.reasoned.cautions
    if missed:
        what = "; ".join(_missed_caution(one, words) for one in missed)
        yield Seen.MISSED_CAUTION, words("missed-caution", what=what)
    slipped = (item.measure for item in comparison.items if item.slip is Slip.SIDES)
    sides = list(dict.fromkeys(words.label(measure) for measure in slipped))
    if sides:
        key = "wrong-side-all" if comparison.sides_exchanged else "wrong-side"
        yield Seen.WRONG_SIDE, words(key, what="; ".join(sides))
    if comparison.reasoned.held:
        what = words.named(comparison.reasoned.held)
        yield Seen.UNSAFE_PLAN, words("unsafe-plan", what=what)
    signs = [words.item(item) for item in comparison.items if item.slip is Slip.SIGN]
    if signs:
        yield None, words("sign-slips", what="; ".join(signs))


def _missed_caution(one: CautionMissed, words: Words) -> str:
    name = words.sided(words.thing(one.id), one.side)
    if one.student_tier is None or one.tier is None:
        return name
    had, wanted = (words.phrases(f"tier-{tier}") for tier in (one.student_tier, one.tier))
    return words("missed-less", name=name, had=had, wanted=wanted)
