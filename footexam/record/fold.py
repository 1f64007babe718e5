"""Folds journals to a patient and an examination: what is retracted is ignored, nothing else.

The fold never validates limits: what was once written down is shown for ever.
"""

from collections.abc import Mapping
from datetime import date
from typing import Any

from footexam.record.entry import Entry, EntryKind
from footexam.record.examination import Examination, Patient, Person
from footexam.record.journal import Journal
from footexam.record.reading import Reading
from footexam.record.signing import is_amended
from footexam.record.withdrawn import withdrawn
from footexam.terms import Purpose, Role, Sex, Side


def fold_patient(journal: Journal) -> Patient:
    """The patient of a patient's journal."""
    facts = _facts(journal.live(), "patient")
    return Patient(
        family_name=str(facts.get("family-name", "")),
        given_names=str(facts.get("given-names", "")),
        title=str(facts.get("title", "")),
        record_number=str(facts.get("record-number", "")),
        birth_date=facts.get("birth-date"),
        sex=Sex(facts.get("sex", Sex.UNKNOWN)),
    )


def fold_examination(journal: Journal, patient: Patient) -> Examination:
    """The examination of an examination's journal. KeyError without a date or examiner."""
    live = journal.live()
    facts = _facts(live, "exam")
    supervisor = facts.get("supervisor")
    readings = _readings(live)
    return Examination(
        patient=patient,
        examined_on=date.fromisoformat(facts["examined-on"]),
        examiner=_person(facts["examiner"], Role.CLINICIAN),
        supervisor=_person(supervisor, Role.SUPERVISOR) if supervisor else None,
        purpose=Purpose(facts.get("purpose", Purpose.RECORD)),
        readings=readings,
        decisions=_decisions(live),
        signed_by=tuple(
            entry.draft.author.name for entry in live if entry.draft.kind is EntryKind.SIGN
        ),
        amended=any(one.draft.kind is EntryKind.SIGN for one in live) and is_amended(journal),
        version=len(journal),
        head=journal.head,
        in_error="entered-in-error" in facts,
        withdrawn=withdrawn(journal, readings),
    )


def _facts(live: list[Entry], kind: str) -> dict[str, Any]:
    """The last live value of each `kind:name` that is not a measure."""
    prefix = f"{kind}:"
    return {
        entry.draft.target.removeprefix(prefix): entry.draft.body["is"]
        for entry in live
        if entry.draft.target.startswith(prefix) and entry.draft.kind is EntryKind.SET
    }


def _person(fact: Mapping[str, Any], role: Role) -> Person:
    level = fact.get("level")
    return Person(
        str(fact["name"]), Role(fact.get("role", role)), int(level) if level is not None else None
    )


def _readings(live: list[Entry]) -> dict[tuple[str, Side | None], Reading]:
    """The last live reading of each measure and side, in the order of their first entry."""
    readings: dict[tuple[str, Side | None], Reading] = {}
    for entry in live:
        reading = entry.reading
        if reading is not None:
            readings[reading.measure, reading.side] = reading
    return readings


def _decisions(live: list[Entry]) -> dict[str, Any]:
    """Decisions in the shape of the examination file, the last one about each thing."""
    last: dict[tuple[str, Side | None, str], Entry] = {}
    for entry in live:
        if entry.draft.kind is EntryKind.DECIDE:
            own = str(entry.draft.body.get("statement", ""))
            last[entry.draft.target, entry.draft.side, own] = entry
    decisions: dict[str, Any] = {
        "cautions": {},
        "hypotheses": {"accepted": [], "rejected": [], "own": []},
        "aims": [],
        "features": [],
    }
    for (target, side, _), entry in last.items():
        kind, _, name = target.partition(":")
        _file_decision(decisions, kind, name, {"side": side, **entry.draft.body})
    return decisions


def _file_decision(
    decisions: dict[str, Any], kind: str, name: str, body: Mapping[str, Any]
) -> None:
    """Put one decision where the examination file has it.

    Decisions about both sides of one caution stand in a list.
    """
    what = {key: item for key, item in body.items() if key != "list"}
    if kind == "caution":
        before = decisions["cautions"].get(name)
        several = before if isinstance(before, list) else [before] if before else []
        decisions["cautions"][name] = [*several, what] if several else what
    elif kind == "hypothesis":
        named = {"id": name, **what} if name else what
        decisions["hypotheses"][body["list"]].append(named)
    elif kind == "letter":
        del what["side"]
        decisions.setdefault("letters", {})[name] = what
    else:
        decisions[f"{kind}s"].append({"id": name, **what})
