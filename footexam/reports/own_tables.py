"""Answers given in rows (training weeks, medicines), printed as tables of their own."""

from collections.abc import Iterable, Mapping

from footexam.record.reading import Reading, Rows
from footexam.reports.blocks import SMALL, Block, Heading, Row, Space, Table, cell, header, para
from footexam.reports.material import Material
from footexam.reports.values import remarks, row_cells

LONG = 14
"""Characters from which a column of a table measure gets more width."""

TEXT_SHARE = 2.4
"""How much more."""


def own_table(reading: Reading, value: Rows, material: Material) -> list[Block]:
    """The rows of a table measure under the names of the columns that are filled."""
    known = material.measure(reading.measure)
    rows = [row_cells(row, known.columns, material) for row in value.rows]
    labels = {column.id: material.say(column.label) for column in known.columns}
    filled = dict.fromkeys(name for row in rows for name in row)
    names = [
        *(name for name in labels if name in filled),
        *(name for name in filled if name not in labels),
    ]
    shares = [TEXT_SHARE if _is_long(name, rows) else 1.0 for name in names]
    table = Table(
        tuple(share / sum(shares) for share in shares),
        tuple(Row(tuple(cell(row.get(name, "")) for name in names)) for row in rows),
        header(*(labels.get(name, name) for name in names)),
    )
    small = [para(text, style=SMALL) for text in remarks(reading, material)]
    return [Heading(material.label(reading.measure), 2), table, *small, Space(4)]


def _is_long(name: str, rows: Iterable[Mapping[str, str]]) -> bool:
    """Whether a column holds more than a few words."""
    return any(len(row.get(name, "")) > LONG for row in rows)
