"""Makes footexam's environment in .venv and then runs the demo or the checks.

    python3 packaging/bootstrap.py run     the environment, then the demo
    python3 packaging/bootstrap.py test    the environment, then tests, ruff, mypy and imports

Only the standard library is used. Exit: 0 done, 1 a check failed, 2 wrong use, 3 Python or a part
of it is missing, 4 the environment could not be made, 6 all passed but tests/desktop was left out;
`run` otherwise ends as `footexam demo` does.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an older Python must reach this line and stop
    sys.stderr.write(
        f"footexam needs Python 3.11 or newer; this is Python {sys.version.split()[0]}. "
        "Nothing was changed. Install a newer Python and start this again with it.\n"
    )
    sys.exit(3)

import argparse
import ctypes
import errno
import hashlib
import importlib
import importlib.metadata
import importlib.util
import json
import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DONE, CHECK_FAILED, MISSING, NO_ENVIRONMENT, WITHOUT_DESKTOP, STOPPED = 0, 1, 3, 4, 6, 130

# What the Qt libraries and plugins of PySide6-Essentials 6.11.3 name as needed (readelf -d) and do
# not bring along, with the Debian package of each.
QT_LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11.so.6": "libx11-6",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libbrotlidec.so.1": "libbrotli1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
    "libxcb.so.1": "libxcb1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-glx.so.0": "libxcb-glx0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libzstd.so.1": "libzstd1",
}

# Words of pip's and the system's messages, by the kind of trouble; looked for in this order.
SIGNS = {
    "disk": ("No space left on device", "Errno 28", "Disk quota exceeded", "WinError 112"),
    "folder": ("Permission denied", "Read-only file system", "Errno 13", "Errno 30", "WinError 5]"),
    "network": (
        "NewConnectionError",
        "ConnectTimeout",
        "ReadTimeout",
        "Connection broken",
        "ConnectionReset",
        "Max retries exceeded",
        "name resolution",
        "getaddrinfo failed",
        "ProxyError",
        "SSLError",
        "certificate verify failed",
        "No matching distribution found",
    ),
}
SPARE_BYTES = 50_000_000  # with less free than this a failure without a reason is a full disk
ERRNO_KINDS = {
    errno.ENOSPC: "disk",
    errno.EDQUOT: "disk",
    errno.EACCES: "folder",
    errno.EPERM: "folder",
    errno.EROFS: "folder",
}
SENTENCES = {
    "disk": "The disk is full: {where}. Free about 1 GB there and in the temporary folder",
    "folder": "The folder cannot be written, or is in use: {where}. Close footexam if it is open; "
    "otherwise copy the project to a folder of your own",
    "network": "The packages could not be fetched. Check the network connection, and the proxy "
    "and package settings of pip",
    "other": "The environment could not be made: {where}. Put right what the lines above name",
}


class TroubleError(Exception):
    """Something a person can put right. Holds a full message and the exit code."""

    def __init__(self, message: str, code: int = NO_ENVIRONMENT) -> None:
        super().__init__(message)
        self.code = code


@dataclass(frozen=True)
class Machine:
    """What was found out about this machine."""

    missing_libraries: tuple[str, ...] = ()
    has_ensurepip: bool = True
    has_pip: bool = False
    has_apt: bool = False
    is_root: bool = False
    has_screen: bool = False


@dataclass(frozen=True)
class Stamp:
    """From what the environment was made; `inputs` is a hash of constraints and pyproject."""

    inputs: str
    root: str
    python: str
    group: str

    def serves(self, wanted: "Stamp") -> bool:
        """Whether an environment made so can be used as it is; the test group includes run."""
        return self == wanted or self == replace(wanted, group="test")

    def same_place(self, wanted: "Stamp") -> bool:
        """Whether it was made in this folder for this Python, so that it can be added to."""
        return (self.root, self.python) == (wanted.root, wanted.python)


# --- the machine -------------------------------------------------------------------------------


def look_at_machine() -> Machine:
    """Find out what is there; changes nothing."""
    linux = sys.platform.startswith("linux")
    importlib.invalidate_caches()
    return Machine(
        missing_libraries=tuple(name for name in QT_LIBRARIES if linux and not _loads(name)),
        has_ensurepip=importlib.util.find_spec("ensurepip") is not None,
        has_pip=_pip_version() >= (22, 3),
        has_apt=linux and shutil.which("apt-get") is not None,
        is_root=hasattr(os, "geteuid") and os.geteuid() == 0,
        has_screen=not linux or bool({"DISPLAY", "WAYLAND_DISPLAY"} & set(os.environ)),
    )


def _pip_version() -> tuple[int, ...]:
    """The version of this Python's own pip as numbers; from 22.3 on it can fill another Python."""
    try:
        version = importlib.metadata.version("pip")
    except importlib.metadata.PackageNotFoundError:
        return ()
    return tuple(int(part) for part in version.split(".")[:2] if part.isdigit())


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def venv_package() -> str:
    """The Debian package that lets the running Python make environments."""
    running = f"python{sys.version_info[0]}.{sys.version_info[1]}"
    system = Path("/usr/bin/python3").resolve().name
    return "python3-venv" if system == running else f"{running}-venv"


