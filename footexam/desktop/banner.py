"""Who the patient is, always on top: two identifiers, allergies, cautions, state of the record."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from footexam.assessment import is_caution
from footexam.catalogue.model import Catalogue
from footexam.desktop.session import Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em, large, small
from footexam.desktop.weighing_words import caution_title
from footexam.drawing.palette import Ink
from footexam.record.examination import Patient
from footexam.record.reading import NoneKnown, Reading, Rows
from footexam.reports.phrases import Phrases
from footexam.reports.words import (
    age_words,
    date_words,
    patient_name,
    person_words,
    time_words,
)
from footexam.terms import Depth


@dataclass(frozen=True, slots=True)
class BannerWords:
    """Everything that the banner says."""

    name: str
    born: str
    number: str
    allergies: str
    today: str
    cautions: str
    open_cautions: bool
    state: str

    def spoken(self) -> str:
        """All of it in one line for a screen reader."""
        told = (self.name, self.born, self.number, self.allergies, self.cautions, self.today)
        return "; ".join(words for words in (*told, self.state) if words)


def banner_words(session: Session, phrases: Phrases) -> BannerWords:
    """The words of the banner for an open examination."""
    examination, patient = session.examination, session.patient
    age = age_words(examination.age(), phrases)
    sex = phrases(f"sex-{patient.sex}")
    born = date_words(patient.birth_date, phrases)
    who = person_words(examination.examiner, phrases)
    supervisor = examination.supervisor
    seen = f", supervised by {supervisor.name}" if supervisor else ""
    writing = session.author.name
    now = "" if writing == examination.examiner.name else f"; writing now: {writing}"
    cautions, is_open = _cautions(session)
    signed = ", ".join(examination.signed_by)
    since = ", changed since" if examination.amended else ""
    late = ""
    if session.taken_at:
        late = "; " + TEXTS["late-state"].format(when=time_words(session.taken_at, phrases))
    state = f"Signed by {signed}{since}" if signed else "Draft, not signed"
    return BannerWords(
        name=patient_name(patient, phrases),
        born=f"Born {born}{f' ({age})' if age else ''}, {sex}",
        number=f"No. {patient.record_number or 'none'}",
        allergies=_allergies(examination.reading("allergies"), phrases),
        today=f"Examined {date_words(examination.examined_on, phrases)}, {who}{seen}{now}",
        cautions=cautions,
        open_cautions=is_open,
        state=TEXTS["in-error"] if session.in_error else f"{state}{late}",
    )


def _allergies(reading: Reading | None, phrases: Phrases) -> str:
    if reading is None:
        return "Allergies not asked yet"
    if isinstance(reading.value, NoneKnown):
        return f"Allergies {phrases('none-known')}"
    if isinstance(reading.value, Rows):
        return "Allergies " + ", ".join(str(row.get("what", "?")) for row in reading.value.rows)
    return "Allergies not recorded"


def _cautions(session: Session) -> tuple[str, bool]:
    """How many of the first questions were asked; the most serious caution that is undecided."""
    first = _first_questions(session.catalogue)
    asked = {reading.measure for reading in session.examination.readings.values()} & first
    raised = session.assessment.cautions
    counted = f"{len(asked)} of {len(first)} asked"
    if not raised:
        return f"Cautions {counted}, none answered yes", False
    waiting = [caution for caution in raised if caution.is_open]
    if not waiting:
        return f"Cautions {counted}; {len(raised)} raised, all decided", False
    material = session.judge.material
    tier = waiting[0].tier
    soon = f"{material.phrases(f'tier-{tier}').upper()}, " if tier else ""
    more = f" and {len(waiting) - 1} more" if len(waiting) > 1 else ""
    return f"Caution: {soon}{caution_title(waiting[0], material)}{more} ({counted})", True


def _first_questions(catalogue: Catalogue) -> set[str]:
    """The questions that every patient is asked."""
    return {
        name
        for name in catalogue.panels["cautions"].measures
        if is_caution(name, catalogue) and catalogue.measures[name].depth is Depth.CORE
    }


def patient_line(patient: Patient, phrases: Phrases) -> str:
    """Name, birth date and record number: what is confirmed before anything is opened."""
    born = date_words(patient.birth_date, phrases)
    return f"{patient_name(patient, phrases)}, born {born}, No. {patient.record_number or 'none'}"


class Banner(QWidget):
    """The strip on top of the record. Tab reaches it, so that a screen reader can read it."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.words: BannerWords | None = None
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Patient")

    def show_words(self, words: BannerWords) -> None:
        """Show the words; nothing is repainted when they have not changed."""
        if words == self.words:
            return
        self.words = words
        self.setAccessibleName(f"Patient: {words.name}")
        self.setAccessibleDescription(words.spoken())
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(600, round(em(self) * 3.6))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self.words is None:
            return
        words, line = self.words, em(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._theme.colour(Ink.SURFACE))
        stripe = Ink.CAUTION if words.open_cautions else Ink.ACCENT
        painter.fillRect(QRectF(0, 0, line * 0.4, self.height()), self._theme.colour(stripe))
        left, width = line * 1.2, self.width()
        second = max(width * 0.32, min(self._identity_width(words) + left, width * 0.6))
        columns = (left, second, second + (width - second) * 0.5)
        rows = (line * 0.45, line * 1.95)
        self._text(painter, columns[0], rows[0], columns[1], words.name, Ink.INK, heading=True)
        self._text(
            painter, columns[0], rows[1], columns[1], f"{words.born}   {words.number}", Ink.INK
        )
        self._text(painter, columns[1], rows[0], columns[2], words.allergies, Ink.INK)
        self._text(painter, columns[1], rows[1], columns[2], words.today, Ink.MUTED)
        ink = Ink.CAUTION if words.open_cautions else Ink.INK
        self._text(
            painter, columns[2], rows[0], width, words.cautions, ink, bold=words.open_cautions
        )
        self._text(painter, columns[2], rows[1], width, words.state, Ink.MUTED)
        self._edges(painter)
        painter.end()

    def _identity_width(self, words: BannerWords) -> float:
        """What name, birth date and number need: they are never shortened while there is room."""
        heading = QFontMetricsF(large(self, 1.25)).horizontalAdvance(words.name)
        facts = QFontMetricsF(self.font()).horizontalAdvance(f"{words.born}   {words.number}")
        return max(heading, facts) + em(self) * 1.5

    def _edges(self, painter: QPainter) -> None:
        painter.setPen(QPen(self._theme.colour(Ink.RULE), 1))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        if self.hasFocus():
            painter.setPen(QPen(self._theme.colour(Ink.INK), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))

    def _text(
        self,
        painter: QPainter,
        x: float,
        y: float,
        end: float,
        words: str,
        ink: Ink,
        *,
        heading: bool = False,
        bold: bool = False,
    ) -> None:
        """One line, shortened with … where it does not fit; the whole stands in the tool tip."""
        font = large(self, 1.25) if heading else small(self) if ink is Ink.MUTED else self.font()
        font.setBold(heading or bold)
        painter.setFont(font)
        painter.setPen(self._theme.colour(ink))
        box = QRectF(x, y, end - x - em(self), em(self) * 1.4)
        short = painter.fontMetrics().elidedText(
            words, Qt.TextElideMode.ElideRight, round(box.width())
        )
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(box, flags, short)
        if short != words:
            self.setToolTip("\n".join(self.words.spoken().split("; ")) if self.words else "")
