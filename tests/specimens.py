"""Named specimens of outlines, edge runs and joints, sound and degenerate, in plain coordinates (meters).

A corner is ``((x, y), None)``, or ``((x, y), (x, y))`` where an arc through the second point leads to the first.
"""

from __future__ import annotations

import math

XY = tuple[float, float]
Corners = list[tuple[XY, XY | None]]


def straight(*corners: XY) -> Corners:
    """Corners with straight sides between them."""
    return [(corner, None) for corner in corners]


HALF = math.sqrt(0.5)

# Outlines that are shapes: corners, area, length, inside corners with the angle in the concrete.
# Areas and lengths of arcs are those of circles; all by hand.
SOUND: dict[str, tuple[Corners, float, float, dict[int, float]]] = {
    "rectangle": (straight((0, 0), (6, 0), (6, 4), (0, 4)), 24, 20, {}),
    "clockwise rectangle": (straight((0, 4), (6, 4), (6, 0), (0, 0)), 24, 20, {}),
    "corner on a straight side": (straight((0, 0), (3, 0), (6, 0), (6, 4), (0, 4)), 24, 20, {}),
    "triangle": (straight((0, 0), (4, 0), (0, 3)), 6, 12, {}),
    "L": (straight((0, 0), (6, 0), (6, 4), (2, 4), (2, 2), (0, 2)), 20, 20, {4: 270}),
    "L typed clockwise": (straight((0, 2), (2, 2), (2, 4), (6, 4), (6, 0), (0, 0)), 20, 20, {1: 270}),
    "U": (straight((0, 0), (9, 0), (9, 5), (6, 5), (6, 2), (3, 2), (3, 5), (0, 5)), 36, 34, {4: 270, 5: 270}),
    "arrow": (straight((0, 0), (4, 2), (0, 4), (2, 2)), 4, 4 * math.sqrt(5) + 4 * math.sqrt(2), {3: 270}),
    "disc of two arcs": ([((0, 0), (2, 2)), ((4, 0), (2, -2))], 4 * math.pi, 4 * math.pi, {}),
    "half disc": ([((0, 0), None), ((4, 0), (2, -2))], 2 * math.pi, 2 * math.pi + 4, {}),
    "rounded end": (
        [((0, 0), None), ((6, 0), None), ((6, 4), (8, 2)), ((0, 4), None)],
        24 + 2 * math.pi,
        16 + 2 * math.pi,
        {},
    ),
    "bite out of a side": (  # either end of the bite is a square corner of concrete
        [((0, 0), None), ((6, 0), None), ((6, 4), None), ((4, 4), None), ((2, 4), (3, 3)), ((0, 4), None)],
        24 - math.pi / 2,
        18 + math.pi,
        {},
    ),
    "bow on a side": (  # the concrete turns 270 degrees round either end of the bow
        [((0, 0), None), ((6, 0), None), ((6, 4), None), ((4, 4), None), ((2, 4), (3, 5)), ((0, 4), None)],
        24 + math.pi / 2,
        18 + math.pi,
        {3: 270, 4: 270},
    ),
    "arc from a slant": (  # a quarter turn that leaves its side at 45 degrees to the left of straight on
        [((0, 0), None), ((4, 0), None), ((6, 0), (5, 1 - math.sqrt(2))), ((6, 4), None), ((0, 4), None)],
        24 + (math.pi / 2 - 1),
        18 + math.pi / math.sqrt(2),
        {1: 225},
    ),
}

