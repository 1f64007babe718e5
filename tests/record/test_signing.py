"""Who can sign what, what a signature covers, and what opens it again."""

import dataclasses
import hashlib

import pytest

from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Examination, Patient
from footexam.record.fold import fold_examination
from footexam.record.journal import Journal
from footexam.record.signing import (
    ASSESSMENT,
    DOCUMENT,
    Bar,
    Shown,
    Standing,
    attach_draft,
    bar,
    changes_since,
    is_complete,
    sign_draft,
    signatures,
    signers,
    standing,
)
from footexam.terms import Role
from tests.record.journals import AT, retract, set_draft

ANN = Author("Ann Berg", Role.CLINICIAN, "s")
STUDENT = Author("Bo Lund", Role.STUDENT, "s")
SUPERVISOR = Author("Cleo Dahl", Role.SUPERVISOR, "s")
SUBJECT = "examination:1"


def begun(examiner: Author = ANN) -> Journal:
    journal = Journal(SUBJECT)
    facts = {
        "examined-on": "2026-03-04",
        "examiner": {"name": examiner.name, "role": examiner.role.value},
    }
    for name, fact in facts.items():
        journal.append(Draft(EntryKind.SET, examiner, AT, f"exam:{name}", body={"is": fact}))
    journal.append(set_draft(author=examiner))
    return journal


def folded(journal: Journal) -> Examination:
    return fold_examination(journal, Patient("Doe"))


def shown(journal: Journal, document: bytes = b"%PDF pages") -> Shown:
    return Shown(document, b'{"a": 1}\n', 3, journal.head, len(journal), "digest")


def body(data: bytes) -> dict[str, str]:
    return {"hash": hashlib.sha256(data).hexdigest(), "size": str(len(data)), "type": "x/y"}


def sign(journal: Journal, author: Author, what: Shown | None = None) -> None:
    what = what or shown(journal)
    journal.append(attach_draft(DOCUMENT, body(what.document), author, AT))
    journal.append(attach_draft(ASSESSMENT, body(what.assessment), author, AT))
    journal.append(sign_draft(author, AT, what, "I have read these pages", 60))


def state(journal: Journal) -> Standing:
    return standing(journal, folded(journal))


def barred(journal: Journal, author: Author) -> Bar | None:
    return bar(journal, folded(journal), author)


# --- what a signature says


def test_signature_names_what_was_shown_and_survives_the_text() -> None:
    journal = begun()
    what = shown(journal)
    sign(journal, ANN, what)
    kept = Journal.of_texts(SUBJECT, [entry.text for entry in journal], journal.head)
    (one,) = signatures(kept)
    assert one.by == ANN
    assert (one.at, one.offset, one.statement) == (AT, 60, "I have read these pages")
    assert (one.covers, one.version, one.seq) == (what.head, 3, 6)
    assert one.document == hashlib.sha256(b"%PDF pages").hexdigest()
    assert one.assessment == hashlib.sha256(b'{"a": 1}\n').hexdigest()
    assert (one.size, one.pages, one.catalogue, one.sound) == (10, 3, "digest", True)


def test_a_signature_changes_nothing_of_the_examination() -> None:
    journal = begun()
    before = folded(journal)
    sign(journal, ANN)
    after = folded(journal)
    assert (after.readings, after.decisions) == (before.readings, before.decisions)
    assert after.signed_by == ("Ann Berg",)


@pytest.mark.parametrize(
    "wrong",
    [
        {"head": "0" * 64},
        {"version": 2},
        {"version": 0},
        {"version": 99},
        {"document": b"other pages"},
        {"assessment": b"other"},
    ],
)
def test_what_does_not_lie_before_it_is_not_signed(wrong: dict[str, object]) -> None:
    journal = begun()
    what = shown(journal)
    journal.append(attach_draft(DOCUMENT, body(what.document), ANN, AT))
    journal.append(attach_draft(ASSESSMENT, body(what.assessment), ANN, AT))
    journal.append(sign_draft(ANN, AT, dataclasses.replace(what, **wrong)))
    assert not signatures(journal)[0].sound
    assert state(journal) is Standing.UNSIGNED
    assert signers(journal) == ()


def test_an_entry_that_slips_in_between_is_not_signed() -> None:
    journal = begun()
    what = shown(journal)
    journal.append(set_draft("goals", "run", STUDENT))
    sign(journal, ANN, what)
    assert not signatures(journal)[0].sound
    assert not is_complete(journal, folded(journal))


def test_a_change_behind_the_last_signature_amends_and_a_new_signature_ends_that() -> None:
    journal = begun()
    assert not folded(journal).amended
    sign(journal, ANN)
    assert not folded(journal).amended
    journal.append(set_draft("goals", "run", ANN))
    assert folded(journal).amended
    sign(journal, ANN)
    assert not folded(journal).amended


def test_taking_back_a_signature_is_no_change_of_the_record() -> None:
    journal = begun()
    sign(journal, ANN)
    sign(journal, SUPERVISOR)
    journal.append(retract(len(journal), SUPERVISOR))
    assert changes_since(journal, signatures(journal)[0]) == ()
    assert state(journal) is Standing.SIGNED
    journal.append(retract(3))
    assert state(journal) is Standing.AMENDED


def test_an_empty_sign_entry_counts_for_nothing() -> None:
    journal = begun()
    journal.append(Draft(EntryKind.SIGN, ANN, AT, body={"document": "x", "version": "²"}))
    (one,) = signatures(journal)
    assert (one.sound, one.document, one.version, one.pages) == (False, "", 0, 0)


