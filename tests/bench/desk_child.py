"""What bench_desk.py runs in processes of their own; each prints one line of JSON and ends.

blank                       a blank PySide6 window: when it is painted, and its memory
start HOME                  the program by its command: when the list can be searched
fill HOME PATIENTS          a store with invented patients
keys HOME FILE ZOOM         a full examination, then every cell of a sheet by its keys
"""

import json
import os
import random
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROUNDS = 8
"""How often the sheet is gone through from its first cell to its last."""

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["QT_SCALE_FACTOR"] = "1"


def tell(**figures: object) -> None:
    """Print the figures and end at once, without what a normal end does."""
    figures["rss_mb"] = memory_mb()
    figures["peak_mb"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(json.dumps(figures) + "\n")
    sys.stdout.flush()
    os._exit(0)


def memory_mb() -> float:
    """Resident memory of this process now, in MB (Linux)."""
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024
    return float("nan")


def blank() -> None:
    """A window with nothing in it, painted."""
    from PySide6.QtWidgets import QApplication, QWidget

    application = QApplication([])
    window = QWidget()
    window.resize(1440, 900)
    window.show()
    application.processEvents()
    tell(at=time.monotonic())


def start(home: str) -> None:
    """The program's own start; told as soon as patients are listed and the search has the keys."""
    os.environ["FOOTEXAM_HOME"] = home
    from footexam.cli import main

    _tell_when_usable()
    sys.exit(main([]))


def window(home: str) -> None:
    """The start of the window alone."""
    os.environ["FOOTEXAM_HOME"] = home
    from footexam.desktop.app import run

    _tell_when_usable()
    sys.exit(run([]))


def _tell_when_usable() -> None:
    """Put the telling in the place of what the window does after its first paint."""
    from footexam.desktop import window as module

    def usable(window: module.Window) -> None:
        from PySide6.QtWidgets import QApplication

        page = window.walk.patients
        while not (page.model.rowCount() and page.line.hasFocus()):
            QApplication.processEvents()
        QApplication.processEvents()
        tell(at=time.monotonic(), rows=page.model.rowCount())

    module.Window.open_store = usable  # type: ignore[method-assign]


def fill(home: str, count: str) -> None:
    """A store with patients who do not exist."""
    os.environ["FOOTEXAM_HOME"] = home
    from footexam.desktop.desk import Desk
    from footexam.record.entry import Author
    from footexam.record.examination import Patient
    from footexam.settings import data_dir

    desk = Desk(data_dir() / "store")
    chance = random.Random(1)
    for number in range(int(count)):
        family = "".join(chance.choice("abdeilmnorst") for _ in range(7)).title()
        born = f"{chance.randrange(1930, 2015)}-{chance.randrange(1, 13):02}-11"
        person = Patient(family, "Bo", "", f"B-{number:05}", born)
        desk.new_patient(person, Author("Bench"))
    desk.close(backup=False)
    tell(patients=int(count))


def keys(home: str, file: str, zoom: str, sheet: str) -> None:
    """Every key that enters a reading: from the key to durable, judged and painted, in ms."""
    os.environ["FOOTEXAM_HOME"] = home
    from tests.bench.desk_keys import Examiner

    examiner = Examiner(float(zoom))
    examiner.opens(Path(file))
    if sheet == "all":
        examiner.window.act("show_more")
    for _ in range(ROUNDS):
        examiner.goes_through("standing")
    times = sorted(examiner.times)
    tell(
        readings=len(examiner.session.examination.readings),
        cells=len(examiner.record.worksheets["standing"].order),
        entries=len(times),
        p50=times[len(times) // 2],
        p90=times[len(times) * 90 // 100],
        p99=times[len(times) * 99 // 100],
        most=times[-1],
        own_p99=sorted(examiner.own)[len(times) * 99 // 100],
    )


JOBS: dict[str, Callable[..., None]] = {
    "blank": blank,
    "start": start,
    "window": window,
    "fill": fill,
    "keys": keys,
}

if __name__ == "__main__":
    JOBS[sys.argv[1]](*sys.argv[2:])
