"""What if: the plan of an examination with other decisions, before anything is recorded."""

from collections.abc import Callable, Mapping
from typing import Any

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.reasoning.engine import SIDES, engine
from footexam.reasoning.planned import Plan
from footexam.reasoning.view import Seen, View
from footexam.record.examination import Examination
from footexam.scoring.bench import bench
from footexam.scoring.measured import measured
from footexam.terms import Side


class Supposing:
    """Plans for one assessment; what the record shows is looked up once."""

    def __init__(
        self, examination: Examination, assessment: Assessment, catalogue: Catalogue
    ) -> None:
        self.examination = examination
        self.assessment = assessment
        self.catalogue = catalogue
        desk, scores = bench(catalogue), list(assessment.scores)
        numbers = measured(desk, desk.visit(examination), scores)
        seen = Seen(examination, scores, assessment.findings, numbers)
        self._last: tuple[object, Plan] | None = None
        """What was supposed last: the same is asked for while it is typed and when it is taken."""
        self._views: dict[Side | None, View] = {side: View(seen, side) for side in SIDES}

    def follow(self, examination: Examination, assessment: Assessment) -> bool:
        """Go on with a later state of the record; False where more than decisions has changed."""
        if assessment is not self.assessment:
            if examination.readings != self.examination.readings:
                return False
            self.examination, self.assessment, self._last = examination, assessment, None
        return True

    def with_feature(self, name: str, side: Side | None, sizes: Mapping[str, str]) -> Plan:
        """The plan if a feature were chosen for a side with these dimensions as typed."""
        asked = name, side, dict(sizes)
        if self._last is None or self._last[0] != asked:
            self._last = asked, self._with_feature(name, side, sizes)
        return self._last[1]

    def _with_feature(self, name: str, side: Side | None, sizes: Mapping[str, str]) -> Plan:
        made = self.examination.decisions
        others = [
            one for one in made.get("features", ()) if (one["id"], one.get("side")) != (name, side)
        ]
        tried: dict[str, Any] = {**sizes, "id": name, "side": side}
        return self._plan({**made, "features": [*others, tried]})

    def value(self, side: Side | None) -> Callable[[str], float | None]:
        """Looks up what was measured or worked out on a side; None where it was not."""
        view = self._views[side]

        def measured_value(name: str) -> float | None:
            found = view.measured(name)
            return None if found is None else float(found.value)

        return measured_value

    def _plan(self, decisions: Mapping[str, Any]) -> Plan:
        reasons = self.assessment.reasons
        planner = engine(self.catalogue).planner
        return planner.plan(reasons.arguments, reasons.cautions, self._views, decisions)
