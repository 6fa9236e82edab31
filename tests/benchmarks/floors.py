"""Generated shop floors of any size, with base shots: for measuring how time and memory grow."""

from __future__ import annotations

import math
import random
from pathlib import Path

BAY = 12.0  # ft
THICKNESS = 6.0  # in


def write_floor(folder: Path, panels: int, shots: int, seed: int = 7) -> Path:
    """A sound shop floor of about ``panels`` square bays with about ``shots`` base shots; returns the design file.

    The floor falls at most 1.2 % to an open ground edge, its base lies 6 in below it with a scatter of 1/8 in.
    """
    across = max(1, math.isqrt(panels))
    along = max(1, round(panels / across))
    width, length = across * BAY, along * BAY
    fall = min(0.012, 8.0 / length)  # no more than a rod can read
    chance = random.Random(seed)
    columns = max(2, math.isqrt(shots * along // max(across, 1)))
    rows = max(2, round(shots / columns))
    lines = ["setup,point,backsight,foresight,x,y", "1,BM,4.00,,,"]
    high = length * fall + 100.0
    for row in range(rows):
        for column in range(columns):
            x = width * row / (rows - 1)
            y = length * column / (columns - 1)
            base = high - y * fall - THICKNESS / 12 + chance.gauss(0, 1 / 96)
            lines.append(f"1,s{row * columns + column},,{high + 4.0 - base:.4f},{x:.3f},{y:.3f}")
    lines.append("1,BM,,4.00,,")
    name = f"floor_{across * along}"
    (folder / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    joints = [
        f"  - {{name: X{i}, from: [{i * BAY:g}, 0], to: [{i * BAY:g}, {length:g}], kind: saw cut, depth: 1 1/2 in}}"
        for i in range(1, across)
    ] + [
        f"  - {{name: Y{i}, from: [0, {i * BAY:g}], to: [{width:g}, {i * BAY:g}], kind: saw cut, depth: 1 1/2 in}}"
        for i in range(1, along)
    ]
    design = [
        "format: 1",
        f"job: {{name: Generated floor of {across * along} bays}}",
        "units: {plan: ft, height: ft}",
        "use: shop floor",
        "site: {freezing: none, outdoors: false, soil: {kind: sandy gravel, support: 200 pci}}",
        "points:",
        "  A: [0, 0]",
        f"  B: [{width:g}, 0]",
        f"  C: [{width:g}, {length:g}]",
        f"  D: [0, {length:g}]",
        "outline: [A, B, C, D]",
        "edges: [{rest: open ground}]",
        "heights:",
        f"  benches: {{BM: {high:.4f}}}",
        f"  finish: {{A: {high:.4f}, B: {high:.4f}, C: {high - length * fall:.4f}, D: {high - length * fall:.4f}}}",
        f"  base: {name}.csv",
        "thickness: {design: 6 in}",
        "joints:" if joints else "joints: []",
        *joints,
        "mix: {strength: 4000 psi, air: 2 %, slump: 4 in, aggregate: 1 in}",
    ]
    path = folder / f"{name}.slab.yaml"
    path.write_text("\n".join(design) + "\n", encoding="utf-8")
    return path
