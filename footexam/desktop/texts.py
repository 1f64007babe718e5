"""The words of the window in one place, by language."""

TEXTS: dict[str, str] = {
    "program": "footexam",
    "program-demo": "footexam DEMO: invented patients",
    "clock": (
        "The clock of this computer stands before the last entry: entries keep their order, but "
        "their times will be wrong. Set the clock."
    ),
    "none": "none",
    "not-known": "not known",
    "not-stated": "not stated",
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
    "visit-keys": "Enter continues a visit.   F2 starts one today.   Ctrl+W goes back to the list.",
    "examining": "Examining",
    "continuing": "Continuing the visit of {visit}",
    "continue": "Continue (Enter)",
    "is-signed": "This examination is signed: each change asks for its reason.",
    "new-patient-title": "New patient",
    "save-patient": "Save (Ctrl+Enter)",
    "reason": "Reason",
    "reason-and-name": "Both are needed: the reason, and your name.",
    "in-error": "Entered in error",
    "in-error-what": (
        "The examination stays readable, struck through; it is no longer compared with others."
    ),
    "in-error-go": "Strike through (Enter)",
    "wrong-patient": "This was the wrong patient",
    "wrong-patient-what": (
        "The examination is copied to the right patient, unsigned, and struck through here; both "
        "records say so. The next page asks whose it is."
    ),
    "wrong-patient-go": "Find the right patient (Enter)",
    "whose": "Whose examination is it?",
    "move-to": "Move the examination of {day} to this person?",
    "same-patient": "That is the patient whose record it already is.",
    "moved": "The examination is now with this patient; with the other it is struck through.",
    "struck-now": "The examination is struck through.",
    "already-struck": "This examination is struck through already.",
    "no-visit-chosen": "Choose a visit first.",
    "print-held": "{open} entries are still being saved; press the key again in a moment. {why}",
    "paper-examination": "Examination of {day}",
    "paper-patient-copy": "Patient's copy of {day}",
    "paper-prescription": "Prescription of {day}",
    "paper-referral": "Referral letter of {day}",
    "paper-leaflet": "Leaflet of {day}",
    "paper-blank-core": "Blank form, core sheet",
    "paper-blank-all": "Blank form, every measure",
    "report": "Report (Ctrl+P)",
    "patient-copy": "Patient's copy (Ctrl+Shift+P)",
    "marking": "Marking (Ctrl+K)",
    "blank-form": "Blank form (Ctrl+Shift+F)",
    "is-draft": "Draft, not signed",
    "is-signed-state": "Signed",
    "mend-cell": "One cell is not taken over: mend it, or put it back with Escape.",
    "half-typed": "What you typed is not taken over yet: press Enter, or leave it with Escape.",
    "close-again": "{why} Close again to leave without the backup.",
    "close-marks": "{why} Close again to leave without the last marks.",
    "close-unsaved": "The last entries are not saved. {why} Close again to leave without them.",
    "examiner": "Your name",
    "role": "Your role today",
    "purpose": "Examination",
    "purpose-record": "for the record",
    "purpose-reference": "reference, to mark students by",
    "reference-closed": (
        "This is a reference examination: only a supervisor opens or prints it, so that no student "
        "sees it. Enter opens it in that role."
    ),
    "supervisor": "Supervisor (if you are one under supervision)",
    "consent": "Consent",
    "start": "Start (Enter)",
    "cancel": "Back (Escape)",
    "name-missing": "Write who examines; then Enter starts the visit.",
    "sideless": "{value} (side not stated)",
    "saved": "{count} entries, all saved",
    "saving": "{count} entries, {open} being saved",
    "not-saved": "{count} entries, {open} NOT SAVED: {why} Ctrl+S tries again.",
    "unsaved-stays": "{open} entries are not saved yet, so the record stays open. {why}",
    "doubt": "{why}. Look for a slip in number, sign and unit. Enter again keeps it.",
    "no-method": "“{typed}” is none of these methods.",
    "nothing-to-undo": "Nothing of this sitting is left to take back.",
    "nothing-to-redo": "Nothing was taken back.",
    "why-absent": "{cell}: {why}. Why? (Enter; may stay empty)",
    "panel-absent": "{count} cells noted as not examined. Ctrl+Z takes each back.",
    "no-copy": "Only a reading of one side can be copied; enter it first.",
    "copy": "{measure}: {side} also {value}?",
    "no-reading": "There is no reading yet; enter the value first.",
    "struck": "This examination is entered in error: it can be read, but nothing is added to it.",
    "clash": "{name} entered {value} at the same time; yours stands. Ctrl+Z takes yours back.",
    "grown": (
        "{name} wrote into this record at the same time. Nothing is lost; cells that both of you "
        "filled: {count}."
    ),
    "why-change": "This record is signed. Why is it changed? (Enter; Escape leaves it as it was)",
    "why-danger": (
        "A yes on a danger question stays on paper. Why is it taken back? (Enter; Escape keeps it)"
    ),
    "what-done": "{name}: what was done? (Enter records it with your name and the time)",
    "why-excluded": "{name}: how was it excluded? (Enter records it with your name and the time)",
    "to-whom": "{name}: handed over to whom? (Enter records it with your name and the time)",
    "why-set-aside": "{name}: why is it set aside? (Enter)",
    "own-words": "A hypothesis of your own, in one sentence (Enter)",
    "nothing-decided": "Nothing was written, so nothing was decided.",
    "decided": "{name}: {words}.",
    "nothing-to-weigh": "Nothing to weigh yet: no caution is raised, no hypothesis is open.",
    "no-next-test": "No test would help more at this point.",
    "yes-unfinished": (
        "Answered yes, and its own questions have led to no caution yet. Answer them, or record "
        "what was done."
    ),
    "heals-badly": " (heals badly)",
    "caution-defers": (
        "Local pathways and the judgement of a licensed practitioner come before this text."
    ),
    "plan-left": "Left foot",
    "plan-right": "Right foot",
    "plan-both": "Both feet",
    "plan-device": "Device",
    "plan-advice": "Exercise and load",
    "plan-nothing": "Nothing to plan yet",
    "plan-nothing-how": (
        "A plan begins with a hypothesis that you accept: Ctrl+G weighs what might explain the "
        "complaint, A accepts it. The aims that follow from it are then proposed here."
    ),
    "plan-held": "Held back: {name}",
    "plan-held-how": (
        "Nothing is planned for this side while a caution stands undecided. Ctrl+G or Enter opens "
        "it; once it is recorded what was done, how it was excluded or to whom it was handed over, "
        "the plan comes back."
    ),
    "plan-aim": "{count} features may serve it",
    "plan-aim-one": "1 feature may serve it",
    "plan-aim-taken": "{chosen} of {count} features chosen",
    "plan-first": "tried first",
    "plan-against": "advised against here",
    "plan-refused": "not to be used here",
    "plan-clash": "fights {names}",
    "plan-one-sided": "on one side alone",
    "plan-no-aim": "no open aim asks for it",
    "plan-here": "Not for this person",
    "plan-room": "Room in the shoe",
    "plan-room-how": (
        "The insole of the shoe comes out. Foams are counted at their full thickness, which is the "
        "safe side."
    ),
    "plan-not-asked": "{name} (the sheet does not ask for it yet)",
    "plan-which": "Custom or prefabricated",
    "plan-for-custom": "custom: {count}",
    "plan-for-prefabricated": "prefabricated: {count}",
    "plan-for-none": "none: {count}",
    "plan-speaks-custom": "For a device made for the person",
    "plan-speaks-prefabricated": "For a prefabricated device",
    "plan-speaks-none": "For no device",
    "plan-before-boot": "Before a boot",
    "plan-unmet": "{count} answers are missing",
    "plan-unmet-one": "1 answer is missing",
    "plan-unmet-how": "A boot shuts the foot in. These have to be recorded before it is given.",
    "plan-advice-row": "Advice in your own words",
    "plan-title-room": "Room in the shoe",
    "plan-title-device": "Custom or prefabricated",
    "plan-title-unmet": "Before a boot",
    "plan-title-held": "Held back",
    "plan-title-advice": "Exercise and load advice",
    "plan-title-nothing": "Nothing to plan yet",
    "plan-excludes": "Cannot be had at the same joint as: {names}.",
    "plan-order": "Tried first, then the best evidence for this aim, then the least bulk.",
    "plan-keys": "Space keeps or drops.   Enter goes in.   Right and Left unfold and fold.",
    "plan-usual": "usual",
    "plan-tried": "Tried, not taken yet: Enter takes it, Escape puts it back.",
    "plan-put-back": "{words} was tried and is put back; Enter would have taken it.",
    "plan-kept": "{name}: kept.",
    "plan-chosen": "{name}: chosen.",
    "plan-dropped": "{name}: dropped. Ctrl+Y brings it back.",
    "plan-no-size": "“{typed}” is not a number in {unit}.",
    "plan-beyond": "{why} Look for a slip. Enter again keeps it.",
    "plan-cannot": "{name} is not to be used here: {why}",
    "plan-empty-summary": "{count} aims proposed, none kept yet",
    "plan-look": "chosen; advised against or in a clash",
    "plan-taken": "chosen",
    "plan-empty-one": "1 aim proposed, not kept yet",
    "nothing-to-drop": "There is nothing to drop.",
    "advice-empty": "nothing written yet",
    "advice-not-now": "not while a caution forbids to load",
    "advice-held": (
        "A caution forbids to load, so there is no advice on exercise and load yet. Ctrl+G opens "
        "it; record what was done about it first."
    ),
    "advice-how": "Enter puts the keys into the box; what is written is part of the record.",
    "from-paper": (
        "When were the readings taken that you type now? (14:30, or 2026-11-28 14:30; Enter alone: "
        "they are taken now)"
    ),
    "no-time": "“{typed}” is no time that has passed: write 14:30, or 2026-11-28 14:30.",
    "late-state": "From paper, taken {when}",
    "why-missing": "Such a change is made only with a reason.",
    "keys-hint": "F1 keys   Ctrl+P report   Ctrl+Enter sign   Ctrl+Z undo   F6 area",
    "beyond": "beyond error ({needed})",
    "inside": "inside error ({needed})",
    "blank": "The screen is blank. Any key shows it again; nothing was closed.",
    "fault": (
        "A fault of the program. Everything entered so far is saved. Go on, or close the program "
        "and open it again; please report what you did before it."
    ),
}
"""English; another language is another table with the same keys."""
