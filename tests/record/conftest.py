"""The forms as shipped, read once."""

import pytest

from footexam.catalogue.model import Catalogue
from tests.shipped import shipped


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return shipped()
