"""What must hold of cautions, gates, hypotheses, conditions and accuracy: ids, signs, sources."""

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from decimal import Decimal
from itertools import pairwise

from footexam.catalogue.arguments import (
    Accuracy,
    Claim,
    Condition,
    Contradiction,
    DangerSign,
    Defeater,
    Hypothesis,
    Row,
)
from footexam.catalogue.check_expression import ExpressionChecker
from footexam.catalogue.expression import BadExpression, measures_of, parse_expression
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Texts
from footexam.messages import listed
from footexam.terms import Kind, Tier

MOST_POINTS = 10
"""The most that one row may weigh, in decibans (statistics.md 4)."""

WEIGHED = frozenset({"minutes-other", "minutes-move", "reliability-unknown"})
"""What suggestions cannot do without in weighing.toml."""

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
    for contradiction in catalogue.contradictions.values():
        place = places[f"Contradiction:{contradiction.id}"]
        yield from checker.expression(contradiction.when, place.at("when"))
        yield from _read_alone(contradiction, catalogue, place)
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


class _Checker(ExpressionChecker):
    """The checks of one catalogue."""

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
            yield from uncaused(getattr(hypothesis, key), place.at(key))
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
        yield from uncaused(row.says, place.at("says"))
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
            yield from uncaused(claim.text, where.at("text"))
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


def _read_alone(
    contradiction: Contradiction, catalogue: Catalogue, place: Place
) -> Iterator[Complaint]:
    """A contradiction is asked about while somebody types: from what was read, not worked out."""
    with suppress(BadExpression):
        for name in measures_of(parse_expression(contradiction.when)):
            measure = catalogue.measures.get(name)
            if measure is not None and measure.kind is Kind.DERIVED:
                what = f"“{name}” is worked out"
                yield Complaint(place.at("when"), what, "name the readings that it comes from")


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


def _direction(ratio: Decimal | None, place: Place, *, against: bool) -> Iterator[Complaint]:
    """A likelihood ratio argues the way its row says; 1 argues nothing."""
    if ratio is not None and (ratio <= 0 or ratio == 1 or (ratio < 1) is not against):
        what = "this likelihood ratio points the other way"
        todo = "write a ratio above 1 for, between 0 and 1 against"
        yield Complaint(place.at("ratio"), what, todo)


def uncaused(text: Texts | None, place: Place, who: str = "a hypothesis") -> Iterator[Complaint]:
    """No statement claims a cause; `who` makes it."""
    for words in (text or {}).values():
        if _CAUSE.search(words):
            what = f"{who} never says “caused by”"
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
