"""Runs every bench in one go and prints its figures: python tests/bench/run.py."""

import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent


def main() -> int:
    """Run the benches one after the other; 1 if one of them fails."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"}
    failed = 0
    for bench in sorted(HERE.glob("bench_*.py")):
        print(f"\n== {bench.stem}", flush=True)
        status = subprocess.run(
            [sys.executable, str(bench)], cwd=ROOT, env=environment, check=False
        )
        failed |= status.returncode
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
