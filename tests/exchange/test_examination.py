"""Reading examination files: the example of interface.md, and every way a file can be wrong."""

import json
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from footexam.catalogue.model import Catalogue
from footexam.exchange.examination import BadInput, Loaded, read_examination
from footexam.record.examination import Examination, Patient, Person
from footexam.record.journal import Journal
from footexam.record.reading import Numbers, Reading, RegionValues, Rows, Word, Words
from footexam.terms import Absence, Purpose, Role, Sex, Side
from tests.exchange.examples import EXAMPLE, SMALLEST, TODAY, changed, data, file

LEFT, RIGHT = Side.LEFT, Side.RIGHT
Tree = dict[str, Any]


def read(tree: object, catalogue: Catalogue, today: date = TODAY) -> Loaded:
    raw = tree if isinstance(tree, bytes) else data(tree)
    return read_examination(raw, catalogue, today, "visit.json")


def refusals(tree: object, catalogue: Catalogue, today: date = TODAY) -> list[str]:
    with pytest.raises(BadInput) as bad:
        read(tree, catalogue, today)
    lines = [str(problem) for problem in bad.value.problems]
    assert str(bad.value) == "\n".join(lines)
    for line in lines:
        assert "\n" not in line
        assert "; nothing was stored; " in line
        assert line.endswith(".")
    return lines


def numbers(*readings: str) -> Numbers:
    return Numbers(tuple(map(Decimal, readings)))


# --- the example


def test_the_example_reads_as_its_table_says(catalogue: Catalogue) -> None:
    examination = read(EXAMPLE.encode(), catalogue).examination
    assert examination.patient == Patient("Quill", "Mara", "Ms", "A-17", "1979-08-30", Sex.FEMALE)
    assert (examination.examined_on, examination.purpose) == (TODAY, Purpose.RECORD)
    assert examination.examiner == Person("Ann Reed", Role.CLINICIAN)
    assert examination.supervisor == Person("Eve Marsh", Role.SUPERVISOR, 2)
    assert examination.signed_by == ()
    age = examination.age()
    assert age is not None
    assert (age.years, age.months) == (46, 558)
    found = {key: (one.value, one.typed) for key, one in examination.readings.items()}
    assert found == {
        ("fpi-talar-head", LEFT): (numbers("1"), "1"),
        ("fpi-talar-head", RIGHT): (numbers("0"), "0"),
        ("body-mass", None): (numbers("82"), "82 kg"),
        ("ankle-dorsiflexion-knee-straight", LEFT): (numbers("9", "8", "10"), "9 8 10"),
        ("ankle-dorsiflexion-knee-straight", RIGHT): (numbers("12", "11", "13"), "12 11 13 deg"),
        ("lunge-distance", LEFT): (numbers("7.5"), "7,5 cm"),
        ("lunge-distance", RIGHT): (numbers("10"), "10 cm"),
        ("complaint-site", LEFT): (Words(("heel-plantar-medial",)), "heel-plantar-medial"),
        ("tenderness", LEFT): (
            RegionValues({"heel-plantar-medial": Decimal(6), "arch-central": Decimal(0)}),
            "heel-plantar-medial: 6; arch-central: 0",
        ),
        ("first-ray-position", LEFT): (Word("level"), "level"),
        ("first-ray-position", RIGHT): (None, ""),
        ("caution-fever-or-spreading-redness", None): (Word("no"), "no"),
        ("weekly-load", None): (
            Rows(
                (
                    {
                        "week": "2026-02-23",
                        "sessions": Decimal(3),
                        "minutes": Decimal(120),
                        "effort": Decimal(5),
                    },
                )
            ),
            "week: 2026-02-23, sessions: 3, minutes: 120, effort: 5",
        ),
    }
    right = examination.reading("lunge-distance", RIGHT)
    assert right is not None
    assert (right.note, right.method) == ("heel just down", "tape")
    absent = examination.reading("first-ray-position", RIGHT)
    assert absent is not None
    assert (absent.absent, absent.reason) == (Absence.COULD_NOT_BE_TESTED, "dressing")


def test_the_decisions_of_the_example(catalogue: Catalogue) -> None:
    decisions = read(EXAMPLE.encode(), catalogue).examination.decisions
    assert decisions == json.loads(EXAMPLE)["decisions"]


