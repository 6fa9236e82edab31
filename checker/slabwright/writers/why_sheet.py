"""Where the number of one comment comes from: what the file says there, and what was worked from it, step by step."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.review.report import Comment, Report
from slabwright.review.run import AGREE
from slabwright.text.sheet import Line, Sheet
from slabwright.units.quantity import area, depth, height, length, show, slope, volume
from slabwright.writers.terminal import comment_lines

MOST = 12  # points, facets, panels that are told one by one
TOUCHES = 0.01  # m: a facet or panel this near belongs to a place


def sheet(plan: Plan, report: Report, comment: Comment, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The comment in full, the file's own words at its place, and the points, facets, water and panels behind it."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph(f"WHERE NUMBER {comment.number} COMES FROM", tone="strong")
    page.rule()
    comment_lines(page, comment, report, "full")
    told = _Told(plan, comment)
    for heading, rows in (
        ("POINTS: heights typed, or worked between those that are typed", told.points()),
        ("FACETS of the finish surface there", told.facets()),
        ("STANDING WATER", told.water()),
        ("WAY OF THE WATER from there", told.ways()),
        ("PANELS there", told.panels()),
        ("WHAT STANDS BESIDE", told.edges()),
        ("ROOM LEFT at heights that cannot move, each alone", _rooms(report, comment)),
    ):
        lines = list(rows)
        if lines:
            page.blank()
            page.heading(heading)
            for line in lines[:MOST]:
                page.paragraph(line, indent=4, hang=2)
            if len(lines) > MOST:
                page.paragraph(f"and {len(lines) - MOST} more", indent=4)
    if not comment.at.shape:
        page.blank()
        page.paragraph("It has no place on the plan: its numbers are those that the file says, in the working above.",
                       indent=2)  # fmt: skip
    return page.lines


def _rooms(report: Report, comment: Comment) -> Iterator[str]:
    """How far each height that binds the slab could go with all else that is asked, for a comment on these."""
    for one in report.worked["height_room"] or () if comment.rule == AGREE else ():
        ways = [
            f"{way} {show(depth(by), report.system, both=False)}" if by > 0 else f"{way} no further"
            for way, by in (("up", one["up_m"]), ("down", one["down_m"]))
            if by is not None
        ]
        yield f"{one['name']}: {', '.join(ways) or 'as far as one likes'}"


class _Told:
    """What the plan holds at the place of a comment, in sentences."""

    def __init__(self, plan: Plan, comment: Comment) -> None:
        self._plan = plan
        self._comment = comment
        self._spots: Sequence[XY] = tuple(dict.fromkeys(at for one in comment.places for at in one.at.shape))
        self._system = plan.design.system

    def _at(self, at: XY) -> str:
        return self._plan.shape.name_at(at)

    def points(self) -> Iterator[str]:
        plan, typed = self._plan, {(one.at.x, one.at.y): one for one in self._plan.design.heights.finish}
        base = plan.concrete.shot_surface
        for at in self._spots:
            z, parts = plan.finish.at(at), []
            if z is not None:
                own = next((one for spot, one in typed.items() if math.dist(spot, at) < TOUCHES), None)
                how = f"typed in line {own.place.line}" if own else "worked between typed heights"
                parts.append(f"finish {show(height(z), self._system)}, {how}")
            if base is not None:
                (under,) = base.height(np.array([at])).tolist()
                if math.isfinite(under):
                    parts.append(f"base {show(height(under), self._system)}")
                    parts += [f"so {show(depth(z - under), self._system)} between"] if z is not None else []
            if parts:
                yield f"{self._at(at)}: {'; '.join(parts)}"

    def facets(self) -> Iterator[str]:
        finish = self._plan.finish
        numbers = dict.fromkeys(number for at in self._spots for number in finish.facets_at(at))
        for number in numbers:
            facet = finish.facets[number]
            corners = ", ".join(
                f"{self._at(at)} {show(height(z), self._system)}"
                for at, z in zip(facet.corners, facet.heights, strict=True)
            )
            yield f"between {corners}: it falls {show(slope(facet.slope), self._system)}"

    def water(self) -> Iterator[str]:
        for pond in self._plan.water.ponds:
            if any(at in self._spots for ring in pond.outline for at in ring) or pond.deepest in self._spots:
                deep, level = show(depth(pond.depth), self._system), show(height(pond.level), self._system)
                yield f"{pond.name}: deepest at {self._at(pond.deepest)}, {deep}; it spills at {level}"
                held = show(volume(pond.volume), self._system)
                yield f"it covers {show(area(pond.area), self._system)} and holds {held}"
                if pond.against:
                    yield f"it stands against {', '.join(pond.against)}"

    def ways(self) -> Iterator[str]:
        if self._plan.finish.surface is None or not self._spots:
            return
        for at, way in zip(self._spots, self._plan.water.ways_from(self._spots), strict=True):
            run = sum(math.dist(start, end) for start, end in pairwise(way.xy))
            if run > TOUCHES:
                yield f"from {self._at(at)} it runs {show(length(run), self._system)}, to {way.to}"

    def panels(self) -> Iterator[str]:
        for panel in self._plan.panels.all:
            if any(nearest_on(panel.ring, at)[0] < TOUCHES for at in self._spots):
                sides = (
                    f"{show(length(panel.long_side), self._system)} by {show(length(panel.short_side), self._system)}"
                )
                yield f"{panel.name}: {sides}, {show(area(panel.area), self._system)}"

    def edges(self) -> Iterator[str]:
        told = dict.fromkeys(piece for at in self._spots for piece in self._plan.edges.at(at))
        for piece in told:
            ground = ""
            if piece.ground is not None:
                levels = [show(height(z), self._system) for z in dict.fromkeys(piece.ground)]
                ground = f", at {' to '.join(dict.fromkeys((levels[0], levels[-1])))}"
            takes = {True: "takes water", False: "takes no water", None: "may or may not take water"}[piece.takes_water]
            yield f"{piece.name}: {piece.beside}{ground}; it {takes} (line {piece.place.line})"