def missing_packages(machine: Machine) -> list[str]:
    """The Debian packages that would complete this machine, sorted; the venv package first."""
    packages = sorted(QT_LIBRARIES[name] for name in machine.missing_libraries)
    return packages if machine.has_ensurepip else [venv_package(), *packages]


def completed(machine: Machine) -> Machine:
    """The machine after root's apt has installed what is missing; else the machine as it is."""
    packages = missing_packages(machine)
    if not (packages and machine.is_root and machine.has_apt):
        return machine
    say(f"Installing system packages: {' '.join(packages)}")
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    for command in (["update"], ["install", "-y", "--no-install-recommends", *packages]):
        code, lines = listen(["apt-get", *command], environment)
        if code:
            say("apt-get did not succeed; footexam goes on without it. It said:", *lines[-5:])
            break
    return look_at_machine()


def how_to_install(machine: Machine, packages: list[str]) -> str:
    """What a person can type or ask for to get the packages."""
    if machine.has_apt:
        sudo = "" if machine.is_root else "sudo "
        return f"{sudo}apt-get install {' '.join(packages)}"
    venv = [] if machine.has_ensurepip else ["Python's venv and ensurepip"]
    wanted = ", ".join([*venv, *machine.missing_libraries])
    return f"with this system's own package manager, whatever holds: {wanted}"


def need_environments(machine: Machine) -> None:
    """Raise TroubleError when this Python has no way to make an environment."""
    if machine.has_ensurepip or machine.has_pip:
        return
    what = f" ({venv_package()} is needed, the others are for the window)"
    raise TroubleError(
        "This Python cannot make environments: its venv part is not installed. Nothing was "
        f"changed. Have it installed{what if machine.missing_libraries else ''}, then start this "
        f"again:\n  {how_to_install(machine, missing_packages(machine))}",
        MISSING,
    )


def say_what_the_window_lacks(machine: Machine) -> None:
    """Name the missing system libraries of Qt and the line that installs them."""
    packages = sorted(QT_LIBRARIES[name] for name in machine.missing_libraries)
    say(
        "The window needs system libraries that are not installed here. To have them, run:",
        f"  {how_to_install(machine, packages)}",
    )


# --- the environment ---------------------------------------------------------------------------