def test_the_example_becomes_journals_that_hold(catalogue: Catalogue) -> None:
    loaded = read(EXAMPLE.encode(), catalogue)
    for journal in (loaded.patient, loaded.journal):
        texts = [entry.text for entry in journal]
        assert list(Journal.of_texts(journal.subject, texts, journal.head)) == list(journal)
        assert {entry.draft.author.name for entry in journal} == {"Ann Reed"}
    assert loaded.examination.head == loaded.journal.head
    assert loaded.examination.version == len(loaded.journal) == 4 + 13 + 6


def test_the_same_bytes_give_the_same_journals_and_others_do_not(catalogue: Catalogue) -> None:
    one, two = (read(EXAMPLE.encode(), catalogue) for _ in range(2))
    assert (one.patient.head, one.journal.head) == (two.patient.head, two.journal.head)
    other = read(EXAMPLE.encode() + b"\n", catalogue)
    assert other.journal.head != one.journal.head
    assert other.examination.readings.keys() == one.examination.readings.keys()


def test_the_smallest_file(catalogue: Catalogue) -> None:
    examination = read(SMALLEST, catalogue).examination
    assert examination == Examination(
        Patient("Quill"),
        TODAY,
        Person("Ann Reed"),
        decisions=examination.decisions,
        version=examination.version,
        head=examination.head,
    )
    assert examination.age() is None


def test_a_byte_order_mark_is_no_mistake(catalogue: Catalogue) -> None:
    assert read(b"\xef\xbb\xbf" + EXAMPLE.encode(), catalogue).examination.readings


@pytest.mark.parametrize(
    "parts",
    [
        {"purpose": "student"},
        {"purpose": "reference"},
        {"patient": {"family_name": "Quill", "birth_date": None, "sex": "other"}},
        {"patient": {"family_name": "Quill", "birth_date": "1979-08", "sex": "male"}},
        {"patient": {"family_name": "Quill", "birth_date": "1979", "sex": "unknown"}},
        {"patient": {"family_name": "Quill", "birth_date": "2026-03-04"}},
        {"patient": {"family_name": "Quill", "birth_date": "2026"}},
        {"patient": {"family_name": "Quill", "title": "", "given_names": ""}},
        {"examiner": {"name": "Bob", "role": "student"}, "supervisor": {"name": "Eve"}},
        {"supervisor": None},
        {"supervisor": {"name": "Eve", "level": None}},
        {"examined_on": "1990-01-01"},
        {"decisions": {}},
    ],
)
def test_what_may_stand_around_the_readings(catalogue: Catalogue, parts: Tree) -> None:
    assert read(file({}, **parts), catalogue).examination.readings == {}


# --- sides, absences and what may stand with a value


def test_both_is_copied_and_remembered(catalogue: Catalogue) -> None:
    tree = file({"fpi-talar-head": {"both": 1}, "fpi-medial-arch": {"right": 1, "left": 1}})
    readings = read(tree, catalogue).examination.readings
    assert list(readings) == [
        ("fpi-talar-head", LEFT),
        ("fpi-talar-head", RIGHT),
        ("fpi-medial-arch", LEFT),
        ("fpi-medial-arch", RIGHT),
    ]
    assert [one.typed_both for one in readings.values()] == [True, True, False, False]


def test_a_sided_caution_may_be_answered_without_a_side(catalogue: Catalogue) -> None:
    tree = file(
        {
            "caution-cannot-bear-weight": "yes",
            "caution-growing-lump": {"answer": "yes", "sites": ["navicular"]},
            "caution-open-wound": {"value": "yes", "note": "healing"},
            "caution-numb-or-weak": {"absent": "declined"},
        }
    )
    assert [side for _, side in read(tree, catalogue).examination.readings] == [None] * 4


def test_a_value_with_more(catalogue: Catalogue) -> None:
    more = {"value": "12", "note": "n", "method": "Eyes Open", "performed_at": "2026-03-05T08:00Z"}
    tree = file({"single-leg-stance": {"left": more}})
    reading = read(tree, catalogue).examination.reading("single-leg-stance", LEFT)
    assert reading is not None
    assert reading == Reading(
        "single-leg-stance",
        LEFT,
        numbers("12"),
        "12",
        note="n",
        method="eyes-open",
        performed_at="2026-03-05T08:00Z",
        seq=reading.seq,
    )


