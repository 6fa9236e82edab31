"""The text of a starter design, section by section, as a foreman would write it."""

from __future__ import annotations

from slabwright.design.starter.answers import Answers, Pair
from slabwright.design.starter.shape import XY
from slabwright.design.starter.sketch import ALLOWANCE, Sketch
from slabwright.source import locate

LEVEL = 1e-6
ALONG = 0.1  # of the fall: a side that runs down with it

_FILLER = ("{material: foam, thickness: 1/2 in, depth: full}", "{material: foam, thickness: 12 mm, depth: full}")


def schema_line() -> str:
    """The first line of a design, by which editors find its schema on this computer, with no network.

    The address is a file URI, since the convention knows no blanks in it.
    """
    schema = (locate.folder("schemas") / "design.schema.json").resolve().as_uri()
    return f"# yaml-language-server: $schema={schema}\n"


def starter(answers: Answers) -> str:
    """The whole text of the design. An outline with inside corners has one joint, to be laid out from."""
    sketch = Sketch(answers)
    parts = [_head(sketch), _site(sketch), _plan(sketch), _edges(sketch), _heights(sketch), _slab(sketch)]
    parts += [_joints(sketch), _steel(sketch), _loads(sketch), _mix(sketch), _order(sketch)]
    return schema_line() + "\n".join(part for part in parts if part)


def _head(sketch: Sketch) -> str:
    use = sketch.answers.use
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
    freezing, base = sketch.answers.freezing, sketch.pick(("4 in", "100 mm"))
    if sketch.kit.indoors and freezing == "none":
        weather = "  freezing: none            # under a roof and never soaked; severe if it freezes wet"
    elif freezing == "none":
        weather = "  freezing: none            # none, moderate or severe: how hard it freezes while wet"
    else:
        salt = freezing == "salt"
        said = "salt spread here, or dripping off cars" if salt else "true where salt is spread, or drips off cars"
        hard = "severe" if salt else freezing
        weather = (
            f"  freezing: {f'{hard}':<16}# none, moderate or severe: how hard it freezes while wet\n"
            f"  deicing_salt: {f'{salt}'.lower():<12}# {said}"
        )
    return f"""\
site:
{weather}
  base: {{material: crushed stone, thickness: {base}}}   # tamped in lifts; never on mud, frost or loose dirt
"""


def _plan(sketch: Sketch) -> str:
    outline = sketch.outline
    picture = "\n".join(f"# {line}" for line in outline.picture.splitlines())
    rows = "\n".join(f"  {name}: {_spot(at)}" for name, at in zip(outline.letters, sketch.corners, strict=True))
    text = f"""\
# Corners: x runs along A-B, y away from it.
{picture}
points:
{rows}
outline: [{", ".join(outline.letters)}]
"""
    if outline.measured:
        lengths = "\n".join(f"  - {{from: {a}, to: {b}, length: {long}}}" for a, b, long in outline.measured)
        text += f"# As taped: the corners above were worked from these.\nmeasured:\n{lengths}\n"
    return text


def _edges(sketch: Sketch) -> str:
    answers = sketch.answers
    lines = [
        "# What stands beside each edge. Filler goes against everything that cannot move, as deep as the slab.",
        "edges:",
    ]
    for side, name in enumerate(sketch.outline.sides):
        run = f"run: [{name[0]}, {name[2]}]"
        if side in answers.walls:
            filler = sketch.pick(_FILLER)
            called = sketch.kit.wall or "house wall"
            if len(answers.walls) > 1:
                called += f" {name}"
            lines.append(f"  - {{{run}, beside: building, name: {called}, isolation: {filler}}}")
        else:
            lines.append(_open_edge(sketch, side, run))
    return "\n".join(lines) + "\n"


def _open_edge(sketch: Sketch, side: int, run: str) -> str:
    """An edge that stands free: whether water leaves over it, and the ground beside."""
    answers, kit = sketch.answers, sketch.kit
    x, y = sketch.outline.outward(side)
    down = x * sketch.way[0] + y * sketch.way[1]
    ends = [sketch.heights[side], sketch.heights[(side + 1) % len(sketch.heights)]]
    beside, lip = kit.beside, sketch.lip
    if sketch.street and side in answers.water:
        beside, lip = "street", 0.0
    if kit.indoors and side in answers.water:
        beside = "open ground, name: big door"
    takes = "takes_water: true, " if down > -ALONG else ""
    low = "   # the low side" if down > 0.5 else ""
    one, other = (_height(end - lip) for end in ends)
    ground = one if one == other else f"[{one}, {other}]"
    return f"  - {{{run}, beside: {beside}, {takes}ground: {ground}}}{low}"


def _heights(sketch: Sketch) -> str:
    answers, sides = sketch.answers, sketch.outline.sides
    rows = [f"{name}: {_height(high)}" for name, high in zip(sketch.outline.letters, sketch.heights, strict=True)]
    finish = f"{{{', '.join(rows)}}}"
    wall = sketch.door_wall
    way = [] if sketch.kit.indoors else [f"away from {sides[side]}" for side in answers.walls]
    way = way or [f"to {sides[side]}" for side in answers.water]
    text = f"""\
# Heights: bigger is higher (a rod reads the other way round). It falls {sketch.fall * 100:g} % {" and ".join(way)}.
heights:
  datum: {"bench mark" if wall is None else "door sill"} = {sketch.sill:.2f}
  finish: {finish}
  # base: {{A: .., B: ..}}   # shots on the tamped base: with them the review finds thin spots and the true volume
"""
    if wall is not None:
        below = sketch.pick(("1 in", "25 mm"))
        along = f"[{sides[wall][0]}, {sides[wall][2]}]"
        text += f"""
# Heights that cannot move, and what they ask of the slab.
fixed:
  - {{name: door sill, kind: sill, along: {along}, height: {sketch.sill:.2f}, slab: at least {below} below}}
"""
    return text


