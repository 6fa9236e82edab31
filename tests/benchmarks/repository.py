"""A generated job repository: many small designs of several kinds, some broken, and what reading them costs.

``python tests/benchmarks/repository.py FOLDER`` writes the files, if there are none, and prints the seconds of
:func:`reference`, the yardstick of a review of them: parsing with PyYAML's C loader and validating with jsonschema,
in one process on one core.
"""

from __future__ import annotations

import json
import random
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = ROOT / "schemas" / "design.schema.json"

DESIGNS = 1_000
BROKEN = 0.05

# Slips that keep a file from being read as a design: a number without a unit, a key misspelt, a bracket left open, a
# point that is not there, a value out of range.
_SLIPS = (
    ("thickness: {design: ", "thickness: {design: 4, was: "),
    ("outline: [", "outlin: ["),
    ("outline: [A, B, C, D", "outline: [A, B, C, D, Q9"),
    ("edges:\n", "edges:\n  - {run: [A, B], beside: moat}\n"),
    ("mix: {", "mix: {strength: 4000 psi, "),
)


def write_repository(folder: Path, designs: int = DESIGNS, broken: float = BROKEN, seed: int = 11) -> list[Path]:
    """Write ``designs`` files of 20 to 60 lines into folders by year, a share of ``broken`` of them not readable."""
    chance = random.Random(seed)
    bad = set(chance.sample(range(designs), round(designs * broken)))
    written = []
    for number in range(designs):
        text = _design(number, chance)
        if number in bad:
            old, new = _SLIPS[number % len(_SLIPS)]
            text = text.replace(old, new, 1)
        path = folder / f"{2020 + number % 5}" / f"job_{number:04d}.slab.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        written.append(path)
    return written


def _design(number: int, chance: random.Random) -> str:
    """One job: a slab beside a house, straight off it, some with joints missing, too deep a cut or no isolation."""
    metric = chance.random() < 0.3
    wide, long = chance.randint(1, 3), chance.randint(1, 4)
    bay = 3.0 if metric else float(chance.choice((8, 10, 12)))
    width, length = wide * bay, long * bay
    use = chance.choice(("patio", "walk", "driveway", "garage floor"))
    inch = "100 mm" if metric else chance.choice(("4 in", "5 in", "6 in"))
    fall = chance.choice((0.005, 0.012, 0.02))
    top = 99.9 if not metric else 9.95
    low = top - fall * length
    unit = "m" if metric else "ft"
    wall = chance.random() < 0.8
    cut = ("30 mm" if metric else "1 1/2 in") if chance.random() < 0.8 else ("15 mm" if metric else "1/2 in")
    lines = [
        "# yaml-language-server: $schema=../../schemas/design.schema.json",
        "format: 1",
        "job:",
        f"  name: {use.title()} number {number}",
        f"  number: {number // 100:02d}-{number % 100:02d}",
        f"  pour: 2027-{1 + number % 12:02d}-{1 + number % 28:02d}",
        f"units: {{plan: {unit}, height: {unit}}}",
        f"use: {use}",
        "site:",
        f"  freezing: {chance.choice(('none', 'moderate', 'severe'))}",
        f"  deicing_salt: {chance.choice(('true', 'false'))}",
        "  soil: {kind: silty sand, support: 150 pci}",
        f"  base: {{material: crushed stone, thickness: {'100 mm' if metric else '4 in'}}}",
        "points:",
        "  A: [0, 0]",
        f"  B: [{width:g}, 0]",
        f"  C: [{width:g}, {length:g}]",
        f"  D: [0, {length:g}]",
        "outline: [A, B, C, D]",
        "edges:",
        "  - run: [A, B]",
        f"    beside: {'building' if wall else 'lawn'}",
        "    name: house wall",
    ]
    if wall and chance.random() < 0.7:
        lines += [f"    isolation: {{material: foam, thickness: {'12 mm' if metric else '1/2 in'}, depth: full}}"]
    lines += ["  - {rest: open ground}"]
    if chance.random() < 0.9:
        lines += [
            "heights:",
            f"  datum: sill = {top + 0.1:.3f}",
            f"  finish: {{A: {top:.3f}, B: {top:.3f}, C: {low:.3f}, D: {low:.3f}}}",
        ]
    lines += [f"thickness: {{design: {inch}}}"]
    if (wide > 1 or long > 1) and chance.random() < 0.85:
        lines += ["joints:"]
        lines += [
            f"  - {{name: X{i}, kind: saw cut, from: [{i * bay:g}, 0], to: [{i * bay:g}, {length:g}], depth: {cut}}}"
            for i in range(1, wide)
        ]
        lines += [
            f"  - {{name: Y{i}, kind: saw cut, from: [0, {i * bay:g}], to: [{width:g}, {i * bay:g}], depth: {cut}}}"
            for i in range(1, long)
        ]
    if chance.random() < 0.6:
        lines += [
            "reinforcement:",
            "  bars:",
            f'    size: "{"10M" if metric else "#4"}"',
            f"    spacing: {'450 mm' if metric else '18 in'}",
            f"    top_cover: {'40 mm' if metric else '1 1/2 in'}",
            f"    held_by: {chance.choice(('chairs', 'nothing'))}",
        ]
    if use in ("driveway", "garage floor"):
        lines += [
            "loads:",
            f"  - {{vehicle: car, axle: {'9 kN' if metric else '2000 lb'}, wheels_per_axle: 2}}",
        ]
    lines += [
        f"mix: {{strength: {'28 MPa' if metric else '4000 psi'}, air: {chance.choice((2, 5, 6))} %,"
        f" slump: {'100 mm' if metric else '4 in'}}}",
    ]
    if chance.random() < 0.6:
        yards = width * length / 27 * 5 / 12 if not metric else width * length * 0.11
        lines += ["order:", f"  volume: {yards:.1f} {'m3' if metric else 'yd3'}", "  allowance: 8 %"]
    if chance.random() < 0.5:
        lines += ["pour:", '  start: "07:00"', f"  crew: {chance.randint(2, 5)}", "  finish: broom"]
    return "\n".join(lines) + "\n"


def reference(paths: list[Path]) -> float:
    """Seconds that parsing all files with PyYAML's C loader and validating them with jsonschema takes here."""
    import jsonschema
    import yaml

    validator = jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
    start = time.perf_counter()
    for path in paths:
        try:
            data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
        except yaml.YAMLError:
            continue
        for _ in validator.iter_errors(data):
            pass
    return time.perf_counter() - start


if __name__ == "__main__":
    folder = Path(sys.argv[1])
    print(f"{reference(sorted(folder.rglob('*.slab.yaml')) or write_repository(folder)):.3f}")
