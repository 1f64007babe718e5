"""The examination file around its readings: patient, examiner, dates, decisions (pydantic)."""

import re
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, model_validator

from footexam.record.cells import partial_date
from footexam.record.refusal import number, text
from footexam.terms import Purpose, Role, Sex, Side

FORMAT = "footexam/examination"
VERSION = 1
_TIME = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?Z", re.ASCII)
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*", re.ASCII)


def utc(typed: str) -> str:
    """A time in UTC with Z; ValueError otherwise."""
    if not _TIME.fullmatch(typed):
        raise ValueError("write UTC with Z, as in 2026-03-04T10:20:00Z")
    date.fromisoformat(typed[:10])
    return typed


def _day(typed: str) -> date:
    if len(typed) != len("YYYY-MM-DD"):
        raise ValueError("write YYYY-MM-DD")
    return date.fromisoformat(typed)


def _id(typed: str) -> str:
    if not _ID.fullmatch(typed):
        raise ValueError("an id is written in small letters, digits and hyphens")
    return typed


def _whole(typed: object) -> int:
    value = number(typed)
    if value is None or value != value.to_integral_value():
        raise ValueError("write a whole number")
    return int(value)


def _line(typed: str) -> str:
    return text(typed, 200)


def _line_or_empty(typed: str) -> str:
    return text(typed, 200) if typed else typed


def _size(typed: object) -> str:
    """A dimension of a feature as typed; it is worked out when plans are."""
    value = number(typed)
    return text(typed, 200) if value is None else str(value)


Line = Annotated[str, AfterValidator(_line)]
Prose = Annotated[str, AfterValidator(text)]
MaybeLine = Annotated[str, AfterValidator(_line_or_empty)]
Whole = Annotated[int, BeforeValidator(_whole)]
Utc = Annotated[str, AfterValidator(utc)]
Id = Annotated[str, AfterValidator(_id)]
Day = Annotated[str, AfterValidator(lambda typed: _day(typed).isoformat())]
PartialDay = Annotated[str, AfterValidator(partial_date)]
# a strict model wants the member of an enum; a file can only hold its word
SideWord = Annotated[Side, BeforeValidator(Side)]
SexWord = Annotated[Sex, BeforeValidator(Sex)]
RoleWord = Annotated[Role, BeforeValidator(Role)]
PurposeWord = Annotated[Purpose, BeforeValidator(Purpose)]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class PatientFile(_Strict):
    """Who is examined."""

    family_name: Line
    given_names: MaybeLine = ""
    title: MaybeLine = ""
    record_number: MaybeLine = ""
    birth_date: PartialDay | None = None
    sex: SexWord = Sex.UNKNOWN

    @model_validator(mode="before")
    @classmethod
    def _name(cls, data: Any) -> Any:
        """`name` is accepted for `family_name`."""
        if isinstance(data, dict) and "name" in data and "family_name" not in data:
            return {"family_name" if key == "name" else key: item for key, item in data.items()}
        return data


class ExaminerFile(_Strict):
    """Who examines."""

    name: Line
    role: RoleWord = Role.CLINICIAN


class SupervisorFile(_Strict):
    """Who supervises, with the level of supervision."""

    name: Line
    level: Whole | None = None


class CautionDecision(_Strict):
    """What a named person did about a caution."""

    side: SideWord | None = None
    decision: Literal["acted", "excluded", "transferred"]
    done: Prose = Field(default="", validate_default=False)
    by: Line
    at: Utc


class Chosen(_Strict):
    """A hypothesis or aim by id and side."""

    id: Id
    side: SideWord | None = None


class Rejected(Chosen):
    """A hypothesis set aside, with its reason."""

    reason: Prose


class OwnHypothesis(_Strict):
    """A hypothesis in the clinician's own words."""

    side: SideWord | None = None
    statement: Prose


class HypothesisDecisions(_Strict):
    """What was accepted, set aside and added."""

    accepted: list[Chosen] = []
    rejected: list[Rejected] = []
    own: list[OwnHypothesis] = []


class Feature(Chosen):
    """A chosen feature; further keys are its dimensions as typed, as in "height": "6 mm"."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[Id, Annotated[str, BeforeValidator(_size)]]


class Decisions(_Strict):
    """Everything that was decided at this visit."""

    cautions: dict[Id, CautionDecision] = {}
    hypotheses: HypothesisDecisions = HypothesisDecisions()
    aims: list[Chosen] = []
    features: list[Feature] = []


class ExaminationFile(_Strict):
    """The whole file; `readings` stay as they are for the readers of record/."""

    format: Literal["footexam/examination"]
    version: Whole
    purpose: PurposeWord = Purpose.RECORD
    patient: PatientFile
    examined_on: Day
    examiner: ExaminerFile
    supervisor: SupervisorFile | None = None
    readings: dict[str, Any]
    decisions: Decisions = Decisions()
