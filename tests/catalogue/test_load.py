"""The loader of forms/: what it reads, and every kind of mistake named by file and line."""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms, Mistake
from footexam.catalogue.model import ErrorSize, say
from footexam.terms import Depth, Examiner, Kind, Provenance, Sex, Side
from tests.catalogue.small import FORMS, with_mistake, write_forms

PANEL, MOVING, NORMS = "panels/1-standing.toml", "panels/2-moving.toml", "norms/bend.toml"


def mistakes(folder: Path, files: dict[str, str]) -> tuple[Mistake, ...]:
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(folder, files))
    return bad.value.mistakes


def test_a_folder_without_mistakes(tmp_path: Path) -> None:
    catalogue = load_catalogue(write_forms(tmp_path))
    assert list(catalogue.panels) == ["standing", "moving"]
    assert catalogue.panels["standing"].measures == (
        "bend", "pace", "growth", "sore", "bend-left-right",
    )  # fmt: skip
    assert list(catalogue.order) == list(catalogue.measures)
    assert list(catalogue.order.values()) == list(range(6))
    bend = catalogue.measures["bend"]
    assert (bend.panel, bend.kind, bend.depth) == ("standing", Kind.QUANTITY, Depth.CORE)
    assert (bend.unit, bend.unit_words, bend.decimals) == ("deg", ("°", "rad"), 1)
    assert (bend.sided, bend.repeats, bend.best, bend.ordinal) == (True, True, False, False)
    limits = (bend.hard_low, bend.hard_high, bend.ask_low, bend.ask_high, bend.ask_from_age)
    assert limits == (Decimal(-10), Decimal("60.5"), Decimal(0), Decimal(50), 18)
    assert str(bend.hard_high) == "60.50"
    assert say(bend.heading) == "Bend"
    assert catalogue.measures["days-out"].columns[0].hard_high == 1440
    assert catalogue.measures["days-out"].none_known
    assert catalogue.sources["quill-2010"].doi == "10.1000/1"
    assert catalogue.regions["heel"].high_risk
    assert catalogue.renamed == {"ankle-angle": "bend"}
    assert catalogue.contexts["hurry"].when == "pace=fast or age<18"


def test_errors_keep_their_formula(tmp_path: Path) -> None:
    same, other, unused = load_catalogue(write_forms(tmp_path)).measures["bend"].errors
    assert (same.examiner, same.standard_error()) == (Examiner.SAME, 1.25)
    assert other.standard_error() == pytest.approx(3 * 0.1**0.5)
    assert (other.method, other.used, say(other.note)) == ("tape", True, "From a figure.")
    assert unused.standard_error() == pytest.approx(9.9 / (1.96 * 2**0.5))
    assert not unused.used
    with pytest.raises(ValueError, match="an error size needs sem, mdc95, or sd with icc"):
        ErrorSize(Examiner.SAME, "s", Provenance.PUBLISHED, sd=Decimal(1)).standard_error()


def test_figures_of_a_rule_are_read(tmp_path: Path) -> None:
    catalogue = load_catalogue(write_forms(tmp_path))
    far, noted = catalogue.measures["bend-left-right"].rules
    assert (far.id, far.at, far.unit, far.words) == ("far", Decimal("2.5"), "deg", ())
    assert (far.source, far.provenance) == ("quill-2010", Provenance.PUBLISHED)
    assert (noted.at, noted.words, say(noted.note)) == (None, ("left knee",), "A guess.")
    assert catalogue.measures["bend-left-right"].rule("of-note") is noted
    with pytest.raises(KeyError, match="bend has no rule far"):
        catalogue.measures["bend"].rule("far")


def test_norms_are_read(tmp_path: Path) -> None:
    catalogue = load_catalogue(write_forms(tmp_path))
    adults, film = catalogue.norms["bend"]
    young, old = adults.groups
    assert (adults.round_to, adults.spread, adults.judged) == (1, Provenance.ESTIMATE, True)
    assert (young.sex, young.side, young.ages, young.n) == (Sex.FEMALE, Side.LEFT, (18, 40), 90)
    assert young.needs == {"growth": ("after",)}
    assert [(cut.op, cut.at, cut.state, cut.source) for cut in young.low] == [
        ("<", 12, "stiff", ""),
        ("<=", 5, "very-stiff", "reed-2012"),
    ]
    assert young.low[1].provenance is Provenance.ESTIMATE
    assert (old.mean, old.sd, old.low, old.high) == (Decimal("15.25"), 5, (), ())
    assert (film.methods, film.judged, film.interpolate) == (("radiograph",), False, True)
    assert catalogue.norms["pace"][0].outside == ("fast",)
    sides, on_film = catalogue.differences["bend"]
    assert (sides.cuts[1].at, sides.sd, sides.ages) == (Decimal("9.5"), Decimal("2.5"), None)
    assert (on_film.methods, on_film.cuts) == (("radiograph",), ())


