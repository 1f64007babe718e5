"""Gates: what must not be tried or given now, and why; defined once for screen, paper and tests.

The states that conditions of the sheet speak of are here as well: a gate is open, a hypothesis
asks, a device, a boot or imaging is considered.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from footexam.catalogue.arguments import Check, Gate, Hold
from footexam.catalogue.model import Catalogue, Texts, say
from footexam.reasoning.dangers import Caution
from footexam.reasoning.truth import Rule
from footexam.reasoning.view import View
from footexam.terms import Side, Tier

BOOT = frozenset({"walking-boot"})
"""Features that shut the foot in: what must be recorded before one is in `checks`."""


@dataclass(frozen=True, slots=True)
class Gates:
    """The compiled gates of a catalogue."""

    gates: tuple[tuple[Gate, tuple[tuple[Rule, Texts], ...]], ...]
    checks: tuple[Check, ...]

    def shut(self, view: View, cautions: Iterable[Caution]) -> Mapping[str, tuple[str, ...]]:
        """The measures that must not be tried on a side, each with its reasons in words."""
        open_ones = [one for one in cautions if bars_provocation(one, view.side)]
        found: dict[str, tuple[str, ...]] = {}
        for gate, causes in self.gates:
            reasons = [say(says) for rule, says in causes if rule.holds(view)]
            if open_ones:
                reasons.insert(0, say(gate.because))
            if reasons:
                for name in gate.forbids:
                    found[name] = (*found.get(name, ()), *reasons)
        return found


def bars_provocation(caution: Caution, side: Side | None) -> bool:
    """Whether a caution forbids to provoke the pain; a yes that leads nowhere yet does so too."""
    if caution.id is None:
        return caution.is_open and (caution.side is None or side in {None, caution.side})
    return caution.holds_back(Hold.PROVOCATION, side)


def compile_gates(catalogue: Catalogue, compiled: Callable[[str], Rule]) -> Gates:
    """The gates with their rules."""
    return Gates(
        tuple(
            (gate, tuple((compiled(one.when), one.says) for one in gate.causes))
            for gate in catalogue.gates.values()
        ),
        tuple(catalogue.checks.values()),
    )


@dataclass(frozen=True, slots=True)
class States:
    """What the conditions of the sheet call by name.

    `asked` are the measures that open or nearly open hypotheses, and fired cautions, ask for.
    """

    asked: frozenset[str]
    gate_open: bool
    device: bool
    boot: bool
    imaging: bool


QUIET = States(frozenset(), gate_open=True, device=False, boot=False, imaging=False)
"""Nothing is asked for, nothing held back."""


def states(
    cautions: tuple[Caution, ...], asked: frozenset[str], decisions: Mapping[str, Any]
) -> States:
    """The states of an examination.

    A device is considered once a hypothesis is accepted or a feature chosen, a boot once a boot is
    chosen or a caution for the same day or sooner is open, imaging once any caution has fired.
    """
    features = {one.get("id") for one in decisions.get("features", ())}
    accepted = decisions.get("hypotheses", {}).get("accepted", ())
    urgent = {Tier.EMERGENCY, Tier.SAME_DAY}
    return States(
        asked=asked,
        gate_open=not any(bars_provocation(one, None) for one in cautions),
        device=bool(features or accepted),
        boot=bool(features & BOOT) or any(one.is_open and one.tier in urgent for one in cautions),
        imaging=any(one.id is not None for one in cautions),
    )