class Environment:
    """The folder .venv of a project: its stamp, its repair and what is installed in it.

    `footexam-unfinished` lies in it while packages are written, `footexam-stamp.json` afterwards.
    """

    def __init__(self, root: Path) -> None:
        self.root = root
        self.folder = root / ".venv"
        self.scripts = self.folder / ("Scripts" if os.name == "nt" else "bin")
        self.python = self.scripts / ("python.exe" if os.name == "nt" else "python")
        self.stamp_file = self.folder / "footexam-stamp.json"
        self.unfinished = self.folder / "footexam-unfinished"

    def script(self, name: str) -> str:
        """The path of an installed program."""
        return str(self.scripts / (f"{name}.exe" if os.name == "nt" else name))

    def variables(self) -> dict[str, str]:
        """The variables for what runs in it.

        PYTHONPATH, since Python before 3.13 misreads a path with letters beyond ASCII in the .pth
        file of an editable install on Windows.
        """
        return os.environ | {"PYTHONPATH": str(self.root)}

    def stamp(self) -> Stamp | None:
        """The stamp, or None when there is none that can be read."""
        try:
            return Stamp(**json.loads(self.stamp_file.read_text(encoding="utf-8")))
        except (OSError, ValueError, TypeError):
            return None

    def wanted(self, group: str) -> Stamp:
        """The stamp an environment made now would have."""
        digest = hashlib.sha256()
        for file in ("packaging/constraints.txt", "pyproject.toml"):
            digest.update((self.root / file).read_bytes() + b"\0")
        version = f"{sys.version_info[0]}.{sys.version_info[1]}"
        return Stamp(digest.hexdigest(), str(self.root), version, group)

    def is_ready(self, group: str) -> bool:
        """Whether nothing needs to be done."""
        stamp = self.stamp()
        whole = self.python.exists() and not self.unfinished.exists()
        return whole and stamp is not None and stamp.serves(self.wanted(group))

    def must_start_anew(self, group: str) -> bool:
        """Whether what lies there cannot be added to: half-made, moved, or of another Python."""
        stamp = self.stamp()
        moved = stamp is not None and not stamp.same_place(self.wanted(group))
        return moved or self.unfinished.exists() or not self._has_pip()

    def _has_pip(self) -> bool:
        try:
            return listen([str(self.python), "-m", "pip", "--version"])[0] == 0
        except OSError:
            return False

    def clear(self) -> None:
        """Delete the folder; refuses one that is no Python environment."""
        if not (self.folder.exists() or self.folder.is_symlink()):
            return
        own = self.unfinished.exists() or (self.folder / "pyvenv.cfg").exists()
        empty = self.folder.is_dir() and not any(self.folder.iterdir())
        if self.folder.is_symlink() or not (own or empty):
            raise TroubleError(
                f"{self.folder} is in the way: it is not a Python environment. It was left as it "
                "is. Move it elsewhere and start this again."
            )
        shutil.rmtree(self.folder)


def prepare(environment: Environment, group: str, machine: Machine) -> None:
    """Make or renew the environment where needed; raises TroubleError when it cannot be."""
    if environment.is_ready(group):
        return
    with only_one(environment.root):
        if not environment.is_ready(group):
            _make(environment, group, machine)


def _make(environment: Environment, group: str, machine: Machine) -> None:
    anew = environment.must_start_anew(group)
    if anew:
        need_environments(machine)
        environment.clear()
    say(f"Preparing the environment in {environment.folder} (some minutes the first time).")
    environment.folder.mkdir(exist_ok=True)
    environment.unfinished.touch()
    environment.stamp_file.unlink(missing_ok=True)
    if anew:
        _make_bare(environment, machine)
    _fill(environment, group)
    _write_stamp(environment, environment.wanted(group))
    environment.unfinished.unlink()
    say("The environment is ready.")


def _make_bare(environment: Environment, machine: Machine) -> None:
    """An environment with nothing but pip, made by the Python under any active environment."""
    base: str = getattr(sys, "_base_executable", sys.executable)
    folder = str(environment.folder)
    if machine.has_ensurepip:
        _install(environment, [base, "-m", "venv", folder])
        return
    _install(environment, [base, "-m", "venv", "--without-pip", folder])
    target = ["--python", str(environment.python)]
    _install(environment, [base, "-m", "pip", *target, "install", "pip"])


