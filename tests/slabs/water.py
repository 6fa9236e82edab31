"""Slabs and parts of design files that the tests of several rules on water share."""

from __future__ import annotations

from sloped import RECTANGLE, plane

GARDEN = "rest: lawn, ground: 90"
HOUSE = "run: [A, B], beside: building, name: house wall\nrest: lawn, ground: 90"
V_LINE = "  lines: [{name: valley, kind: valley, along: [V1, V2]}]"
RIDGE = "  lines: [{name: ridge, kind: ridge, along: [R1, R2]}]"


def slope_to(x: float, y: float = 0.0) -> dict[str, float]:
    return plane(RECTANGLE, x, y)


def with_sections(text: str, *sections: str) -> str:
    return "\n".join([text, *sections])
