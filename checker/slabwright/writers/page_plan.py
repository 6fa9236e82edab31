"""The plan as it lies in a page: cut to what is drawn, with a scale bar that stays true at any size.

It is drawn twice where the slab is wide: once for a desk's screen and for paper, where it stands to the scale that is
stated, and once smaller for a screen held in the hand, with fewer words. In both no letter is hard to read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from slabwright.drawing.svg import column
from slabwright.drawing.svg.plan_svg import Drawn, plan_drawn
from slabwright.drawing.svg.sheet import HANDHELD, SMALL, patterns
from slabwright.drawing.svg.text import number
from slabwright.review.report import Report

PLAN, HAND = "plan", "hand"
_ROUND = 2.5  # mm of paper left free round the drawing
_SAMPLE = (14.0, 5.4)  # mm: a sample of the legend
_DESK, _IN_HAND = 10.05 / SMALL, 9.05 / SMALL  # px for a mm of paper at which the smallest letters are 10 and 9 px
_SCREEN = 350.0  # px: what a narrow screen of 390 px leaves a drawing
_MOST = 1500  # things to draw, above which a plan is drawn once only

_CALLOUT = re.compile(r'<g class="callout" data-comment="(\d+)"(?! data-weight="\w+"></g>)')


def for_hand(report: Report, drawn: Drawn) -> Drawn | None:
    """The plan drawn again for a narrow screen; None where the slab fits one as it is, or is too much for one."""
    xs = [x for x, _ in drawn.view.line(report.drawing["outline"])]
    things = sum(len(report.drawing[part]) for part in ("panels", "joints", "spots")) + len(report.comments)
    if (max(xs) - min(xs)) * _IN_HAND <= _SCREEN or things > _MOST:
        return None
    return plan_drawn(report, HAND, HANDHELD)


def plan_element(report: Report, drawn: Drawn, ids: str = PLAN) -> str:
    """The drawing as one SVG element; its ids begin with ``ids`` and its style holds within ``#plan``."""
    left, top, wide, tall = _cut(report, drawn)
    named = r'\g<0> id="place-\1"' if ids == PLAN else r"\g<0>"
    callouts = _CALLOUT.sub(named + ' tabindex="-1" role="button"', drawn.groups["callouts"])
    groups = {**drawn.groups, "callouts": callouts}
    xs = [x for x, _ in drawn.view.line(report.drawing["outline"])]
    seen = (min(xs) + max(xs) - _SCREEN / _IN_HAND) / 2 if ids == HAND else left  # where a narrow screen begins
    bar, _ = column.scale_bar(drawn.view, report.system, max(left, seen) + 3, top + tall - _BAR + 1)
    inner = "\n".join(f'<g id="{ids}-{name}" data-layer="{name}">{group}</g>' for name, group in groups.items())
    box = " ".join(number(v) for v in (left, top, wide, tall))
    return (
        f'<svg class="slab-plan on-{ids}" role="group" aria-label="{column.described(report)}" viewBox="{box}" '
        f'width="{number(wide)}mm" height="{number(tall)}mm" data-scale="{drawn.view.denominator}">'
        f"<defs>{patterns(ids)}</defs>"
        f'<rect class="paper" x="{number(left)}" y="{number(top)}" width="{number(wide)}" '
        f'height="{number(tall)}"/>{inner}{"".join(bar)}</svg>'
    )


def plan_sizes(report: Report, drawn: Drawn, hand: Drawn | None) -> str:
    """Style: how small each drawing may be shown on a screen, and its true size on paper."""

    def least(ids: str, one: Drawn, px: float) -> str:
        _, _, wide, tall = _cut(report, one)
        size = f"min-width:{number(wide * px)}px;min-height:{number(tall * px)}px"
        return f"#{PLAN} .on-{ids}{{{size}}}"

    _, _, wide, tall = _cut(report, drawn)
    paper = f"width:{number(wide)}mm!important;height:{number(tall)}mm!important;min-width:0;min-height:0"
    return (
        f"@media screen and (min-width:62rem){{{least(PLAN, drawn, _DESK)}}}"
        f"@media screen and (max-width:61.99rem){{{least(PLAN, drawn, _IN_HAND)}}}"
        + (least(HAND, hand, _IN_HAND) if hand else "")
        + f"@media print{{#{PLAN} .on-{PLAN}{{{paper}}}}}"
    )


def legend_samples(drawn: Drawn) -> Iterator[tuple[str, str]]:
    """A small SVG and the words for each thing the drawing uses."""
    wide, tall = _SAMPLE
    middle = tall / 2
    for entry in drawn.legend:
        sample = entry.sample.format(
            x="0.5", m=number(wide / 2), r=number(wide - 0.5), y=number(middle), top=number(middle - 1.5)
        )
        yield f'<svg viewBox="0 0 {number(wide)} {number(tall)}" aria-hidden="true">{sample}</svg>', entry.words


_BAR = 8.0  # mm kept below the drawing for its scale bar


def _cut(report: Report, drawn: Drawn) -> tuple[float, float, float, float]:
    """Left, top, width and height of what is drawn, with some room round it and its scale bar, mm on the sheet."""
    view, (low, high) = drawn.view, drawn.room.taken()
    xs, ys = zip(low, high, *view.line(report.drawing["outline"]), strict=True)
    left, right = max(min(xs) - _ROUND, 0.0), min(max(xs) + _ROUND, view.sheet.width)
    top, bottom = max(min(ys) - _ROUND, 0.0), min(max(ys) + _ROUND, view.sheet.height)
    return left, top, right - left, bottom + _BAR - top