def test_words_in_a_language(tmp_path: Path) -> None:
    both = {name: text for name, text in FORMS.items() if name == "words.toml"}
    catalogue = load_catalogue(write_forms(tmp_path, both))
    assert catalogue.word("very-stiff") == "very stiff"
    assert catalogue.word("very-stiff", "el") == "very stiff"
    assert catalogue.word("never-listed-word") == "never listed word"
    assert say({"en": "a", "el": "b"}, "el") == "b"
    assert say({"en": "a"}, "el") == "a"
    assert say(None) == ""


def test_two_languages_are_read(tmp_path: Path) -> None:
    greek = {
        name: re.sub(
            r'^(\w[\w-]*)\.en = (".*")$', r"\1.en = \2\n\1.el = \2", text, flags=re.MULTILINE
        )
        for name, text in FORMS.items()
    }
    greek["languages.toml"] = 'languages = ["en", "el"]\n'
    catalogue = load_catalogue(write_forms(tmp_path, greek))
    assert catalogue.words["stiff"] == {"en": "stiff", "el": "stiff"}


def test_a_folder_may_lack_what_it_does_not_need(tmp_path: Path) -> None:
    (tmp_path / "panels").mkdir()
    (tmp_path / "panels/1.toml").write_text(
        '[panel]\nid = "p"\nlabel.en = "P"\nposition.en = "lying"\nhint.en = "H"\n'
    )
    catalogue = load_catalogue(tmp_path)
    assert list(catalogue.panels) == ["p"]
    assert not catalogue.measures
    assert not catalogue.renamed


def test_an_empty_or_missing_folder(tmp_path: Path) -> None:
    for folder in (tmp_path, tmp_path / "nowhere"):
        with pytest.raises(BadForms) as bad:
            load_catalogue(folder)
        assert str(bad.value) == (
            "forms:1: no TOML file is there; nothing was loaded; install the program again."
        )


