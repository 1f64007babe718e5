"""The one worker that owns an open store: everything is done in its thread, in order."""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from threading import Lock
from typing import Concatenate, ParamSpec, TypeVar

from footexam.store.errors import KnownError
from footexam.store.store import Store

P = ParamSpec("P")
T = TypeVar("T")


class StoreWorker:
    """A store opened, used and closed in one thread of its own; answers come as futures.

    `do(Store.append, subject, head, drafts)` returns at once; its future holds the entries, or
    the KnownError, Conflict or fault. What was asked first is done first.
    """

    def __init__(self, folder: Path, opener: Callable[[Path], Store] = Store.open) -> None:
        """Begin to open the store; what comes of it is in `opened`."""
        self._folder = folder
        self._closed = False
        self._guard = Lock()
        self._executor = ThreadPoolExecutor(max_workers=1, thread_name_prefix="footexam-store")
        self.opened: Future[Store] = self._executor.submit(opener, folder)
        """The open store, to be asked for its `warnings` only; or why it could not be opened."""

    def do(
        self, act: Callable[Concatenate[Store, P], T], *args: P.args, **kwargs: P.kwargs
    ) -> Future[T]:
        """Ask for something to be done with the store, as `do(Store.journal, subject)`.

        Raises KnownError `closed` after `close`; the future of a store that could not be opened
        raises what its opening raised.
        """
        with self._guard:
            if self._closed:
                raise KnownError("closed", self._folder)
            return self._executor.submit(lambda: act(self.opened.result(), *args, **kwargs))

    def close(self) -> None:
        """Do what was asked for, close the store, and end the thread; waits for all of it.

        A second close does nothing.
        """
        with self._guard:
            if self._closed:
                return
            self._closed = True
            ended = self._executor.submit(self._end)
        self._executor.shutdown(wait=True)
        ended.result()

    def _end(self) -> None:
        if self.opened.exception() is None:
            self.opened.result().close()
