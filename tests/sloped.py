"""Designs of sloped slabs written in a test, and what becomes of them when a review is followed to the letter."""

from __future__ import annotations

import yaml
from design_text import review_by
from slabwright.review.report import Comment, Report
from slabwright.units.quantity import Amount, show

RECTANGLE = {"A": (0, 0), "B": (20, 0), "C": (20, 12), "D": (0, 12)}
L_SHAPE = {"A": (0, 0), "B": (20, 0), "C": (20, 20), "D": (10, 20), "E": (10, 10), "F": (0, 10)}
BOW = {"A": (0, 0), "B": (12, 0), "C": (12, 10), "M": (6, 16), "D": (0, 10)}  # a half circle on a 12 by 10 ft slab
VALLEY = {**RECTANGLE, "V1": (0, 6), "V2": (20, 6)}


def design(
    points: dict[str, tuple[float, float]],
    heights: dict[str, float],
    edges: str,
    outline: str = "A B C D",
    more: str = "",
    unit: str = "ft",
    use: str = "patio",
) -> str:
    """A design in YAML: ``edges`` has one a line, ``more`` follows the heights and may go on under them."""
    corners = ", ".join(outline.split()) if "{" not in outline else outline
    return "\n".join(
        [
            "format: 1",
            "job: {name: Test slab}",
            f"units: {{plan: {unit}, height: {unit}}}",
            f"use: {use}",
            "points: {" + ", ".join(f"{name}: [{x}, {y}]" for name, (x, y) in points.items()) + "}",
            f"outline: [{corners}]",
            "edges:",
            *(f"  - {{{line.strip()}}}" for line in edges.strip().splitlines()),
            "heights:",
            "  finish: {" + ", ".join(f"{name}: {height:.10f}" for name, height in heights.items()) + "}",
            *more.strip("\n").splitlines(),
            "thickness: {design: 4 in}",
        ]
    )


def plane(points: dict[str, tuple[float, float]], along_x: float, along_y: float) -> dict[str, float]:
    """Heights of points on the plane through 100 at the origin."""
    return {name: 100 + along_x * x + along_y * y for name, (x, y) in points.items()}


def followed(text: str, comment: Comment) -> str:
    """The design with every height that the comment tells to write, written as it is printed."""
    data = yaml.safe_load(text)
    values = comment.to_pass.values
    told = [slot.removeprefix("to") for slot in values if slot.startswith("to") and slot != "to_write"]
    assert told, comment.to_pass.template
    for number in told:
        height = values[f"to{number}"]
        assert isinstance(height, Amount)
        name = values.get(f"name{number}", values.get("point"))
        assert name in data["points"], name
        data["heights"]["finish"][name] = show(height, "us" if data["units"]["plan"] == "ft" else "metric", both=False)
    return yaml.safe_dump(data, sort_keys=False)


def all_followed(rule: str, text: str) -> Report:
    """The review after every comment of the one before has been followed."""
    for comment in review_by(rule, text).comments:
        text = followed(text, comment)
    return review_by(rule, text)
