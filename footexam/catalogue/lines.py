"""Where each key of a TOML file stands, so that a mistake can be named by its line.

tomllib gives values without places; this scan knows the layout that forms/ keeps to: headers and
keys at the start of a line, inline tables inside arrays, on the line of the key or each on its own.
"""

import re
from collections.abc import Mapping

Path = tuple[str | int, ...]

_HEADER = re.compile(r"\s*\[(\[?)\s*([A-Za-z0-9_.\-]+)\s*\]?\]")
_KEY = re.compile(r"""\s*((?:[A-Za-z0-9_\-]+|"[^"]*")(?:\.(?:[A-Za-z0-9_\-]+|"[^"]*"))*)\s*=""")
_ITEM = re.compile(r"\s*\{")
_TRIPLE = re.compile(r'"""|' + "'''")


def line_map(text: str) -> Mapping[Path, int]:
    """Line number (from 1) of every header and key, by path, as ("measure", 3, "label", "en")."""
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    here: Path = ()
    inside = ""
    items: Path = ()
    for number, line in enumerate(text.split("\n"), 1):
        if inside:
            inside = "" if inside in line else inside
            continue
        header = _HEADER.match(line)
        if header:
            here = _enter(header.group(2).split("."), bool(header.group(1)), counts)
            lines.setdefault(here, number)
            continue
        if items and _ITEM.match(line):
            lines[items] = number
            items = (*items[:-1], int(items[-1]) + 1)
        key = _KEY.match(line)
        if key:
            parts = tuple(part.strip('"') for part in key.group(1).split("."))
            for size in range(1, len(parts) + 1):
                lines.setdefault(here + parts[:size], number)
            items = (*here, *parts, line.count("{"))
        quotes = _TRIPLE.findall(line)
        if len(quotes) % 2:
            inside = quotes[-1]
    return lines


def _enter(names: list[str], is_array: bool, counts: dict[Path, int]) -> Path:
    """The path of a header; an array of tables counts up, its parents are their latest element."""
    here: Path = ()
    for name in names[:-1]:
        here = (*here, name)
        if here in counts:
            here = (*here, counts[here])
    here = (*here, names[-1])
    if is_array:
        counts[here] = counts.get(here, -1) + 1
        here = (*here, counts[here])
    return here


def line_of(lines: Mapping[Path, int], path: Path) -> int:
    """The line of the nearest thing that has one: the key, else its table, else line 1."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return 1
