"""Colours, type and sizes of the window: light and dark, 100 to 200 %."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication, QFrame, QWidget

from footexam.drawing.palette import Ink

FAMILY = "Atkinson Hyperlegible Next"
BEHIND = "Noto Sans"
BASE_POINTS = 10.5
"""Size of body text at 100 %."""
ZOOMS = (1.0, 1.1, 1.25, 1.5, 1.75, 2.0)


class Mode(StrEnum):
    """Which palette is used; AUTO follows the system."""

    LIGHT = "light"
    DARK = "dark"
    AUTO = "auto"


@dataclass(frozen=True, slots=True)
class Theme:
    """The colours of one mode; `inks` are those that drawings share with paper."""

    dark: bool
    paper: str
    surface: str
    selected: str
    focus: str
    inks: Mapping[Ink, str]

    def colour(self, ink: Ink) -> QColor:
        """The colour of a part of a drawing."""
        return QColor(self.inks[ink])


LIGHT = Theme(
    dark=False,
    paper="#FBFAF7",
    surface="#FFFFFF",
    selected="#DDEBEC",
    focus="#1F2933",
    inks={
        Ink.SURFACE: "#FFFFFF",
        Ink.INK: "#1F2933",
        Ink.MUTED: "#56616A",
        Ink.RULE: "#D8D4CC",
        Ink.BORDER: "#8A8378",
        Ink.BAND: "#DFD9CC",
        Ink.ACCENT: "#0F5E6B",
        Ink.BELOW: "#1F5F9F",
        Ink.ABOVE: "#A34E05",
        Ink.CAUTION: "#8C1D40",
    },
)
DARK = Theme(
    dark=True,
    paper="#161B1F",
    surface="#1E252A",
    selected="#1D3F45",
    focus="#F2EFE8",
    inks={
        Ink.SURFACE: "#1E252A",
        Ink.INK: "#ECEFF1",
        Ink.MUTED: "#A9B4BC",
        Ink.RULE: "#3A444B",
        Ink.BORDER: "#7D8891",
        Ink.BAND: "#4A525A",
        Ink.ACCENT: "#6FC3CF",
        Ink.BELOW: "#7FB8EE",
        Ink.ABOVE: "#F2A45C",
        Ink.CAUTION: "#F08FAE",
    },
)


def register_fonts(folder: Path) -> None:
    """Make the shipped families known to Qt; the same files as in the PDFs."""
    for file in sorted(folder.glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(file))


def theme_of(application: QApplication, mode: Mode) -> Theme:
    """The theme of a mode, the system's for AUTO."""
    if mode is Mode.AUTO:
        window = application.palette().color(QPalette.ColorRole.Window)
        return DARK if window.lightness() < 128 else LIGHT
    return DARK if mode is Mode.DARK else LIGHT


def apply(application: QApplication, theme: Theme, zoom: float) -> None:
    """Set style, palette and font of the whole program."""
    application.setStyle("Fusion")
    application.setPalette(_palette(theme))
    font = QFont([FAMILY, BEHIND])
    font.setPointSizeF(BASE_POINTS * zoom)
    application.setFont(font)


def _palette(theme: Theme) -> QPalette:
    role = QPalette.ColorRole
    ink, muted = theme.colour(Ink.INK), theme.colour(Ink.MUTED)
    colours = {
        role.Window: QColor(theme.paper),
        role.WindowText: ink,
        role.Base: QColor(theme.surface),
        role.AlternateBase: QColor(theme.paper),
        role.Text: ink,
        role.PlaceholderText: muted,
        role.Button: QColor(theme.surface),
        role.ButtonText: ink,
        role.ToolTipBase: QColor(theme.surface),
        role.ToolTipText: ink,
        role.Highlight: theme.colour(Ink.ACCENT),
        role.HighlightedText: QColor(theme.surface),
        role.Link: theme.colour(Ink.ACCENT),
        role.Mid: theme.colour(Ink.RULE),
        role.Dark: theme.colour(Ink.BORDER),
    }
    palette = QPalette()
    for which, colour in colours.items():
        palette.setColor(which, colour)
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, muted)
    return palette


def rule(theme: Theme, parent: QWidget, *, vertical: bool = False) -> QFrame:
    """A thin line between areas."""
    line = QFrame(parent)
    line.setFrameShape(QFrame.Shape.VLine if vertical else QFrame.Shape.HLine)
    line.setFrameShadow(QFrame.Shadow.Plain)
    palette = line.palette()
    palette.setColor(QPalette.ColorRole.WindowText, theme.colour(Ink.RULE))
    line.setPalette(palette)
    return line


def em(widget: QWidget) -> int:
    """The height of a line of the widget's text in pixels: every size is a multiple of it."""
    return widget.fontMetrics().height()


def small(widget: QWidget) -> QFont:
    """The widget's font for what stands beside the main thing."""
    return _scaled(widget, 0.88)


def large(widget: QWidget, factor: float = 1.3) -> QFont:
    """The widget's font for a heading."""
    font = _scaled(widget, factor)
    font.setBold(True)
    return font


def _scaled(widget: QWidget, factor: float) -> QFont:
    font = QFont(widget.font())
    font.setPointSizeF(font.pointSizeF() * factor)
    return font
