"""A census tells two stores apart by their entries, not by their files."""

from pathlib import Path

from footexam.record.entry import first_link
from footexam.store import Store
from footexam.store.journals import Attachment
from tests.store.builders import attach, begin, more, reading


def test_what_is_counted(store: Store) -> None:
    empty = store.census()
    assert (empty.subjects, empty.entries, empty.attachments, empty.attached_bytes) == (0, 0, 0, 0)
    picture = Attachment(b"12345", "image/png")
    subject = store.new_subject("examination")
    store.append(subject, first_link(subject), [attach(picture.body()), reading()], [picture])
    begin(store, store.new_subject("patient"), reading())
    found = store.census()
    assert (found.subjects, found.entries, found.attachments, found.attached_bytes) == (2, 3, 1, 5)


def test_stores_with_the_same_entries_are_the_same(tmp_path: Path) -> None:
    subject = "examination:same"
    with Store.create(tmp_path / "a") as one, Store.create(tmp_path / "b") as other:
        begin(one, subject, reading("a"), reading("b"))
        begin(other, subject, reading("a"))
        assert one.census() != other.census()
        more(other, subject, reading("b"))
        assert one.census() == other.census()
        more(one, subject, reading("c"))
        more(other, subject, reading("d"))
        assert one.census().entries == other.census().entries
        assert one.census() != other.census()


def test_other_bytes_are_another_census(tmp_path: Path) -> None:
    with Store.create(tmp_path / "a") as one, Store.create(tmp_path / "b") as other:
        for store, data in ((one, b"12345"), (other, b"54321")):
            picture = Attachment(data, "image/png")
            store.append("examination:1", first_link("examination:1"), [reading()], [picture])
        assert one.census() != other.census()
