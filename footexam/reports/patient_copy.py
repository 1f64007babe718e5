"""The patient's copy of an examination: what was found and what was not, in plain words.

Left out on purpose: how likely anything is, names of illnesses, the examiner's impression, notes,
and the reasons why something was not done. Those belong to the report.
"""

from collections.abc import Iterable, Iterator, Sequence

from footexam.assessment import Assessment, is_caution, said_yes
from footexam.catalogue.model import Catalogue
from footexam.drawing.measured import place_of, usual_of
from footexam.drawing.ruler import Place
from footexam.record.examination import Examination
from footexam.record.reading import Reading
from footexam.reports.blocks import Block, Heading, Para, Row, Rule, Space, Table, cell, para
from footexam.reports.canvas import pdf_bytes
from footexam.reports.cautions import asked_count, decision_about, first_block
from footexam.reports.compared import TOLD, compared_visits
from footexam.reports.examination import add_feet
from footexam.reports.fonts import Typeset
from footexam.reports.front import is_draft
from footexam.reports.material import SIDES, Material
from footexam.reports.outside import finding_value
from footexam.reports.plain_phrases import plain_phrase
from footexam.reports.plain_words import PLAIN, UNITS, Plain
from footexam.reports.ranges import range_words
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.sureness import is_outside
from footexam.reports.text import Style
from footexam.reports.values import typed_otherwise, value_lines
from footexam.reports.words import date_words, patient_name, quantity_words
from footexam.resources import assets_dir
from footexam.scoring.results import Change, Finding
from footexam.terms import Absence, Basis, Label, Side

TITLE = Style(17.0, bold=True)
NAME = Style(12.0, bold=True)
TEXT = Style(10.6)
WORD = Style(10.6, bold=True)
MOST_TYPED = 400
"""Characters of the complaint that the copy repeats."""
MOST_NAMED = 14
"""Names in a list; the others stand in the report."""
ROWS = (0.16, 0.84)
NOT_DONE = (
    Absence.DECLINED,
    Absence.COULD_NOT_BE_TESTED,
    Absence.NOT_DONE_SAFETY,
    Absence.NOT_EXAMINED,
)


def patient_copy(
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
    *,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
    practice: str = "",
    ask: str = "",
) -> bytes:
    """The copy as PDF; the same input gives the same bytes.

    `ask` is whom to ask and how; without it there is a line to write it on. The other arguments
    and errors are those of `examination_report`.
    """
    typeset = Typeset(assets_dir() / "fonts")
    copy = _Copy(Material(examination, assessment, catalogue, language))
    sheet = Sheet(PAPERS[page], typeset)
    sheet.add(copy.blocks(practice, ask))
    add_feet(copy.material, sheet, invented)
    return pdf_bytes(sheet, copy.say("title"), language)


