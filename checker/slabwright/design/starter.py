"""A commented design to start from, for a use and a size; the size decides between inches and metric."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import get_args

from slabwright.design.model import Use
from slabwright.formulas.ordering import headroom, last_load, loads
from slabwright.source.problem import refuse
from slabwright.units.quantity import Kind, QuantityError, System, read

FOOT, INCH, YARD3 = 0.3048, 0.0254, 0.9144**3
LEAST_SIDE, MOST_SIDE = 0.6, 61.0  # m
MOST_ASPECT = 1.25  # of a panel, so that the crew has room to shift a joint
ALLOWANCE = 0.08
ROOM, WORTH = 0.5 * INCH, 3 * YARD3  # m of depth before another truck is needed; m3 worth a trip; common practice

USES: tuple[Use, ...] = get_args(Use)

_TIMES = re.compile(r"\s*[x×X*]\s*|\s+by\s+")


Pair = tuple[str, str]  # the text for a design in inches, and in metric


@dataclass(frozen=True, slots=True)
class Section:
    """A thickness, the board that forms it, and a cut of a quarter of it."""

    thickness: Pair
    board: Pair
    joint_depth: Pair


@dataclass(frozen=True, slots=True)
class Kit:
    """What a use calls for."""

    section: Section
    fall: float  # share of the run
    across: bool = False  # falls across its width (a walk), not away from the building
    steel: bool = False
    indoors: bool = False
    vehicle: str = ""
    axle: Pair = ("", "")
    strength: Pair = ("4500 psi", "31 MPa")


_FOUR = Section(("4 in", "100 mm"), board=("2x4", "90 mm"), joint_depth=("1 in", "30 mm"))
_FIVE = Section(("5 in", "125 mm"), board=("2x6", "140 mm"), joint_depth=("1 1/4 in", "35 mm"))
_SIX = Section(("6 in", "150 mm"), board=("2x8", "184 mm"), joint_depth=("1 1/2 in", "40 mm"))

KITS: dict[str, Kit] = {
    "patio": Kit(_FOUR, fall=0.02),
    "walk": Kit(_FOUR, fall=0.02, across=True),
    "driveway": Kit(_FIVE, fall=0.02, steel=True, vehicle="pickup", axle=("4000 lb", "17.5 kN")),
    "vehicle pad": Kit(_SIX, fall=0.02, steel=True, vehicle="motor home", axle=("12000 lb", "53 kN")),
    "garage floor": Kit(_FIVE, fall=0.0125, steel=True, indoors=True, vehicle="car", axle=("3000 lb", "13 kN")),
    "shop floor": Kit(_SIX, fall=0.0125, steel=True, indoors=True, vehicle="forklift", axle=("8000 lb", "36 kN")),
    "equipment pad": Kit(_SIX, fall=0.02, steel=True),
}


@dataclass(frozen=True, slots=True)
class Size:
    """Width along the building and depth away from it, metres, and the system they were typed in."""

    width: float
    depth: float
    system: System


def starter(use: str, size: str) -> str:
    """The text of a starter design.

    ``size`` is typed as ``20 ft x 40 ft``: along the building, then away from it. Raises
    :class:`UnreadableError` for a use or a size that cannot be read.
    """
    if use not in USES:
        near = get_close_matches(use, USES, 1)
        refuse("", f"there is no use {use!r}", near[0] if near else f"one of: {', '.join(USES)}")
    from slabwright.design.starter_text import written

    return written(use, Sketch(KITS[use], read_size(size)))


def read_size(text: str) -> Size:
    """Width and depth from ``20 ft x 40 ft`` (the unit may stand once: ``20 x 40 ft``).

    >>> read_size("6 m x 12 m")
    Size(width=6.0, depth=12.0, system='metric')
    """
    parts = [part for part in _TIMES.split(text.strip()) if part]
    if len(parts) != 2:
        refuse("", f"{text!r} is not two sides", '"20 ft x 40 ft" or "6 m x 12 m"')
    unit = re.search(r"[a-zA-Z]+$", parts[1])
    if re.fullmatch(r"[\d.\s]+", parts[0]) and unit:
        parts[0] += f" {unit[0]}"
    sides = []
    for part in parts:
        try:
            sides.append(read(part, Kind.LENGTH).si)
        except QuantityError as error:
            refuse("", error.wrong, error.write)
    for side, part in zip(sides, parts, strict=True):
        if not LEAST_SIDE <= side <= MOST_SIDE:
            outside = f"a side of {part} is outside 2 ft to 200 ft (0.6 m to 61 m)"
            refuse("", outside, "a slab that is poured in one piece")
    metric = re.search(r"\d\s*(m|mm|cm)\b", parts[1], re.IGNORECASE) is not None
    return Size(sides[0], sides[1], "metric" if metric else "us")


def grid(width: float, depth: float, longest: float) -> tuple[int, int]:
    """Fewest panels across and along with no side over ``longest`` (m) and none far from square.

    >>> grid(6.0, 12.0, 3.0)
    (2, 4)
    """
    best: tuple[int, int] | None = None
    most = math.ceil(MOST_SIDE / LEAST_SIDE * MOST_ASPECT * 2)
    for across in range(max(1, math.ceil(width / longest - 1e-9)), most):
        if best and across > best[0] * best[1]:
            break
        for along in range(max(1, math.ceil(depth / longest - 1e-9)), most):
            sides = sorted((width / across, depth / along))
            if sides[1] / sides[0] <= MOST_ASPECT and (best is None or across * along < best[0] * best[1]):
                best = (across, along)
                break
    return best or (1, 1)


class Sketch:
    """Numbers of one design in the units it is written in."""

    def __init__(self, kit: Kit, size: Size) -> None:
        self.kit, self.metric = kit, size.system == "metric"
        self.unit = "m" if self.metric else "ft"
        step = 1.0 if self.metric else FOOT
        self.width, self.depth = round(size.width / step, 4), round(size.depth / step, 4)
        self.thickness = read(self.pick(kit.section.thickness), Kind.DEPTH).si
        self.across, self.along = grid(size.width, size.depth, 24 * self.thickness)
        self.sill = 30.0 if self.metric else 100.0
        self.high = self.sill - (0.03 if self.metric else 0.1)
        run = self.width if kit.across else self.depth
        self.low = self.high - kit.fall * run
        self.lip = 0.03 if self.metric else 0.1  # the edge stands this far above the lawn
        self.volume = size.width * size.depth * self.thickness

    def pick(self, pair: Pair) -> str:
        """The text for the system in use."""
        return pair[1] if self.metric else pair[0]

    def order(self) -> str:
        """Volume to order: with the allowance, rounded up to what plants sell."""
        wanted = self.volume * (1 + ALLOWANCE)
        if self.metric:
            return f"{math.ceil(wanted * 10 - 1e-9) / 10:g} m3"
        return f"{math.ceil(wanted / YARD3 * 4 - 1e-9) / 4:g} yd3"

    def truck(self) -> str:
        """A usual truck: the first that leaves half an inch of room and makes the last load worth its trip."""
        size, unit = (1.0, "m3") if self.metric else (YARD3, "yd3")
        usual = (7.5, 7, 8, 6) if self.metric else (10, 9, 11, 8)
        comes = read(self.order(), Kind.VOLUME).si
        area = self.volume / self.thickness
        for truck in usual:
            trucks, last = loads(comes, truck * size), last_load(comes, truck * size)
            room = headroom(trucks * truck * size, self.volume, area, ALLOWANCE)
            if room >= ROOM and (trucks == 1 or last >= WORTH):
                return f"{truck:g} {unit}"
        return f"{usual[0]:g} {unit}"
