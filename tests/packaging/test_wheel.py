"""What a wheel holds: the package with forms/ and assets/ inside, and nothing of the workshop."""

import zipfile
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def names(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """The names of the files in a wheel built from this checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    (wheel,) = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def test_every_form_and_font_is_in_the_package(names: set[str]) -> None:
    wanted = {
        f"footexam/{file.relative_to(ROOT).as_posix()}"
        for folder in ("forms", "assets")
        for file in (ROOT / folder).rglob("*")
        if file.suffix in {".toml", ".ttf", ".txt"}
    }
    assert len(wanted) > 10
    assert wanted <= names


def test_the_licences_go_along(names: set[str]) -> None:
    licences = {name.split("/licenses/")[1] for name in names if "/licenses/" in name}
    assert "LICENSE" in licences
    assert "assets/fonts/NotoSans-OFL.txt" in licences


def test_nothing_else_goes_along(names: set[str]) -> None:
    assert {name.split("/")[0].split("-")[0] for name in names} == {"footexam"}
