"""Cells of tables, one column kind each."""

from decimal import Decimal
from typing import Any

import pytest

from footexam.catalogue.model import Catalogue, Column
from footexam.record import cells
from footexam.record.refusal import Refusal


def column(kind: str) -> Column:
    limits = (Decimal(-5), Decimal(5000)) if kind == "number" else (None, None)
    words = ("street", "soft-trail") if kind == "choice" else ()
    return Column("c", kind, {"en": "C"}, words, *limits)


@pytest.mark.parametrize(
    ("kind", "typed", "value"),
    [
        ("date", "2024-02-29", "2024-02-29"),
        ("date", "2024-02", "2024-02"),
        ("date", "2024", "2024"),
        ("week", "2026-02-23", "2026-02-23"),
        ("number", 3, Decimal(3)),
        ("number", Decimal("2.5"), Decimal("2.5")),
        ("number", " -2,5 ", Decimal("-2.5")),
        ("number", "7,500", Decimal("7.500")),  # 7500 is beyond the limits: no doubt what is meant
        ("text", "left shin", "left shin"),
        ("choice", "Soft Trail", "soft-trail"),
        ("yes-no", "Yes", "yes"),
        ("side", "both", "both"),
        ("region", "navicular", "navicular"),
    ],
)
def test_taken(catalogue: Catalogue, kind: str, typed: Any, value: object) -> None:
    assert cells.read(typed, column(kind), catalogue) == value


@pytest.mark.parametrize(
    ("kind", "typed", "code"),
    [
        ("date", "2023-02-29", "not-a-date"),
        ("date", None, "not-a-date"),
        ("date", "2024-2-3", "not-a-date"),
        ("date", "2024-02-03\n", "not-a-date"),
        ("date", "٢٠٢٤", "not-a-date"),
        ("week", "2026-02-24", "not-a-monday"),
        ("week", "2026", "not-a-day"),
        ("number", 5001, "bad-cell"),
        ("number", "3 kg", "bad-cell"),
        ("number", "", "bad-cell"),
        ("number", [3], "bad-cell"),
        ("number", "1,500", "two-ways"),
        ("text", 3, "not-text"),
        ("choice", "grass", "bad-cell"),
        ("choice", "", "bad-cell"),
        ("choice", None, "bad-cell"),
        ("yes-no", "maybe", "bad-cell"),
        ("side", "middle", "bad-cell"),
        ("region", "elbow", "bad-cell"),
        ("region", 3, "bad-cell"),
        ("region", ["navicular"], "bad-cell"),
    ],
)
def test_refused(catalogue: Catalogue, kind: str, typed: Any, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        cells.read(typed, column(kind), catalogue)
    assert refused.value.code == code


def test_every_kind_of_column_is_known_to_the_loader() -> None:
    from footexam.catalogue.check import COLUMN_KINDS

    assert cells.COLUMN_KINDS == COLUMN_KINDS


def test_what_fits_is_told(catalogue: Catalogue) -> None:
    with pytest.raises(Refusal) as refused:
        cells.read("grass", column("choice"), catalogue)
    assert str(refused.value) == (
        "“grass” does not fit the column “c”; nothing was stored; give street or soft-trail."
    )
    with pytest.raises(Refusal) as refused:
        cells.read("5001", column("number"), catalogue)
    assert "give a number from -5 to 5000" in str(refused.value)
