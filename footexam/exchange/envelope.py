"""The examination file around its readings: patient, examiner, dates, decisions (pydantic)."""

import re
from collections.abc import Callable
from datetime import datetime
from enum import StrEnum
from typing import Annotated, Any, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Tag,
    model_validator,
)

from footexam.messages import listed
from footexam.record.cells import partial_date, whole_date
from footexam.record.refusal import Refusal, as_typed, number, text
from footexam.terms import Purpose, Role, Sex, Side, Tier

FORMAT = "footexam/examination"
VERSION = 1
ONE, SEVERAL = "[one]", "[several]"
"""How pydantic calls the two forms of a caution's decisions in the place of a mistake."""

_Enum = TypeVar("_Enum", bound=StrEnum)
_TIME = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?Z", re.ASCII)
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*", re.ASCII)


class CautionAction(StrEnum):
    """What may be done about a caution."""

    ACTED = "acted"
    EXCLUDED = "excluded"
    TRANSFERRED = "transferred"


def utc(typed: object) -> str:
    """A time in UTC with Z. Raises Refusal."""
    if not isinstance(typed, str) or not _TIME.fullmatch(typed):
        raise Refusal("not-a-time", what=as_typed(typed))
    try:
        datetime.fromisoformat(typed)
    except ValueError as bad:
        raise Refusal("not-a-time", what=typed) from bad
    return typed


def _id(typed: str) -> str:
    if not _ID.fullmatch(typed):
        raise Refusal("field-id", what=typed)
    return typed


def _digit(typed: object) -> int:
    value = number(typed)
    if value is None or value != value.to_integral_value() or not 0 <= value <= 9:
        raise Refusal("field-whole", what=as_typed(typed))
    return int(value)


def _member(words: type[_Enum]) -> Callable[[object], _Enum]:
    """Reads a word of a closed list as its member: a file can only hold the word."""

    def read(typed: object) -> _Enum:
        if not isinstance(typed, str) or typed not in set(words):
            raise Refusal("field-word", what=as_typed(typed), words=listed(words))
        return words(typed)

    return read


def _line(typed: str) -> str:
    return text(typed, 200)


def _line_or_empty(typed: str) -> str:
    return text(typed, 200) if typed else typed


def _prose_or_empty(typed: str) -> str:
    return text(typed) if typed else typed


def _mark(typed: str) -> str:
    """The mark of a text (record/written.py), or none."""
    if typed and not re.fullmatch(r"[0-9a-f]{16}", typed):
        raise Refusal("field-mark", what=as_typed(typed))
    return typed


def _size(typed: object) -> str:
    """A dimension of a feature as typed; it is worked out when plans are."""
    value = number(typed)
    return text(typed, 200) if value is None else as_typed(value)


Line = Annotated[str, AfterValidator(_line)]
Prose = Annotated[str, AfterValidator(text)]
MaybeLine = Annotated[str, AfterValidator(_line_or_empty)]
MaybeProse = Annotated[str, AfterValidator(_prose_or_empty)]
Mark = Annotated[str, AfterValidator(_mark)]
Digit = Annotated[int, BeforeValidator(_digit)]
Utc = Annotated[str, AfterValidator(utc)]
Id = Annotated[str, AfterValidator(_id)]
Day = Annotated[str, AfterValidator(lambda typed: whole_date(typed).isoformat())]
PartialDay = Annotated[str, AfterValidator(partial_date)]
SideWord = Annotated[Side, BeforeValidator(_member(Side))]
SexWord = Annotated[Sex, BeforeValidator(_member(Sex))]
RoleWord = Annotated[Role, BeforeValidator(_member(Role))]
PurposeWord = Annotated[Purpose, BeforeValidator(_member(Purpose))]
TierWord = Annotated[Tier, BeforeValidator(_member(Tier))]
CautionWord = Annotated[CautionAction, BeforeValidator(_member(CautionAction))]


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
    level: Digit | None = None


class CautionDecision(_Strict):
    """What a named person did about a caution; `tier` is how serious it stood then, if known."""

    side: SideWord | None = None
    decision: CautionWord
    tier: TierWord | None = None
    done: MaybeProse = ""
    by: Line
    at: Utc


def _how_many(decided: object) -> str:
    return SEVERAL if isinstance(decided, list) else ONE


CautionDecisions = Annotated[
    Annotated[CautionDecision, Tag(ONE)] | Annotated[list[CautionDecision], Tag(SEVERAL)],
    Discriminator(_how_many),
]
"""What was decided about a caution: once, or in a list with one decision a side."""


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


class LetterText(_Strict):
    """What was written for a block of a letter, line by line, or whom a letter goes to.

    No lines: the block is left out. `over` is the mark of what the record gave for it then.
    """

    lines: list[Prose]
    over: Mark = ""


class Decisions(_Strict):
    """Everything that was decided at this visit."""

    cautions: dict[Id, CautionDecisions] = {}
    hypotheses: HypothesisDecisions = HypothesisDecisions()
    aims: list[Chosen] = []
    features: list[Feature] = []
    letters: dict[Id, LetterText] = {}


class ExaminationFile(_Strict):
    """The whole file; `readings` stay as they are for the readers of record/."""

    format: str
    version: Digit
    purpose: PurposeWord = Purpose.RECORD
    patient: PatientFile
    examined_on: Day
    examiner: ExaminerFile
    supervisor: SupervisorFile | None = None
    readings: dict[str, Any]
    decisions: Decisions = Decisions()