@pytest.mark.parametrize("absence", Absence)
def test_every_absence(catalogue: Catalogue, absence: Absence) -> None:
    tree = file({"goals": {"absent": absence, "reason": "r", "note": "n", "method": "by phone"}})
    reading = read(tree, catalogue).examination.reading("goals")
    assert reading is not None
    assert (reading.value, reading.absent, reading.reason) == (None, absence, "r")
    assert (reading.note, reading.method) == ("n", "by phone")


def test_a_measure_is_read_under_its_older_name(catalogue: Catalogue) -> None:
    from dataclasses import replace

    renamed = replace(catalogue, renamed={"aim": "goals"})
    assert list(read(file({"aim": "walk"}), renamed).examination.readings) == [("goals", None)]
    (told,) = refusals(file({"aim": "walk", "goals": "run"}), renamed)
    assert told == (
        "aim: walk: this measure is given twice, under its present name “goals” and an older one; "
        "nothing was stored; keep the present name."
    )


# --- refusals of readings

READINGS: list[tuple[Tree, str]] = [
    (
        {"shoe-dorp": 5},
        (
            "shoe-dorp: 5: no measure has this name; nothing was stored; check its "
            "spelling, or use shoe-drop if that is meant."
        ),
    ),
    ({"x": 5}, "x: 5: no measure has this name; nothing was stored; check its spelling."),
    ({"fpi-talar-head": {"middle": 1}}, "fpi-talar-head: middle: 1: “middle” is not a side; "),
    ({"fpi-talar-head": {"left": 1, "middle": 1}}, "fpi-talar-head: left: 1; middle: 1: “middle”"),
    ({"fpi-talar-head": {"Left": 1}}, "fpi-talar-head: Left: 1: “Left” is not a side; "),
    ({"fpi-talar-head": 1}, "fpi-talar-head: 1: this measure is taken on each side; "),
    ({"fpi-talar-head": {}}, "fpi-talar-head: this measure is taken on each side; "),
    ({"fpi-talar-head": {"value": 1}}, "fpi-talar-head: value: 1: this measure is taken on each"),
    ({"fpi-talar-head": {"absent": "declined"}}, "fpi-talar-head: absent: declined: this measure"),
    ({"tenderness": {"navicular": 1}}, "tenderness: navicular: 1: this measure is taken on each"),
    ({"fpi-talar-head": {"both": 1, "left": 1}}, "fpi-talar-head: both: 1; left: 1: “both” stands"),
    ({"body-mass": {"left": 80}}, "body-mass: left: 80: this measure has no sides; "),
    (
        {"onset": "slow"},
        (
            "onset: slow: “slow” is not one of the words of this measure; nothing was "
            "stored; use sudden, gradual or recurrent."
        ),
    ),
    ({"fpi-total": {"left": 6}}, "fpi-total: left: 6: this is worked out from other measures and "),
    ({"body-mass-index": 22}, "body-mass-index: 22: this is worked out from other measures and "),
    ({"body-mass": 900}, "body-mass: 900: 900 kg lies outside 2 to 350 kg, the limits of this "),
    (
        {"lunge-distance": {"left": "3 m"}},
        "lunge-distance left: 3 m: 300 cm lies outside -5 to 30 ",
    ),
    ({"lunge-distance": {"both": "far"}}, "lunge-distance both: far: “far” cannot be read as a "),
    (
        {"lunge-distance": {"left": None}},
        "lunge-distance left: null: this measure does not take nu",
    ),
    (
        {"goals": {"value": "a", "absent": "declined"}},
        "goals: value: a; absent: declined: a value ",
    ),
    ({"goals": {"note": "a"}}, "goals: note: a: neither a value nor an absence is given; "),
    ({"goals": {"value": "a", "remark": "b"}}, "goals: value: a; remark: b: the key “remark” is "),
    (
        {"goals": {"value": "a", "reason": "b"}},
        "goals: value: a; reason: b: the key “reason” is no",
    ),
    (
        {"goals": {"absent": "declined", "why": "b"}},
        "goals: absent: declined; why: b: the key “why",
    ),
    (
        {"goals": {"value": {"value": "a"}}},
        "goals: value: value: a: an object stands where a text ",
    ),
    (
        {"goals": {"value": "a", "note": 5}},
        "goals: value: a; note: 5: a number stands where a text",
    ),
    ({"goals": {"value": "a", "note": ""}}, "goals: value: a; note: : the text is empty; "),
    (
        {"goals": {"absent": "forgot"}},
        "goals: absent: forgot: “forgot” is not a reason for a missi",
    ),
    (
        {"goals": {"absent": True}},
        "goals: absent: true: “true” is not a reason for a missing value",
    ),
    (
        {"goals": {"absent": "declined", "reason": []}},
        "goals: absent: declined; reason: : a list s",
    ),
    (
        {"single-leg-stance": {"left": {"value": 9, "method": "hop"}}},
        (
            "single-leg-stance left: "
            "value: 9; method: hop: “hop” is not a method of this measure; nothing was stored; use "
            "eyes-open or eyes-closed."
        ),
    ),
    (
        {"goals": {"value": "a", "performed_at": "noon"}},
        "goals: value: a; performed_at: noon: “noo",
    ),
    (
        {"goals": {"value": "a", "performed_at": "2026-03-04T10:20:00"}},
        "goals: value: a; performed",
    ),
    ({"goals": {"value": "a", "performed_at": "2026-02-30T10:20Z"}}, "goals: value: a; performed_"),
    ({"goals": {"value": "a", "performed_at": "2026-02-20T25:20Z"}}, "goals: value: a; performed_"),
    (
        {"goals": {"value": "a", "performed_at": 5}},
        "goals: value: a; performed_at: 5: “5” is not a",
    ),
    ({"goals": "a\nb"}, "goals: a\\u000ab: the text holds a tab, a line end or another control"),
    ({"goals": "x" * 5000}, f"goals: {'x' * 80}…: the text has more than 4000 characters; "),
    ({"a\nb\x7f": 1}, "a\\u000ab\\u007f: 1: no measure has this name; "),
]


