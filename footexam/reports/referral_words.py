"""What a record has for the blocks of a referral; a name that it does not fill stays empty."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from footexam.record.reading import NoneKnown, Rows
from footexam.reports.absences import ORDER, missing
from footexam.reports.brief import GUARDING, SURENESS
from footexam.reports.cautions import asked_count, first_block, held_words
from footexam.reports.compared import TOLD
from footexam.reports.hypotheses import Accepted, Decided
from footexam.reports.letter_phrases import letter_phrase
from footexam.reports.material import SIDES, Material
from footexam.reports.outside import finding_value
from footexam.reports.plan_words import size_words
from footexam.reports.ranges import cite_words, usual_words
from footexam.reports.referral_cautions import (
    Danger,
    danger_lines,
    dangers,
    excluded,
    foremost,
    sided,
)
from footexam.reports.sureness import is_outside, sure_words
from footexam.reports.values import absence_words, row_cells, typed_otherwise, value_lines
from footexam.reports.words import age_words, date_words, opened, patient_name, quantity_words
from footexam.scoring.results import Finding
from footexam.terms import Absence, ChangeLabel, Label, Side


@dataclass(frozen=True, slots=True)
class Limits:
    """How much the letter holds; None: everything. What is left out is counted.

    `typed`: characters of a typed text, `table`: of a table's rows. `rests`: answers that a
    caution rests on. `rows`: what speaks for and against a hypothesis.
    """

    outside: int | None = None
    usual: int | None = None
    absent: int | None = None
    rests: int | None = None
    rows: int | None = None
    typed: int | None = None
    table: int | None = None


class Words:
    """The texts for one letter; `to` is whom it goes to, as typed."""

    def __init__(self, material: Material, limits: Limits, to: str) -> None:
        self.material = material
        self.limits = limits
        self.recipient = to

    @property
    def slots(self) -> Mapping[str, Callable[[], str]]:
        """Every name that a block of a referral may have."""
        patient, phrases = self.material.examination.patient, self.material.phrases
        return {
            "to": lambda: self.recipient or self.say("to-write"),
            "patient": lambda: patient_name(patient, phrases),
            "born": self._born,
            "sex": lambda: phrases(f"sex-{patient.sex}"),
            "number": lambda: patient.record_number or phrases("not-known"),
            "urgency": self._urgency,
            "reasons": self._reasons,
            "cautions": self._cautions,
            "complaint": lambda: self._typed("complaint"),
            "where": self._where,
            "since": self._since,
            "goals": lambda: self._typed("goals"),
            "conditions": lambda: self._table("conditions"),
            "medicines": lambda: self._table("medicines"),
            "allergies": lambda: self._table("allergies"),
            "outside": self._outside,
            "usual": self._usual,
            "changed": self._changed,
            "asked": self._asked,
            "excluded": self._excluded,
            "impression": lambda: self._typed("impression"),
            "thought": self._thought,
            "own": self._own,
            "treatment": lambda: self._table("treatment-so-far"),
            "advice": lambda: self._typed("load-advice"),
            "done": self._done,
            "planned": self._planned,
            "held": lambda: "; ".join(held_words(self.material)),
            "absent": self._absent,
            "missing": lambda: self._cut(list(missing(self.material)), self.limits.absent),
            "unanswered": self._unanswered,
            "consent": lambda: self._typed("consent"),
        }

    def say(self, key: str, **parts: object) -> str:
        """A fixed text of the letter."""
        return letter_phrase(key, self.material.language, **parts)

    # --- who

    def _born(self) -> str:
        material = self.material
        born = date_words(material.examination.patient.birth_date, material.phrases)
        age = age_words(material.assessment.age, material.phrases)
        return self.say("born-age", born=born, age=age) if age else born

    # --- dangers

    @cached_property
    def _dangers(self) -> list[Danger]:
        return dangers(self.material)

    def _urgency(self) -> str:
        tier, _ = foremost(self._dangers)
        return self.material.phrases(f"tier-{tier}") if tier else ""

    def _reasons(self) -> str:
        _, first = foremost(self._dangers)
        return "; ".join(sided(one.name, one.sides, self.material) for one in first)

    def _cautions(self) -> str:
        return "\n".join(danger_lines(self._dangers, self.material, self.limits.rests))

    def _asked(self) -> str:
        whole = len(first_block(self.material))
        return self.say("asked", asked=asked_count(self.material), all=whole) if whole else ""

    def _excluded(self) -> str:
        told = (
            f"{sided(one.name, one.sides, self.material)} ({one.done})"
            for one in excluded(self.material)
        )
        return "; ".join(told)

    def _done(self) -> str:
        """Which of the dangers that still speak were seen to, and how; the whole stands above."""
        told = []
        for one in self._dangers:
            if one.done and one.first is not None:
                how = self.material.phrases(f"decision-{one.first.decision}")
                told.append(f"{sided(one.name, one.sides, self.material)} ({how})")
        return "; ".join(told)

    def _unanswered(self) -> str:
        """The danger questions that have no answer on some side, with why not."""
        material, told = self.material, list[str]()
        for measure in first_block(material):
            if material.reading(measure.id):
                readings = [material.reading(measure.id)]
            else:
                readings = [material.reading(measure.id, s) for s in SIDES] if measure.sided else []
            if readings and all(one is not None and one.absent is None for one in readings):
                continue
            why = {
                absence_words(one.absent, one.reason, material)
                for one in readings
                if one is not None and one.absent
            }
            label = material.label(measure.id)
            told.append(f"{label} ({', '.join(sorted(why))})" if why else label)
        return "; ".join(told)

    # --- what was told

    def _typed(self, measure: str, side: Side | None = None) -> str:
        """What was recorded, on one line; a long text is cut and says so."""
        reading = self.material.reading(measure, side)
        if reading is None or reading.absent is not None:
            return ""
        return self._short(" ".join(value_lines(reading, self.material)), self.limits.typed)

    def _where(self) -> str:
        places = {side: self._typed("complaint-site", side) for side in SIDES}
        told = [
            self.say("side-says", side=self.material.side_word(side), what=what)
            for side, what in places.items()
            if what
        ]
        return "; ".join(told)

    def _since(self) -> str:
        reading = self.material.reading("duration")
        told = self._typed("duration")
        if reading is not None and told and typed_otherwise(reading, self.material):
            told = reading.typed
        return ", ".join(filter(None, (told, self._typed("onset"))))

    def _table(self, measure: str) -> str:
        """The rows of a table, each as what it is with the rest in brackets."""
        material, reading = self.material, self.material.reading(measure)
        if reading is None:
            return ""
        if isinstance(reading.value, NoneKnown) or not isinstance(reading.value, Rows):
            return " ".join(value_lines(reading, material))
        columns = material.measure(measure).columns
        rows = [row_cells(row, columns, material) for row in reading.value.rows]
        return self._short("; ".join(map(_row_words, rows)), self.limits.table)

    def _short(self, text: str, most: int | None) -> str:
        """A text on one line, cut at a space where it is too long."""
        text = " ".join(text.split())
        if most is None or len(text) <= most:
            return text
        start = text[:most]
        return self.say("cut", what=start.rpartition(" ")[0] or start)

    # --- what was found

    def _outside(self) -> str:
        """A line for each number outside its usual range, then the words; feeling goes first."""
        measures: dict[str, list[Finding]] = {}
        for one in self.material.assessment.findings:
            measures.setdefault(one.measure, []).append(one)
        found = [
            rows
            for name, rows in measures.items()
            if any(map(is_outside, rows)) and self.material.measure(name).panel != TOLD
        ]
        found.sort(key=self._rank)
        shown = found[: self.limits.outside]
        lines = [self._number(rows) for rows in shown if not isinstance(rows[0].value, str)]
        words = [self._worded(rows) for rows in shown if isinstance(rows[0].value, str)]
        if words:
            cites = dict.fromkeys(
                cite_words(one, self.material)
                for rows in shown
                for one in rows
                if isinstance(one.value, str)
            )
            what = "; ".join(words)
            lines.append(self.say("outside-words", what=what, cites="".join(cites)).strip())
        if len(found) > len(shown):
            lines.append(self.say("left-out", count=len(found) - len(shown)))
        return "\n".join(lines)

    def _rank(self, found: Sequence[Finding]) -> tuple[bool, int]:
        """Feeling and blood flow as forms/ order them, then the surest first."""
        if self.material.measure(found[0].measure).panel == GUARDING:
            return False, 0
        return True, min((SURENESS.index(o.label) for o in found if o.label in SURENESS), default=0)

    def _number(self, found: Sequence[Finding]) -> str:
        """Both sides of a measure with how sure each is, and what is usual."""
        material = self.material
        values = [f"{self._of(one)}{finding_value(one, material)}" for one in found]
        sure = [sure_words(one, material, short=True) for one in found]
        told = [f"{value} ({how})" for value, how in zip(values, sure, strict=True)]
        if len(set(sure)) == 1:
            told = [f"{', '.join(values)} ({sure[0]})"]
        usual = dict.fromkeys(filter(None, (usual_words(one, material) for one in found)))
        what, label = "; ".join((*told, *usual)), material.label(found[0].measure)
        return self.say("side-says", side=label, what=what) + "."

    def _worded(self, found: Sequence[Finding]) -> str:
        """The words found for a measure, by side."""
        told = (f"{self._of(one)}{finding_value(one, self.material)}" for one in found)
        label = self.material.label(found[0].measure)
        return self.say("side-says", side=label, what=", ".join(told))

    def _of(self, one: Finding) -> str:
        return f"{self.material.side_word(one.side)} " if one.side else ""

    def _usual(self) -> str:
        sides: dict[str, list[Side | None]] = {}
        for one in self.material.assessment.findings:
            if one.label is Label.WITHIN and self.material.measure(one.measure).panel != TOLD:
                sides.setdefault(one.measure, []).append(one.side)
        names = [sided(self.material.label(m), s, self.material) for m, s in sides.items()]
        return self._cut(names, self.limits.usual)

    def _changed(self) -> str:
        material, told = self.material, list[str]()
        for one in material.assessment.changes:
            if one.label is ChangeLabel.CHANGED:
                measure = material.measure(one.measure)
                before, now = (quantity_words(n, measure) for n in (one.before, one.now))
                name = material.sided_label(one.measure, one.side)
                told.append(self.say("change", name=name, before=before, now=now))
        return self._cut(told, self.limits.outside)

    # --- what is thought

    def _thought(self) -> str:
        decided = Decided(self.material)
        return "\n".join(
            " ".join(filter(None, self._argued(one, decided))) for one in decided.accepted
        )

    def _argued(self, one: Accepted, decided: Decided) -> Iterator[str]:
        """A hypothesis with what speaks for it, what against, and its counter-evidence."""
        yield decided.name(one.id, one.side) + "."
        if one.hypothesis is None:
            yield self.say("retired")
            return
        yield self.material.say(one.hypothesis.statement)
        if one.argument is None:
            yield self.say("not-open")
        else:
            speaks = [self.material.say(row.row.says) for row in one.argument.speaks_for]
            against = [self.material.say(row.row.says) for row in one.argument.speaks_against]
            if speaks:
                yield self.say("for", what=self._cut(_bare(speaks), self.limits.rows))
            what = self._cut(_bare(against), self.limits.rows)
            yield self.say("against", what=what) if against else self.say("no-against")
        counter = self.material.say(one.hypothesis.counter)
        if self.limits.rows is not None:
            counter = counter.partition(". ")[0].rstrip(".") + "."
        yield self.say("but", counter=counter)

    def _own(self) -> str:
        told = []
        for one in Decided(self.material).own:
            side = f"{self.material.phrases(str(one.side))}: " if one.side else ""
            told.append(side + self._short(one.statement, self.limits.typed))
        return " ".join(told)

    def _planned(self) -> str:
        """The features that were chosen, with the dimensions chosen or worked out."""
        names: dict[str, list[Side | None]] = {}
        for one in self.material.assessment.reasons.plan.chosen:
            sizes = (size_words(d.value, d.size.unit) for d in one.dimensions if d.chosen)
            label = self.material.say(one.feature.label)
            told = ", ".join((label, *sizes))
            names.setdefault(told, []).append(one.side)
        return "; ".join(sided(name, sides, self.material) for name, sides in names.items())

    # --- what was not examined

    def _absent(self) -> str:
        """What is noted as not done, by kind and reason; of each kind at most so many."""
        lines = []
        for absence in ORDER:
            texts, left = [], self.limits.absent
            for reason, measures in self._alike(absence).items():
                kept = dict(list(measures.items())[: None if left is None else max(0, left)])
                texts += [self._reasoned(reason, kept)] if kept else []
                left = None if left is None else left - len(measures)
            if left is not None and left < 0:
                texts = [self.say("listed-more", what="; ".join(texts), count=-left)]
            if texts:
                how = opened(self.material.phrases(absence))
                lines.append(self.say("absent-as", how=how, what="; ".join(texts)))
        return " ".join(lines)

    def _alike(self, absence: Absence) -> dict[str, dict[str, list[Side | None]]]:
        """What is absent in this way with its sides, by reason."""
        found: dict[str, dict[str, list[Side | None]]] = {}
        for reading in self.material.examination.readings.values():
            if reading.absent is absence:
                measures = found.setdefault(reading.reason, {})
                measures.setdefault(reading.measure, []).append(reading.side)
        return found

    def _reasoned(self, reason: str, measures: Mapping[str, Sequence[Side | None]]) -> str:
        material = self.material
        names = [sided(material.label(name), of, material) for name, of in measures.items()]
        what = "; ".join(names)
        if not reason:
            return what
        short = self._short(reason, self.limits.typed)
        return material.phrases("reason", what=what, reason=short)

    def _cut(self, texts: Sequence[str], most: int | None, between: str = "; ") -> str:
        """The texts, and how many are left out."""
        if most is None or len(texts) <= most:
            return between.join(texts)
        told, left = between.join(texts[:most]), len(texts) - most
        if not told:
            return self.say("listed-none", count=left)
        return self.say("listed-more", what=told, count=left)


def _row_words(cells: Mapping[str, str]) -> str:
    """The cell named “what” first, the others in brackets; without it all in a row."""
    head = cells.get("what", "")
    rest = [text for name, text in cells.items() if name != "what"]
    if not head:
        return ", ".join(rest)
    return f"{head} ({', '.join(rest)})" if rest else head


def _bare(texts: Iterable[str]) -> list[str]:
    """Sentences to stand in a row."""
    return [text.rstrip(".") for text in texts]
