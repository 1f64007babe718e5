"""A process that ends at any line of a deed leaves a store that can be gone on with."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

STEP = "11"  # every line takes a minute and more: python tests/store/crash.py DEED FOLDER
ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize(
    ("deed", "least"),
    [("creation", 200), ("closing", 200), ("restoring", 200), ("restoring-damaged", 200)],
)
def test_a_crash_at_many_lines(tmp_path: Path, deed: str, least: int) -> None:
    script = Path(__file__).with_name("crash.py")
    said = subprocess.run(
        [sys.executable, "-W", "ignore", str(script), deed, str(tmp_path), STEP],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=False,
    )
    assert said.returncode == 0, said.stderr
    assert int(said.stdout) > least
