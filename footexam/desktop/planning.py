"""Planning beside the sheet: opens the plan sheet and records what is kept, chosen and dropped."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import Signal

from footexam.catalogue.model import say
from footexam.catalogue.plan_model import Severity
from footexam.desktop.beside import STAYS, Beside
from footexam.desktop.plan_page import PlanPage
from footexam.desktop.plan_rows import Place, What, find_candidate, holding, real_clashes
from footexam.desktop.session import Answer
from footexam.desktop.texts import TEXTS
from footexam.desktop.weighing import Subject
from footexam.reasoning.planned import Candidate, Plan

Act = Callable[[], Answer]


class Planning(Beside[PlanPage]):
    """The plan sheet. `reason_wanted(cell)`: the advice of a signed record is changed."""

    reason_wanted = Signal(object)
    keeps = STAYS | {"plan", "undo", "redo", "toggle_summary"}

    def _make_page(self) -> PlanPage:
        page = PlanPage(self.session, self._theme, self._stack)
        page.toggled.connect(self.toggle)
        page.sized.connect(self.choose)
        page.weighed.connect(self._on_weighed)
        page.wanted.connect(self._on_wanted)
        page.escaped.connect(self.leave)
        page.told.connect(self.told)
        page.reason_wanted.connect(self.reason_wanted)
        return page

    def open(self, place: Place | None = None) -> None:
        """Show the plan in the place of the sheet, at a row."""
        self._show_page()
        self.page.refresh()
        if place is not None:
            self.page.go_to(place)
        self.page.focus_list()

    def leave(self) -> None:
        """Back to the sheet; what was only tried is put back."""
        if not self.is_open:
            return
        self.page.advice.commit()
        tried = self.page.put_back()
        super().leave()
        if tried:
            self.told.emit(TEXTS["plan-put-back"].format(words=tried))

    def refresh(self) -> None:
        if self.is_open:
            self.page.refresh()

    def focus(self) -> None:
        self.page.refresh()
        self.page.focus_list()

    def commit(self) -> bool:
        return not self.is_open or self.page.commit()

    @property
    def is_half_typed(self) -> bool:
        return self.is_open and self.page.is_half_typed

    # --- decisions

    def toggle(self, place: Place) -> None:
        """Keep or drop an aim, choose or drop a feature."""
        session, name = self.session, place.id
        if place.what is What.FEATURE:
            one = find_candidate(self.page.plan, place)
            if one is None or not one.chosen:
                self.choose(place, {})
            else:
                self._record(
                    lambda: session.drop_decision(f"feature:{name}", place.side),
                    TEXTS["plan-dropped"].format(name=self._name(place)),
                )
            return
        aim = next((a for a in self.page.plan.aims if (a.id, a.side) == (name, place.side)), None)
        if aim is None:
            return
        self.page.kept(place)
        if aim.kept:
            act: Act = lambda: session.drop_decision(f"aim:{name}", place.side)  # noqa: E731
        else:
            act = lambda: session.keep_aim(name, place.side)  # noqa: E731
        words = TEXTS["plan-dropped" if aim.kept else "plan-kept"]
        self._record(act, words.format(name=self._name(place)))

    def choose(self, place: Place, sizes: Mapping[str, str]) -> None:
        """Choose a feature with its dimensions; what is refused for this person says why."""
        whole, plan = self.page.proposed(place, sizes)
        one = find_candidate(plan, place)
        why = _refusal(one, plan) if one is not None else ""
        name = self._name(place)
        if why:
            self.told.emit(TEXTS["plan-cannot"].format(name=name, why=why))
            return
        self._record(
            lambda: self.session.choose_feature(place.id, place.side, whole),
            TEXTS["plan-chosen"].format(name=name),
        )

    def _name(self, place: Place) -> str:
        catalogue = self.session.catalogue
        known = catalogue.aims.get(place.id) or catalogue.features.get(place.id)
        name = say(known.label) if known else place.id
        side = self.session.judge.material.side_word(place.side) if place.side else ""
        return f"{name}, {side}" if side else name

    # --- ways out

    def _on_weighed(self, place: Place) -> None:
        """The caution that holds a side back, or bars advice on load."""
        sides = (place.side,) if place.what is What.HELD else (None,)
        caution = next(filter(None, (holding(self.session, side) for side in sides)), None)
        if caution is not None:
            self.wanted.emit(Subject("caution", caution.about, caution.side))


def _refusal(one: Candidate, plan: Plan) -> str:
    """Why a feature is not to be used here at all; empty where it is at most advised against."""
    reasons = [say(why.says) for why in one.avoid if why.severity is Severity.BLOCK]
    reasons += [why.why for why in real_clashes(one, plan) if why.severity is Severity.BLOCK]
    return reasons[0] if reasons else ""
