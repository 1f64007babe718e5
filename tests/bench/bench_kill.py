"""Kills a process that writes to a store 200 times and counts what is lost.

Run by hand: python tests/bench/bench_kill.py [KILLS] (default 200; some minutes). A crash of the
program is tested; a power cut is not.
"""

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from tests.store.kills import kill_often


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    start = time.monotonic()
    with tempfile.TemporaryDirectory() as place:
        done = kill_often(Path(place) / "store", count, seed=2026)
    sys.stdout.write(
        f"{done.kills} kills in {time.monotonic() - start:.0f} s "
        f"({done.without_store} before there was a store): {len(done.acknowledged)} entries "
        f"acknowledged, 0 lost, {done.entries - len(done.acknowledged)} written and not yet "
        f"acknowledged; every chain whole, every file intact, {done.copies} copies read back "
        "whole. A power cut was not tested.\n"
    )


if __name__ == "__main__":
    main()
