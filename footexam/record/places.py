"""Places of the foot map: lists of regions, a yes with its sites, a number for each region."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from footexam.catalogue.model import Catalogue, Measure
from footexam.record.numbers import at_region
from footexam.record.refusal import Refusal, Typed, as_typed, fold, shape

_ANSWERS = frozenset({"yes", "no"})


def yes_or_no(typed: Typed) -> str:
    """The answer "yes" or "no". Raises Refusal."""
    if not isinstance(typed, str) or fold(typed) not in _ANSWERS:
        raise Refusal("not-yes-no", what=as_typed(typed))
    return fold(typed)


def regions(typed: Typed, catalogue: Catalogue) -> tuple[str, ...]:
    """Region ids in map order. Raises Refusal."""
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what=shape(typed), words="a list of places of the foot map")
    if not typed:
        raise Refusal("list-empty")
    for item in typed:
        if not isinstance(item, str) or item not in catalogue.regions:
            raise Refusal("unknown-region", what=as_typed(item))
    given = set(typed)
    return tuple(region for region in catalogue.regions if region in given)


def sites(typed: Typed, catalogue: Catalogue) -> tuple[str, tuple[str, ...]]:
    """An answer and its sites in map order; a no has none. Raises Refusal."""
    if not isinstance(typed, Mapping):
        return yes_or_no(typed), ()
    unknown = typed.keys() - {"answer", "sites"}
    if unknown:
        raise Refusal("unknown-key", what=min(unknown))
    if "answer" not in typed:
        raise Refusal("no-answer")
    answer = yes_or_no(typed["answer"])
    places = regions(typed["sites"], catalogue) if "sites" in typed else ()
    if answer == "no" and places:
        raise Refusal("wrong-shape", what="sites beside a no", words="yes with its sites, or no")
    return answer, places


def region_values(typed: Typed, measure: Measure, catalogue: Catalogue) -> Mapping[str, Decimal]:
    """A number for each region given, in map order. Raises Refusal."""
    if not isinstance(typed, Mapping):
        raise Refusal("wrong-shape", what=shape(typed), words="an object of places and numbers")
    return {region: at_region(typed[region], measure) for region in regions([*typed], catalogue)}
