"""The same input gives the same bytes, on any computer's settings; no path or time is in them."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from footexam.exchange.csv_table import write_csv
from footexam.reports.blank_form import blank_form
from footexam.reports.examination import examination_report
from footexam.reports.patient_copy import patient_copy
from tests.reports import builders as b

ROOT = Path(__file__).parents[2]
CHILD = """
import hashlib, sys
from tests.reports.test_same_bytes import everything
sys.stdout.write(hashlib.sha256(everything()).hexdigest())
"""


def made() -> bytes:
    return examination_report(b.rich_examination(), b.rich_assessment(), b.CATALOGUE, invented=True)


def everything() -> bytes:
    """The report, the patient's copy, the paper form and the table, one after another."""
    record = b.rich_examination(), b.rich_assessment(), b.CATALOGUE
    return b"".join(
        (made(), patient_copy(*record, invented=True), blank_form(b.CATALOGUE), write_csv(*record))
    )


def test_twice_in_one_process() -> None:
    assert made() == made()


def test_another_document_in_between_changes_nothing() -> None:
    first = made()
    examination_report(b.sparse_examination(), b.assessment(), b.CATALOGUE, page="letter")
    assert made() == first


@pytest.mark.parametrize(
    ("locale", "zone", "seed"),
    [("de_DE.UTF-8", "Pacific/Auckland", "1"), ("C", "America/St_Johns", "2")],
)
def test_in_a_process_of_another_locale_zone_and_hash_seed(
    locale: str, zone: str, seed: str, tmp_path: Path
) -> None:
    settings = {"LC_ALL": locale, "LANG": locale, "TZ": zone, "PYTHONHASHSEED": seed}
    done = subprocess.run(
        [sys.executable, "-c", CHILD],
        env=os.environ | settings | {"PYTHONPATH": str(ROOT)},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout == hashlib.sha256(everything()).hexdigest()


def test_no_path_no_time_and_no_version_of_a_library() -> None:
    data = everything()
    assert str(ROOT).encode() not in data
    assert b"/usr/" not in data
    assert b"ReportLab PDF Library" not in data
    assert data.count(b"D:2000") == 6
    assert b"D:202" not in data
