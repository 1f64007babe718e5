"""The rows of the plan sheet: aims and features by side, the shoe, the device, advice; no Qt."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from footexam.catalogue.model import say
from footexam.catalogue.plan_model import Device, Severity
from footexam.desktop.session import ADVICE, Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.weighing_words import caution_title
from footexam.drawing.palette import Ink
from footexam.reasoning.dangers import Caution
from footexam.reasoning.plan import is_held
from footexam.reasoning.planned import Candidate, Clash, Plan, PlanAim
from footexam.record.reading import Text
from footexam.reports.plan_words import size_words, verdict
from footexam.terms import Side

SIDES: tuple[Side | None, ...] = (*Side, None)
SHORT = 60
"""So many letters of the advice are shown in its row."""


class What(StrEnum):
    """What a row is about."""

    HEAD = "head"
    NOTHING = "nothing"
    HELD = "held"
    AIM = "aim"
    FEATURE = "feature"
    ROOM = "room"
    DEVICE = "device"
    UNMET = "unmet"
    ADVICE = "advice"
    BLOCK = "block"
    """Of a letter."""


@dataclass(frozen=True, slots=True)
class Place:
    """What tells a row from all others: the row stays chosen while its words change."""

    what: What
    id: str = ""
    side: Side | None = None
    aim: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row; `checked` None has nothing to choose, `below` is its second line."""

    place: Place
    words: str
    below: str = ""
    checked: bool | None = None
    ink: Ink = Ink.INK
    level: int = 0

    @property
    def is_head(self) -> bool:
        """Whether it only heads what follows."""
        return self.place.what is What.HEAD


def plan_rows(session: Session, plan: Plan, unfolded: frozenset[Place]) -> list[Row]:
    """All rows. The features of an aim are shown where it is kept, or was unfolded."""
    rows: list[Row] = []
    for side in SIDES:
        own = list(_of_side(session, plan, side, unfolded))
        if own:
            rows += [Row(Place(What.HEAD, side=side), TEXTS[f"plan-{side or 'both'}"]), *own]
    if not rows:
        rows.append(Row(Place(What.NOTHING), TEXTS["plan-nothing"], ink=Ink.MUTED))
    device = list(_device(plan))
    if device:
        rows += [Row(Place(What.HEAD, "device"), TEXTS["plan-device"]), *device]
    rows += [Row(Place(What.HEAD, "advice"), TEXTS["plan-advice"]), _advice(session)]
    return rows


def holding(session: Session, side: Side | None) -> Caution | None:
    """The first caution that holds a plan for a side back; None where none does."""
    return next((one for one in session.assessment.cautions if is_held((one,), side)), None)


def is_chosen(plan: Plan, name: str, side: Side | None) -> bool:
    """Whether a feature is taken for a side."""
    return any((one.id, one.side) == (name, side) for one in plan.chosen)


def find_aim(plan: Plan, place: Place) -> PlanAim | None:
    """The aim of a row, or of the feature in it."""
    name = place.id if place.what is What.AIM else place.aim
    return next((one for one in plan.aims if (one.id, one.side) == (name, place.side)), None)


def find_candidate(plan: Plan, place: Place) -> Candidate | None:
    """The feature of a row, as it stands under its aim; else as it was chosen."""
    aim = find_aim(plan, place)
    own = aim.candidates if aim is not None else ()
    for one in (*own, *plan.chosen):
        if (one.id, one.side) == (place.id, place.side):
            return one
    return None


def clash_name(clash: Clash, session: Session) -> str:
    """What a feature clashes with, by name; a lift on one side alone clashes with nothing else."""
    catalogue = session.catalogue
    if clash.conflict.one_sided:
        return TEXTS["plan-one-sided"]
    known = catalogue.features.get(clash.other) or catalogue.aims.get(clash.other)
    return say(known.label) if known else clash.other


def real_clashes(one: Candidate, plan: Plan) -> tuple[Clash, ...]:
    """The clashes with what is chosen or wanted; others would arise only if both were taken."""
    taken = {other.id for other in plan.chosen if other.side in {one.side, None}}
    wanted = {aim.id for aim in plan.aims if aim.side is one.side and aim.kept}
    return tuple(clash for clash in one.clashes if clash.other in taken | wanted)


# --- a side


