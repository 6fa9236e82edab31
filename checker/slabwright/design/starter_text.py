"""The words of a starter design, section by section, as a foreman would write them."""

from __future__ import annotations

from slabwright.design.starter import ALLOWANCE, INCH, Sketch
from slabwright.units.quantity import Kind, read


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
  - {{vehicle: {vehicle}, axle: {axle}, wheels_per_axle: 2, tyre_pressure: {pressure}}}
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
