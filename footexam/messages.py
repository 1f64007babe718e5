"""What the program says when something cannot be done: one table of sentences by code.

Each says what happened, what is safe and what to do; no patient data, no blame.
"""

from collections.abc import Iterable, Mapping

SAFE_INPUT = "nothing was stored"

REFUSALS: dict[str, tuple[str, str]] = {
    # code: (what happened, what to do)
    "not-a-number": (
        "“{what}” cannot be read as a number",
        "write digits with at most one point or comma, as in 10.5{unit}{repeats}",
    ),
    "not-a-whole-number": (
        "“{what}” is not a whole number",
        "write a whole number from {low} to {high}; a half or a plus belongs in the note",
    ),
    "nothing-typed": (
        "nothing was typed",
        "write a value, or say why there is none with “absent”",
    ),
    "too-long": ("the text is too long for a number", "write one to ten readings"),
    "unit-only-at-the-end": (
        "a unit stands before the last reading",
        "write one unit after the last reading, as in 9 10 8{unit}",
    ),
    "unknown-unit": (
        "“{what}” is not a unit of this measure",
        "use {words}, or leave the unit out for {only}",
    ),
    "no-unit-taken": (
        "“{what}” stands after the number, and this measure has no unit",
        "write the number alone",
    ),
    "not-one-reading": (
        "“{what}” is not one reading",
        "write a whole first part and a smaller second one, as in 5 ft 4 in or 11 st 4 lb",
    ),
    "not-one-duration": (
        "“{what}” is not one duration",
        "write one number and its unit, or large units before small ones, as in 1 year 2 months",
    ),
    "two-ways": (
        "“{what}” may mean {small} or {large}",
        "write it without a sign for thousands, or with another number of decimals",
    ),
    "one-reading-only": (
        "this measure takes one reading",
        "write one value with at most one unit",
    ),
    "too-many-readings": ("there are {count} readings", "give one to ten"),
    "mixed-list": (
        "the list holds “{what}”, which is not a reading",
        "give numbers, or texts of one number each",
    ),
    "beyond-limit": (
        "{value}{unit} lies outside {low} to {high}{unit}, the limits of this measure",
        "check the number, its sign and its unit",
    ),
    "not-a-word": ("“{what}” is not one of the words of this measure", "use {words}"),
    "not-yes-no": (
        "“{what}” is neither yes nor no",
        "write yes or no, or leave the question out if it was not asked",
    ),
    "not-text": ("{what} stands where a text is expected", "write it between quotation marks"),
    "text-empty": ("the text is empty", "write something, or leave it out"),
    "text-too-long": (
        "the text has more than {longest} characters",
        "shorten it",
    ),
    "text-control": (
        "the text holds a tab, a line end or another control character",
        "write it in one line with plain spaces",
    ),
    "wrong-shape": ("this measure does not take {what}", "give {words}"),
    "list-empty": (
        "the list is empty",
        "name at least one, or say why there is none with “absent”",
    ),
    "none-stands-alone": (
        "“none” stands beside other words",
        "give “none” alone, or leave it out",
    ),
    "unknown-region": (
        "“{what}” is not a place of the foot map",
        "use the id of a place, as in heel-plantar",
    ),
    "unknown-column": ("“{what}” is not a column of this table", "use {words}"),
    "bad-cell": ("“{what}” does not fit the column “{column}”", "give {words}"),
    "row-empty": ("a row of the table is empty", "fill a column, or leave the row out"),
    "activities-count": ("there are {count} activities", "name one to five"),
    "activity-shape": (
        "an activity needs a name and a score, and nothing else",
        'write it as in {{"activity": "stairs", "score": 4}}',
    ),
    "not-a-date": (
        "“{what}” is not a date",
        "write YYYY-MM-DD, or YYYY-MM or YYYY where the day is not known",
    ),
    "not-a-day": ("“{what}” is not a day of the calendar", "write YYYY-MM-DD"),
    "not-a-monday": (
        "{what} is not a Monday",
        "give the date of the Monday that the week began with",
    ),
    "unknown-absence": ("“{what}” is not a reason for a missing value", "use {words}"),
    "unknown-method": ("“{what}” is not a method of this measure", "use {words}"),
    "not-a-time": (
        "“{what}” is not a time",
        "write UTC with Z, as in 2026-03-04T10:20:00Z",
    ),
    "unknown-measure": ("no measure has this name", "check its spelling{near}"),
    "given-twice": (
        "this measure is given twice, under its present name “{what}” and an older one",
        "keep the present name",
    ),
    "derived-measure": (
        "this is worked out from other measures and takes no reading",
        "enter {words} instead",
    ),
    "side-missing": (
        "this measure is taken on each side",
        'write it as in {{"left": …, "right": …}}',
    ),
    "side-unknown": ("“{what}” is not a side", "use left, right or both"),
    "side-not-taken": (
        "this measure has no sides",
        "give its value without left and right",
    ),
    "side-twice": (
        "“both” stands beside left or right",
        "give “both” alone, or each side by itself",
    ),
    "unknown-key": (
        "the key “{what}” is not known here",
        "remove it or check its spelling",
    ),
    "no-value": (
        "neither a value nor an absence is given",
        "give one of them as “value” or “absent”",
    ),
    "no-answer": ("there is no answer", "give “answer” as yes or no"),
    "value-and-absent": ("a value and an absence stand together", "give only one of them"),
}
"""Refusals of what was typed or read, by code."""

