"""Where forms/ and assets/ lie: inside the package (a wheel) or beside it (a checkout)."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def forms_dir() -> Path:
    """The folder of the forms: panels, norms, sources, words.

    Raises FileNotFoundError when the program was copied without it.
    """
    return _find("forms", _PACKAGE)


def assets_dir() -> Path:
    """The folder of fonts and drawings.

    Raises FileNotFoundError when the program was copied without it.
    """
    return _find("assets", _PACKAGE)


def _find(name: str, package: Path) -> Path:
    """The folder name inside the package, else beside it."""
    for place in (package / name, package.parent / name):
        if place.is_dir():
            return place
    raise FileNotFoundError(
        f"The folder {name} is missing: it lies neither in {package} nor beside it. "
        "Your records are safe. Install footexam again, or copy the whole project folder."
    )
