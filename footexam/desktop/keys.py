"""Every key of the program as data: what it does, where, and how help lists it."""

from dataclasses import dataclass
from enum import StrEnum

from footexam.desktop.cohort.words import KEYS as COHORT_KEYS
from footexam.desktop.marking.words import LIST_KEYS, SHEET_KEYS
from footexam.desktop.preview.words import KEYS as PREVIEW_KEYS
from footexam.terms import Absence


class Where(StrEnum):
    """In which part of the window a key works."""

    EVERYWHERE = "everywhere"
    LIST = "patient list"
    PATIENT = "patient's visits"
    BEFORE = "patient list and visits"
    OPENED = "visits and worksheet"
    SHEET = "worksheet"


ON_PAPER = "documents"
"""Where the keys of the preview work; they are the preview's own."""
ON_MARKING, ON_SHEET = "marking: students", "marking: one student"
ON_COHORT = "marking: the cohort"
"""Where the keys of the marking pages work; they are these pages' own."""


@dataclass(frozen=True, slots=True)
class Key:
    """One key: `action` is the name of the method that it calls, with the argument if there is one.

    The method is the window's, on the list and the patient's page the walk's, on the worksheet the
    record page's; signing is the walk's.
    """

    action: str
    keys: tuple[str, ...]
    where: Where
    words: str
    argument: int | Absence | None = None

    @property
    def name(self) -> str:
        """What tells this key from all others."""
        return self.action if self.argument is None else f"{self.action}:{self.argument}"


KEYS: tuple[Key, ...] = (
    Key("show_help", ("F1",), Where.EVERYWHERE, "This list; on a cell: how the measure is taken"),
    Key("next_area", ("F6",), Where.EVERYWHERE, "Next area of the window"),
    Key("previous_area", ("Shift+F6",), Where.EVERYWHERE, "Area before"),
    Key("larger", ("Ctrl++", "Ctrl+="), Where.EVERYWHERE, "Larger"),
    Key("smaller", ("Ctrl+-",), Where.EVERYWHERE, "Smaller"),
    Key("switch_theme", ("Ctrl+Shift+D",), Where.EVERYWHERE, "Light or dark"),
    Key("blank_screen", ("Ctrl+B",), Where.EVERYWHERE, "Blank the screen; any key shows it again"),
    Key("quit", ("Ctrl+Q",), Where.EVERYWHERE, "Close the program; everything is saved"),
    Key("new_patient", ("Ctrl+N",), Where.LIST, "New patient"),
    Key("show_marking", ("Ctrl+K",), Where.LIST, "Marking: students against a reference"),
    Key("start_visit", ("F2",), Where.PATIENT, "Start an examination today"),
    Key("strike_visit", ("Ctrl+Shift+E",), Where.PATIENT, "This visit was entered in error"),
    Key("move_visit", ("Ctrl+Shift+M",), Where.PATIENT, "This visit belongs to another patient"),
    Key("practice", ("Ctrl+,",), Where.BEFORE, "Practice and paper: letterhead, A4 or Letter"),
    Key("blank_form", ("Ctrl+Shift+F",), Where.BEFORE, "A blank paper form, to fill in by hand"),
    Key("print_report", ("Ctrl+P",), Where.OPENED, "The report: read, print, save, sign"),
    Key("print_copy", ("Ctrl+Shift+P",), Where.OPENED, "The patient's own copy, in plain words"),
    Key("print_prescription", ("Ctrl+Shift+X",), Where.OPENED, "The prescription for the maker"),
    Key("print_referral", ("Ctrl+Shift+R",), Where.OPENED, "The referral letter"),
    Key("print_leaflet", ("Ctrl+Shift+L",), Where.OPENED, "The plan as a leaflet for the patient"),
    Key("close_patient", ("Ctrl+W",), Where.OPENED, "Back to the visits, and to the patient list"),
    Key("open_number", ("Alt+1",), Where.SHEET, "First panel; Alt+2 the second, and so on", 1),
    Key("open_number", ("Alt+2",), Where.SHEET, "", 2),
    Key("open_number", ("Alt+3",), Where.SHEET, "", 3),
    Key("open_number", ("Alt+4",), Where.SHEET, "", 4),
    Key("open_number", ("Alt+5",), Where.SHEET, "", 5),
    Key("open_number", ("Alt+6",), Where.SHEET, "", 6),
    Key("turn", ("Ctrl+PgDown",), Where.SHEET, "Next panel", 1),
    Key("turn", ("Ctrl+PgUp",), Where.SHEET, "Panel before", -1),
    Key("show_more", ("Ctrl+M",), Where.SHEET, "Show everything of this position, or less again"),
    Key("weigh", ("Ctrl+G",), Where.SHEET, "Weigh cautions and what might explain it; again: next"),
    Key("plan", ("Ctrl+L",), Where.SHEET, "The plan: aims, device, shoe, advice; again: back"),
    Key("letter", ("Ctrl+E",), Where.SHEET, "The letter’s words, then the leaflet’s, then back"),
    Key("next_test", ("Ctrl+T",), Where.SHEET, "Go to the next useful test"),
    Key("add_own", ("Ctrl+H",), Where.SHEET, "Add a hypothesis in your own words"),
    Key("toggle_summary", ("Ctrl+J",), Where.SHEET, "Show or hide what it adds up to"),
    Key("undo", ("Ctrl+Z",), Where.SHEET, "Take back my last entry"),
    Key("redo", ("Ctrl+Y", "Ctrl+Shift+Z"), Where.SHEET, "Bring it back"),
    Key("note", ("F3",), Where.SHEET, "Note on this reading"),
    Key("method", ("F4",), Where.SHEET, "Method of this reading"),
    Key("from_paper", ("Shift+F4",), Where.SHEET, "Typed from paper: when it was taken"),
    Key("copy_side", ("F5",), Where.SHEET, "Same value on the other side? (asked)"),
    Key("absent", ("F7",), Where.SHEET, "Not examined", Absence.NOT_EXAMINED),
    Key("absent", ("F8",), Where.SHEET, "Declined", Absence.DECLINED),
    Key("absent", ("F9",), Where.SHEET, "Could not be tested", Absence.COULD_NOT_BE_TESTED),
    Key("absent", ("Shift+F7",), Where.SHEET, "Not applicable", Absence.NOT_APPLICABLE),
    Key("absent", ("Shift+F9",), Where.SHEET, "Not done, for safety", Absence.NOT_DONE_SAFETY),
    Key("panel_not_examined", ("Ctrl+F7",), Where.SHEET, "All that is open here: not examined"),
    Key("try_again", ("Ctrl+S",), Where.SHEET, "Save again what could not be saved"),
    Key("sign_report", ("Ctrl+Return", "Ctrl+Enter"), Where.SHEET, "Sign the report"),
)
"""One row a key. Enter and Tab go on, Shift with them goes back, Escape puts a cell back."""


def words_of_keys() -> list[tuple[str, str, str]]:
    """(where, keys, what they do) for the help, in order; keys of single pages at the end."""
    ours = [(str(key.where), " or ".join(key.keys), key.words) for key in KEYS if key.words]
    theirs = (
        (ON_PAPER, PREVIEW_KEYS),
        (ON_MARKING, LIST_KEYS),
        (ON_SHEET, SHEET_KEYS),
        (ON_COHORT, COHORT_KEYS),
    )
    return [*ours, *((where, keys, words) for where, rows in theirs for keys, words in rows)]