def _fill(environment: Environment, group: str) -> None:
    """Install the pinned packages, and the checkout itself so that edits count at once."""
    constraints = str(environment.root / "packaging" / "constraints.txt")
    pip = [str(environment.python), "-m", "pip", "install", "--progress-bar", "off"]
    pip += ["--constraint", constraints]
    _install(environment, [*pip, "hatchling", "editables"])
    project = f"{environment.root}[test]" if group == "test" else str(environment.root)
    _install(environment, [*pip, "--no-build-isolation", "--editable", project])


def _install(environment: Environment, command: list[str]) -> None:
    """Run one step of the making; raises TroubleError with the reason in words."""
    quiet = {"PIP_NO_INPUT": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
    quiet |= {"PIP_ROOT_USER_ACTION": "ignore", "PIP_USER": "0", "PYTHONIOENCODING": "utf-8"}
    code, lines = listen(command, os.environ | quiet, show=_show_progress)
    if code == 0:
        return
    kind = kind_of_trouble("\n".join(lines))
    if kind == "other" and shutil.disk_usage(environment.folder).free < SPARE_BYTES:
        kind = "disk"  # venv does not say why its own steps failed
    if kind == "network":
        # pip fetches everything before it writes: what is there is whole and can be added to
        environment.unfinished.unlink(missing_ok=True)
    if kind == "other":
        say(*lines[-15:])
    raise trouble(kind, f"{Path(command[0]).name} ended with {code}", environment)


def _show_progress(line: str) -> None:
    """Show pip's longer steps: each package fetched, and the writing of all."""
    word, _, rest = line.strip().partition(" ")
    if word == "Downloading":
        say(f"  fetching {' '.join(rest.split('-')[:2])}")
    elif word == "Installing":
        say("  installing")


def _write_stamp(environment: Environment, stamp: Stamp) -> None:
    draft = environment.stamp_file.with_suffix(".new")
    draft.write_text(json.dumps(stamp.__dict__, indent=1) + "\n", encoding="utf-8")
    draft.replace(environment.stamp_file)


def kind_of_trouble(text: str) -> str:
    """Which kind of trouble a program's output tells of: disk, folder, network or other."""
    for kind, signs in SIGNS.items():
        if any(sign in text for sign in signs):
            return kind
    return "other"


def trouble(reason: str | int | None, where: str, environment: Environment) -> TroubleError:
    """The error to raise for a kind of trouble or an errno."""
    kind = reason if isinstance(reason, str) else ERRNO_KINDS.get(reason or 0, "other")
    place = where if kind == "other" else str(environment.folder)
    return TroubleError(
        f"{SENTENCES[kind].format(where=place)}, then start this again. "
        "Nothing outside the project's .venv was changed; the next start repairs what is half-made."
    )


@contextmanager
def only_one(root: Path) -> Iterator[None]:
    """Hold the project's lock; raises TroubleError when another start is preparing it."""
    with (root / "pyproject.toml").open("rb") as file:
        try:
            _lock(file.fileno())
        except BlockingIOError:
            raise TroubleError(
                "Another start is preparing the environment right now. Nothing was changed. Wait "
                "until it is done, then start this again."
            ) from None
        yield


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> None:
        """Lock one byte far behind the end, so that pip can still read the file."""
        os.lseek(handle, 1 << 30, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except PermissionError as error:
            raise BlockingIOError from error

else:
    import fcntl

    def _lock(handle: int) -> None:
        """Lock the file until it is closed; a file system without locks does without."""
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise
        except OSError:
            return


# --- programs ----------------------------------------------------------------------------------


def say(*lines: str) -> None:
    """Print lines at once, in order with what the programs print."""
    print(*lines, sep="\n", flush=True)


def listen(
    command: list[str],
    variables: dict[str, str] | None = None,
    show: Callable[[str], None] | None = None,
) -> tuple[int, list[str]]:
    """Run a program; its exit code and the lines it printed, each shown through `show`."""
    lines = []
    with subprocess.Popen(
        command,
        env=variables,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    ) as program:
        for line in program.stdout or ():
            lines.append(line.rstrip())
            if show:
                show(line)
    return program.returncode, lines


def call(environment: Environment, command: list[str], variables: dict[str, str]) -> int:
    """Run a program that speaks for itself, in the project folder; its exit code."""
    return subprocess.run(command, cwd=environment.root, env=variables, check=False).returncode


# --- run ---------------------------------------------------------------------------------------


def why_no_window(machine: Machine) -> str | None:
    """The sentence that says why no window opens, or None when one can."""
    if machine.missing_libraries:
        return "The window cannot open: system libraries are missing"
    return None if machine.has_screen else "There is no screen here"


def run(environment: Environment, machine: Machine) -> int:
    """Make the environment and the demo; without a window say so. The demo's exit code."""
    machine = completed(machine)
    prepare(environment, "run", machine)
    if machine.missing_libraries:
        say_what_the_window_lacks(machine)
    reason = why_no_window(machine)
    command = [environment.script("footexam"), "demo"]
    if reason:
        say(f"{reason}; the demo documents are written instead.")
        command.append("--no-window")
    return call(environment, command, environment.variables())


# --- test --------------------------------------------------------------------------------------


def checks(environment: Environment, *, with_desktop: bool) -> dict[str, list[str]]:
    """The commands of `test` by name, in the order they run."""
    python = str(environment.python)
    # pytest-qt imports Qt at once, which fails without the system libraries
    left_out = [] if with_desktop else ["-p", "no:pytest-qt", "--ignore=tests/desktop"]
    return {
        "tests": [python, "-m", "pytest", "-n", "auto", "--dist", "worksteal", *left_out],
        "ruff check": [environment.script("ruff"), "check", "."],
        "ruff format": [environment.script("ruff"), "format", "--check", "."],
        "mypy": [environment.script("mypy")],
        "imports": [environment.script("lint-imports")],
    }


def outcome(codes: dict[str, int], *, with_desktop: bool) -> int:
    """The exit code for the exit codes of the checks; a failed check counts before all else."""
    if any(codes.values()):
        return CHECK_FAILED
    return DONE if with_desktop else WITHOUT_DESKTOP


def summary(codes: dict[str, int], *, with_desktop: bool) -> list[str]:
    """The closing lines: one for each check, and what was left out."""
    lines = ["", "Summary"]
    lines += [f"  {name:<12} {'FAILED' if code else 'passed'}" for name, code in codes.items()]
    if not with_desktop:
        lines.append("  tests/desktop was left out: system libraries of Qt are missing (see above)")
    return lines


def test(environment: Environment, machine: Machine) -> int:
    """Make the environment and run every check, whatever fails before it; the exit code."""
    machine = completed(machine)
    with_desktop = not machine.missing_libraries
    prepare(environment, "test", machine)
    if not with_desktop:
        say_what_the_window_lacks(machine)
        say("The tests run without tests/desktop.")
    codes = {}
    for name, command in checks(environment, with_desktop=with_desktop).items():
        say("", f"== {name} ==")
        codes[name] = call(environment, command, environment.variables())
    say(*summary(codes, with_desktop=with_desktop))
    return outcome(codes, with_desktop=with_desktop)


def main(arguments: list[str] | None = None) -> int:
    """Do what the command line asks for; the exit code."""
    parser = argparse.ArgumentParser(
        prog="bootstrap.py", description=(__doc__ or "").split("\n")[0]
    )
    parser.add_argument("command", choices=["run", "test"], help="open the demo, or run the checks")
    command = {"run": run, "test": test}[parser.parse_args(arguments).command]
    environment = Environment(ROOT)
    try:
        return command(environment, look_at_machine())
    except TroubleError as error:
        print(error, file=sys.stderr)
        return error.code
    except OSError as error:
        print(trouble(error.errno, str(error), environment), file=sys.stderr)
        return NO_ENVIRONMENT
    except KeyboardInterrupt:
        print("Stopped. The next start repairs what is half-made.", file=sys.stderr)
        return STOPPED


if __name__ == "__main__":
    sys.stdout.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    sys.stderr.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    sys.exit(main())
