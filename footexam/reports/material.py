"""What every part of a document draws on: record, assessment, catalogue, words, sources."""

from collections.abc import Mapping, Sequence
from functools import cached_property

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue, Measure, Texts, say
from footexam.drawing.ruler import Scale
from footexam.record.examination import Examination
from footexam.record.reading import Reading
from footexam.reports.citations import Citations
from footexam.reports.phrases import Phrases
from footexam.scoring.results import Finding
from footexam.terms import Side

SIDES = (Side.LEFT, Side.RIGHT)
"""The patient's left always stands in the left column."""

Key = tuple[str, Side | None]
"""A measure id and a side."""


class Material:
    """The record and what is known about it, with look-ups; one for each document."""

    def __init__(
        self,
        examination: Examination,
        assessment: Assessment,
        catalogue: Catalogue,
        language: str,
        earlier: Sequence[Examination] = (),
        *,
        set_aside: bool = True,
    ) -> None:
        self.examination = examination
        self.assessment = assessment
        self.catalogue = catalogue
        self.language = language
        self.earlier = earlier
        self.set_aside = set_aside
        """Whether hypotheses that were set aside are printed."""
        self.phrases = Phrases(language)
        self.citations = Citations(catalogue, self.phrases)
        self.scales: dict[str, Scale | None] = {}

    @cached_property
    def findings(self) -> Mapping[Key, Finding]:
        """Findings by measure and side."""
        return {(finding.measure, finding.side): finding for finding in self.assessment.findings}

    def say(self, texts: Texts | None) -> str:
        """A text of forms/ in the document's language."""
        return say(texts, self.language)

    def label(self, measure: str) -> str:
        """The name of a measure; its id where it has left the catalogue."""
        known = self.catalogue.measures.get(measure)
        return self.say(known.label) if known else measure

    def sided_label(self, measure: str, side: Side | None) -> str:
        """The name of a measure with its side in words, if it has one."""
        if side is None:
            return self.label(measure)
        return self.phrases("measure-side", measure=self.label(measure), side=self.side_word(side))

    def side_word(self, side: Side) -> str:
        """The word left or right."""
        return self.phrases(f"{side}-word")

    def word(self, word: str) -> str:
        """A word of a choice or a state as shown."""
        return self.catalogue.word(word, self.language)

    def region(self, region: str) -> str:
        """The name of a place on the foot map."""
        known = self.catalogue.regions.get(region)
        return self.say(known.label) if known else region

    def measure(self, measure: str) -> Measure:
        """A measure of the catalogue; raises KeyError for one that has left it."""
        return self.catalogue.measures[measure]

    def reading(self, measure: str, side: Side | None = None) -> Reading | None:
        """What was recorded, absences included."""
        return self.examination.reading(measure, side)
