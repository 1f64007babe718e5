"""Measures the plan sheet: a change of a feature, from the key to recomputed and painted.

Run by hand: python tests/bench/bench_plan.py [ROUNDS] (default 60).
Goal of issue 6: plan recomputed and both drawings repainted after a change: p99 <= 16 ms. Measured
are a key of a dimension that is only tried, and Enter, which also makes the entry durable.
"""

import os
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["QT_SCALE_FACTOR"] = "1"
ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

GOAL_MS = 16.0
FILE = ROOT / "assets" / "demo" / "06-medial-ankle-pain-visit-2.json"
SIZES = ("4", "4.5", "5", "5.5", "6")


def told(name: str, times: list[float], own: list[float]) -> None:
    """One line of figures."""
    times, own = sorted(times), sorted(own)
    last = len(times) * 99 // 100
    sys.stdout.write(
        f"{name}: p50 {times[len(times) // 2]:.1f} p90 {times[len(times) * 90 // 100]:.1f} "
        f"p99 {times[last]:.1f} most {times[-1]:.1f} ms of {len(times)}; the window's own "
        f"processor time p50 {own[len(own) // 2]:.1f} p99 {own[last]:.1f} ms "
        f"(goal p99 {GOAL_MS:.0f}); load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors\n"
    )


def main() -> None:
    """Choose parts of a device, then change the angle of its post again and again."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    with tempfile.TemporaryDirectory() as home:
        os.environ["FOOTEXAM_HOME"] = home
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        from footexam.desktop.plan_rows import Place, What
        from footexam.terms import Side
        from tests.bench.desk_keys import Examiner

        examiner = Examiner(1.0)
        examiner.opens(FILE)
        session, record = examiner.session, examiner.record
        session.accept("weak-tibialis-posterior-arch", Side.LEFT)
        session.accept("pronated-posture-medial-tendon-tension", Side.LEFT)
        for aim in ("lower-tibialis-posterior-demand", "lower-pronation-moment"):
            session.keep_aim(aim, Side.LEFT)
        for name in ("shell-thickness", "heel-cup-depth", "rearfoot-post-medial"):
            session.choose_feature(name, Side.LEFT, {})
        record.plan()
        page = record.planning.page
        page.go_to(Place(What.FEATURE, "rearfoot-post-medial", Side.LEFT))
        examiner.application.processEvents()
        tried: tuple[list[float], list[float]] = ([], [])
        taken: tuple[list[float], list[float]] = ([], [])

        def press(key: str | Qt.Key, into: tuple[list[float], list[float]]) -> None:
            begun, own = time.perf_counter(), time.thread_time()
            examiner.presses(key)
            examiner.application.processEvents()
            into[0].append((time.perf_counter() - begun) * 1000)
            into[1].append((time.thread_time() - own) * 1000)
            QTest.qWait(20)

        for number in range(rounds):
            page.sizes.start()
            examiner.application.processEvents()
            for char in SIZES[number % len(SIZES)]:
                press(char, tried)
            press(Qt.Key.Key_Return, taken)
        assert not session.unsaved()
        assert not page.drawings.is_empty
        told("key of a dimension, tried", *tried)
        told("Enter, durable and judged", *taken)
        sys.stdout.flush()
        os._exit(0)


if __name__ == "__main__":
    main()
