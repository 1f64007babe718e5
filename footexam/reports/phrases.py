"""The fixed words of the documents, by language; English is always there."""

from collections.abc import Mapping

from footexam.catalogue.model import Texts, say
from footexam.reports.prescription_words import PRESCRIPTION

MONTHS: Mapping[str, tuple[str, ...]] = {
    "en": ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
}
"""Fixed short month names, never those of the computer's own setting."""

_ENGLISH: Mapping[str, str] = {
    # the page
    "title": "Examination of the feet and lower limbs",
    "draft": "DRAFT, not signed",
    "draft-amended": "DRAFT, not signed again",
    "draft-counter": "DRAFT, not countersigned",
    "in-error": "ENTERED IN ERROR, do not use",
    "signed-by": "Signed by {names}",
    "invented": "Invented patient, not a real person",
    "page": "page {page} of {pages}",
    "record": "Record version {version}, chain {head}",
    "record-file": "Record version {version}, no chain",
    "intended-use": "Supports the examiner’s judgement; does not diagnose.",
    # who
    "born": "Born",
    "sex": "Sex",
    "number": "Record number",
    "not-known": "Not known",
    "unnamed": "Name not known",
    "years": "{years} years",
    "year": "1 year",
    "years-months": "{years} and {months}",
    "months": "{months} months",
    "month": "1 month",
    "examined": "Examined {date} by {examiner}.",
    "supervised": "Supervisor {name}.",
    "supervised-level": "Supervisor {name}, supervision level {level}.",
    "purpose-record": "",
    "purpose-student": "Examination by a student.",
    "purpose-reference": "Reference examination for marking.",
    "role-clinician": "clinician",
    "role-student": "student",
    "role-supervisor": "supervisor",
    "sex-female": "female",
    "sex-male": "male",
    "sex-other": "other",
    "sex-unknown": "Not known",
    "allergies": "Allergies",
    "none-known": "none known",
    # sides and absences
    "left": "Left",
    "right": "Right",
    "left-word": "left",
    "right-word": "right",
    "both-word": "left and right",
    "no-side": "side not stated, counts for both",
    "bare": "{value} (side not stated, counts for both)",
    "not-examined": "not examined",
    "declined": "declined",
    "could-not-be-tested": "could not be tested",
    "not-applicable": "not applicable",
    "not-done-safety": "not done, for safety",
    "no-entry": "no entry",
    "not-worked-out": "not worked out",
    "nothing-usual": "not known",
    "changes-none": "No change beyond measurement error.",
    "not-recorded": "not recorded",
    # cautions
    "cautions": "Cautions",
    "yes-one": "1 answered yes.",
    "yes-many": "{count} answered yes.",
    "asked-none": "{asked} of {all} asked, none answered yes.",
    "asked": "{asked} of the {all} opening questions asked.",
    "cautions-none": "None of the {all} opening questions was asked.",
    "caution-absent": "{absence}: {what}.",
    "not-asked": "Not asked",
    "site-not-given": "place not given, counts as the most serious",
    "decision-none": "no decision recorded",
    "decision-acted": "decision: acted on",
    "decision-excluded": "decision: excluded",
    "decision-transferred": "decision: transferred",
    "raised": "{count} raised, {waiting} of them without a decision.",
    "raised-decided": "{count} raised, a decision recorded for each.",
    "yes-besides": "Besides, answered yes: {count}.",
    "cautions-page": "What each caution rests on: page {page}.",
    "rests-on": "Rests on: {what}.",
    "caution-holds": "Held back until what was done is recorded: {what}.",
    "hold-loading": "advice to load",
    "hold-provocation": "tests that provoke the pain",
    "hold-device": "devices",
    "hold-impact": "running and jumping",
    "hold-pain-guided": "loading guided by pain",
    "taken-back": "Yes taken back: {what}, by {by}, {at}.",
    "no-reason": "No reason given.",
    "tier-emergency": "Emergency",
    "tier-same-day": "Same day",
    "tier-within-days": "Within days",
    "tier-suspected-cancer-pathway": "Suspected cancer pathway",
    "tier-routine-referral": "Routine referral",
    # why
    "why": "Reason for the visit",
    "own-words": "In the patient’s words",
    "where": "Where",
    "since": "Since ",
    "impression": "Examiner’s impression",
    "continued": "… (whole text under “{panel}”)",
    # what might explain it
    "arguments": "What might explain it",
    "arguments-brief": "What might explain it (accepted by the examiner)",
    "arguments-lead": (
        "Points are decibans: ten times the logarithm of a likelihood ratio, 3 for twice, 10 for "
        "ten times as likely, at most 10 a row. Expert weights, unless a ratio is named. They "
        "weigh findings against each other and are not the chance of a disease. Rows that see one "
        "thing count together once; sums are rounded after adding. Bar: what the row weighs; "
        "frame: what it would weigh were its reading sure. What was not examined counts nothing."
    ),
    "arguments-none": "No hypothesis was accepted.",
    "argument-of": "argument: {measure}",
    "argument-name": "{name}, {side}",
    "argument-supports": "Speaks for it",
    "argument-opposes": "Speaks against it",
    "argument-struck": "Does not count",
    "argument-unknown": "Not examined",
    "argument-mechanism": "Mechanism",
    "argument-tissue": "Tissue that is loaded",
    "argument-tissue-capacity": "Tissue concerned",
    "argument-counter": "Counter-evidence",
    "argument-none-against": "Nothing that was examined.",
    "argument-total": "For {supports}, against {opposes}: {total} points",
    "argument-together": "These {count} see one thing and count together {points}.",
    "argument-needed": "needed",
    "argument-part": "{points} of {full}",
    "argument-ratio": "likelihood ratio {ratio}\u00a0{cite}",
    "argument-expert": "expert weight\u00a0{cite}",
    "argument-gate": "weighs nothing by itself\u00a0{cite}",
    "argument-grades": (
        "Evidence for the mechanics: {mechanics}. For the link to the complaint: {injury}."
    ),
    "grade-E1": "controlled trials",
    "grade-E2": "cohorts followed over time, or laboratory work",
    "grade-E3": "comparisons at one point in time only",
    "grade-E4": "expert opinion or theory only",
    "argument-settles": "What would settle it: {test}",
    "argument-evidence": "Published about it",
    "argument-standing": "{cite} {provenance}",
    "argument-both-sides": (
        "Present on the painless side too: it may explain where it hurts, but not by itself why on "
        "this side."
    ),
    "argument-closed": (
        "Accepted by the examiner; the readings of this record do not meet what it requires, so no "
        "argument stands here."
    ),
    "argument-retired": "Accepted by the examiner; the program no longer has this hypothesis.",
    "why-now-missing": (
        "Why now: nothing recorded says why it began when it did (a change of training, work, "
        "shoes or body mass, a break, a single long effort)."
    ),
    "why-now-known": "Why now: {what}.",
    "held-back": "A caution is open: {names}.",
    "own-hypotheses": "In the examiner’s own words",
    "set-aside": "Set aside by the examiner",
    "hypothesis": "Hypothesis",
    "set-aside-why": "Why",
    "still-open": "What remains open",
    "undecided": "Neither accepted nor set aside",
    "undecided-points": "For, against, points",
    "undecided-unknown": "Not examined",
    "undecided-more": "Open too, with no point in favour on balance or felt elsewhere: {what}.",
    "points-three": "{supports}, {opposes}, {total}",
    "next-tests": "Tests that would help next",
    "test-why": "What it would tell",
    "position": "Position",
    "dangers-open": "Danger questions without an answer: {what}.",
    "idle-tests": "Would not change the argument: {what}.",
    "nearly": "Lack only answers",
    "nearly-told": "{name} (needs: {what})",
    "list-more": "{what}; and {count} more",
    "brief-argument": "{total}. Evidence for the link: {injury}. Page {page}.",
    "brief-against": "Counter-evidence: {counter}",
    "brief-own": "own words, page {page}",
    # outside
    "outside": "Outside the usual range",
    "outside-none": "No judged reading lies outside its usual range.",
    "nothing-judged": "No reading could be judged against a usual range.",
    "measure": "Measure",
    "answer": "Answer",
    "usual": "usual {range}",
    "usual-spread": "usual {range} (mean ± 1.96 SD)",
    "from-to": "{low} to {high}",
    "or-more": "{low} or more",
    "more-than": "more than {low}",
    "up-to": "up to {high}",
    "less-than": "less than {high}",
    "both-ends": "{low}, {high}",
    "likely": "likely {state}",
    "possible": "possibly {state}",
    "repeat": "repeat: {state}",
    "named": "outside the usual\u00a0{cite}",
    "within": "within the usual range",
    "within-near": "within the usual range, near its limit",
    "not-judged": "not judged",
    "error-only": "measurement error only",
    "error-unknown": "measurement error not known",
    "mean-of": "mean of {readings}",
    "best-of": "best of {readings}",
    "key": (
        "Ruler: band = usual range; triangle to the left = below, to the right = above, hatched = "
        "uncertain; dot = within; ring = not judged; bar = reading ± 1.96 standard errors of "
        "measurement, where known. Repeat: outside, but error alone may explain it."
    ),
    "key-brief": (
        "Band = usual range; triangle to the left = below, to the right = above, hatched = "
        "uncertain; dot = within; bar = reading ± 1.96 standard errors of measurement. Repeat: "
        "outside, but error alone may explain it. Error only: no spread of the norm known."
    ),
    "error-only-short": "error only",
    "error-unknown-short": "error not known",
    "more": "and {count} more, page {page}",
    "all-of": "{title}, all",
    "both": "Left and right",
    "whole-person": "Not of one side",
    "named-short": "{measure}: ",
    "usual-in": " ({usual})",
    # differences and changes
    "differences": "Differences between the sides",
    "minus": "Left − right",
    "beyond": "Beyond error",
    "between": "Usual between sides",
    "needed-head": "Change needed",
    "differences-none": "No difference beyond measurement error or the usual.",
    "beyond-error": "yes, {needed} needed {cites}",
    "inside-error": "no, {needed} needed {cites}",
    "beyond-told": "beyond error: {needed} needed {cites}",
    "inside-told": "inside error: {needed} needed {cites}",
    "before-rounding": (
        "Differences and changes are worked out before rounding: their last digit may differ from "
        "what the printed readings give."
    ),
    "needed-bare": "{needed} needed {cites}",
    "difference-told": "{measure}: left {left}, right {right}, left − right ",
    "change-told": "{measure}: {before} before, {now} now, ",
    "changes-counted": (
        "Inside measurement error: {inside}. Not judged, error not known: {unknown}. "
        "All changes on page {page}. Worked out before rounding."
    ),
    "changes": "Changes since the last visit",
    "before": "Before",
    "now": "Now",
    "change": "Change",
    "changes-inside": "Inside measurement error, no change shown: {what}.",
    "changes-unknown": "Change not judged, measurement error not known: {what}.",
    # absences
    "absences": "Not examined, declined or not possible",
    "no-entry-core": "No entry",
    "reason": "{what} ({reason})",
    "measure-side": "{measure}, {side}",
    "measure-values": "{measure} {values}",
    "side-value": "{side} {value}",
    # readings
    "readings": "All readings",
    "readings-none": "No readings were entered.",
    "typed": "typed “{typed}”",
    "typed-as": "{typed} ({value})",
    "method": "method: {method}",
    "note": "note: {note}",
    "late": "entered late, done {when}",
    "site-none": "place not given",
    "of-ten": "{activity} {score} of 10",
    "retired": "Measures no longer in use",
    # training load
    "load-of-week": "Week from",
    "load-of-days": "7 days to",
    "load-amount-load": "minutes × effort",
    "load-amount-minutes": "minutes",
    "load-amount-distance": "km",
    "load-than-week": "against the week before",
    "load-than-days": "against the 7 days before",
    "load-more": "{percent} % more",
    "load-less": "{percent} % less",
    "load-same": "about the same",
    "load-gap-weeks": "{count} weeks not recorded",
    "load-gap-days": "{count} days not recorded",
    "load-part": "{load} in part",
    "load-part-told": (
        "In part (open bar): days of that week are not known or not over; it is compared with "
        "nothing."
    ),
    "load-rest": (
        "A day without a line counts as rest; {gap} or more in a row count as not recorded."
    ),
    "load-earlier": "{count} earlier lines are not drawn.",
    "load-last-week": "Last whole week, from {day}: {load} ({amount})",
    "load-last-days": "Last 7 days of the log, to {day}: {load} ({amount})",
    "load-changed-week": "{line}; against the week before: {change}",
    "load-changed-days": "{line}; against the 7 days before: {change}",
    "load-monotony": (
        "Monotony of these 7 days (mean over sample SD): {monotony}. Strain (load × monotony): "
        "{strain}."
    ),
    "load-monotony-none": "Monotony of these 7 days is not defined: all days are alike.",
    "load-no-ratio": "No ratio: it takes {chronic} known days in a row, not all of them rest.",
    "load-coupled": (
        "Mean of the last {acute} days over that of the last {chronic}, which hold them: {ratio}."
    ),
    "load-uncoupled": (
        "Mean of the last {acute} days over that of the others of the {chronic}: {ratio}."
    ),
    "load-exponential": (
        "Averages in which later days weigh more, over {acute} and {chronic} days: {ratio}."
    ),
    "load-spike": (
        "Largest step up in one session, against the longest of the {window} days before it: "
        "{percent}."
    ),
    "load-held": (
        "A caution that holds back loading is open ({names}). Loads and figures worked out stand "
        "as history; no change and no ratio is described here until it is recorded what was done."
    ),
    "criticism-of": "what is known against describing: {measure}",
    "growth": "Growth over the visits",
    "visit-on": "{day} ({age})",
    "on-the-map": "Places on the foot",
    "map-key": (
        "Hatched = place of the complaint. A number = tenderness there; an empty ring = looked at, "
        "none. Each foot is drawn as it is, the patient’s left in the left column."
    ),
    "norms": "Usual ranges and measurement errors used",
    "norms-note": (
        "Judged: the range that the readings were judged by. Beside: another published range for "
        "comparison, judging nothing."
    ),
    "norm-set": "Set and group",
    "figures": "Figures",
    "source": "Source",
    "judged-by": "judged",
    "shown-beside": "beside",
    "set-group": "{set}: {group}",
    "number-of-people": "n = {count}",
    "mean-sd": "mean {mean}, SD {sd}",
    "mean-only": "mean {mean}",
    "spread-range": "mean ± 1.96 SD: {range}",
    "outside-words": "outside: {words}",
    "cut": "{state} {op} {at}",
    "error-same": "Measurement error, same examiner",
    "error-other": "Measurement error, another examiner",
    "error-method": "{error}, {method}",
    "error-figure": "change needed {needed}, standard error {sem}",
    "scores": "Derived scores",
    "band-default": "{band} ({set} {cite})",
    "band-bare": "{band} {cite}",
    "band-other": "another set: {band} ({set} {cite})",
    "derived-from": "from {inputs}",
    "derived-from-many": "from {count} readings",
    # the foot of page one
    "plan": "Argument and plan",
    "signed-examiner": "Examined by ({role}), registration, date and time",
    "signed-counter": "Countersigned by, registration, date and time",
    "signed-here": "Signed in the program",
    "signed-examiner-done": "Examined and signed by ({role})",
    "signed-counter-done": "Countersigned by",
    # the blank form
    "blank-title": "Examination of the feet and lower limbs: paper form",
    "blank-use": (
        "For use without the program. Fill in the four lines at the top of every page. Ring a word "
        "or a number; write numbers with the unit printed. Left is the patient’s left. Enter it "
        "later with the date and time at which it was done."
    ),
    "blank-codes": (
        "Where nothing can be written, put the letter and the reason in the last column, with the "
        "side: D declined, T could not be tested, N not examined, A not applicable, S not done, "
        "for safety. An empty line means that nobody looked; it never means no."
    ),
    "blank-family": "Family name",
    "blank-given": "Given names",
    "blank-born": "Born (day, month, year)",
    "blank-number": "Record number",
    "blank-done": "Done on (date, time)",
    "blank-by": "Examined by (role)",
    "blank-supervisor": "Supervisor",
    "blank-sex": "Sex",
    "blank-signature": "Signature, date and time",
    "blank-counter": "Countersigned by, registration, date and time",
    "blank-absent": "Not done: letter, side, why",
    "blank-one": "one answer, of no side",
    "blank-where": "where",
    "blank-region": "place",
    "blank-other": "Remarks",
    "blank-map": "mark on the drawings: sole, top, inner side, outer side, lower leg",
    "blank-map-values": "write 0 to 10 on the drawings; 0 = looked at, none",
    "blank-none": "none known",
    "blank-entered": "Entered into the program on, by",
    "blank-foot": "Paper form, {depth}; {use}",
    "blank-core": "core sheet",
    "blank-all": "whole sheet",
    # closing
    "remarks": "Remarks on the entries",
    "typed-head": "Typed",
    "remark": "Remark",
    "sources": "Sources",
    "used-for": "{provenance}: {uses}",
    "usual-range-of": "usual range of {measure}",
    "uses-more": "{uses} and {count} more",
    "usual-for": "usual {range} ({group})",
    "usual-spread-for": "usual {range} ({group}, mean ± 1.96 SD)",
    "error-of": "measurement error of {measure}",
    "difference-of": "usual side difference of {measure}",
    "caution-of": "caution: {measure}",
    "review-of": "review plan: {measure}",
    "published": "published",
    "published-unchecked": "published, figure not checked in the paper",
    "common-practice": "common practice",
    "estimate": "estimate",
    "short-published": "published",
    "short-published-unchecked": "published, not checked",
    "short-common-practice": "common practice",
    "short-estimate": "estimate",
    "intended-head": "What this document is for",
    "intended-text": (
        "It records an examination and sets its readings against published figures, to support the "
        "judgement of the person who examined. It does not diagnose, does not give the chance of a "
        "disease and does not replace an examination, local rules or the advice of those licensed "
        "to give it. “Likely”, “possibly” and “repeat” say how sure it is that a reading lies "
        "outside a usual range; many people outside it have no complaint."
    ),
    "unknown-source": "source {id} is not in the list of sources",
    "coded": "Characters printed by their code",
    "coded-text": (
        "These characters have no printable shape in the fonts of this document and stand in it by "
        "their code in square brackets: {what}."
    ),
}

PHRASES: Mapping[str, Texts] = {
    key: {"en": text} for key, text in ({**_ENGLISH, **PRESCRIPTION}).items()
}


class Phrases:
    """The fixed words in one language, English where that language has none."""

    def __init__(self, language: str) -> None:
        self.language = language
        self.months = MONTHS.get(language, MONTHS["en"])

    def __call__(self, key: str, **parts: object) -> str:
        """The words of a key, with its parts filled in; raises KeyError for an unknown key."""
        text = say(PHRASES[key], self.language)
        return text.format_map(parts) if parts else text
