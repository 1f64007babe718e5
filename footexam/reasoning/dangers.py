"""Cautions: which danger signs fire, on which side, with what each asks for; before any ranking.

A caution is never outranked, hidden or cleared by a finding. It leaves the list only when the
answer it rests on is taken back, by a named person with a reason, and that stays on paper.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from footexam.catalogue.arguments import Branch, DangerSign, Hold
from footexam.catalogue.model import Catalogue
from footexam.reasoning.truth import Rule
from footexam.reasoning.view import View
from footexam.terms import Kind, Side, Tier

CAUTION_PANEL = "cautions"
YES = ("yes",)
UNRESOLVED = (Hold.LOADING, Hold.PROVOCATION, Hold.DEVICE)
"""What a yes holds back that has led nowhere yet: it may still turn out to be any danger."""
_DANGER = "caution-"
_ANSWERED = frozenset({Kind.YES_NO, Kind.YES_SITES})
_TIERS = {tier: place for place, tier in enumerate(Tier)}
_SIDES = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}


@dataclass(frozen=True, slots=True)
class Caution:
    """A danger sign that stands; `decision` is what a named person decided about it, if anything.

    `id`, `branch` and `tier` are None for a yes whose own questions have not led anywhere yet.
    """

    id: str | None
    branch: str | None
    side: Side | None
    tier: Tier | None
    because: tuple[str, ...]
    action: str | None = None
    source: str | None = None
    decision: str | None = None
    holds: tuple[Hold, ...] = ()

    @property
    def about(self) -> str:
        """What a decision is filed under: its id, or the question that was answered yes."""
        return self.id or self.because[0].partition(":")[2]

    @property
    def is_open(self) -> bool:
        """Whether nobody has decided about it yet."""
        return self.decision is None

    def holds_back(self, what: Hold, side: Side | None) -> bool:
        """Whether it holds something back for a side; a caution without a side holds for both."""
        on_side = self.side is None or side is None or self.side is side
        return self.is_open and on_side and what in self.holds


@dataclass(frozen=True, slots=True)
class FiredBranch:
    """A compiled branch of a caution."""

    branch: Branch
    rule: Rule


Signs = tuple[tuple[DangerSign, tuple[FiredBranch, ...]], ...]


def is_caution(measure: str, catalogue: Catalogue) -> bool:
    """Whether a measure is one of the questions of the cautions panel, answered by yes or no."""
    found = catalogue.measures.get(measure)
    return found is not None and found.panel == CAUTION_PANEL and found.kind in _ANSWERED


def is_danger(measure: str, catalogue: Catalogue) -> bool:
    """Whether it is a danger question: a yes on it stands until somebody has seen to it."""
    return measure.startswith(_DANGER) and is_caution(measure, catalogue)


def find_cautions(
    signs: Signs,
    views: Mapping[Side | None, View],
    decisions: Mapping[str, Any],
    dangers: tuple[str, ...],
) -> tuple[Caution, ...]:
    """Every caution that stands: the most serious first, then by id, left before right.

    Behind them, in forms order, every yes that no caution rests on.
    """
    found = [
        caution
        for sign, branches in signs
        for caution in _of_sign(sign, branches, views, decisions)
    ]
    used = {(name, caution.side) for caution in found for name in caution.because}
    return (*sorted(found, key=_place), *_unresolved(views, used, decisions, dangers))


def danger_questions(catalogue: Catalogue) -> tuple[str, ...]:
    """The danger questions in forms order."""
    panel = catalogue.panels.get(CAUTION_PANEL)
    names = panel.measures if panel else ()
    return tuple(name for name in names if is_danger(name, catalogue))


def _place(caution: Caution) -> tuple[int, str, int]:
    tier = len(_TIERS) if caution.tier is None else _TIERS[caution.tier]
    return tier, caution.id or "", _SIDES[caution.side]


def _of_sign(
    sign: DangerSign,
    branches: Iterable[FiredBranch],
    views: Mapping[Side | None, View],
    decisions: Mapping[str, Any],
) -> Iterator[Caution]:
    """For each side its most serious branch, with all that fired it.

    What fires without a side stands once and counts for both; a side that fires a more serious
    branch stands beside it.
    """
    common = _foremost(branches, views[None])
    for fired in common:
        yield _caution(sign, fired, views[None], None, decisions)
    for side in (Side.LEFT, Side.RIGHT):
        for fired in _foremost(branches, views[side]):
            if not any(_covers(one, fired) for one in common):
                yield _caution(sign, fired, views[side], side, decisions)


def _foremost(branches: Iterable[FiredBranch], view: View) -> tuple[FiredBranch, ...]:
    """The first branch that fires: they stand the most serious first.

    The cancer pathway is a way of its own rather than a slower one, so it stands beside it.
    """
    fired = [one for one in branches if one.rule.may_hold(view) and one.rule.holds(view)]
    cancer = [one for one in fired[1:] if one.branch.tier is Tier.CANCER_PATHWAY]
    apart = cancer if fired and fired[0].branch.tier is not Tier.CANCER_PATHWAY else []
    return (*fired[:1], *apart[:1])


def _covers(common: FiredBranch, own: FiredBranch) -> bool:
    """Whether a side says nothing more serious than what stands for both."""
    if (common.branch.tier is Tier.CANCER_PATHWAY) is not (own.branch.tier is Tier.CANCER_PATHWAY):
        return False
    return _TIERS[common.branch.tier] <= _TIERS[own.branch.tier]


def _caution(
    sign: DangerSign,
    fired: FiredBranch,
    view: View,
    side: Side | None,
    decisions: Mapping[str, Any],
) -> Caution:
    branch = fired.branch
    because = {
        name: None for atom in fired.rule.atoms if atom.holds(view) for name in atom.measures
    }
    return Caution(
        id=sign.id,
        branch=branch.id,
        side=side,
        tier=branch.tier,
        because=tuple(f"measure:{name}" for name in because),
        action=branch.action["en"],
        source=branch.source,
        decision=decided(decisions.get(sign.id), side, branch.tier),
        holds=sign.holds,
    )


def decided(made: object, side: Side | None, tier: Tier | None = None) -> str | None:
    """What was decided about a caution on a side; a decision without a side counts for both.

    One decision, or a list of them. A decision about one side says nothing about the other, and
    none about what has become more serious since.
    """
    for one in made if isinstance(made, list) else [made]:
        if isinstance(one, Mapping) and one.get("side") in {None, side} and _still(one, tier):
            return str(one["decision"])
    return None


def _still(made: Mapping[str, Any], tier: Tier | None) -> bool:
    """Whether a caution is no more serious now than when this was decided, as far as is known."""
    then = made.get("tier")
    return tier is None or not then or _TIERS[tier] >= _TIERS[Tier(then)]


def _unresolved(
    views: Mapping[Side | None, View],
    used: set[tuple[str, Side | None]],
    decisions: Mapping[str, Any],
    dangers: tuple[str, ...],
) -> Iterator[Caution]:
    """A yes on a danger question that no caution rests on: its own questions lead nowhere yet."""
    said = frozenset().union(*(view.yes for view in views.values()))
    for name in dangers:
        if name not in said:
            continue
        because = f"measure:{name}"
        sides: tuple[Side | None, ...] = (Side.LEFT, Side.RIGHT)
        resting: tuple[Side | None, ...] = (None,)
        if views[None].words(name) == YES:
            sides, resting = (None,), (None, Side.LEFT, Side.RIGHT)
        for side in sides:
            rests = any((because, of) in used for of in (side, *resting))
            if views[side].words(name) == YES and not rests:
                decision = decided(decisions.get(name), side)
                held = UNRESOLVED
                yield Caution(None, None, side, None, (because,), decision=decision, holds=held)
