"""What the program says when records cannot be kept or read: one table of sentences by code.

Each says what happened, what is safe and what to do; no patient data, no blame.
"""

from collections.abc import Mapping

STORE: dict[str, tuple[str, str, str]] = {
    # code: (what happened, what is safe, what to do)
    "no-store": (
        "there is no store in {where}",
        "nothing was changed",
        "start footexam to make one, or bring one back with footexam restore FILE",
    ),
    "store-exists": (
        "{where} already holds a store",
        "it was not touched",
        "open it, or choose another folder",
    ),
    "unfinished": (
        "a restore into {where} was broken off",
        "what was there lies whole in its folder set-aside",
        "bring a backup back with footexam restore FILE",
    ),
    "file-empty": (
        "{where} is empty",
        "it was not touched",
        "choose another file; backups lie in the folder backups beside the store",
    ),
    "not-a-store": (
        "{where} is not a database",
        "it was not touched",
        "choose another file; backups lie in the folder backups beside the store",
    ),
    "foreign": (
        "{where} is a database of another program",
        "it was not touched",
        "choose a store or a backup made by footexam",
    ),
    "newer": (
        "{where} was written by a newer version of footexam (form {what}; this one knows {known})",
        "nothing was changed",
        "use the newer version, or a backup from before it",
    ),
    "older": (
        "{where} must first be brought up to this version",
        "nothing was changed",
        "open the store once with this version; a backup is made before anything changes",
    ),
    "damaged": (
        "{where} is damaged ({why})",
        "it was left as it is, and the backups are untouched",
        (
            "copy the whole folder somewhere safe, then bring back the newest backup with "
            "footexam restore FILE"
        ),
    ),
    "broken-journal": (
        "entry {what} of {subject} in {where} is not as it was written",
        "nothing was changed, and the backups are untouched",
        (
            "copy the whole folder somewhere safe, then bring back the newest backup that "
            "footexam check finds whole"
        ),
    ),
    "disk-full": (
        "the disk that holds {where} is full",
        "everything acknowledged before is kept; the last step was not",
        "free some space, then do the last step again",
    ),
    "read-only": (
        "{where} cannot be written: {why}",
        "everything acknowledged before is kept; the last step was not",
        "make the folder writable for you, or move the store to a folder that is",
    ),
    "busy": (
        "{where} is in use by another program",
        "everything acknowledged before is kept; the last step was not",
        "close the other program, then do the last step again",
    ),
    "disk-fault": (
        "the disk that holds {where} reports a fault ({why})",
        "everything acknowledged before is kept; the last step was not",
        "make a backup to another disk now, and have this one looked at",
    ),
    "cannot-open": (
        "{where} cannot be opened: {why}",
        "nothing was changed",
        "check that the folder exists and is yours",
    ),
    "no-journal": (
        "{where} lies on a file system that cannot keep records safely",
        "nothing was changed",
        "move the store to a folder on a disk of this computer",
    ),
    "no-locks": (
        (
            "{where} lies on a file system without locks ({why}), so that two programs could "
            "write at once"
        ),
        "nothing was changed",
        "move the store to a folder on a disk of this computer",
    ),
    "held": (
        "{where} is open in another footexam on this computer (process {pid}, since {since})",
        "nothing was changed",
        "use the window that is open, or close it first",
    ),
    "held-elsewhere": (
        "{where} is marked as open on the computer {host} (process {pid}, since {since})",
        "nothing was changed",
        "close footexam there; if it does not run there any more, delete {lock} and start again",
    ),
    "network": (
        "{where} lies on a network share ({what}), where a database can be damaged",
        "nothing was changed",
        "choose a folder on a disk of this computer; backups may go to the share",
    ),
    "synced": (
        (
            "{where} lies in a folder that another program copies to other computers "
            "(known by {what}), where a database can be damaged"
        ),
        "nothing was changed",
        "choose a folder that is not copied; backups may go there",
    ),
    "no-subject": (
        "there is no record {what} in {where}",
        "nothing was changed",
        "check the id, or look the patient up in the list",
    ),
    "no-attachment": (
        "the attachment {what} is not in {where}",
        "the entry that names it is kept",
        "look for it in an earlier backup",
    ),
    "incomplete": (
        "the examination {what} has no patient, date or examiner yet",
        "its entries are kept",
        "complete it in the window",
    ),
    "output-exists": (
        "{where} exists already",
        "it was not touched",
        "choose another name for the backup",
    ),
    "copy-differs": (
        "the copy made beside {where} is not the same as the store ({why})",
        "the store was not changed, and the copy was taken away",
        "try again on another disk; if it happens again, check the store with footexam check",
    ),
    "index-behind": (
        "the patient list in {where} must first be made again",
        "all entries are kept",
        "open the store once with this version",
    ),
    "closed": (
        "the store in {where} is closed",
        "everything acknowledged before is kept; the last step was not",
        "open it again",
    ),
}
"""Why a store cannot do what was asked, by code."""

WARNINGS: dict[str, str] = {
    "journal-delete": (
        "This file system does not take write-ahead logging; the store works with a rollback "
        "journal instead: as safe, but slower, and the list may wait while an entry is written."
    ),
    "not-private": (
        "Other users of this computer may be able to read {where}; its permissions could not be "
        "narrowed. Keep the store in your own folder."
    ),
    "unsure-disk": (
        "{where} lies on a file system ({what}) of which it is not known whether it is on this "
        "computer. If it is a share, choose a folder on a disk of this computer."
    ),
}
"""What is said of a store that opens but is not as it should be, by code."""


def store_sentence(code: str, values: Mapping[str, object]) -> str:
    """The sentence of a code of `STORE`: what happened; what is safe; what to do."""
    happened, safe, todo = STORE[code]
    line = f"{happened}; {safe}; {todo}."
    return (line[0].upper() + line[1:]).format(**values)  # a path keeps its first letter


def warning(code: str, **values: object) -> str:
    """The sentence of a code of `WARNINGS`."""
    return WARNINGS[code].format(**values)
