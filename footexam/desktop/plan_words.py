"""What stands beside a row of the plan sheet: reasons, evidence, clashes, room, with sources."""

from collections.abc import Iterable
from html import escape

from footexam.catalogue.model import say
from footexam.catalogue.plan_model import Avoid, Device, FeatureClaim, Severity
from footexam.desktop.plan_rows import (
    Place,
    What,
    caution_words,
    clash_name,
    find_aim,
    find_candidate,
    real_clashes,
)
from footexam.desktop.session import ADVICE, Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.weighing_words import Sources, cell_link
from footexam.reasoning.gates import BOOT
from footexam.reasoning.plan import is_held
from footexam.reasoning.planned import Candidate, Clash, Plan, PlanAim, ShoeRoom
from footexam.reports.plan_words import forefoot_words, heel_words, size_name
from footexam.reports.words import opened
from footexam.terms import Side


def plan_title(place: Place, session: Session, plan: Plan) -> str:
    """What a row is about, in one line."""
    side = f", {session.judge.material.side_word(place.side)}" if place.side else ""
    if place.what is What.AIM:
        aim = find_aim(plan, place)
        return f"{say(aim.aim.label)}{side}" if aim else ""
    if place.what is What.FEATURE:
        one = find_candidate(plan, place)
        return f"{say(one.feature.label)}{side}" if one else ""
    return TEXTS[f"plan-title-{place.what}"] + side


def plan_html(place: Place, session: Session, plan: Plan) -> str:
    """Everything about a row but its dimensions."""
    ways = {
        What.AIM: _aim,
        What.FEATURE: _feature,
        What.ROOM: _room,
        What.DEVICE: _device,
        What.UNMET: _unmet,
        What.HELD: _held,
        What.ADVICE: _advice,
    }
    way = ways.get(place.what)
    return way(place, session, plan) if way else _paragraph(TEXTS["plan-nothing-how"])


# --- aims


def _aim(place: Place, session: Session, plan: Plan) -> str:
    aim = find_aim(plan, place)
    if aim is None:
        return ""
    names = [_hypothesis(name, session) for name in aim.hypotheses]
    excluded = _excluded(aim, session, plan)
    candidates = [f"<li>{escape(_candidate_line(one))}</li>" for one in aim.candidates]
    return "".join(
        (
            f"<p><b>{escape(say(aim.aim.says))}</b></p>",
            _warn(excluded),
            _section("Because you accepted", _paragraph("; ".join(names))),
            _section("Worth knowing", _paragraph(say(aim.aim.note)) if aim.aim.note else ""),
            _section("What may serve it, in this order", f"<ol>{''.join(candidates)}</ol>"),
            _paragraph(TEXTS["plan-order"]),
        )
    )


def _hypothesis(name: str, session: Session) -> str:
    known = session.catalogue.hypotheses.get(name)
    return say(known.label) if known else name


def _excluded(aim: PlanAim, session: Session, plan: Plan) -> str:
    """Other aims that are kept and cannot be had at the same joint."""
    kept = {one.id for one in plan.aims if one.kept and one.side is aim.side}
    names = [say(session.catalogue.aims[name].label) for name in aim.aim.excludes if name in kept]
    return TEXTS["plan-excludes"].format(names=", ".join(names)) if names else ""


def _candidate_line(one: Candidate) -> str:
    parts = [say(one.feature.label)]
    if one.aim in one.feature.first:
        parts.append(TEXTS["plan-first"])
    if one.avoid:
        severe = any(why.severity is Severity.BLOCK for why in one.avoid)
        parts.append(TEXTS["plan-refused" if severe else "plan-against"])
    return "; ".join(parts)


# --- features


def _feature(place: Place, session: Session, plan: Plan) -> str:
    one = find_candidate(plan, place)
    if one is None:
        return ""
    sources = Sources(session.judge.material)
    own = [claim for claim in one.claims if claim.about == one.aim]
    general = [claim for claim in one.claims if claim.about != one.aim]
    needs = say(one.feature.needs) if one.feature.needs else ""
    now = real_clashes(one, plan)
    later = [clash for clash in one.clashes if clash not in now]
    parts = [
        _avoided(one.avoid, TEXTS["plan-here"], sources),
        _section("Fights what is chosen", _clashes(now, session, sources)),
        _section("How it works", _paragraph(say(one.feature.mechanism))),
        _section("What it asks for", _paragraph(needs)),
        _section("Best evidence", _claims(own[:1] or general[:1], session, sources)),
        _section("More evidence", _claims(_rest(own, general), session, sources)),
        _section("Would fight, if it were chosen as well", _clashes(later, session, sources)),
        _section("What can go wrong", _claims(one.harms, session, sources)),
        _section("When not to use it", _told(one.cautions, sources)),
        _section("Its dimensions", _dimensions(one, session, sources)),
        sources.html(),
    ]
    return "".join(parts)


def _rest(own: list[FeatureClaim], general: list[FeatureClaim]) -> list[FeatureClaim]:
    return [*own[1:], *general] if own else general[1:]


def _avoided(reasons: Iterable[Avoid], head: str, sources: Sources) -> str:
    """Reasons not to use it that hold for this person."""
    told = []
    for one in reasons:
        word = TEXTS["plan-refused" if one.severity is Severity.BLOCK else "plan-against"]
        source = sources.link(one.source, one.provenance)
        told.append(f"<p><b>{escape(opened(word))}:</b> {escape(say(one.says))} {source}</p>")
    return _section(head, "".join(told))