FILES: dict[str, tuple[str, str]] = {
    "file-missing": ("the file cannot be opened: {why}", "check its name and folder"),
    "file-too-large": ("the file is larger than 5 MB", "give an examination file"),
    "file-empty": ("the file is empty", "give an examination file"),
    "file-not-utf8": ("the file is not UTF-8 text", "save it as UTF-8"),
    "file-half-character": (
        "the file holds half of a character, written as \\u and four digits",
        "write the whole character",
    ),
    "file-not-json": (
        "the file is not JSON ({why})",
        "check that it is whole and unchanged",
    ),
    "file-duplicate-key": (
        "the key “{what}” stands twice in one object",
        "remove one of them",
    ),
    "file-not-a-number": (
        "“{what}” is not a number that the file may hold",
        "write a plain number of at most 40 digits",
    ),
    "file-too-deep": (
        "the file is nested more than 20 levels deep",
        "give an examination file",
    ),
    "file-wrong-format": (
        "the file does not say that its format is {what}",
        "give an examination file",
    ),
    "file-other-version": (
        "the file has version “{what}”, which this program does not know",
        "use the version of the program that wrote it, or a newer one",
    ),
    "field-missing": ("“{what}” is missing", "add it"),
    "field-wrong": ("“{what}” cannot be read", "{words}"),
    "field-word": ("“{what}” is not one of the words that may stand here", "use {words}"),
    "field-whole": ("“{what}” is not a whole number from 0 to 9", "write one of these digits"),
    "field-mark": (
        "“{what}” is not the mark of a text",
        "leave it out: the text is then read without knowing what it was written over",
    ),
    "field-id": (
        "“{what}” is not an id",
        "write it in small letters, digits and hyphens, as in heel-raise-count",
    ),
    "date-future": ("the day of the examination lies in the future", "check the date"),
    "birth-after": (
        "the birth date lies after the day of the examination",
        "check both dates",
    ),
    "decided-twice": (
        "“{what}” is decided more than once for the same side",
        "keep one of the decisions",
    ),
    "more-problems": (
        "further problems were not looked for",
        "mend these first and try again",
    ),
    "other-patient": (
        "the earlier examination is of another patient",
        "give two examinations that name one patient and one birth date",
    ),
    "not-earlier": (
        "this examination is later than the other one",
        "give the earlier one to --before",
    ),
    "mark-other-patient": (
        "the two examinations are of different patients",
        "give two that have one record number and one birth date",
    ),
    "mark-other-day": (
        "the two examinations are of different days, so the foot may have changed between them",
        "give a reference of the same day",
    ),
    "mark-exchanged": (
        "the student’s examination and the reference stand the other way round",
        "give the student’s first, then the reference",
    ),
    "mark-struck-out": ("the examination is marked as entered in error", "give another one"),
    "cohort-no-reference": (
        "no reference of this patient lies in the folder",
        "add a file with purpose “reference”",
    ),
    "cohort-other-day": (
        "the reference of this patient is of another day",
        "add a reference of the same day",
    ),
    "cohort-second-reference": (
        "another reference of this patient and day is used",
        "keep one of them in the folder",
    ),
    "cohort-unused-reference": (
        "no student’s examination belongs to this reference",
        "add one, or take the reference out",
    ),
    "cohort-neither": (
        "this is neither a student’s examination nor a reference",
        "set its purpose to “student” or “reference”, or take it out",
    ),
    "cohort-twice": (
        "this student has another examination of this patient and day",
        "keep one of them in the folder",
    ),
    "cohort-nothing": (
        "no student’s examination with a reference lies in the folder",
        "give a folder of examination files, references among them",
    ),
    "marks-rubric": ("“{what}” is not a rubric of forms/marking", "name one that is"),
    "marks-wrong": ("the marks cannot be used: {what}", "mend the file of the marks"),
    "marks-nobody": (
        "these marks belong to no compared examination",
        "check student, record number and day",
    ),
    "angoff-wrong": (
        "the judges’ estimates cannot be used: {what}",
        "mend the file of the estimates",
    ),
    "angoff-standard": (
        "the pass mark of “{what}” does not come from judges",
        "name a rubric whose standard is angoff",
    ),
    "angoff-second": (
        "another file of estimates for “{what}” was read before it",
        "keep one of them",
    ),
    "marks-not-counted": (
        "no first marker has signed marks of this examination: they do not count for the pass mark",
        "sign them",
    ),
    "cannot-write": (
        "the output could not be written: {why}",
        "choose another place, or free some space",
    ),
    "not-yet": ("“{what}” is not made by this version of the program", "use {words}"),
}
"""Refusals of whole files, by code."""

LONGEST_SHOWN = 80


def sentence(code: str, values: Mapping[str, object], safe: str = SAFE_INPUT) -> str:
    """The sentence of a code: what happened; what is safe; what to do.

    What was typed is shown on one line and shortened.
    """
    happened, todo = REFUSALS.get(code) or FILES[code]
    filled = {**values, "what": in_one_line(str(values.get("what", "")))}
    return f"{happened.format(**filled)}; {safe}; {todo.format(**filled)}."


def in_one_line(typed: str) -> str:
    """What was typed as it can be shown in a line: shortened, control characters as numbers."""
    shown = typed if len(typed) <= LONGEST_SHOWN else f"{typed[:LONGEST_SHOWN]}…"
    return "".join(char if char.isprintable() else f"\\u{ord(char):04x}" for char in shown)


def listed(words: Iterable[str], last: str = "or") -> str:
    """Words as a list to read: a, b or c."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"
