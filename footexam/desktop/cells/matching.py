"""What the letters typed so far can mean: places of the foot map, and words of a list."""

from collections.abc import Iterable, Sequence

from footexam.catalogue.model import Region, say

Choice = tuple[str, str]
"""A value and how it is shown."""


def match_places(text: str, regions: Iterable[Region], language: str = "en") -> list[str]:
    """Ids of the places whose words begin with the words typed, in any order; map order.

    "heel me" finds the medial plantar heel. The words of the id count too ("met 2"), after the
    places found by their name. Empty text finds every place.
    """
    typed = text.casefold().split()
    by_name, by_id = [], []
    for region in regions:
        if _fits(typed, say(region.label, language).casefold().split()):
            by_name.append(region.id)
        elif _fits(typed, region.id.split("-")):
            by_id.append(region.id)
    return by_name + by_id


def _fits(typed: Sequence[str], words: Sequence[str]) -> bool:
    """Whether each typed word begins a word of its own."""
    left = list(words)
    for part in sorted(typed, key=len, reverse=True):
        found = next((word for word in left if word.startswith(part)), None)
        if found is None:
            return False
        left.remove(found)
    return True


def complete(text: str, choices: Sequence[Choice]) -> str:
    """The value that the letters mean: a word as shown, or the only one they begin; else the text.

    What is not understood stays as typed, so that it is refused aloud and not changed silently.
    """
    typed = " ".join(text.casefold().split())
    if not typed:
        return ""
    exact = [value for value, shown in choices if typed in {value, shown.casefold()}]
    begun = [value for value, shown in choices if shown.casefold().startswith(typed)]
    found = exact or begun
    return found[0] if len(found) == 1 else text
