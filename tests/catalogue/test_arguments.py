"""Cautions, gates, hypotheses, conditions and accuracy as read, and every mistake that is told."""

from decimal import Decimal
from pathlib import Path

import pytest

from footexam.catalogue.arguments import Branch, Claim, Hold, Row
from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms
from footexam.catalogue.model import Catalogue
from footexam.terms import Grade, Provenance, Tier
from tests.catalogue.small import write_forms
from tests.catalogue.small_arguments import ARGUMENTS, arguments_with

CAUTIONS, GATES, DEFEATERS = "cautions.toml", "gates.toml", "defeaters.toml"
HYPOTHESES, CONDITIONS = "hypotheses/1-all.toml", "conditions/heel.toml"
ACCURACY, WEIGHING = "accuracy.toml", "weighing.toml"


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    return load_catalogue(write_forms(tmp_path_factory.mktemp("forms"), ARGUMENTS))


def test_a_caution(small: Catalogue) -> None:
    sign = small.cautions["broken"]
    assert (sign.label["en"], sign.holds) == ("Broken", (Hold.LOADING, Hold.DEVICE))
    assert sign.branches[0] == Branch(
        id="broken-now",
        tier=Tier.EMERGENCY,
        when='bone == "yes" and region(bone, "heel")',
        trigger={"en": "The bone hurts."},
        action={"en": "Go now."},
        umbrella=("bone", "hurry"),
        unfolds=("sore",),
        source="quill-2010",
        provenance=Provenance.PUBLISHED,
        guideline="Guide 2010",
        country="Nowhere",
        note={"en": "Rare."},
    )
    later = sign.branches[1]
    assert (later.tier, later.guideline, later.country, later.note) == (Tier.SAME_DAY, "", "", None)


def test_a_gate_and_a_check(small: Catalogue) -> None:
    gate, check = small.gates["no-hop"], small.checks["before-boot"]
    assert (gate.forbids, gate.causes[0].when) == (("pace",), 'bone == "yes"')
    assert (gate.because["en"], gate.record["en"]) == (
        "A danger sign is open.",
        "Press the bone first.",
    )
    assert (check.asks, check.says["en"], check.source) == (("sore",), "Ask first.", "reed-2012")


def test_a_hypothesis(small: Catalogue) -> None:
    one, other = small.hypotheses.values()
    assert (one.capacity, one.stable, one.why_now) == (False, True, False)
    assert (other.capacity, other.stable, other.why_now) == (True, False, False)
    assert (one.grade_mechanics, one.grade_injury) == (Grade.E2, Grade.E3)
    assert (one.conditions, one.tests) == (("heel-ache",), ("bend",))
    assert one.evidence[0].source == "quill-2010"
    assert one.support[1] == Row(
        when='sore == "yes"',
        says={"en": "It is sore."},
        group="",
        source="reed-2012",
        provenance=Provenance.PUBLISHED_UNCHECKED,
        ratio=Decimal("2.5"),
        note={"en": "n 20."},
    )


def test_a_weight_without_a_source_is_a_rule_of_thumb(small: Catalogue) -> None:
    row = small.hypotheses["stiff-bend"].require[0]
    assert (row.points, row.ratio, row.group) == (Decimal(3), None, "range")
    assert (row.source, row.provenance) == ("common-practice", Provenance.COMMON_PRACTICE)


def test_a_condition(small: Catalogue) -> None:
    found = small.conditions["heel-ache"]
    assert (found.nonunion_risk, found.reds_site_class) == ("low", "none")
    assert (found.modes, found.companions) == (("compression", "tension"), ("broken",))
    assert found.raises[0] == Claim(
        text={"en": "Sore in the morning."},
        source="quill-2010",
        provenance=Provenance.PUBLISHED,
        when='sore == "yes"',
        ratio=Decimal(3),
    )
    assert (found.claims[0].about, found.claims[0].text) == ("first_line", None)


def test_accuracy(small: Catalogue) -> None:
    sound, doubtful = small.accuracy.values()
    assert (sound.sensitivity, sound.ratio_negative, sound.computed) == (
        Decimal("0.8"),
        Decimal("0.29"),
        True,
    )
    assert sound.doubtful is None
    assert doubtful.doubtful == {"en": "A positive test that argues against."}
    assert doubtful.ratio_negative is None


