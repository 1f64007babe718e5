"""The review plan: outcomes with the change that counts as real, a schedule with its sources."""

from dataclasses import replace
from decimal import Decimal

import pytest

from footexam.assessment import Assessment, assess
from footexam.demo import demo_files, previous
from footexam.record.examination import Examination
from footexam.record.reading import Activities
from footexam.reports.blocks import Block, Para, Table
from footexam.reports.examination import examination_report
from footexam.reports.material import Material
from footexam.reports.review_plan import review_plan
from footexam.terms import Side
from tests.reports import builders as b
from tests.reports.pages import whole_text
from tests.reports.test_demo_reports import CATALOGUE, examination
from tests.reports.test_referral import bare

ALL = {path.stem: examination(path) for path in demo_files()}
PLANNED, LIFTED = "06-medial-ankle-pain-visit-2", "03-heel-pain-visit-2"


def judged(made: Examination) -> Assessment:
    return assess(made, CATALOGUE, previous(made, ALL.values()))


def blocks(made: Examination | str) -> list[Block]:
    made = ALL[made] if isinstance(made, str) else made
    return review_plan(Material(made, judged(made), CATALOGUE, "en"))


def text(one: Para) -> str:
    return "".join(words for words, _ in one.spans)


def rows(made: Examination | str) -> dict[str, list[str]]:
    """The rows of the outcomes by name."""
    found = {}
    for block in blocks(made):
        for row in block.rows if isinstance(block, Table) else ():
            cells = [" ".join(text(p) for p in cell if isinstance(p, Para)) for cell in row.cells]
            found[cells[0]] = cells[1:]
    return found


def paragraphs(made: Examination | str) -> str:
    return "\n".join(text(block) for block in blocks(made) if isinstance(block, Para))


def planned(**readings: object) -> Examination:
    made = bare(**readings)
    return replace(made, decisions={"features": [{"id": "heel-lift", "side": "left"}]})


def test_without_a_plan_or_while_it_is_held_there_is_none() -> None:
    assert blocks(bare()) == []
    wanted = {"features": [{"id": "heel-lift", "side": "left"}]}
    assert blocks(replace(ALL["04-diabetes-wound-visit-1"], decisions=wanted)) == []


def test_outcomes_stand_with_their_value_now_and_what_counts_as_real() -> None:
    told = rows(PLANNED)
    left, right, counts, better = told["Pain at its worst in the last week"]
    assert (left, right, better) == ("4 points", "0 points", "less")
    finding = next(
        one
        for one in judged(ALL[PLANNED]).findings
        if (one.measure, one.side) == ("pain-worst", Side.LEFT)
    )
    assert finding.change_needed is not None
    assert counts.startswith(f"{finding.change_needed:.1f} points [")
    assert told["Foot function index, total percent"][1:] == ["not known", "less"]


def test_what_has_no_side_does_not_stand_under_one() -> None:
    now, *_ = rows(PLANNED)["Lower extremity function, total"]
    assert now == "53 points now, no side"
    table = next(one for one in blocks(PLANNED) if isinstance(one, Table))
    assert all(row.own if len(row.cells) == 4 else not row.own for row in table.rows)


def test_what_the_accepted_hypotheses_rest_on_is_measured_again() -> None:
    told = rows(PLANNED)
    assert told["Foot Posture Index, total"][:2] == ["+10 points", "+7 points"]
    assert told["Foot Posture Index, total"][2].startswith("1.9 points")
    # nothing says which way is better
    assert told["Foot Posture Index, total"][3] == ""


@pytest.mark.parametrize(("scores", "counts"), [((4, 7, 6), "2.1 points"), ((4,), "not known")])
def test_the_mean_of_activities_and_when_its_error_is_known(
    scores: tuple[int, ...], counts: str
) -> None:
    named = Activities(tuple((f"thing {place}", score) for place, score in enumerate(scores)))
    now, needed, better = rows(planned(function_activities=named))["Mean of the activities named"]
    mean = Decimal(sum(scores)) / len(scores)
    assert now == f"{round(mean, 1):f} points now, no side".replace(".0 ", " ") or now.startswith(
        f"{mean:.1f}"
    )
    assert needed.startswith(counts)
    assert better == "more"


def test_the_larger_change_counts_where_the_sides_differ() -> None:
    once = dict([b.entry("pain-worst", b.numbers("4"), Side.LEFT)])
    made = planned()
    told = rows(replace(made, readings={**made.readings, **once}))
    assert told["Pain at its worst in the last week"][:2] == ["4 points", ""]


def test_without_an_outcome_it_asks_for_one() -> None:
    assert "No outcome was recorded by which the plan could be judged" in paragraphs(planned())
    assert rows(planned()) == {}


def test_a_schedule_with_source_and_standing() -> None:
    told = paragraphs(LIFTED)
    assert "When: At the fitting: fit in the shoe, gait, and the skin after 10 minutes." in told
    assert "At 12 weeks: the outcome." in told
    assert "In which order to change: First the fit." in told
    assert "over a sham a small gain at 7 to 12 weeks (-0.27 standard deviations" in told
    assert "], published" in told
    assert "], common practice" in told
    assert "A child" not in told


def test_what_is_general_and_what_is_for_a_child_follow_one_heading() -> None:
    made = planned()
    child = replace(made, patient=replace(made.patient, birth_date="2015-02-01"))
    told = paragraphs(child)
    assert told.count("When: ") == 1
    assert "A child is seen every 4 to 6 months." in told


def test_the_report_prints_it_and_lists_its_sources() -> None:
    made = ALL[PLANNED]
    told = whole_text(examination_report(made, judged(made), CATALOGUE))
    assert "Review plan" in told
    assert "published: review plan: what to expect" in told.casefold()
    made = ALL["03-heel-pain-visit-1"]
    assert "Review plan" not in whole_text(examination_report(made, judged(made), CATALOGUE))
