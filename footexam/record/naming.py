"""How a person's name is listed: family name in capitals where that keeps its spelling."""

_NOT_IN_CAPITALS = frozenset("ığşİĞŞ")
"""Letters of languages in which the capital of i is not I: such names stay as typed."""


def listed_name(family: str, given: str = "", title: str = "") -> str:
    """FAMILY, Given (Title); what is missing is left out. Empty if there is no name at all."""
    name = ", ".join(filter(None, (_capitals(family), given)))
    return f"{name} ({title})" if name and title else name


def _capitals(name: str) -> str:
    """The name in capitals, or as it is where capitals would change its letters (ß, ı)."""
    upper = name.upper()
    kept = len(upper) == len(name) and upper.casefold() == name.casefold()
    return upper if kept and not _NOT_IN_CAPITALS & set(name) else name
