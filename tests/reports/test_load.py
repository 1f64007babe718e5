"""Training load on paper: the chart, what it amounts to, what is against it, when it is held."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from footexam.assessment import Assessment, Caution, assess
from footexam.catalogue.arguments import Hold
from footexam.drawing.shapes import Drawing, Text
from footexam.mechanics.diary import LOG, WEEKLY
from footexam.reports.blocks import Block, Para, Picture, Space, Table
from footexam.reports.examination import examination_report
from footexam.reports.load import MOST_LINES, Training, training, training_blocks
from footexam.reports.material import Material
from footexam.terms import Side, Tier
from tests.mechanics.test_diary import MONDAY, WEEK, session, table, week
from tests.published.cases import TODAY, assessed, forms, read
from tests.reports.pages import whole_text

DAYS = [float(row["load"]) for row in table("training_load_28d.csv")]
WEEKS = [float(row["load"]) for row in table("training_load_weeks.csv")]
READINGS: dict[str, Any] = {
    WEEKLY: [week(4 - place, load) for place, load in enumerate(WEEKS)],
    LOG: [session(28 - place, load) for place, load in enumerate(DAYS)],
}


def material(readings: dict[str, Any] = READINGS, *cautions: Caution) -> Material:
    made = assessed(readings)
    made = replace(made, cautions=(*made.cautions, *cautions))
    return Material(read(readings), made, forms(), "en")


def held(*holds: Hold, decision: str | None = None, side: Side | None = Side.LEFT) -> Caution:
    return Caution(
        "fracture", "x", side, Tier.SAME_DAY, ("measure:onset",), holds=holds, decision=decision
    )


def found(measure: str, *cautions: Caution, **readings: Any) -> Training:
    made = training(measure, material(readings or READINGS, *cautions))
    assert made is not None
    return made


def words(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def told(blocks: list[Block]) -> Iterator[str]:
    for block in blocks:
        for row in block.rows if isinstance(block, Table) else ():
            for cell in row.cells:
                yield from (
                    "".join(text for text, _ in piece.spans)
                    for piece in cell
                    if isinstance(piece, Para)
                )


# --- what is described


@pytest.mark.derived
def test_the_weeks_as_published_stand_in_the_chart_and_in_the_words() -> None:
    made = found(WEEKLY)
    days = [(MONDAY - (4 - place) * WEEK).strftime("%d") for place in range(4)]
    assert [word[:2] for word in words(made.chart)[3::] if word.endswith("2026")] == days
    for word in ("1760", "1890", "1720", "2550", "7 % more", "9 % less", "48 % more"):
        assert word in words(made.chart)
        assert word in made.chart_told
    first, *ratios = made.lines
    assert first.endswith("2550 (minutes × effort); against the week before: 48 % more.")
    assert [line.rsplit(" ", 1)[-1] for line in ratios] == ["1.29.", "1.42."]


@pytest.mark.derived
def test_the_days_as_published_give_monotony_and_strain() -> None:
    made = found(LOG)
    first, monotony, coupled, uncoupled, spike, rest = made.lines
    assert "to 03-Mar-2026: 2550" in first
    assert monotony.endswith("1.49. Strain (load × monotony): 3803.")
    assert coupled.endswith("hold them: 1.29.")
    assert uncoupled.endswith("others of the 28: 1.42.")
    steps = [now / max(DAYS[:place]) - 1 for place, now in enumerate(DAYS) if any(DAYS[:place])]
    assert spike.endswith(f"the 30 days before it: {max(steps):.0%}.".replace("%", " %"))
    assert "7 or more in a row count as not recorded" in rest


def test_a_longer_log_has_the_exponential_ratio_with_its_own_criticism() -> None:
    made = found(LOG, **{LOG: [session(29, 300), *READINGS[LOG]]})
    assert any(line.startswith("Averages in which later days weigh more") for line in made.lines)
    assert "exponential" in {one.about for one in made.against}
    assert "exponential" not in {one.about for one in found(LOG).against}


def test_what_is_told_has_its_criticism_beside_it_and_nothing_else_has() -> None:
    about = {one.about for one in found(LOG).against}
    assert about == {"change", "spike", "ratio", "monotony", "load"}
    assert {one.about for one in found(WEEKLY).against} == {"change", "ratio", "load"}
    short = found(WEEKLY, **{WEEKLY: [week(1, 500)]})
    assert {one.about for one in short.against} == {"load"}
    assert short.lines[-1] == "No ratio: it takes 28 known days in a row, not all of them rest."


def test_what_is_not_defined_is_said_to_be_so() -> None:
    alike = found(LOG, **{LOG: [session(7 - n, 100) for n in range(7)]})
    assert "Monotony of these 7 days is not defined: all days are alike." in alike.lines
    rest = found(WEEKLY, **{WEEKLY: [*(week(n, 0) for n in (4, 3, 2)), week(1, 100)]})
    assert [line for line in rest.lines if line.startswith("Mean of")] == [
        "Mean of the last 7 days over that of the last 28, which hold them: 4.00."
    ]
    assert "more" not in rest.chart_told


def test_gaps_parts_kilometres_and_equal_weeks_are_told_in_words() -> None:
    rows = [
        week(9, None, distance_km="20"),
        week(6, None, distance_km="20.25"),
        week(5, None, distance_km="20.25"),
        week(3, None, distance_km="10"),
        week(0, None, distance_km="4"),
    ]
    made = found(WEEKLY, **{WEEKLY: rows})
    said = words(made.chart)
    assert said[:2] == ["Week from", "km"]
    for word in (
        "20",
        "20.2",
        "2 weeks not recorded",
        "not recorded",
        "4 in part",
        "about the same",
    ):
        assert word in said, word
    assert any(line.startswith("In part (open bar)") for line in made.lines)
    log = found(LOG, **{LOG: [session(18 - n, 100) for n in range(8)]})
    assert "11 days not recorded" in words(log.chart)


def test_a_log_too_short_for_a_week_still_tells_its_step_up() -> None:
    made = found(LOG, **{LOG: [session(3, 100), session(1, 150)]})
    assert [line.rsplit(" ", 2)[-2:] for line in made.lines[:1]] == [["50", "%."]]
    assert {one.about for one in made.against} == {"spike", "load"}


def test_of_many_weeks_the_latest_are_drawn_and_the_others_counted() -> None:
    rows = [week(n, 500 + n) for n in range(1, MOST_LINES + 4)]
    made = found(WEEKLY, **{WEEKLY: rows})
    assert "3 earlier lines are not drawn." in made.lines
    assert sum(word.endswith(("2025", "2026")) for word in words(made.chart)) == MOST_LINES
    assert "501" in words(made.chart)
    assert "519" not in words(made.chart)


def test_no_description_says_risk_safe_or_danger() -> None:
    for made in (found(WEEKLY), found(LOG)):
        said = " ".join((*made.lines, made.chart_told, *words(made.chart))).casefold()
        for word in ("risk", "safe", "danger", "too much", "sweet", "limit", "threshold"):
            assert word not in said


# --- while a caution holds back loading


@pytest.mark.parametrize("hold", [Hold.LOADING, Hold.IMPACT])
@pytest.mark.parametrize("measure", [WEEKLY, LOG])
@pytest.mark.parametrize("side", [*Side, None])
def test_loads_stand_as_history_while_loading_is_held_back(
    hold: Hold, measure: str, side: Side | None
) -> None:
    made = found(measure, held(hold, side=side))
    name = forms().cautions["fracture"].label["en"]
    assert made.lines[0].startswith(f"A caution that holds back loading is open ({name}).")
    assert "2550" in words(made.chart)
    said = " ".join((*made.lines[1:], made.chart_told, *words(made.chart)))
    for word in ("%", "against", "Mean of", "Monotony", "step up", "Strain"):
        assert word not in said
    assert {one.about for one in made.against} == {"load"}


@pytest.mark.parametrize(
    "caution",
    [
        held(Hold.LOADING, decision="acted"),
        held(Hold.PROVOCATION),
        held(Hold.DEVICE),
        held(Hold.PAIN_GUIDED),
        held(),
    ],
)
def test_a_caution_that_is_seen_to_or_holds_back_something_else_holds_no_description(
    caution: Caution,
) -> None:
    assert found(WEEKLY, caution) == found(WEEKLY)


def test_a_real_caution_holds_it_back_until_what_was_done_is_recorded() -> None:
    danger = {"caution-cold-pale-foot": {"left": "yes"}}
    examination = read(READINGS | danger)
    before = training(WEEKLY, Material(examination, assess(examination, forms()), forms(), "en"))
    assert before is not None
    assert "Suddenly bloodless limb" in before.lines[0]
    done = {"decision": "acted", "by": "R. Lind", "at": f"{TODAY}T10:00:00Z", "done": "sent"}
    opened = {one.about for one in assess(examination, forms()).cautions if one.is_open}
    decided = replace(examination, decisions={"cautions": dict.fromkeys(opened, done)})
    after = training(WEEKLY, Material(decided, assess(decided, forms()), forms(), "en"))
    assert after is not None
    assert after.lines == found(WEEKLY).lines


# --- on the page


def test_paper_has_chart_and_lines_with_the_criticism_and_its_sources_beside_them() -> None:
    made = material()
    table_block, space = training_blocks(WEEKLY, made)
    assert isinstance(table_block, Table)
    assert isinstance(space, Space)
    (row,) = table_block.rows
    assert isinstance(row.cells[0][0], Picture)
    assert row.cells[0][0].drawing == found(WEEKLY).chart
    against = [
        "".join(text for text, _ in piece.spans)
        for piece in row.cells[1]
        if isinstance(piece, Para)
    ]
    assert len(against) == len(found(WEEKLY).against)
    assert all(text.endswith("]") and "\u00a0[" in text for text in against)
    cited = list(told(made.citations.blocks()))
    assert any("Frandsen et al. 2025" in text for text in cited)
    assert any("what is known against describing: Training by week" in text for text in cited)


def test_nothing_for_other_measures_nor_without_a_load() -> None:
    assert training_blocks("bone-stress-injuries", material()) == []
    assert training_blocks(WEEKLY, material({LOG: READINGS[LOG]})) == []


def report(readings: dict[str, Any], result: Assessment | None = None) -> str:
    examination = read(readings)
    return whole_text(
        examination_report(examination, result or assess(examination, forms()), forms())
    )


def test_the_report_prints_it_in_the_history_under_each_table() -> None:
    said = report(READINGS)
    start = said.index("All readings")
    weeks, log = said.index("Training by week", start), said.index("Training by session", start)
    assert weeks < said.index("Week from", start) < said.index("Last whole week, from") < log
    assert log < said.index("7 days to", start) < said.index("Monotony of these 7 days")
    assert "48 % more" in said
    assert said.count("higher weekly ratio went with less injury") == 2


def test_the_report_holds_the_description_back() -> None:
    made = assessed(READINGS)
    said = report(READINGS, replace(made, cautions=(held(Hold.LOADING),)))
    assert said.count("no change and no ratio is described here") == 2
    assert "48 % more" not in said
    assert "Monotony of these 7 days" not in said
