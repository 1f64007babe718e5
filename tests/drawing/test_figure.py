"""Figures as shapes: nothing of the computer in them, nothing left behind, no surprises."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from footexam.drawing.agreement_plot import Level, difference_plot
from footexam.drawing.axes import Axes
from footexam.drawing.figure import colour, new_figure, plain_settings, shapes_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Line, Polygon, Text

CODE = """
import sys
from footexam.drawing.agreement_plot import Level, difference_plot
from footexam.drawing.axes import Axes
assert "matplotlib" not in sys.modules
width = lambda text, size, bold: 0.5 * size * len(text)
print(difference_plot([(1, -2), (9, 3)], [Level(0.5, "bias", 0, 1)], Axes("x", "y"), width))
from matplotlib.font_manager import fontManager
assert len(fontManager.ttflist) == 2, fontManager.ttflist
assert "matplotlib.pyplot" not in sys.modules
"""


def run(home: Path, folder: Path) -> str:
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("MPL", "XDG"))}
    known = {"HOME": str(home), "USERPROFILE": str(home), "LOCALAPPDATA": str(home)}
    root = str(Path(__file__).parents[2])
    done = subprocess.run(
        [sys.executable, "-c", CODE],
        env={**kept, **known, "PYTHONPATH": root},
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout


def test_no_fonts_are_looked_for_and_no_file_is_left(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    run(home, tmp_path)
    assert list(home.rglob("*")) == []


def test_settings_that_lie_about_change_nothing(tmp_path: Path) -> None:
    first = run(tmp_path, tmp_path)
    (tmp_path / "matplotlibrc").write_text("lines.linewidth: 9\naxes.facecolor: red\n")
    assert run(tmp_path, tmp_path) == first


def width(text: str, size: float, _bold: bool) -> float:
    return 0.5 * size * len(text)


def test_the_same_numbers_give_the_same_shapes() -> None:
    made = [
        difference_plot([(1, -2), (9, 3)], [Level(0.5, "bias")], Axes("x", "y"), width)
        for _ in range(2)
    ]
    assert made[0] == made[1]


def test_a_colour_that_means_nothing_is_a_fault() -> None:
    with plain_settings():
        figure = new_figure(100, 100)
        figure.text(0, 0, "x", color="#123456")
        with pytest.raises(KeyError):
            shapes_of(figure, width)


def test_a_turned_text_is_a_fault() -> None:
    with plain_settings():
        figure = new_figure(100, 100)
        figure.text(0, 0, "x", rotation=90, color=colour(Ink.INK))
        with pytest.raises(ValueError, match="level"):
            shapes_of(figure, width)


def test_areas_lines_and_bold_texts_keep_their_inks() -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Polygon as Area

    with plain_settings():
        figure = new_figure(100, 50)
        figure.patch.set_visible(False)
        corners = [(0, 0), (0.5, 1), (1, 0)]
        figure.add_artist(Area(corners, facecolor=colour(Ink.ABOVE), edgecolor=colour(Ink.INK)))
        figure.add_artist(Line2D([0, 1], [0, 1], color=colour(Ink.BELOW), linewidth=2))
        figure.text(0.5, 0.5, "a", color=colour(Ink.CAUTION), weight="bold", size=10)
        area, line, text = shapes_of(figure, width).shapes
    assert isinstance(area, Polygon)
    assert (area.fill, area.stroke, len(area.points)) == (Ink.ABOVE, Ink.INK, 3)
    assert line == Line(0.0, 50.0, 100.0, 0.0, Ink.BELOW, 2.0)
    assert text == Text(50.0, 25.0, "a", 10.0, Ink.CAUTION, bold=True)