# Outlines that are not: corners, and the faults as (kind, corners, place).
FAULTY: dict[str, tuple[Corners, list[tuple[str, tuple[int, ...], XY | None]]]] = {
    "nothing": ([], [("no area", (), None)]),
    "one corner": (straight((1, 1)), [("no area", (), None)]),
    "two corners": (straight((0, 0), (5, 0)), [("no area", (), None)]),
    "all on one line": (straight((0, 0), (2, 0), (5, 0), (3, 0)), [("no area", (), None)]),
    "all at one place": (
        straight((1, 1), (1, 1), (1, 1), (1, 1)),
        [
            ("repeated point", (0, 1), (1, 1)),
            ("repeated point", (0, 2), (1, 1)),
            ("repeated point", (0, 3), (1, 1)),
            ("repeated point", (1, 2), (1, 1)),
            ("repeated point", (1, 3), (1, 1)),
            ("repeated point", (2, 3), (1, 1)),
            ("no area", (), None),
        ],
    ),
    "bow-tie": (straight((0, 0), (4, 0), (0, 4), (4, 4)), [("crosses itself", (1, 2, 3, 0), (2, 2))]),
    "corner typed twice": (
        straight((0, 0), (4, 0), (4, 0), (4, 4), (0, 4)),
        [("repeated point", (1, 2), (4, 0))],
    ),
    "corner typed twice, a hair apart": (
        straight((0, 0), (4, 0), (4, 0.0004), (4, 4), (0, 4)),
        [("repeated point", (1, 2), (4, 0.0004))],
    ),
    "two squares at one corner": (
        straight((0, 0), (2, 0), (2, 2), (4, 2), (4, 4), (2, 4), (2, 2), (0, 2)),
        [("repeated point", (2, 6), (2, 2))],
    ),
    "corner on another side": (
        straight((0, 0), (4, 0), (4, 4), (2, 0), (0, 4)),
        [("crosses itself", (0, 1, 2, 3), (2, 0)), ("crosses itself", (0, 1, 3, 4), (2, 0))],
    ),
    "spike": (straight((0, 0), (4, 0), (4, 6), (4, 4), (0, 4)), [("spike", (2,), (4, 6))]),
    "not a number": (
        straight((0, 0), (4, 0), (math.nan, 4), (0, 4)),
        [("not finite", (2,), None)],
    ),
    "endless and huge": (
        straight((0, 0), (math.inf, 0), (1e308, 1e308), (-1e308, 4)),
        [("not finite", (1,), None), ("not finite", (2,), None), ("not finite", (3,), None)],
    ),
    "arc through nowhere": (
        [((0, 0), None), ((4, 0), (math.nan, 0)), ((4, 4), None)],
        [("not finite", (1,), None)],
    ),
    "arc through its own chord": (
        [((0, 0), None), ((4, 0), (1, 0)), ((4, 4), None)],
        [("radius", (0, 1), (4, 0))],
    ),
    "arc through a point beyond": (
        [((0, 0), None), ((4, 0), (5, 0)), ((4, 4), None)],
        [("radius", (0, 1), (4, 0))],
    ),
    "arc through its end": (
        [((0, 0), None), ((4, 0), (4, 0)), ((4, 4), None)],
        [("radius", (0, 1), (4, 0))],
    ),
    "arc as flat as a board": (  # radius 4^2 / (8 h) = 2,000 km
        [((0, 0), None), ((4, 0), (2, -1e-6)), ((4, 4), None)],
        [("radius", (0, 1), (4, 0))],
    ),
    "arc of a pencil": (
        [((0, 0), None), ((4, 0), None), ((4, 0.002), (4.001, 0.001)), ((4, 4), None)],
        [("radius", (1, 2), (4, 0.002))],
    ),
    "arc across a side": (
        [((0, 0), None), ((4, 0), (2, 2)), ((4, 1), None), ((0, 1), None)],
        [("crosses itself", (0, 1, 2, 3), (2 - math.sqrt(3), 1))],
    ),
}

# The slab most joint specimens lie on: an L, 6 m by 4 m with a 2 m by 2 m corner out of it, and a pit in it.
SLAB: list[XY] = [(0, 0), (6, 0), (6, 4), (2, 4), (2, 2), (0, 2)]
PIT: list[XY] = [(4, 2.5), (5, 2.5), (5, 3.5), (4, 3.5)]

