"""The fixed words of feedback and cohort documents, by language; English is always there."""

from collections.abc import Mapping

from footexam.catalogue.model import Texts, say

_ENGLISH: Mapping[str, str] = {
    "feedback": "Feedback on an examination",
    "for-student": "For {student}. Compared with the reference examination by {reference}.",
    "of-visit": "Record {number}, examined {day}.",
    "rubric": "Marked by: {rubric}. {says}",
    "one-person": (
        "Both examinations name one examiner: nothing was compared blind, and nothing here says "
        "how well two people agree."
    ),
    "foot": "{student}, examined {day}, record {number}",
    "kept-apart": "Marks are kept apart from the patient’s record.",
    # what must be looked at first
    "critical-head": "To be looked at before anything else",
    "critical-note": "Found by comparing the records; whether it is so, the marker decides.",
    "missed-caution": "A danger sign was missed: {what}.",
    "missed-less": "{name}: recorded as {had}, in the reference as {wanted}",
    "wrong-side": "Left and right look exchanged: {what}.",
    "wrong-side-all": "Left and right look exchanged in the whole examination: {what}.",
    "unsafe-plan": "A device was planned on a side on which a danger holds it back: {what}.",
    "sign-slips": "A sign looks left out or turned: {what}.",
    # in short
    "short": "In short",
    "counts": (
        "Of {judged} answers that could be judged, {agreed} agree ({share}) and {apart} do not. "
        "{missing} that the reference has are missing; {unjudged} cannot be judged."
    ),
    "share": "{low} to {high} % with 95 % confidence",
    "counts-none": "Nothing in the two examinations could be judged against each other.",
    "fair": (
        "A difference counts only where it is larger than what two careful examiners may differ "
        "by. What is allowed is the larger of that and a stated limit."
    ),
    # the plot
    "plot": "How far the readings lie from the reference",
    "plot-item": "reading",
    "plot-told": "difference",
    "plot-axis": "expected errors (the band holds 95 % of what error explains)",
    "plot-none": "No reading has a known error between two examiners.",
    "plot-more": "{count} readings nearer to the reference are not drawn.",
    # tables
    "apart": "What did not agree",
    "apart-none": "Everything that could be judged agrees.",
    "agreed": "What agreed",
    "measured": "Measured: {what}.",
    "answered": "Answered alike: {what}.",
    "measure": "Measure",
    "you": "You",
    "reference": "Reference",
    "difference": "Difference",
    "allowed": "Allowed",
    "beyond": "Beyond it by",
    "either": "one of the words",
    "levels-allowed": "{count} level",
    "levels-allowed-more": "{count} levels",
    "stated": "{limit} (stated)",
    "missed-added": "Not named: {missed}",
    "added-only": "Named besides: {added}",
    "slip-sides": "left and right?",
    "slip-sign": "sign?",
    "nothing": "nothing",
    "missing": "What is missing",
    "dangers-not-asked": "Danger questions not asked: {what}.",
    "missing-bare": "Not recorded, without a reason: {what}.",
    "missing-reason": "Not done, and the reason is there: {what}.",
    "missing-none": "Everything that the reference has is there.",
    "besides": "Recorded by you only: {what}.",
    "unjudged": "What could not be judged",
    "unjudged-numbers": "No error between two examiners is known: {what}.",
    "unjudged-methods": "Read by two methods: {what}.",
    "unread": "Typed texts and tables, for the marker to read: {what}.",
    "value-against": "{value} ({reference})",
    "sides-against": "{name}: {what}",
    "side-value": "{side} {value}",
    "both-sides": "{name}, both",
    "named-side": "{name}, {side}",
    # scales
    "scales": "Scores on one scale, taken together",
    "scale": "{panel}, {low} to {high} {unit}: {exact} of {n} on the same level. {kappa}",
    "kappa": "Quadratic weighted kappa over all levels {value}, 95 % {low} to {high}, n {n}.",
    "kappa-bare": "Quadratic weighted kappa over all levels {value}, n {n}, no interval.",
    "kappa-none": "Kappa {why} (n {n}).",
    "noted": "{told} ({note})",
    # reasoning
    "reasoned": "Reasoning and plan",
    "reasoned-none": "Neither of you accepted a hypothesis or planned anything.",
    "hypotheses": "Hypotheses accepted",
    "aims": "Aims",
    "features": "Features",
    "both-chose": "both: {what}",
    "only-reference": "the reference only: {what}",
    "only-you": "you only: {what}",
    "sizes": "Dimensions more than a step apart: {what}.",
    "size": "{feature}, {size} {had} {unit} ({wanted})",
    # marks
    "marks": "Marks",
    "domain": "Domain",
    "of-points": "Points of",
    "mark": "Mark 0–4",
    "what-it-means": "What the mark means, and one thing to practise",
    "practise": "Practise: {what}",
    "practise-item": "{what} Begin with: {item}.",
    "total": "{points} of {of} points.",
    "total-part": "{points} points so far; {count} domains have no mark yet.",
    "grade": "Global grade, given apart from the points: {grade}.",
    "grade-open": "Global grade, given apart from the points (ring one): {grades}.",
    "cut": "Pass mark {cut} of {of}.",
    "cut-open": "The pass mark is not known yet.",
    "passed": "Passed.",
    "failed": "Not passed.",
    "critical-fail": "Not passed, whatever the points: {what}.",
    "open": "Not decided.",
    "critical-confirmed": "Critical fails, if the marker confirms one (ring it): {what}.",
    "two-lines": "What the marker says",
    "signature": "Marker, date",
    "seen": "Seen by the student, date",
    "criteria": "Criteria",
    "criteria-note": "Points are weight × mark ÷ 4. A critical fail counts whatever the points.",
    "error-use": "error of {measure}",
    # the cohort
    "cohort": "Cohort report",
    "cohort-of": "Students: {students}. Examinations compared: {pairs}. Patients: {patients}.",
    "cohort-one": "One student only: nothing here tells a student’s habit from a patient’s foot.",
    "anonymous": "Students stand here by code.",
    "left-out": "Left out",
    "left-out-note": "These files were not compared; all others were.",
    "examiners": "Examiners",
    "examiner": "Examiner",
    "pairs": "Visits",
    "agreed-share": "Agreed, 95 %",
    "apart-count": "Apart",
    "missing-count": "Missing",
    "spread": "Spread of errors",
    "spread-note": (
        "Spread is the root mean square of the errors in units of the error that two careful "
        "examiners have: 1 is expected, 2 is twice as much."
    ),
    "critical-short": "To look at",
    "drifts": "Steady differences",
    "drift": (
        "{examiner}, {measure}: {difference} on average over {n} readings, {mean} expected errors."
    ),
    "drifts-none": "No examiner differs steadily in any measure (looks: {looks}).",
    "drifts-note": "The limit is divided by the number of looks ({looks}).",
    "drifts-few": "No examiner read a measure often enough (3 times) to look for a steady habit.",
    "cohort-items": "Measures, against the reference",
    "readings": "Readings",
    "crossed": "{n} ({students} × {volunteers})",
    "by": "{volunteers} × {students}",
    "cohort-agreement": "Bias, limits and ICC, or kappa (95 %)",
    "estimate": "{value} ({low} to {high})",
    "estimate-approximate": "{value} ({low} to {high} ≈{held}\u00a0%)",
    "estimate-bare": "{value} ({why})",
    "estimate-few": "{value} (no interval)",
    "bias-line": "bias {told}",
    "limits-line": "limits {lower} and {upper}",
    "icc-line": "ICC(2,1) {told}",
    "kappa-levels": "kappa, quadratic {told}",
    "kappa-words": "kappa {told}",
    "fleiss-line": "Fleiss’ kappa {told}",
    "alpha-line": "alpha, {metric} {told}",
    "gaps-line": "readings missing: {gaps}",
    "nominal": "nominal",
    "ordinal": "ordinal",
    "interval": "interval",
    "units-note": (
        "Readings count as students × volunteers. Readings of one volunteer share the volunteer "
        "and the reference’s own reading, those of one student a hand, and left and right belong "
        "to one person. So intervals here leave out one volunteer at a time, with both feet, and "
        "one student at a time: they tell of other students and other volunteers. Quadratic kappa "
        "is over all levels of the scale, used or not."
    ),
    "approximate-note": (
        "≈ marks an approximate interval: one like it held the true value in that share of "
        "simulations and not in 95 %."
    ),
    "volunteers-few": (
        "Only {volunteers} volunteers: an ICC, kappa or alpha over so few says next to nothing, "
        "as the width of its interval shows. Bias, limits and the error of one reading tell more."
    ),
    "volunteer-only": (
        "One volunteer only: nothing here tells how well anybody would agree on another one."
    ),
    "among": "Students among one another",
    "among-note": (
        "Without the reference. Left and right of one person are not two persons: each side is "
        "worked out for itself, over volunteers. A student or volunteer who lacks most readings "
        "of a measure is left out of its ICC; alpha copes with gaps."
    ),
    "icc-note": (
        "ICC(2,1): these students stand for all students, one reading is meant and not the mean "
        "of several, and a steady bias counts as disagreement. It is low where the volunteers are "
        "alike, however well they are read; the error of one reading does not depend on that."
    ),
    "few-units-note": (
        "With fewer than 6 volunteers kappa and alpha have no interval: of 3 volunteers one held "
        "the true value in 40 % of simulations."
    ),
    "volunteers": "Volunteers × students",
    "coefficient": "Agreement (95 %)",
    "one-reading": "Error of one reading (SEM)",
    "among-flat": "Nothing varies, so nothing can be computed: {what}.",
    "item-kappa": "kappa {value} ({low} to {high})",
    "plots": "Differences against means",
    "plots-note": (
        "Each dot is a student’s reading against the reference; rings are readings on one spot. "
        "Solid: the mean difference. Dashed: where 95 % of differences lie. Bars at the right: how "
        "sure each line is (95 %). Long dashes: differences that change with the size of the "
        "reading."
    ),
    "plot-x": "mean of both, {unit}",
    "plot-y": "student minus reference, {unit}",
    "plot-bias": "bias {value}",
    "plot-upper": "upper {value}",
    "plot-lower": "lower {value}",
    "cohort-plot": "Errors by measure",
    "standards": "Pass mark",
    "standard": "{rubric}: {told}",
    "standard-fixed": "{cut} of {of}, fixed beforehand.",
    "standard-cut": (
        "{cut} of {of} by regression on the global grade (n {n}, R² {r2}, standard error {se}, "
        "95 % {low} to {high}). The grades are taken to stand at {spacing}."
    ),
    "standard-judges": (
        "{cut} of {of} by {n} judges, last of {rounds} rounds (standard error {se}, 95 % {low} to "
        "{high})."
    ),
    "standard-judge": "{cut} of {of} by one judge.",
    "standard-no-judges": "There are no estimates by judges.",
    "few-judges": "Fewer than 10 judges: the cut is not steady.",
    "not-computable-one-judge": "One judge alone: nobody knows how steady it is.",
    "judges-note": (
        "Points that each judge expects of a student who only just passes. The last round stands; "
        "the spread shows how far the judges came together."
    ),
    "judge": "Judge",
    "round": "Round {number}",
    "judges-mean": "Mean: the cut",
    "judges-apart": "Spread between judges (SD)",
    "markers": "Two markers",
    "markers-note": (
        "Marks that both have signed, before any were agreed on together. Intervals leave out one "
        "student at a time, with all that student’s volunteers."
    ),
    "markers-size": "{n} examinations of {students} students were marked twice.",
    "markers-no-totals": "In none did both mark every domain.",
    "markers-harder": "The second marker marks harder: {told} points against the first.",
    "markers-milder": "The second marker marks more mildly: {told} points against the first.",
    "markers-unclear": (
        "The second marker gives {told} points against the first: neither is shown to mark harder."
    ),
    "markers-limits": "95 % of differences lie between {lower} and {upper}.",
    "markers-icc": "ICC(2,1) of the points {told}, n {n}.",
    "markers-verdict": "Same verdict at the pass mark: {same}; kappa {kappa}.",
    "markers-no-cut": "No pass mark is known, so verdicts are not compared.",
    "same-mark": "Same mark, 95 %",
    "marks-kappa": "Quadratic kappa, 0–4",
    "second-first": "Second minus first",
    "standard-added": "With {errors} standard error added by policy: {used}.",
    "standard-none": "Not computable.",
    "few-students": "Fewer than 30 students: the cut is not steady.",
    "not-computable-no-variation": "All have one grade or one sum of points.",
    "not-computable-too-few": "Fewer than three students have points and a grade.",
    "points-do-not-rise-with-the-grade": "Points do not rise with the grade: do not use it.",
    "no-student-at-or-below-the-borderline-grade": (
        "Nobody was graded borderline or below: the cut lies outside what was seen."
    ),
    "independent": (
        "Readings of one patient are not independent of each other, so the intervals of shares "
        "are narrower than they should be."
    ),
    # plots, and what they show in words
    "plot-trend": "trend {value}",
    "plot-share": "Within error by measure",
    "plot-share-axis": "% within error (line: 95 %)",
    "plot-borderline-x": "global grade",
    "plot-borderline-y": "points of {of}",
    "plot-cut": "cut {value}",
    "plot-used": "used {value}",
    "plot-differences-told": (
        "{measure}: {n} readings by students against the reference. {figures} {trend}"
    ),
    "plot-figures-told": "On average {bias}; 95 % of differences lie between {lower} and {upper}.",
    "plot-line-told": "{value} (95 % {low} to {high})",
    "plot-trend-told": (
        "The difference changes by {rise} for each {unit} of the reading (95 % {low} to {high})."
    ),
    "plot-no-trend-told": "The difference is not shown to change with the size of the reading.",
    "plot-share-told": "Shares within error: {rows}.",
    "plot-share-row": "{name} {told}",
    "plot-errors-told": "Errors in units of the expected error: {rows}.",
    "plot-errors-row": "{name}: {n} readings, {beyond} outside the band",
    "plot-errors-one": "{name}: {error}",
    "plot-borderline-told": ("Points of {n} students by global grade. {cut}"),
    "plot-cut-told": "The line crosses the grade {grade} at {cut}, standard error {se}.",
    "plot-cut-none": "No line: {why}",
}

MARKING_PHRASES: Mapping[str, Texts] = {key: {"en": text} for key, text in _ENGLISH.items()}


def marking_phrase(key: str, language: str, **parts: object) -> str:
    """The words of a key with its parts filled in; KeyError for an unknown key."""
    text = say(MARKING_PHRASES[key], language)
    return text.format_map(parts) if parts else text
