"""The typed objects of marking rubrics, their reading from forms/marking, and what must hold."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from footexam.catalogue.check_expression import ExpressionChecker
from footexam.catalogue.fields import Fields
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Texts
from footexam.terms import Provenance

BEST = 4
"""The best mark of a domain; marks go from 0 up in whole steps."""

_SOURCED = frozenset({"source", "provenance"})
_LEAST_GRADES = 3


class Seen(StrEnum):
    """What the comparison can show of a domain or find of a critical fail."""

    MISSED_CAUTION = "missed-caution"
    WRONG_SIDE = "wrong-side"
    UNSAFE_PLAN = "unsafe-plan"


class Standard(StrEnum):
    """Where the pass mark comes from."""

    FIXED = "fixed"
    BORDERLINE = "borderline-regression"
    ANGOFF = "angoff"


@dataclass(frozen=True, slots=True)
class Domain:
    """One domain: its weight in points, what marks 0 to 4 mean, what to practise.

    `panels` are those whose items show something of it, with `numbers` their numbers only;
    `reasoning` says that hypotheses and cautions do, `plan` that aims and features do.
    """

    id: str
    label: Texts
    weight: Decimal
    anchors: tuple[Texts, ...]
    practise: Texts
    panels: tuple[str, ...] = ()
    numbers: bool = False
    reasoning: bool = False
    plan: bool = False


@dataclass(frozen=True, slots=True)
class CriticalFail:
    """What fails an examination whatever its points; `seen` is what a comparison may find of it."""

    id: str
    label: Texts
    seen: Seen | None = None


@dataclass(frozen=True, slots=True)
class Grade:
    """One step of the global grade, with its place on the scale that the regression uses."""

    id: str
    label: Texts
    at: Decimal


@dataclass(frozen=True, slots=True)
class StatedLimit:
    """A difference that is let pass in a measure, in its unit, however small its error."""

    measure: str
    at: Decimal
    source: str
    provenance: Provenance


@dataclass(frozen=True, slots=True)
class Moderation:
    """How far two markers may lie apart before they agree on marks together.

    `points` between their sums, `grades` steps between their global grades; a policy.
    """

    points: Decimal
    grades: int
    source: str
    provenance: Provenance


@dataclass(frozen=True, slots=True)
class Rubric:
    """How a student's examination is marked.

    The weights add up to `points`. The global grade is never worked out from the points.
    `borderline` names the grade at which the pass mark is read. `pass_share` is the share of the
    points that passes where the standard is fixed. `standard_errors` of the pass mark are added to
    it as a written policy: 0, or 1 for the rule of one standard error. Without `moderation` two
    markers agree on marks together only where one passes what the other fails, or their critical
    fails differ.
    """

    id: str
    label: Texts
    says: Texts
    points: Decimal
    domains: tuple[Domain, ...]
    critical: tuple[CriticalFail, ...]
    grades: tuple[Grade, ...]
    borderline: str
    standard: Standard
    standard_errors: Decimal
    level_limit: int
    limits: tuple[StatedLimit, ...]
    source: str
    provenance: Provenance
    pass_share: Decimal | None = None
    moderation: Moderation | None = None


def read_rubric(fields: Fields) -> Rubric:
    """One [[rubric]]."""
    needs = frozenset({"id", "label", "says", "points", "domain", "critical", "grade"})
    needs |= {"borderline", "standard", "standard_errors", "level_limit"} | _SOURCED
    fields.only(needs | {"limit", "pass_share", "moderation"}, needs)
    return Rubric(
        id=fields.text("id"),
        label=fields.texts("label"),
        says=fields.texts("says"),
        points=_figure(fields, "points"),
        domains=tuple(_domain(one) for one in fields.tables("domain")),
        critical=tuple(_critical(one) for one in fields.tables("critical")),
        grades=tuple(_grade(one) for one in fields.tables("grade")),
        borderline=fields.text("borderline"),
        standard=fields.one_of("standard", Standard),
        standard_errors=_figure(fields, "standard_errors"),
        level_limit=fields.whole("level_limit") or 0,
        limits=tuple(_limit(one) for one in fields.tables("limit")),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        pass_share=fields.number("pass_share"),
        moderation=_moderation(fields),
    )


def _figure(fields: Fields, key: str) -> Decimal:
    return fields.number(key) or Decimal(0)  # `only` has seen the key: None cannot be


def _domain(fields: Fields) -> Domain:
    needs = frozenset({"id", "label", "weight", "anchor", "practise"})
    fields.only(needs | {"panels", "numbers", "reasoning", "plan"}, needs)
    return Domain(
        id=fields.text("id"),
        label=fields.texts("label"),
        weight=_figure(fields, "weight"),
        anchors=tuple(_anchor(one, place) for place, one in enumerate(fields.tables("anchor"))),
        practise=fields.texts("practise"),
        panels=fields.words("panels"),
        numbers=fields.flag("numbers"),
        reasoning=fields.flag("reasoning"),
        plan=fields.flag("plan"),
    )


def _anchor(fields: Fields, place: int) -> Texts:
    """What a mark means; the marks stand in order from 0."""
    keys = frozenset({"mark", "says"})
    fields.only(keys, keys)
    if fields.whole("mark") != place:
        raise fields.wrong(
            "mark", "the marks of the anchors do not count up", "write 0, 1, 2, 3, 4"
        )
    return fields.texts("says")


def _critical(fields: Fields) -> CriticalFail:
    needs = frozenset({"id", "label"})
    fields.only(needs | {"seen"}, needs)
    return CriticalFail(fields.text("id"), fields.texts("label"), fields.maybe_one_of("seen", Seen))


def _grade(fields: Fields) -> Grade:
    keys = frozenset({"id", "label", "at"})
    fields.only(keys, keys)
    return Grade(fields.text("id"), fields.texts("label"), _figure(fields, "at"))


def _limit(fields: Fields) -> StatedLimit:
    keys = frozenset({"measure", "at"}) | _SOURCED
    fields.only(keys, keys)
    return StatedLimit(
        measure=fields.text("measure"),
        at=_figure(fields, "at"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
    )


def _moderation(fields: Fields) -> Moderation | None:
    """The [rubric.moderation] of a rubric, if it has one."""
    if "moderation" not in fields.table:
        return None
    limit = fields.table_at("moderation")
    keys = frozenset({"points", "grades"}) | _SOURCED
    limit.only(keys, keys)
    return Moderation(
        points=_figure(limit, "points"),
        grades=limit.whole("grades") or 0,
        source=limit.text("source"),
        provenance=limit.one_of("provenance", Provenance),
    )


def check_marking(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Every mistake in forms/marking that only shows between tables."""
    checker = ExpressionChecker(catalogue)
    for rubric in catalogue.rubrics.values():
        place = places[f"Rubric:{rubric.id}"]
        yield from checker.source(rubric.source, place)
        yield from _check_domains(rubric, catalogue, place)
        yield from _check_grades(rubric, place)
        yield from _check_names(rubric, place)
        yield from _check_standard(rubric, place)
        yield from _check_moderation(rubric, checker, place)
        for at, limit in enumerate(rubric.limits):
            where = place.at("limit", at)
            yield from known(limit.measure, catalogue.measures, where.at("measure"), "panels/")
            yield from checker.source(limit.source, where)
            if limit.at <= 0:
                yield Complaint(where.at("at"), "a limit is above 0", "check the figure")


