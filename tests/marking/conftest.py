"""What every test of marking has: the catalogue as shipped."""

import pytest

from footexam.catalogue.model import Catalogue
from tests.shipped import shipped


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return shipped()