def test_the_same_out_of_the_cache(small: Catalogue, tmp_path: Path) -> None:
    forms = write_forms(tmp_path / "forms", ARGUMENTS)
    for _ in range(2):
        again = load_catalogue(forms, tmp_path / "cache")
        assert (again.cautions, again.hypotheses) == (small.cautions, small.hypotheses)
        assert (again.conditions, again.accuracy) == (small.conditions, small.accuracy)
        assert (again.gates, again.checks) == (small.gates, small.checks)
        assert (again.defeaters, again.weighing) == (small.defeaters, small.weighing)


CIRCLE = "“guarded” rebuts itself in a circle"
OTHER_WAY = "this likelihood ratio points the other way"
MORNING = 'text.en = "Sore in the morning."\n'

EVEN = "against = [{ when = 'bend-left-right < 1', says = { en = \"Even.\" }, points = 1 }]"
CHAIN = """\
measures = []
unless = ["late"]
when = 'pace == "slow"'
says.en = "Slow."
source = "reed-2012"
provenance = "published"

[[defeater]]
id = "late"
measures = []
when = 'pace == "fast"'"""

# file, part to replace, what to put there, part of the line that is named, what is said
WRONG = [
    # cautions
    (CAUTIONS, '"loading", ', '"walking", ', "holds = ", "“walking” cannot be held"),
    (CAUTIONS, '"emergency"', '"soon"', "tier", "“soon” is not known for “tier”"),
    (CAUTIONS, 'source = "quill-2010"\n', "", "[[caution.branch]]", "“source” is missing"),
    (CAUTIONS, 'source = "quill-2010"', 'source = ""', 'source = ""', "“” is not known"),
    (CAUTIONS, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (CAUTIONS, 'unfolds = ["sore"]', 'unfolds = ["sour"]', "sour", "“sour” is not known"),
    (CAUTIONS, '"bone", "hurry"', '"bone", "rush"', "rush", "“rush” is not known"),
    (CAUTIONS, "bone == ", "bones == ", "bones", "“bones” is not known"),
    (CAUTIONS, '(bone, "heel")', '(bone, "hell")', "hell", "“hell” is not known"),
    (CAUTIONS, 'sore == "yes"', 'sore == "yeah"', "yeah", "“yeah” is not a word of sore"),
    (CAUTIONS, 'sore == "yes"', "sore ==", "sore ==", "cannot be read at “and sex == "),
    (CAUTIONS, '"emergency"', '"routine-referral"', "#2 [[caution.branch]]",
     "“broken-later” is more serious than the branch before it"),
    (CAUTIONS, 'id = "broken-later"', 'id = "broken-now"', "#3 id = ",
     "“broken-now” is given twice"),
    (CAUTIONS, 'guideline = "G', 'guide = "G', "guide = ", "the key “guide” is not known here"),
    (CAUTIONS, "action.en", "action.nl", "action.nl", "“action” lacks the language en"),
    # gates and checks
    (GATES, 'forbids = ["pace"]', 'forbids = ["peace"]', "peace", "“peace” is not known"),
    (GATES, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (GATES, 'bone == "yes"', 'bone == "ja"', 'bone == "ja"', "“ja” is not a word of bone"),
    (GATES, 'asks = ["sore"]', 'asks = ["sour"]', "asks = ", "“sour” is not known"),
    (GATES, '"reed-2012"', '"read"', '"read"', "“read” is not known"),
    (GATES, 'record.en = "Press the bone first."\n', "", "[[gate]]", "“record” is missing"),
    # hypotheses
    (HYPOTHESES, 'tests = ["bend"]', 'tests = ["band"]', "band", "“band” is not known"),
    (HYPOTHESES, '["heel-ache"]', '["hell-ache"]', "hell-ache", "“hell-ache” is not known"),
    (HYPOTHESES, "low(bend)", "low(band)", "low(band)", "“band” is not known"),
    (HYPOTHESES, '"load"', '"lode"', "side_of_argument", "“lode” is not known"),
    (HYPOTHESES, '"E3"', '"E5"', "grade_injury", "“E5” is not known for “grade_injury”"),
    (HYPOTHESES, "points = 3\n", "", "[[hypothesis.require]]", "a row has points or a ratio"),
    (HYPOTHESES, "ratio = 2.5", "ratio = 2.5\npoints = 2", "points = 2\n",
     "a row has points or a ratio"),
    (HYPOTHESES, "points = 3", "points = -3", "points = -3", "points lie between 0 and 10"),
    (HYPOTHESES, "points = 3", "points = 11", "points = 11", "points lie between 0 and 10"),
    (HYPOTHESES, "ratio = 2.5", "ratio = 0.89", "ratio = 0.89", OTHER_WAY),
    (HYPOTHESES, "ratio = 2.5", "ratio = 1", "ratio = 1", OTHER_WAY),
    (HYPOTHESES, "ratio = 2.5", "ratio = -2", "ratio = -2", OTHER_WAY),
    (HYPOTHESES, "ratio = 0.4", "ratio = 1.4", "ratio = 1.4", OTHER_WAY),
    (HYPOTHESES, "ratio = 0.4", "ratio = 0", "ratio = 0", OTHER_WAY),
    (HYPOTHESES, "ratio = 0.4", "ratio = 1", "ratio = 1", OTHER_WAY),
    (HYPOTHESES, 'source = "reed-2012"\n', "", "#2 [[hypothesis.support]]", "“source” is missing"),
    (HYPOTHESES, 'ratio = 2.5\nsource = "reed-2012"\nprovenance = "published-unchecked"',
     'ratio = 2.5\nsource = "reed-2012"', "#2 [[hypothesis.support]]", "“provenance” is missing"),
    (HYPOTHESES, 'source = "quill-2010"', 'source = "quail"', "quail", "“quail” is not known"),
    (HYPOTHESES, '"reed-2012"', '"read"', '"read"', "“read” is not known"),
    (HYPOTHESES, "would be expected to load the heel", "is caused by the heel", "caused by",
     "a hypothesis never says “caused by”"),
    (HYPOTHESES, "Less bend, more load", "It causes load", "mechanism", "never says “caused by”"),
    (HYPOTHESES, "It bends little.", "Caused by little bend.", "says.en", "never says “caused by”"),
    (HYPOTHESES, "Most stiff", "No cause: most stiff", "counter", "never says “caused by”"),
    (HYPOTHESES, 'label.en = "Stiff bend"', 'label.en = "Causes"', "label", "never says “caused"),
    (HYPOTHESES, "Stiff people had", "Stiffness causes", "Stiffness causes", "never says “caused"),
    (HYPOTHESES, EVEN, "against = []", "#2 [[hypothesis]]",
     "a hypothesis needs a row of “against”"),
    (HYPOTHESES, "require = [{ when = 'pace == \"slow\"', says = { en = \"Slow.\" }, points = 0 }]",
     "require = []", "#2 [[hypothesis]]", "a hypothesis needs a row of “require”"),
    (HYPOTHESES, 'evidence = [{ source = "common-practice", provenance = "common-practice" }]\n',
     "", "#2 [[hypothesis]]", "a claim needs a source"),
    (HYPOTHESES, f"{EVEN}\n", "", "#2 [[hypothesis]]", "“against” is missing"),
    # expressions
    (HYPOTHESES, "age < 18", "age < bend", "age < bend", "“age” cannot be asked so"),
    (HYPOTHESES, "age < 18", "side_difference(age) > 1", "side_difference(age)",
     "“age” cannot be asked so"),
    (HYPOTHESES, "age < 18", 'age == "old"', "age == ", "“age” cannot be asked so"),
    (HYPOTHESES, "age < 18", "low(age)", "low(age)", "“age” cannot be asked so"),
    (HYPOTHESES, "age < 18", "sex < 18", "sex < 18", "“sex” cannot be asked so"),
    (HYPOTHESES, "age < 18", 'sex == "f"', 'sex == "f"', "“sex” cannot be asked so"),
    (HYPOTHESES, "age < 18", "bend < age", "bend < age", "“age” is not known"),
    (HYPOTHESES, "age < 18", "bend < band", "bend < band", "“band” is not known"),
    (HYPOTHESES, "age < 18", "bend < mass", "bend < mass", "“bend” and “mass” differ in unit"),
    (HYPOTHESES, "age < 18", "bend < pace", "bend < pace", "“bend” and “pace” differ in unit"),
    (HYPOTHESES, "age < 18", "pace < 18", "pace < 18", "“pace” is no number"),
    (HYPOTHESES, "age < 18", "high(sore)", "high(sore)", "“sore” is no number"),
    (HYPOTHESES, "age < 18", "ok(mass)", "ok(mass)", "no norm says what is usual for “mass”"),
    (HYPOTHESES, "age < 18", "high(bend-left-right)", "high(bend-left-right)",
     "no norm says what is usual for “bend-left-right”"),
    (HYPOTHESES, "age < 18", "side_percent(mass) > 9", "side_percent(mass)",
     "“mass” has no sides"),
    (HYPOTHESES, "age < 18", 'mass == "heavy"', "mass == ", "“heavy” is not a word of mass"),
    (HYPOTHESES, "age < 18", 'days-out == "yes"', "days-out", "“yes” is not a word of days-out"),
    (HYPOTHESES, '(hobbies, "fast")', '(hobbies, "chess")', "chess", "“chess” is not a word of"),
    (HYPOTHESES, '(hobbies, "fast")', '(bend, "fast")', "has(bend", "“fast” is not a word of bend"),
    (HYPOTHESES, '(where, "heel")', '(pace, "heel")', "region(pace", "“pace” is no map"),
    (HYPOTHESES, '(where, "heel")', '(there, "heel")', "region(there", "“there” is not known"),
    # defeaters
    (DEFEATERS, 'measures = ["bend"]', 'measures = ["band"]', "band", "“band” is not known"),
    (DEFEATERS, 'sore == "yes"', 'sour == "yes"', "sour", "“sour” is not known"),
    (DEFEATERS, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (DEFEATERS, 'unless = ["calm"]', 'unless = ["clam"]', "clam", "“clam” is not known"),
    (DEFEATERS, 'unless = ["calm"]', 'unless = ["guarded"]', "unless", CIRCLE),
    (DEFEATERS, "measures = []", 'measures = []\nunless = ["guarded"]', "unless", CIRCLE),
    # conditions
    (CONDITIONS, 'regions = ["heel"]', 'regions = ["hell"]', "hell", "“hell” is not known"),
    (CONDITIONS, '["broken"]', '["token"]', "token", "“token” is not known"),
    (CONDITIONS, '"tension"]', '"push"]', "modes", "“push” is no mode of load"),
    (CONDITIONS, '"low"', '"some"', "nonunion_risk", "“some” is not known"),
    (CONDITIONS, '"none"', '"maybe"', "reds_site_class", "“maybe” is not known"),
    (CONDITIONS, MORNING, "", "[[condition.raises]]", "a claim needs a text"),
    (CONDITIONS, 'text.en = "Not sore."\n', "", "[[condition.lowers]]", "a claim needs a text"),
    (CONDITIONS, "ratio = 3", "ratio = 0.3", "ratio = 0.3", OTHER_WAY),
    (CONDITIONS, "ratio = 0.5", "ratio = 1.5", "ratio = 1.5", OTHER_WAY),
    (CONDITIONS, 'sore == "yes"', 'sore = "yes"', 'when = ', "cannot be read at “= \"yes\"”"),
    (CONDITIONS, "Not sore.", "Not caused by it.", "Not caused", "never says “caused by”"),
    (CONDITIONS, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (CONDITIONS, 'source = "reed-2012"\nprovenance = "published"\n\n[[condition.claim]]',
     'provenance = "published"\n\n[[condition.claim]]', "[[condition.lowers]]",
     "“source” is missing"),
    # accuracy
    (ACCURACY, 'measure = "sore"', 'measure = "sour"', "sour", "“sour” is not known"),
    (ACCURACY, '"heel-ache"', '"hell-ache"', "hell-ache", "“hell-ache” is not known"),
    (ACCURACY, '"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    (ACCURACY, "ratio_positive = 2.67", "ratio_positive = 0.89", "ratio_positive = 0.89",
     "a positive test argues against"),
    (ACCURACY, "ratio_negative = 0.29", "ratio_negative = 3.3", "ratio_negative = 3.3",
     "a negative test argues for"),
    (ACCURACY, "ratio_positive = 2.67", "ratio_positive = 3.3", "ratio_positive = 3.3",
     "3.3 is not what sensitivity and specificity give (2.67)"),
    (ACCURACY, "ratio_negative = 0.29", "ratio_negative = 0.22", "ratio_negative = 0.22",
     "0.22 is not what sensitivity and specificity give (0.29)"),
    (ACCURACY, 'doubtful.en = "A positive test that argues against."\n', "",
     "ratio_positive = 0.5", "a positive test argues against"),
    # weighing
    (WEIGHING, 'id = "minutes-move"', 'id = "minutes-walk"', "", "“minutes-move” is missing"),
    (WEIGHING, 'source = "common-practice"', 'source = "thumb"', "thumb", "“thumb” is not known"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "old", "new", "at", "what"), WRONG)
def test_a_mistake_is_told_with_file_and_line(
    tmp_path: Path, name: str, old: str, new: str, at: str, what: str
) -> None:
    files = arguments_with(name, old, new)
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, files))
    found = [one for one in bad.value.mistakes if what in one.what]
    assert found, str(bad.value)
    assert (found[0].file, found[0].line) == (name, line(files[name], at)), str(bad.value)


def line(text: str, at: str) -> int:
    """The line that holds a part; "#2 part": the second such line; "": the first line."""
    nth, _, part = at.rpartition("#")[2].partition(" ") if at.startswith("#") else ("1", "", at)
    holding = [
        number for number, row in enumerate(f"{text}\n".split("\n"), 1) if part in f"{row}\n"
    ]
    return holding[int(nth) - 1]


def test_a_caution_without_a_branch(tmp_path: Path) -> None:
    text = '\n[[caution]]\nid = "bare"\nlabel.en = "Bare"\nholds = []\nbranch = []\n'
    files = {**ARGUMENTS, CAUTIONS: ARGUMENTS[CAUTIONS] + text}
    with pytest.raises(BadForms, match="a caution needs a branch; nothing was loaded; add"):
        load_catalogue(write_forms(tmp_path, files))


CONTRADICTION = """\
[[contradiction]]
id = "two-answers"
when = 'pace == "slow" and bend < 1'
says.en = "One of the two is a slip."
"""


def test_a_contradiction_is_asked_about_from_what_was_read(tmp_path: Path) -> None:
    name = "contradictions.toml"
    sound = {**ARGUMENTS, name: CONTRADICTION}
    assert "two-answers" in load_catalogue(write_forms(tmp_path / "sound", sound)).contradictions
    worked_out = {**ARGUMENTS, name: CONTRADICTION.replace("bend < 1", "bend-left-right < 1")}
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path / "worked-out", worked_out))
    (mistake,) = bad.value.mistakes
    assert (mistake.file, mistake.line) == (name, 3)
    assert "“bend-left-right” is worked out" in mistake.what


