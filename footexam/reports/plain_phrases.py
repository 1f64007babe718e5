"""The sentences of the patient's copy: short words, short sentences."""

from collections.abc import Mapping

from footexam.catalogue.model import Texts, say

_ENGLISH: Mapping[str, str] = {
    "title": "Your feet: what we found",
    "for-you": (
        "This is your copy of what was found. It is for you to keep. It does not name an illness. "
        "Show it to the people who care for you if you like."
    ),
    "seen": "Seen on {day} by {who}.",
    "why": "Why you came",
    "where": "Where it hurts",
    "since": "Since",
    "since-told": "How long: {time}.",
    "danger": "Danger signs",
    "danger-none": "We asked {asked} questions about danger signs. No answer was yes.",
    "danger-not-asked": "We did not ask about danger signs at this visit.",
    "danger-yes": (
        "We asked about danger signs. These were answered yes. Be sure that you know what comes "
        "next. If you do not know, ask today."
    ),
    "soon-emergency": "This needs help at once.",
    "soon-same-day": "This needs to be looked at today.",
    "soon-within-days": "This needs to be looked at in the next few days.",
    "soon-suspected-cancer-pathway": "This needs to be looked at in the next few days.",
    "soon-routine-referral": "Someone else needs to look at this in the weeks to come.",
    "seen-to-acted": "{who} acted on this on {day}.",
    "seen-to-excluded": "{who} looked into this on {day} and ruled the danger out.",
    "seen-to-transferred": "{who} has sent you on because of this ({day}).",
    "danger-found": "Some of what we found may need care soon.",
    "danger-next": "Be sure that you know what comes next. If you do not know, ask today.",
    "danger-one": "1 of {all} questions has no full answer yet.",
    "danger-some": "{missing} of {all} questions have no full answer yet.",
    "different": "What was not as usual",
    "different-none": "Nothing that we could compare was far from what is usual.",
    "measured": "We found {value}. Usual is {usual}.",
    "found-word": "{measure}: {word}.",
    "found-value": "{measure}: {value}. This is not as usual.",
    "clear": "This was clear.",
    "not-exact": "How exact some of these tests are is not known.",
    "close": "This was close to the line.",
    "too-close": "Too close to be sure",
    "too-close-told": "{what}. This would have to be looked at again.",
    "many-are-well": (
        "Many people whose feet are like this have no pain at all. What it means for you is a "
        "question for the person who saw you."
    ),
    "usual": "What was as usual",
    "changed": "What has changed since your last visit",
    "changed-told": "{measure}: {before} then, {now} now.",
    "changed-none": "Nothing has changed by more than measuring can tell.",
    "changed-others": "The other things we measured twice are much the same.",
    "not-done": "What was not done",
    "declined": "You chose not to have this",
    "could-not-be-tested": "This could not be done",
    "not-done-safety": "We left this out to keep you safe",
    "not-examined": "We did not look at this",
    "words": "What the words mean",
    "words-told": (
        "“Usual” is what others have found in healthy people, or what those who look after feet "
        "go by. Not to be usual is not to be ill. No two measures are ever quite the same. So a "
        "small change may mean nothing. Left and right are your own left and right."
    ),
    "ask": "Whom to ask",
    "ask-told": "Ask {who} if there is something here that you do not understand.",
    "ask-line": "Phone, and best time to call",
    "help": (
        "Get help the same day if a foot turns cold, white, blue or black. Do so if a foot is hot "
        "and swollen, if red skin spreads, or if you find a new wound. Do so if you cannot stand "
        "on the leg, if the calf swells and hurts, or if a part turns numb or weak. If you have "
        "pain in the chest or cannot breathe well, call for an ambulance at once. If you were "
        "told something else, do as you were told."
    ),
    "more": "{what} and {count} more",
    "in-error": "This was entered by mistake. Do not use it.",
    "draft": ("This copy is a draft. It has not been signed, and it may still change."),
    "left": "Left",
    "right": "Right",
    "both": "Both sides",
    "whole-person": "You",
    "left-word": "left",
    "right-word": "right",
    "sided": "{measure} ({side})",
    # the leaflet
    "leaflet-title": "Your plan",
    "foot-left": "the left foot",
    "foot-right": "the right foot",
    "foot-both": "both feet",
    "soon-unknown": "Someone needs to look at it.",
    "gets-foot": "For {foot}: {what}.",
    "aim-all": "It should {what}.",
    "aim-foot": "For {foot}, it should {what}.",
    "and": "{before}; and {last}",
    "thing-sized": "{thing} ({size})",
    "days": "{count} days",
    "advice-cut": "{what} … Ask for the rest.",
    "leaflet-practice": "what people who look after feet go by",
    "leaflet-sources": "Where the numbers are from: {what}.",
}

PLAIN_PHRASES: Mapping[str, Texts] = {key: {"en": text} for key, text in _ENGLISH.items()}


def plain_phrase(key: str, language: str, **parts: object) -> str:
    """The sentence of a key with its parts; raises KeyError for an unknown key."""
    text = say(PLAIN_PHRASES[key], language)
    return text.format_map(parts) if parts else text
