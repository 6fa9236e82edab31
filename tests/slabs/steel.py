"""Slabs and parts of design files that the tests of several rules on steel share."""

from __future__ import annotations

from design_text import pad, review_by
from slabwright.review.report import Comment, Report
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.units.quantity import Amount

RULES = ("steel-held-up", "steel-position", "bar-spacing", "stone-between-bars", "steel-at-joints")
JOINT = "joints: [{kind: saw cut, from: [6, 0], to: [6, 9], depth: 1 1/4 in}]"
MESH = "mesh: {style: 6x6 W2.9, held_by: chairs, top_cover: 1 1/2 in}"


def review(
    rule: str, steel: str, thickness: str = "5 in", more: str = "", use: str = "shop floor", unit: str = "ft"
) -> Report:
    """The review of a slab 12 by 9 with ``steel`` under reinforcement."""
    size = "[[0, 0], [12, 0], [12, 9], [0, 9]]" if unit == "ft" else "[[0, 0], [4, 0], [4, 3], [0, 3]]"
    steel = f"reinforcement: {steel}\n" if steel else ""
    return review_by(rule, pad(steel + more, use, unit, outline=size, thick=thickness))


def bars(size: str = "#4", spacing: str = "18 in", **more: str) -> str:
    return f"{{{bars_key(size, spacing, **more)}}}"


def mesh(style: str = "6x6 W2.9", **more: str) -> str:
    return f"{{{mesh_key(style, **more)}}}"


def floor(steel: str, length: str = "24", thickness: str = "8 in", joints: str = "", unit: str = "ft") -> str:
    outline = f"[[0, 0], [{length}, 0], [{length}, 8], [0, 8]]"
    return pad(f"{joints}\nreinforcement: {steel}", "garage floor", unit, outline=outline, thick=thickness)


def slot(comment: Comment, name: str) -> Amount:
    value = comment.to_pass.values[name]
    assert isinstance(value, Amount)
    return value


def slab(
    steel: str,
    thick: str = "5 in",
    more: str = "",
    use: str = "patio",
    unit: str = "ft",
    size: tuple[float, float] = (12, 9),
) -> str:
    x, y = size
    outline = f"[[0, 0], [{x}, 0], [{x}, {y}], [0, {y}]]"
    return pad(f"reinforcement: {{{steel}}}\n{more}", use, unit, outline=outline, thick=thick)


def bars_key(size: str = "#4", spacing: str = "18 in", **more: str) -> str:
    return (
        f'bars: {{size: "{size}", spacing: {spacing}'
        + "".join(f", {key}: {value}" for key, value in more.items())
        + "}"
    )


def mesh_key(style: str = "6x6 W2.9", **more: str) -> str:
    return f"mesh: {{style: {style}" + "".join(f", {key}: {value}" for key, value in more.items()) + "}"


def asked(said: Finding | Margin) -> float:
    assert said.asked is not None
    return said.asked.si


def at_pool(steel: str, edges: str = "{run: [[0, 0], [8, 0]], beside: pool, name: coping}, {rest: lawn}") -> str:
    return pad(f"edges: [{edges}]\n{steel}")


def beam(layers: str, more: str = "") -> str:
    run = f"{{run: [[0, 0], [24, 0]], depth: 12 in, taper: 1 ft, bars: [{layers}]}}"
    return pad(more, side="24").replace(
        "thickness: {design: 4 in}", f"thickness: {{design: 4 in, thickened_edges: [{run}]}}"
    )