# --- a clinician's examination


def test_the_examiner_signs_and_it_is_complete() -> None:
    journal = begun()
    assert state(journal) is Standing.UNSIGNED
    assert barred(journal, ANN) is None
    sign(journal, ANN)
    assert state(journal) is Standing.SIGNED
    assert is_complete(journal, folded(journal))
    assert barred(journal, ANN) is Bar.ALREADY


@pytest.mark.parametrize("name", ["ann berg", " Ann  Berg ", "ＡＮＮ BERG"])
def test_spelling_makes_no_other_person(name: str) -> None:
    journal = begun()
    assert barred(journal, Author(name)) is None
    sign(journal, Author(name))
    assert barred(journal, ANN) is Bar.ALREADY


def test_nobody_signs_before_the_examiner_or_nameless_or_in_another_role() -> None:
    journal = begun()
    assert barred(journal, SUPERVISOR) is Bar.EXAMINER_FIRST
    assert barred(journal, Author("  ")) is Bar.NO_NAME
    assert barred(journal, Author("Ann Berg", Role.SUPERVISOR)) is Bar.OTHER_ROLE


def test_what_is_entered_in_error_is_not_signed() -> None:
    journal = begun()
    struck = {"is": {"reason": "wrong person"}}
    journal.append(Draft(EntryKind.SET, ANN, AT, "exam:entered-in-error", body=struck))
    assert barred(journal, ANN) is Bar.IN_ERROR


def test_a_change_opens_it_and_the_one_who_changed_it_may_sign() -> None:
    journal = begun()
    sign(journal, ANN)
    other = Author("Dee Moe", Role.CLINICIAN)
    journal.append(set_draft("goals", "run", other))
    assert state(journal) is Standing.AMENDED
    assert [entry.seq for entry in changes_since(journal, signatures(journal)[0])] == [7]
    assert barred(journal, STUDENT) is Bar.NOT_A_SUPERVISOR
    assert barred(journal, other) is None
    assert barred(journal, ANN) is None
    sign(journal, other)
    assert state(journal) is Standing.SIGNED
    assert signers(journal) == ("Ann Berg", "Dee Moe")


def test_a_change_that_was_taken_back_still_opens_it() -> None:
    journal = begun()
    sign(journal, ANN)
    journal.append(set_draft("goals", "run"))
    journal.append(retract(7, reason="slip"))
    assert state(journal) is Standing.AMENDED


def test_a_picture_added_later_opens_it() -> None:
    journal = begun()
    sign(journal, ANN)
    journal.append(attach_draft("attachment:photo", body(b"jpeg"), ANN, AT))
    assert state(journal) is Standing.AMENDED


def test_a_signature_taken_back_is_none() -> None:
    journal = begun()
    sign(journal, ANN)
    journal.append(retract(6, reason="signed by mistake"))
    assert state(journal) is Standing.UNSIGNED
    assert signatures(journal) == ()


# --- a student's examination


def test_a_student_needs_a_supervisor_who_is_somebody_else() -> None:
    journal = begun(STUDENT)
    assert barred(journal, SUPERVISOR) is Bar.EXAMINER_FIRST
    sign(journal, STUDENT)
    assert state(journal) is Standing.AWAITING
    assert barred(journal, STUDENT) is Bar.ALREADY
    assert barred(journal, Author("bo lund", Role.SUPERVISOR)) is Bar.ALREADY
    assert barred(journal, Author("Eve", Role.STUDENT)) is Bar.NOT_A_SUPERVISOR
    assert barred(journal, Author("Eve", Role.CLINICIAN)) is Bar.NOT_A_SUPERVISOR
    assert barred(journal, SUPERVISOR) is None
    sign(journal, SUPERVISOR)
    assert state(journal) is Standing.SIGNED


@pytest.mark.parametrize(
    "second",
    [
        Author("Bo Lund", Role.SUPERVISOR),
        Author("Eve", Role.STUDENT),
        Author("Eve", Role.CLINICIAN),
    ],
)
def test_no_other_second_signature_completes_it(second: Author) -> None:
    journal = begun(STUDENT)
    sign(journal, STUDENT)
    sign(journal, second)
    assert state(journal) is Standing.AWAITING


def test_a_change_behind_the_student_is_signed_by_the_student_first() -> None:
    journal = begun(STUDENT)
    sign(journal, STUDENT)
    journal.append(set_draft("goals", "run", STUDENT))
    assert barred(journal, SUPERVISOR) is Bar.EXAMINER_AGAIN
    sign(journal, STUDENT)
    sign(journal, SUPERVISOR)
    assert state(journal) is Standing.SIGNED


def test_a_supervisor_may_amend_and_sign_that() -> None:
    journal = begun(STUDENT)
    sign(journal, STUDENT)
    journal.append(set_draft("goals", "run", SUPERVISOR))
    assert barred(journal, SUPERVISOR) is None
    sign(journal, SUPERVISOR)
    assert state(journal) is Standing.SIGNED


def test_a_student_who_changes_a_countersigned_record_opens_it_until_it_is_countersigned() -> None:
    journal = begun(STUDENT)
    sign(journal, STUDENT)
    sign(journal, SUPERVISOR)
    journal.append(set_draft("goals", "run", STUDENT))
    assert state(journal) is Standing.AMENDED
    sign(journal, STUDENT)
    assert state(journal) is Standing.AMENDED
    sign(journal, SUPERVISOR)
    assert state(journal) is Standing.SIGNED
