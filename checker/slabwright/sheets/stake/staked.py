"""What the stake sheet is made from: pins, bench and rectangle of one plan, and how a reading is written."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from slabwright.design.model import Design
from slabwright.formulas import layout
from slabwright.formulas.units import FOOT
from slabwright.plan.plan import Plan
from slabwright.sheets.sheet import Cell, Reading
from slabwright.sheets.stake.lines import Line, usual_line
from slabwright.sheets.stake.marks import LAP
from slabwright.sheets.stake.pins import Pin, set_out
from slabwright.sheets.stake.squaring import Rectangle, rectangles
from slabwright.units.quantity import Amount, System, eighths, height, length, numerals, tenths

SCREED: dict[System, float] = {"us": 10 * FOOT, "metric": 3.0}  # m, `common-practice`
LONGEST_ROD = 25 * FOOT  # m; nothing longer is carried
SCALES: dict[System, tuple[str, str]] = {"us": ("ft", "ft-in"), "metric": ("m", "mm")}  # of a rod


@dataclass(frozen=True, slots=True)
class Bench:
    """A bench and the rod reading on it, from one instrument position."""

    name: str
    height: Amount
    backsight: Amount

    @property
    def instrument(self) -> float:
        """Height of instrument, m."""
        return layout.instrument_height(self.height.si, self.backsight.si)


@dataclass(frozen=True, slots=True)
class Stakes:
    """Everything the stake sheet is made from."""

    plan: Plan
    line: Line
    pins: tuple[Pin, ...]
    rectangles: tuple[Rectangle, ...]  # the main one first
    screed: float
    spacing: float  # that no two pins along a line are further apart than, m
    bench: Bench | None = None
    diagonal: Amount | None = None  # as measured, from the rectangle's first corner to its third


def stakes(
    plan: Plan,
    bench: Bench | None = None,
    screed: float | None = None,
    line: Line | None = None,
    diagonal: Amount | None = None,
) -> Stakes:
    """Set out a plan: ``screed`` in m (10 ft or 3 m without one), places from ``line`` (the usual one without one)."""
    reach = SCREED[plan.system] if screed is None else screed
    from_line = line or usual_line(plan)
    spacing = max(reach - LAP[plan.system], reach / 2)
    pins = set_out(plan, from_line, spacing)
    return Stakes(plan, from_line, pins, rectangles(plan, from_line), reach, spacing, bench, diagonal)


def known_heights(design: Design) -> dict[str, Amount]:
    """Everything a rod can stand on to start: benches, then fixed things that have one height."""
    fixed = {thing.name: thing.height[0] for thing in design.fixed if len(thing.height) == 1}
    return {**fixed, **design.heights.benches}


def rod(m: float, system: System, scale: int) -> str:
    """A rod reading on the first or the second scale of its system, with its unit; whole millimeters on both.

    >>> rod(1.3505, "metric", 0), rod(1.3505, "metric", 1)
    ('1.351 m', '1351 mm')
    """
    if system == "us":
        return numerals(tenths(m), system) if scale == 0 else eighths(m)
    millimeters = floor(m * 1000 + 0.5 + 1e-6)
    return numerals(f"{millimeters / 1000:.3f} m", system) if scale == 0 else f"{millimeters} mm"


def tape(m: float, system: System) -> Reading:
    """A tape: feet, inches and eighths, or meters to the millimeter."""
    return Reading(eighths(m) if system == "us" else numerals(f"{round(m, 3) + 0.0:.3f} m", system), length(m))


def rod_cell(wanted: float | None, system: System) -> Cell:
    """A reading wanted, on the first scale of the rod; empty where there is none."""
    return "" if wanted is None else Reading(rod(wanted, system, 0).rpartition(" ")[0], length(wanted))


def level(m: float | None, system: System) -> Cell:
    """A height as it is written on a stake, without its unit: hundredths of a foot, or millimeters."""
    if m is None:
        return "not given"
    size, places = (m / FOOT, 2) if system == "us" else (m, 3)
    return Reading(numerals(f"{round(size, places) + 0.0:.{places}f}", system), height(m))
