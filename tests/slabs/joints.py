"""Slabs and parts of design files that the tests of several rules on joints share."""

from __future__ import annotations

from design_text import pad
from judged import findings

# 40 ft x 20 ft x 4 in: 9.877 yd3
BULKHEAD = "joints: [{name: stop, kind: construction joint, from: [20, 0], to: [20, 20], depth: 4 in}]\n"
LONG = "[[0, 0], [40, 0], [40, 20], [0, 20]]"


def design(
    outline: str, thickness: str = "4 in", joints: str = "", more: str = "", use: str = "patio", unit: str = "ft"
) -> str:
    """A slab of ``outline`` in YAML; ``joints`` has one ``{...}`` a line, ``more`` whole sections."""
    lines = ["joints:", *(f"  - {one.strip()}" for one in joints.strip().splitlines()), ""] if joints else []
    return pad("\n".join(lines) + more, use, unit, outline=outline, thick=thickness)


def rectangle(length: str, width: str) -> str:
    return f"[[0, 0], ['{length}', 0], ['{length}', '{width}'], [0, '{width}']]"


def cut(name: str, start: tuple[float, float], end: tuple[float, float], kind: str = "saw cut") -> str:
    return f"{{name: {name}, from: {list(start)}, to: {list(end)}, kind: {kind}, depth: 1 in}}"


def terrace(apart: str, joints: str = "", volume: str = "11 yd3", truck: str = "6 yd3", rate: str = "12 yd3/h") -> str:
    """Two loads, the first of which is placed in half an hour."""
    pour = f"pour: {{rate: {rate}{f', trucks_apart: {apart}' if apart else ''}}}\n"
    return pad(joints + pour + f"order: {{volume: {volume}, truck: {truck}}}", outline=LONG)


def box(x: float, y: float) -> str:
    return f"[[0, 0], [{x}, 0], [{x}, {y}], [0, {y}]]"


def cut_at(x: float, top: float = 8, name: str = "", kind: str = "saw cut", more: str = "") -> str:
    """A joint straight up at ``x``, from the bottom to ``top``."""
    named = f"name: {name}, " if name else ""
    return f"{{{named}kind: {kind}, from: [{x}, 0], to: [{x}, {top}]{more}}}"


def joints(*written: str) -> str:
    return f"joints: [{', '.join(written)}]\n"


def falls(name: str, design: str) -> list[str]:
    """Names of what falls short, in order."""
    return [finding.at.name for finding in findings(name, design)]


def jointed_slab(
    joints: str = "",
    more: str = "",
    use: str = "patio",
    size: tuple[float, float] = (16, 8),
    thickness: str = "4 in",
    unit: str = "ft",
) -> str:
    x, y = size
    lines = "joints:\n" + "\n".join(f"  - {{{one}}}" for one in joints.split(" | ")) + "\n" if joints else ""
    points = f"points: {{A: [0, 0], B: [{x}, 0], C: [{x}, {y}], D: [0, {y}]}}\n"
    return pad(points + lines + more, use, unit, outline="[A, B, C, D]", thick=thickness)


def timed_cut(wait: str, kind: str = "saw cut", name: str = "J1", at: float = 8) -> str:
    after = f", cut_after: {wait}" if wait else ""
    return f"name: {name}, from: [{at}, 0], to: [{at}, 8], kind: {kind}, depth: 1 in{after}"
