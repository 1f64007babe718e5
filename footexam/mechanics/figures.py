"""Figures of the trade by name, out of forms/training.toml or forms/features/figures.toml."""

from collections.abc import Mapping

from footexam.catalogue.model import Rule


def figure(training: Mapping[str, Rule], name: str) -> float:
    """A figure of Catalogue.training or Catalogue.figures, in its unit.

    KeyError where forms/ gives none of that name.
    """
    at = training[name].at
    if at is None:
        raise KeyError(name)
    return float(at)
