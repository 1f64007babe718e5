"""Full, slow, locked and failing disks: a sentence, nothing acknowledged lost, and on it goes."""

import os
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path

import pytest

from footexam.record.entry import first_link
from footexam.store import KnownError, Store, StoreWorker, connect, index
from footexam.store.journals import Attachment
from footexam.store.layout import DATABASE
from footexam.store.quick_list import PatientList
from tests.store.builders import attach, begin, more, new_patient, reading, refused

ROOT = Path(__file__).resolve().parents[2]


def limit_pages(store: Store, pages: int) -> None:
    """Let the database grow to so many pages only, as a full disk would."""
    with store._engine.connect() as connection:
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")


def test_a_full_disk_loses_no_acknowledged_entry(store: Store, folder: Path) -> None:
    subject = store.new_subject("examination")
    written = list(begin(store, subject, reading()))
    limit_pages(store, 1)  # not below what there is
    with refused("disk-full") as caught:
        while True:
            written += store.append(subject, written[-1].hash, [reading()] * 5)
    assert "last step was not" in str(caught.value)
    assert list(store.journal(subject)) == written
    assert store.verify().whole
    limit_pages(store, 100_000)  # space was freed
    written += store.append(subject, written[-1].hash, [reading()])
    store.close()
    with Store.open(folder) as again:
        assert list(again.journal(subject)) == written
        assert again.verify().whole


def test_a_full_disk_keeps_an_entry_and_its_bytes_together(store: Store) -> None:
    subject = store.new_subject("examination")
    begin(store, subject, reading())
    limit_pages(store, 1)
    picture = Attachment(os.urandom(200_000), "image/png")
    before = store.census()
    with refused("disk-full"):
        store.append(subject, store.journal(subject).head, [attach(picture.body())], [picture])
    assert store.census() == before