def _of_side(
    session: Session, plan: Plan, side: Side | None, unfolded: frozenset[Place]
) -> Iterator[Row]:
    if side in plan.held:
        if side is not None or _wants_both(session):
            yield _held(session, side)
        return
    asked: set[str] = set()
    for aim in plan.aims:
        if aim.side is side:
            asked.update(one.id for one in aim.candidates)
            yield from _with_features(aim, session, plan, unfolded)
    for one in plan.chosen:
        if one.side is side and one.id not in asked:
            yield _feature(one, plan, session, "")
    for room in plan.rooms:
        if room.side is side:
            fits = {room.heel.fits, room.forefoot.fits}
            ink = Ink.CAUTION if False in fits else Ink.INK
            place = Place(What.ROOM, side=side)
            yield Row(place, TEXTS["plan-room"], verdict(room), ink=ink)


def _with_features(
    aim: PlanAim, session: Session, plan: Plan, unfolded: frozenset[Place]
) -> Iterator[Row]:
    """An aim, and its features where it is unfolded."""
    row = _aim(aim)
    yield row
    if row.place in unfolded:
        for one in aim.candidates:
            yield _feature(one, plan, session, aim.id)


def _wants_both(session: Session) -> bool:
    """Whether something without a side was accepted or chosen."""
    made = session.examination.decisions
    accepted = made.get("hypotheses", {}).get("accepted", ())
    return any(not one.get("side") for one in (*accepted, *made.get("features", ())))


def _held(session: Session, side: Side | None) -> Row:
    caution = holding(session, side)
    name = "" if caution is None else caution_words(caution, session)
    return Row(
        Place(What.HELD, side=side), TEXTS["plan-held"].format(name=name), "", None, Ink.CAUTION
    )


def caution_words(caution: Caution, session: Session) -> str:
    """The name of a caution."""
    return caution_title(caution, session.judge.material)


def _aim(aim: PlanAim) -> Row:
    count = len(aim.candidates)
    chosen = sum(one.chosen for one in aim.candidates)
    key = "plan-aim-taken" if chosen else "plan-aim-one" if count == 1 else "plan-aim"
    below = TEXTS[key].format(count=count, chosen=chosen)
    return Row(Place(What.AIM, aim.id, aim.side), say(aim.aim.label), below, aim.kept)


def _feature(one: Candidate, plan: Plan, session: Session, aim: str) -> Row:
    clashes = real_clashes(one, plan)
    severe = [reason.severity for reason in one.avoid] + [clash.severity for clash in clashes]
    refused = Severity.BLOCK in severe
    told = []
    if one.avoid:
        told.append(TEXTS["plan-refused" if refused else "plan-against"])
    if clashes:
        others = [clash for clash in clashes if not clash.conflict.one_sided]
        names = dict.fromkeys(clash_name(clash, session) for clash in others)
        if len(others) < len(clashes):
            told.append(TEXTS["plan-one-sided"])
        if names:
            told.append(TEXTS["plan-clash"].format(names=", ".join(names)))
    first = not one.chosen and aim in one.feature.first
    if not told and first:
        told.append(TEXTS["plan-first"])
    if not aim:
        told.append(TEXTS["plan-no-aim"])
    return Row(
        Place(What.FEATURE, one.id, one.side, aim),
        feature_words(one),
        "; ".join(told),
        one.chosen,
        Ink.CAUTION if one.avoid or clashes else Ink.INK,
        level=1,
    )


def feature_words(one: Candidate) -> str:
    """A feature; its dimensions as well where it is chosen."""
    label = say(one.feature.label)
    if not one.chosen or not one.dimensions:
        return label
    sizes = ", ".join(size_words(part.value, part.size.unit) for part in one.dimensions)
    return f"{label}, {sizes}"


# --- device and advice


def _device(plan: Plan) -> Iterator[Row]:
    if plan.device:
        counts = {way: sum(one.points_to is way for one in plan.device) for way in Device}
        told = "; ".join(
            TEXTS[f"plan-for-{way}"].format(count=count) for way, count in counts.items() if count
        )
        yield Row(Place(What.DEVICE), TEXTS["plan-which"], told)
    if plan.unmet:
        missing = sum(len(one.missing) for one in plan.unmet)
        words = TEXTS["plan-unmet-one" if missing == 1 else "plan-unmet"].format(count=missing)
        yield Row(Place(What.UNMET), TEXTS["plan-before-boot"], words, ink=Ink.CAUTION)


def _advice(session: Session) -> Row:
    place = Place(What.ADVICE)
    if session.bars_load:
        return Row(place, TEXTS["plan-advice-row"], TEXTS["advice-not-now"], ink=Ink.CAUTION)
    reading = session.examination.reading(ADVICE)
    written = reading.value.text if reading and isinstance(reading.value, Text) else ""
    short = " ".join(written.split())
    short = f"{short[:SHORT]}…" if len(short) > SHORT else short
    return Row(place, TEXTS["plan-advice-row"], short or TEXTS["advice-empty"])