def _check_domains(rubric: Rubric, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    total = sum((domain.weight for domain in rubric.domains), Decimal(0))
    if total != rubric.points:
        what = f"the weights of the domains add up to {total} and not to {rubric.points}"
        yield Complaint(place.at("domain"), what, "change the weights, or points")
    for at, domain in enumerate(rubric.domains):
        where = place.at("domain", at)
        if domain.weight <= 0:
            yield Complaint(where.at("weight"), "a weight is above 0", "check the figure")
        if len(domain.anchors) != BEST + 1:
            what = f"the domain “{domain.id}” does not say what each mark means"
            yield Complaint(where.at("anchor"), what, f"write an anchor for 0 to {BEST}")
        for panel in domain.panels:
            yield from known(panel, catalogue.panels, where.at("panels"), "panels/")


def _check_grades(rubric: Rubric, place: Place) -> Iterator[Complaint]:
    where = place.at("grade")
    spots = [grade.at for grade in rubric.grades]
    if len(spots) < _LEAST_GRADES or spots != sorted(set(spots)):
        what = "the global grades do not rise"
        yield Complaint(where, what, f"give {_LEAST_GRADES} or more, the worst first, at rising")
    if rubric.borderline not in {grade.id for grade in rubric.grades}:
        what = f"“{rubric.borderline}” is not a global grade"
        yield Complaint(place.at("borderline"), what, "name the grade of a borderline pass")


def _check_names(rubric: Rubric, place: Place) -> Iterator[Complaint]:
    for key, things in (
        ("domain", rubric.domains),
        ("critical", rubric.critical),
        ("grade", rubric.grades),
    ):
        names = [thing.id for thing in things]
        if len(set(names)) != len(names):
            yield Complaint(place.at(key), "two of them have one id", "give each its own")


def _check_standard(rubric: Rubric, place: Place) -> Iterator[Complaint]:
    share = rubric.pass_share
    if (rubric.standard is Standard.FIXED) != (share is not None):
        what = "a share that passes belongs to the fixed standard, and to no other"
        yield Complaint(place.at("standard"), what, "give pass_share with “fixed” only")
    elif share is not None and not 0 < share < 1:
        yield Complaint(place.at("pass_share"), "a share lies between 0 and 1", "write 0.6")
    if rubric.standard_errors not in {0, 1}:
        what = "none or one standard error of the pass mark is added"
        yield Complaint(place.at("standard_errors"), what, "write 0 or 1")


def _check_moderation(
    rubric: Rubric, checker: ExpressionChecker, place: Place
) -> Iterator[Complaint]:
    limit, where = rubric.moderation, place.at("moderation")
    if limit is None:
        return
    yield from checker.source(limit.source, where)
    if not 0 <= limit.points < rubric.points:
        what = "two markers may lie from 0 to all points apart"
        yield Complaint(where.at("points"), what, "check the figure")
