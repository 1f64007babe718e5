"""Side differences: left minus right of every measure with a number on both sides (S9)."""

from collections.abc import Mapping

from footexam.scoring.bench import Bench
from footexam.scoring.errors import UNKNOWN
from footexam.scoring.measured import Measured, comparing, methods_clash, shared
from footexam.scoring.pairs import PairJudge
from footexam.scoring.results import Difference
from footexam.scoring.visit import Key, Person, Visit, person
from footexam.terms import Side


def differ(desk: Bench, visit: Visit, numbers: Mapping[Key, Measured]) -> list[Difference]:
    """All side differences in forms order.

    One examiner reads both sides at one visit, so the same examiner's error counts. Without a
    published limit, or where left and right were read by different methods, it is not judged.
    """
    pairs = [
        (desk.rank[key], left, numbers[key[0], Side.RIGHT])
        for key, left in numbers.items()
        if key[1] is Side.LEFT and (key[0], Side.RIGHT) in numbers
    ]
    pairs.sort(key=lambda pair: pair[0])
    who = person(visit.examination)
    return [_difference(desk, who, left, right) for _, left, right in pairs]


def _difference(desk: Bench, who: Person, left: Measured, right: Measured) -> Difference:
    if methods_clash(left, right):
        judge = PairJudge(left.measure, None, (), UNKNOWN)
    else:
        judge = desk.pair(left.measure, shared(left, right), who)
    if left.carried is None and right.carried is None:
        return judge.difference((left.value, left.repeats), (right.value, right.repeats))
    doubts = (
        comparing(left, judge.errors, same_examiner=True),
        comparing(right, judge.errors, same_examiner=True),
    )
    return judge.judged(left.value, right.value, doubts)
