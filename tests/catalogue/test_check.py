"""Mistakes that only show between the tables of forms/."""

from pathlib import Path

import pytest

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms
from tests.catalogue.small import with_mistake, write_forms

PANEL, MOVING, NORMS = "panels/1-standing.toml", "panels/2-moving.toml", "norms/bend.toml"
RULE = 'rule = [{ id = "far", at = 1, source = "quill-2010", provenance = "published" }]\n'
OUTWARD = "the cuts are not ordered outward"
TWO = "two defaults meet: bend-adults/young and bend-adults/old"

# file, part to replace, what to put there, part of the line that is named, what is said
WRONG = [
    # units and limits
    (PANEL, '"rad"', '"mm"', "unit_words", "“mm” cannot be turned into deg; "),
    (PANEL, "hard_low = -10\n", "", "[[measure]]", "a number needs hard_low and hard_high"),
    (PANEL, "hard_high = 60.50\n", "", "[[measure]]", "a number needs hard_low and hard_high"),
    (PANEL, "hard_low = -10", "hard_low = 70", "hard_low", "the limits do not rise"),
    (PANEL, "ask_low = 0", "ask_low = -11", "hard_low", "the limits do not rise"),
    (PANEL, "ask_high = 50", "ask_high = 61", "hard_low", "the limits do not rise"),
    (MOVING, "hard_low = 0\n", "", 'kind = "number"', "a number needs rising limits"),
    (MOVING, "hard_high = 1440", "hard_high = -1", 'kind = "number"', "a number needs rising limi"),
    # words and names
    (PANEL, 'words = ["slow", "fast"]', "", "#2 [[measure]]", "a choice needs words"),
    (PANEL, '"slow", "fast"', '"slow", "brisk"', '"brisk"', "“brisk” is not known; "),
    (PANEL, '"tape", ', '"ruler", ', "[[measure]]", "“ruler” is not known; "),
    (PANEL, 'derived_from = ["bend"]', 'derived_from = ["band"]', '"band"', "“band” is not known"),
    (PANEL, 'derived_from = ["bend"]\n', "", "#5 [[measure]]", "only a derived measure names"),
    (PANEL, 'when = ""', 'when = ""\nderived_from = ["pace"]', "[[measure]]", "only a derive"),
    (PANEL, "pace=fast and", "speed=fast and", "when = \"speed", "“speed” is not known; "),
    (PANEL, "(bend>=10", "(bent>=10", "bent>=10", "“bent” is not known; "),
    (PANEL, "bend recorded", "bent recorded", "bent recorded", "“bent” is not known; "),
    ("contexts.toml", "pace=fast", "speed=fast", "speed", "“speed” is not known; "),
    ("regions.toml", '"leg"\nlabel', '"back"\nlabel', '"back"', "“back” is not a view of the foot"),
    ("renamed.toml", '"bend"', '"band"', "ankle-angle", "“ankle-angle” cannot be renamed so"),
    ("renamed.toml", "ankle-angle", "pace", "pace", "“pace” cannot be renamed so"),
    # columns
    (MOVING, '"choice"\n', '"colour"\n', '"colour"', "“colour” is not a kind of column; "),
    (MOVING, '"choice"\n', '"text"\n', 'kind = "text"', "only a choice has words"),
    (MOVING, 'words = ["slow", "fast"]\n', "", 'kind = "choice"', "only a choice has words"),
    (MOVING, '"slow", "fast"', '"slow", "brisk"', 'kind = "choice"', "“brisk” is not known; "),
    (MOVING, 'kind = "table"', 'kind = "text"', "[[measure]]", "only a table has columns"),
    # errors
    (PANEL, 'source = "quill-2010"', 'source = "quail"', '"quail"', "“quail” is not known; "),
    (PANEL, 'method = "tape"', 'method = "ruler"', '"ruler"', "“ruler” is not a method of bend"),
    (PANEL, "sem = 1.25", "sem = 0", "[[measure.error]]", "an error is positive and an ICC below"),
    (PANEL, "sd = 3.0", "sd = -3.0", "#2 [[measure.error]]", "an error is positive and an ICC bel"),
    (PANEL, "icc = 0.90", "icc = 1.0", "#2 [[measure.error]]", "an error is positive and an ICC b"),
    (PANEL, "icc = 0.90", "icc = -0.1", "#2 [[measure.error]]", "an error is positive and an ICC "),
    (PANEL, "mdc95 = 9.9", "mdc95 = 0", "#3 [[measure.error]]", "an error is positive and an ICC "),
    (PANEL, 'note.en = "From a figure."\n', "", "#2 [[measure.error]]", "an estimate must say"),
    # figures of a rule
    (PANEL, 'unit = "deg"\nsource = "quill-2010"', 'source = "quail"', '"quail"', "“quail” is n"),
    (PANEL, 'id = "of-note"', 'id = "far"', "#5 [[measure]]", "two rules have one name"),
    (PANEL, 'note.en = "A guess."\n', "", "#2 [[measure.rule]]", "an estimate must say"),
    (PANEL, "at = 2.5", 'at = 2.5\nwords = ["a"]', 'id = "far"', "a rule needs one figure"),
    (PANEL, "at = 2.5\n", "", 'id = "far"', "a rule needs one figure"),
    (PANEL, 'how.en = "Watch."\n', 'how.en = "Watch."\n' + RULE, "#2 [[measure]]", "only a derive"),
    # norm sets
    (NORMS, 'measure = "bend"', 'measure = "band"', '"band"', "“band” is not known; "),
    (NORMS, 'source = "quill-2010"', 'source = "quail"', '"quail"', "“quail” is not known; "),
    (NORMS, '["radiograph"]', '["ruler"]', '"ruler"', "“ruler” is not a method of bend"),
    (NORMS, 'outside = ["fast"]', 'outside = ["brisk"]', '"brisk"', "“brisk” is not a word of"),
    (NORMS, 'outside = ["yes"]', 'outside = ["maybe"]', '"maybe"', "“maybe” is not a word of sore"),
    (NORMS, "round_to = 1", "round_to = 0", "round_to", "the printed unit must be above 0"),
    (NORMS, 'id = "old"', 'id = "young"', "[[set]]", "two groups have one id"),
    (NORMS, "ages = [41, 120]", "ages = [40, 120]", "ages = [40, 120]", "the ages of young and"),
    (NORMS, "ages = [41, 120]", "ages = [40, 120]", "#2 [[set.group]]", TWO),
    # groups
    (NORMS, "mean = 15.25\n", "", "#2 [[set.group]]", "a default needs mean and sd, or cuts"),
    (NORMS, "mean = 15.25\nsd = 5.0", "", "#2 [[set.group]]", "a default group has nothing to"),
    (NORMS, "mean = 15.25", "mean = 1525", "mean = 1525", "1525 lies outside what bend can be in"),
    (NORMS, "sd = 5.0", "sd = 0", "sd = 0", "an SD is above 0"),
    (NORMS, "growth = ", "grown = ", "needs", "“grown” cannot be asked so"),
    (NORMS, 'growth = ["after"]', 'growth = ["later"]', "needs", "“growth” cannot be asked so"),
    (NORMS, "ages = [0, 120]\n", "", "#3 [[set.group]]", "interpolation needs ages, mean and sd"),
    # cuts
    (NORMS, 'op = "<", at = 12', 'op = ">", at = 12', "at = 12", "“>” points the wrong way"),
    (NORMS, 'op = ">=", at = 35', 'op = "<=", at = 35', "high = [", "“<=” points the wrong way"),
    (NORMS, "at = 45", "at = 450", "high = [", "450 lies outside what bend can be in deg"),
    (NORMS, 'state = "stiff" },\n  {', 'state = "rigid" },\n  {', "rigid", "“rigid” is not"),
    (NORMS, 'source = "reed-2012", prov', 'source = "reed", prov', '"reed"', "“reed” is not"),
    (NORMS, "at = 5,", "at = 13,", "low = [", OUTWARD),
    (NORMS, "at = 45", "at = 35", "high = [", OUTWARD),
    (NORMS, "at = 35", "at = 11", "low = [", "low and high overlap"),
    # differences
    (NORMS, 'measure = "bend"\nsource = "quill-2010"\nprovenance = "published"\nlabel.en = "Left',
     'measure = "band"\nsource = "quill-2010"\nprovenance = "published"\nlabel.en = "Left',
     '"band"', "“band” is not known; "),
    (NORMS, 'op = ">", at = 6', 'op = "<", at = 6', "cuts = [", "a difference is outside"),
    (NORMS, "at = 6,", "at = -6,", "cuts = [", "a difference is outside above its limit"),
    (NORMS, "at = 9.5", "at = 6", "cuts = [", OUTWARD),
    (NORMS, "cuts = []\nsd = 2.5", "cuts = []", "#2 [[difference]]", "a difference needs cuts"),
    (NORMS, 'methods = ["radiograph"]\nlabel.en = "Left', 'label.en = "Left', "#2 [[difference]]",
     "two differences meet: bend-sides and bend-sides-film"),
    (NORMS, 'methods = ["radiograph"]\nlabel.en = "Left', 'methods = ["ruler"]\nlabel.en = "Left',
     '"ruler"', "“ruler” is not a method of bend"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "old", "new", "at", "what"), WRONG)
