"""Measures the plan sheet: a change of the plan, from the key to recomputed and painted.

Run by hand: python tests/bench/bench_plan.py [ROUNDS] (default 120).
Goal of issue 6: plan recomputed and both drawings repainted after a change: p99 <= 16 ms. Measured
with eleven features chosen are a key of a dimension that is only tried, Enter, which takes it, and
Space, which chooses and drops a feature and keeps and drops an aim: all but the first make an entry
durable. Painted is when the window has nothing more to paint.
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
FEATURES = 11
ACCEPTED = ("weak-tibialis-posterior-arch", "pronated-posture-medial-tendon-tension")
AIMS = ("lower-tibialis-posterior-demand", "lower-pronation-moment")
FIRST = ("shell-thickness", "heel-cup-depth", "rearfoot-post-medial")

Times = tuple[list[float], list[float]]
"""From key to painted, and the processor time of the window's thread in it, ms."""


def told(name: str, taken: Times) -> None:
    """One line of figures."""
    times, own = (sorted(one) for one in taken)
    last = len(times) * 99 // 100
    sys.stdout.write(
        f"{name}: p50 {times[len(times) // 2]:.1f} p90 {times[len(times) * 90 // 100]:.1f} "
        f"p99 {times[last]:.1f} most {times[-1]:.1f} ms of {len(times)}; the window's own "
        f"processor time p50 {own[len(own) // 2]:.1f} p99 {own[last]:.1f} most {own[-1]:.1f} ms "
        f"(goal p99 {GOAL_MS:.0f}); load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors\n"
    )


def main() -> None:
    """Choose parts of a device, then change, drop and choose them again and again."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 120
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
        for name in ACCEPTED:
            session.accept(name, Side.LEFT)
        for name in AIMS:
            session.keep_aim(name, Side.LEFT)
        served = [
            one.id for one in session.assessment.reasons.plan.candidates if not one.is_blocked
        ]
        for name in tuple(dict.fromkeys((*FIRST, *served)))[:FEATURES]:
            session.choose_feature(name, Side.LEFT, {})
        record.plan()
        page = record.planning.page
        examiner.paints()
        tried, taken, toggled, kept = ([], []), ([], []), ([], []), ([], [])

        def press(key: str | Qt.Key, into: Times) -> None:
            begun, own = time.perf_counter(), time.thread_time()
            examiner.presses(key)
            examiner.paints()
            into[0].append((time.perf_counter() - begun) * 1000)
            into[1].append((time.thread_time() - own) * 1000)
            QTest.qWait(20)

        def goes_to(place: Place) -> None:
            page.focus_list()
            page.go_to(place)
            examiner.paints()

        for number in range(rounds):
            goes_to(Place(What.FEATURE, "rearfoot-post-medial", Side.LEFT))
            page.sizes.start()
            examiner.paints()
            for char in SIZES[number % len(SIZES)]:
                press(char, tried)
            press(Qt.Key.Key_Return, taken)
            goes_to(Place(What.FEATURE, "heel-cup-depth", Side.LEFT))
            press(Qt.Key.Key_Space, toggled)
            press(Qt.Key.Key_Space, toggled)
            goes_to(Place(What.AIM, "lower-pronation-moment", Side.LEFT))
            press(Qt.Key.Key_Space, kept)
            press(Qt.Key.Key_Space, kept)
        assert not session.unsaved()
        assert not page.drawings.is_empty
        assert len(session.assessment.reasons.plan.chosen) == FEATURES
        told("key of a dimension, tried", tried)
        told("Enter, a dimension taken", taken)
        told("Space, a feature dropped or chosen", toggled)
        told("Space, an aim dropped or kept", kept)
        sys.stdout.flush()
        os._exit(0)


if __name__ == "__main__":
    main()
