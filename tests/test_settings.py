"""Where the user's folders lie on each system."""

from pathlib import Path

import pytest

from footexam.settings import cache_dir, data_dir

HOME = {"HOME": "/home/ann"}


@pytest.mark.parametrize(
    ("environment", "platform", "data", "cache"),
    [
        (HOME, "linux", "/home/ann/.local/share/footexam", "/home/ann/.cache/footexam"),
        (
            {**HOME, "XDG_DATA_HOME": "/d", "XDG_CACHE_HOME": "/c"},
            "linux",
            "/d/footexam",
            "/c/footexam",
        ),
        # a relative XDG folder is to be ignored (XDG base directory specification)
        (
            {**HOME, "XDG_DATA_HOME": "d", "XDG_CACHE_HOME": ""},
            "freebsd14",
            "/home/ann/.local/share/footexam",
            "/home/ann/.cache/footexam",
        ),
        (
            HOME,
            "darwin",
            "/home/ann/Library/Application Support/footexam",
            "/home/ann/Library/Caches/footexam",
        ),
        ({"LOCALAPPDATA": "/local"}, "win32", "/local/footexam", "/local/footexam/Cache"),
        (
            {"USERPROFILE": "/Users/ann"},
            "win32",
            "/Users/ann/AppData/Local/footexam",
            "/Users/ann/AppData/Local/footexam/Cache",
        ),
        ({**HOME, "FOOTEXAM_HOME": "/stick"}, "linux", "/stick/data", "/stick/cache"),
        ({"FOOTEXAM_HOME": "/stick"}, "win32", "/stick/data", "/stick/cache"),
    ],
)
def test_folders(environment: dict[str, str], platform: str, data: str, cache: str) -> None:
    assert data_dir(environment, platform) == Path(data)
    assert cache_dir(environment, platform) == Path(cache)


def test_without_a_home_in_the_environment() -> None:
    assert data_dir({}, "linux") == Path.home() / ".local/share/footexam"


def test_the_environment_is_read_at_the_call(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("FOOTEXAM_HOME", str(tmp_path))
    assert data_dir() == tmp_path / "data"
    assert cache_dir() == tmp_path / "cache"
    assert not data_dir().exists()
