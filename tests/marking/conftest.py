"""What every test of marking has: the catalogue as shipped."""

import pytest

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.model import Catalogue


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()
