"""Where each key of a TOML file stands."""

import pytest

from footexam.catalogue.lines import Path, line_map, line_of

TEXT = '''\
# a comment = 1
top = 1
"quoted key" = 2

[[measure]]
id = "a"
label.en = "A = B"
words = [
  "x = 1",
]

[[measure.error]]
sem = 1

[[measure.error]]
sem = 2

[[measure]]
how.en = """
id = "not a key"
[not a header]
"""
low = [ { op = "<" }, { op = "<" },
  { op = ">" },
  { op = ">" } ]
high = [
  { op = "<=" },

  # between
  { op = ">=" },
]
[measure.more]
x = 1

[table]
y.z = \'\'\'one line\'\'\'
w = 3
[table.deeper]
v = 4
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("top",), 2),
        (("quoted key",), 3),
        (("measure", 0), 5),
        (("measure", 0, "id"), 6),
        (("measure", 0, "label"), 7),
        (("measure", 0, "label", "en"), 7),
        (("measure", 0, "words"), 8),
        (("measure", 0, "words", 0), 8),
        (("measure", 0, "error", 0), 12),
        (("measure", 0, "error", 0, "sem"), 13),
        (("measure", 0, "error", 1, "sem"), 16),
        (("measure", 0, "error", 1, "icc"), 15),
        (("measure", 1), 18),
        (("measure", 1, "how", "en"), 19),
        (("measure", 1, "low", 0), 23),
        (("measure", 1, "low", 1), 23),
        (("measure", 1, "low", 2), 24),
        (("measure", 1, "low", 3, "op"), 25),
        (("measure", 1, "high"), 26),
        (("measure", 1, "high", 0, "op"), 27),
        (("measure", 1, "high", 1), 30),
        (("measure", 1, "more", "x"), 33),
        (("table", "y", "z"), 36),
        (("table", "w"), 37),
        (("table", "deeper", "v"), 39),
        (("table", "missing", "deeper"), 35),
        (("nowhere",), 1),
        ((), 1),
    ],
)
def test_lines(path: Path, line: int) -> None:
    assert line_of(line_map(TEXT), path) == line


def test_what_looks_like_a_line_end_inside_a_text_is_none() -> None:
    assert line_of(line_map('a = "\u2028\x85\x0c"\nb = 1\n'), ("b",)) == 2


def test_no_text_no_lines() -> None:
    assert line_map("") == {}