def _slab(sketch: Sketch) -> str:
    board, deep = sketch.board()
    below = ""
    if sketch.thickness > deep + LEVEL:
        below = "\n  dug_below_form: true      # the board is shallower than the slab; dig to depth inside it"
    real = sketch.pick(("a 2x4 is 3 1/2 in, a 2x6 is 5 1/2 in", "measure it, planed boards are less than their name"))
    return f"""\
thickness:
  design: {sketch.answers.thickness.typed}
  form_board: {board}           # real depth counts: {real}{below}
"""


def _joints(sketch: Sketch) -> str:
    lines = sketch.joints()
    if not lines:
        return ""
    depth = sketch.cut()
    joints = []
    for number, (a, b, at_wall) in enumerate(lines, 1):
        typed = (
            f"  - {{name: J{number}, kind: saw cut, from: {_spot(a)}, to: {_spot(b)}, depth: {depth}, cut_after: 6 h"
        )
        joints.append(f"{typed},\n     last_foot: hand groove}}" if at_wall else f"{typed}}}")
    return "\n".join([
        "# Joints: it will crack; this is where. Keep panels near square; a quarter of the thickness is the least cut.",
        "joints:",
        *joints,
        "",
    ])  # fmt: skip


_HELD: tuple[Pair, Pair] = (("2 in", "3 ft"), ("50 mm", "0.9 m"))  # cover from the top, chairs apart
_THIN = 0.1001  # m of slab under which stone of 20 mm asks for room below the bars


def _steel(sketch: Sketch) -> str:
    steel = sketch.answers.steel
    cover, apart = _HELD[sketch.metric]
    if sketch.metric and sketch.thickness < _THIN:
        cover = "40 mm"
    if steel == "none":
        return "reinforcement: none         # close joints do the work; steel only holds a crack shut\n"
    if steel == "fiber":
        dose = sketch.pick(("1.5 lb/yd3", "0.9 kg/m3"))
        return f"""\
# Fine fiber holds the first small cracks of a day; it stands in for no steel and no joint.
reinforcement:
  fiber: {{kind: micro synthetic, dose: {dose}}}
"""
    kind, size = (
        "bars",
        sketch.pick(('size: "#4"', "size: 12 mm")) + "\n    spacing: " + sketch.pick(("18 in", "450 mm")),
    )
    ends = "\n    ends_short: " + sketch.pick(("3 in", "75 mm")) + "         # clear of the forms"
    if steel == "mesh":
        kind, size, ends = "mesh", "style: " + sketch.pick(("6x6 W2.9", "SL72")), ""
    return f"""\
# Steel works only where it is held: chairs, not hooks and hope.
reinforcement:
  {kind}:
    {size}
    top_cover: {cover}
    held_by: chairs
    support_spacing: {apart}{ends}
    at_joints: stop
"""


def _loads(sketch: Sketch) -> str:
    vehicle, axle = sketch.vehicle
    if not vehicle:
        return ""
    pressure = sketch.pick(("60 psi", "410 kPa"))
    return f"""\
# The heaviest axle that will ever stand here.
loads:
  - {{vehicle: {vehicle}, axle: {axle}, wheels_per_axle: 2, tire_pressure: {pressure}}}
"""


def _mix(sketch: Sketch) -> str:
    frost = sketch.answers.freezing != "none"
    strength = sketch.pick(("4500 psi", "31 MPa") if frost or sketch.kit.vehicle else ("4000 psi", "28 MPa"))
    slump, stone = sketch.pick(("4 in", "100 mm")), sketch.pick(("3/4 in", "20 mm"))
    air = "\n  air: 6 %                  # what keeps a wet slab from scaling in frost" if frost else ""
    return f"""\
mix:
  strength: {strength}{air}
  slump: {slump}               # asked for and checked on the ticket; no water added on site
  aggregate: {stone}
  water_cement: 0.45
"""


def _order(sketch: Sketch) -> str:
    comes = sketch.answers.comes
    hose = ""
    if comes == "pump":
        left = sketch.pick(("0.25 yd3", "0.2 m3"))
        hose = f"\n  hose: {sketch.pick(('3 in', '75 mm'))}"
        hose += f"\n  left_in_hopper: {left}  # what no pump pushes out; it is in the volume"
    return f"""\
order:
  volume: {sketch.order()}
  truck: {sketch.truck()}
  allowance: {ALLOWANCE * 100:g} %             # for spillage and an uneven base
  allowance_inside: true
  method: {comes}{hose}
"""


def _spot(at: XY) -> str:
    return f"[{_number(at[0])}, {_number(at[1])}]"


def _number(value: float) -> str:
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".")


def _height(value: float) -> str:
    text = f"{value:.3f}".rstrip("0")
    whole, _, part = text.partition(".")
    return f"{whole}.{part:0<2}"
