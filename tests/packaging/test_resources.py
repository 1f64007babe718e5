"""Where the program looks for forms/ and assets/, in a checkout and in a wheel."""

from pathlib import Path

import pytest

from footexam import resources

ROOT = Path(__file__).resolve().parents[2]


def test_in_a_checkout_the_folders_lie_beside_the_package() -> None:
    assert resources.forms_dir() == ROOT / "forms"
    assert resources.assets_dir() == ROOT / "assets"


def test_inside_the_package_comes_first(tmp_path: Path) -> None:
    package = tmp_path / "footexam"
    (package / "forms").mkdir(parents=True)
    (tmp_path / "forms").mkdir()
    assert resources._find("forms", package) == package / "forms"


def test_a_program_without_its_folders_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match=r"forms is missing.*records are safe.*Install"):
        resources._find("forms", tmp_path / "footexam")
