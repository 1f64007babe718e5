"""The words of the cells in one place, by language."""

TEXTS: dict[str, str] = {
    "place-hint": "Type a place; Space shows the map",
    "place-more": "Another place, or Enter to go on",
    "number-for": "{range} for {place}",
    "range": "{low} to {high}",
    "no-place-fits": "No place is called so. Try its first letters, as in: heel me",
    "place-first": "First the place, then its number.",
    "is-chosen": "chosen",
    "not-chosen": "not chosen",
    "is-nothing": "looked at, nothing",
    "no-number": "no number yet",
    "foot": "{side} foot",
    "find-place": "{name}: find a place",
    "places-of": "{name}: places",
    "map-of": "{name}: map",
    "keys-choose": (
        "Type the first letters of a place, arrows move in the list, Enter adds or removes, "
        "Escape folds the map."
    ),
    "keys-number": (
        "Type the first letters of a place and Enter, then its number and Enter. Delete removes "
        "the number; Escape folds the map."
    ),
    "none-chosen": "No place chosen.",
    "yes-no-site": "Without its place this yes counts as the most serious: mark where.",
    "where": "{name}: where",
    "none-known": "None known",
    "none-known-keys": "n: none known. Enter goes on to the lines.",
    "field": "{name}, line {line}, {column}",
    "date": "YYYY-MM-DD",
    "date-takes": "A date as YYYY-MM-DD; YYYY-MM or YYYY where no more is known.",
    "week": "YYYY-MM-DD",
    "week-takes": "The Monday of the week as YYYY-MM-DD.",
    "number-takes": "A number from {range}.",
    "words-take": "One of: {words}. The first letters are enough.",
    "region-takes": "A place of the foot map by its first letters.",
    "text-takes": "Free text.",
    "fitting": "Enter takes the first: {places}",
    "table-keys": "Enter goes on, at the end to a new line. Ctrl+Delete removes a line.",
    "activity": "Activity",
    "score": "Score",
    "yes": "yes",
    "no": "no",
    "left": "left",
    "right": "right",
    "both": "both",
}
"""English; another language is another table with the same keys."""


def tell(text: str, /, **values: object) -> str:
    """A text with its values put in."""
    return TEXTS[text].format(**values)
