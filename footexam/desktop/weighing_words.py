"""The text of the page that weighs a caution or a hypothesis: every line leads to its source."""

from collections.abc import Iterable
from html import escape

from footexam.catalogue.arguments import Branch
from footexam.catalogue.model import Catalogue, say
from footexam.desktop.texts import TEXTS
from footexam.drawing.argument import Chain, Point
from footexam.reasoning.argue import Argument
from footexam.reasoning.dangers import Caution
from footexam.reports.argued import chain_of
from footexam.reports.cautions import branch_of, caution_name, decision_about, decision_words
from footexam.reports.material import Material
from footexam.terms import Provenance, Side

CELL = "cell"
DRAWING = "drawing:argument"


class Sources:
    """The sources of one page, numbered as they are met."""

    def __init__(self, material: Material) -> None:
        self._material = material
        self._met: dict[str, set[Provenance]] = {}

    def cite(self, source: str, provenance: Provenance, _note: str = "") -> str:
        """The number of a source in brackets, in plain text."""
        self._met.setdefault(source, set()).add(provenance)
        return f"[{list(self._met).index(source) + 1}]"

    def link(self, source: str, provenance: Provenance) -> str:
        """The same as a link to the list."""
        number = self.cite(source, provenance)
        return f'<a href="#source-{number[1:-1]}">{number}</a>'

    def html(self) -> str:
        """The list, each with how well it was checked."""
        rows = []
        for number, (source, how) in enumerate(self._met.items(), 1):
            known = self._material.catalogue.sources.get(source)
            parts = [source]
            if known is not None:
                doi = f"doi {known.doi}" if known.doi else ""
                parts = [known.citation, doi, f"PMID {known.pmid}" if known.pmid else ""]
            parts.append(", ".join(self._material.phrases(one) for one in sorted(how)))
            line = "; ".join(filter(None, parts))
            rows.append(f'<p><a name="source-{number}"></a>[{number}] {escape(line)}</p>')
        return _section("Sources", "".join(rows))


def cell_link(material: Material, measure: str, side: Side | None) -> str:
    """A link to the cell of a measure, by its name."""
    words = escape(material.label(measure))
    return f'<a href="{CELL}:{measure}:{side or ""}">{words}</a>'


# --- a hypothesis


def argument_html(argument: Argument, chain: Chain, material: Material, sources: Sources) -> str:
    """The page of one hypothesis below its drawing."""
    hypothesis, reasons = argument.hypothesis, material.assessment.reasons
    phrases = material.phrases
    grades = phrases(
        "argument-grades",
        mechanics=phrases(f"grade-{hypothesis.grade_mechanics}"),
        injury=phrases(f"grade-{hypothesis.grade_injury}"),
    )
    notes = [grades]
    if argument.both_sides:
        notes.append(phrases("argument-both-sides"))
    if not reasons.why_now:
        notes.append(phrases("why-now-missing"))
    links = [cell_link(material, name, argument.side) for name in argument.not_examined]
    evidence = "".join(
        f"<p>{escape(say(one.text))} {sources.link(one.source, one.provenance)}</p>"
        for one in hypothesis.evidence
    )
    names = [_condition(name, material.catalogue) for name in hypothesis.conditions]
    parts = [
        f'<p><img src="{DRAWING}"></p>',
        _section("Evidence", evidence),
        _section("Each line and its cell", _rows(argument, material, sources)),
        _section(chain.heads.unknown, f"<p>{', '.join(links)}</p>" if links else ""),
        _section("What would settle it", f"<p>{escape(say(hypothesis.test))}</p>"),
        _section("Conditions it may concern", f"<p>{escape(', '.join(names))}</p>"),
        _section("How firm", "".join(f"<p>{escape(note)}</p>" for note in notes)),
        sources.html(),
    ]
    return "".join(parts)


