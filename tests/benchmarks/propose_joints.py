"""Layouts of joints proposed for generated outlines: how many meet every joint rule, how fast, with how much cutting.

``python tests/benchmarks/propose_joints.py [--count 300] [--seed 1] [--show]`` prints the figures; ``--show`` names
each outline that is left with a comment. Outlines: rectangle, L, T, U, Z, slanted edge, arc, opening, posts; 4 to 6 in.
"""

from __future__ import annotations

import argparse
import math
import random
import statistics
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from slabwright.proposals.joints import Proposal, propose
from slabwright.rulebook import limits, loading

XY = tuple[float, float]
ARC = "arc"
ASKED_SHARE, ASKED_MEDIAN, ASKED_MOST = 0.97, 1.0, 10.0


@dataclass(frozen=True)
class Made:
    """A generated design: what it is called, and its text."""

    kind: str
    text: str


def _half(chance: random.Random, least: float, most: float) -> float:
    """A length in ft, to the half foot."""
    return round(chance.uniform(least, most) * 2) / 2


def _rectangle(chance: random.Random) -> list[str]:
    w, d = _half(chance, 10, 40), _half(chance, 10, 40)
    return _corners([(0, 0), (w, 0), (w, d), (0, d)])


def _l(chance: random.Random) -> list[str]:
    w, d = _half(chance, 18, 40), _half(chance, 18, 40)
    x, y = _half(chance, 6, w - 6), _half(chance, 6, d - 6)
    return _corners([(0, 0), (w, 0), (w, y), (x, y), (x, d), (0, d)])


def _t(chance: random.Random) -> list[str]:
    w, d = _half(chance, 24, 40), _half(chance, 18, 36)
    x0 = _half(chance, 6, w / 2 - 4)
    x1, y = _half(chance, x0 + 6, w - 6), _half(chance, 7, d - 6)
    return _corners([(0, 0), (w, 0), (w, y), (x1, y), (x1, d), (x0, d), (x0, y), (0, y)])


def _u(chance: random.Random) -> list[str]:
    w, d = _half(chance, 26, 42), _half(chance, 20, 36)
    x0 = _half(chance, 7, w / 2 - 4)
    x1, y = _half(chance, x0 + 6, w - 7), _half(chance, 7, d - 6)
    return _corners([(0, 0), (w, 0), (w, d), (x1, d), (x1, y), (x0, y), (x0, d), (0, d)])


def _z(chance: random.Random) -> list[str]:
    w, d = _half(chance, 24, 40), _half(chance, 20, 36)
    x0, x1 = _half(chance, 6, w / 2 - 2), _half(chance, w / 2 + 2, w - 6)
    y = _half(chance, 7, d - 7)
    return _corners([(0, 0), (x1, 0), (x1, y), (w, y), (w, d), (x0, d), (x0, y), (0, y)])


def _slanted(chance: random.Random) -> list[str]:
    w, d = _half(chance, 16, 36), _half(chance, 14, 30)
    over = _half(chance, 2, min(10, w - 8))
    if chance.random() < 0.5:
        return _corners([(0, 0), (w, 0), (w - over, d), (0, d)])
    cut = _half(chance, 3, min(8, d - 6))  # a corner cut off
    return _corners([(0, 0), (w, 0), (w, d - cut), (w - over, d), (0, d)])


def _arc(chance: random.Random) -> list[str]:
    w, d = _half(chance, 14, 34), _half(chance, 12, 28)
    bulge = _half(chance, 1, w / 5)
    corners = _corners([(0, 0), (w, 0), (w, d)])
    return [*corners, f"{{arc_to: [0, {d:g}], through: [{w / 2:g}, {d + bulge:g}]}}"]


def _corners(points: Sequence[XY]) -> list[str]:
    return [f"[{x:g}, {y:g}]" for x, y in points]


def _with_opening(chance: random.Random) -> tuple[list[str], list[str]]:
    w, d = _half(chance, 16, 36), _half(chance, 16, 32)
    a, b = _half(chance, 1.5, 6), _half(chance, 1.5, 6)
    x, y = _half(chance, 4, w - a - 4), _half(chance, 4, d - b - 4)
    ring = ", ".join(_corners([(x, y), (x + a, y), (x + a, y + b), (x, y + b)]))
    return _corners([(0, 0), (w, 0), (w, d), (0, d)]), [f"openings: [{{name: planter, corners: [{ring}]}}]"]


