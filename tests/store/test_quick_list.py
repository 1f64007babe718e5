"""The patient list: pages, searches, likenesses; read by the standard library alone."""

import random
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from footexam.store import Store, finding
from footexam.store.folding import found_by
from footexam.store.layout import DATABASE
from footexam.store.quick_list import PatientList
from footexam.store.search import meanings
from tests.store.builders import fact, more, new_examination, new_patient, refused, tamper

PEOPLE = [
    ("Müller-Łódź", "Anna Maria", "FT-00123", "1979-08-30"),
    ("O'Neill", "Seán", "FT-00124", "1979-08-30"),
    ("van der Berg", "Jan", "943 476 5919", "1950-01-02"),
    ("Adams", "Müge", "", "1979-08"),
    ("Marsh", "Ådne", "77", "2001-12-11"),
    ("Ward3", "", "", ""),
]


@pytest.fixture
def patients(store: Store, folder: Path) -> Iterator[PatientList]:
    for person in PEOPLE:
        new_patient(store, *person)
    with PatientList(folder) as patients:
        yield patients


def families(patients: PatientList, typed: str) -> list[str]:
    return [row.family_name for row in patients.search(typed).rows]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("mul", ["Müller-Łódź"]),
        ("MUELL", ["Müller-Łódź"]),
        ("lodz", ["Müller-Łódź"]),
        ("Łód", ["Müller-Łódź"]),
        ("anna mul", ["Müller-Łódź"]),
        ("mul, anna", ["Müller-Łódź"]),
        ("maria lodz anna", ["Müller-Łódź"]),
        ("mul jan", []),
        ("neill", ["O'Neill"]),
        ("o neill", ["O'Neill"]),
        ("oneill sean", ["O'Neill"]),
        ("berg jan", ["van der Berg"]),
        ("adne", ["Marsh"]),
        ("m", ["Marsh", "Müller-Łódź", "Adams"]),
        ("ft-00", ["Müller-Łódź", "O'Neill"]),
        ("124", ["O'Neill"]),
        ("00124", ["O'Neill"]),
        ("9434765919", ["van der Berg"]),
        ("ward3", ["Ward3"]),
        ("943 476", ["van der Berg"]),
        ("476", ["van der Berg"]),
        ("30.8.1979", ["Müller-Łódź", "O'Neill"]),
        ("30/08/1979 sean", ["O'Neill"]),
        ("30-Aug-1979", ["Müller-Łódź", "O'Neill"]),
        ("1979-08-30", ["Müller-Łódź", "O'Neill"]),
        ("1979-08", ["Adams", "Müller-Łódź", "O'Neill"]),
        ("1979", ["Adams", "Müller-Łódź", "O'Neill"]),
        ("11122001", ["Marsh"]),
        ("nobody", []),
        ("--", []),
    ],
)
def test_search(patients: PatientList, typed: str, found: list[str]) -> None:
    assert families(patients, typed) == found


def test_nothing_typed_lists_all_by_name(patients: PatientList) -> None:
    everyone = ["Adams", "Marsh", "Müller-Łódź", "O'Neill", "van der Berg", "Ward3"]
    assert families(patients, "  ") == everyone
    assert patients.count() == 6


def test_a_row_shows_who_it_is(patients: PatientList) -> None:
    (row,) = patients.search("lodz").rows
    assert (row.given_names, row.record_number, row.birth_date) == (
        "Anna Maria",
        "FT-00123",
        "1979-08-30",
    )
    assert (row.last_visit, row.title, row.sex, row.in_error) == ("", "", "", False)


def test_pages(patients: PatientList) -> None:
    first, second = patients.first(limit=3), patients.first(limit=3, offset=3)
    assert [row.family_name for row in first.rows + second.rows] == families(patients, "")
    assert (first.more, second.more) == (True, False)
    page = patients.search("m", limit=1, offset=1)
    assert ([row.family_name for row in page.rows], page.more) == (["Müller-Łódź"], True)
    assert patients.search("m", offset=3).rows == ()


def test_recent_visits_stand_first(store: Store, patients: PatientList) -> None:
    earlier, later = patients.search("marsh").rows[0], patients.search("berg").rows[0]
    new_examination(store, earlier.subject, "2026-01-02")
    new_examination(store, later.subject, "2026-02-02")
    assert [row.family_name for row in patients.recent(limit=2).rows] == ["van der Berg", "Marsh"]
    assert patients.recent(limit=1).rows[0].last_visit == "2026-02-02"


def test_an_open_list_sees_what_is_written_beside_it(store: Store, patients: PatientList) -> None:
    subject = new_patient(store, "Zola", "Emil")
    assert families(patients, "zola") == ["Zola"]
    more(store, subject, fact("patient:family-name", "Zidane"))
    assert families(patients, "zola") == []
    assert families(patients, "emil") == ["Zidane"]


def test_a_record_in_error_is_shown_as_such(store: Store, patients: PatientList) -> None:
    subject = patients.search("marsh").rows[0].subject
    more(store, subject, fact("patient:entered-in-error", True))
    assert patients.search("marsh").rows[0].in_error


