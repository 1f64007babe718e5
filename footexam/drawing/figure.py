"""A figure of matplotlib as plain shapes, so that one description serves screen and paper.

matplotlib is imported at use, and only here and in the modules that describe plots. It would list
every font of the computer and write files into the user's folders; here it finds a list of no fonts
in a folder that lasts as long as its import, and is given ours by path.
"""

import json
import os
import re
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from footexam.drawing.palette import ON_PAPER, Ink
from footexam.drawing.shapes import Drawing
from footexam.drawing.wrapped import Width
from footexam.resources import assets_dir

if TYPE_CHECKING:
    from matplotlib.figure import Figure

INCH = 72.0
FAMILY = "Atkinson Hyperlegible Next"
_FOLDER = "MPLCONFIGDIR"


def colour(ink: Ink) -> str:
    """The colour that means an ink in a figure."""
    return ON_PAPER[ink].lower()


def new_figure(width: float, height: float) -> "Figure":
    """An empty figure of so many points."""
    load_library()
    from matplotlib.figure import Figure

    return Figure(figsize=(width / INCH, height / INCH), dpi=INCH)


def plain_settings() -> Any:
    """The library's own settings for a `with` block, whatever a file on this computer says."""
    load_library()
    import matplotlib as mpl

    return mpl.rc_context(_defaults())


@cache
def _defaults() -> Any:
    import matplotlib as mpl

    plain: Any = mpl.rcParamsDefault
    kept = {key: plain[key] for key in plain if key != "backend"}
    return {**kept, "font.family": [FAMILY]}


@cache
def load_library() -> None:
    """Import matplotlib without a look at the computer's fonts and without a file left behind."""
    before = os.environ.get(_FOLDER)
    with TemporaryDirectory(prefix="footexam-") as folder:
        _list_no_fonts(Path(folder))
        os.environ[_FOLDER] = folder
        try:
            from matplotlib.font_manager import fontManager
        finally:
            os.environ.pop(_FOLDER)
            if before is not None:
                os.environ[_FOLDER] = before
    for weight in ("Regular", "Bold"):
        name = f"{FAMILY.replace(' ', '')}-{weight}.ttf"
        fontManager.addfont(assets_dir() / "fonts" / name)


def _list_no_fonts(folder: Path) -> None:
    """The list of fonts that matplotlib looks for at its import, with none in it."""
    version = _fonts_version()
    told = {"__class__": "FontManager", "_version": version, "afmlist": [], "ttflist": []}
    (folder / f"fontlist-v{version}.json").write_text(json.dumps(told), encoding="utf-8")


def _fonts_version() -> str:
    """The version of that list, which only the source of the library tells before its import."""
    found = find_spec("matplotlib")
    source = Path(found.origin if found and found.origin else "").parent / "font_manager.py"
    told = re.search(r"__version__ = '([^']+)'", source.read_text(encoding="utf-8"))
    return told[1] if told else ""


def shapes_of(figure: "Figure", measure: Width) -> Drawing:
    """What a figure draws; its colours must be those of `colour`, its texts must lie level."""
    from footexam.drawing.figure_shapes import Renderer

    width, height = map(float, figure.get_size_inches() * INCH)
    renderer = Renderer(width, height, measure)
    figure.draw(renderer)
    return Drawing(width, height, tuple(renderer.shapes))
