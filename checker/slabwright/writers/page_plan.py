"""The plan as it lies in a page: cut to what is drawn, with a scale bar that stays true at any size."""

from __future__ import annotations

import re
from collections.abc import Iterator

from slabwright.drawing.svg import column
from slabwright.drawing.svg.plan_svg import Drawn
from slabwright.drawing.svg.sheet import patterns
from slabwright.drawing.svg.text import number
from slabwright.review.report import Report

PLAN = "plan"
_ROUND = 5.0  # mm of paper left free round the drawing
_SAMPLE = (14.0, 5.4)  # mm: a sample of the legend

_CALLOUT = re.compile(r'<g class="callout" data-comment="(\d+)"(?! data-weight="\w+"></g>)')


def plan_element(report: Report, drawn: Drawn) -> str:
    """The drawing as one SVG element; its ids begin with ``plan`` and its style holds within ``#plan``."""
    (left, top), (right, bottom) = _reach(report, drawn)
    groups = {**drawn.groups, "callouts": _CALLOUT.sub(r'\g<0> id="place-\1" tabindex="-1" role="button"',
                                                       drawn.groups["callouts"])}  # fmt: skip
    bar, _ = column.scale_bar(drawn.view, report.system, left + 3, bottom + 1)
    bottom += 7.5
    inner = "\n".join(f'<g id="{PLAN}-{name}" data-layer="{name}">{group}</g>' for name, group in groups.items())
    box = " ".join(number(v) for v in (left, top, right - left, bottom - top))
    return (
        f'<svg class="slab-plan" role="group" aria-label="{column.described(report)}" viewBox="{box}" '
        f'width="{number(right - left)}mm" height="{number(bottom - top)}mm" data-scale="{drawn.view.denominator}">'
        f"<defs>{patterns(PLAN)}</defs>"
        f'<rect class="paper" x="{number(left)}" y="{number(top)}" width="{number(right - left)}" '
        f'height="{number(bottom - top)}"/>{inner}{"".join(bar)}</svg>'
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


def _reach(report: Report, drawn: Drawn) -> tuple[tuple[float, float], tuple[float, float]]:
    """Upper left and lower right corner of what is drawn, with some room round it, mm on the sheet."""
    view, (low, high) = drawn.view, drawn.room.taken()
    places = [low, high, *view.line(report.drawing["outline"])]
    xs, ys = zip(*places, strict=True)
    left, right = max(min(xs) - _ROUND, 0.0), min(max(xs) + _ROUND, view.sheet.width)
    return (left, max(min(ys) - _ROUND, 0.0)), (right, min(max(ys) + _ROUND, view.sheet.height))