# file, part to replace, what to put there, part of the line that is named, what is said
WRONG = [
    # syntax
    (PANEL, "decimals = 1", "decimals = = 1", "decimals = = 1", "this is not TOML (Invalid value)"),
    (PANEL, 'how.en = "Bend it."', 'how.en = "Bend it.', "Bend it.", "this is not TOML"),
    (NORMS, "n = 90", "n = 90\nn = 91", "n = 91", "this is not TOML (Cannot overwrite a value)"),
    (NORMS, "sd = 2.5\n", "sd = 2.5\nlast = [1,", "last", "this is not TOML"),
    # keys
    (PANEL, "repeats = true", "repeat = true", "repeat = ", "the key “repeat” is not known here"),
    (PANEL, 'hint.en = "Stand at ease."', "", "[panel]", "“hint” is missing"),
    (PANEL, 'hint.en = "Stand', 'tip.en = "Stand', "tip.en", "the key “tip” is not known here"),
    (PANEL, 'against.en = "See the bend."', "", "#5 [[measure]]", "“against” is missing"),
    (PANEL, "[panel]", "[pannel]", "[pannel]", "the key “pannel” is not known here"),
    (MOVING, "hard_high = 1440", "high = 1440", "high = 1440", "the key “high” is not known here"),
    (NORMS, "round_to = 1", "rounded = 1", "rounded", "the key “rounded” is not known here"),
    (NORMS, "n = 90", "number = 90", "number", "the key “number” is not known here"),
    (NORMS, 'source = "quill-2010"\n', "", "[[set]]", "“source” is missing"),
    ("words.toml", 'slow.en = "slow"', "slow.en = 5", "slow", "“slow” lacks the language en"),
    ("sources.toml", "citation", "quote", "quote", "the key “quote” is not known here"),
    ("sources.toml", 'citation = "Quill 2010, J Gait 1:1"', "", "[[source]]", "“citation” is miss"),
    ("regions.toml", 'view = "plantar"', 'side = "plantar"', "side", "the key “side” is not known"),
    ("contexts.toml", "when", "if", "if", "the key “if” is not known here"),
    ("languages.toml", "languages", "tongues", "tongues", "the key “tongues” is not known here"),
    ("renamed.toml", "[measure]", "[region]", "[region]", "the key “region” is not known here"),
    # types
    (PANEL, "sided = true", 'sided = "yes"', "sided", "“sided” is neither true nor false"),
    (PANEL, "decimals = 1", "decimals = 1.0", "decimals", "“decimals” is not a whole number"),
    (PANEL, "decimals = 1", "decimals = -1", "decimals", "“decimals” is not a whole number"),
    (PANEL, "decimals = 1", "decimals = true", "decimals", "“decimals” is not a whole number"),
    (PANEL, "hard_low = -10", 'hard_low = "-10"', "hard_low", "“hard_low” is not a number"),
    (PANEL, "hard_low = -10", "hard_low = false", "hard_low", "“hard_low” is not a number"),
    (PANEL, "hard_low = -10", "hard_low = nan", "hard_low", "“hard_low” is not a finite number"),
    (PANEL, "hard_low = -10", "hard_low = -inf", "hard_low", "“hard_low” is not a finite number"),
    (PANEL, "hard_low = -10", "hard_low = 2020-01-01", "hard_low", "“hard_low” is not a number"),
    (PANEL, 'unit = "deg"', "unit = 5", "unit = 5", "“unit” is not text"),
    (PANEL, '["°", "rad"]', '"°"', "unit_words", "“unit_words” is not a list of words"),
    (PANEL, '["°", "rad"]', '["°", 5]', "unit_words", "“unit_words” is not a list of words"),
    (PANEL, '["°", "rad"]', '["°", "°"]', "unit_words", "“unit_words” names a word twice"),
    (PANEL, '"core"', '"cor"', '"cor"', "“cor” is not known for “depth”"),
    (PANEL, '"quantity"', '"length"', '"length"', "“length” is not known for “kind”"),
    (PANEL, '"quantity"', "3", "kind = 3", "“3” is not known for “kind”"),
    (NORMS, '"published"', '"true"', '"true"', "“true” is not known for “provenance”"),
    (NORMS, 'sex = "female"', 'sex = "f"', '"f"', "“f” is not known for “sex”"),
    (NORMS, "ages = [18, 40]", "ages = [40, 18]", "[40", "“ages” is not a range of years"),
    (NORMS, "ages = [18, 40]", "ages = 18", "ages = 18", "“ages” is not a range of years"),
    (NORMS, "ages = [18, 40]", "ages = [18, 40.5]", "40.5", "“ages” is not a range of years"),
    (NORMS, "ages = [18, 40]", "ages = [18, 121]", "121", "“ages” is not a range of years"),
    (NORMS, "ages = [18, 40]", "ages = [18]", "[18]", "“ages” is not a range of years"),
    (NORMS, '{ growth = ["after"] }', "5", "needs = 5", "a table is expected here"),
    (NORMS, '{ growth = ["after"] }', '{ growth = "after" }', "needs", "“growth” is not a list"),
    (NORMS, "cuts = []", "cuts = {}", "cuts = {}", "“cuts” is not a list of tables"),
    (NORMS, "cuts = []", "cuts = [6]", "cuts = [6]", "a table is expected here"),
    ("sources.toml", "[[source]]", "[source]", "[[source]]", "this is not TOML"),
    ("renamed.toml", '"bend"', "5", "ankle-angle", "“ankle-angle” is not text"),
    # languages
    (PANEL, 'label.en = "Pace"', 'label = "Pace"', 'label = "Pace"', "“label” has no language"),
    (PANEL, 'label.en = "Pace"', 'label.el = "Pace"', "label.el", "“label” lacks the language en"),
    (
        PANEL,
        'label.en = "Pace"',
        'label.en = " "',
        'label.en = " "',
        "“label” lacks the language en",
    ),
    (
        PANEL,
        'label.en = "Pace"',
        'label.en = "Pace"\nlabel.xx = "Pace"',
        'label.en = "Pace"',
        "the language xx is not listed",
    ),
    ("languages.toml", '"en"', '"el"', "languages", "English is not among the languages"),
    ("languages.toml", '["en"]', '"en"', "languages", "“languages” is not a list of words"),
    # ids
    (PANEL, 'id = "pace"', 'id = "bend"', '#2 id = "bend"', "“bend” is given twice"),
    (PANEL, 'id = "pace"', 'id = "Pace"', '"Pace"', "“Pace” is not an id"),
    (PANEL, 'id = "pace"', 'id = ""', 'id = ""', "“” is not an id"),
    (PANEL, 'id = "pace"', 'id = "slow_pace"', "slow_pace", "“slow_pace” is not an id"),
    (MOVING, 'id = "moving"', 'id = "standing"', "standing", "“standing” is given twice"),
    (
        NORMS,
        '"bend-film"',
        '"bend-adults"',
        '#2 id = "bend-adults"',
        "“bend-adults” is given twice",
    ),
    # errors
    (PANEL, "sem = 1.25", "", "[[measure.error]]", "an error needs one figure"),
    (
        PANEL,
        "sem = 1.25",
        "sem = 1.25\nmdc95 = 3",
        "[[measure.error]]",
        "an error needs one figure",
    ),
    (PANEL, "icc = 0.90\n", "", "#2 [[measure.error]]", "an error needs one figure"),
    (PANEL, '"same"', '"twin"', '"twin"', "“twin” is not known for “examiner”"),
    # norms
    (NORMS, 'outside = ["fast"]\n', "", "#3 [[set]]", "a set needs groups or words"),
    (NORMS, 'op = "<",', 'op = "=",', 'op = "="', "“op” is not an operator"),
]


