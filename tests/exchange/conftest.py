"""The forms as shipped, read once."""

import pytest

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.model import Catalogue


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()
