"""How many cases rest on what: the published ones are counted apart from all others.

The counts are printed at the end of every run.
"""

from pathlib import Path
from typing import Any

import pytest

from tests.published.cases import KINDS

ENOUGH = 80
HERE = Path(__file__).parent


def test_enough_expected_values_come_from_a_published_source(tally: Any) -> None:
    missing = {file.name for file in HERE.glob("test_*.py")} - tally.files
    if missing:
        pytest.skip(f"counts the whole folder; not collected: {', '.join(sorted(missing))}")
    assert tally.kinds["published"] >= ENOUGH, str(tally)


def test_no_case_is_of_two_kinds(request: pytest.FixtureRequest) -> None:
    for item in request.session.items:
        if item.path.parent == HERE:
            assert sum(item.get_closest_marker(kind) is not None for kind in KINDS) <= 1, item.name
