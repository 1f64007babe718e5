"""From accepted hypotheses to aims, features, dimensions and clashes: pure, for each side.

While a caution forbids loading or devices for a side, nothing is planned for it.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from typing import Any

from footexam.catalogue.arguments import Hold
from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import DeviceArgument, Zone
from footexam.mechanics.figures import figure
from footexam.mechanics.reach import OutOfReach
from footexam.mechanics.stack import Piece, forefoot_room, heel_room
from footexam.reasoning.argue import Argument
from footexam.reasoning.dangers import Caution
from footexam.reasoning.gates import BOOT
from footexam.reasoning.plan_forms import PlanForms
from footexam.reasoning.planned import Candidate, Plan, PlanAim, ShoeRoom, Unmet
from footexam.reasoning.side_plan import Chosen, SidePlan, Worked
from footexam.reasoning.truth import Rule
from footexam.reasoning.view import View
from footexam.terms import Side

LEADING = 3
"""How many leading hypotheses are planned for where a plan is suggested."""
HEIGHTS = frozenset({"height", "thickness"})
"""Dimensions that take room in the shoe."""
ROOM_FIGURES = frozenset({"sock-thickness", "toe-room", "heel-counter-share"})
_ORDER: dict[Side | None, int] = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}

Views = Mapping[Side | None, View]
Opened = Mapping[Side | None, Mapping[str, tuple[str, ...]]]
"""The hypotheses behind each aim, by side."""
Sides = Mapping[Side | None, SidePlan]


class Planner:
    """Plans by a catalogue; `rule` gives the compiled form of an expression."""

    def __init__(self, catalogue: Catalogue, rule: Callable[[str], Rule]) -> None:
        self.catalogue = catalogue
        self._rule = rule
        self._last: tuple[Views, object, Plan] | None = None
        """What was planned last, and for what."""
        self._worked: dict[Side | None, dict[str, Worked]] = {}
        """What was worked out of features for the views that were planned for last."""

    @cached_property
    def forms(self) -> PlanForms:
        """What is put in order once; most examinations end without a plan."""
        return PlanForms(self.catalogue, self._rule)

    def plan(
        self,
        arguments: Iterable[Argument],
        cautions: tuple[Caution, ...],
        views: Views,
        decisions: Mapping[str, Any],
        *,
        suggest: bool = False,
    ) -> Plan:
        """The plan of an examination; with `suggest`, for the leading hypotheses instead.

        The same is asked for while it is typed, when it is taken and when the entry is judged:
        what was planned last is kept.
        """
        asked = tuple(arguments), cautions, decisions, suggest
        if self._last is None or self._last[0] is not views:
            self._worked = {side: {} for side in views}
        elif self._last[1] == asked:
            return self._last[2]
        plan = self._plan(asked[0], cautions, views, decisions, suggest)
        self._last = views, asked, plan
        return plan

    def _plan(
        self,
        arguments: tuple[Argument, ...],
        cautions: tuple[Caution, ...],
        views: Views,
        decisions: Mapping[str, Any],
        suggest: bool,
    ) -> Plan:
        held = tuple(side for side in (*Side, None) if is_held(cautions, side))
        begun = _leading(arguments) if suggest else _accepted(decisions)
        kept, features = _kept(decisions), _chosen(decisions)
        if not (begun or any(kept.values()) or features):
            return Plan(held=held)
        opened = self._opened(begun, kept)
        sides = {
            side: SidePlan(
                self.forms,
                side,
                views[side],
                _on(features, side),
                _alone(features, side),
                kept[side],
                frozenset(opened[side]),
                suggest,
                self._worked[side],
            )
            for side in (*Side, None)
            if side not in held
        }
        aims = tuple(self._aims(opened, sides, suggest))
        taken = tuple(self._taken(features, sides, aims))
        return Plan(
            aims=aims,
            chosen=taken,
            rooms=tuple(self._rooms(sides)),
            device=tuple(self._device(views, taken, sides)),
            unmet=tuple(self._unmet(views, taken)),
            held=held,
        )

    # --- aims and features

    def _opened(
        self,
        begun: Iterable[tuple[str, Side | None]],
        kept: Mapping[Side | None, frozenset[str]],
    ) -> dict[Side | None, dict[str, tuple[str, ...]]]:
        """The aims of these hypotheses by side, and those that were kept without one."""
        opened: dict[Side | None, dict[str, tuple[str, ...]]] = {Side.LEFT: {}, Side.RIGHT: {}}
        opened[None] = {}
        for name, side in begun:
            for aim in self.forms.aims_of.get(name, ()):
                opened[side][aim.id] = (*opened[side].get(aim.id, ()), name)
        sided = {name for side in Side for name in opened[side]}
        for side, names in kept.items():
            common = sided if side is None else kept[None]
            for name in sorted(names - common):
                if name in self.forms.aim_order:
                    opened[side].setdefault(name, ())
        return opened

    def _aims(self, opened: Opened, sides: Sides, suggested: bool) -> Iterator[PlanAim]:
        for side, desk in sides.items():
            for name in sorted(opened[side], key=self.forms.aim_order.__getitem__):
                aim = self.catalogue.aims[name]
                yield PlanAim(
                    aim=aim,
                    side=side,
                    hypotheses=opened[side][name],
                    candidates=desk.candidates(name),
                    kept=name in desk.kept,
                    suggested=suggested,
                    against=tuple(one for one in aim.excludes if one in desk.wanted),
                )

    def _taken(
        self, features: Mapping[Side | None, Chosen], sides: Sides, aims: tuple[PlanAim, ...]
    ) -> Iterator[Candidate]:
        """Every chosen feature as it was chosen, for the aim it serves, a kept one before others.

        One that serves no open aim stands for its first aim.
        """
        order = self.forms.feature_order
        ranked = sorted(aims, key=lambda one: not one.kept)
        for side, desk in sides.items():
            known = [name for name in features.get(side, ()) if name in order]
            for name in sorted(known, key=order.__getitem__):
                feature = self.catalogue.features[name]
                served = [
                    one.id
                    for one in ranked
                    if one.id in feature.aims and (side is None or one.side in {side, None})
                ]
                yield desk.candidate(feature, (served or feature.aims)[0])

    # --- the shoe, the device, the checks

    def _rooms(self, sides: Sides) -> Iterator[ShoeRoom]:
        """The room in the shoe on every side that gets something."""
        if not self.catalogue.figures.keys() >= ROOM_FIGURES:
            return
        for side, desk in sides.items():
            if side is not None and any(name in self.catalogue.features for name in desk.chosen):
                try:
                    yield self._room(side, desk)
                except OutOfReach:
                    continue  # a chosen dimension is refused; it says so itself

    def _room(self, side: Side, desk: SidePlan) -> ShoeRoom:
        figures, view = self.catalogue.figures, desk.view
        return ShoeRoom(
            side,
            heel_room(
                self._pieces(desk, {Zone.HEEL, Zone.WHOLE}),
                _number(view, "shoe-heel-depth"),
                _number(view, "shoe-insole-thickness"),
                figure(figures, "heel-counter-share"),
            ),
            forefoot_room(
                self._pieces(desk, {Zone.FOREFOOT, Zone.WHOLE}),
                _number(view, "shoe-forefoot-depth"),
                _number(view, "shoe-insole-thickness"),
                _number(view, "forefoot-height"),
                figure(figures, "sock-thickness"),
                figure(figures, "toe-room"),
            ),
        )

    def _pieces(self, desk: SidePlan, zones: set[Zone]) -> list[Piece]:
        """What takes room in a zone; a foam's loss under load is left out: the safe side."""
        features = self.catalogue.features
        return [
            Piece(name, float(part.value), 0.0)
            for name in desk.chosen
            if name in features and features[name].zone in zones
            for part in desk.dimensions(name)
            if part.size.id in HEIGHTS and part.size.unit == "mm"
        ]

    def _device(
        self, views: Views, taken: tuple[Candidate, ...], sides: Sides
    ) -> Iterator[DeviceArgument]:
        """The arguments about custom or prefabricated that hold on any side."""
        features = {one.id for one in taken}
        wanted = frozenset().union(*(desk.wanted for desk in sides.values()))
        if not features and not wanted:
            return
        for one in self.catalogue.device_arguments.values():
            chosen = not one.features or not features.isdisjoint(one.features)
            asked = not one.aims or not wanted.isdisjoint(one.aims)
            if chosen and asked and self._is_true(one.when, views):
                yield one

    def _is_true(self, when: str, views: Views) -> bool:
        return not when or any(self._rule(when).holds(view) for view in views.values())

    def _unmet(self, views: Views, taken: tuple[Candidate, ...]) -> Iterator[Unmet]:
        """What must be recorded before a boot or tight tape, and is not."""
        boots = {one.side for one in taken if one.id in BOOT}
        sides = set(Side) if None in boots else boots
        never = self.forms.concerns.never(views[None])
        for check in self.catalogue.checks.values() if sides else ():
            missing = tuple(
                name
                for name in check.asks
                if name not in never and any(not views[side].is_recorded(name) for side in sides)
            )
            if missing:
                yield Unmet(check, missing)


