"""Everything of a term as tables: CSV files for items, examiners, agreement and marks, in a ZIP."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from footexam.catalogue.marking import BEST
from footexam.catalogue.model import Catalogue, say
from footexam.exchange.cohort import Standards, cohort_tree, estimate_tree
from footexam.exchange.comparison_csv import csv_bytes, told, write_comparison_csv
from footexam.marking.cohort import Cohort, codes, patient_codes
from footexam.marking.cohort_agreement import Among, MeasureAgreement, agreed
from footexam.marking.compared import Sort
from footexam.marking.estimate import Estimate
from footexam.marking.markers import Markers
from footexam.marking.rubric import Marks, total, verdict
from footexam.marking.standing import counting

FIGURE = ("n", "value", "low", "high", "interval", "coverage", "note")
"""The columns of an estimate."""
SHARE = ("agreed", "n", "share", "low", "high")
"""The columns of a share."""
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)
"""The time written on every table, so that one term gives the same bytes."""
_Row = Sequence[object]
_Table = tuple[Sequence[str], Iterable[_Row]]


@dataclass(frozen=True, slots=True)
class TermTables:
    """What the tables are made of.

    `anonymous` writes codes for students, patients, markers and judges.
    """

    cohort: Cohort
    catalogue: Catalogue
    standards: Standards = ()
    markers: Sequence[Markers] = ()
    marks: Sequence[Marks] = ()
    anonymous: bool = False
    language: str = "en"

    def label(self, measure: str) -> str:
        """The name of a measure."""
        return say(self.catalogue.measures[measure].label, self.language)


def write_tables(term: TermTables) -> bytes:
    """A ZIP with a CSV file for each table; the same term gives the same bytes."""
    made = BytesIO()
    with ZipFile(made, "w") as archive:
        for name, data in tables(term).items():
            info = ZipInfo(f"{name}.csv", _FIRST_DAY)
            info.compress_type = ZIP_DEFLATED
            archive.writestr(info, data)
    return made.getvalue()


def tables(term: TermTables) -> dict[str, bytes]:
    """Every table by its name; form of the bytes as in `csv_table`."""
    cohort = term.cohort
    names = codes(cohort) if term.anonymous else None
    tree = cohort_tree(cohort, (), term.standards, term.markers, anonymous=term.anonymous)
    found: dict[str, _Table] = {
        "examiners": _examiners(tree),
        "habits": _habits(tree, term),
        "agreement": _agreement(term),
        "marks": _marks(term, names or {}),
        "domains": _domains(term, names or {}),
        "markers": _markers(tree),
        "passmarks": _passmarks(tree),
        "judges": _judges(tree),
    }
    hide = cohort if term.anonymous else None
    items = write_comparison_csv(cohort.comparisons, term.catalogue, hide, term.language)
    made = {
        name: csv_bytes(columns, ([told(value) for value in row] for row in rows))
        for name, (columns, rows) in found.items()
    }
    return {"items": items, **made}


# --- examiners


def _examiners(tree: Mapping[str, Any]) -> _Table:
    columns = ("examiner", "visits", *SHARE, "apart", "missing", "errors", "error_rms", "critical")
    rows = (
        (
            one["examiner"],
            one["comparisons"],
            *(one["judged"][key] for key in SHARE),
            one["apart"],
            one["missing"],
            one["errors"]["n"],
            one["errors"]["rms"],
            one["critical"],
        )
        for one in tree["examiners"]
    )
    return columns, rows


def _habits(tree: Mapping[str, Any], term: TermTables) -> _Table:
    """Steady differences of one examiner in one measure."""
    keys = ("examiner", "measure", "n", "mean_error", "difference")

    def row(one: Mapping[str, Any]) -> _Row:
        measure = one["measure"]
        unit = term.catalogue.measures[measure].unit
        return (*(one[key] for key in keys), term.label(measure), unit)

    return (*keys, "label", "unit"), map(row, tree["drifts"])


# --- agreement


def _agreement(term: TermTables) -> _Table:
    columns = ("measure", "label", "unit", "between", "side", "figure", "form")
    counts = ("volunteers", "students", "gaps")
    return (*columns, *counts, *FIGURE), _agreement_rows(term)


def _agreement_rows(term: TermTables) -> Iterator[_Row]:
    for one in agreed(term.cohort):
        measure = one.measure
        head = measure.id, term.label(measure.id), measure.unit
        counts = one.reference.volunteers, one.reference.students, None
        for figure, form, estimate in _with_reference(one):
            cells = None, figure, form, *counts, *_figure(estimate)
            yield (*head, "students and reference", *cells)
        for each in one.among:
            size = each.volunteers, each.students, each.gaps
            for figure, form, estimate in _among(each):
                yield (*head, "students", each.side, figure, form, *size, *_figure(estimate))


_Named = tuple[str, str, Estimate | None]
"""What a figure is called, its form, and the figure."""


def _with_reference(one: MeasureAgreement) -> Iterator[_Named]:
    found = one.reference
    weights = "unweighted" if one.sort is Sort.WORD else "quadratic"
    told: tuple[_Named, ...] = (
        ("bias", "", found.bias),
        ("lower limit", "", found.lower),
        ("upper limit", "", found.upper),
        ("icc", "ICC(2,1)", found.icc),
        ("kappa", weights, found.kappa),
        ("spread of errors", "root mean square", one.spread),
    )
    return (named for named in told if named[2])


def _among(one: Among) -> Iterator[_Named]:
    told: tuple[_Named, ...] = (
        ("icc", "ICC(2,1)", one.icc),
        ("sem", "error and raters", one.sem),
        ("kappa", "Fleiss", one.fleiss),
        ("alpha", one.metric, one.alpha),
    )
    return (named for named in told if named[2])


def _figure(one: Estimate | None) -> list[object]:
    tree = estimate_tree(one) or {}
    return [tree.get(key) for key in FIGURE]


# --- marks


class _Given:
    """All marks with what stands before each row of them."""

    def __init__(self, term: TermTables, names: Mapping[str, str]) -> None:
        self.term = term
        self.students = {name.strip().casefold(): code for name, code in names.items()}
        markers = dict.fromkeys(one.marker for one in term.marks)
        self.patients = patient_codes(term.cohort)
        self.markers = {name: f"M{number}" for number, name in enumerate(markers, 1)}
        self.counting = {id(one) for one in counting(term.marks)}

    HEAD = ("student", "patient", "examined_on", "rubric", "hand", "marker", "signed_at", "counts")

    def head(self, one: Marks) -> list[object]:
        hidden = self.term.anonymous
        return [
            self.students.get(one.key[2], "") if hidden else one.student,
            self.patients.get(one.patient, "") if hidden else one.patient[0],
            one.examined_on,
            one.rubric,
            one.hand,
            self.markers[one.marker] if hidden else one.marker,
            one.signed_at,
            id(one) in self.counting,
        ]


def _marks(term: TermTables, names: Mapping[str, str]) -> _Table:
    """One row for the marks of each hand; typed lines, which may name somebody, only with names."""
    given = _Given(term, names)
    cuts = {name: one.used for name, one in term.standards}
    columns = ("points", "of", "missing", "grade", "critical", "pass_mark", "verdict", "lines")

    def row(one: Marks) -> _Row:
        rubric, cut = term.catalogue.rubrics[one.rubric], cuts.get(one.rubric)
        found = total(rubric, one)
        said = None if term.anonymous else " ".join(one.lines)
        sums = float(found.points), float(found.of), list(found.missing)
        told_of = one.grade, list(one.critical), cut, verdict(rubric, one, cut), said
        return (*given.head(one), *sums, *told_of)

    return (*given.HEAD, *columns), map(row, term.marks)


def _domains(term: TermTables, names: Mapping[str, str]) -> _Table:
    """One row for the mark of each hand in each domain."""
    given = _Given(term, names)
    rows = (
        (*given.head(one), domain.id, one.domains.get(domain.id), BEST, domain.weight)
        for one in term.marks
        for domain in term.catalogue.rubrics[one.rubric].domains
    )
    return (*given.HEAD, "domain", "mark", "best", "weight"), rows


def _markers(tree: Mapping[str, Any]) -> _Table:
    """First against second markers: a row for each figure."""
    return ("rubric", "domain", "figure", "form", "students", *FIGURE), _markers_rows(tree)


def _markers_rows(tree: Mapping[str, Any]) -> Iterator[_Row]:
    for one in tree["markers"]:
        told_of: list[tuple[str, str, Any]] = [
            ("icc", one["icc_form"], one["icc"]),
            ("second minus first", "points", one["second_minus_first"]),
            ("lower limit", "points", one["lower"]),
            ("upper limit", "points", one["upper"]),
            ("same verdict", "share", _as_figure(one["same_verdict"])),
            ("verdict kappa", "unweighted", one["verdict_kappa"]),
        ]
        yield from _rows_of(one, None, told_of)
        for each in one["domains"]:
            told_of = [
                ("same mark", "share", _as_figure(each["same"])),
                ("kappa", each["weights"], each["kappa"]),
                ("second minus first", "marks", each["second_minus_first"]),
            ]
            yield from _rows_of(one, each["domain"], told_of)


def _rows_of(
    one: Mapping[str, Any], domain: str | None, told_of: Iterable[tuple[str, str, Any]]
) -> Iterator[_Row]:
    for name, form, figure in told_of:
        if figure:
            cells = (figure.get(key) for key in FIGURE)
            yield (one["rubric"], domain, name, form, one["students"], *cells)


def _as_figure(share: Mapping[str, Any] | None) -> dict[str, Any] | None:
    return {**share, "value": share["share"], "interval": "wilson"} if share else None


def _passmarks(tree: Mapping[str, Any]) -> _Table:
    figures = ("of", "cut", "standard_error", "low", "high", "n", "r_squared")
    keys = ("rubric", "standard", *figures, "standard_errors_added", "used", "spacing", "warnings")
    return keys, ([one[key] for key in keys] for one in tree["standards"])


def _judges(tree: Mapping[str, Any]) -> _Table:
    """What each judge expects, round by round."""
    rows = (
        (one["rubric"], each["round"], judge["judge"], judge["points"], one["of"])
        for one in tree["standards"]
        for each in one["rounds"]
        for judge in each["judges"]
    )
    return ("rubric", "round", "judge", "points", "of"), rows
