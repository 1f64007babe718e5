"""What the program says when something cannot be done: one table of sentences by code.

Each says what happened, what is safe and what to do; no patient data, no blame.
"""

from collections.abc import Iterable, Mapping

SAFE_INPUT = "nothing was taken over"

REFUSALS: dict[str, tuple[str, str]] = {
    # code: (what happened, what to do)
    "not-a-number": (
        "“{what}” cannot be read as a number",
        "write digits with one point or comma, and spaces between repeats, as in 9 10.5 8{unit}",
    ),
    "not-a-whole-number": (
        "“{what}” is not a whole number",
        "write a whole number from {low} to {high}; a half or a plus goes into the note",
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
        "use {words}, or no unit for {only}",
    ),
    "one-reading-only": (
        "this measure takes one reading",
        "write one value with at most one unit",
    ),
    "too-many-readings": ("there are {count} readings", "give one to ten"),
    "mixed-list": (
        "the list holds something that is not a reading",
        "give numbers, or texts of one number each",
    ),
    "beyond-limit": (
        "{value} lies outside {low} to {high}{unit}, which no foot or person can have",
        "check the number, its sign and its unit",
    ),
    "not-a-word": ("“{what}” is not one of the words of this measure", "use {words}"),
    "not-yes-no": (
        "“{what}” is neither yes nor no",
        "write yes or no, or leave it out if not asked",
    ),
    "not-text": ("this measure takes text", "write it between quotation marks"),
    "text-empty": ("the text is empty", "write something, or leave it out"),
    "text-too-long": ("the text has {count} characters", "keep it to {longest}"),
    "text-control": (
        "the text holds a control character",
        "write it in one line without tabs or line ends",
    ),
    "wrong-shape": ("this measure does not take {what}", "give {words}"),
    "list-empty": (
        "the list is empty",
        "name at least one, or say why there is none with “absent”",
    ),
    "none-stands-alone": (
        "“none” stands beside other words",
        "give none alone, or leave it out",
    ),
    "unknown-region": (
        "“{what}” is not a place of the foot map",
        "use a region id, as in heel-plantar",
    ),
    "unknown-column": ("“{what}” is not a column of this table", "use {words}"),
    "bad-cell": ("“{what}” does not fit the column {column}", "give {words}"),
    "row-empty": ("a row of the table is empty", "fill a column, or leave the row out"),
    "activities-count": ("{count} activities were given", "name one to five"),
    "activity-shape": (
        "an activity needs a name and a score from 0 to 10",
        'write {{"activity": "stairs", "score": 4}}',
    ),
    "not-a-date": (
        "“{what}” is not a date",
        "write YYYY-MM-DD, or YYYY-MM or YYYY where the day is not known",
    ),
    "not-a-monday": (
        "{what} is not a Monday",
        "give the date of the Monday the week began with",
    ),
    "unknown-absence": ("“{what}” is not a reason for a missing value", "use {words}"),
    "unknown-method": ("“{what}” is not a method of this measure", "use {words}"),
    "not-a-time": (
        "“{what}” is not a time",
        "write UTC with Z, as in 2026-03-04T10:20:00Z",
    ),
    "unknown-measure": (
        "no measure is called so",
        "check the spelling against `footexam check`",
    ),
    "retired-measure": ("this measure is now called {what}", "use the new name"),
    "derived-measure": (
        "this is worked out from other measures and takes no reading",
        "enter {words} instead",
    ),
    "side-missing": (
        "this measure is taken on each side",
        'write {{"left": …, "right": …}}',
    ),
    "side-unknown": ("“{what}” is not a side", "use left, right or both"),
    "side-not-taken": (
        "this measure has no sides",
        "give its value without left and right",
    ),
    "side-twice": (
        "both stands beside left or right",
        "give both alone, or each side by itself",
    ),
    "unknown-key": (
        "the key “{what}” is not known here",
        "remove it or check its spelling",
    ),
    "no-value": ("neither a value nor an absence is given", "give one of them"),
    "value-and-absent": ("a value and an absence stand together", "give one of them"),
}
"""Refusals of what was typed or read, by code."""

FILES: dict[str, tuple[str, str]] = {
    "file-missing": ("the file cannot be opened: {why}", "check its name and folder"),
    "file-too-large": ("the file is larger than 5 MB", "give an examination file"),
    "file-empty": ("the file is empty", "give an examination file"),
    "file-not-utf8": ("the file is not UTF-8 text", "save it as UTF-8"),
    "file-not-json": (
        "the file is not JSON ({why})",
        "check that it is whole and unchanged",
    ),
    "file-duplicate-key": (
        "the key “{what}” stands twice in one object",
        "remove one of them",
    ),
    "file-not-a-number": (
        "{what} is not a number of the file format",
        "write the number out",
    ),
    "file-too-deep": (
        "the file is nested more than 20 levels deep",
        "give an examination file",
    ),
    "file-wrong-format": (
        "the file does not say that it is {what}",
        "give a file made for this program",
    ),
    "file-new-version": (
        "the file has version {what}, which this program does not know",
        "use a newer version of the program",
    ),
    "field-missing": ("“{what}” is missing", "add it"),
    "field-wrong": ("“{what}” does not fit here", "{words}"),
    "date-future": ("the examination lies in the future", "check the date"),
    "birth-after": ("the birth date lies after the examination", "check both dates"),
    "unknown-id": ("“{what}” is not known here", "check the spelling"),
    "other-patient": (
        "the earlier examination is of another patient",
        "give two examinations of one patient (same record number and birth date)",
    ),
    "not-earlier": (
        "the earlier examination is not earlier",
        "give the earlier one to --before",
    ),
    "cannot-write": (
        "the document could not be written: {why}",
        "choose another folder, or free some space",
    ),
    "not-yet": ("“{what}” is not made by this version of the program", "use {words}"),
}
"""Refusals of whole files, by code."""


def sentence(code: str, values: Mapping[str, object], safe: str = SAFE_INPUT) -> str:
    """The sentence of a code: what happened; what is safe; what to do."""
    happened, todo = REFUSALS.get(code) or FILES[code]
    filled = {"what": "", "words": "", "unit": "", **values}
    return f"{happened.format(**filled)}; {safe}; {todo.format(**filled)}.".replace(" .", ".")


def listed(words: Iterable[str], last: str = "or") -> str:
    """Words as a list to read: a, b or c."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"
