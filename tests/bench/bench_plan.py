"""Measures the plan: assess with two accepted hypotheses and chosen features, and the plan alone.

Run by hand: python tests/bench/bench_plan.py [ROUNDS] (default 15).
Goal of issue 6: assess with a plan of two accepted hypotheses <= 5 ms (median). Plan and drawings
again after a change have 16 ms together at the 99th percentile; here is the share of the plan.
"""

import os
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from footexam.assessment import assess
from footexam.catalogue.load import load_catalogue
from footexam.exchange.examination import read_examination
from footexam.reasoning.engine import SIDES, engine
from footexam.reasoning.view import Seen, View
from footexam.scoring.bench import bench
from footexam.scoring.measured import measured

ROUNDS = 15
TODAY = date(2026, 12, 31)
SCENARIOS = Path(__file__).parent.parent / "scenarios"
CHOSEN = ("heel-lift", "shell-thickness", "rearfoot-post-medial", "cover-material")
"""A whole device on one side."""


def timed(act: Callable[[], object], rounds: int) -> list[float]:
    """Milliseconds that each call takes, in order of size."""
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        act()
        taken.append((time.perf_counter() - start) * 1000)
    return sorted(taken)


def told(taken: list[float]) -> str:
    """Median and 99th percentile."""
    last = taken[min(len(taken) - 1, len(taken) * 99 // 100)]
    return f"median {statistics.median(taken):6.2f} ms, p99 {last:6.2f} ms"


def main() -> None:
    """Print all figures."""
    rounds = (int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS) * 20
    catalogue = load_catalogue()
    print(f"load of the machine {os.getloadavg()[0]:.2f}")
    for file in sorted(SCENARIOS.glob("*.json")):
        bare = read_examination(file.read_bytes(), catalogue, TODAY).examination
        leading = assess(bare, catalogue).reasons.leading
        opening = {name for aim in catalogue.aims.values() for name in aim.hypotheses}
        two = [one for one in leading if one.id in opening][:2]
        made: dict[str, Any] = {
            "hypotheses": {"accepted": [{"id": one.id, "side": one.side} for one in two]},
            "features": [{"id": name, "side": one.side} for one in two[:1] for name in CHOSEN],
        }
        full = replace(bare, decisions=made)
        found = assess(full, catalogue)
        count = f"{len(found.reasons.plan.candidates)} features"
        print(f"{file.stem}, {len(two)} accepted, {count}")
        without = timed(lambda exam=bare: assess(exam, catalogue), rounds)
        with_it = timed(lambda exam=full: assess(exam, catalogue), rounds)
        print(f"  assess without a plan  {told(without)}")
        print(f"  assess with the plan   {told(with_it)}   goal <= 5")
        desk, scores = bench(catalogue), list(found.scores)
        seen = Seen(full, scores, found.findings, measured(desk, desk.visit(full), scores))
        views = {side: View(seen, side) for side in SIDES}
        plan, why = engine(catalogue).planner.plan, found.reasons.arguments
        alone = timed(lambda a=why, v=views, m=made, p=plan: p(a, (), v, m), rounds)
        print(f"  the plan alone         {told(alone)}")


if __name__ == "__main__":
    main()