def _clashes(found: Iterable[Clash], session: Session, sources: Sources) -> str:
    """Clashes for one reason together."""
    by_reason: dict[str, list[Clash]] = {}
    for clash in found:
        by_reason.setdefault(clash.conflict.id, []).append(clash)
    told = []
    for several in by_reason.values():
        names = ", ".join(dict.fromkeys(clash_name(clash, session) for clash in several))
        conflict = several[0].conflict
        source = sources.link(conflict.source, conflict.provenance)
        told.append(f"<p><b>{escape(opened(names))}:</b> {escape(several[0].why)} {source}</p>")
    return "".join(told)


def _claims(claims: Iterable[FeatureClaim], session: Session, sources: Sources) -> str:
    """Each with its grade in words."""
    phrases = session.judge.material.phrases
    told = []
    for claim in claims:
        grade = escape(opened(phrases(f"grade-{claim.grade}")))
        source = sources.link(claim.source, claim.provenance)
        told.append(f"<p>{escape(say(claim.text))} {source}<br><i>{grade}</i></p>")
    return "".join(told)


def _told(reasons: Iterable[Avoid], sources: Sources) -> str:
    return "".join(
        f"<p>{escape(say(one.says))} {sources.link(one.source, one.provenance)}</p>"
        for one in reasons
    )


def _dimensions(one: Candidate, session: Session, sources: Sources) -> str:
    """What each dimension rests on: its source, the figures of its calculation, its tolerance."""
    told = []
    for part in one.dimensions:
        cited = [sources.link(part.size.source, part.size.provenance)]
        if part.result is not None:
            figures = [session.catalogue.figures[name] for name in part.result.figures]
            cited += [sources.link(rule.source, rule.provenance) for rule in figures]
        note = f" {say(part.size.note)}" if part.size.note else ""
        words = f"{size_name(part)}.{note}"
        told.append(f"<p>{escape(words)} {' '.join(dict.fromkeys(cited))}</p>")
    return "".join(told)


# --- shoe, device, checks, cautions, advice


def _room(place: Place, session: Session, plan: Plan) -> str:
    room = next((one for one in plan.rooms if one.side is place.side), None)
    if room is None:
        return ""
    return "".join(
        (
            _section("Heel", _paragraph(opened(heel_words(room.heel)))),
            _section("Forefoot", _paragraph(opened(forefoot_words(room.forefoot)))),
            _section("Not measured yet", _missing(_lacking(room), place.side, session)),
            _paragraph(TEXTS["plan-room-how"]),
        )
    )


def _lacking(room: ShoeRoom) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*room.heel.missing, *room.forefoot.missing)))


def _missing(names: Iterable[str], side: Side | None, session: Session) -> str:
    """Links to the cells of what is not recorded; of both feet where no side is meant."""
    material = session.judge.material
    sides: tuple[Side | None, ...] = (side,) if side else tuple(Side)
    measures = session.catalogue.measures
    links = [
        cell_link(material, name, one) + (f", {one}" if one else "")
        for name in names
        if name in measures
        for one in (sides if measures[name].sided else (None,))
        if (name, one) not in session.examination.readings
    ]
    unknown = [name.replace("-", " ") for name in names if name not in measures]
    links += [escape(TEXTS["plan-not-asked"].format(name=name)) for name in unknown]
    return f"<p>{'; '.join(links)}</p>" if links else ""


def _device(_place: Place, session: Session, plan: Plan) -> str:
    sources = Sources(session.judge.material)
    phrases = session.judge.material.phrases
    parts = []
    for way in Device:
        told = []
        for one in plan.device:
            if one.points_to is way:
                grade = escape(opened(phrases(f"grade-{one.grade}")))
                source = sources.link(one.source, one.provenance)
                told.append(f"<p>{escape(say(one.says))} {source}<br><i>{grade}</i></p>")
        parts.append(_section(TEXTS[f"plan-speaks-{way}"], "".join(told)))
    return "".join((*parts, sources.html()))


def _unmet(_place: Place, session: Session, plan: Plan) -> str:
    sources = Sources(session.judge.material)
    sides = [one.side for one in plan.chosen if one.id in BOOT]
    parts = [_paragraph(TEXTS["plan-unmet-how"])]
    for one in plan.unmet:
        source = sources.link(one.check.source, one.check.provenance)
        parts.append(f"<p><b>{escape(say(one.check.says))}</b> {source}</p>")
        parts += [_missing(one.missing, side, session) for side in dict.fromkeys(sides)]
    return "".join((*parts, sources.html()))


def _held(place: Place, session: Session, _plan: Plan) -> str:
    """Every caution that holds the side back, and the way out."""
    found = [
        f"<li>{escape(caution_words(one, session))}</li>"
        for one in session.assessment.cautions
        if is_held((one,), place.side)
    ]
    return f"<ul>{''.join(found)}</ul>{_paragraph(TEXTS['plan-held-how'])}"


def _advice(_place: Place, session: Session, _plan: Plan) -> str:
    """What the advice may speak of, one prompt a line; nothing while a caution forbids to load."""
    if session.bars_load:
        return _paragraph(TEXTS["advice-held"])
    prompts = say(session.catalogue.measures[ADVICE].how).rstrip(".").split(". ")
    listed = "".join(f"<li>{escape(prompt)}.</li>" for prompt in prompts)
    return _paragraph(TEXTS["advice-how"]) + f"<ul>{listed}</ul>"


# --- pieces


def _warn(words: str) -> str:
    return f"<p><b>{escape(words)}</b></p>" if words else ""


def _paragraph(words: str) -> str:
    return f"<p>{escape(words)}</p>" if words else ""


def _section(head: str, body: str) -> str:
    return f"<h3>{escape(head)}</h3>{body}" if body else ""