def _condition(name: str, catalogue: Catalogue) -> str:
    known = catalogue.conditions.get(name)
    if known is None:
        return name.replace("-", " ")
    slow = TEXTS["heals-badly"] if known.nonunion_risk == "high" else ""
    return say(known.label) + slow


def _rows(argument: Argument, material: Material, sources: Sources) -> str:
    """Every row once more, with links to what it was read from and to the source of its weight."""
    told = []
    for sign, rows in (("for", argument.speaks_for), ("against", argument.speaks_against)):
        for one in rows:
            cells = _cells(one.because, argument.side, material)
            source = sources.link(one.row.source, one.row.provenance)
            told.append(f"<p>{sign}: {escape(say(one.row.says))} ({cells}) {source}</p>")
    for aside in argument.set_aside:
        cells = _cells(aside.because, argument.side, material)
        told.append(f"<p>set aside: {escape(say(aside.row.says))} ({cells})</p>")
    return "".join(told)


def _cells(because: Iterable[str], side: Side | None, material: Material) -> str:
    names = (one.removeprefix("measure:") for one in because)
    return ", ".join(cell_link(material, name, side) for name in names)


def chain(argument: Argument, material: Material, sources: Sources) -> Chain:
    """The words of the drawing, with the numbers of this page's sources."""
    return chain_of(argument, material, sources.cite)


def spoken(drawn: Chain) -> str:
    """The drawing in words for a screen reader."""
    heads = drawn.heads
    parts = [_said(heads.supports, drawn.supports), _said(heads.opposes, drawn.opposes)]
    against = f"{heads.counter}: {drawn.counter}"
    return ". ".join(filter(None, [drawn.statement, *parts, drawn.total, against]))


def _said(head: str, points: Iterable[Point]) -> str:
    rows = "; ".join(f"{point.says} {point.weight}" for point in points)
    return f"{head}: {rows}" if rows else ""


# --- a caution


def caution_html(caution: Caution, material: Material) -> str:
    """The page of one caution: how soon, what to do, on what it rests, what is held back."""
    sources, phrases = Sources(material), material.phrases
    branch = branch_of(caution, material)
    made = decision_about(caution, material)
    decided = " · ".join(decision_words(made, material)) if made else phrases("decision-none")
    cells = _cells(caution.because, caution.side, material)
    what = _what_to_do(branch, sources, material) if branch else escape(TEXTS["yes-unfinished"])
    held = ", ".join(phrases(f"hold-{one}") for one in caution.holds)
    return "".join(
        (
            what,
            _section("It rests on", f"<p>{cells}</p>"),
            _section("Held back until what was done is recorded", _paragraph(held)),
            _section("Decision", _paragraph(decided)),
            _section("Worth knowing", _paragraph(say(branch.note) if branch else "")),
            sources.html(),
            _paragraph(TEXTS["caution-defers"]),
        )
    )


def _what_to_do(branch: Branch, sources: Sources, material: Material) -> str:
    """How soon, why, and what to do, with its guideline and source."""
    source = sources.link(branch.source, branch.provenance)
    tier = material.phrases(f"tier-{branch.tier}")
    where = ", ".join(part for part in (branch.guideline, branch.country) if part)
    action = f"<p><b>{escape(say(branch.action))}</b> {source} {escape(where)}</p>"
    return f"<p><b>{escape(tier)}.</b> {escape(say(branch.trigger))}</p>" + _section(
        "What to do", action
    )


def caution_title(caution: Caution, material: Material) -> str:
    """The name of a caution with its side; of a yes that leads nowhere yet, its question."""
    name = caution_name(caution, material) if caution.id else material.label(caution.about)
    return f"{name}, {material.side_word(caution.side)}" if caution.side else name


def _paragraph(words: str) -> str:
    return f"<p>{escape(words)}</p>" if words else ""


def _section(head: str, body: str) -> str:
    return f"<h3>{escape(head)}</h3>{body}" if body else ""