def test_a_mistake_between_tables(
    tmp_path: Path, name: str, old: str, new: str, at: str, what: str
) -> None:
    files = with_mistake(name, old, new)
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, files))
    told = bad.value.mistakes
    found = [mistake for mistake in told if what in f"{mistake.what}; "]
    assert found, str(bad.value)
    assert (found[0].file, found[0].line) == (name, line(files[name], at)), str(bad.value)


def line(text: str, at: str) -> int:
    """The line that holds a part; "#2 part": the second such line."""
    nth, _, part = at.rpartition("#")[2].partition(" ") if at.startswith("#") else ("1", "", at)
    holding = [number for number, row in enumerate(text.split("\n"), 1) if part in row]
    return holding[int(nth) - 1]


ALLOWED = [
    (PANEL, 'method = "tape"\n', 'method = "tape"\nused = false\n'),
    (NORMS, 'needs = { growth = ["after"] }\n', "needs = {}\n"),
    # ages part what their sex, side, answers or method part as well
    (NORMS, "ages = [41, 120]", "ages = [41, 41]"),
    (NORMS, 'sex = "female"\nside = "left"\nages = [41, 120]', 'side = "left"\nages = [30, 120]'),
    (NORMS, 'side = "left"\nages = [41, 120]', 'side = "right"\nages = [30, 120]'),
    (NORMS, 'side = "left"\nages = [41, 120]', "ages = [30, 120]"),
    (
        NORMS,
        "ages = [41, 120]",
        'ages = [30, 120]\nneeds = { growth = ["before"] }',
    ),
    (NORMS, "ages = [0, 120]", "default = true\nages = [0, 120]"),
    (
        NORMS,
        "mean = 15.25\nsd = 5.0",
        'low = [{op = "<", at = 1, state = "stiff"}]',
    ),
    (NORMS, "default = true\n", ""),
    (NORMS, "at = 12", "at = 35"),
    (
        NORMS,
        'methods = ["radiograph"]\nlabel.en = "Left',
        'ages = [0, 17]\nlabel.en = "Left',
    ),
]  # fmt: skip


