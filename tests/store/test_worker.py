"""One thread owns the store; what was asked first is done first, and closing waits for all."""

import threading
from pathlib import Path

import pytest

from footexam.record.entry import first_link
from footexam.store import Conflict, Store, StoreWorker
from footexam.store.lock import holder
from tests.store.builders import fact, reading, refused


def test_everything_runs_in_one_thread_of_its_own(folder: Path) -> None:
    worker = StoreWorker(folder, Store.create)
    names = {worker.do(lambda _: threading.current_thread().name).result() for _ in range(5)}
    assert worker.opened.result().warnings == ()
    worker.close()
    assert len(names) == 1
    assert names != {threading.current_thread().name}
    assert threading.active_count() == 1


def test_closing_drains(folder: Path) -> None:
    worker = StoreWorker(folder, Store.create)
    subject = "examination:drained"
    begun = worker.do(Store.append, subject, first_link(subject), [reading()])
    waiting = [
        worker.do(lambda store: store.append(subject, store.journal(subject).head, [reading()]))
        for _ in range(20)
    ]
    worker.close()
    assert begun.result()[0].seq == 1
    assert [future.result()[0].seq for future in waiting] == list(range(2, 22))
    assert holder(folder) is None
    with Store.open(folder) as store:
        assert len(store.journal(subject)) == 21


def test_answers_may_be_errors(folder: Path) -> None:
    worker = StoreWorker(folder, Store.create)
    subject = "patient:one"
    drafts = [fact("patient:family-name", "One")]
    worker.do(Store.append, subject, first_link(subject), drafts).result()
    lost = worker.do(Store.append, subject, expected_head=first_link(subject), drafts=drafts)
    assert isinstance(lost.exception(), Conflict)
    with refused("no-subject"):
        worker.do(Store.journal, "patient:other").result()
    assert worker.do(Store.patient, subject).result().family_name == "One"
    worker.close()


def test_a_closed_worker_takes_nothing_more(folder: Path) -> None:
    worker = StoreWorker(folder, Store.create)
    worker.close()
    worker.close()
    with refused("closed"):
        worker.do(Store.census)


def test_a_store_that_cannot_be_opened(folder: Path) -> None:
    worker = StoreWorker(folder)
    with refused("no-store"):
        worker.opened.result()
    with refused("no-store"):
        worker.do(Store.census).result()
    worker.close()


def test_trouble_at_closing_is_raised(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    worker = StoreWorker(folder, Store.create)
    store = worker.opened.result()

    def fail(_: Store) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Store, "close", fail)
    with pytest.raises(OSError, match="Input/output"):
        worker.close()
    monkeypatch.undo()
    store._lock.release()
