"""The table of one examination: a row a reading, quoting, numbers, guarded formulas, same bytes."""

import csv
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from io import StringIO
from pathlib import Path

import pytest

from footexam.assessment import Assessment, assess
from footexam.demo import demo_files
from footexam.exchange.csv_table import COLUMNS, write_csv
from footexam.exchange.examination import read_examination
from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import Activities, Numbers, Reading, RegionValues, Rows, Text, Word
from footexam.terms import Absence, Side
from tests.shipped import shipped

CATALOGUE = shipped()
TODAY = date(2026, 12, 31)
NOTHING = Assessment(None, (), (), (), (), (), ())
FILES = demo_files()


def examination(*readings: Reading) -> Examination:
    return Examination(
        Patient("Okonjo"),
        date(2026, 5, 12),
        Person("X"),
        readings={(one.measure, one.side): one for one in readings},
    )


def table(data: bytes) -> list[Mapping[str, str]]:
    text = data.decode("utf-8-sig")
    return list(csv.DictReader(StringIO(text, newline=""), strict=True))


def rows(*readings: Reading) -> list[Mapping[str, str]]:
    return table(write_csv(examination(*readings), NOTHING, CATALOGUE))


def note(text: str) -> str:
    (row,) = rows(Reading("limp", Side.LEFT, Word("no"), "n", note=text))
    return row["note"]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_reading_and_each_score_of_a_demo_file_is_one_row(path: Path) -> None:
    made = read_examination(path.read_bytes(), CATALOGUE, TODAY, path.name).examination
    assessment = assess(made, CATALOGUE)
    data = write_csv(made, assessment, CATALOGUE)
    found = table(data)
    keys = [(row["measure"], row["side"]) for row in found]
    wanted = [(m, s or "") for m, s in made.readings]
    wanted += [(one.measure, one.side or "") for one in assessment.scores]
    assert sorted(keys) == sorted(wanted)
    judged = {(row["measure"], row["side"]): row for row in found if row["judged"]}
    for finding in assessment.findings:
        if finding.label:
            row = judged[finding.measure, finding.side or ""]
            assert (row["judged"], row["state"]) == (finding.label, finding.state or "")
            assert row["operator"] == (finding.operator or "")
    assert data == write_csv(made, assessment, CATALOGUE)


def test_the_file_begins_with_the_mark_and_the_heading_and_ends_its_lines_as_the_rfc_says() -> None:
    data = write_csv(examination(), NOTHING, CATALOGUE)
    assert data == b"\xef\xbb\xbf" + ",".join(COLUMNS).encode() + b"\r\n"


def test_a_number_stands_in_its_unit_with_what_was_typed() -> None:
    reading = Reading(
        "ankle-dorsiflexion-knee-straight",
        Side.LEFT,
        Numbers((Decimal(-5), Decimal(-4), Decimal(-4))),
        "-5 -4 -4",
        method="goniometer",
        performed_at="2026-05-12T08:20:00Z",
    )
    (row,) = rows(reading)
    assert row["value"] == "-4.333333"
    assert (row["unit"], row["repeats"], row["side"]) == ("deg", "3", "left")
    assert row["typed"] == "'-5 -4 -4"
    assert (row["method"], row["performed_at"]) == ("goniometer", "2026-05-12T08:20:00Z")


def test_plain_numbers_are_never_guarded() -> None:
    (row,) = rows(Reading("fpi-medial-arch", Side.LEFT, Numbers((Decimal(-2),)), "-2"))
    assert (row["value"], row["typed"]) == ("-2", "-2")
    (row,) = rows(Reading("fpi-medial-arch", Side.LEFT, Numbers((Decimal(2),)), "+2"))
    assert (row["value"], row["typed"]) == ("2", "+2")


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+cmd",
        "-2+3",
        "@SUM(A1)",
        "\tx",
        "\r=1",
        "\n=1",
        " =1+1",
        "\u00a0=1",
        "＝1",
        "-",
        "＠x",
    ],
)
def test_a_text_that_would_run_is_guarded(text: str) -> None:
    assert note(text) == f"'{text}"


@pytest.mark.parametrize("text", ["a=b", "3-4", "", "plain", "‘=", "5 > 3"])
def test_other_text_stays_as_typed(text: str) -> None:
    assert note(text) == text


@pytest.mark.parametrize("text", ['say "no"', "a,b", "two\nlines", "two\r\nlines", '"', "Łódź ; x"])
def test_what_separates_cells_is_quoted_and_reads_back(text: str) -> None:
    assert note(text) == text


def test_absences_keep_kind_and_reason_and_have_no_value() -> None:
    absent = Reading("limp", Side.RIGHT, None, absent=Absence.DECLINED, reason="tired")
    (row,) = rows(absent)
    assert (row["absent"], row["reason"], row["value"], row["repeats"]) == (
        "declined",
        "tired",
        "",
        "",
    )


def test_values_of_other_kinds() -> None:
    found = rows(
        Reading("function-activities", None, Activities((("stairs", 4), ("=x", 0)))),
        Reading(
            "allergies", None, Rows(({"substance": "latex", "since": "2011"}, {"n": Decimal(2)}))
        ),
        Reading("tenderness", Side.LEFT, RegionValues({"heel-plantar-medial": Decimal(6)})),
        Reading("gone", None, Text("=1"), "=1"),
    )
    assert {row["measure"]: row["value"] for row in found} == {
        "allergies": "substance=latex; since=2011\nn=2",
        "function-activities": "stairs=4; =x=0",
        "tenderness": "heel-plantar-medial=6",
        "gone": "'=1",
    }
    assert found[-1]["measure"] == "gone"
    assert found[-1]["label"] == ""
