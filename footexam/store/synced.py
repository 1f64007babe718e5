"""Recognises folders that a tool copies to other computers, by the marks such tools leave.

What is recognised: marker files in the folder or above it, names such folders usually have, and
the places the systems keep for it. A tool that leaves no mark is not recognised.
"""

import fnmatch
import os
from pathlib import Path

_MARKER_FILES = (
    # lie at the top of a copied folder, and not in the home of a user who has such a tool
    *(".stfolder", ".stversions", ".dropbox.cache", ".owncloudsync.log"),
    *("._sync_*.db", ".sync_*.db", ".tmp.drivedownload", ".tmp.driveupload"),
)

_FOLDER_NAMES = (
    # names that a tool gives the folder it copies, lower case
    *("dropbox", "dropbox (*)", "onedrive", "onedrive - *", "google drive", "googledrive"),
    *("my drive", "icloud drive", "iclouddrive", "nextcloud", "owncloud", "seafile", "pcloud"),
    *("cloudstorage", "mobile documents"),
)

_CLOUD_TAG = 0x9000001A
_CLOUD_MASK = 0xFFFF0FFF
"""Windows marks folders of its own copying service by one of sixteen reparse tags."""


def synced_mark(folder: Path) -> str:
    """By what a folder, or one above it, is known to be copied; "" if by nothing."""
    for place in (folder, *folder.parents):
        name = place.name.casefold()
        if any(fnmatch.fnmatchcase(name, pattern) for pattern in _FOLDER_NAMES):
            return f"the name of {place}"
        mark = _marker(place)
        if mark:
            return f"{mark} {place}"
    return ""


def _marker(place: Path) -> str:
    """The mark a folder holds; "" if it holds none or cannot be read."""
    try:
        if getattr(place.lstat(), "st_reparse_tag", 0) & _CLOUD_MASK == _CLOUD_TAG:
            return "the mark the system gave"
        names = os.listdir(place)  # noqa: PTH208 - names alone are wanted
    except OSError:
        return ""
    for pattern in _MARKER_FILES:
        if fnmatch.filter(names, pattern):
            return "a file such a tool leaves in"
    return ""
