"""The shipped forms, read once for all tests of a run: nothing in them changes."""

from functools import cache

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.model import Catalogue


@cache
def shipped() -> Catalogue:
    """The catalogue of forms/."""
    return load_catalogue()