def is_held(cautions: Iterable[Caution], side: Side | None) -> bool:
    """Whether a caution that nobody has decided about holds back loading or a device."""
    return any(
        one.holds_back(what, side) for one in cautions for what in (Hold.LOADING, Hold.DEVICE)
    )


def _leading(arguments: Iterable[Argument]) -> list[tuple[str, Side | None]]:
    found = [(one.id, one.side) for one in arguments if one.concerns and one.shown >= 1]
    return found[:LEADING]


def _accepted(decisions: Mapping[str, Any]) -> list[tuple[str, Side | None]]:
    accepted = decisions.get("hypotheses", {}).get("accepted", ())
    return [(one["id"], _side(one.get("side"))) for one in accepted]


def _kept(decisions: Mapping[str, Any]) -> dict[Side | None, frozenset[str]]:
    """The aims kept on each side, with those kept without one."""
    pairs = {(one["id"], _side(one.get("side"))) for one in decisions.get("aims", ())}
    return {
        side: frozenset(name for name, on in pairs if on in {side, None}) for side in (*Side, None)
    }


def _chosen(decisions: Mapping[str, Any]) -> dict[Side | None, dict[str, Mapping[str, Any]]]:
    """The features chosen, by the side they were chosen for."""
    found: dict[Side | None, dict[str, Mapping[str, Any]]] = {}
    for one in decisions.get("features", ()):
        found.setdefault(_side(one.get("side")), {})[one["id"]] = one
    return found


def _on(features: Mapping[Side | None, Chosen], side: Side | None) -> Chosen:
    """The features chosen on a side, with those chosen without one."""
    return {**features.get(None, {}), **features.get(side, {})}


def _alone(features: Mapping[Side | None, Chosen], side: Side | None) -> frozenset[str]:
    """The features chosen for a side and for no other."""
    if side is None:
        return frozenset()
    others = (found for on, found in features.items() if on is not side)
    return frozenset(features.get(side, ())).difference(*others)


def _side(word: Any) -> Side | None:
    return Side(word) if word else None


def _number(view: View, name: str) -> float | None:
    found = view.measured(name)
    return None if found is None else float(found.value)
