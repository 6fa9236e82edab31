"""Made-up sites for the search of heights: each has a surface that meets the rules, hidden under wrong heights."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import NamedTuple

XY = tuple[float, float]
SILL = 100.0  # ft
CURB = 0.55  # ft: a building stands so high above a street, half a foot by the rule on street water


class Site(NamedTuple):
    """A site as a design file, and what it is."""

    name: str
    text: str


class _Shape(NamedTuple):
    points: dict[str, XY]
    outline: str
    walls: tuple[str, ...]  # pairs of corners
    lines: tuple[tuple[str, str], ...]  # kind, points
    drop: Callable[[XY], float]  # below the sill side, ft
    open_edges: tuple[str, ...]
    drain: XY | None = None


def _rectangle(rng: random.Random, s: float) -> _Shape:
    w, d = rng.uniform(10, 24), rng.uniform(8, 16)
    points = {"A": (0, 0), "B": (w, 0), "C": (w, d), "D": (0, d), "M": (w / 2, d / 2), "N": (w / 2, d)}
    return _Shape(points, "ABCD", ("AB",), (), lambda p: s * p[1], ("BC", "CD", "DA"))


def _corner(rng: random.Random, s: float) -> _Shape:
    w, d = rng.uniform(10, 18), rng.uniform(10, 18)
    points = {"A": (0, 0), "B": (w, 0), "C": (w, d), "D": (0, d), "M": (w / 2, d / 2)}
    return _Shape(points, "ABCD", ("AB", "DA"), (), lambda p: s * (p[0] + p[1]), ("BC", "CD"))


def _ell(rng: random.Random, s: float) -> _Shape:
    w, d = rng.uniform(8, 12), rng.uniform(10, 16)  # width of the legs, length beyond the corner of the house
    a = w + d
    points = {"A": (0, 0), "B": (a, 0), "C": (a, w), "D": (w, w), "E": (w, a), "F": (0, a)}
    drop = lambda p: s * max(w - p[0], w - p[1])  # noqa: E731
    return _Shape(points, "ABCDEF", ("CD", "DE"), (("ridge", "DA"),), drop, ("AB", "BC", "EF", "FA"))


def _tee(rng: random.Random, s: float) -> _Shape:
    w, d, stem = rng.uniform(8, 12), rng.uniform(8, 10), rng.uniform(8, 14)
    x1, x2, x3 = w, 2 * w, 3 * w
    points = {"A": (0, 0), "B": (x3, 0), "C": (x3, d), "D": (x2, d), "E": (x2, d + stem), "F": (x1, d + stem),
              "G": (x1, d), "H": (0, d)}  # fmt: skip
    return _Shape(points, "ABCDEFGH", ("AB",), (("grade break", "GD"),), lambda p: s * p[1],
                  ("BC", "CD", "DE", "EF", "FG", "GH", "HA"))  # fmt: skip


def _ewe(rng: random.Random, s: float) -> _Shape:
    w, wing, deep = rng.uniform(8, 11), rng.uniform(10, 16), rng.uniform(8, 14)
    right, top = 2 * w + wing, w + deep
    points = {"A": (0, 0), "B": (right, 0), "C": (right, top), "D": (w + wing, top), "E": (w + wing, w), "F": (w, w),
              "G": (w, top), "H": (0, top)}  # fmt: skip
    drop = lambda p: s * max(w - p[0], w - p[1], p[0] - w - wing)  # noqa: E731
    return _Shape(points, "ABCDEFGH", ("DE", "EF", "FG"), (("ridge", "FA"), ("ridge", "EB")), drop,
                  ("AB", "BC", "CD", "GH", "HA"))  # fmt: skip


def _court(rng: random.Random, s: float) -> _Shape:
    w, d = rng.uniform(10, 16), rng.uniform(10, 20)
    points = {"A": (0, 0), "M": (w / 2, 0), "B": (w, 0), "C": (w, d), "V": (w / 2, d), "D": (0, d)}
    drop = lambda p: s * (min(p[0], w - p[0]) + p[1])  # noqa: E731
    return _Shape(points, "ABCD", ("DA", "AB", "BC"), (("valley", "MV"),), drop, ("CD",))


def _bowl(rng: random.Random, s: float) -> _Shape:
    w, d = rng.uniform(10, 13), rng.uniform(11.5, 12.5)
    points = {"A": (0, 0), "B": (w, 0), "C": (w, d), "D": (0, d), "R": (w / 2, 0.76 * d)}

    def drop(p: XY) -> float:
        return 0.0345 * p[1] if p == points["R"] else 0.021 * p[1]

    return _Shape(points, "ABCD", ("AB",), (), drop, (), points["R"])


SHAPES = (_rectangle, _corner, _ell, _tee, _ewe, _court, _bowl)


def site(seed: int, noise: float = 0.2) -> Site:
    """A site by its number: one of seven shapes, with a walk, a drive, a gate where there is room for them.

    Its heights are ``noise`` ft off at most; without noise they are the hidden ones.
    """
    rng = random.Random(seed)
    shape_of = SHAPES[seed % len(SHAPES)]
    slope = rng.uniform(0.0215, 0.025)
    shape = shape_of(rng, slope)
    at_wall = SILL - rng.uniform(0.1, 0.4)
    true = {name: at_wall - shape.drop(at) for name, at in shape.points.items()}
    noisy = {name: round(z + rng.uniform(-noise, noise), 2) for name, z in true.items()}
    walls = list(shape.walls)
    edges = [f"  - {{run: [{a}, {b}], beside: building, name: house wall {a}{b}}}" for a, b in walls]
    fixed = [f"  - {{name: sill {a}{b}, kind: sill, along: [{a}, {b}], height: {SILL:.2f}, slab: at least 1 in below}}"
             for a, b in walls]  # fmt: skip
    fixtures: list[str] = []
    kinds = [rng.choice(["walk", "drive", "lawn", "lot line", "lawn"]) for _ in shape.open_edges]
    if shape.open_edges and not {"walk", "drive", "lawn"} & set(kinds):
        kinds[0] = "lawn"
    low = min(shape.open_edges, key=lambda e: true[e[0]] + true[e[1]], default="")
    crest = min(true[end] for wall in walls for end in wall)
    for (a, b), kind in zip(shape.open_edges, kinds, strict=True):
        beside = [true[a], true[b]]
        falls_there = f"{a}{b}" == low
        level = shape_of is not _court  # a walk does not dip where a valley meets it
        if kind == "walk" and falls_there and level:
            edges.append(f"  - {{run: [{a}, {b}], beside: existing slab, name: garden walk {a}{b}, takes_water: true, "
                         f"ground: [{beside[0] - 0.01:.3f}, {beside[1] - 0.01:.3f}]}}")  # fmt: skip
        elif kind == "drive" and falls_there and level and crest - min(beside) > CURB:
            edges.append(f"  - {{run: [{a}, {b}], beside: street, name: drive {a}{b}, takes_water: true, "
                         f"ground: [{beside[0] - 0.02:.3f}, {beside[1] - 0.02:.3f}]}}")  # fmt: skip
        else:
            edges.append(f"  - {{run: [{a}, {b}], beside: lawn, name: lawn {a}{b}, takes_water: true, "
                         f"ground: [{beside[0] - 0.25:.3f}, {beside[1] - 0.25:.3f}]}}")  # fmt: skip
    if shape.drain is not None:
        edges.append("  - {rest: property line, takes_water: false}")
        fixtures.append(f"  - {{kind: drain, name: yard drain, at: R, outlet: {true['R'] - 1.5:.2f}}}")
    elif rng.random() < 0.4 and low:
        (ax, ay), (bx, by) = shape.points[low[0]], shape.points[low[1]]
        ends = [[round(ax + (bx - ax) * t, 3), round(ay + (by - ay) * t, 3)] for t in (0.3, 0.5)]
        fixtures.append(f"  - {{kind: gate, name: garden gate, along: {ends}, hinge: [{ends[0]}], swings_over: true, "
                        f"bottom: {max(true.values()) + 0.15:.2f}}}")  # fmt: skip
    points = ", ".join(f"{name}: [{x:.3f}, {y:.3f}]" for name, (x, y) in shape.points.items())
    finish = ", ".join(f"{name}: {z:.2f}" for name, z in noisy.items())
    lines = [f"    - {{name: {kind} {p[0]}{p[-1]}, kind: {kind}, along: [{', '.join(p)}]}}" for kind, p in shape.lines]
    text = "\n".join([
        "format: 1", f"job: {{name: made-up site {seed}}}", "units: {plan: ft, height: ft}", "use: patio",
        f"points: {{{points}}}", f"outline: [{', '.join(shape.outline)}]", "edges:", *edges,
        "heights:", f"  finish: {{{finish}}}", *(["  lines:", *lines] if lines else []),
        "fixed:", *fixed, *(["fixtures:", *fixtures] if fixtures else []), "thickness: {design: 4 in}", "",
    ])  # fmt: skip
    return Site(f"{shape_of.__name__.removeprefix('_')} {seed}", text)
