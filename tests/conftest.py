"""Tests never open a window on anybody's screen, and run where Qt's libraries are missing."""

import os

import pytest

# before the first import of Qt; a developer may ask for another platform on purpose
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("QT_SCALE_FACTOR", "1")


def pytest_addoption(parser: pytest.Parser, pluginmanager: pytest.PytestPluginManager) -> None:
    """Know the Qt settings of pyproject.toml when pytest-qt is switched off.

    Without its system libraries Qt cannot be imported, so bootstrap.py runs everything but
    tests/desktop with `-p no:pytest-qt`; the strict configuration would refuse the settings.
    """
    if not pluginmanager.is_blocked("pytest-qt"):
        return
    for name in ("qt_api", "qt_log_level_fail", "qt_log_ignore"):
        parser.addini(name, "A setting of pytest-qt, which is switched off.")
