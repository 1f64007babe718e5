"""What measures are called, and what a reading outside the usual says, in words for patients."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Plain:
    """A measure in plain words: its name, and a sentence for a reading below and above the usual.

    A measure answered by a word has one sentence, `above`, for whatever unusual word was found.
    """

    name: str
    below: str = ""
    above: str = ""


def _moves(what: str) -> Plain:
    return Plain(what, f"{what}: less than usual.", f"{what}: more than usual.")


_TENDER = {
    "plantar-fascia-tender": "under the heel",
    "navicular-tender": "on the bone at the inner side of the arch",
    "fifth-base-tender": "on the bone at the outer side of the foot",
    "achilles-tender-midportion": "on the middle of the heel cord",
    "achilles-tender-insertion": "on the back of the heel, where the heel cord ends",
    "tibialis-posterior-tender": "behind the inner ankle",
    "peroneal-tender": "behind the outer ankle",
    "sinus-tarsi-tender": "in front of the outer ankle",
    "sesamoid-tenderness": "under the big toe joint",
    "calcaneal-squeeze": "on the sides of the heel",
    "forefoot-squeeze": "on the sides of the front of the foot",
}

_STRENGTH = {
    "strength-plantarflexion": "pushes the foot down",
    "strength-dorsiflexion": "pulls the foot up",
    "strength-inversion": "turns the foot in",
    "strength-eversion": "turns the foot out",
    "strength-hallux-flexion": "bends the big toe down",
    "strength-toe-flexion": "bends the small toes down",
    "strength-knee-extension": "makes the knee straight",
    "strength-hip-abduction": "lifts the leg out to the side",
}

_TOUCH = {
    "monofilament-hallux": "the big toe",
    "monofilament-met-head-1": "the ball of the foot, inner side",
    "monofilament-met-head-5": "the ball of the foot, outer side",
}

_ENGLISH: Mapping[str, Plain] = {
    **{
        measure: Plain(f"Pressing {place}", above=f"Pressing {place} hurt.")
        for measure, place in _TENDER.items()
    },
    **{
        measure: Plain(f"The force that {what}", f"The force that {what} was less than full.")
        for measure, what in _STRENGTH.items()
    },
    **{
        measure: Plain(
            f"Feeling a light touch at {place}", f"A light touch at {place} was not felt each time."
        )
        for measure, place in _TOUCH.items()
    },
    "ankle-dorsiflexion-knee-straight": Plain(
        "How far the ankle bends up, knee straight",
        "The ankle bends up less than usual, with the knee straight.",
        "The ankle bends up more than usual, with the knee straight.",
    ),
    "ankle-dorsiflexion-knee-bent": Plain(
        "How far the ankle bends up, knee bent",
        "The ankle bends up less than usual, with the knee bent.",
        "The ankle bends up more than usual, with the knee bent.",
    ),
    "ankle-plantarflexion": _moves("How far the foot points down"),
    "lunge-distance": Plain(
        "How far the knee goes over the toes",
        "The knee goes less far over the toes than usual.",
        "The knee goes further over the toes than usual.",
    ),
    "lunge-angle-knee-bent": _moves("How far the shin leans forward, knee bent"),
    "lunge-angle-knee-straight": _moves("How far the shin leans forward, knee straight"),
    "navicular-height-resting": Plain(
        "How high the arch is",
        "The arch is lower than usual.",
        "The arch is higher than usual.",
    ),
    "longitudinal-arch-angle": Plain(
        "The shape of the arch",
        "The arch is lower than usual.",
        "The arch is higher than usual.",
    ),
    "arch-height-index": Plain(
        "The height of the arch when you stand",
        "The arch is lower than usual.",
        "The arch is higher than usual.",
    ),
    "navicular-drop": Plain(
        "How far the arch sinks under your weight",
        "The arch sinks less than usual under your weight.",
        "The arch sinks more than usual under your weight.",
    ),
    "fpi-total": Plain(
        "How the foot stands",
        "The foot leans out more than usual when you stand.",
        "The foot leans in more than usual when you stand.",
    ),
    "hallux-dorsiflexion": Plain(
        "How far the big toe bends up",
        "The big toe bends up less than usual.",
        "The big toe bends up more than usual.",
    ),
    "hallux-dorsiflexion-standing": Plain(
        "How far the big toe lifts when you stand",
        "The big toe lifts less than usual when you stand.",
        "The big toe lifts more than usual when you stand.",
    ),
    "hallux-valgus-angle": Plain(
        "How far the big toe leans over", above="The big toe leans over to the other toes."
    ),
    "hallux-valgus-grade": Plain(
        "How far the big toe leans over", above="The big toe leans over to the other toes."
    ),
    "hallux-lift-force": Plain(
        "The force it takes to lift the big toe",
        above="It takes more force than usual to lift the big toe when you stand.",
    ),
    "supination-resistance": Plain(
        "The force it takes to lift the arch",
        "The arch was easy to lift by hand.",
        "It took much force to lift the arch by hand.",
    ),
    "lesser-toe-drawer": Plain(
        "How firm the small toes are", above="A small toe is looser than usual at its base."
    ),
    "foot-length": Plain("How long the foot is"),
    "limb-length-difference": Plain(
        "How long the legs are", above="One leg measured longer than the other."
    ),
    "pelvic-block-height": Plain(
        "How level your hips are", above="Your hips were not level when you stood."
    ),
    "heel-raise-count": Plain(
        "Rising onto the toes of one foot",
        "You rose onto the toes of one foot fewer times than usual.",
        "You rose onto the toes of one foot more times than usual.",
    ),
    "single-leg-stance": Plain(
        "Standing on one leg", "You stood on one leg for a shorter time than usual."
    ),
    "hypermobility-score": Plain(
        "How far your joints bend", above="Your joints bend further than usual."
    ),
    "walking-speed": Plain(
        "How fast you walk", "You walk more slowly than usual.", "You walk faster than usual."
    ),
    "walking-cadence": _moves("How many steps you take in a minute"),
    "running-cadence": _moves("How many steps you take in a minute when you run"),
    "foot-progression-angle": Plain(
        "Where the feet point when you walk",
        "The foot points in more than usual when you walk.",
        "The foot points out more than usual when you walk.",
    ),
    "hip-internal-rotation": _moves("How far the hip turns in"),
    "hip-external-rotation": _moves("How far the hip turns out"),
    "hamstring-knee-extension-deficit": Plain(
        "The back of the thigh", above="The back of the thigh is tighter than usual."
    ),
    "vibration-felt": Plain(
        "Feeling a hum at the big toe", above="The hum at the big toe was felt less, or not at all."
    ),
    "pulse-dorsalis-pedis": Plain(
        "The pulse on top of the foot", above="The pulse on top of the foot was hard to feel."
    ),
    "pulse-posterior-tibial": Plain(
        "The pulse behind the ankle", above="The pulse behind the ankle was hard to feel."
    ),
    "ankle-brachial-index": Plain(
        "Blood pressure at the ankle",
        "The blood pressure at the ankle was low next to that of the arm.",
        "The blood pressure at the ankle was high next to that of the arm.",
    ),
    "pressure-toe": Plain("Blood pressure at the big toe", "The pressure at the toe was low."),
    "first-ray-position": Plain(
        "The bone behind the big toe",
        above="The bone behind the big toe sits higher or lower than usual.",
    ),
    "first-ray-mobility": Plain(
        "How the bone behind the big toe moves",
        above="The bone behind the big toe moves more or less than usual.",
    ),
    "hallux-lift-test": Plain(
        "Lifting the big toe when you stand",
        above="The arch rose late, or not at all, when the big toe was lifted.",
    ),
    "lesser-toe-clawing": Plain("The shape of the small toes", above="Small toes are bent."),
    "heel-pad-thin": Plain("The pad under the heel", above="The pad under the heel is thin."),
    "toe-purchase": Plain(
        "Holding paper with the toes", above="The toes could not hold a sheet of paper."
    ),
    "heel-raise-inverts": Plain(
        "The heel when you rise onto your toes",
        above="The heel does not turn in when you rise onto your toes.",
    ),
    "single-leg-squat": Plain(
        "Bending the knee on one leg", above="Bending the knee on one leg was not steady."
    ),
    "hop-test": Plain("Hopping on one leg", above="Hopping on one leg hurt."),
    "limp": Plain("Walking without a limp", above="You walk with a limp."),
    "heel-rise-timing": Plain(
        "When the heel leaves the ground",
        above="The heel leaves the ground earlier or later than usual.",
    ),
    "pronation-timing": Plain(
        "How the foot rolls in when you walk",
        above="The foot rolls in less, later or for longer than usual.",
    ),
    "propulsion": Plain("Pushing off", above="The foot pushes off with less force than usual."),
    "abductory-twist": Plain(
        "The heel as it lifts", above="The heel turns in with a twist as it lifts."
    ),
    "anterior-drawer": Plain(
        "How firm the ankle is", above="The ankle gave more than usual when it was pulled."
    ),
    "achilles-gap": Plain("The heel cord", above="A gap could be felt in the heel cord."),
    "sensory-loss-pattern": Plain(
        "Where feeling is lost", above="There are places where you feel less than usual."
    ),
    "toe-brachial-index": Plain(
        "Blood pressure at the toe",
        "The blood pressure at the toe was low next to that of the arm.",
    ),
    "first-ray-flexibility": Plain(
        "How the bone behind the big toe gives", above="The bone behind the big toe is stiff."
    ),
    "first-metatarsal-rise": Plain(
        "The ball of the foot as you stand",
        above="The inner ball of the foot lifts when the leg is turned out.",
    ),
    "midfoot-break": Plain(
        "The middle of the foot as the heel lifts",
        above="The foot bends in the middle as the heel lifts.",
    ),
    "hallux-interphalangeal-extension": _moves("How far the tip of the big toe bends up"),
    "hallux-axial-grind": Plain(
        "Turning the big toe joint under a push",
        above="Turning the big toe joint under a push hurt.",
    ),
    "hallux-dorsal-bump": Plain(
        "The top of the big toe joint", above="There is a bump on top of the big toe joint."
    ),
    "tuning-fork": Plain("A hum on the sore bone", above="A hum on the sore bone hurt."),
    "reverse-anterior-drawer": Plain(
        "How firm the outer ankle is", above="The outer ankle gave more than usual."
    ),
    "subtalar-range": Plain("How far the heel tilts"),
    "ankle-torque": Plain("The force it takes to bend the ankle"),
    "fpi-talar-head": Plain("How the foot stands, at the ankle"),
    "fpi-malleolar-curves": Plain("How the foot stands, under the ankle bone"),
    "fpi-calcaneal-position": Plain("How the heel stands"),
    "fpi-talonavicular-bulge": Plain("How the foot stands, at the inner side"),
    "fpi-medial-arch": Plain("How the arch looks"),
    "fpi-forefoot-abduction": Plain("How the front of the foot stands"),
    "ankle-end-feel": Plain(
        "How the ankle stops when it is bent up",
        above="The ankle stopped in an unusual way when it was bent up.",
    ),
    "lateral-block-test": Plain("Standing on a small block"),
    "truncated-foot-length": Plain("How long the foot is up to the ball"),
    "foot-breadth": Plain("How wide the foot is"),
    "ball-girth": Plain("How far it is round the ball of the foot"),
    "gastrocnemius-difference": Plain("What bending the knee adds to the ankle"),
    "running-speed": Plain("How fast you run"),
    "running-foot-strike": Plain("Which part of the foot lands first when you run"),
    "overstride": Plain("How far ahead the foot lands when you run"),
    "hip-adduction-running": Plain("How the thigh moves when you run"),
    "running-crossover": Plain("How close to the middle the feet land when you run"),
    "imaging": Plain("Pictures, such as X-rays"),
    "low-energy-availability": Plain("If you eat enough for what you do"),
    "vitamin-d-deficiency": Plain("If you lack vitamin D"),
    # told, or worked out, and followed from visit to visit
    "pain-now": Plain("Your pain now, from 0 to 10"),
    "pain-worst": Plain("Your worst pain of the last week, from 0 to 10"),
    "pain-average": Plain("Your pain in the last week, from 0 to 10"),
    "first-step-pain-score": Plain("Pain with the first steps, from 0 to 10"),
    "function-activities": Plain("What you find hard to do"),
    "lower-extremity-function": Plain("Your score for what your legs can do"),
    "foot-ankle-ability-daily": Plain("Your score for daily life"),
    "foot-ankle-ability-sport": Plain("Your score for sport"),
    "foot-function-index": Plain("Your score for foot trouble"),
    "weekly-load": Plain("Your training by week"),
    "tenderness": Plain("Where pressing hurts"),
    "complaint-site": Plain("Where it hurts"),
    "body-mass": Plain("Your weight"),
    "body-height": Plain("Your height"),
    "occupation-standing": Plain("How long you stand each day"),
}

PLAIN: Mapping[str, Mapping[str, Plain]] = {"en": _ENGLISH}
"""By language and measure; a measure without an entry goes by its name in forms/."""

UNITS: Mapping[str, str] = {
    "deg": "degrees",
    "s": "seconds",
    "min": "minutes",
    "repetitions": "times",
    "answers": "of 3",
    "answer": "of 3",
}
"""Units as patients say them."""
