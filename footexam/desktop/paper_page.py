"""The page of a document in the window: whose it is on top, below it the preview or the signing."""

from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from footexam.desktop.banner import Banner, BannerWords
from footexam.desktop.patients import short_date
from footexam.desktop.preview.child import Wanted
from footexam.desktop.preview.page import PreviewPage
from footexam.desktop.signing import Request, SigningPage
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme
from footexam.desktop.visit import Visit
from footexam.record.examination import Patient
from footexam.reports.phrases import Phrases
from footexam.reports.words import date_words, patient_name


@dataclass(frozen=True, slots=True)
class Paper:
    """A document to be shown.

    `title` stands above its pages, `name` is the file name that saving offers, `whose` the patient;
    None for a form that is nobody's. `signed` by whom is asked where that `can_be_signed`; `more`
    are the words of the key that shows it with more or less in it, "" where there is none.
    `has_words`: it is a letter whose words can be changed.
    """

    wanted: Wanted
    title: str
    name: str
    whose: BannerWords | None = None
    can_be_signed: bool = False
    more: str = ""
    has_words: bool = False


class PaperPage(QWidget):
    """Shows a document under the patient's banner, and the signing in its place when asked.

    `left` when the document is left, `sign_wanted`, `more_wanted`, `words_wanted`, `told(words)`;
    `signed` once a signature is kept, `not_signed` when the signing is left; `read` at every page
    that is turned.
    """

    left = Signal()
    sign_wanted = Signal()
    more_wanted = Signal()
    words_wanted = Signal()
    told = Signal(str)
    signed = Signal()
    not_signed = Signal()
    read = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.paper: Paper | None = None
        self.banner = Banner(theme, self)
        self.stack = QStackedWidget(self)
        self.preview = PreviewPage(theme, self.stack)
        self.stack.addWidget(self.preview)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.banner)
        column.addWidget(self.stack, 1)
        self.setFocusProxy(self.preview)
        self.preview.escaped.connect(self.left)
        self.preview.sign_wanted.connect(self.sign_wanted)
        self.preview.more_wanted.connect(self.more_wanted)
        self.preview.words_wanted.connect(self.words_wanted)
        self.preview.told.connect(self.told)
        self.preview.reader.page_shown.connect(self._on_read)

    @cached_property
    def signing(self) -> SigningPage:
        """The page that asks for a signature, made at first need."""
        page = SigningPage(self.theme, self.stack)
        page.escaped.connect(self.not_signed)
        page.signed.connect(self._on_signed)
        page.told.connect(self.told)
        page.reader.page_shown.connect(self._on_read)
        self.stack.addWidget(page)
        return page

    @property
    def is_signing(self) -> bool:
        """Whether the signing is shown."""
        return self.stack.currentWidget() is not self.preview

    @property
    def is_half_typed(self) -> bool:
        """Whether a name was typed that is not taken over yet."""
        return self.is_signing and self.signing.name.isModified()

    def show_paper(self, paper: Paper) -> None:
        """Make a document and show it."""
        self._be_of(paper)
        self.preview.offer_signing(offered=paper.can_be_signed)
        self.preview.offer_more(paper.more)
        self.preview.offer_words(offered=paper.has_words)
        self.preview.make(paper.wanted, paper.title, paper.name)
        self.show_preview()

    def _be_of(self, paper: Paper | None) -> None:
        self.paper = paper
        self.show_whose(paper.whose if paper else None)

    def show_whose(self, words: BannerWords | None) -> None:
        """Whose record it is and how far its signing is."""
        self.banner.setVisible(words is not None)
        if words is not None:
            self.banner.show_words(words)

    def show_preview(self) -> None:
        """The preview as it was left."""
        self._show_part(self.preview)

    def ask_to_sign(self, request: Request) -> None:
        """The very pages that are to be signed, and who signs."""
        self._show_part(self.signing)
        self.signing.ask(request)

    def _show_part(self, part: QWidget) -> None:
        self.stack.setCurrentWidget(part)
        self.setFocusProxy(part)
        part.setFocus(Qt.FocusReason.OtherFocusReason)

    def close_documents(self) -> None:
        """Let go of everything that is shown or being made."""
        self.preview.close_document()
        if "signing" in self.__dict__:
            self.signing.close_document()
        self._be_of(None)

    def take_over(self, old: "PaperPage") -> None:
        """Go on where a page was that this one replaces, as for other colours; the old one ends.

        Pages that are to be signed are made and read anew.
        """
        self._be_of(old.paper)
        self.show_whose(old.banner.words if old.banner.isVisibleTo(old) else None)
        self.preview.take_over(old.preview)
        request = old.signing.request if old.is_signing else None
        old.close_documents()
        if request is not None:
            self.ask_to_sign(request)
        else:
            self.show_preview()

    def _on_read(self, _number: int) -> None:
        self.read.emit()

    def _on_signed(self, _author: object) -> None:
        self.signed.emit()


def banner_of_visit(patient: Patient, visit: Visit) -> BannerWords:
    """What is known of a patient and a visit whose record is not open."""
    phrases = Phrases("en")
    born, sex = date_words(patient.birth_date, phrases), phrases(f"sex-{patient.sex}")
    state = "in-error" if visit.in_error else "is-signed-state" if visit.signed else "is-draft"
    return BannerWords(
        name=patient_name(patient, phrases),
        born=f"Born {born}, {sex}",
        number=f"No. {patient.record_number or TEXTS['none']}",
        allergies="",
        today=f"Examined {short_date(visit.examined_on)}, {visit.examiner}",
        cautions="",
        open_cautions=False,
        state=TEXTS[state],
    )
