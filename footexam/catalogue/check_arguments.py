"""What must hold of cautions, gates, hypotheses, conditions and accuracy: ids, signs, sources."""

import re
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from itertools import pairwise

from footexam.catalogue.arguments import (
    Accuracy,
    Claim,
    Condition,
    DangerSign,
    Defeater,
    Hypothesis,
    Row,
)
from footexam.catalogue.expression import (
    AGE,
    SEX,
    Atom,
    BadExpression,
    Compared,
    Marked,
    Ranged,
    Worded,
    atoms,
    parse_expression,
)
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Measure, Texts
from footexam.messages import listed
from footexam.terms import NUMBER_KINDS, Kind, Sex, Tier

MOST_POINTS = 10
"""The most that one row may weigh, in decibans (statistics.md 4)."""

WEIGHED = frozenset({"minutes-other", "minutes-move", "reliability-unknown"})
"""What suggestions cannot do without in weighing.toml."""

_ASKED = {Kind.YES_NO: ("no", "yes"), Kind.YES_SITES: ("no", "yes")}
_MAPS = frozenset({Kind.REGIONS, Kind.REGION_VALUES, Kind.YES_SITES})
_MODES = frozenset({"compression", "tension", "shear", "bending", "torsion"})
_RISKS = frozenset({"high", "low", "none"})
_CAUSE = re.compile(r"\bcaused by\b|\bcauses?\b", re.IGNORECASE)
_APART = Decimal("0.2")
"""A printed likelihood ratio further than this from the one worked out is a doubtful row."""


