"""What a reading is worth, in the few words that stand under its cell; no Qt."""

import re
from dataclasses import dataclass

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue, Measure
from footexam.desktop.texts import TEXTS
from footexam.drawing.measured import usual_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.record.examination import Examination
from footexam.record.reading import Reading
from footexam.reports.load import TABLES, holding_names, training
from footexam.reports.material import Material
from footexam.reports.ranges import range_words, standing
from footexam.reports.sureness import ruler_of, scale_of, sure_ink, sure_words
from footexam.reports.values import absence_words, remarks, value_lines
from footexam.reports.words import date_words, quantity_words
from footexam.scoring.results import Difference, Finding
from footexam.terms import Label, Provenance, Side

Key = tuple[str, Side | None]


_NUMBERED = re.compile(r"\s\[[0-9, ]+\]$")


def on_screen(words: str) -> str:
    """Words without the number of a source: only paper has the list that it points to."""
    return _NUMBERED.sub("", words)


@dataclass(frozen=True, slots=True)
class Judgement:
    """What stands under one cell: how sure, by which limit, and the ruler."""

    sure: str = ""
    ink: Ink = Ink.MUTED
    usual: str = ""
    ruler: Drawing | None = None
    remarks: str = ""
    absent: str = ""
    before: str = ""
    drawn: str = ""
    """The drawing in words, where nothing else tells them."""

    def spoken(self) -> str:
        """All of it as one text for a screen reader."""
        parts = (self.absent, self.drawn, self.sure, self.usual, self.remarks, self.before)
        return "; ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class DifferenceWords:
    """What stands in the difference column."""

    value: str = ""
    weight: str = ""
    beyond: bool = False


class Judge:
    """Words and rulers for the cells, from one examination with its assessment."""

    def __init__(
        self,
        examination: Examination,
        assessment: Assessment,
        catalogue: Catalogue,
        before: Examination | None = None,
        language: str = "en",
    ) -> None:
        self.material = Material(examination, assessment, catalogue, language)
        self.catalogue = catalogue
        self.before = before
        self.differences = {row.measure: row for row in assessment.differences}
        self.scores = {(row.measure, row.side): row for row in assessment.scores}

    def rests_on(self, key: Key) -> tuple[object, ...]:
        """What the judgement of a cell can change with, besides its reading.

        The findings of both sides, as they share one scale of their rulers, and the score; of a
        training table the cautions that hold back its description, and the day.
        """
        findings = self.material.findings
        measure = key[0]
        if measure in TABLES:
            return (holding_names(self.material), self.material.examination.examined_on)
        return (
            findings.get((measure, None)),
            findings.get((measure, Side.LEFT)),
            findings.get((measure, Side.RIGHT)),
            self.scores.get(key),
        )

    def of(self, key: Key) -> Judgement:
        """What stands under the cell of a measure and side."""
        measure, side = key
        reading = self.material.reading(measure, side)
        absent = ""
        if reading is not None and reading.absent is not None:
            absent = absence_words(reading.absent, reading.reason, self.material)
        finding = self.material.findings.get(key)
        noted = "; ".join(remarks(reading, self.material)) if reading is not None else ""
        if measure in TABLES:
            return self._training(key, noted, absent)
        judged = finding is not None and finding.label is not Label.NOT_JUDGED
        if finding is None or not (judged or isinstance(finding.value, str)):
            return Judgement(
                usual=self._rule(key), remarks=noted, absent=absent, before=self._before(key)
            )
        return Judgement(
            sure=on_screen(sure_words(finding, self.material)),
            ink=sure_ink(finding) if finding.label is not Label.WITHIN else Ink.MUTED,
            usual=self._usual(finding),
            ruler=ruler_of(finding, scale_of(measure, self.material), self.material),
            remarks=noted,
            absent=absent,
            before=self._before(key),
        )

    def _training(self, key: Key, noted: str, absent: str) -> Judgement:
        """The chart of a training table, what it amounts to, and what is known against that."""
        before = self._before(key)
        found = training(key[0], self.material)
        if found is None:
            return Judgement(remarks=noted, absent=absent, before=before)
        against = []
        for one in found.against:
            checked = ", ".join(self._standing(one.provenance, one.source))
            against.append(f"{self.material.say(one.text)} ({checked})")
        return Judgement(
            sure="\n".join(found.lines),
            ink=Ink.INK,
            usual="\n".join(against),
            ruler=found.chart,
            remarks=noted,
            before=before,
            drawn=found.chart_told,
        )

    def _rule(self, key: Key) -> str:
        """How well the rule is checked that a score is worked out by: as its weakest figure."""
        rules = self.catalogue.measures[key[0]].rules if key in self.scores else ()
        if not rules:
            return ""
        weakest = max(rules, key=lambda rule: list(Provenance).index(rule.provenance))
        return ", ".join(self._standing(weakest.provenance, weakest.source))

    def _standing(self, provenance: Provenance, source: str) -> list[str]:
        """How well a figure was checked, and the authors and year of its source."""
        how = self.material.phrases(provenance)
        if source == "common-practice":
            return [how]
        known = self.catalogue.sources.get(source)
        return [how, known.citation.split(",")[0] if known else source]

    def _usual(self, finding: Finding) -> str:
        """The usual range, how well it was checked, and by whom it was published."""
        usual = usual_of(finding, self.catalogue)
        if usual is None:
            return ""
        measure = self.catalogue.measures[finding.measure]
        phrases = self.material.phrases
        told = range_words(usual, measure, self.material)
        parts = [phrases("usual", range=told)] if told else []
        return ", ".join([*parts, *self._standing(standing(usual), usual.set.source)])

    def _before(self, key: Key) -> str:
        """Last visit's value with its date; never in the box."""
        if self.before is None:
            return ""
        reading = self.before.reading(*key)
        if reading is None or reading.value is None:
            return ""
        day = date_words(self.before.examined_on, self.material.phrases)
        return f"{day}: {'; '.join(value_lines(reading, self.material))}"

    def difference(self, measure: Measure) -> DifferenceWords:
        """Left minus right in words; empty where both sides have no number."""
        row = self.differences.get(measure.id)
        if row is None or (row.change_needed is None and row.usual_limit is None):
            return DifferenceWords()
        value = quantity_words(abs(row.difference), measure)
        return DifferenceWords(value, self._weight(row, measure), bool(row.beyond_error))

    def _weight(self, row: Difference, measure: Measure) -> str:
        phrases = self.material.phrases
        if row.beyond_error is None:
            return phrases("error-unknown")
        needed = f"{row.change_needed:.2g}" if row.change_needed is not None else ""
        unit = f"{needed} {measure.unit}".strip()
        return TEXTS["beyond" if row.beyond_error else "inside"].format(needed=unit)

    def values(self, reading: Reading) -> list[str]:
        """A reading's value in words."""
        return value_lines(reading, self.material)

    def score_words(self, key: Key) -> str:
        """The value of a derived measure in words; empty while it is not worked out."""
        score = self.scores.get(key)
        if score is None:
            return ""
        if isinstance(score.value, str):
            return self.material.word(score.value)
        return quantity_words(score.value, self.catalogue.measures[score.measure])