@pytest.mark.parametrize(("readings", "told"), READINGS)
def test_a_reading_refused(catalogue: Catalogue, readings: Tree, told: str) -> None:
    (line,) = refusals(file(readings), catalogue)
    assert line.startswith(told)


def test_all_refusals_are_told_at_once(catalogue: Catalogue) -> None:
    tree = file(
        {
            "onset": "slow",
            "fpi-talar-head": {"left": 5, "right": "x"},
            "body-mass": 80,
            "goals": "",
        },
        examined_on="2026-03-05",
    )
    lines = refusals(tree, catalogue)
    assert [line.partition(": ")[0] for line in lines] == [
        "examined_on",
        "onset",
        "fpi-talar-head left",
        "fpi-talar-head right",
        "goals",
    ]


def test_after_a_hundred_refusals_the_rest_is_left_alone(catalogue: Catalogue) -> None:
    lines = refusals(file({f"measure-{number}": 1 for number in range(5000)}), catalogue)
    assert len(lines) == 101
    assert lines[-1] == (
        "readings: further problems were not looked for; nothing was stored; mend these first "
        "and try again."
    )


# --- refusals of the rest of the file


def put(*path: str) -> Callable[[object], Callable[[Tree], None]]:
    """put("patient", "sex")("f") sets that key of a tree."""

    def to(value: object) -> Callable[[Tree], None]:
        def change(tree: Tree) -> None:
            for key in path[:-1]:
                tree = tree[key]
            tree[path[-1]] = value

        return change

    return to


def drop(*path: str) -> Callable[[Tree], None]:
    def change(tree: Tree) -> None:
        for key in path[:-1]:
            tree = tree[key]
        del tree[path[-1]]

    return change


def rename_caution(tree: Tree) -> None:
    cautions = tree["decisions"]["cautions"]
    cautions["A B"] = cautions.pop("deep-vein-thrombosis")


