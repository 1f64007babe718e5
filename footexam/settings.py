"""The folders that belong to the user: data and cache, or all under FOOTEXAM_HOME."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path

NAME = "footexam"

_PLACES = {
    # name: variable and folder on Linux, folder under Library on macOS, folder on Windows
    "data": ("XDG_DATA_HOME", ".local/share", "Application Support", ""),
    "cache": ("XDG_CACHE_HOME", ".cache", "Caches", "Cache"),
}


def data_dir(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> Path:
    """Where the user's records and documents lie; not made by this call."""
    return _folder("data", environment, platform)


def cache_dir(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> Path:
    """Where what can be made again lies; not made by this call."""
    return _folder("cache", environment, platform)


def _folder(name: str, environment: Mapping[str, str], platform: str) -> Path:
    home = environment.get("FOOTEXAM_HOME")
    if home:
        return Path(home) / name
    variable, unix, mac, windows = _PLACES[name]
    user = Path(environment.get("USERPROFILE") or environment.get("HOME") or Path.home())
    if platform == "win32":
        local = environment.get("LOCALAPPDATA")
        return (Path(local) if local else user / "AppData" / "Local") / NAME / windows
    if platform == "darwin":
        return user / "Library" / mac / NAME
    base = environment.get(variable, "")
    return (Path(base) if base.startswith("/") else user / unix) / NAME