@pytest.mark.parametrize(("name", "old", "new", "at", "what"), WRONG)
def test_a_mistake_in_one_table(
    tmp_path: Path, name: str, old: str, new: str, at: str, what: str
) -> None:
    files = with_mistake(name, old, new)
    told = mistakes(tmp_path, files)
    (found,) = [mistake for mistake in told if what in mistake.what]
    assert (found.file, found.line) == (name, line(files[name], at))
    assert str(found).startswith(f"forms/{name}:{found.line}: ")
    assert "; nothing was loaded; " in str(found)
    assert str(found).endswith(".")
    assert len(told) <= 2  # what is missing may be told of as well


def line(text: str, at: str) -> int:
    """The line that holds a part; "#2 part": the second such line."""
    nth, _, part = at.rpartition("#")[2].partition(" ") if at.startswith("#") else ("1", "", at)
    holding = [number for number, row in enumerate(text.split("\n"), 1) if part in row]
    return holding[int(nth) - 1]


def test_all_mistakes_are_told_in_order(tmp_path: Path) -> None:
    files = {
        **with_mistake("regions.toml", 'view = "plantar"', 'view = "plantar"\ncolour = "red"'),
        **with_mistake(PANEL, 'label.en = "Pace"', ""),
        **with_mistake(NORMS, "n = 90", "n = -90"),
    }
    files[PANEL] = files[PANEL].replace("sem = 1.25", "sem = true")
    told = mistakes(tmp_path, files)
    assert [(found.file, found.what) for found in told] == [
        (NORMS, "“n” is not a whole number"),
        (PANEL, "“sem” is not a number"),
        (PANEL, "“label” is missing"),
        ("regions.toml", "the key “colour” is not known here"),
    ]


def test_the_same_mistake_is_told_whatever_the_order_of_sets(tmp_path: Path) -> None:
    files = with_mistake(PANEL, "repeats = true", "zz = 1\nrepeat = true\nabc = 2")
    (found,) = mistakes(tmp_path, files)
    assert found.what == "the key “abc” is not known here"


@pytest.mark.parametrize(
    ("name", "data", "what"),
    [
        ("panels/9.toml", b"\xff\xfe", "the file is not UTF-8 text"),
        ("panels/9.toml", b"a = " + b"9" * 5000, "this is not TOML (Exceeds the limit"),
        ("panels/9.toml", b"a = " + b"[" * 10_000, "this is not TOML"),
        ("panels/9.toml", b"", "a table is expected here"),
        ("extra.toml", b"", "this file is not known here"),
        ("horoscopes/1.toml", b"", "this file is not known here"),
        ("panels.toml", b"", "this file is not known here"),
    ],
)
def test_files_that_cannot_be(tmp_path: Path, name: str, data: bytes, what: str) -> None:
    folder = write_forms(tmp_path)
    (folder / name).parent.mkdir(exist_ok=True)
    (folder / name).write_bytes(data)
    with pytest.raises(BadForms) as bad:
        load_catalogue(folder)
    (found,) = bad.value.mistakes
    assert (found.file, found.line) == (name, 1)
    assert found.what.startswith(what)


def test_windows_line_ends_keep_the_line(tmp_path: Path) -> None:
    files = with_mistake(PANEL, "repeats = true", "repeat = true")
    expected = line(files[PANEL], "repeat = ")
    (found,) = mistakes(tmp_path, {PANEL: files[PANEL].replace("\n", "\r\n")})
    assert found.line == expected
