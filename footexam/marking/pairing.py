"""Which two examinations may be compared: one patient, one day, two people, a reference."""

from enum import StrEnum

from footexam.record.examination import Examination, Patient
from footexam.terms import Purpose


class Mismatch(StrEnum):
    """Why two examinations are not compared."""

    OTHER_PATIENT = "mark-other-patient"
    OTHER_DAY = "mark-other-day"
    EXCHANGED = "mark-exchanged"
    STRUCK_OUT = "mark-struck-out"


Identity = tuple[str, ...]


def identity(patient: Patient) -> Identity:
    """What examinations of one patient share; names only where no record number is given."""
    born = patient.birth_date or ""
    if patient.record_number:
        return patient.record_number, born
    return patient.family_name.casefold(), patient.given_names.casefold(), born


ExaminedKey = tuple[Identity, str, str]
"""Patient, day and examiner: which examination it is."""


def examined_key(examination: Examination) -> ExaminedKey:
    """Which examination this is."""
    day, name = examination.examined_on.isoformat(), examination.examiner.name
    return identity(examination.patient), day, name.strip().casefold()


def mismatch(student: Examination, reference: Examination) -> Mismatch | None:
    """Why these two are not a student's examination and its reference; None if they are."""
    if identity(student.patient) != identity(reference.patient):
        return Mismatch.OTHER_PATIENT
    if student.purpose is Purpose.REFERENCE or reference.purpose is Purpose.STUDENT:
        return Mismatch.EXCHANGED
    if student.examined_on != reference.examined_on:
        return Mismatch.OTHER_DAY
    if student.in_error or reference.in_error:
        return Mismatch.STRUCK_OUT
    return None


def one_person(student: Examination, reference: Examination) -> bool:
    """Whether both name one examiner: then nothing blind was compared, and it must be said."""
    names = [one.examiner.name.strip().casefold() for one in (student, reference)]
    return bool(names[0]) and names[0] == names[1]
