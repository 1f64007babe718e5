"""Writing a letter beside the sheet: opens the letter sheet and records what is written there."""

from collections.abc import Sequence

from footexam.catalogue.letters import Document
from footexam.desktop.beside import STAYS, Beside
from footexam.desktop.letter_page import LetterPage
from footexam.desktop.letter_rows import Piece
from footexam.desktop.session import Answer
from footexam.desktop.texts import TEXTS
from footexam.record.written import ADDRESSEE, mark

ORDER = (Document.REFERRAL, Document.LEAFLET)
"""The letters, as one key goes through them."""


class Lettering(Beside[LetterPage]):
    """The letter sheet."""

    keeps = STAYS | {"letter", "undo", "redo", "toggle_summary"}

    def _make_page(self) -> LetterPage:
        page = LetterPage(self.session, self._theme, self._stack)
        page.written.connect(self.write)
        page.left_out.connect(self.leave_out)
        page.put_back.connect(self.put_back)
        page.escaped.connect(self.leave)
        return page

    def open(self, document: Document = Document.REFERRAL) -> None:
        """Show the texts of a letter in the place of the sheet."""
        if self.session.in_error:
            self.told.emit(TEXTS["letter-struck"])
            return
        self._show_page()
        self.page.show_document(document)
        self.page.focus_list()

    def turn(self) -> None:
        """The next letter; behind the last, back to the sheet."""
        if not self.page.commit():
            return
        at = ORDER.index(self.page.document) + 1
        if at < len(ORDER):
            self.open(ORDER[at])
        else:
            self.leave()

    def leave(self) -> None:
        """Back to the sheet, with what is typed taken over."""
        if self.is_open and self.page.commit():
            super().leave()

    def refresh(self) -> None:
        if self.is_open:
            self.page.refresh()

    def focus(self) -> None:
        self.page.focus_list()

    def commit(self) -> bool:
        return not self.is_open or self.page.commit()

    @property
    def is_half_typed(self) -> bool:
        return self.is_open and self.page.is_half_typed

    # --- what is written

    def write(self, piece: Piece, lines: list[str]) -> None:
        """Keep what was typed; what says the same as the record, or nothing, takes it back."""
        if not self.line.isHidden():
            return  # it is being asked why a signed record is changed
        nothing = not lines and (piece.adds or piece.id == ADDRESSEE)
        if nothing or ("\n".join(lines) == piece.given and not piece.adds):
            self._drop(piece)
        else:
            words = TEXTS["letter-kept" if lines else "letter-left-out"]
            self._record(lambda: self._write(piece, lines), words.format(name=piece.heading))

    def _write(self, piece: Piece, lines: Sequence[str]) -> Answer:
        over = "" if piece.id == ADDRESSEE else mark(piece.given)
        return self._taken(self.session.write_letter(piece.id, lines, over))

    def _taken(self, answer: Answer) -> Answer:
        if answer.taken:
            self.page.taken()
        return answer

    def leave_out(self, piece: Piece) -> None:
        """Leave a text out of the letter; dangers stay."""
        if piece.adds or piece.id == ADDRESSEE:
            self.told.emit(TEXTS["letter-stays"])
        else:
            words = TEXTS["letter-left-out"].format(name=piece.heading)
            self._record(lambda: self._write(piece, ()), words)

    def put_back(self, piece: Piece) -> None:
        """Let the letter say what the record gives."""
        if piece.typed is not None:
            self._drop(piece)

    def _drop(self, piece: Piece) -> None:
        """Take back what was written; there may be nothing but what was typed just now."""
        if piece.typed is None:
            self.page.taken()
            return
        target, words = f"letter:{piece.id}", TEXTS["letter-back"].format(name=piece.heading)
        self._record(lambda: self._taken(self.session.drop_decision(target, None)), words)
