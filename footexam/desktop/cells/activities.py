"""One to five activities named by the patient, each with its score."""

from PySide6.QtWidgets import QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.rows import FieldKind, RowsCell
from footexam.desktop.cells.words import tell
from footexam.desktop.theme import Theme
from footexam.record.reading import Activities, Reading
from footexam.record.refusal import in_digits
from footexam.record.tables import MOST_ACTIVITIES


class ActivitiesCell(RowsCell):
    """Rows of a name and a whole number."""

    def __init__(self, measure: Measure, theme: Theme, parent: QWidget | None = None) -> None:
        low, high = in_digits(measure.hard_low), in_digits(measure.hard_high)
        scores = tell("range", low=low, high=high)
        kinds = [
            FieldKind("activity", tell("activity"), "", tell("text-takes"), share=5),
            FieldKind("score", tell("score"), scores, tell("number-takes", range=scores), share=2),
        ]
        super().__init__(measure, theme, kinds, MOST_ACTIVITIES, parent)

    def show_reading(self, reading: Reading | None) -> None:
        value = reading.value if reading is not None else None
        items = value.items if isinstance(value, Activities) else ()
        self.show_content([{"activity": name, "score": str(score)} for name, score in items])