def _with_posts(chance: random.Random) -> tuple[list[str], list[str]]:
    w, d = _half(chance, 14, 36), _half(chance, 14, 32)
    posts = []
    for number in range(chance.randint(1, 3)):
        x, y = _half(chance, 3, w - 3), _half(chance, 3, d - 3)
        filler = "isolation: {material: foam, thickness: 1/2 in, depth: full}"
        posts.append(f"  - {{kind: post, name: post {number + 1}, at: [{x:g}, {y:g}], size: 6 in, {filler}}}")
    return _corners([(0, 0), (w, 0), (w, d), (0, d)]), ["fixtures:", *posts]


SHAPES: dict[str, Callable[[random.Random], list[str]]] = {
    "rectangle": _rectangle, "L": _l, "T": _t, "U": _u, "Z": _z, "slanted edge": _slanted, "arc": _arc,
}  # fmt: skip
FURNISHED = {"opening": _with_opening, "posts": _with_posts}
KINDS = (*SHAPES, *FURNISHED)


def generated(number: int, seed: int) -> Made:
    """Outline ``number`` of a seed; every kind comes in turn."""
    chance = random.Random(f"{seed} {number}")
    kind = KINDS[number % len(KINDS)]
    corners, more = (SHAPES[kind](chance), []) if kind in SHAPES else FURNISHED[kind](chance)
    thick = chance.choice(("4 in", "4 1/2 in", "5 in", "5 1/2 in", "6 in"))
    if chance.random() < 0.5:  # a start to be bettered: a plain grid, whatever is in the way
        more = [*more, "joints:", *_plain_grid(chance.choice((8, 10, 12)))]
    lines = [
        "format: 1", f"job: {{name: Outline {number}}}", "units: {plan: ft, height: ft}", "use: patio",
        f"outline: [{', '.join(corners)}]", *more, f"thickness: {{design: {thick}}}", "mix: {aggregate: 3/4 in}",
    ]  # fmt: skip
    return Made(kind, "\n".join(lines) + "\n")


def _plain_grid(apart: int) -> list[str]:
    """Joints of a file, so many ft apart both ways over the largest outline."""
    rows = []
    for k in range(1, 42 // apart + 1):
        at = k * apart
        rows += [f"  - {{name: X{k}, kind: saw cut, from: [{at}, -1], to: [{at}, 60], depth: 1 1/2 in}}",
                 f"  - {{name: Y{k}, kind: saw cut, from: [-1, {at}], to: [60, {at}], depth: 1 1/2 in}}"]  # fmt: skip
    return rows


RULES = loading.load_rules()
IN_FORCE = limits.resolve(RULES)


def proposed(made: Made) -> tuple[Proposal | None, float]:
    """The layout proposed for a design, and the seconds of one processor it took."""
    start = time.process_time()
    found = propose(Path("outline.slab.yaml"), made.text, RULES, IN_FORCE, "us")
    return found, time.process_time() - start


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--show", action="store_true")
    asked = parser.parse_args()
    sound: Counter[str] = Counter()
    tried: Counter[str] = Counter()
    times, shares = [], []
    noted = worse = bettered = 0
    for number in range(asked.count):
        made = generated(number, asked.seed)
        found, seconds = proposed(made)
        tried[made.kind] += 1
        times.append(seconds)
        if found is None:
            continue
        sound[made.kind] += found.found
        noted += found.found and bool(found.left)
        after = tuple(sum(one.weight == weight for one in found.left) for weight in ("hold", "caution", "note"))
        worse += after > found.before
        bettered += after < found.before
        if found.plain > 0:
            shares.append(found.cutting / found.plain)
        if asked.show and (found.left or seconds > 3):
            told = [f"{one.weight} {one.rule} {one.at.name}" for one in found.left]
            print(f"{number} {made.kind} {seconds:.1f} s {told}", flush=True)
    print(f"{sum(sound.values())} of {asked.count} meet every joint rule: {sum(sound.values()) / asked.count:.1%}")
    print("  " + ", ".join(f"{kind} {sound[kind]} of {tried[kind]}" for kind in KINDS if tried[kind]))
    print(f"  {noted} of them with a note; {bettered} better than their start, {worse} worse")
    print(f"processor time: median {statistics.median(times):.2f} s, nine in ten within {_quantile(times, 0.9):.2f} s, "
          f"longest {max(times):.2f} s")  # fmt: skip
    print(f"cutting against a plain grid: median {statistics.median(shares):.2f}, mean {statistics.mean(shares):.2f}, "
          f"most {max(shares):.2f}")  # fmt: skip


def _quantile(values: Sequence[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, math.ceil(share * len(values)) - 1)]


if __name__ == "__main__":
    main()
