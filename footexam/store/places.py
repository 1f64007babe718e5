"""Which disk a folder lies on, and whether a database may lie there."""

import ctypes
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath
from typing import Any

from footexam.store.errors import KnownError
from footexam.store.messages import warning
from footexam.store.synced import synced_mark

_REMOTE = frozenset(
    {"acfs", "afpfs", "afs", "beegfs", "ceph", "cifs", "coda", "davfs", "glusterfs"}
    | {"gpfs", "lustre", "ncpfs", "nfs", "nfs3", "nfs4", "pvfs2", "smb", "smb2", "smb3", "smbfs"}
    | {"webdav", "fuse.sshfs", "fuse.davfs", "fuse.davfs2", "fuse.glusterfs", "fuse.curlftpfs"}
    | {"fuse.rclone", "fuse.s3fs", "fuse.goofys", "fuse.ceph", "fuse.smbnetfs", "fuse.gvfsd-fuse"}
    | {"remote drive", "network path"}
)
"""File systems that reach another computer; the last two are our words on Windows."""

_UNSURE = re.compile(r"9p|virtiofs|vboxsf|vmhgfs|prl_fs|drvfs|(macfuse|osxfuse|fuse)(\..+)?")
"""File systems of which one cannot tell: folders lent to a virtual machine, drivers of users."""

_REMOTE_DRIVE = 4
"""`DRIVE_REMOTE` of Windows' GetDriveTypeW."""


@dataclass(frozen=True, slots=True)
class Mount:
    """A place of the folder tree and the file system that lies there."""

    point: Path
    kind: str


def check_place(folder: Path) -> tuple[str, ...]:
    """What to warn of when a store lies in this folder, which need not exist yet.

    Raises KnownError on a network share and in a folder that is copied to other computers, as
    far as these can be recognised: by type of file system, and by the marks in `synced`. A tool
    that leaves no mark and an unknown kind of share are not seen.
    """
    real = folder.resolve()
    mark = synced_mark(real)
    if mark:
        raise KnownError("synced", folder, what=mark)
    kind = file_system(real)
    if kind in _REMOTE:
        raise KnownError("network", folder, what=kind)
    if _UNSURE.fullmatch(kind):
        return (warning("unsure-disk", where=folder, what=kind),)
    return ()


def file_system(folder: Path, platform: str = sys.platform) -> str:
    """The type of the file system of a folder, as its system calls it; "" where unknown."""
    if platform == "win32":
        return _windows_kind(str(folder), ctypes)
    if platform == "darwin":
        mounts = mounts_of_mac(_ask_mac())
    else:
        mounts = mounts_of_linux(Path("/proc/self/mountinfo"))
    return innermost(folder, mounts)


def innermost(folder: Path, mounts: list[Mount]) -> str:
    """The type of the mount that holds a folder; of two at one point the later. "" if none."""
    inside = [mount for mount in mounts if folder.is_relative_to(mount.point)]
    return max(inside, key=_depth).kind if inside else ""


def _depth(mount: Mount) -> int:
    return len(mount.point.parts)


def mounts_of_linux(table: Path) -> list[Mount]:
    """The mounts of /proc/self/mountinfo, the last one first; none where it cannot be read."""
    try:
        lines = table.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
    except OSError:
        return []
    mounts = []
    for line in reversed(lines):
        left, _, right = line.partition(" - ")
        mounts.append(Mount(Path(_plain(left.split(" ")[4])), right.split(" ")[0]))
    return mounts


def _plain(escaped: str) -> str:
    """A path of mountinfo, where blanks and backslashes stand as octal numbers."""
    return re.sub(r"\\([0-7]{3})", lambda found: chr(int(found[1], 8)), escaped)


def mounts_of_mac(listing: str) -> list[Mount]:
    """The mounts in what /sbin/mount prints: `//host/share on /Volumes/x (smbfs, nodev)`.

    Written from its manual; not run on macOS so far.
    """
    found = re.finditer(r"^.+? on (/.*) \(([\w.]+)[,)]", listing, re.MULTILINE)
    return [Mount(Path(one[1]), one[2]) for one in found]


def _ask_mac() -> str:
    try:
        asked = subprocess.run(
            ["/sbin/mount"], capture_output=True, text=True, check=False, timeout=5
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return asked.stdout


def _windows_kind(folder: str, system: Any) -> str:
    """Whether a folder lies on a share or a drive of the network. Not run on Windows so far."""
    drive = PureWindowsPath(folder).drive
    if drive.startswith("\\\\") and not re.match(r"\\\\[?.]\\[A-Za-z]:", drive):
        return "network path"
    letter = drive.removeprefix("\\\\?\\").removeprefix("\\\\.\\")
    remote = system.windll.kernel32.GetDriveTypeW(letter + "\\") == _REMOTE_DRIVE
    return "remote drive" if remote else ""
