"""A commented design to start from, for a use and a size; the size decides between inches and metric.

First the numbers, then the words, section by section, as a foreman would write them.
"""

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
    """Width along the building and depth away from it, meters, and the system they were typed in."""

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


def written(use: str, sketch: Sketch) -> str:
    """The whole text of the design."""
    parts = [_head(use, sketch), _site(sketch), _plan(sketch), _edges(use, sketch), _heights(use, sketch)]
    parts += [_slab(sketch), _joints(sketch), _steel(sketch), _loads(sketch), _mix(sketch), _order(sketch)]
    return "\n".join(part for part in parts if part)


def _head(use: str, sketch: Sketch) -> str:
    return f"""\
# A {use} to start from. Change what is not so on your job, then run: slabwright review THIS-FILE
# Every number carries its unit; bare numbers stand only under points and heights.
format: 1
job:
  name: {use.capitalize()}, to be named
  # pour: 2026-04-14        # the day, year first
units: {{plan: {sketch.unit}, height: {sketch.unit}}}
use: {use}
"""


def _site(sketch: Sketch) -> str:
    base = sketch.pick(("4 in", "100 mm"))
    if sketch.kit.indoors:
        weather = "  freezing: none            # under a roof and never soaked; severe if it freezes wet"
    else:
        weather = (
            "  freezing: severe          # none, moderate or severe: how hard it freezes while wet\n"
            "  deicing_salt: true        # salt spread here, or dripping off cars"
        )
    return f"""\
site:
{weather}
  base: {{material: crushed stone, thickness: {base}}}   # tamped in lifts; never on mud, frost or loose dirt
"""


def _plan(sketch: Sketch) -> str:
    width, depth = _number(sketch.width), _number(sketch.depth)
    return f"""\
# Corners: x runs along A-B, y away from it.
#   D ---- C
#   |      |
#   A ---- B
points:
  A: [0, 0]
  B: [{width}, 0]
  C: [{width}, {depth}]
  D: [0, {depth}]
outline: [A, B, C, D]
"""


_FILLER = ("{material: foam, thickness: 1/2 in, depth: full}", "{material: foam, thickness: 12 mm, depth: full}")

_BUILDING = {
    "patio": "house wall",
    "driveway": "garage",
    "vehicle pad": "workshop wall",
    "garage floor": "back wall",
    "shop floor": "back wall",
}


def _edges(use: str, sketch: Sketch) -> str:
    filler = sketch.pick(_FILLER)
    ground = _height(sketch.low - sketch.lip)
    lines = [
        "# What stands beside each edge. Filler goes against everything that cannot move, as deep as the slab.",
        "edges:",
    ]
    if use in _BUILDING:
        lines.append(f"  - {{run: [A, B], beside: building, name: {_BUILDING[use]}, isolation: {filler}}}")
    if sketch.kit.indoors:
        lines.append(f"  - {{run: [B, C], beside: building, name: right wall, isolation: {filler}}}")
        lines.append(f"  - {{run: [D, A], beside: building, name: left wall, isolation: {filler}}}")
        lines.append(f"  - {{run: [C, D], beside: open ground, name: big door, takes_water: true, ground: {ground}}}")
    elif use == "driveway":
        street = _height(sketch.low)
        lines.append(f"  - {{run: [C, D], beside: street, takes_water: true, ground: {street}}}")
        lines += _sides(sketch, "lawn")
    elif sketch.kit.across:
        lines.append(f"  - {{run: [B, C], beside: lawn, takes_water: true, ground: {ground}}}   # the low side")
        lines.append(f"  - {{run: [D, A], beside: lawn, ground: {_height(sketch.high - sketch.lip)}}}")
        lines.append("  - {rest: open ground}")
    else:
        beside = {"patio": "lawn", "vehicle pad": "gravel"}.get(use, "open ground")
        lines.append(f"  - {{run: [C, D], beside: {beside}, takes_water: true, ground: {ground}}}   # the low side")
        lines += _sides(sketch, beside)
        if use not in _BUILDING:
            lines.append("  - {rest: open ground}")
    return "\n".join(lines) + "\n"


def _sides(sketch: Sketch, beside: str) -> list[str]:
    """The two edges that run down the fall, the ground a lip below them."""
    high, low = _height(sketch.high - sketch.lip), _height(sketch.low - sketch.lip)
    return [
        f"  - {{run: [B, C], beside: {beside}, takes_water: true, ground: [{high}, {low}]}}",
        f"  - {{run: [D, A], beside: {beside}, takes_water: true, ground: [{low}, {high}]}}",
    ]


