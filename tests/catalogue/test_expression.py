"""The grammar of expressions: what is read into which tree, and what is refused where."""

from decimal import Decimal

import pytest

from footexam.catalogue.expression import (
    BadExpression,
    Compared,
    Either,
    Every,
    Expression,
    Marked,
    Ranged,
    Worded,
    atoms,
    measures_of,
    parse_expression,
)

A = Worded("a", ("x",))
B = Worded("b", ("y",))
C = Worded("c", ("z",))

ATOMS: list[tuple[str, Expression]] = [
    ('caution-fever == "yes"', Worded("caution-fever", ("yes",))),
    ('pace != "fast"', Worded("pace", ("fast",), is_one=False)),
    ('pace in ("slow", "fast")', Worded("pace", ("slow", "fast"))),
    ('pace in ("slow")', Worded("pace", ("slow",))),
    ('pace == ""', Worded("pace", ("",))),
    ("bend < 65", Compared("bend", "<", Decimal(65))),
    ("bend <= -2.5", Compared("bend", "<=", Decimal("-2.5"))),
    ("bend > 0", Compared("bend", ">", Decimal(0))),
    ("bend >= 0.10", Compared("bend", ">=", Decimal("0.10"))),
    ("bend == 3", Compared("bend", "==", Decimal(3))),
    ("bend != 3", Compared("bend", "!=", Decimal(3))),
    ("shoe-width < foot-breadth", Compared("shoe-width", "<", "foot-breadth")),
    ("low(bend)", Ranged("bend", "low")),
    ("ok( bend )", Ranged("bend", "ok")),
    ("high(bend)", Ranged("bend", "high")),
    ('region(map, "r1", "r2")', Marked("map", "region", ("r1", "r2"))),
    ('clear(map, "r1")', Marked("map", "clear", ("r1",))),
    ('has(list, "c1", "c2")', Marked("list", "has", ("c1", "c2"))),
    ("side_difference(bend) > 5", Compared("bend", ">", Decimal(5), "side_difference")),
    ("side_percent(bend) <= 10", Compared("bend", "<=", Decimal(10), "side_percent")),
    ("age >= 18", Compared("age", ">=", Decimal(18))),
    ('sex == "female"', Worded("sex", ("female",))),
    ("  bend<65  ", Compared("bend", "<", Decimal(65))),
    ('a=="x"and b=="y"', Every((A, B))),
]


@pytest.mark.parametrize(("text", "tree"), ATOMS)
def test_an_atom(text: str, tree: Expression) -> None:
    assert parse_expression(text) == tree


TREES: list[tuple[str, Expression]] = [
    ('a == "x" and b == "y"', Every((A, B))),
    ('a == "x" or b == "y" or c == "z"', Either((A, B, C))),
    ('a == "x" or b == "y" and c == "z"', Either((A, Every((B, C))))),
    ('a == "x" and b == "y" or c == "z"', Either((Every((A, B)), C))),
    ('(a == "x" or b == "y") and c == "z"', Every((Either((A, B)), C))),
    ('a == "x" and (b == "y" or c == "z")', Every((A, Either((B, C))))),
    ('((a == "x"))', A),
    ('(a == "x" and b == "y") and c == "z"', Every((Every((A, B)), C))),
]


@pytest.mark.parametrize(("text", "tree"), TREES)
def test_and_binds_tighter_than_or(text: str, tree: Expression) -> None:
    assert parse_expression(text) == tree


REFUSED = [
    # text, what stands where it cannot be read
    ("", "the end"),
    ("   ", "the end"),
    ("bend", "the end"),
    ("bend <", "the end"),
    ("bend 5", "5"),
    ("bend < fast5 5", "5"),
    ('bend < "x"', '< "x"'),
    ('bend in "x"', '"x"'),
    ("bend in (x)", "x )"),
    ('bend in ("x"', "the end"),
    ('bend in ("x" "y")', '"y" )'),
    ('a == "x" and', "the end"),
    ('and a == "x"', 'and a == "x"'),
    ('or a == "x"', 'or a == "x"'),
    ('in ("x")', 'in ( "x" )'),
    ('a == "x" b == "y"', 'b == "y"'),
    ('(a == "x"', "the end"),
    ('a == "x")', ")"),
    ("5 < bend", "5 < bend"),
    ("low bend", "bend"),
    ("low()", ")"),
    ("low(bend", "the end"),
    ("low(5)", "5 )"),
    ("region(map)", ")"),
    ('region("r1")', '"r1" )'),
    ("region(map, r1)", "r1 )"),
    ('region(map, "r1"', "the end"),
    ("side_difference(bend)", "the end"),
    ("side_difference(bend) > other", "other"),
    ('side_difference(bend) == "x"', '"x"'),
    ("side_percent(bend) + 5", "+ 5"),
    ('not a == "x"', 'a == "x"'),
    ("a = 5", "= 5"),
    ("A == 5", "A == 5"),
    ("a == 'x'", "'x'"),
    ("a == “x”", "“x”"),
    ('a == "x', '"x'),
    ("bend < .5", ".5"),
    ("bend < 5.", "."),
    ("__import__(os)", "__import__(os)"),
    ("a == 5; b == 5", "; b == 5"),
    ("bend < -", "-"),
    ("bend < and", "and"),
]


@pytest.mark.parametrize(("text", "at"), REFUSED)
def test_what_cannot_be_read_is_refused_at_its_place(text: str, at: str) -> None:
    with pytest.raises(BadExpression) as bad:
        parse_expression(text)
    assert str(bad.value) == f"“{text}” cannot be read at “{at}”"


def test_nothing_is_run() -> None:
    with pytest.raises(BadExpression):
        parse_expression("age.__class__ == 5")


def test_atoms_and_measures_in_the_order_they_are_written() -> None:
    tree = parse_expression(
        'low(c) and (a < b or sex == "male") and age > 8 and a == "x" and region(map, "r")'
    )
    assert [atom.measure for atom in atoms(tree)] == ["c", "a", "sex", "age", "a", "map"]
    assert measures_of(tree) == ("c", "a", "b", "map")
    assert measures_of(parse_expression("age > 8")) == ()


def test_a_deeply_nested_text_is_read_or_refused_and_never_breaks() -> None:
    assert parse_expression("(" * 50 + 'a == "x"' + ")" * 50) == A