class _Copy:
    """The parts of one copy."""

    def __init__(self, material: Material) -> None:
        self.material = material
        self.plain = PLAIN.get(material.language, PLAIN["en"])

    def say(self, key: str, **parts: object) -> str:
        return plain_phrase(key, self.material.language, **parts)

    def blocks(self, practice: str, ask: str) -> list[Block]:
        """The copy from top to bottom."""
        return [
            *self._head(practice),
            *self._why(),
            *self._danger(),
            *self._different(),
            *self._usual(),
            *self._changed(),
            *self._not_done(),
            *self._words(),
            *self._ask(ask),
        ]

    def name(self, measure: str) -> str:
        """The plain name of a measure, or the one in forms/."""
        known = self.plain.get(measure)
        # what the examiner is told to do behind a question is not for the patient
        return known.name if known else self.material.label(measure).partition(" (mark ")[0]

    def _head(self, practice: str) -> list[Block]:
        material = self.material
        examination, phrases = material.examination, material.phrases
        day = date_words(examination.examined_on, phrases)
        blocks: list[Block] = [para(practice, style=WORD)] if practice else []
        blocks += [para(self.say("title"), style=TITLE)]
        blocks += [para(patient_name(examination.patient, phrases), style=NAME)]
        seen = self.say("seen", day=day, who=examination.examiner.name)
        blocks += [para(seen, style=TEXT), Space(3), para(self.say("for-you"), style=TEXT)]
        if examination.in_error:
            blocks.append(para(self.say("in-error"), style=WORD))
        elif is_draft(examination):
            blocks.append(para(self.say("draft"), style=WORD))
        return [*blocks, Space(3), Rule()]

    def _why(self) -> list[Block]:
        """The complaint as it was told, where and for how long."""
        material, told = self.material, list[Block]()
        complaint = material.reading("complaint")
        if complaint is not None and complaint.absent is None:
            text = " ".join(value_lines(complaint, material))
            short = text[:MOST_TYPED].rpartition(" ")[0] + " …"
            told.append(para(text if len(text) <= MOST_TYPED else short, style=TEXT))
        places = {
            str(side): _joined(value_lines(reading, material))
            for side in SIDES
            if (reading := material.reading("complaint-site", side)) and reading.absent is None
        }
        if len(places) == len(SIDES) and len(set(places.values())) == 1:
            places = {"both": next(iter(places.values()))}
        rows = tuple(self._row(self.say(whose), where) for whose, where in places.items())
        told += [Table(ROWS, rows)] if rows else []
        lasted = material.reading("duration")
        if lasted is not None and lasted.absent is None:
            told.append(para(self.say("since-told", time=self._time(lasted)), style=TEXT))
        return [Heading(self.say("why")), *told] if told else []

    def _time(self, lasted: Reading) -> str:
        if typed_otherwise(lasted, self.material):
            return lasted.typed
        return value_lines(lasted, self.material)[0]

    def _danger(self) -> list[Block]:
        """Every yes, how many questions have no full answer, and when to look for help at once."""
        material = self.material
        help_now = para(self.say("help"), style=WORD)
        asked, every = asked_count(material), len(first_block(material))
        yeses, due = self._yeses(), self._is_due()
        blocks: list[Block] = [Heading(self.say("danger"))]
        if yeses:
            blocks.append(para(self.say("danger-yes"), style=TEXT))
            blocks.append(Table(ROWS, tuple(self._yes_row(*yes) for yes in yeses)))
        elif not asked:
            blocks.append(para(self.say("danger-not-asked"), style=TEXT))
        else:
            blocks.append(para(self.say("danger-none", asked=asked), style=TEXT))
        if due:
            found = [self.say("danger-found"), *([] if yeses else [self.say("danger-next")])]
            blocks.append(para(" ".join(found), style=WORD))
        if 0 < asked < every or (yeses and asked < every):
            key = "danger-one" if every - asked == 1 else "danger-some"
            missing = self.say(key, missing=every - asked, all=every)
            blocks.append(para(missing, style=TEXT))
        return [*blocks, help_now]

    def _yes_row(self, name: str, whose: str, advised: str) -> Row:
        """A question that was answered yes, and what comes next or was done about it."""
        told = Para(((f"{name}   ", WORD), (advised, TEXT)))
        return Row((cell(self.say(whose), WORD), (told,)))

    def _yeses(self) -> list[tuple[str, str, str]]:
        """The danger questions answered yes, in the order of forms/.

        With whose side it is, and what was advised.
        """
        catalogue, readings = self.material.catalogue, self.material.examination.readings
        sides: dict[str, list[Side | None]] = {}
        for measure in catalogue.measures:
            for side in (*SIDES, None):
                if is_caution(measure, catalogue) and said_yes(readings.get((measure, side))):
                    sides.setdefault(measure, []).append(side)
        return [
            (self.name(one), _whose(found), self._advised(one, found))
            for one, found in sides.items()
        ]

    def _advised(self, measure: str, sides: Sequence[Side | None]) -> str:
        """How soon it needs care, of all that rests on a yes the most serious that is open.

        Where nothing is open, who saw to it and when; empty where no danger rests on the yes.
        """
        resting = [
            one
            for one in self.material.assessment.cautions
            if one.id and f"measure:{measure}" in one.because
            if one.side is None or one.side in sides or None in sides
        ]
        for one in resting:
            if one.is_open and one.tier:
                return self.say(f"soon-{one.tier}")
        for one in resting:
            made = decision_about(one, self.material)
            if made is not None:
                day = date_words(made["at"].partition("T")[0], self.material.phrases)
                return self.say(f"seen-to-{made['decision']}", who=made["by"], day=day)
        return ""

    def _is_due(self) -> bool:
        """Whether something found, and not only told, stands as a danger nobody has decided on."""
        catalogue = self.material.catalogue
        names = (
            (reason.removeprefix("measure:") for reason in one.because)
            for one in self.material.assessment.cautions
            if one.is_open
        )
        return any(not is_caution(name, catalogue) for found in names for name in found)

    def _row(self, whose: str, text: str, *, strong: bool = False) -> Row:
        return Row((cell(whose, WORD), cell(text, WORD if strong else TEXT)))

    # --- what was found

    def _found(self) -> list[Finding]:
        """What lies outside the usual, without what was only told."""
        return [
            one
            for one in self.material.assessment.findings
            if is_outside(one) and self.material.measure(one.measure).panel != TOLD
        ]

    def _different(self) -> list[Block]:
        """What is surely or probably not as in most people, by side; then what is too close."""
        found = self._found()
        sure = [one for one in found if not _is_too_close(one)]
        blocks: list[Block] = [Heading(self.say("different"))]
        if sure:
            rows = tuple(self._row(*told) for told in self._sentences(sure))
            blocks.append(Table(ROWS, rows))
        else:
            blocks.append(para(self.say("different-none"), style=TEXT))
        close = self._names(filter(_is_too_close, found))
        if close:
            text = self.say("too-close-told", what="; ".join(close))
            blocks.append(self._run_in("too-close", text))
        unknown = any(one.label is Label.REPEAT for one in sure)
        told = [self.say("not-exact")] if unknown else []
        told += [self.say("many-are-well")] if found else []
        return [*blocks, Space(2), para(" ".join(told), style=TEXT)] if told else blocks

    def _sentences(self, found: Sequence[Finding]) -> Iterator[tuple[str, str]]:
        """Side and sentence of each finding; the same sentence of both sides once."""
        told = {(one.measure, one.side): self._sentence(one) for one in found}
        for (measure, side), text in told.items():
            other = told.get((measure, Side.RIGHT if side is Side.LEFT else Side.LEFT))
            if side is None or other != text:
                yield self.say(str(side) if side else "whole-person"), text
            elif side is Side.LEFT:
                yield self.say("both"), text

    def _sentence(self, finding: Finding) -> str:
        """What was found in a sentence, with the figures and how near the line it was."""
        known = self.plain.get(finding.measure)
        if isinstance(finding.value, str):
            if known and known.above:
                return known.above
            word = self.material.word(finding.value)
            return self.say("found-word", measure=self.name(finding.measure), word=word)
        sentence = _directed(known, finding) or self.say(
            "found-value",
            measure=self.name(finding.measure),
            value=self._units(finding_value(finding, self.material)),
        )
        parts = [sentence, self._figures(finding)]
        if finding.label is not Label.REPEAT:
            parts.append(self.say("clear" if finding.label is Label.LIKELY else "close"))
        return " ".join(filter(None, parts))

    def _figures(self, finding: Finding) -> str:
        """The value and the usual range, in units as patients say them."""
        usual = usual_of(finding, self.material.catalogue)
        measure = self.material.measure(finding.measure)
        span = range_words(usual, measure, self.material) if usual else ""
        if not span:
            return ""
        value = finding_value(finding, self.material)
        return self.say("measured", value=self._units(value), usual=self._units(span))

    def _units(self, text: str) -> str:
        """The text with its units as patients say them."""
        return " ".join(UNITS.get(word, word) for word in text.split(" "))

    def _names(self, findings: Iterable[Finding]) -> list[str]:
        """Plain names with their side, each once."""
        sides: dict[str, list[Side | None]] = {}
        for one in findings:
            sides.setdefault(self.name(one.measure), []).append(one.side)
        return [self._sided(name, found) for name, found in sides.items()]

    def _sided(self, name: str, found: Sequence[Side | None]) -> str:
        sides = set(found) - {None}
        if len(sides) != 1:
            return name
        (side,) = sides
        return self.say("sided", measure=name, side=self.say(f"{side}-word"))

    def _listed(self, names: Sequence[str]) -> str:
        """The names one after another, and how many more there are."""
        told, left = "; ".join(names[:MOST_NAMED]), len(names) - MOST_NAMED
        return (self.say("more", what=told, count=left) if left > 0 else told) + "."

    def _run_in(self, key: str, text: str) -> Para:
        return Para(((self.say(key) + ": ", WORD), (text, TEXT)))

    def _usual(self) -> list[Block]:
        """Names of what was measured and is as in most people."""
        within = [
            one
            for one in self.material.assessment.findings
            if one.label is Label.WITHIN and self.material.measure(one.measure).panel != TOLD
        ]
        names = self._names(within)
        if not names:
            return []
        text = self._listed(names)
        return [Heading(self.say("usual")), para(text, style=TEXT)]

    # --- what changed, what was not done

    def _changed(self) -> list[Block]:
        """Changes beyond error."""
        found = compared_visits(self.material)
        if found is None:
            return []
        blocks: list[Block] = [Heading(self.say("changed"))]
        if not found.real:
            return [*blocks, para(self.say("changed-none"), style=TEXT)]
        rows = tuple(
            self._row(self.say(str(one.side) if one.side else "whole-person"), self._change(one))
            for one in found.real
        )
        return [*blocks, Table(ROWS, rows), para(self.say("changed-others"), style=TEXT)]

    def _change(self, one: Change) -> str:
        measure = self.material.measure(one.measure)
        before, now = (
            self._units(quantity_words(number, measure)) for number in (one.before, one.now)
        )
        return self.say("changed-told", measure=self.name(one.measure), before=before, now=now)

    def _not_done(self) -> list[Block]:
        """What is absent, by kind, without the reasons."""
        told: list[Block] = []
        for absence in NOT_DONE:
            readings = (
                one for one in self.material.examination.readings.values() if one.absent is absence
            )
            sides: dict[str, list[Side | None]] = {}
            for one in readings:
                sides.setdefault(self.name(one.measure), []).append(one.side)
            names = [self._sided(name, found) for name, found in sides.items()]
            if names:
                told.append(self._run_in(str(absence), self._listed(names)))
        return [Heading(self.say("not-done")), *told] if told else []

    def _words(self) -> list[Block]:
        return [Heading(self.say("words")), para(self.say("words-told"), style=TEXT)]

    def _ask(self, ask: str) -> list[Block]:
        """Whom to ask."""
        who = self.material.examination.examiner.name
        told = para(self.say("ask-told", who=ask or who), style=TEXT)
        blocks: list[Block] = [Heading(self.say("ask")), told]
        if not ask:
            blocks += [para(self.say("ask-line"), style=TEXT), Space(16), Rule(), Space(4)]
        return blocks


def _whose(sides: Sequence[Side | None]) -> str:
    """The key of the word for one side, both, or the whole person."""
    (first, *others) = sides
    if others:
        return "both"
    return str(first) if first else "whole-person"


def _is_too_close(finding: Finding) -> bool:
    """Whether error alone may explain it; an error that is not known makes nothing close."""
    return finding.label is Label.REPEAT and finding.basis is not Basis.NONE


def _joined(lines: Sequence[str]) -> str:
    return ", ".join(lines)


def _directed(known: Plain | None, finding: Finding) -> str:
    """The sentence for the side of the usual range on which a number lies; empty without one."""
    if known is None:
        return ""
    return {Place.BELOW: known.below, Place.ABOVE: known.above}.get(place_of(finding), "")