ALLOWED = [
    # two branches of one tier stand in any order
    (CAUTIONS, '"same-day"', '"emergency"'),
    # a group of places is as good as a place
    (HYPOTHESES, '(where, "heel")', '(where, "leg")'),
    # a yes-or-no question with places may be asked both ways
    (HYPOTHESES, "age < 18", 'clear(bone, "heel") or bone == "no"'),
    (HYPOTHESES, "age < 18", "bend-left-right <= bend"),
    (HYPOTHESES, "age < 18", 'sex != "male"'),
    # a condition may stand beside another one, and beside a caution
    (CONDITIONS, '["broken"]', '["heel-ache"]'),
    (ACCURACY, 'condition = "heel-ache"', 'condition = "broken"'),
    # a printed ratio within a fifth of the one worked out
    (ACCURACY, "ratio_positive = 2.67", "ratio_positive = 3.1"),
    (ACCURACY, "specificity = 0.7", "specificity = 1"),
    (ACCURACY, "specificity = 0.7\nratio_positive = 2.67", "ratio_positive = 1"),
    (ACCURACY, "ratio_positive = 2.67\nratio_negative = 0.29\n", ""),
    (DEFEATERS, 'unless = ["calm"]\n', ""),
    # a chain of rebuttals is no circle
    (DEFEATERS, "measures = []\nwhen = 'pace == \"slow\"'",
     CHAIN),
]  # fmt: skip


