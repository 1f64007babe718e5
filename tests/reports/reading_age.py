"""How hard a text is to read: the grade of Flesch and Kincaid (Kincaid et al. 1975)."""

import re

_VOWELS = re.compile(r"[aeiouy]+")


def syllables(word: str) -> int:
    """Groups of vowels, without a silent e at the end; at least one."""
    bare = word.lower()
    count = len(_VOWELS.findall(bare))
    if bare.endswith("e") and not bare.endswith(("le", "ee")) and count > 1:
        count -= 1
    if bare.endswith("ed") and not bare.endswith(("ted", "ded")) and count > 1:
        count -= 1
    return max(1, count)


def grade(text: str) -> float:
    """0.39 words a sentence + 11.8 syllables a word - 15.59; a school year, age about 5 more."""
    sentences = [part for part in re.split(r"[.!?:;\n]+", text) if re.search("[A-Za-z]", part)]
    words = re.findall(r"[A-Za-z’]+", text)
    spoken = sum(map(syllables, words))
    return 0.39 * len(words) / len(sentences) + 11.8 * spoken / len(words) - 15.59
