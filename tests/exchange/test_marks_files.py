"""Marks as files: a draft is one file, what was signed stays, nobody's file is written over."""

from dataclasses import replace
from pathlib import Path

import pytest

from footexam.exchange.marks import read_marks, write_marks
from footexam.exchange.marks_files import MarksChanged, MarksFiles, stem_of
from footexam.marking.rubric import Hand, Marks
from tests.marking.build import CATALOGUE

DRAFT = Marks("whole-examination", "Åsa Öst", "A. Marker", ("V-1", "1981-05-21"), "2026-03-04")
SIGNED = replace(DRAFT, signed_at="2026-03-05T10:00:00Z")


def files(folder: Path, *found: tuple[str, Marks]) -> MarksFiles:
    return MarksFiles(folder, CATALOGUE.rubrics, found, lambda one: one.mkdir(parents=True))


def on_disk(folder: Path) -> dict[str, Marks]:
    return {p.name: read_marks(p.read_bytes(), CATALOGUE.rubrics) for p in folder.iterdir()}


def test_a_draft_goes_on_in_its_file_until_it_is_signed(tmp_path: Path) -> None:
    folder = tmp_path / "term"
    kept = files(folder)
    name = kept.save(DRAFT)
    changed = replace(DRAFT, domains={"safety": 3})
    assert kept.save(changed) == name
    assert kept.save(SIGNED) == name
    assert on_disk(folder) == {name: SIGNED}
    again = replace(DRAFT, why_changed="A slip.")
    other = kept.save(again)
    assert other != name
    assert on_disk(folder) == {name: SIGNED, other: again}
    assert dict(kept.all) == on_disk(folder)


def test_each_hand_has_its_own_file(tmp_path: Path) -> None:
    kept = files(tmp_path)
    names = {kept.save(replace(DRAFT, hand=hand)) for hand in Hand}
    assert len(names) == 3
    assert all(name.startswith("marks-asa-ost-2026-03-04-") for name in names)


def test_a_file_that_was_read_goes_on_under_its_own_name(tmp_path: Path) -> None:
    (tmp_path / "mine.json").write_bytes(write_marks(DRAFT))
    kept = files(tmp_path, ("mine.json", DRAFT))
    assert kept.save(SIGNED) == "mine.json"
    assert on_disk(tmp_path) == {"mine.json": SIGNED}


@pytest.mark.parametrize("data", [write_marks(SIGNED), b"{"])
def test_a_file_that_somebody_else_wrote_meanwhile_is_kept(tmp_path: Path, data: bytes) -> None:
    kept = files(tmp_path)
    name = kept.save(DRAFT)
    (tmp_path / name).write_bytes(data)
    with pytest.raises(MarksChanged):
        kept.save(replace(DRAFT, domains={"safety": 3}))
    assert (tmp_path / name).read_bytes() == data
    with pytest.raises(MarksChanged):
        files(tmp_path).save(DRAFT)  # a marker who has not read it yet
    (tmp_path / name).unlink()
    assert kept.save(SIGNED) == name


def test_a_name_holds_the_student_and_the_day_but_not_the_patient() -> None:
    stem = stem_of((("V-1", "1981-05-21"), "2026-03-04", "x"), "marks-" + "Łydia / ..\\ " * 9)
    assert "V-1" not in stem
    assert "1981" not in stem
    assert set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert len(stem) < 64
    assert stem_of(((), "", ""), "学生").count("-") == 2
