"""Every key of the program as data: what it does, where, and how help lists it."""

from dataclasses import dataclass
from enum import StrEnum


class Where(StrEnum):
    """In which part of the window a key works."""

    EVERYWHERE = "everywhere"
    LIST = "patient list"
    PATIENT = "patient"
    SHEET = "worksheet"


@dataclass(frozen=True, slots=True)
class Key:
    """One key: `action` is the name of the method of the window that it calls."""

    action: str
    keys: tuple[str, ...]
    where: Where
    words: str


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
    Key("start_visit", ("F2",), Where.PATIENT, "Start an examination today"),
    Key("close_patient", ("Ctrl+W",), Where.PATIENT, "Back to the patient list"),
    Key("panel_1", ("Alt+1",), Where.SHEET, "First panel; Alt+2 the second, and so on"),
    Key("panel_2", ("Alt+2",), Where.SHEET, ""),
    Key("panel_3", ("Alt+3",), Where.SHEET, ""),
    Key("panel_4", ("Alt+4",), Where.SHEET, ""),
    Key("panel_5", ("Alt+5",), Where.SHEET, ""),
    Key("panel_6", ("Alt+6",), Where.SHEET, ""),
    Key("next_panel", ("Ctrl+PgDown",), Where.SHEET, "Next panel"),
    Key("previous_panel", ("Ctrl+PgUp",), Where.SHEET, "Panel before"),
    Key("show_more", ("Ctrl+M",), Where.SHEET, "Show everything of this position, or less again"),
    Key("toggle_summary", ("Ctrl+J",), Where.SHEET, "Show or hide what it adds up to"),
    Key("undo", ("Ctrl+Z",), Where.SHEET, "Take back my last entry"),
    Key("redo", ("Ctrl+Y", "Ctrl+Shift+Z"), Where.SHEET, "Bring it back"),
    Key("note", ("F3",), Where.SHEET, "Note on this reading"),
    Key("method", ("F4",), Where.SHEET, "Method of this reading"),
    Key("copy_side", ("F5",), Where.SHEET, "Same value on the other side? (asked)"),
    Key("absent_not_examined", ("F7",), Where.SHEET, "Not examined"),
    Key("absent_declined", ("F8",), Where.SHEET, "Declined"),
    Key("absent_could_not", ("F9",), Where.SHEET, "Could not be tested"),
    Key("absent_not_applicable", ("Shift+F7",), Where.SHEET, "Not applicable"),
    Key("absent_safety", ("Shift+F9",), Where.SHEET, "Not done, for safety"),
    Key("panel_not_examined", ("Ctrl+F7",), Where.SHEET, "All that is open here: not examined"),
    Key("print_report", ("Ctrl+P",), Where.SHEET, "The examination report"),
)
"""One row a key. Enter and Tab go on, Shift with them goes back, Escape puts a cell back."""


def words_of_keys() -> list[tuple[str, str, str]]:
    """(where, keys, what they do) for the help, in order."""
    return [(key.where, " or ".join(key.keys), key.words) for key in KEYS if key.words]