def test_a_full_disk_while_the_index_is_made_leaves_the_old_one(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(60):
        new_patient(store, f"Family{number}", "Ann", str(number))
    limit_pages(store, 1)
    # the new index is larger than the old one, and the disk too small for it
    monkeypatch.setattr(index, "found_by", lambda *_: {f"word{number}" for number in range(300)})
    with refused("disk-full"):
        store.rebuild_index()
    assert store.verify().whole
    with PatientList(folder) as patients:
        assert patients.count() == 60
        assert patients.search("family59").rows


@pytest.mark.skipif(os.name == "nt", reason="no limits of resources")
def test_a_disk_that_takes_no_more_bytes(tmp_path: Path) -> None:
    """Real writes fail: the process may write files of 300 kB only."""
    folder = tmp_path / "store"
    write = (
        "import resource, signal, sys; from pathlib import Path\n"
        "from tests.store.builders import begin, reading\n"
        "from footexam.store import KnownError, Store\n"
        "store = Store.create(Path(sys.argv[1]))\n"
        "head = begin(store, 'examination:full', reading())[-1].hash\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000))\n"
        "while True:\n"
        "    try:\n"
        "        entry = store.append('examination:full', head, [reading()])[-1]\n"
        "    except KnownError as bad:\n"
        "        print('stopped', bad.code, flush=True)\n"
        "        break\n"
        "    head = entry.hash\n"
        "    print(entry.seq, entry.hash, flush=True)\n"
        "assert store.journal('examination:full').head == head\n"
    )
    said = subprocess.run(
        [sys.executable, "-c", write, str(folder)],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    *acknowledged, last = said.stdout.split("\n")[:-1]
    assert last in {"stopped disk-fault", "stopped disk-full"}
    with Store.open(folder) as store:
        kept = [f"{entry.seq} {entry.hash}" for entry in store.journal("examination:full")]
        assert kept[1:] == acknowledged
        assert len(kept) > 15
        assert store.verify().whole


def test_a_database_that_another_program_holds(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    subject = new_patient(store, "Held")
    store.close()
    monkeypatch.setattr(connect, "BUSY_S", 0.05)
    with Store.open(folder) as again, closing(sqlite3.connect(folder / DATABASE)) as other:
        other.execute("BEGIN IMMEDIATE")
        with refused("busy"):
            more(again, subject, reading())
        assert again.patient(subject).family_name == "Held"  # reading goes on
        other.rollback()
        assert more(again, subject, reading())[0].seq == 5


def test_a_store_that_another_process_holds_whole(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.close()
    hold = (
        "import sqlite3, sys\n"
        "held = sqlite3.connect(sys.argv[1], isolation_level=None)\n"
        "held.execute('PRAGMA locking_mode = EXCLUSIVE'); held.execute('BEGIN EXCLUSIVE')\n"
        "print('held', flush=True); sys.stdin.read()"
    )
    monkeypatch.setattr(connect, "BUSY_S", 0.05)
    with subprocess.Popen(
        [sys.executable, "-c", hold, str(folder / DATABASE)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        with refused("busy"):
            Store.open(folder)
        other.kill()
    Store.open(folder).close()


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_a_truncated_database(store: Store, folder: Path, share: float) -> None:
    for number in range(30):
        new_patient(store, f"Family{number}", "Ann", str(number))
    store.close()
    data = (folder / DATABASE).read_bytes()
    (folder / DATABASE).write_bytes(data[: int(len(data) * share)])
    with pytest.raises(KnownError) as caught, Store.open(folder) as again:
        again.verify()
    assert caught.value.code == "damaged"


def test_a_database_of_garbage_behind_a_good_head(store: Store, folder: Path) -> None:
    new_patient(store, "Garbage")
    store.close()
    data = bytearray((folder / DATABASE).read_bytes())
    data[200:] = os.urandom(len(data) - 200)
    (folder / DATABASE).write_bytes(data)
    for opener in (Store.open, Store.read):
        with pytest.raises(KnownError) as caught, opener(folder) as again:
            again.verify()
        assert caught.value.code == "damaged"


def test_every_single_damaged_page_is_noticed(store: Store, folder: Path) -> None:
    """Whatever page is overwritten, opening, reading or verifying tells it."""
    subject = new_patient(store, "Pages")
    for number in range(40):
        new_patient(store, f"Family{number}", "Ann", str(number))
    store.close()
    whole = (folder / DATABASE).read_bytes()
    assert len(whole) // 4096 > 20
    for page in range(1, len(whole) // 4096):
        data = bytearray(whole)
        data[page * 4096 : (page + 1) * 4096] = b"\xa5" * 4096
        (folder / DATABASE).write_bytes(data)
        try:
            with Store.open(folder) as again:
                told = not again.verify().whole
        except KnownError as bad:
            told = bad.code in {"damaged", "broken-journal"}
        assert told, page
    (folder / DATABASE).write_bytes(whole)
    with Store.open(folder) as again:
        assert again.patient(subject).family_name == "Pages"


def test_use_from_another_thread_is_a_fault(store: Store) -> None:
    raised: list[BaseException] = []

    def use() -> None:
        try:
            store.census()
        except sqlite3.ProgrammingError as bad:
            raised.append(bad)

    thread = threading.Thread(target=use)
    thread.start()
    thread.join()
    assert "thread" in str(raised[0])


def test_two_writers_of_one_subject_never_lose_or_double_an_entry(folder: Path) -> None:
    """Eight threads write through one worker, each with the head it saw last."""
    worker = StoreWorker(folder, Store.create)
    subject = "examination:shared"
    written: list[str] = []

    def write(name: str) -> None:
        from footexam.store import Conflict

        head = first_link(subject)
        for number in range(12):
            target = f"{name}-{number}"
            while True:
                answer = worker.do(Store.append, subject, head, [reading(target)])
                lost = answer.exception()
                if lost is None:
                    head = answer.result()[-1].hash
                    written.append(f"measure:{target}")
                    break
                assert isinstance(lost, Conflict)
                head = lost.entries[-1].hash

    threads = [threading.Thread(target=write, args=(f"w{number}",)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    journal = worker.do(Store.journal, subject).result()
    worker.close()
    assert sorted(entry.draft.target for entry in journal) == sorted(written)
    assert len(journal) == 96