@pytest.mark.parametrize(
    ("person", "like"),
    [
        (("Muller", "A.", "1979-08-30", ""), ["Müller-Łódź"]),
        (("Muelner", "", "1979-08-30", ""), ["Müller-Łódź"]),
        (("Anna", "Seana", "1979-08-30", ""), ["Müller-Łódź", "O'Neill"]),
        (("Muller", "Anna", "1979-08-31", ""), []),
        (("Muller", "Anna", "", ""), []),
        (("Other", "Person", "1979-08-30", ""), []),
        (("Other", "Person", "", "ft 00124"), ["O'Neill"]),
        (("Other", "Person", "", "00124"), ["O'Neill"]),
        (("", "", "1979-08-30", ""), []),
        (("", "", "", "-"), []),
    ],
)
def test_alike(patients: PatientList, person: tuple[str, str, str, str], like: list[str]) -> None:
    assert [row.family_name for row in patients.like(*person)] == like


def fits(words: set[str], typed: str) -> bool:
    """What a search promises, in the plainest form."""
    (tokens,) = meanings(typed)
    return all(any(word.startswith(token) for word in words) for token in tokens)


@pytest.mark.parametrize("walking", [True, False, None])
def test_both_ways_of_finding_agree_with_the_plainest(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch, walking: bool | None
) -> None:
    if walking is not None:
        monkeypatch.setattr(finding, "_walking_is_quicker", lambda *_: walking)
    chance = random.Random(11)
    names = ["Abel", "Abt", "Arnd", "Berg", "Bär", "Böhm", "Carl", "Cerny", "Dahl", "Da-Sa"]
    people = [
        (chance.choice(names), chance.choice(names), str(number), f"19{chance.randint(10, 99)}")
        for number in range(150)
    ]
    subjects = {new_patient(store, *person): person for person in people}
    with PatientList(folder) as patients:
        for typed in ("a", "b", "ab", "a b", "b ab", "da sa", "a 1", "b 19", "c d a", "zz", "1"):
            beginnings = tuple(one for token in meanings(typed)[0] for one in token)
            wanted = [
                (not row.family_name.lower().startswith(beginnings), row)
                for row in patients.first(1000).rows
                if fits(found_by(*subjects[row.subject]), typed)
            ]
            wanted.sort(key=lambda one: one[0])  # stable: by name within each half
            rows = tuple(row for _, row in wanted)
            found = patients.search(typed, limit=1000).rows
            assert {row.subject for row in found} == {row.subject for row in rows}
            assert [row.family_name for row in found] == [row.family_name for row in rows]
            assert patients.search(typed, limit=7, offset=5).rows == found[5:12]


def test_a_walk_that_meets_too_few_gives_up(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(30):
        new_patient(store, f"Family{number:02}", "Zoe" if number > 27 else "Ann")
    monkeypatch.setattr(finding, "_walking_is_quicker", lambda *_: True)
    monkeypatch.setattr(finding, "_STEPS", 5)
    with PatientList(folder) as patients:
        assert families(patients, "zoe") == ["Family28", "Family29"]


def test_walking_is_chosen_where_many_fit(store: Store, folder: Path) -> None:
    with PatientList(folder) as patients:
        connection = patients._connection
        assert not finding._walking_is_quicker(connection, [0], 51)  # an empty store
        new_patient(store, "Only")
        assert not finding._walking_is_quicker(connection, [0], 51)
        assert not finding._walking_is_quicker(connection, [1], 51)
        assert finding._walking_is_quicker(connection, [1000], 51)


def test_nothing_heavy_is_loaded_for_the_list(store: Store, folder: Path) -> None:
    new_patient(store, "Light")
    look = (
        "import sys; from pathlib import Path\n"
        "from footexam.store.quick_list import PatientList\n"
        "with PatientList(Path(sys.argv[1])) as patients:\n"
        "    assert patients.search('lig').rows and patients.recent().rows\n"
        "heavy = {'sqlalchemy', 'pydantic', 'PySide6', 'reportlab', 'json'} & set(sys.modules)\n"
        "rooms = {n for n in sys.modules if n.startswith('footexam.') and '.store' not in n}\n"
        "print(sorted(heavy), sorted(rooms))"
    )
    said = subprocess.run(
        [sys.executable, "-c", look, str(folder)], capture_output=True, text=True, check=True
    )
    assert said.stdout.strip() == "[] ['footexam.settings']"


def test_the_list_changes_nothing(patients: PatientList) -> None:
    with pytest.raises(sqlite3.OperationalError, match="readonly"):
        patients._connection.execute("DELETE FROM patient_word")


def test_no_store(tmp_path: Path) -> None:
    with refused("no-store"):
        PatientList(tmp_path)


def test_an_older_store_waits_for_its_upgrade(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.close()
    monkeypatch.setattr("footexam.store.quick_list.VERSION", 2)
    with refused("older"):
        PatientList(folder)


def test_an_index_of_another_form_waits_for_the_store(store: Store, folder: Path) -> None:
    new_patient(store, "Kept")
    store.close()
    tamper(folder, "UPDATE fact SET value = '0' WHERE name = 'index'")
    with refused("index-behind"):
        PatientList(folder)
    Store.open(folder).close()
    with PatientList(folder) as patients:
        assert families(patients, "kept") == ["Kept"]


def test_a_damaged_file_is_told(store: Store, folder: Path) -> None:
    for number in range(300):
        new_patient(store, f"Name{number}", "Given", str(number))
    store.close()
    path = folder / DATABASE
    data = bytearray(path.read_bytes())
    data[4096:] = b"\xa5" * (len(data) - 4096)
    path.write_bytes(data)
    with refused("damaged"):
        PatientList(folder)
