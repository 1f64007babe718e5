"""What bootstrap.py finds on a machine and does about what is missing, as root and as a user."""

import ast
import struct
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

SCRIPT = Path(__file__).resolve().parents[2] / "packaging" / "bootstrap.py"


def test_root_has_apt_install_what_is_missing(
    bootstrap: ModuleType, programs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = bootstrap.Machine(has_apt=True, is_root=True)
    monkeypatch.setattr(bootstrap, "look_at_machine", lambda: whole)
    machine = bootstrap.Machine(
        ("libEGL.so.1", "libxcb-cursor.so.0"), has_ensurepip=False, has_apt=True, is_root=True
    )
    assert bootstrap.completed(machine) is whole
    update, install = programs.started
    assert update == ["apt-get", "update"]
    assert install[:4] == ["apt-get", "install", "-y", "--no-install-recommends"]
    assert install[4:] == [bootstrap.venv_package(), "libegl1", "libxcb-cursor0"]


def test_root_goes_on_when_apt_does_not_succeed(
    bootstrap: ModuleType,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    machine = bootstrap.Machine(("libEGL.so.1",), has_apt=True, is_root=True)
    monkeypatch.setattr(bootstrap, "look_at_machine", lambda: machine)
    programs.answers = [("update", 100, ["E: Could not resolve the mirror"])]
    assert bootstrap.completed(machine) == machine
    assert programs.with_word("install") == []
    assert "E: Could not resolve the mirror" in capsys.readouterr().out


@pytest.mark.parametrize(
    "machine",
    [
        {"missing_libraries": ("libEGL.so.1",), "has_apt": True, "is_root": False},
        {"missing_libraries": ("libEGL.so.1",), "has_apt": False, "is_root": True},
        {"missing_libraries": (), "has_apt": True, "is_root": True},
    ],
    ids=["a user", "no apt", "nothing missing"],
)
def test_otherwise_nothing_is_installed(
    bootstrap: ModuleType, programs: Any, machine: dict[str, Any]
) -> None:
    before = bootstrap.Machine(**machine)
    assert bootstrap.completed(before) is before
    assert programs.started == []


def test_a_user_is_shown_the_apt_line(
    bootstrap: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    bootstrap.say_what_the_window_lacks(
        bootstrap.Machine(("libxkbcommon.so.0", "libGL.so.1"), has_apt=True)
    )
    assert "\n  sudo apt-get install libgl1 libxkbcommon0\n" in capsys.readouterr().out


def test_without_apt_the_libraries_themselves_are_named(
    bootstrap: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    bootstrap.say_what_the_window_lacks(bootstrap.Machine(("libGL.so.1",)))
    said = capsys.readouterr().out
    assert "libGL.so.1" in said
    assert "apt" not in said


def test_the_venv_package_is_that_of_the_running_python(bootstrap: ModuleType) -> None:
    running = f"python3.{sys.version_info[1]}"
    system = Path("/usr/bin/python3").resolve().name
    assert bootstrap.venv_package() == ("python3-venv" if system == running else f"{running}-venv")


@pytest.mark.parametrize(
    ("version", "enough"), [("23.0.1", True), ("22.3", True), ("22.2.2", False), ("9.0", False)]
)
def test_only_a_pip_that_can_fill_another_python_counts(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch, version: str, *, enough: bool
) -> None:
    monkeypatch.setattr(bootstrap.importlib.metadata, "version", lambda _name: version)
    assert bootstrap.look_at_machine().has_pip is enough


def test_a_screen_is_known_by_its_variables(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert not bootstrap.look_at_machine().has_screen
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert bootstrap.look_at_machine().has_screen


def test_a_library_that_is_not_there_is_found_missing(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setitem(bootstrap.QT_LIBRARIES, "libfootexam-not-there.so.9", "libnot-there9")
    machine = bootstrap.look_at_machine()
    assert "libfootexam-not-there.so.9" in machine.missing_libraries
    assert "libnot-there9" in bootstrap.missing_packages(machine)


# --- an older Python ---


def test_an_older_python_is_told_so_in_one_sentence() -> None:
    older = (
        "import runpy, sys; sys.version_info = (3, 10, 4, 'final', 0); "
        "sys.version = '3.10.4 (main)'; runpy.run_path(sys.argv[1], run_name='__main__')"
    )
    done = subprocess.run(
        [sys.executable, "-c", older, str(SCRIPT)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 3
    assert done.stdout == ""
    assert done.stderr.startswith("footexam needs Python 3.11 or newer; this is Python 3.10.4. ")
    assert done.stderr.count("\n") == 1


def test_an_older_python_can_read_the_file_at_all() -> None:
    ast.parse(SCRIPT.read_text(encoding="utf-8"), feature_version=(3, 7))


# --- the list of Qt's system libraries ---

USED = (
    "lib/libQt6Core.so.6",
    "lib/libQt6DBus.so.6",
    "lib/libQt6Gui.so.6",
    "lib/libQt6Network.so.6",
    "lib/libQt6PrintSupport.so.6",
    "lib/libQt6Svg.so.6",
    "lib/libQt6Widgets.so.6",
    "lib/libQt6XcbQpa.so.6",
    "plugins/platforms/libqxcb.so",
    "plugins/platforms/libqoffscreen.so",
    "plugins/xcbglintegrations/libqxcb-glx-integration.so",
    "plugins/xcbglintegrations/libqxcb-egl-integration.so",
    "plugins/imageformats/libqsvg.so",
    "plugins/iconengines/libqsvgicon.so",
)
# on every Linux that runs Python, or from the same Debian package as another of the list
GIVEN = ("ld-linux", "libc.", "libm.", "libdl.", "libpthread.", "librt.", "libresolv.", "libz.")
GIVEN += ("libgcc_s.", "libstdc++.", "libgthread-2.0.", "libbrotlicommon.")


def needed(library: Path) -> set[str]:
    """The names of the libraries that a 64-bit little-endian ELF file asks for (DT_NEEDED)."""
    data = library.read_bytes()
    assert data[:6] == b"\x7fELF\x02\x01"
    (table,) = struct.unpack_from("<Q", data, 32)
    size, count = struct.unpack_from("<HH", data, 54)
    segments = [struct.unpack_from("<II6Q", data, table + size * i) for i in range(count)]
    loaded = [(s[3], s[2], s[5]) for s in segments if s[0] == 1]  # address, offset, size
    (dynamic,) = [(s[2], s[5]) for s in segments if s[0] == 2]
    entries = list(struct.iter_unpack("<qQ", data[dynamic[0] : dynamic[0] + dynamic[1]]))
    (strings,) = [value for tag, value in entries if tag == 5]
    (base,) = [off + strings - at for at, off, length in loaded if at <= strings < at + length]
    starts = [base + value for tag, value in entries if tag == 1]
    return {data[start : data.index(b"\0", start)].decode() for start in starts}


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux needs the list")
def test_the_list_holds_what_qt_asks_for_and_nothing_else(bootstrap: ModuleType) -> None:
    spec = find_spec("PySide6")
    assert spec is not None
    assert spec.origin is not None
    qt = Path(spec.origin).parent / "Qt"
    brought = {file.name for file in (qt / "lib").iterdir()}
    asked = set().union(*(needed(qt / name) for name in USED)) - brought
    assert {name for name in asked if not name.startswith(GIVEN)} == set(bootstrap.QT_LIBRARIES)
