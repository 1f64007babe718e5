"""Weighing beside the sheet: which caution or hypothesis is shown, and what is decided about it."""

from collections.abc import Callable

from PySide6.QtCore import Qt

from footexam.catalogue.model import say
from footexam.desktop.beside import STAYS, Beside
from footexam.desktop.session import Answer, Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.weighing import Choice, Subject, WeighingPage, find_caution
from footexam.desktop.weighing_words import caution_title
from footexam.terms import Side


def subjects(session: Session) -> list[Subject]:
    """What can be weighed: cautions in their order, then hypotheses, those that lead first."""
    found = [Subject("caution", one.about, one.side) for one in session.assessment.cautions]
    reasons = session.assessment.reasons
    for one in (*reasons.leading, *reasons.arguments):
        subject = Subject("hypothesis", one.id, one.side)
        if subject not in found:
            found.append(subject)
    return found


class Weigher(Beside[WeighingPage]):
    """The page that weighs one caution or one hypothesis."""

    keeps = STAYS

    def _make_page(self) -> WeighingPage:
        page = WeighingPage(self.session, self._theme, self._stack)
        page.decided.connect(self.decide)
        page.wanted.connect(self._on_wanted)
        page.escaped.connect(self.leave)
        page.turned.connect(self.turn)
        return page

    def open(self, subject: Subject) -> bool:
        """Show a caution or a hypothesis in the place of the sheet."""
        self._show_page()
        if not self.page.show_subject(subject):
            self.leave()
            return False
        self.page.text.setFocus(Qt.FocusReason.ShortcutFocusReason)
        return True

    def weigh(self) -> None:
        """Open the first that nobody has decided about, else the first; the next one if open."""
        if self.is_open:
            self.turn(1)
            return
        known = subjects(self.session)
        undecided = [one for one in known if not self._is_decided(one)]
        if not known or not self.open((undecided or known)[0]):
            self.told.emit(TEXTS["nothing-to-weigh"])

    def turn(self, step: int) -> None:
        """The next or the previous one, round and round."""
        known = subjects(self.session)
        here = self.page.subject
        if known:
            at = known.index(here) if here in known else -1
            self.open(known[(at + step) % len(known)])

    def refresh(self) -> None:
        """Show anew what an entry has changed; back to the sheet where it no longer stands."""
        if self.is_open and not self.page.refresh():
            self.leave()

    def focus(self) -> None:
        self.page.text.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _is_decided(self, subject: Subject) -> bool:
        if subject.kind == "caution":
            caution = find_caution(self.session, subject)
            return caution is not None and not caution.is_open
        made = self.session.examination.decisions.get("hypotheses", {})
        decided = (*made.get("accepted", ()), *made.get("rejected", ()))
        here = subject.id, subject.side
        return any((one.get("id"), one.get("side")) == here for one in decided)

    # --- decisions

    def decide(self, subject: Subject, choice: Choice) -> None:
        """Record a decision; what needs words asks for them first."""
        name = self.name_of(subject)
        if not choice.question and not self.session.wants_reason:
            self._told(self.session.accept(subject.id, subject.side), name, choice)
            return
        question = TEXTS[choice.question or "why-change"].format(name=name)
        self._ask(question, lambda words: self._decide(subject, choice, words), name, choice)

    def _decide(self, subject: Subject, choice: Choice, words: str) -> Answer:
        """What was written is the reason as well where the record is signed."""
        if self.session.wants_reason:
            answer = self.session.amend(words)
            if not answer.taken:
                return answer
        if not choice.question:
            return self.session.accept(subject.id, subject.side)
        if subject.kind == "caution":
            session, side = self.session, subject.side
            return session.decide_caution(subject.id, side, choice.decision, words)
        return self.session.set_aside(subject.id, subject.side, words)

    def add_own(self, side: Side | None) -> None:
        """Ask for a hypothesis in the clinician's own words."""
        self._ask(TEXTS["own-words"], lambda words: self._own(words, side))

    def _own(self, words: str, side: Side | None) -> Answer:
        answer = self.session.amend(words) if self.session.wants_reason else Answer(True)
        return self.session.add_own(words, side) if answer.taken else answer

    def _ask(
        self,
        question: str,
        take: Callable[[str], Answer],
        name: str = "",
        choice: Choice | None = None,
    ) -> None:
        def taken(words: str) -> Answer:
            if not words.strip():
                return Answer(False, TEXTS["nothing-decided"])
            return self._told(take(words), name, choice)

        self.line.ask_words(question, taken)

    def _told(self, answer: Answer, name: str, choice: Choice | None) -> Answer:
        """Tell what was recorded, or why it was not."""
        if answer.taken and choice is not None:
            words = TEXTS["decided"].format(name=name, words=choice.words.partition("  ")[2])
            self.told.emit(words)
        elif not answer.taken:
            self.told.emit(answer.refusal)
        return answer

    def name_of(self, subject: Subject) -> str:
        """The name of what is weighed, with its side."""
        material = self.session.judge.material
        caution = find_caution(self.session, subject) if subject.kind == "caution" else None
        if caution is not None:
            return caution_title(caution, material)
        known = self.session.catalogue.hypotheses.get(subject.id)
        name = say(known.label) if known else subject.id
        return f"{name}, {material.side_word(subject.side)}" if subject.side else name
