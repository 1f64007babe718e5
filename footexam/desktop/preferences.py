"""What the program remembers about its user, as TOML; nothing clinical, nothing of patients."""

import tomllib
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from footexam.exchange.files import write_whole
from footexam.terms import Role

_LEAST_IDLE, _MOST_IDLE = 1.0, 240.0
_LONGEST = 1000
"""Characters of a name or a folder that are believed."""


@dataclass
class Preferences:
    """Remembered choices; a file that cannot be read or written changes nothing."""

    path: Path
    examiner: str = ""
    role: str = Role.CLINICIAN.value
    supervisor: str = ""
    marker: str = ""
    marking_folder: str = ""
    zoom: float = 1.0
    dark: bool | None = None
    idle_minutes: float = 10.0

    @classmethod
    def load(cls, path: Path) -> "Preferences":
        """The preferences of a file; defaults for whatever is missing or makes no sense."""
        found: dict[str, object] = {}
        with suppress(OSError, tomllib.TOMLDecodeError, UnicodeDecodeError):
            found = tomllib.loads(path.read_text(encoding="utf-8"))
        made = cls(path)
        for name in ("examiner", "role", "supervisor", "marker", "marking_folder"):
            value = found.get(name)
            if isinstance(value, str) and len(value) <= _LONGEST and value.isprintable():
                setattr(made, name, value)
        if made.role not in set(Role):
            made.role = Role.CLINICIAN.value
        made.zoom = _number(found.get("zoom"), made.zoom, 1.0, 2.0)
        made.idle_minutes = _number(
            found.get("idle_minutes"), made.idle_minutes, _LEAST_IDLE, _MOST_IDLE
        )
        dark = found.get("dark")
        made.dark = dark if isinstance(dark, bool) else None
        return made

    def remember(self, examiner: str, role: str, supervisor: str) -> None:
        """Who examined last."""
        self.examiner, self.role, self.supervisor = examiner, role, supervisor
        self.save()

    def set_marking(self, marker: str, folder: str) -> None:
        """Who marks, and in which folder; "" for the program's own."""
        self.marker, self.marking_folder = marker, folder
        self.save()

    def set_zoom(self, zoom: float) -> None:
        """Size of everything, 1.0 to 2.0."""
        self.zoom = zoom
        self.save()

    def set_dark(self, *, dark: bool) -> None:
        """Light or dark."""
        self.dark = dark
        self.save()

    def save(self) -> None:
        """Write the file; a folder that cannot be written keeps them for this sitting only."""
        lines = [
            f"examiner = {_text(self.examiner)}",
            f"role = {_text(self.role)}",
            f"supervisor = {_text(self.supervisor)}",
            f"marker = {_text(self.marker)}",
            f"marking_folder = {_text(self.marking_folder)}",
            f"zoom = {self.zoom}",
            f"idle_minutes = {self.idle_minutes}",
        ]
        if self.dark is not None:
            lines.append(f"dark = {'true' if self.dark else 'false'}")
        with suppress(OSError):
            self.path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(self.path, ("\n".join(lines) + "\n").encode())


def _number(value: object, default: float, low: float, high: float) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return default
    return float(value) if low <= value <= high else default


def _text(value: str) -> str:
    escaped = value.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
