"""Slabs and parts of design files that the tests of several rules on heights share."""

from __future__ import annotations

from typing import Any

from slabwright.review.report import Comment
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, show
from sloped import RECTANGLE, design, plane

FOOT = 0.3048
HOUSE = "run: [A, B], beside: building, name: house wall\nrest: lawn"
SLOPED = plane(RECTANGLE, 0, -0.02)
PLAN = """
format: 1
job: {{name: Test stoop}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}}
outline: [A, B, C, D]
edges: [{{run: [A, B], beside: {beside}}}]
heights: {{finish: {{A: 100, B: 100, C: 99.8, D: 99.8}}}}
thickness: {{design: 4 in, steps: [{{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: {count}{leads}}}]}}
{more}
"""
DOOR = "fixtures: [{kind: door, name: back door, along: [[2, 0], [5, 0]], sill: 101.5}]"  # 18 in above the slab
PORCH = "step, name: porch, ground: {ground}"
ALL_LEVEL = dict.fromkeys(RECTANGLE, 100.0)
HOUSE_BY_BED = "run: [A, B], beside: building, name: house wall\nrest: bed"
STEEP = plane(RECTANGLE, 0, -0.03)
LEVEL = dict.fromkeys(RECTANGLE, 100.0)


def stoop(count: int, leads: str = ", leads_to: back door", beside: str = "lawn", more: str = DOOR) -> str:
    return PLAN.format(count=count, leads=leads, beside=beside, more=more)


def porch(flight: str, ground: float = 101.5, use: str = "patio", site: str = "") -> str:
    """A slab at 100 with a flight up to a porch, or none."""
    text = stoop(2, beside=PORCH.format(ground=ground), more=site)
    start, end = text.index(", steps: ["), text.index("]}", text.index(", steps: ["))
    steps = f", steps: [{{name: flight, width: 4 ft, {flight}, leads_to: porch}}]" if flight else ""
    return text[:start] + steps + text[end + 1 :].replace("use: patio", f"use: {use}")


def slab(
    heights: dict[str, float], *sections: str, edges: str = "rest: bed", use: str = "patio", unit: str = "ft"
) -> str:
    """The rectangle of 20 by 12, in ``unit``, with these heights, and whole sections of YAML."""
    return "\n".join([design(RECTANGLE, heights, edges, use=use, unit=unit), *sections])


def told_values(comment: Comment) -> dict[str, Any]:
    """What a comment tells to write, amounts in the unit system they are told in."""
    return {
        slot: show(value, "us", both=False) if isinstance(value, Amount) else value
        for slot, value in comment.to_pass.values.items()
    }


def worked(comment: Comment | Finding) -> list[str]:
    return [plain(step.numbers, "us", both=False) for step in comment.working]


def feet(*heights: float | None) -> list[float | None]:
    """Heights or depths in ft."""
    return [None if one is None else round(one / FOOT, 6) for one in heights]


def doors(*fixtures: str, heights: dict[str, float] | None = None, edges: str = HOUSE_BY_BED) -> str:
    listed = ", ".join(f"{{{one}}}" for one in fixtures)
    return slab(heights or STEEP, f"fixtures: [{listed}]", edges=edges)


def walk_slab(heights: dict[str, float], *sections: str, edges: str = "rest: bed", use: str = "walk") -> str:
    return slab(heights, *sections, edges=edges, use=use)


def ramp(heights: dict[str, float], more: str = "", edges: str = "rest: bed") -> str:
    """A way of 40 ft by 5: a landing of 5 ft at the head A-D, then a slope to 5 ft before the foot B-C."""
    points = {
        "A": (0, 0),
        "S": (5, 0),
        "U": (35, 0),
        "B": (40, 0),
        "C": (40, 5),
        "T": (35, 5),
        "R": (5, 5),
        "D": (0, 5),
    }
    lines = "  lines: [{kind: grade break, along: [S, R]}, {kind: grade break, along: [U, T]}]"
    site = "site: {accessible_route: [[0, 2.5], [40, 2.5]]}"
    return "\n".join([design(points, heights, edges, "A S U B C T R D", more=lines, use="walk"), site, more])


def profile(head: float, middle: float, foot: float) -> dict[str, float]:
    s = 100 - 5 * head
    u = s - 30 * middle
    b = u - 5 * foot
    return {"A": 100, "D": 100, "S": s, "R": s, "U": u, "T": u, "B": b, "C": b}
