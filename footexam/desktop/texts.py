"""The words of the window in one place, by language."""

TEXTS: dict[str, str] = {
    "program": "footexam",
    "patients": "Patients",
    "search-name": "Search for a patient",
    "search-hint": "Name, birth date or record number",
    "new-patient": "New patient (Ctrl+N)",
    "nobody-found": "Nobody is found so. Try fewer letters, or Ctrl+N for a new patient.",
    "nobody-yet": "There is no patient yet. Ctrl+N makes the first one.",
    "not-encrypted": (
        "The records in this program are not encrypted yet: keep them on an encrypted disk, and "
        "use them for real patients only where your rules allow that."
    ),
    "right-person": "Is this the person in front of you?",
    "right-person-keys": "Enter: yes, open the record.   Escape: no, back to the list.",
    "visits": "Visits",
    "no-visits": "No visit yet.",
    "start-visit": "Start an examination today (F2)",
    "visit-keys": "Enter opens a visit.   F2 starts one today.   Ctrl+W goes back to the list.",
    "examining": "Examining",
    "examiner": "Your name",
    "role": "Your role today",
    "supervisor": "Supervisor (if you are one under supervision)",
    "consent": "Consent",
    "start": "Start (Enter)",
    "cancel": "Back (Escape)",
    "name-missing": "Write who examines; then Enter starts the visit.",
    "saved": "{count} entries, all saved",
    "saving": "{count} entries, {open} being saved",
    "keys-hint": "F1 keys   Ctrl+P report   Ctrl+Z undo   F6 next area",
    "beyond": "beyond error ({needed})",
    "inside": "inside error ({needed})",
    "blank": "The screen is blank. Any key shows it again; nothing was closed.",
    "fault": (
        "A fault of the program. Everything entered so far is saved. Go on, or close the program "
        "and open it again; please report what you did before it."
    ),
}
"""English; another language is another table with the same keys."""
