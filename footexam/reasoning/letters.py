"""Which blocks of a letter stand: conditions of the record, facts of plan and cautions; pure."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from footexam.catalogue.letters import Block, Document
from footexam.catalogue.plan_model import Zone
from footexam.reasoning.dangers import Caution
from footexam.reasoning.engine import Reasons
from footexam.reasoning.gates import BOOT
from footexam.reasoning.planned import Candidate
from footexam.reasoning.truth import Rule
from footexam.reasoning.view import View
from footexam.terms import Side

TAPES = frozenset({"low-dye-taping", "stirrup-taping"})
"""Features that are tape alone."""
INSENSATE = "insensate-foot"
"""The caution of a foot that does not feel; it counts for a leaflet whatever was decided."""
EXCLUDED = "excluded"
_IN_SHOE = frozenset({Zone.HEEL, Zone.MIDFOOT, Zone.FOREFOOT, Zone.WHOLE})
_SIDES: tuple[Side | None, ...] = (None, Side.LEFT, Side.RIGHT)

Views = Mapping[Side | None, View]


def stands(caution: Caution) -> bool:
    """Whether a caution still speaks in a letter: all that was not excluded."""
    return caution.decision != EXCLUDED


@dataclass(frozen=True, slots=True)
class Chooser:
    """Chooses blocks for one examination; `rule` gives the compiled form of an expression."""

    reasons: Reasons
    decisions: Mapping[str, Any]
    views: Views
    rule: Callable[[str], Rule]

    def choose(self, document: Document, blocks: Iterable[Block]) -> tuple[Block, ...]:
        """The blocks of a document that stand, in their order."""
        whole = self.facts(*_SIDES)
        found = [
            block
            for block in blocks
            if block.document is document
            and whole.isdisjoint(block.without)
            and any(self._stands(block, side) for side in _SIDES)
        ]
        return tuple(sorted(found, key=lambda block: block.order))

    def _stands(self, block: Block, side: Side | None) -> bool:
        """Whether all that a block asks is so on one side."""
        if not self.facts(side) >= set(block.facts):
            return False
        chosen = {one.id for one in self._chosen(side)}
        if block.features and chosen.isdisjoint(block.features):
            return False
        if block.hypotheses and self._accepted(side).isdisjoint(block.hypotheses):
            return False
        return not block.when or bool(self.rule(block.when).holds(self.views[side]))

    def facts(self, *sides: Side | None) -> set[str]:
        """The facts of the whole person, and those of what was chosen on the sides."""
        cautions, plan = self.reasons.cautions, self.reasons.plan
        chosen = [one for side in sides for one in self._chosen(side)]
        zones = {one.feature.zone for one in chosen if one.id not in TAPES}
        rooms = [room for room in plan.rooms if room.side in sides]
        held = {
            "danger": any(map(stands, cautions)),
            "caution": any(one.id is not None and stands(one) for one in cautions),
            "unresolved": any(one.id is None and stands(one) for one in cautions),
            "insensate": any(one.id == INSENSATE for one in cautions),
            "accepted": bool(self.decisions.get("hypotheses", {}).get("accepted", ())),
            "held": bool(plan.held),
            "plan": bool(chosen),
            "device": not zones.isdisjoint(_IN_SHOE),
            "shoe": Zone.SHOE in zones,
            "tape": any(one.id in TAPES for one in chosen),
            "boot": any(one.id in BOOT for one in chosen),
            "tight-shoe": any(
                fits is False for room in rooms for fits in (room.heel.fits, room.forefoot.fits)
            ),
        }
        return {name for name, is_so in held.items() if is_so}

    def _chosen(self, side: Side | None) -> list[Candidate]:
        """What was chosen on a side; what has no side counts for both."""
        return [one for one in self.reasons.plan.chosen if one.side in {side, None}]

    def _accepted(self, side: Side | None) -> set[str]:
        """The hypotheses accepted on a side; one without a side counts for both."""
        made = self.decisions.get("hypotheses", {}).get("accepted", ())
        return {one["id"] for one in made if one.get("side") in {side, None}}
