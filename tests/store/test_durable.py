"""Files are on the disk before anything relies on them, and only their owner reads them."""

import os
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from footexam.store import durable


@pytest.fixture
def synced(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The inodes that were synced, in order."""
    inodes: list[int] = []
    real = os.fsync

    def sync(handle: int) -> None:
        inodes.append(os.fstat(handle).st_ino)
        real(handle)

    monkeypatch.setattr(os, "fsync", sync)
    return inodes


def test_a_move_syncs_the_file_before_and_the_folder_after(
    tmp_path: Path, synced: list[int]
) -> None:
    part, target = tmp_path / "part", tmp_path / "target"
    part.write_bytes(b"new")
    target.write_bytes(b"old")
    file = part.stat().st_ino
    durable.move_whole(part, target)
    assert synced == [file, tmp_path.stat().st_ino]
    assert target.read_bytes() == b"new"
    assert not part.exists()


def test_windows_cannot_be_asked_to_sync_a_folder(tmp_path: Path, synced: list[int]) -> None:
    durable.sync_folder(tmp_path, "nt")
    assert synced == []


def test_macos_is_asked_to_empty_the_cache_of_the_drive(
    tmp_path: Path, synced: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []
    fcntl = SimpleNamespace(F_FULLFSYNC=51, fcntl=lambda _, what: asked.append(what))
    monkeypatch.setattr(durable, "import_module", {"fcntl": fcntl}.get)
    monkeypatch.setattr(sys, "platform", "darwin")
    path = tmp_path / "file"
    path.touch()
    durable.sync_file(path)
    assert (asked, synced) == ([51], [])


def test_a_private_folder(tmp_path: Path) -> None:
    folder = tmp_path / "one" / "two"
    durable.make_private_folder(folder)
    durable.make_private_folder(folder)
    if os.name == "posix":
        assert folder.stat().st_mode & 0o777 == 0o700


def test_a_file_that_others_read_is_narrowed(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.touch(mode=0o644)
    assert durable.make_private(path, 0o600)
    assert durable.make_private(path, 0o600)
    if os.name == "posix":
        assert path.stat().st_mode & 0o777 == 0o600


@pytest.mark.skipif(os.name == "nt", reason="no permission bits")
def test_a_file_system_without_permissions_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "file"
    path.touch(mode=0o644)
    monkeypatch.setattr(Path, "chmod", lambda *_: None)  # as on a memory stick
    assert not durable.make_private(path, 0o600)

    def refuse(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr(Path, "chmod", refuse)
    assert not durable.make_private(path, 0o600)


def test_windows_keeps_a_users_own_folder_private(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "file"
    path.touch(mode=0o644)
    monkeypatch.setattr(durable, "os", SimpleNamespace(name="nt"))
    assert durable.make_private(path, 0o600)