ENVELOPE: list[tuple[Callable[[Tree], object], str]] = [
    (put("colour")("red"), "colour: red: the key “colour” is not known here; "),
    (put("patient", "phone")("1"), "patient.phone: 1: the key “phone” is not known here; "),
    (put("patient", "name")("Q"), "patient.name: Q: the key “name” is not known here; "),
    (put("examiner", "level")(1), "examiner.level: 1: the key “level” is not known here; "),
    (put("supervisor", "role")("x"), "supervisor.role: x: the key “role” is not known here; "),
    (put("decisions", "plan")([]), "decisions.plan: the key “plan” is not known here; "),
    (drop("patient"), "patient: “patient” is missing; nothing was stored; add it."),
    (drop("patient", "family_name"), "patient.family_name: “family_name” is missing; "),
    (drop("examiner"), "examiner: “examiner” is missing; "),
    (drop("examiner", "name"), "examiner.name: “name” is missing; "),
    (drop("examined_on"), "examined_on: “examined_on” is missing; "),
    (drop("readings"), "readings: “readings” is missing; "),
    (drop("version"), "version: “version” is missing; "),
    (
        put("patient")("Quill"),
        "patient: Quill: “patient” cannot be read; nothing was stored; give ",
    ),
    (put("patient")(None), "patient: null: “patient” cannot be read; "),
    (
        put("readings")([]),
        "readings: “readings” cannot be read; nothing was stored; give an object",
    ),
    (put("examiner", "name")(""), "examiner.name: the text is empty; "),
    (
        put("examiner", "name")(5),
        "examiner.name: 5: “name” cannot be read; nothing was stored; give",
    ),
    (
        put("examiner", "name")("x" * 201),
        f"examiner.name: {'x' * 80}…: the text has more than 200 c",
    ),
    (put("patient", "family_name")("a\tb"), "patient.family_name: a\\u0009b: the text holds a tab"),
    (
        put("patient", "title")("\u202eDr"),
        "patient.title: \\u202eDr: the text holds a tab, a line ",
    ),
    (
        put("patient", "record_number")(17),
        "patient.record_number: 17: “record_number” cannot be re",
    ),
    (
        put("purpose")("audit"),
        (
            "purpose: audit: “audit” is not one of the words that may stand here; "
            "nothing was stored; use record, student or reference."
        ),
    ),
    (
        put("patient", "sex")("f"),
        (
            "patient.sex: f: “f” is not one of the words that may stand here; "
            "nothing was stored; use female, male, other or unknown."
        ),
    ),
    (
        put("patient", "sex")(None),
        "patient.sex: null: “null” is not one of the words that may stan",
    ),
    (
        put("examiner", "role")("boss"),
        "examiner.role: boss: “boss” is not one of the words that may",
    ),
    (
        put("supervisor", "level")(2.5),
        "supervisor.level: 2.5: “2.5” is not a whole number from 0 t",
    ),
    (
        put("supervisor", "level")(True),
        "supervisor.level: true: “true” is not a whole number from ",
    ),
    (
        put("supervisor", "level")("2"),
        "supervisor.level: 2: “2” is not a whole number from 0 to 9; ",
    ),
    (put("version")(True), "version: true: “true” is not a whole number from 0 to 9; "),
    # days
    (
        put("examined_on")("2026-3-4"),
        "examined_on: 2026-3-4: “2026-3-4” is not a day of the calend",
    ),
    (
        put("examined_on")("2026-02-30"),
        "examined_on: 2026-02-30: “2026-02-30” is not a day of the ",
    ),
    (
        put("examined_on")("2026-W10-3"),
        "examined_on: 2026-W10-3: “2026-W10-3” is not a day of the ",
    ),
    (
        put("examined_on")("2026-03"),
        "examined_on: 2026-03: “2026-03” is not a day of the calendar; ",
    ),
    (put("examined_on")(20260304), "examined_on: 20260304: “examined_on” cannot be read; "),
    (
        put("examined_on")("2026-03-05"),
        "examined_on: 2026-03-05: the day of the examination lies in",
    ),
    (
        put("patient", "birth_date")("30.8.1979"),
        "patient.birth_date: 30.8.1979: “30.8.1979” is not ",
    ),
    (put("patient", "birth_date")(""), "patient.birth_date: “” is not a date; "),
    (put("patient", "birth_date")(1979), "patient.birth_date: 1979: “birth_date” cannot be read; "),
    (
        put("patient", "birth_date")("2026-03-05"),
        "patient.birth_date: 2026-03-05: the birth date l",
    ),
    (put("patient", "birth_date")("2026-04"), "patient.birth_date: 2026-04: the birth date lies a"),
    (
        put("patient", "birth_date")("2027"),
        "patient.birth_date: 2027: the birth date lies after th",
    ),
    # decisions
    (rename_caution, "decisions.cautions.A B: A B: “A B” is not an id; "),
    (
        put("decisions", "cautions", "x")("acted"),
        "decisions.cautions.x: acted: “x” cannot be read; ",
    ),
    (
        put("decisions", "cautions", "deep-vein-thrombosis", "decision")("waited"),
        (
            "decisions.cautions.deep-vein-thrombosis.decision: waited: “waited” is not one of the "
            "words that may stand here; nothing was stored; use acted, excluded or transferred."
        ),
    ),
    (
        put("decisions", "cautions", "deep-vein-thrombosis", "at")("10:20"),
        "decisions.cautions.deep-vein-thrombosis.at: 10:20: “10:20” is not a time; ",
    ),
    (
        put("decisions", "cautions", "deep-vein-thrombosis", "side")("middle"),
        (
            "decisions.cautions.deep-vein-thrombosis.side: middle: “middle” is not one of the "
            "words that may stand here; nothing was stored; use left or right."
        ),
    ),
    (
        drop("decisions", "cautions", "deep-vein-thrombosis", "by"),
        "decisions.cautions.deep-vein-thrombosis.by: “by” is missing; ",
    ),
    (
        put("decisions", "letters")({"told": {"lines": [], "over": "0123"}}),
        "decisions.letters.told.over: 0123: “0123” is not the mark of a text; nothing was stored; ",
    ),
    (
        put("decisions", "letters")({"told": {"lines": ["two\nlines"]}}),
        "decisions.letters.told.lines.0: two",
    ),
    (
        put("decisions", "letters")({"told": {}}),
        "decisions.letters.told.lines: “lines” is missing; ",
    ),
    (
        put("decisions", "aims")({}),
        "decisions.aims: “aims” cannot be read; nothing was stored; give",
    ),
    (put("decisions", "aims")([{"side": "left"}]), "decisions.aims.0.id: “id” is missing; "),
    (
        put("decisions", "aims")([{"id": "Raise Heel"}]),
        "decisions.aims.0.id: Raise Heel: “Raise He",
    ),
    (
        put("decisions", "aims")([{"id": "a", "why": "b"}]),
        "decisions.aims.0.why: b: the key “why” ",
    ),
    (
        put("decisions", "features")([{"id": "a", "height": None}]),
        "decisions.features.0.height: null: null stands where a text is expected; ",
    ),
    (
        put("decisions", "features")([{"id": "a", "Big Height": "6 mm"}]),
        "decisions.features.0.Big Height: Big Height: “Big Height” is not an id; ",
    ),
    (
        put("decisions", "hypotheses", "rejected")([{"id": "a"}]),
        "decisions.hypotheses.rejected.0.reason: “reason” is missing; ",
    ),
    (
        put("decisions", "hypotheses", "own")([{"statement": " "}]),
        "decisions.hypotheses.own.0.statement:  : the text is empty; ",
    ),
    (
        put("decisions", "hypotheses", "rejected")(
            [{"id": "limited-df-calf-achilles-load", "side": "left", "reason": "r"}]
        ),
        (
            "decisions.hypotheses left: limited-df-calf-achilles-load: "
            "“limited-df-calf-achilles-load” is decided more than once for the same side; "
        ),
    ),
    (
        put("decisions", "aims")([{"id": "a"}, {"id": "a"}]),
        "decisions.aims: a: “a” is decided more",
    ),
    (
        put("decisions", "features")([{"id": "a", "side": "left"}] * 3),
        "decisions.features left: a: “a” is decided more than once for the same side; ",
    ),
]