def _heights(use: str, sketch: Sketch) -> str:
    high, low = _height(sketch.high), _height(sketch.low)
    a, b, c, d = (high, low, low, high) if sketch.kit.across else (high, high, low, low)
    way = "across, from A-D down to B-C" if sketch.kit.across else "away, from A-B down to C-D"
    sill = f"{'door sill' if use in _BUILDING and not sketch.kit.indoors else 'bench mark'} = {sketch.sill:.2f}"
    text = f"""\
# Heights: bigger is higher (a rod reads the other way round). It falls {sketch.kit.fall * 100:g} % {way}.
heights:
  datum: {sill}
  finish: {{A: {a}, B: {b}, C: {c}, D: {d}}}
  # base: {{A: .., B: ..}}   # shots on the tamped base: with them the review finds thin spots and the true volume
"""
    if use in _BUILDING and not sketch.kit.indoors:
        below = sketch.pick(("1 in", "25 mm"))
        text += f"""
# Heights that cannot move, and what they ask of the slab.
fixed:
  - {{name: door sill, kind: sill, along: [A, B], height: {sketch.sill:.2f}, slab: at least {below} below}}
"""
    return text


def _slab(sketch: Sketch) -> str:
    board, design = sketch.pick(sketch.kit.section.board), sketch.pick(sketch.kit.section.thickness)
    shallow = read(design, Kind.DEPTH).si > _board(board)
    below = (
        "\n  dug_below_form: true      # the board is shallower than the slab; dig to depth inside it"
        if shallow
        else ""
    )
    real = sketch.pick(("a 2x4 is 3 1/2 in, a 2x6 is 5 1/2 in", "measure it, planed boards are less than their name"))
    return f"""\
thickness:
  design: {design}
  form_board: {board}           # real depth counts: {real}{below}
"""


def _board(name: str) -> float:
    sizes = {"2x4": 3.5 * INCH, "2x6": 5.5 * INCH, "2x8": 7.25 * INCH}
    return sizes[name] if name in sizes else read(name, Kind.DEPTH).si


def _joints(sketch: Sketch) -> str:
    lines = []
    for number in range(1, sketch.across):
        x = _number(sketch.width * number / sketch.across)
        lines.append(f"[{x}, 0], to: [{x}, {_number(sketch.depth)}]")
    for number in range(1, sketch.along):
        y = _number(sketch.depth * number / sketch.along)
        lines.append(f"[0, {y}], to: [{_number(sketch.width)}, {y}]")
    if not lines:
        return ""
    depth = sketch.pick(sketch.kit.section.joint_depth)
    joints = [
        f"  - {{name: J{number}, kind: saw cut, from: {line}, depth: {depth}, cut_after: 6 h}}"
        for number, line in enumerate(lines, 1)
    ]
    return "\n".join([
        "# Joints: it will crack; this is where. Keep panels near square; a quarter of the thickness is the least cut.",
        "joints:",
        *joints,
        "",
    ])  # fmt: skip


def _steel(sketch: Sketch) -> str:
    if not sketch.kit.steel:
        return "reinforcement: none         # close joints do the work; steel only holds a crack shut\n"
    size, spacing, cover, short, apart = (
        ("12 mm", "450 mm", "50 mm", "75 mm", "0.9 m") if sketch.metric else ('"#4"', "18 in", "2 in", "3 in", "3 ft")
    )
    return f"""\
# Steel works only where it is held: chairs, not hooks and hope.
reinforcement:
  bars:
    size: {size}
    spacing: {spacing}
    top_cover: {cover}
    held_by: chairs
    support_spacing: {apart}
    ends_short: {short}         # clear of the forms
    at_joints: stop
"""


def _loads(sketch: Sketch) -> str:
    vehicle, axle = sketch.kit.vehicle, sketch.pick(sketch.kit.axle)
    if not vehicle:
        return ""
    pressure = sketch.pick(("60 psi", "410 kPa"))
    return f"""\
# The heaviest axle that will ever stand here.
loads:
  - {{vehicle: {vehicle}, axle: {axle}, wheels_per_axle: 2, tire_pressure: {pressure}}}
"""


def _mix(sketch: Sketch) -> str:
    strength, slump, stone = (
        sketch.pick(sketch.kit.strength),
        sketch.pick(("4 in", "100 mm")),
        sketch.pick(("3/4 in", "20 mm")),
    )
    air = "" if sketch.kit.indoors else "\n  air: 6 %                  # what keeps a wet slab from scaling in frost"
    return f"""\
mix:
  strength: {strength}{air}
  slump: {slump}               # asked for and checked on the ticket; no water added on site
  aggregate: {stone}
  water_cement: 0.45
"""


def _order(sketch: Sketch) -> str:
    truck = sketch.truck()
    return f"""\
order:
  volume: {sketch.order()}
  truck: {truck}
  allowance: {ALLOWANCE * 100:g} %             # for spillage and an uneven base
  allowance_inside: true
  method: chute
"""


def _number(value: float) -> str:
    return f"{round(value, 4):g}" if abs(value) < 1 else f"{value:.4f}".rstrip("0").rstrip(".")


def _height(value: float) -> str:
    text = f"{value:.4f}".rstrip("0")
    whole, _, part = text.partition(".")
    return f"{whole}.{part:0<2}"