# Joints on that slab: lines, and for each part of each joint its two ends as (meets, other joint, gap).
INCH = 0.0254
JOINTS: dict[str, tuple[list[list[XY]], list[tuple[int, tuple[str, int, float], tuple[str, int, float]]]]] = {
    "edge to edge": ([[(3, 0), (3, 4)]], [(0, ("edge", -1, 0), ("edge", -1, 0))]),
    "an inch short at both ends": (
        [[(3, INCH), (3, 4 - INCH)]],
        [(0, ("edge", -1, INCH), ("edge", -1, INCH))],
    ),
    "an inch long at both ends": (
        [[(3, -INCH), (3, 4 + INCH)]],
        [(0, ("edge", -1, INCH), ("edge", -1, INCH))],
    ),
    "a micron short": ([[(3, 0), (3, 4 - 1e-6)]], [(0, ("edge", -1, 0), ("edge", -1, 0))]),
    "a micron short and slanting": ([[(1, 0), (6 - 1e-6, 1)]], [(0, ("edge", -1, 0), ("edge", -1, 0))]),
    "a foot short": ([[(3, 0), (3, 3.7)]], [(0, ("edge", -1, 0), ("nothing", -1, 0))]),
    "three feet past the edge": ([[(3, 0), (3, 5)]], [(0, ("edge", -1, 0), ("edge", -1, 1))]),
    "loose at both ends": ([[(2.5, 1), (3.5, 1)]], [(0, ("nothing", -1, 0), ("nothing", -1, 0))]),
    "slanting and short": (  # carried on along itself, 0.04 m at 45 degrees, to an edge 0.028 m away
        [[(0, 1), (1 - 0.04 * HALF, 0.04 * HALF)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0.04))],
    ),
    "from the inside corner": ([[(2, 2), (6, 2)]], [(0, ("edge", -1, 0), ("edge", -1, 0))]),
    "an inch from the inside corner": (
        [[(2.02, 1.99), (6, 2)]],
        [(0, ("edge", -1, math.hypot(0.02, 0.01)), ("edge", -1, 0))],
    ),
    "two from the inside corner": (
        [[(2, 2), (6, 2)], [(2, 0), (2, 2)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0)), (1, ("edge", -1, 0), ("edge", -1, 0))],
    ),
    "along an edge, then through": ([[(0, 2), (6, 2)]], [(0, ("edge", -1, 2), ("edge", -1, 0))]),
    "across the pit": (
        [[(2, 3), (6, 3)]],
        [(0, ("edge", -1, 0), ("opening", -1, 0)), (0, ("opening", -1, 0), ("edge", -1, 0))],
    ),
    "into the pit": ([[(2, 3), (4.5, 3)]], [(0, ("edge", -1, 0), ("opening", -1, 0.5))]),
    "an inch short of the pit": ([[(2, 3), (4 - INCH, 3)]], [(0, ("edge", -1, 0), ("opening", -1, INCH))]),
    "tee": (
        [[(0, 1), (6, 1)], [(3, 0), (3, 1)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0)), (1, ("edge", -1, 0), ("joint side", 0, 0))],
    ),
    "tee an inch short": (
        [[(0, 1), (6, 1)], [(3, 0), (3, 1 - INCH)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0)), (1, ("edge", -1, 0), ("joint side", 0, INCH))],
    ),
    "tee an inch long": (
        [[(0, 1), (6, 1)], [(3, 0), (3, 1 + INCH)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0)), (1, ("edge", -1, 0), ("joint side", 0, INCH))],
    ),
    "four-way of two lines": (
        [[(0, 1), (6, 1)], [(3, 0), (3, 4)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0)), (1, ("edge", -1, 0), ("edge", -1, 0))],
    ),
    "four-way of a line and two ends": (
        [[(0, 1), (6, 1)], [(3, 0), (3, 1)], [(3, 1), (3, 4)]],
        [
            (0, ("edge", -1, 0), ("edge", -1, 0)),
            (1, ("edge", -1, 0), ("crossing", 0, 0)),
            (2, ("crossing", 0, 0), ("edge", -1, 0)),
        ],
    ),
    "four-way an inch out of line": (
        [[(0, 1), (6, 1)], [(3, 0), (3, 1)], [(3 + INCH, 1), (3 + INCH, 4)]],
        [
            (0, ("edge", -1, 0), ("edge", -1, 0)),
            (1, ("edge", -1, 0), ("crossing", 0, 0)),
            (2, ("crossing", 0, 0), ("edge", -1, 0)),
        ],
    ),
    "two tees a foot out of line": (
        [[(0, 1), (6, 1)], [(3, 0), (3, 1)], [(3.3, 1), (3.3, 4)]],
        [
            (0, ("edge", -1, 0), ("edge", -1, 0)),
            (1, ("edge", -1, 0), ("joint side", 0, 0)),
            (2, ("joint side", 0, 0), ("edge", -1, 0)),
        ],
    ),
    "four-way of four ends, each an inch short": (
        [[(3, 0), (3, 1 - INCH)], [(3, 4), (3, 1 + INCH)], [(0, 1), (3 - INCH, 1)], [(6, 1), (3 + INCH, 1)]],
        [
            (0, ("edge", -1, 0), ("crossing", 2, INCH)),
            (1, ("edge", -1, 0), ("crossing", 2, INCH)),
            (2, ("edge", -1, 0), ("crossing", 0, INCH)),
            (3, ("edge", -1, 0), ("crossing", 0, INCH)),
        ],
    ),
    "bend of two joints": (
        [[(3, 0), (3, 1)], [(3, 1), (6, 1)]],
        [(0, ("edge", -1, 0), ("joint end", 1, 0)), (1, ("joint end", 0, 0), ("edge", -1, 0))],
    ),
    "bend of two joints, each an inch short": (
        [[(3, 0), (3, 1 - INCH)], [(3 + INCH, 1), (6, 1)]],
        [(0, ("edge", -1, 0), ("joint end", 1, INCH)), (1, ("joint end", 0, INCH), ("edge", -1, 0))],
    ),
    "bend of two joints, each an inch long": (
        [[(3, 0), (3, 1 + INCH)], [(3 - INCH, 1), (6, 1)]],
        [(0, ("edge", -1, 0), ("joint end", 1, INCH)), (1, ("joint end", 0, INCH), ("edge", -1, 0))],
    ),
    "end to end with an inch between": (
        [[(3, 0), (3, 1)], [(3, 1 + INCH), (3, 4)]],
        [(0, ("edge", -1, 0), ("joint end", 1, INCH / 2)), (1, ("joint end", 0, INCH / 2), ("edge", -1, 0))],
    ),
    "bend of two joints an inch from an edge": (  # both go to the spot on the edge nearest to their bend
        [[(1, 1), (3, INCH)], [(5, 1), (3, INCH)]],
        [(0, ("nothing", -1, 0), ("edge", -1, INCH)), (1, ("nothing", -1, 0), ("edge", -1, INCH))],
    ),
    "one joint with a bend": ([[(3, 0), (3, 1), (6, 1)]], [(0, ("edge", -1, 0), ("edge", -1, 0))]),
    "tee at a bend": (
        [[(3, 0), (3, 1), (6, 1)], [(2, 2), (3, 1)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0)), (1, ("edge", -1, 0), ("joint side", 0, 0))],
    ),
    "typed twice": (
        [[(3, 0), (3, 4)], [(3, 4), (3, 0)]],
        [(0, ("edge", -1, 0), ("edge", -1, 0)), (1, ("edge", -1, 0), ("edge", -1, 0))],
    ),
    "lying on each other": (
        [[(3, 0), (3, 2.5)], [(3, 1.5), (3, 4)]],
        [(0, ("edge", -1, 0), ("joint end", 1, 0)), (1, ("joint end", 0, 0), ("edge", -1, 0))],
    ),
    "points typed twice in a joint": ([[(3, 0), (3, 0), (3, 4), (3, 4)]], [(0, ("edge", -1, 0), ("edge", -1, 0))]),
    "out in the notch": ([[(0, 3), (1.9, 3)]], []),
    "along an edge": ([[(0, 0), (6, 0)]], []),
    "along part of an edge": ([[(1, 0), (5, 0)]], []),
    "no length": ([[(3, 1), (3, 1)]], []),
    "out, in and out again": (
        [[(-1, 1), (3, 1), (3, -1)]],
        [(0, ("edge", -1, 1), ("edge", -1, 1))],
    ),
    "over the notch": (  # leaves the slab at y = 2 and comes back in at x = 2
        [[(0.5, 1), (3.5, 4)]],
        [(0, ("nothing", -1, 0), ("edge", -1, 0)), (0, ("edge", -1, 0), ("edge", -1, 0))],
    ),
}