@pytest.mark.parametrize(("change", "told"), ENVELOPE)
def test_the_file_around_the_readings_refused(
    catalogue: Catalogue, change: Callable[[Tree], object], told: str
) -> None:
    (line,) = refusals(changed(change), catalogue)
    assert line.startswith(told)


def test_unknown_keys_cannot_flood_the_answer(catalogue: Catalogue) -> None:
    tree = {**SMALLEST, **{f"key{number}": 1 for number in range(5000)}}
    assert len(refusals(tree, catalogue)) == 100


@pytest.mark.parametrize(
    ("tree", "told"),
    [
        ([], "the file does not say that its format is footexam/examination"),
        (5, "the file does not say that its format is footexam/examination"),
        ({}, "the file does not say that its format is footexam/examination"),
        ({**SMALLEST, "format": "footexam/assessment"}, "the file does not say that its format"),
        ({**SMALLEST, "format": None}, "the file does not say that its format"),
        ({**SMALLEST, "version": 2, "new-key": 1}, "the file has version “2”, which this program"),
        ({**SMALLEST, "version": 1.5}, "the file has version “1.5”, which this program does not"),
        ({**SMALLEST, "version": "1"}, "the file has version “1”, which this program does not"),
        ({**SMALLEST, "version": None}, "the file has version “null”, which this program does no"),
        (b"", "the file is empty; nothing was stored; give an examination file."),
        (b" \n\t", "the file is empty"),
        (b"\xef\xbb\xbf", "the file is empty"),
        (b"\xff\xfe{}", "the file is not UTF-8 text; nothing was stored; save it as UTF-8."),
        ({**SMALLEST, "\ud800": 1}, "the file holds half of a character, written as \\u and four"),
        ({**SMALLEST, "patient": {"name": "\udcff"}}, "the file holds half of a character"),
        (b'{"a": "\\ud83d"}', "the file holds half of a character"),
        (b"PK\x03\x04", "the file is not JSON (line 1, column 1: Expecting value); "),
        (EXAMPLE.encode()[:600], "the file is not JSON (line "),
        (EXAMPLE.encode() + b"}", "the file is not JSON (line "),
        (b"{'format': 1}", "the file is not JSON (line 1, column 2: "),
        (b'{"a": 1,}', "the file is not JSON (line 1, column "),
        (b'{"a": 01}', "the file is not JSON (line 1, column "),
        (b'{"a": "\n"}', "the file is not JSON (line 1, column "),
        (b'{"a": NaN}', "“NaN” is not a number that the file may hold; "),
        (b'{"a": Infinity}', "“Infinity” is not a number that the file may hold; "),
        (b'{"a": -Infinity}', "“-Infinity” is not a number that the file may hold; "),
        (b'{"a": 1e999}', "“1e999” is not a number that the file may hold; "),
        (b'{"a": 1e-999}', "“1e-999” is not a number that the file may hold; "),
        (b'{"a": 0e999}', "“0e999” is not a number that the file may hold; "),
        (b'{"a": 1e40}', "“1e40” is not a number that the file may hold; "),
        (b'{"a": 1e99999999999999999999}', "“1e99999999999999999999” is not a number that "),
        (b'{"a": ' + b"9" * 5000 + b"}", "“" + "9" * 80 + "…” is not a number that the file may"),
        (b'{"a": 1, "b": 2, "a": 3}', "the key “a” stands twice in one object; nothing was stor"),
        (b'{"a": 1, "\\u0061": 3}', "the key “a” stands twice in one object"),
        (b"[" * 21 + b"]" * 21, "the file is nested more than 20 levels deep; "),
        (b'{"a":' * 21 + b"1" + b"}" * 21, "the file is nested more than 20 levels deep; "),
        (b"[" * 2_000_000, "the file is nested more than 20 levels deep; "),
        (b" " * (5 * 1024 * 1024 + 1), "the file is larger than 5 MB; "),
    ],
)
def test_what_is_no_examination_file(catalogue: Catalogue, tree: object, told: str) -> None:
    (line,) = refusals(tree, catalogue)
    assert line.startswith(f"visit.json: {told}")


def test_true_is_no_number_anywhere(catalogue: Catalogue) -> None:
    tree = file(
        {
            "body-mass": True,
            "fpi-talar-head": {"left": False},
            "tenderness": {"left": {"navicular": True}},
            "weekly-load": [{"minutes": True}],
            "duration": True,
        }
    )
    assert len(refusals(tree, catalogue)) == 5


def test_five_items_of_the_posture_index_are_kept(catalogue: Catalogue) -> None:
    items = catalogue.measures["fpi-total"].derived_from
    tree = file({name: {"left": 1} for name in items[:5]})
    assert len(read(tree, catalogue).examination.readings) == 5