@pytest.mark.parametrize(("name", "old", "new"), ALLOWED)
def test_what_looks_alike_and_is_no_mistake(tmp_path: Path, name: str, old: str, new: str) -> None:
    assert load_catalogue(write_forms(tmp_path, with_mistake(name, old, new))).measures


def test_two_errors_for_one_examiner(tmp_path: Path) -> None:
    files = with_mistake(PANEL, "used = false\n", "")
    files[PANEL] = files[PANEL].replace('method = "tape"\n', "")
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, files))
    assert "two errors are used for one method and examiner; nothing was loaded; mark one " in str(
        bad.value
    )


@pytest.mark.parametrize(
    ("note", "old"),
    [
        ('note.en = "SD implied by the bands."\n', 'provenance = "published"\nlabel.en = "Adults"'),
        ('note.en = "SD from the cut."\n', 'provenance = "published"\nlabel.en = "Left and right"'),
    ],
)
def test_an_estimate_says_from_what(tmp_path: Path, note: str, old: str) -> None:
    files = with_mistake(NORMS, note, "")
    files[NORMS] = files[NORMS].replace(old, old.replace('"published"', '"estimate"'))
    with pytest.raises(BadForms, match=r"an estimate must say from what; .*; add note\.en"):
        load_catalogue(write_forms(tmp_path, files))


def test_a_sided_group_needs_a_sided_measure(tmp_path: Path) -> None:
    files = with_mistake(PANEL, "sided = true\n", "")
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, files))
    assert "bend has no sides; nothing was loaded; remove side" in str(bad.value)


def test_both_defaults_are_named_across_sets(tmp_path: Path) -> None:
    files = with_mistake(NORMS, "judged = false\n", "")
    files[NORMS] = files[NORMS].replace('methods = ["radiograph"]\ninterpolate', "interpolate")
    files[NORMS] = files[NORMS].replace(
        "ages = [0, 120]", 'default = true\nsex = "female"\nside = "left"\nages = [0, 18]'
    )
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, files))
    assert "two defaults meet: bend-adults/young and bend-film/all" in str(bad.value)
