"""The words of the marking pages in one place, by language, and their keys."""

WORDS: dict[str, str] = {
    "marking": "Marking",
    "folder": "Folder of the term",
    "marker": "Your name, as the marker",
    "rubric": "Rubric",
    "students": "Students' examinations",
    "list-keys": (
        "Enter marks a student.   Ctrl+M shows the cohort.   Ctrl+Shift+P writes all feedback.   "
        "F5 reads the folder again.   Escape goes back."
    ),
    "column-student": "Student",
    "column-volunteer": "Volunteer",
    "column-day": "Day",
    "column-reference": "Reference by",
    "column-state": "State",
    "nothing": (
        "There is no student's examination yet. Put the files from the students' machines and the "
        "references into the folder, and press F5."
    ),
    "left-out": "{count} files are left out:",
    "left-out-one": "1 file is left out:",
    # work that takes a while
    "reading": "Reading the folder: {done} of {of}. Escape stops it.",
    "reading-stopped": "Stopped; the list is as it was before. F5 reads the folder.",
    "no-folder": "The folder cannot be read: {why}. Write another one above.",
    "store-closed": "Examinations of the program's own store are not listed: {why}",
    "feedback-making": "Writing feedback: {done} of {of}. Escape stops it.",
    "feedback-stopped": "Stopped; {done} of {of} documents are written, each of them whole.",
    "feedback-made": "{done} documents are written into {folder}.",
    "feedback-made-one": "1 document is written into {folder}.",
    "feedback-made-but": "Documents written into {folder}: {done}. Not written: {failed}. {why}",
    "feedback-nobody": "Nobody has signed marks yet, so there is no feedback to write.",
    "try-again": "Try again.",
    "feedback-broke-off": "Writing broke off; {done} of {of} documents are written. {why}",
    # states of a student's examination
    "no-reference": "no reference",
    "other-day": "reference is of another day",
    "student-unsigned": "student has not signed yet",
    "reference-unsigned": "reference is not signed yet",
    "not-marked": "not marked",
    "draft": "draft: {first}",
    "signed": "signed: {first}",
    "second-draft": "signed: {first}; second draft: {second}",
    "first-draft": "draft: {first}; second signed: {second}",
    "second-only": "second signed: {second}",
    "both-draft": "draft: {first}; second draft: {second}",
    "second-begun": "second draft: {second}",
    "both-signed": "both signed, near enough: {first}, {second}",
    "needs-moderation": "to be agreed on: {first}, {second}",
    "moderation-draft": "agreement begun: {first}, {second}",
    "moderated": "agreed on: {third}",
    # why a sheet is not opened
    "closed-no-reference": "There is no reference of this volunteer; nothing is compared.",
    "closed-other-day": "The reference of this volunteer is of another day; nothing is compared.",
    "closed-student-unsigned": (
        "The student has not signed this examination yet. A reference is shown beside it only once "
        "both are signed."
    ),
    "closed-reference-unsigned": (
        "The reference is not signed yet. It is shown beside a student's examination only once "
        "both are signed."
    ),
    "closed-two-others": "Two others mark this student; you see their marks once both have signed.",
    "no-marker": "Write your name first: it decides whose marks you see.",
    # the sheet
    "sheet-of": "{student}   {volunteer}   {day}",
    "sheet-by": "Reference by {reference}.   {rubric}.   {hand}",
    "hand-first": "Marks by {marker}.",
    "hand-second": "Second marks by {marker}; the first marker's are hidden until you sign.",
    "hand-moderation": "{first} and {second} agree on marks.",
    "changes": "Changed marks: {why}",
    "comparison": "The examination against the reference",
    "column-result": "Result",
    "column-measure": "Measure",
    "column-by-student": "Student",
    "column-by-reference": "Reference",
    "column-difference": "Difference",
    "column-errors": "Errors",
    "column-allowed": "Allowed",
    "marks": "Marks",
    "line-1": "First line for the student",
    "line-2": "Second line for the student",
    "sheet-keys": (
        "0 to 4 marks and goes on.   Space confirms a critical fail.   F6 goes to the "
        "comparison.   Ctrl+Enter signs."
    ),
    # results of an item
    "result-beyond": "beyond error",
    "result-different": "different",
    "result-same": "same",
    "result-within": "within error",
    "result-not-judged": "cannot be judged",
    "result-method-differs": "other method",
    "result-missing": "missing",
    "result-missing-with-reason": "missing, with a reason",
    "result-no-reference": "student only",
    "result-look": "look first",
    "result-read": "to be read",
    "result-both": "both",
    "result-reference-only": "reference only",
    "result-student-only": "student only",
    "result-near": "within a step",
    "slip-sides": "left and right?",
    "slip-sign": "sign?",
    "rule-smallest-detectable-difference": "{limit} (error)",
    "rule-stated-limit": "{limit} (stated)",
    "rule-levels": "{count} levels",
    "rule-levels-one": "1 level",
    "rule-match": "same answer",
    "rule-none": "",
    "read-by": "{who}: {value}",
    "typed": "typed “{typed}”",
    "method": "method {method}",
    "note": "note: {note}",
    "absent": "{absent}",
    "hypothesis": "Hypothesis: {what}",
    "aim": "Aim: {what}",
    "feature": "Feature: {what}",
    "size": "{feature}, {size}",
    "detail-smallest-detectable-difference": (
        "Allowed is the larger of a stated limit and the smallest detectable difference between "
        "two examiners: here that difference."
    ),
    "detail-stated-limit": (
        "Allowed is the larger of a stated limit and the smallest detectable difference between "
        "two examiners: here the stated limit."
    ),
    "detail-errors": "One error is the standard error of a difference between two examiners.",
    # the rubric
    "head-critical": "Critical fails, whatever the points",
    "head-domains": "Domains, 0 to 4",
    "head-grade": "Global grade, apart from the points",
    "proposed": "proposed by the comparison: confirm it, or leave it",
    "weight": "{points} points",
    "no-mark": "no mark yet",
    "no-grade": "no grade yet",
    "grade-is": (
        "Your judgement of the whole. It is never worked out from the points; the pass mark may "
        "rest on it."
    ),
    "both-gave": "{first} {one}, {second} {two}",
    "both-apart": "{first} {one}, {second} {two}: {apart} points apart",
    "only-one": "only {name}",
    "anchor": "{mark}   {says}",
    "sum": "{points} of {of} points",
    "sum-open": "{count} domains open",
    "sum-open-one": "1 domain open",
    "sum-no-grade": "no grade",
    "sum-cut": "pass mark {cut}",
    "sum-no-cut": "pass mark not known yet",
    "verdict-passed": "passed",
    "verdict-failed": "not passed",
    "verdict-critical-fail": "not passed: critical fail",
    "verdict-open": "",
    "sum-both": "{first} {one}, {second} {two} points",
    "lie-apart": "They lie apart: {why}.",
    "apart-one-passes-one-fails": "one passes, one fails",
    "apart-critical-fails-differ": "critical fails differ",
    "apart-points-differ": "points differ by more than the rubric lets pass",
    "apart-grades-differ": "grades differ by more than the rubric lets pass",
    "apart-rubrics-differ": "marked by two rubrics",
    # signing
    "sign": "Sign as {marker}? {sum}. Escape goes back.",
    "sign-now": "Sign (Enter)",
    "sign-proposed": "Not confirmed: {what}.",
    "not-whole": "Not signed yet: {what}.",
    "missing-marks": "no mark for {what}",
    "missing-grade": "no global grade",
    "is-signed": "These marks are signed. F3 changes them, with a reason.",
    "why-changed": "Why are the signed marks changed? (Enter; Escape leaves them as they are)",
    "why-missing": "Signed marks are changed only with a reason.",
    "now-signed": "{student}: signed.",
    "not-saved": "The marks could not be saved: {why}. They are still on the sheet.",
    "changed-meanwhile": (
        "Somebody else wrote these marks meanwhile, so yours are not saved. F5 on the list reads "
        "the folder again."
    ),
    "no-feedback": "Feedback is made of signed marks; sign these first.",
    "feedback-hidden": "The first marker's marks are hidden until you have signed yours.",
    "feedback-apart": "Two markers lie apart; feedback is made once they have agreed.",
    "feedback-title": "Feedback for {student}",
}
"""English; another language is another table with the same keys."""

LIST_KEYS: tuple[tuple[str, str], ...] = (
    ("Enter", "Compare and mark the student at hand"),
    ("F5", "Read the folder again"),
    ("Ctrl+Shift+P", "Write the feedback of all signed marks into the folder"),
    ("Ctrl+M", "The term as a whole"),
    ("Escape", "Stop what takes a while; else back to the patient list"),
)
SHEET_KEYS: tuple[tuple[str, str], ...] = (
    ("0 to 4", "Mark the domain at hand and go on; on the grade: choose it"),
    ("Space", "Confirm a critical fail, or take it back"),
    ("Up or Down", "Row before, next row"),
    ("F6", "Between marks, lines and the comparison"),
    ("Ctrl+Enter", "Sign the marks"),
    ("F3", "Change signed marks, with a reason"),
    ("Ctrl+P", "The feedback document"),
    ("Escape", "Back to the list; marks are kept"),
)
"""The keys of the list and of the marking sheet, for the help."""
