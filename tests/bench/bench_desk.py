"""Measures the window beside a blank PySide6 window in the same run: start, keys, memory.

Run by hand: python tests/bench/bench_desk.py [ROUNDS] (default 7). Goals of issue 3:
start to usable window ÷ blank window <= 2.5; key to durable, judged again and painted at 100 %,
idle disk, p99 <= 16 ms; memory after a full examination ÷ blank window <= 3.

The start is that of the command, with 1,000 patients in the store, from before the process is made
until patients are listed and the search line has the keys. Keys are those that enter a reading, in
the order of the sheet; a reading counts only when the store has acknowledged it.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
CHILD = Path(__file__).with_name("desk_child.py")
PATIENTS = 1000
START_GOAL, KEY_GOAL_MS, MEMORY_GOAL = 2.5, 16.0, 3.0
FULL = ROOT / "assets" / "demo" / "03-heel-pain-visit-1.json"
FULLEST = ROOT / "assets" / "demo" / "06-medial-ankle-pain-visit-1.json"


def child(*arguments: str) -> dict[str, Any]:
    """Run a child; its figures, with `took` in s from before it was made."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "QT_LOGGING_RULES": "*=false"}
    begun = time.monotonic()
    done = subprocess.run(
        [sys.executable, str(CHILD), *arguments],
        cwd=ROOT,
        env=environment,
        check=True,
        stdout=subprocess.PIPE,
        text=True,
    )
    figures: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return {**figures, "took": figures.get("at", time.monotonic()) - begun}


def load() -> str:
    """How busy the machine is."""
    return f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors"


def write(*words: str) -> None:
    sys.stdout.write(" ".join(words) + "\n")
    sys.stdout.flush()


def measure_start(home: str, rounds: int) -> float:
    """The ratios of the medians, timed in turn; the memory of a blank window in MB."""
    taken: dict[str, list[dict[str, Any]]] = {"blank": [], "start": [], "window": []}
    child("start", home)  # the first one compiles
    for _ in range(rounds):
        for name, figures in taken.items():
            figures.append(child(name, *([home] if name != "blank" else [])))
    medians = {name: statistics.median(o["took"] for o in one) for name, one in taken.items()}
    blank = medians["blank"]
    write(
        f"blank window {blank * 1000:.0f} ms; start to usable by the command",
        f"{medians['start'] * 1000:.0f} ms: ratio {medians['start'] / blank:.2f}",
        f"(goal {START_GOAL}); without the command's imports {medians['window'] * 1000:.0f} ms:",
        f"{medians['window'] / blank:.2f}; {load()}",
    )
    return statistics.median(one["rss_mb"] for one in taken["blank"])


def measure_keys(home: str, blank_mb: float) -> None:
    """Keys at three sizes, with the usual sheet and with everything shown."""
    for file, sheet in ((FULL, "usual"), (FULLEST, "usual"), (FULLEST, "all")):
        for zoom in ("1.0", "1.5", "2.0"):
            told = child("keys", home, str(file), zoom, sheet)
            write(
                f"{told['readings']} readings, {sheet} sheet of {told['cells']} cells,",
                f"{float(zoom):.0%}: p50 {told['p50']:.1f} p90 {told['p90']:.1f}",
                f"p99 {told['p99']:.1f} most {told['most']:.1f} ms of {told['entries']} entries,",
                f"the window's own processor time p99 {told['own_p99']:.1f} ms",
                f"(goal p99 {KEY_GOAL_MS:.0f} at 100 %); memory {told['rss_mb']:.0f} MB,",
                f"{told['rss_mb'] / blank_mb:.2f} blank windows (goal {MEMORY_GOAL}); {load()}",
            )


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    with tempfile.TemporaryDirectory() as home:
        child("fill", home, str(PATIENTS))
        blank_mb = measure_start(home, rounds)
        measure_keys(home, blank_mb)


if __name__ == "__main__":
    main()
