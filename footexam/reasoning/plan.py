"""From accepted hypotheses to aims, features, dimensions and clashes: pure, for each side.

While a caution forbids loading or devices for a side, nothing is planned for it.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from footexam.catalogue.arguments import Hold
from footexam.catalogue.model import Catalogue, say
from footexam.catalogue.plan_model import (
    GENERAL,
    HARM,
    Aim,
    Avoid,
    Conflict,
    Feature,
    FeatureClaim,
    Zone,
)
from footexam.mechanics.figures import figure
from footexam.mechanics.reach import OutOfReach
from footexam.mechanics.stack import Piece, forefoot_room, heel_room
from footexam.reasoning.argue import Argument
from footexam.reasoning.dangers import Caution
from footexam.reasoning.gates import BOOT
from footexam.reasoning.planned import (
    NO_PLAN,
    Candidate,
    Clash,
    Plan,
    PlanAim,
    ShoeRoom,
    Unmet,
)
from footexam.reasoning.sizing import dimensions, effects, known_inputs
from footexam.reasoning.truth import Rule
from footexam.reasoning.view import View
from footexam.terms import Grade, Side

LEADING = 3
"""How many leading hypotheses are planned for when nothing was accepted and a plan is suggested."""
HEIGHTS = frozenset({"height", "thickness"})
"""Dimensions that take room in the shoe."""
ROOM_FIGURES = frozenset({"sock-thickness", "toe-room", "heel-counter-share"})
_ORDER = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}
_GRADES = {grade: place for place, grade in enumerate(Grade)}

Views = Mapping[Side | None, View]
Chosen = Mapping[str, Mapping[str, Any]]
"""The features chosen on a side, by id."""


@dataclass(frozen=True, slots=True)
class Planner:
    """Plans by a catalogue; `rule` gives the compiled form of an expression."""

    catalogue: Catalogue
    rule: Callable[[str], Rule]

    def plan(
        self,
        arguments: Iterable[Argument],
        cautions: tuple[Caution, ...],
        views: Views,
        decisions: Mapping[str, Any],
        *,
        suggest: bool = False,
    ) -> Plan:
        """The plan of an examination; with `suggest`, for the leading hypotheses instead."""
        if not self.catalogue.aims:
            return NO_PLAN
        opened, suggested = self._opened(tuple(arguments), decisions, suggest)
        held = tuple(side for side in (*Side, None) if is_held(cautions, side))
        kept = {(one["id"], one.get("side")) for one in decisions.get("aims", ())}
        features = _chosen(decisions.get("features", ()))
        aims = [
            self._aim(self.catalogue.aims[name], side, why, views, features, kept, suggested)
            for (name, side), why in opened.items()
            if side not in held
        ]
        aims.sort(key=lambda one: (_ORDER[one.side], list(self.catalogue.aims).index(one.id)))
        named = tuple(self._with_clashes(one, aims, views, features) for one in aims)
        taken = self._taken(views, features, held, named)
        return Plan(
            aims=named,
            chosen=taken,
            rooms=tuple(self._rooms(views, taken)),
            device=tuple(self._device(views, taken, named)),
            unmet=tuple(self._unmet(views, taken)),
            held=held,
        )

    # --- aims

    def _opened(
        self, arguments: tuple[Argument, ...], decisions: Mapping[str, Any], suggest: bool
    ) -> tuple[dict[tuple[str, Side | None], tuple[str, ...]], bool]:
        """The aims of the accepted hypotheses, or of the leading ones where it is suggested."""
        accepted = decisions.get("hypotheses", {}).get("accepted", ())
        chosen = [(one["id"], _side(one.get("side"))) for one in accepted]
        if suggest:
            leading = [one for one in arguments if one.concerns and one.shown >= 1][:LEADING]
            chosen = [(one.id, one.side) for one in leading]
        opened: dict[tuple[str, Side | None], tuple[str, ...]] = {}
        for name, side in chosen:
            for aim in self.catalogue.aims.values():
                if name in aim.hypotheses:
                    opened[aim.id, side] = (*opened.get((aim.id, side), ()), name)
        return opened, suggest

    def _aim(
        self,
        aim: Aim,
        side: Side | None,
        hypotheses: tuple[str, ...],
        views: Views,
        features: Mapping[Side | None, Chosen],
        kept: set[tuple[str, str | None]],
        suggested: bool,
    ) -> PlanAim:
        view, chosen = views[side], _on(features, side)
        inputs = known_inputs(view, chosen)
        serving = [one for one in self.catalogue.features.values() if aim.id in one.aims]
        candidates = [
            self._candidate(feature, aim.id, side, view, inputs, chosen) for feature in serving
        ]
        candidates.sort(key=lambda one: _rank(one.feature, aim.id))
        return PlanAim(
            aim=aim,
            side=side,
            hypotheses=hypotheses,
            candidates=tuple(replace(one, suggested=suggested) for one in candidates),
            kept=(aim.id, side) in kept or (aim.id, None) in kept,
            suggested=suggested,
        )

    def _candidate(
        self,
        feature: Feature,
        aim: str,
        side: Side | None,
        view: View,
        inputs: Mapping[str, float | None],
        chosen: Chosen,
    ) -> Candidate:
        holding, told = self._avoids(feature, view)
        own = sorted((one for one in feature.claims if one.about == aim), key=_grade)
        general = [one for one in feature.claims if one.about == GENERAL]
        return Candidate(
            feature=feature,
            aim=aim,
            side=side,
            dimensions=dimensions(feature, inputs, chosen.get(feature.id), self.catalogue),
            claims=(*own, *general),
            harms=tuple(one for one in feature.claims if one.about == HARM),
            effects=effects(feature, inputs, self.catalogue),
            avoid=holding,
            cautions=told,
            chosen=feature.id in chosen,
        )

    def _avoids(self, feature: Feature, view: View) -> tuple[tuple[Avoid, ...], tuple[Avoid, ...]]:
        """Reasons not to use it that hold for this person, and those that are only told."""
        holding = tuple(
            one for one in feature.avoids if one.when and self.rule(one.when).holds(view)
        )
        return holding, tuple(one for one in feature.avoids if not one.when)

    def _taken(
        self,
        views: Views,
        features: Mapping[Side | None, Chosen],
        held: tuple[Side | None, ...],
        aims: tuple[PlanAim, ...],
    ) -> tuple[Candidate, ...]:
        """Every chosen feature once a side; one that serves no open aim for its first aim."""
        found: dict[tuple[str, Side | None], Candidate] = {}
        for aim in aims:
            for one in aim.candidates:
                if one.chosen:
                    found.setdefault((one.id, one.side), one)
        for side, chosen in features.items():
            for name in chosen:
                feature = self.catalogue.features.get(name)
                if feature is not None and side not in held and (name, side) not in found:
                    inputs = known_inputs(views[side], chosen)
                    first = feature.aims[0] if feature.aims else ""
                    bare = self._candidate(feature, first, side, views[side], inputs, chosen)
                    found[name, side] = bare
        order = list(self.catalogue.features)
        return tuple(
            sorted(found.values(), key=lambda one: (_ORDER[one.side], order.index(one.id)))
        )

    # --- clashes

    def _with_clashes(
        self,
        aim: PlanAim,
        aims: list[PlanAim],
        views: Views,
        features: Mapping[Side | None, Chosen],
    ) -> PlanAim:
        chosen = _on(features, aim.side)
        beside = set(chosen) or {
            one.id for other in aims if other.side is aim.side for one in other.candidates
        }
        wanted = {other.id for other in aims if other.side is aim.side}
        candidates = [
            replace(one, clashes=tuple(self._clashes(one, beside, wanted, views, features)))
            for one in aim.candidates
        ]
        return replace(aim, candidates=tuple(candidates))

    def _clashes(
        self,
        one: Candidate,
        beside: set[str],
        wanted: set[str],
        views: Views,
        features: Mapping[Side | None, Chosen],
    ) -> Iterator[Clash]:
        for conflict in self.catalogue.conflicts.values():
            if one.id not in conflict.features or not self._holds(conflict, one, views, features):
                continue
            others = [name for name in conflict.features if name != one.id]
            if conflict.aims:
                others = [name for name in conflict.aims if name in wanted]
            elif not conflict.one_sided and not set(others) <= beside:
                continue
            for other in others or ([one.id] if conflict.one_sided else []):
                yield Clash(other, conflict.severity, say(conflict.why), conflict)

    def _holds(
        self,
        conflict: Conflict,
        one: Candidate,
        views: Views,
        features: Mapping[Side | None, Chosen],
    ) -> bool:
        """Whether the record, the sides and the dimensions let a conflict be one."""
        if conflict.when and not self.rule(conflict.when).holds(views[one.side]):
            return False
        if conflict.one_sided and not _one_sided(one, features):
            return False
        values = {(one.id, part.size.id): part.value for part in one.dimensions}
        return all(
            values.get((limit.feature, limit.size), limit.most) <= limit.most
            for limit in conflict.limits
        )

    # --- the shoe, the device, the checks

    def _rooms(self, views: Views, taken: tuple[Candidate, ...]) -> Iterator[ShoeRoom]:
        """The room in the shoe on every side that gets something."""
        figures = self.catalogue.figures
        if not figures.keys() >= ROOM_FIGURES:
            return
        for side in Side:
            mine = [one for one in taken if one.side in {side, None}]
            if not mine:
                continue
            view = views[side]
            try:
                yield ShoeRoom(
                    side,
                    heel_room(
                        _pieces(mine, {Zone.HEEL, Zone.WHOLE}),
                        _number(view, "shoe-heel-depth"),
                        _number(view, "shoe-insole-thickness"),
                        figure(figures, "heel-counter-share"),
                    ),
                    forefoot_room(
                        _pieces(mine, {Zone.FOREFOOT, Zone.WHOLE}),
                        _number(view, "shoe-forefoot-depth"),
                        _number(view, "shoe-insole-thickness"),
                        _number(view, "forefoot-height"),
                        figure(figures, "sock-thickness"),
                        figure(figures, "toe-room"),
                    ),
                )
            except OutOfReach:
                continue  # a chosen dimension is refused; it says so itself

    def _device(
        self, views: Views, taken: tuple[Candidate, ...], aims: tuple[PlanAim, ...]
    ) -> Iterator[Any]:
        """The arguments about custom or prefabricated that hold on any side."""
        features = {one.id for one in taken}
        wanted = {one.id for one in aims}
        for one in self.catalogue.device_arguments.values():
            true = not one.when or any(self.rule(one.when).holds(view) for view in views.values())
            chosen = not one.features or not features.isdisjoint(one.features)
            asked = not one.aims or not wanted.isdisjoint(one.aims)
            if true and chosen and asked and (features or wanted):
                yield one

    def _unmet(self, views: Views, taken: tuple[Candidate, ...]) -> Iterator[Unmet]:
        """What must be recorded before a boot or tight tape, and is not."""
        shutting = {one.id for one in taken} & BOOT
        sides = {one.side for one in taken if one.id in BOOT}
        for check in self.catalogue.checks.values() if shutting else ():
            missing = tuple(
                name
                for name in check.asks
                if any(not views[side].is_recorded(name) for side in sides)
            )
            if missing:
                yield Unmet(check, missing)


def is_held(cautions: Iterable[Caution], side: Side | None) -> bool:
    """Whether a caution that nobody has decided about holds back loading or a device."""
    return any(
        one.holds_back(what, side) for one in cautions for what in (Hold.LOADING, Hold.DEVICE)
    )


def _side(word: Any) -> Side | None:
    return Side(word) if word else None


def _chosen(
    features: Iterable[Mapping[str, Any]],
) -> dict[Side | None, dict[str, Mapping[str, Any]]]:
    found: dict[Side | None, dict[str, Mapping[str, Any]]] = {}
    for one in features:
        found.setdefault(_side(one.get("side")), {})[one["id"]] = one
    return found


def _on(features: Mapping[Side | None, Chosen], side: Side | None) -> dict[str, Mapping[str, Any]]:
    """The features chosen on a side, with those chosen without one."""
    return {**features.get(None, {}), **features.get(side, {})}


def _one_sided(one: Candidate, features: Mapping[Side | None, Chosen]) -> bool:
    """Whether a feature is chosen for the side of the candidate alone."""
    if one.side is None or one.id in features.get(None, {}):
        return False
    return [side for side in Side if one.id in features.get(side, {})] == [one.side]


def _rank(feature: Feature, aim: str) -> tuple[int, int, int]:
    """Tried first, then the best evidence for the aim, then the least bulk."""
    graded = [_grade(one) for one in feature.claims if one.about == aim]
    return aim not in feature.first, min(graded, default=len(_GRADES)), feature.bulk


def _grade(claim: FeatureClaim) -> int:
    return _GRADES[claim.grade]


def _pieces(taken: Iterable[Candidate], zones: set[Zone]) -> list[Piece]:
    """What takes room in a zone; a foam's loss under load is left out, which is the safe side."""
    return [
        Piece(one.id, float(part.value), 0.0)
        for one in taken
        if one.feature.zone in zones
        for part in one.dimensions
        if part.size.id in HEIGHTS and part.size.unit == "mm"
    ]


def _number(view: View, name: str) -> float | None:
    found = view.measured(name)
    return None if found is None else float(found.value)
