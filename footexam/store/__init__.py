"""Where records are kept: an embedded database, its patient list, its backups.

`Store`, `StoreWorker` and what they raise are imported when first asked for, so that
`footexam.store.quick_list` shows the patient list before SQLAlchemy is loaded.

One store is one folder: `store.db` (with `store.db-wal` while it is open), `store.lock`,
`backups/` (the last seven copies) and `set-aside/` (what a restore replaced).
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from footexam.store.errors import Conflict, KnownError

if TYPE_CHECKING:
    from footexam.store.restoring import restore
    from footexam.store.store import Store
    from footexam.store.worker import StoreWorker

__all__ = ["Conflict", "KnownError", "Store", "StoreWorker", "restore"]

_LATER = {
    "Store": "footexam.store.store",
    "StoreWorker": "footexam.store.worker",
    "restore": "footexam.store.restoring",
}


def __getattr__(name: str) -> Any:
    """Import what needs SQLAlchemy at its first use. AttributeError for any other name."""
    if name not in _LATER:
        raise AttributeError(name)
    return getattr(import_module(_LATER[name]), name)
