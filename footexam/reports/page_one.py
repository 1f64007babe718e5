"""Page one of the report: everything that matters on one page, shortened until it fits."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from footexam.reports.arguments_brief import arguments_brief
from footexam.reports.blocks import Block
from footexam.reports.brief import CAUTIONS, Limits, Pages, brief
from footexam.reports.cautions import caution_box
from footexam.reports.closing import LINE, plan, signatures
from footexam.reports.front import head, why
from footexam.reports.material import Material
from footexam.reports.sheet import Sheet

_SHORT = Limits(unchanged=False, tables=False, plan=3, counter=False)
_TIGHT = replace(_SHORT, rows=False, key=False, typed=300, plan=2, cautions=False)

LADDER: Sequence[Limits] = (
    Limits(),
    Limits(unchanged=False),
    Limits(unchanged=False, tables=False),
    replace(_SHORT, absent=6),
    replace(_SHORT, outside=12, words=14, differences=6, changes=8, absent=5),
    replace(_SHORT, outside=9, words=12, differences=5, changes=6, absent=4),
    replace(_SHORT, outside=7, words=10, differences=4, changes=5, absent=4),
    replace(_SHORT, outside=6, words=8, differences=4, changes=5, absent=3, typed=400),
    replace(_TIGHT, outside=5, words=7, differences=3, changes=4, absent=3, typed=400),
    replace(_TIGHT, outside=4, words=6, differences=3, changes=3, absent=2),
    replace(_TIGHT, outside=3, words=5, differences=2, changes=3, absent=2),
    replace(_TIGHT, outside=2, words=3, differences=1, changes=1, absent=1, typed=250),
    replace(_TIGHT, outside=1, words=2, differences=1, changes=1, absent=1, typed=200),
    replace(_TIGHT, outside=0, words=2, differences=1, changes=1, absent=1, typed=200),
    replace(_TIGHT, outside=0, words=1, differences=0, changes=0, absent=0, typed=150, plan=1),
    replace(_TIGHT, outside=0, words=1, differences=0, changes=0, absent=0, typed=100, plan=0),
)
"""From everything to the least that page one may hold; what is important goes last."""

MOST_LINES = 9
"""Ruled lines where there is room."""

GROWING = ("outside", "changes", "differences", "words", "absent")
"""What takes the room that a step of the ladder leaves, in this order."""

WHOLE = ("cautions", "counter")
"""What stands whole where a step of the ladder leaves the room for it."""

MOST_MORE = 2
"""Findings of one kind that are added so."""

SLACK = 2.0
"""Points kept free, so that adding heights in another order cannot break the page."""


def page_one(
    material: Material, limits: Limits, pages: Pages, practice: str, *, invented: bool
) -> list[Block]:
    """The blocks of page one; `pages` says where the sections that are shortened stand whole."""
    return [
        *head(material, practice, invented),
        _cautions(material, limits, pages),
        *_below(material, limits, pages),
    ]


def _cautions(material: Material, limits: Limits, pages: Pages) -> Block:
    return caution_box(material, "" if limits.cautions else str(pages.get(CAUTIONS, 2)))


def _below(material: Material, limits: Limits, pages: Pages) -> list[Block]:
    """What stands under the cautions."""
    return [
        *why(material, limits.typed),
        *arguments_brief(material, limits, pages),
        *brief(material, limits, pages),
        *plan(material, limits.plan),
        *signatures(material),
    ]


def fitting(material: Material, sheet: Sheet, practice: str, *, invented: bool) -> Limits:
    """The first limits with which page one is one page; the least where none is.

    Room that is left takes more findings, then lines for the plan.
    """
    room = sheet.paper.height - sheet.paper.top - sheet.paper.foot - SLACK
    top = head(material, practice, invented)
    heights: dict[bool, float] = {}

    def left(limits: Limits) -> float:
        if limits.cautions not in heights:
            heights[limits.cautions] = sheet.height_of([*top, _cautions(material, limits, {})])
        below = sheet.height_of(_below(material, limits, {}))
        return room - heights[limits.cautions] - below

    for limits in LADDER:
        if left(limits) >= 0:
            grown = _grown(limits, left)
            lines = grown.plan + int(left(grown) / LINE)
            return replace(grown, plan=min(MOST_LINES, lines))
    return LADDER[-1]


def _grown(limits: Limits, left: Callable[[Limits], float]) -> Limits:
    """The limits with whole cautions and a few more findings of each kind, as long as they fit."""
    for part in WHOLE:
        more = replace(limits, **{part: True})
        limits = more if left(more) >= 0 else limits
    for part in GROWING:
        for _ in range(MOST_MORE):
            held = getattr(limits, part)
            more = limits if held is None else replace(limits, **{part: held + 1})
            if more is limits or left(more) < 0:
                break
            limits = more
    return limits