def check_arguments(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Every mistake in the files of the reasoning room that only shows between tables."""
    checker = _Checker(catalogue)
    for sign in catalogue.cautions.values():
        yield from checker.caution(sign, places[f"DangerSign:{sign.id}"])
    yield from _check_gates(checker, catalogue, places)
    for hypothesis in catalogue.hypotheses.values():
        yield from checker.hypothesis(hypothesis, places[f"Hypothesis:{hypothesis.id}"])
    for defeater in catalogue.defeaters.values():
        yield from checker.defeater(defeater, places[f"Defeater:{defeater.id}"])
    for condition in catalogue.conditions.values():
        yield from checker.condition(condition, places[f"Condition:{condition.id}"])
    for accuracy in catalogue.accuracy.values():
        yield from checker.accuracy(accuracy, places[f"Accuracy:{accuracy.id}"])
    if catalogue.hypotheses:
        yield from _check_weighing(catalogue)
    yield from _check_branch_ids(catalogue, places)


def _check_gates(
    checker: "_Checker", catalogue: Catalogue, places: Mapping[str, Place]
) -> Iterator[Complaint]:
    """Gates, checks and what suggestions are weighed by."""
    for gate in catalogue.gates.values():
        place = places[f"Gate:{gate.id}"]
        yield from checker.measures(gate.forbids, place.at("forbids"))
        yield from known(gate.source, catalogue.sources, place.at("source"), "sources.toml")
        for at, cause in enumerate(gate.causes):
            yield from checker.expression(cause.when, place.at("cause", at, "when"))
    for check in catalogue.checks.values():
        place = places[f"Check:{check.id}"]
        yield from checker.measures(check.asks, place.at("asks"))
        yield from known(check.source, catalogue.sources, place.at("source"), "sources.toml")
    for rule in catalogue.weighing.values():
        place = places[f"Rule:{rule.id}"].at("source")
        yield from known(rule.source, catalogue.sources, place, "sources.toml")


def _check_weighing(catalogue: Catalogue) -> Iterator[Complaint]:
    """Suggestions need every figure they are weighed by."""
    for name in sorted(WEIGHED - catalogue.weighing.keys()):
        yield Complaint(Place("weighing.toml"), f"“{name}” is missing", "add [[weighing]]")


def _check_branch_ids(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    seen: set[str] = set()
    for sign in catalogue.cautions.values():
        for at, branch in enumerate(sign.branches):
            if branch.id in seen:
                place = places[f"DangerSign:{sign.id}"].at("branch", at, "id")
                yield Complaint(place, f"“{branch.id}” is given twice", "give each its own id")
            seen.add(branch.id)


class _Checker:
    """The checks of one catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.groups = frozenset(
            group for region in catalogue.regions.values() for group in region.groups
        )

    def measures(self, names: Iterable[str], place: Place) -> Iterator[Complaint]:
        for name in names:
            yield from known(name, self.catalogue.measures, place, "panels/")

    def source(self, source: str, place: Place) -> Iterator[Complaint]:
        yield from known(source, self.catalogue.sources, place.at("source"), "sources.toml")

    def caution(self, sign: DangerSign, place: Place) -> Iterator[Complaint]:
        if not sign.branches:
            yield Complaint(place, "a caution needs a branch", "add [[caution.branch]]")
        tiers = list(Tier)
        for at, (first, second) in enumerate(pairwise(sign.branches), 1):
            if tiers.index(first.tier) > tiers.index(second.tier):
                what = f"“{second.id}” is more serious than the branch before it"
                yield Complaint(place.at("branch", at), what, "order branches by tier")
        for at, branch in enumerate(sign.branches):
            where = place.at("branch", at)
            yield from self.expression(branch.when, where.at("when"))
            yield from self.source(branch.source, where)
            yield from self.measures(branch.unfolds, where.at("unfolds"))
            for name in branch.umbrella:
                if name not in self.catalogue.contexts:
                    yield from self.measures((name,), where.at("umbrella"))

    def hypothesis(self, hypothesis: Hypothesis, place: Place) -> Iterator[Complaint]:
        yield from self.measures(hypothesis.tests, place.at("tests"))
        for name in hypothesis.conditions:
            where = place.at("conditions")
            yield from known(name, self.catalogue.conditions, where, "conditions/")
        for kind in ("require", "against"):
            if not getattr(hypothesis, kind):
                what = f"a hypothesis needs a row of “{kind}”"
                yield Complaint(place, what, f"add [[hypothesis.{kind}]]")
        for key in ("label", "statement", "mechanism", "counter"):
            yield from _uncaused(getattr(hypothesis, key), place.at(key))
        if not hypothesis.evidence:
            yield Complaint(place, "a claim needs a source", "add [[hypothesis.evidence]]")
        yield from self.claims("evidence", hypothesis.evidence, place)
        for kind, rows in (
            ("require", hypothesis.require),
            ("support", hypothesis.support),
            ("against", hypothesis.against),
        ):
            for at, row in enumerate(rows):
                yield from self.row(kind, row, place.at(kind, at))

    def row(self, kind: str, row: Row, place: Place) -> Iterator[Complaint]:
        yield from self.expression(row.when, place.at("when"))
        yield from self.source(row.source, place)
        yield from _uncaused(row.says, place.at("says"))
        if row.points is not None and not 0 <= row.points <= MOST_POINTS:
            what = f"points lie between 0 and {MOST_POINTS}"
            yield Complaint(place.at("points"), what, "write them positive")
        yield from _direction(row.ratio, place, against=kind == "against")

    def defeater(self, defeater: Defeater, place: Place) -> Iterator[Complaint]:
        yield from self.measures(defeater.measures, place.at("measures"))
        yield from self.expression(defeater.when, place.at("when"))
        yield from self.source(defeater.source, place)
        for name in defeater.unless:
            yield from known(name, self.catalogue.defeaters, place.at("unless"), "defeaters.toml")
        if _is_circular(defeater.id, self.catalogue.defeaters):
            what = f"“{defeater.id}” rebuts itself in a circle"
            yield Complaint(place.at("unless"), what, "let one of them stand without the other")

    def condition(self, condition: Condition, place: Place) -> Iterator[Complaint]:
        for region in condition.regions:
            yield from known(region, self.catalogue.regions, place.at("regions"), "regions.toml")
        ids = {**self.catalogue.conditions, **self.catalogue.cautions}
        for name in condition.companions:
            yield from known(name, ids, place.at("companions"), "conditions/ or cautions.toml")
        unknown = set(condition.modes) - _MODES
        if unknown:
            todo = f"use {listed(sorted(_MODES))}"
            yield Complaint(place.at("modes"), f"“{min(unknown)}” is no mode of load", todo)
        for key in ("nonunion_risk", "reds_site_class"):
            value = getattr(condition, key)
            if value not in _RISKS:
                todo = f"use {listed(sorted(_RISKS))}"
                yield Complaint(place.at(key), f"“{value}” is not known", todo)
        for name in ("raises", "lowers"):
            for at, claim in enumerate(getattr(condition, name)):
                if claim.text is None:
                    yield Complaint(place.at(name, at), "a claim needs a text", "add text.en")
            yield from self.claims(name, getattr(condition, name), place)
        yield from self.claims("claim", condition.claims, place)

    def claims(self, key: str, claims: Iterable[Claim], place: Place) -> Iterator[Complaint]:
        for at, claim in enumerate(claims):
            where = place.at(key, at)
            yield from self.source(claim.source, where)
            yield from _uncaused(claim.text, where.at("text"))
            yield from _direction(claim.ratio, where, against=key == "lowers")
            if claim.when:
                yield from self.expression(claim.when, where.at("when"))

    def accuracy(self, row: Accuracy, place: Place) -> Iterator[Complaint]:
        yield from self.source(row.source, place)
        if row.measure:
            yield from self.measures((row.measure,), place.at("measure"))
        if row.condition:
            ids = {**self.catalogue.conditions, **self.catalogue.cautions}
            where = place.at("condition")
            yield from known(row.condition, ids, where, "conditions/ or cautions.toml")
        if row.doubtful is None:
            yield from _sound(row, place)

    # --- expressions

    def expression(self, text: str, place: Place) -> Iterator[Complaint]:
        try:
            tree = parse_expression(text)
        except BadExpression as bad:
            yield Complaint(place, str(bad), "see footexam/catalogue/expression.py")
            return
        for atom in atoms(tree):
            yield from self.atom(atom, place)

    def atom(self, atom: Atom, place: Place) -> Iterator[Complaint]:
        if atom.measure in {AGE, SEX}:
            yield from _patient(atom, place)
            return
        measure = self.catalogue.measures.get(atom.measure)
        if measure is None:
            yield from self.measures((atom.measure,), place)
        elif isinstance(atom, Worded):
            yield from _words(atom.words, measure, place)
        elif isinstance(atom, Marked):
            yield from self.marks(atom, measure, place)
        else:
            yield from self.number(atom, measure, place)

    def number(
        self, atom: Compared | Ranged, measure: Measure, place: Place
    ) -> Iterator[Complaint]:
        if not _is_number(measure):
            yield Complaint(place, f"“{measure.id}” is no number", "ask for a word of it")
        elif isinstance(atom, Ranged):
            norms = self.catalogue.norms.get(measure.id, ())
            if not any(group.default for one in norms if one.judged for group in one.groups):
                what = f"no norm says what is usual for “{measure.id}”"
                yield Complaint(place, what, "write a limit, or add a default group to norms/")
        elif atom.of and not measure.sided:
            yield Complaint(place, f"“{measure.id}” has no sides", "write it without side_…")
        elif isinstance(atom.limit, str):
            yield from self.measures((atom.limit,), place)
            other = self.catalogue.measures.get(atom.limit)
            if other and not (_is_number(other) and other.unit == measure.unit):
                what = f"“{measure.id}” and “{other.id}” differ in unit"
                yield Complaint(place, what, "compare numbers of one unit")

    def marks(self, atom: Marked, measure: Measure, place: Place) -> Iterator[Complaint]:
        if atom.how == "has":
            yield from _words(atom.names, measure, place)
            return
        if measure.kind not in _MAPS:
            yield Complaint(place, f"“{measure.id}” is no map", "ask for a word or a number")
        for name in atom.names:
            if name not in self.groups:
                yield from known(name, self.catalogue.regions, place, "regions.toml")


def _is_circular(name: str, defeaters: Mapping[str, Defeater]) -> bool:
    """Whether a defeater is among those that rebut it, however far away."""
    seen: set[str] = set()
    ahead = [name]
    while ahead:
        one = defeaters.get(ahead.pop())
        for other in one.unless if one else ():
            if other == name:
                return True
            if other not in seen:
                seen.add(other)
                ahead.append(other)
    return False


def _patient(atom: Atom, place: Place) -> Iterator[Complaint]:
    """What may be asked of the patient: age as a number, sex as a word."""
    aged = isinstance(atom, Compared) and isinstance(atom.limit, Decimal) and not atom.of
    sexed = isinstance(atom, Worded) and set(atom.words) <= set(Sex)
    if not (aged if atom.measure == AGE else sexed):
        yield Complaint(place, f"“{atom.measure}” cannot be asked so", "write age < 18, sex == …")


def _words(words: Iterable[str], measure: Measure, place: Place) -> Iterator[Complaint]:
    has = _ASKED.get(measure.kind, measure.words)
    for word in words:
        if word not in has:
            what = f"“{word}” is not a word of {measure.id}"
            yield Complaint(place, what, f"use {listed(sorted(has))}")


def _direction(ratio: Decimal | None, place: Place, *, against: bool) -> Iterator[Complaint]:
    """A likelihood ratio argues the way its row says; 1 argues nothing."""
    if ratio is not None and (ratio <= 0 or ratio == 1 or (ratio < 1) is not against):
        what = "this likelihood ratio points the other way"
        todo = "write a ratio above 1 for, between 0 and 1 against"
        yield Complaint(place.at("ratio"), what, todo)


def _is_number(measure: Measure) -> bool:
    """Whether a measure is recorded or worked out as one number."""
    return measure.kind in NUMBER_KINDS or (measure.kind is Kind.DERIVED and not measure.words)


def _uncaused(text: Texts | None, place: Place) -> Iterator[Complaint]:
    """No statement claims a cause."""
    for words in (text or {}).values():
        if _CAUSE.search(words):
            what = "a hypothesis never says “caused by”"
            yield Complaint(place, what, "say “is consistent with” or “would be expected to”")


def _sound(row: Accuracy, place: Place) -> Iterator[Complaint]:
    """Ratios that contradict themselves, or sensitivity and specificity, are doubtful rows."""
    if row.ratio_positive is not None and row.ratio_positive < 1:
        yield Complaint(place.at("ratio_positive"), "a positive test argues against", "doubtful.en")
    if row.ratio_negative is not None and row.ratio_negative > 1:
        yield Complaint(place.at("ratio_negative"), "a negative test argues for", "doubtful.en")
    if row.sensitivity is None or row.specificity is None or row.specificity in {0, 1}:
        return
    pairs = (
        ("ratio_positive", row.ratio_positive, row.sensitivity / (1 - row.specificity)),
        ("ratio_negative", row.ratio_negative, (1 - row.sensitivity) / row.specificity),
    )
    for key, printed, worked in pairs:
        if printed is not None and abs(printed - worked) > _APART * worked:
            what = f"{printed} is not what sensitivity and specificity give ({worked:.2f})"
            yield Complaint(place.at(key), what, "mark the row with doubtful.en")
