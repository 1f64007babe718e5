"""Files read within bounds, and written whole or not at all."""

import errno
import io
import os
import stat
import sys
from pathlib import Path

import pytest

from footexam.exchange import files
from footexam.exchange.files import read_bytes, why, write_whole
from footexam.exchange.strict_json import LARGEST

DATA = b"new bytes"


def test_a_file_is_read_to_its_end_or_just_beyond_the_bound(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(DATA)
    assert read_bytes(str(path)) == DATA
    with path.open("r+b") as file:
        file.truncate(500 * 1024 * 1024)  # a sparse file: it takes no room
    assert len(read_bytes(str(path))) == LARGEST + 1


def test_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(DATA)))
    assert read_bytes("-") == DATA
    monkeypatch.setattr(sys, "stdin", None)
    with pytest.raises(OSError, match="Bad file descriptor"):
        read_bytes("-")


@pytest.mark.parametrize("name", ["missing", "", ".", "missing/deeper", "x" * 300])
def test_what_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(OSError) as bad:  # noqa: PT011 - any reason the system gives
        read_bytes(name)
    assert why(bad.value)
    assert str(tmp_path) not in why(bad.value)


def left(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_a_file_is_written_and_written_over(tmp_path: Path) -> None:
    path = tmp_path / "out.pdf"
    for data in (b"old", b"", DATA):
        write_whole(path, data)
        assert left(tmp_path) == {"out.pdf": data}


def test_the_longest_name_that_the_system_takes(tmp_path: Path) -> None:
    write_whole(tmp_path / ("x" * 255), DATA)
    assert left(tmp_path) == {"x" * 255: DATA}


@pytest.mark.skipif(os.name != "posix", reason="file modes are of Unix")
def test_a_file_gets_the_mode_that_the_user_wants(tmp_path: Path) -> None:
    old = os.umask(0o027)
    try:
        write_whole(tmp_path / "out", DATA)
    finally:
        os.umask(old)
    assert stat.S_IMODE((tmp_path / "out").stat().st_mode) == 0o640


def full(*_: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def stopped(*_: object) -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize("there", [b"", b"old"])
@pytest.mark.parametrize(
    ("where", "what", "error"),
    [
        (os, "fsync", full),
        (Path, "replace", full),
        (os, "fsync", stopped),
    ],
)
def test_a_failure_leaves_everything_as_it_was(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    there: bytes,
    where: object,
    what: str,
    error: object,
) -> None:
    path = tmp_path / "out"
    if there:
        path.write_bytes(there)
    before = left(tmp_path)
    monkeypatch.setattr(where, what, error)
    with pytest.raises((OSError, KeyboardInterrupt)):
        write_whole(path, DATA)
    assert left(tmp_path) == before


@pytest.mark.skipif(os.name != "posix", reason="limits on file size are of Unix")
def test_a_disk_that_fills_up_while_writing(tmp_path: Path) -> None:
    import resource
    import signal

    path = tmp_path / "out"
    path.write_bytes(b"old")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (4096, before[1]))
        with pytest.raises(OSError) as bad:  # noqa: PT011
            write_whole(path, b"x" * 100_000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)
    assert why(bad.value) == "file too large"
    assert left(tmp_path) == {"out": b"old"}


def test_a_folder_that_cannot_be_synced_is_no_failure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "open", full)
    files._sync_folder(tmp_path)


@pytest.mark.parametrize("name", ["missing/out", "file/out", "", "."])
def test_places_that_take_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "file").write_bytes(b"old")
    with pytest.raises(OSError):  # noqa: PT011
        write_whole(Path(name), DATA)
    assert left(tmp_path) == {"file": b"old"}


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="Linux")
def test_a_device_is_written_to_and_never_replaced() -> None:
    write_whole(Path(os.devnull), DATA)
    assert stat.S_ISCHR(Path(os.devnull).stat().st_mode)
    with pytest.raises(OSError, match="No space left"):
        write_whole(Path("/dev/full"), DATA)
    assert stat.S_ISCHR(Path("/dev/full").stat().st_mode)


def test_the_reason_is_that_of_the_system() -> None:
    assert why(OSError(errno.EACCES, "Permission denied", "/secret/path")) == "permission denied"
    assert why(OSError("odd")) == "odd"
