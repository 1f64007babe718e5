"""The typed objects of aims, features of a device, conflicts and materials; no files read.

`when` texts are expressions (footexam/catalogue/expression.py). Every number is in `unit`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from footexam.catalogue.model import Texts
from footexam.terms import Grade, Provenance

HARM, GENERAL = "harm", "general"
"""What a claim may be about when it is about no aim."""


class Zone(StrEnum):
    """Where a feature takes room."""

    HEEL = "heel"
    MIDFOOT = "midfoot"
    FOREFOOT = "forefoot"
    WHOLE = "whole"
    SHOE = "shoe"
    LEG = "leg"


class Severity(StrEnum):
    """Whether a choice is advised against or refused."""

    WARN = "warn"
    BLOCK = "block"


class Use(StrEnum):
    """What a material is used for."""

    SHELL = "shell"
    POST = "post"
    FILL = "fill"
    COVER = "cover"
    CUSHION = "cushion"
    SOLE = "sole"


@dataclass(frozen=True, slots=True)
class Aim:
    """What a plan wants to become less or more.

    `hypotheses` open it. `excludes` are aims that cannot be had at the same joint.
    """

    id: str
    label: Texts
    says: Texts
    hypotheses: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
    note: Texts | None = None


@dataclass(frozen=True, slots=True)
class FeatureClaim:
    """One statement about a feature with its own grade; `about` is an aim, HARM or GENERAL."""

    about: str
    text: Texts
    grade: Grade
    source: str
    provenance: Provenance


@dataclass(frozen=True, slots=True)
class Avoid:
    """When not to use a feature; without `when` it is only shown.

    It gives way once one of the aims in `unless` is kept: the conflict of the feature with that aim
    then says what is to be done.
    """

    says: Texts
    severity: Severity
    source: str
    provenance: Provenance
    when: str = ""
    unless: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Size:
    """A dimension of a feature: what is usual, how far it goes, in what steps, in `unit`.

    The maker keeps to `usual` or what is chosen within plus or minus `tolerance`. `formula` is one
    of terms.FORMULAS that works it out for this person, "" where none does.
    """

    id: str
    unit: str
    usual: Decimal
    low: Decimal
    high: Decimal
    step: Decimal
    tolerance: Decimal
    source: str
    provenance: Provenance
    formula: str = ""
    note: Texts | None = None


@dataclass(frozen=True, slots=True)
class Feature:
    """One thing that a device, a shoe or a tape can have.

    `bulk` goes from 0 (none) to 5 (much). `first` are the aims for which it is tried first.
    `needs` says what it asks of the shoe and of other features. `where` it lies and the ids of the
    materials that it is usually `made_of` are common practice; what is typed with it goes before.
    """

    id: str
    label: Texts
    aims: tuple[str, ...]
    zone: Zone
    bulk: int
    mechanism: Texts
    first: tuple[str, ...] = ()
    needs: Texts | None = None
    where: Texts | None = None
    made_of: tuple[str, ...] = ()
    claims: tuple[FeatureClaim, ...] = ()
    avoids: tuple[Avoid, ...] = ()
    sizes: tuple[Size, ...] = ()


@dataclass(frozen=True, slots=True)
class Limit:
    """A dimension of a feature up to which (`most`, in its unit) a conflict holds."""

    feature: str
    size: str
    most: Decimal


@dataclass(frozen=True, slots=True)
class Conflict:
    """Features that fight each other when all of them are chosen, or one against a kept aim.

    `aims` empty: the features among themselves. Otherwise the one feature against any of the aims.
    `one_sided`: the one feature chosen for one side alone. It holds only where `when` is true of
    the record (always for "") and while every chosen dimension is within `limits`. `id` is made of
    the ids.
    """

    id: str
    features: tuple[str, ...]
    aims: tuple[str, ...]
    severity: Severity
    why: Texts
    source: str
    provenance: Provenance
    when: str = ""
    one_sided: bool = False
    limits: tuple[Limit, ...] = ()


class Device(StrEnum):
    """What an argument about the choice of a device speaks for."""

    CUSTOM = "custom"
    PREFABRICATED = "prefabricated"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class DeviceArgument:
    """A reason for a custom device, a prefabricated one, or none; it holds where all it asks is so.

    It asks for `when` to be true of the record, for one of `features` to be chosen, and for one of
    `aims` to be kept; where it asks nothing it always holds.
    """

    id: str
    says: Texts
    points_to: Device
    grade: Grade
    source: str
    provenance: Provenance
    when: str = ""
    features: tuple[str, ...] = ()
    aims: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Material:
    """A material under its generic name; moduli in MPa, density in g/cm3.

    `stress_at` is the share of the thickness that a foam loses at each pressure in kPa.
    """

    id: str
    label: Texts
    use: tuple[Use, ...]
    source: str
    provenance: Provenance
    modulus_low: Decimal | None = None
    modulus_high: Decimal | None = None
    density: Decimal | None = None
    hardness: Texts | None = None
    stress_at: Mapping[int, Decimal] | None = None
    note: Texts | None = None
