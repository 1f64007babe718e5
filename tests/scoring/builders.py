"""Small catalogues and examinations made by hand, so that a test shows all that it rests on."""

from collections.abc import Iterable, Mapping
from datetime import date
from decimal import Decimal

from footexam.assessment import assess
from footexam.catalogue.model import (
    Catalogue,
    Cut,
    DifferenceNorm,
    ErrorSize,
    Measure,
    NormGroup,
    NormSet,
)
from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import Numbers, Reading, Rows, Text, Value, Word
from footexam.scoring.bench import bench
from footexam.scoring.changes import compare
from footexam.scoring.results import Change, Difference, Finding, Score
from footexam.scoring.scores import score
from footexam.terms import Depth, Examiner, Kind, Provenance, Sex, Side

TODAY = date(2026, 3, 4)
LEFT, RIGHT = Side.LEFT, Side.RIGHT
SAME, OTHER = Examiner.SAME, Examiner.OTHER


def number(value: object) -> Decimal:
    return Decimal(str(value))


def maybe(value: object) -> Decimal | None:
    return None if value is None else number(value)


def measure(
    name: str,
    *,
    kind: Kind = Kind.QUANTITY,
    unit: str = "",
    sided: bool = True,
    ordinal: bool = False,
    best: bool = False,
    ends: tuple[int, int] | None = None,
    errors: Iterable[ErrorSize] = (),
    words: Iterable[str] = (),
    methods: Iterable[str] = (),
    derived_from: Iterable[str] = (),
) -> Measure:
    low, high = ends or (None, None)
    return Measure(
        id=name,
        panel="p",
        kind=kind,
        label={"en": name.replace("-", " ").capitalize()},
        depth=Depth.CORE,
        how={"en": ""},
        against={"en": ""},
        sided=sided,
        ordinal=ordinal,
        best=best,
        unit=unit,
        hard_low=maybe(low),
        hard_high=maybe(high),
        errors=tuple(errors),
        words=tuple(words),
        methods=tuple(methods),
        derived_from=tuple(derived_from),
    )


def error(
    examiner: Examiner,
    *,
    sem: object = None,
    mdc95: object = None,
    sd: object = None,
    icc: object = None,
    method: str = "",
    used: bool = True,
) -> ErrorSize:
    return ErrorSize(
        examiner,
        "source-of-error",
        Provenance.PUBLISHED,
        sem=maybe(sem),
        mdc95=maybe(mdc95),
        sd=maybe(sd),
        icc=maybe(icc),
        method=method,
        used=used,
    )


def cuts(*texts: str) -> tuple[Cut, ...]:
    """Cuts written as "< 36 low"."""
    return tuple(Cut(op, Decimal(at), state) for op, at, state in map(str.split, texts))


def group(
    name: str = "all",
    *,
    default: bool = True,
    sex: Sex | None = None,
    side: Side | None = None,
    ages: tuple[int, int] | None = None,
    needs: Mapping[str, tuple[str, ...]] | None = None,
    n: int | None = None,
    mean: object = None,
    sd: object = None,
    low: Iterable[str] = (),
    high: Iterable[str] = (),
) -> NormGroup:
    return NormGroup(
        name,
        {"en": name},
        default=default,
        sex=sex,
        side=side,
        ages=ages,
        needs=needs,
        n=n,
        mean=maybe(mean),
        sd=maybe(sd),
        low=cuts(*low),
        high=cuts(*high),
    )


def norms(
    name: str,
    of: str,
    *groups: NormGroup,
    source: str = "source-of-norm",
    provenance: Provenance = Provenance.PUBLISHED,
    methods: Iterable[str] = (),
    judged: bool = True,
    interpolate: bool = False,
    round_to: object = None,
    outside: Iterable[str] = (),
) -> NormSet:
    return NormSet(
        name,
        of,
        {"en": name},
        source,
        provenance,
        groups,
        tuple(methods),
        judged,
        interpolate,
        maybe(round_to),
        tuple(outside),
    )


def sides(of: str, *limits: str, sd: object = None, methods: Iterable[str] = ()) -> DifferenceNorm:
    return DifferenceNorm(
        f"{of}-sides",
        of,
        "source-of-sides",
        Provenance.PUBLISHED,
        cuts(*limits),
        {"en": of},
        tuple(methods),
        maybe(sd),
    )


def catalogue(
    measures: Iterable[Measure],
    sets: Iterable[NormSet] = (),
    differences: Iterable[DifferenceNorm] = (),
) -> Catalogue:
    by_set: dict[str, tuple[NormSet, ...]] = {}
    for one in sets:
        by_set[one.measure] = (*by_set.get(one.measure, ()), one)
    by_difference: dict[str, tuple[DifferenceNorm, ...]] = {}
    for pair in differences:
        by_difference[pair.measure] = (*by_difference.get(pair.measure, ()), pair)
    return Catalogue(
        panels={},
        measures={one.id: one for one in measures},
        sources={},
        regions={},
        words={},
        norms=by_set,
        differences=by_difference,
        renamed={},
    )


Readings = Mapping[tuple[str, Side | None], object]


def value(content: object) -> Value:
    """A number, several numbers, a word, rows, or any value of the record as it is."""
    if isinstance(content, str):
        return Word(content)
    if isinstance(content, int | float | Decimal):
        return Numbers((number(content),))
    if isinstance(content, list):
        return Rows(tuple(content))
    if isinstance(content, tuple):
        return Numbers(tuple(number(part) for part in content))
    assert isinstance(content, Value)
    return content


def reading(name: str, side: Side | None, content: object, method: str | None = None) -> Reading:
    if isinstance(content, Reading):
        return content
    return Reading(name, side, value(content), method=method)


def text(content: str) -> Text:
    return Text(content)


def examination(
    readings: Readings,
    *,
    years: int | None = 40,
    sex: Sex = Sex.FEMALE,
    born: str | None = None,
    examiner: str = "Examiner One",
    on: date = TODAY,
) -> Examination:
    """An examination of a person who is so many whole years old, or was born on a day."""
    if born is None and years is not None:
        born = on.replace(year=on.year - years).isoformat()
    return Examination(
        Patient("Invented", birth_date=born, sex=sex),
        on,
        Person(examiner),
        readings={
            (name, side): reading(name, side, content) for (name, side), content in readings.items()
        },
    )


def all_findings(visit: Examination, knowledge: Catalogue) -> list[Finding]:
    return list(assess(visit, knowledge).findings)


def finding(
    visit: Examination, knowledge: Catalogue, name: str, side: Side | None = RIGHT
) -> Finding:
    return next(
        row for row in all_findings(visit, knowledge) if (row.measure, row.side) == (name, side)
    )


def all_differences(visit: Examination, knowledge: Catalogue) -> list[Difference]:
    return list(assess(visit, knowledge).differences)


def all_changes(before: Examination, now: Examination, knowledge: Catalogue) -> list[Change]:
    return compare(before, score(before, knowledge)[0], now, score(now, knowledge)[0], knowledge)


def scores(visit: Examination, knowledge: Catalogue) -> dict[tuple[str, Side | None], Score]:
    return {(row.measure, row.side): row for row in score(visit, knowledge)[0]}


def judge_of(knowledge: Catalogue, visit: Examination, name: str, side: Side | None):  # noqa: ANN201
    return bench(knowledge).judges(visit).judge(knowledge.measures[name], side, None)
