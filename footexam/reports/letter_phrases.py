"""The fixed words of letters and review plans; what a letter says stands in forms/letters."""

from collections.abc import Mapping

from footexam.catalogue.model import Texts, say

_ENGLISH: Mapping[str, str] = {
    "referral": "Referral letter",
    "dated": "{day}. {who}.",
    "under": "Supervisor: {name}.",
    "to-write": "………………… (write in whom)",
    "born-age": "{born} ({age})",
    "listed-more": "{what}; and {count} more in the examination report",
    "listed-none": "{count}, named in the examination report",
    "cut": "{what} … (whole in the examination report)",
    "named-side": "{name}, {side}",
    "caution": "{name}. {tier}. {action}",
    "caution-plain": "{name}.",
    "rests": "Rests on: {what}.",
    "decided": "{what}.",
    "undecided": "Done: nothing recorded.",
    "undecided-all": "Nothing is recorded yet of what was done about any of these.",
    "outside-words": "Outside the usual {cites}: {what}.",
    "left-out": "{count} more lie outside the usual: see the examination report.",
    "asked": "{asked} of {all} asked",
    "for": "For: {what}.",
    "against": "Against: {what}.",
    "no-against": "Against: nothing recorded speaks against it.",
    "but": "Also to be weighed: {counter}",
    "not-open": "Accepted by the examiner; the readings do not open it.",
    "retired": "Accepted by the examiner; no longer in the forms.",
    "side-says": "{side}: {what}",
    "absent-as": "{how}: {what}.",
    "change": "{name}: {before} before, {now} now",
    "sized": "{name}, {size}",
    "letter-sources": "Sources of what is usual: {what}.",
    "stale": (
        "Not to be sent yet: the record has changed since these texts were written: {what}. Read "
        "them again."
    ),
    "edit-unknown": "“{id}” is not a block of this document, which has {ids}",
    # the review plan
    "review-plan": "Review plan",
    "outcome": "Outcome",
    "now-left": "Left now",
    "now-right": "Right now",
    "whole-now": "{what} now, no side",
    "counts": "Counts as real from",
    "better-head": "Better is",
    "better-less": "less",
    "better-more": "more",
    "counts-unknown": "not known",
    "counts-note": (
        "A change counts as real from there on if one examiner measures both times as now (95 %); "
        "whether it matters to the patient is another question."
    ),
    "activities-mean": "Mean of the activities named",
    "outcomes-none": (
        "No outcome was recorded by which the plan could be judged: score pain or function before "
        "it begins."
    ),
}

LETTER_PHRASES: Mapping[str, Texts] = {key: {"en": text} for key, text in _ENGLISH.items()}


def letter_phrase(key: str, language: str, **parts: object) -> str:
    """The words of a key with their parts; raises KeyError for an unknown key."""
    text = say(LETTER_PHRASES[key], language)
    return text.format_map(parts) if parts else text
