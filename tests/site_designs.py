"""Designs for the tests of the stake sheet and the pour-day card, and the published numbers they are held to."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from checkout import ROOT
from design_text import plan_of
from published import checks
from slabwright.design.read import read_design
from slabwright.design.starter.answers import answered
from slabwright.design.starter.written import starter
from slabwright.design.uses import CALLED
from slabwright.plan.plan import Plan

JOBS = ROOT / "example_designs" / "jobs"
FOOT, INCH, YARD3 = 0.3048, 0.0254, 0.9144**3

# 20 ft by 30 ft, level at 99.92 ft, 4 in on 4 in of stone, the bench at 100.00: the numbers of check lv-pins.
PAD = """\
format: 1
job: {name: Bin store, pour: 2026-05-04}
units: {plan: ft, height: ft}
use: patio
site: {base: {material: crushed stone, thickness: 4 in}}
points: {A: [0, 0], B: [30, 0], C: [30, 20], D: [0, 20]}
outline: [A, B, C, D]
heights:
  benches: {hydrant: 100.00}
  finish: {A: 99.92, B: 99.92, C: 99.92, D: 99.92}
thickness: {design: 4 in}
"""

METRIC = """\
format: 1
job: {name: Bin store}
units: {plan: m, height: m}
use: patio
site: {base: {material: crushed stone, thickness: 100 mm}}
points: {A: [0, 0], B: [9, 0], C: [9, 6], D: [0, 6]}
outline: [A, B, C, D]
heights:
  benches: {hydrant: 30.000}
  finish: {A: 29.950, B: 29.950, C: 29.880, D: 29.880}
thickness: {design: 100 mm}
"""


def printed(check: str, name: str) -> float:
    """A number of the published checks, in the unit it is printed in."""
    found = next(one for one in checks() if one.id == check)
    return float({**found.inputs, **found.expected}[name].split(" ")[0])


def whole_plans(folder: Path) -> Iterator[tuple[str, Plan]]:
    """Every whole job, and a starter for every use in both unit systems."""
    for path in sorted(JOBS.glob("*.slab.yaml")):
        yield path.name, Plan(read_design(path)[0])
    for use in CALLED:
        for number, size in enumerate(("20 ft x 40 ft", "6 m x 9 m")):
            path = folder / f"{use} {number}.slab.yaml"
            path.write_text(starter(answered({"use": use, "size": size})), encoding="utf-8")
            yield f"{use}, {size}", Plan(read_design(path)[0])


def pad(*changes: tuple[str, str], text: str = PAD) -> Plan:
    """The pad with some of its text changed; each must be there once."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return plan_of(text)
