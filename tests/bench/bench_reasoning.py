"""Measures reasoning: assess of a full examination with 58, 580 and 5,800 hypotheses.

Run by hand: python tests/bench/bench_reasoning.py [ROUNDS] (default 15).
Goals of issue 5: assess with all shipped hypotheses <= 5 ms; growth with their number linear, so
that ten times as many cost no more than ten times the reasoning (what scoring costs stays).
"""

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date

from footexam.assessment import assess
from footexam.catalogue.load import load_catalogue
from footexam.catalogue.model import Catalogue
from footexam.exchange.examination import read_examination
from footexam.reasoning.engine import engine
from footexam.record.examination import Examination
from footexam.resources import assets_dir

ROUNDS = 15
COPIES = (1, 10, 100)
TODAY = date(2026, 12, 31)
DEMO = assets_dir() / "demo"
FULL = ("02-heel-pain-child-visit-1", "06-medial-ankle-pain-visit-1", "08-shin-pain-runner")


def timed(act: Callable[[], object]) -> float:
    """Milliseconds that one call takes."""
    start = time.perf_counter()
    act()
    return (time.perf_counter() - start) * 1000


def median(act: Callable[[], object], rounds: int) -> float:
    """The median of some calls in milliseconds."""
    return statistics.median(timed(act) for _ in range(rounds))


def with_copies(catalogue: Catalogue, copies: int) -> Catalogue:
    """The catalogue with each hypothesis so many times, under other ids."""
    many = {
        f"{name}-{copy}" if copy else name: replace(one, id=f"{name}-{copy}" if copy else name)
        for copy in range(copies)
        for name, one in catalogue.hypotheses.items()
    }
    return replace(catalogue, hypotheses=many)


def measure(examination: Examination, catalogue: Catalogue, rounds: int) -> float:
    """Milliseconds of assess when everything was built before."""
    assess(examination, catalogue)
    return median(lambda: assess(examination, catalogue), rounds)


def main() -> None:
    """Print all figures."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    shipped = load_catalogue()
    for name in FULL:
        data = (DEMO / f"{name}.json").read_bytes()
        examination = read_examination(data, shipped, TODAY).examination
        bare = replace(shipped, hypotheses={})
        base = measure(examination, bare, rounds * 10)
        print(f"{name}, {len(examination.readings)} readings")
        print(f"  no hypotheses        {base:9.2f} ms   scoring and cautions alone")
        before = 0.0
        for copies in COPIES:
            catalogue = with_copies(shipped, copies)
            built = timed(lambda made=catalogue: engine(made))
            taken = measure(examination, catalogue, max(3, rounds * 10 // copies))
            own = taken - base
            growth = f"x{own / before:.1f} for x10 hypotheses" if before else "goal <= 5"
            count, opened = (
                len(catalogue.hypotheses),
                len(assess(examination, catalogue).reasons.arguments),
            )
            print(f"  {count:5} hypotheses     {taken:9.2f} ms   {growth}")
            print(
                f"        {opened} open, {own / count * 1000:.1f} us each; built in {built:.0f} ms"
            )
            before = own


if __name__ == "__main__":
    main()
