"""Network shares and folders that are copied elsewhere are refused, as far as they can be seen."""

import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from footexam.store import Store, places, synced
from footexam.store.places import Mount
from tests.store.builders import refused

MOUNTINFO = """\
22 27 0:21 / /proc rw,relatime - proc proc rw
27 1 254:0 / / rw,relatime - ext4 /dev/vda rw
30 27 0:40 / /mnt/with\\040blank rw - cifs //server/share rw
31 27 0:41 / /home/user/net rw shared:5 - nfs4 server:/x rw
32 31 8:1 / /home/user/net/local rw - ext4 /dev/sda1 rw
33 27 0:42 / /media/twice rw - nfs server:/y rw
34 33 8:2 / /media/twice rw - xfs /dev/sdb1 rw
"""

MOUNT = """\
/dev/disk3s1s1 on / (apfs, sealed, local, read-only, journaled)
//user@server/share on /Volumes/My Share (smbfs, nodev, nosuid, mounted by user)
map auto_home on /System/Volumes/Data/home (autofs, automounted, nobrowse)
"""


@pytest.fixture
def mounts(tmp_path: Path) -> list[Mount]:
    table = tmp_path / "mountinfo"
    table.write_text(MOUNTINFO)
    return places.mounts_of_linux(table)


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/home/user", "ext4"),
        ("/mnt/with blank/store", "cifs"),
        ("/mnt/with", "ext4"),
        ("/home/user/net", "nfs4"),
        ("/home/user/network", "ext4"),
        ("/home/user/net/local/store", "ext4"),
        ("/media/twice/store", "xfs"),
    ],
)
def test_the_innermost_mount_counts(mounts: list[Mount], folder: str, kind: str) -> None:
    assert places.innermost(Path(folder), mounts) == kind


def test_no_mounts_tell_nothing(tmp_path: Path) -> None:
    assert places.mounts_of_linux(tmp_path / "none") == []
    assert places.innermost(tmp_path, []) == ""


def test_mounts_of_macos(monkeypatch: pytest.MonkeyPatch) -> None:
    answer = SimpleNamespace(stdout=MOUNT)
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: answer)
    assert places.file_system(Path("/Volumes/My Share/store"), "darwin") == "smbfs"
    assert places.file_system(Path("/Users/one"), "darwin") == "apfs"

    def missing(*_: object, **__: object) -> None:
        raise FileNotFoundError

    monkeypatch.setattr(subprocess, "run", missing)
    assert places.file_system(Path("/Users/one"), "darwin") == ""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("C:\\Users\\one\\store", ""),
        ("N:\\store", "remote drive"),
        ("\\\\?\\C:\\store", ""),
        ("\\\\?\\N:\\store", "remote drive"),
        ("\\\\server\\share\\store", "network path"),
        ("//server/share/store", "network path"),
        ("\\\\?\\UNC\\server\\share\\store", "network path"),
    ],
)
def test_drives_of_windows(monkeypatch: pytest.MonkeyPatch, folder: str, kind: str) -> None:
    types = {"C:\\": 3, "N:\\": 4}
    kernel = SimpleNamespace(GetDriveTypeW=types.__getitem__)
    windows = SimpleNamespace(windll=SimpleNamespace(kernel32=kernel))
    monkeypatch.setattr(places, "ctypes", windows)

    class WindowsPath:
        def __str__(self) -> str:
            return folder

    assert places.file_system(WindowsPath(), "win32") == kind  # type: ignore[arg-type]


def test_the_disk_of_this_machine_is_known(tmp_path: Path) -> None:
    # in a folder made into a root (chroot, some containers) the table names no mount that holds it
    table = Path("/proc/self/mountinfo")
    holds_root = table.exists() and any(
        line.split()[4] == "/" for line in table.read_text(errors="replace").splitlines()
    )
    if sys.platform == "linux":
        assert bool(places.file_system(tmp_path)) is holds_root
    assert places.check_place(tmp_path / "store") is not None


@pytest.mark.parametrize("kind", ["nfs", "nfs4", "cifs", "smb3", "smbfs", "fuse.sshfs", "afpfs"])
def test_network_shares_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    Store.create(tmp_path / "store").close()
    monkeypatch.setattr(places, "file_system", lambda _: kind)
    for opener in (Store.create, Store.open):
        with refused("network") as caught:
            opener(tmp_path / "store")
        assert kind in str(caught.value)
        assert "choose a folder on a disk of this computer" in str(caught.value)


@pytest.mark.parametrize(
    "kind", ["9p", "virtiofs", "vboxsf", "fuse.bindfs", "fuse", "fuse.something-new"]
)
def test_what_is_not_known_is_said_but_not_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    monkeypatch.setattr(places, "file_system", lambda _: kind)
    with Store.create(tmp_path / "store") as store:
        assert kind in store.warnings[0]


@pytest.mark.parametrize(
    "kind", ["ext4", "btrfs", "overlay", "tmpfs", "apfs", "fuseblk", "ntfs3", "zfs", ""]
)
def test_disks_of_this_computer_are_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    monkeypatch.setattr(places, "file_system", lambda _: kind)
    assert places.check_place(tmp_path) == ()


@pytest.mark.parametrize(
    "marker",
    [".stfolder", ".dropbox.cache", "._sync_0a1b.db", ".sync_0a1b.db", ".owncloudsync.log"],
)
def test_a_folder_below_a_marker_is_refused(tmp_path: Path, marker: str) -> None:
    (tmp_path / marker).touch()
    with refused("synced") as caught:
        Store.create(tmp_path / "deep" / "store")
    assert not (tmp_path / "deep").exists()
    assert marker not in str(caught.value)  # no name of a tool is shown
    assert str(tmp_path) in str(caught.value)


@pytest.mark.parametrize("name", ["OneDrive - Practice", "Dropbox (Personal)", "CloudStorage"])
def test_a_folder_with_the_name_of_a_copied_one_is_refused(tmp_path: Path, name: str) -> None:
    with refused("synced"):
        places.check_place(tmp_path / name / "store")


@pytest.mark.parametrize("name", ["Drop", "sync", "drives", "Box 5", ".dropbox", "home"])
def test_other_names_are_taken(tmp_path: Path, name: str) -> None:
    (tmp_path / name).mkdir()
    (tmp_path / ".unrelated.db").touch()
    assert synced.synced_mark(tmp_path / name / "store") == ""


def test_the_mark_of_windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tags = {"one": 0x9000701A, "other": 0xA000000C}

    def lstat(path: Path) -> SimpleNamespace:
        return SimpleNamespace(st_reparse_tag=tags.get(path.name, 0))

    monkeypatch.setattr(Path, "lstat", lstat)
    monkeypatch.setattr(os, "listdir", lambda _: [])
    assert synced.synced_mark(tmp_path / "one" / "store").startswith("the mark the system gave")
    assert synced.synced_mark(tmp_path / "other" / "store") == ""


def test_a_folder_that_cannot_be_looked_into_tells_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_: object) -> list[str]:
        raise PermissionError

    monkeypatch.setattr(os, "listdir", refuse)
    assert synced.synced_mark(tmp_path) == ""
