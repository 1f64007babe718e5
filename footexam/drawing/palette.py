"""What each colour of a drawing means, and the colours it has on paper."""

from collections.abc import Mapping
from enum import StrEnum


class Ink(StrEnum):
    """The part a colour plays; a screen theme or a printed page gives it its value."""

    SURFACE = "surface"
    INK = "ink"
    MUTED = "muted"
    RULE = "rule"
    BORDER = "border"
    BAND = "band"
    ACCENT = "accent"
    BELOW = "below"
    ABOVE = "above"
    CAUTION = "caution"


ON_PAPER: Mapping[Ink, str] = {
    Ink.SURFACE: "#FFFFFF",
    Ink.INK: "#1F2933",
    Ink.MUTED: "#5B6770",
    Ink.RULE: "#D8D4CC",
    Ink.BORDER: "#8A8378",
    Ink.BAND: "#E7E2D8",
    Ink.ACCENT: "#0F5E6B",
    Ink.BELOW: "#2166AC",
    Ink.ABOVE: "#B35806",
    Ink.CAUTION: "#8C1D40",
}
"""Colours on white paper; ink, muted, accent, below, above and caution have 4.5:1 or more on it."""
