"""What one design may hold at most, so that every review ends soon; more is a slip, or a job to be drawn in parts."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.design.joints import Joint
from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.arcs import arc_chords
from slabwright.plan.shape import ON_EDGE, point_name
from slabwright.source.place import Place
from slabwright.source.problem import Problem, Problems

LONGEST = 1000.0  # m, of a slab: the longest that are placed as one job are a third of it (common practice)
FAR = 300.0  # m: what lies this far beside a slab, and ten times its length, is asked about
CORNERS = 300  # of the outline and all openings
HEIGHTS = {"finish": 3_000, "base": 30_000, "existing": 30_000}  # shots are many, heights to be built are few
JOINTS = 400
MEETINGS = 30_000  # of two joints: a floor of 173 by 173 panels has as many
ASLANT = 400  # of these, neither square to each other nor in line
SQUARE = 0.1  # cosine of the angle between joints that are square to each other, to some 6 degrees; in line alike
FEW, LEAST_PANEL = 200, 1.0  # joints and meetings, and m2 to each where there are more
PAIRS = 200_000  # straight parts of joints looked at together, at most


def refuse_too_much(design: Design) -> None:
    """Refuse a design that is too large to be worked.

    :raises UnreadableError: with every reason.
    """
    problems = Problems()
    _too_long(design, problems)
    corners = len(design.outline) + sum(len(opening.corners) for opening in design.openings)
    if corners > CORNERS:
        wrong = f"the outline and the openings have {corners:,} corners, and at most {CORNERS:,} are worked"
        problems.add(design.place("outline"), wrong, "draw a curve as an arc: {arc_to: C, through: B}")
    surfaces = (("finish", "finish"), ("base", "base"), ("existing", "existing ground"))
    for key, what in surfaces:
        count = len(getattr(design.heights, key))
        if count > HEIGHTS[key]:
            wrong = f"the {what} has {count:,} heights, and at most {HEIGHTS[key]:,} are worked"
            problems.add(design.place(f"heights.{key}", "heights"), wrong, "keep one to a square yard or meter")
    _too_many_joints(design, problems)
    problems.raise_if_any()


def far_off(design: Design) -> Iterator[Problem]:
    """Questions about points that lie far outside the job."""
    xs, ys = zip(*((corner.at.x, corner.at.y) for corner in design.outline), strict=True)
    left, right, bottom, top = min(xs), max(xs), min(ys), max(ys)
    most = max(FAR, 10 * max(right - left, top - bottom))
    asked: set[tuple[float, float]] = set()
    for place, point in _points(design):
        away = float(np.hypot(max(left - point.x, 0, point.x - right), max(bottom - point.y, 0, point.y - top)))
        if away > most and (point.x, point.y) not in asked:
            asked.add((point.x, point.y))
            off = f"{point_name(point)} lies {_long(away, design)} off the slab"
            yield Problem(place, off, "is one of its numbers mistyped?")


def _points(design: Design) -> Iterator[tuple[Place, Point]]:
    for point in design.points.values():
        yield design.places.get(f"points.{point.name}", point.place), point
    groups: Iterable[tuple[Place, Sequence[Point]]] = (
        *((joint.place, joint.along) for joint in design.joints),
        *((line.place, line.along) for line in design.heights.lines),
        *((channel.place, channel.along) for channel in design.channels),
        (design.places.get("site.accessible_route", design.site.place), design.site.accessible_route),
        *((fixed.place, fixed.along) for fixed in design.fixed),
        *((fixture.place, (fixture.at,)) for fixture in design.fixtures if fixture.at),
        *((spot.place, (spot.at,)) for spot in (*design.heights.base, *design.heights.existing)),
    )
    for place, points in groups:
        for point in points:
            yield place, point


def _long(meters: float, design: Design) -> str:
    """A length that nobody measures to the inch."""
    return f"{meters / FOOT:,.0f} ft" if design.system == "us" else f"{meters:,.0f} m"


def _too_long(design: Design, problems: Problems) -> None:
    """Ask about the corner that makes the slab far too long."""
    rim = [(corner.at.x, corner.at.y, corner.at) for corner in design.outline]
    for before, corner in zip(design.outline[-1:] + design.outline, design.outline, strict=False):
        if corner.through is not None:
            ends = ((one.x, one.y) for one in (before.at, corner.through, corner.at))
            rim += [(x, y, corner.through) for x, y in arc_chords(*ends).tolist()]
    sizes = [max(axis) - min(axis) for axis in zip(*((x, y) for x, y, _ in rim), strict=True)]
    if not max(sizes) > LONGEST:
        return
    middle = [statistics.median(x for x, _, _ in rim), statistics.median(y for _, y, _ in rim)]
    far = max(rim, key=lambda one: max(abs(one[0] - middle[0]), abs(one[1] - middle[1])))[2]
    wrong = f"the slab would be {_long(max(sizes), design)} long out to {point_name(far)}"
    place = design.places.get(f"points.{far.name}", far.place)
    problems.add(
        place,
        f"{wrong}, and at most {_long(LONGEST, design)} is worked",
        "is one of its numbers mistyped, or units: plan?",
    )


def _too_many_joints(design: Design, problems: Problems) -> None:
    joints = design.joints
    place = design.place("joints")
    if len(joints) > JOINTS and not _told_as_one(joints, problems):
        wrong = f"there are {len(joints):,} joints, and at most {JOINTS:,} are worked"
        problems.add(place, wrong, "draw a joint from edge to edge as one, or the slab in parts")
    elif len(joints) <= JOINTS:
        straight = sum(len(joint.along) - 1 for joint in joints)
        if straight * (straight - 1) // 2 <= ASLANT:  # so few cannot meet too often
            return
        meets, slanting = _meetings(joints)
        count, aslant = int(meets.sum()) // 2, int(slanting.sum()) // 2
        if (count > MEETINGS or aslant > ASLANT) and _told_as_one(joints, problems):
            return
        if count > MEETINGS or aslant > ASLANT:
            most = int(np.argmax(slanting if aslant > ASLANT else meets))
            times = (
                f"{aslant:,} times aslant, and at most {ASLANT:,}"
                if aslant > ASLANT
                else f"{count:,} times, and at most {MEETINGS:,}"
            )
            wrong = f"joints meet each other {times} are worked; "
            wrong += f"{joints[most].name} alone meets {int(meets[most]):,} others"
            write = "few joints can meet at one point or lie side by side: take some out"
            problems.add(joints[most].place, wrong, write)
        elif len(joints) + count > FEW and _area(design) / (len(joints) + count) < LEAST_PANEL:
            small = "10 ft2" if design.system == "us" else "1 m2"
            wrong = f"{len(joints):,} joints that meet {count:,} times would cut panels of less than {small}"
            problems.add(place, wrong, "joints some 24 to 36 times the thickness apart; a pattern is {kind: pattern}")


def _told_as_one(joints: Sequence[Joint], problems: Problems) -> bool:
    """Refuse joints typed again and again; whether there are such."""
    ends = [frozenset((round(at.x / ON_EDGE), round(at.y / ON_EDGE)) for at in joint.along) for joint in joints]
    same, count = Counter(ends).most_common(1)[0]
    if count < len(joints) / 2:
        return False
    first, again = [joint for joint, own in zip(joints, ends, strict=True) if own == same][:2]
    wrong = f"{count:,} joints lie on one line; {again.name} lies on {first.name}"
    problems.add(again.place, wrong, "keep one of them")
    return True


def _area(design: Design) -> float:
    """Area of the rectangle that the outline lies in, m2."""
    sizes = [max(axis) - min(axis) for axis in zip(*((c.at.x, c.at.y) for c in design.outline), strict=True)]
    return float(sizes[0] * sizes[1])


def _meetings(joints: Sequence[Joint]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """How many times each joint is touched, crossed or covered by others, (n,), and how many of these are aslant.

    Side by side within 5 mm counts.
    """
    straight = [(number, a, b) for number, joint in enumerate(joints) for a, b in pairwise(joint.along)]
    meets, slanting = np.zeros(len(joints), dtype=np.int64), np.zeros(len(joints), dtype=np.int64)
    whose = np.array([number for number, _, _ in straight])
    ends = np.array([((a.x, a.y), (b.x, b.y)) for _, a, b in straight])
    ways, lines = ends[:, 1] - ends[:, 0], shapely.linestrings(ends)
    tree = shapely.STRtree(lines)
    for own in np.array_split(np.arange(len(lines)), 1 + len(lines) ** 2 // PAIRS):
        first, second = tree.query(lines[own], predicate="dwithin", distance=ON_EDGE)
        other = whose[own[first]] != whose[second]
        first, second = own[first[other]], second[other]
        sizes = np.maximum(np.hypot(*ways[first].T) * np.hypot(*ways[second].T), ON_EDGE**2)
        turned = np.abs((ways[first] * ways[second]).sum(axis=1)) / sizes
        slant = (turned > SQUARE) & (turned < 1 - SQUARE**2 / 2)
        meets += np.bincount(whose[first], minlength=len(joints))
        slanting += np.bincount(whose[first[slant]], minlength=len(joints))
    return meets, slanting