@pytest.mark.parametrize(("name", "old", "new"), ALLOWED)
def test_what_looks_alike_and_is_no_mistake(tmp_path: Path, name: str, old: str, new: str) -> None:
    assert load_catalogue(write_forms(tmp_path, arguments_with(name, old, new))).hypotheses


def test_a_circle_far_away_is_not_ours(tmp_path: Path) -> None:
    text = ARGUMENTS[DEFEATERS] + (
        '\n[[defeater]]\nid = "far"\nmeasures = []\nwhen = \'sore == "no"\'\nsays.en = "Far."\n'
        'unless = ["guarded", "calm"]\nsource = "reed-2012"\nprovenance = "published"\n'
    )
    text = text.replace("measures = []\n", 'measures = []\nunless = ["guarded"]\n', 1)
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, {**ARGUMENTS, DEFEATERS: text}))
    circles = [one.what for one in bad.value.mistakes if "in a circle" in one.what]
    assert circles == [
        "“guarded” rebuts itself in a circle",
        "“calm” rebuts itself in a circle",
    ]


def test_without_hypotheses_nothing_need_be_weighed(tmp_path: Path) -> None:
    files = {**ARGUMENTS, WEIGHING: "", HYPOTHESES: ""}
    assert load_catalogue(write_forms(tmp_path, files)).cautions
