"""Measures judging and starting: assess in process, the command as a process, the cached catalogue.

Run by hand: python tests/bench/bench_judging.py [ROUNDS] (default 15).
Goals of issue 2: assess of a full examination <= 2 ms; `footexam assess FILE` ÷ a bare Python that
makes one pydantic model <= 2.5, both timed in turn; catalogue loaded from its cache <= 20 ms.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

from footexam.assessment import assess
from footexam.catalogue.load import load_catalogue
from footexam.exchange.examination import read_examination
from footexam.resources import assets_dir

ROUNDS = 15
TODAY = date(2026, 12, 31)
DEMO = assets_dir() / "demo"
FULL = DEMO / "02-heel-pain-child-visit-1.json"
FULLEST = DEMO / "06-medial-ankle-pain-visit-1.json"
BARE = "from pydantic import BaseModel; A = type('A', (BaseModel,), {})"


def timed(act: Callable[[], object]) -> float:
    """Milliseconds that one call takes."""
    start = time.perf_counter()
    act()
    return (time.perf_counter() - start) * 1000


def median(act: Callable[[], object], rounds: int) -> float:
    """The median of some calls in milliseconds."""
    return statistics.median(timed(act) for _ in range(rounds))


def in_process(rounds: int, cache: Path) -> None:
    """assess and the catalogue, in this process."""
    print(f"catalogue, read and checked        {median(load_catalogue, 3):8.1f} ms")
    load_catalogue(cache_dir=cache)
    loaded = median(lambda: load_catalogue(cache_dir=cache), rounds)
    print(f"catalogue, from its cache          {loaded:8.1f} ms   goal <= 20")
    catalogue = load_catalogue(cache_dir=cache)
    for file in (FULL, FULLEST):
        examination = read_examination(file.read_bytes(), catalogue, TODAY).examination
        first = timed(lambda found=examination: assess(found, catalogue))
        warm = median(lambda found=examination: assess(found, catalogue), rounds * 10)
        count = len(examination.readings)
        print(f"assess, {count} readings, first call  {first:8.2f} ms")
        print(f"assess, {count} readings, warm        {warm:8.2f} ms   goal <= 2")


def as_process(rounds: int) -> None:
    """The command against a bare Python that makes one pydantic model, in turn."""
    command = [sys.executable, "-m", "footexam", "assess", str(FULL)]
    bare = [sys.executable, "-c", BARE]
    run = lambda line: subprocess.run(line, check=True, stdout=subprocess.DEVNULL)  # noqa: E731
    pairs = [(timed(lambda: run(command)), timed(lambda: run(bare))) for _ in range(rounds)]
    ours = statistics.median(pair[0] for pair in pairs)
    plain = statistics.median(pair[1] for pair in pairs)
    print(f"footexam assess, as a process      {ours:8.1f} ms")
    ratio = f"ratio {ours / plain:.2f}, goal <= 2.5"
    print(f"bare Python, one pydantic model    {plain:8.1f} ms   {ratio}")


def main() -> None:
    """Print all figures."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    with tempfile.TemporaryDirectory() as folder:
        in_process(rounds, Path(folder))
    as_process(rounds)


if __name__ == "__main__":
    main()
