"""Pours of a slab by its construction joints, and lines of a layout at which more of them can end.

Construction joints part the slab into the areas of its pours, as they run: across it, across each other, round a
corner. An area that takes more loads than a day brings wants more ends. Every line of joints that parts it whole may be
one. Seen from a corner, some of them lie one behind the other; of all such rows those are taken whose pours need no
more loads than a day brings. Of these the one with the fewest pours, then the fewest loads, then the least left over in
any one pour.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.formulas.ordering import USUAL_ALLOWANCE, loads, with_allowance
from slabwright.geometry.joints.panels import cut
from slabwright.plan.plan import Plan
from slabwright.proposals.stopping import Stop, stops_from
from slabwright.text.words import Words, words
from slabwright.units.quantity import volume

CORNERS = 12  # of an area, from which placing may start
STRAIGHT = 0.05  # m: a point of the rim that lies so near to the straight between others is no corner
AT_RIM = 0.01  # m: a joint that lies so near to the rim of an area bounds it


class Pour(NamedTuple):
    """What is placed in one day, m3: as drawn, with its allowance, the loads that bring it, and what is left over.

    ``ends`` are the construction joints at which it ends and a later one goes on.
    """

    net: float
    needed: float
    loads: int
    left: float
    panels: tuple[str, ...]
    ends: tuple[str, ...] = ()


class Parted(NamedTuple):
    """The pours in reading order; ``own`` of the joints between them were in the file already.

    ``why`` tells, where they end on lines of the layout, what kept them from whole loads.
    """

    pours: tuple[Pour, ...]
    own: tuple[str, ...] = ()
    why: Words | None = None


class Load(NamedTuple):
    """The allowance as a share, what a truck brings (m3), and the most loads of a pour."""

    share: float
    truck: float
    most: int

    def pour(self, net: float, panels: tuple[str, ...], ends: tuple[str, ...] = ()) -> Pour:
        """The pour of so much concrete, m3 as drawn."""
        needed = with_allowance(net, self.share)
        trucks = loads(needed, self.truck)
        return Pour(net, needed, trucks, trucks * self.truck - needed, panels, ends)

    @property
    def day(self) -> str:
        """How many loads a day brings, in words."""
        return f"{self.most} loads" if self.most > 1 else "one load"


def load_of(plan: Plan, most: int) -> Load | Words:
    """What a load is; or the sentence that tells that the file names no truck."""
    order = plan.design.order
    if order is None or order.truck is None:
        return words("the file names no truck, and no load has a size; under order write truck: {10 yd3|8 m3}")
    return Load(order.allowance.si if order.allowance else USUAL_ALLOWANCE, order.truck.si, most)


def ends_of(plan: Plan) -> tuple[str, ...]:
    """Names of the construction joints of a design."""
    return tuple(joint.name for joint in plan.design.joints if joint.kind == "construction joint")


def areas_between(plan: Plan) -> list[shapely.Polygon]:
    """The slab as its construction joints part it, in reading order."""
    names = ends_of(plan)
    lines = [plan.joints.line_of(joint) for joint in plan.joints.counting if joint.name in names]
    return [part.polygon for part in cut(plan.shape.slab, lines).panels] if lines else [plan.shape.slab]


def pours_of(plan: Plan, load: Load) -> tuple[Pour, ...]:
    """The pour of each area between construction joints, and the joints at which it ends before a later one."""
    areas, names = areas_between(plan), [panel.name for panel in plan.panels.all]
    ended = [(joint.name, shapely.LineString(joint.line)) for joint in plan.joints.all if joint.name in ends_of(plan)]
    rims = [area.buffer(AT_RIM) for area in areas]
    found = []
    for number, area in enumerate(areas):
        inside = within(plan, area)
        net = float(plan.concrete.panel_volumes[inside].sum())
        rest = shapely.intersection(rims[number], shapely.union_all(rims[number + 1 :]))
        ends = [name for name, line in ended if shapely.intersection(line, rest).length > 4 * AT_RIM]
        own = tuple(name for name, one in zip(names, inside.tolist(), strict=True) if one)
        found.append(load.pour(net, own, tuple(dict.fromkeys(ends))))
    return tuple(found)


def within(plan: Plan, area: shapely.Polygon) -> np.ndarray:
    """Which panels lie in an area between joints, one truth each."""
    spots = [panel.polygon.representative_point() for panel in plan.panels.all]
    return np.asarray(shapely.contains_xy(area, shapely.get_coordinates(spots)))


def lines_between(plan: Plan, load: Load) -> tuple[str, ...] | Words:
    """The joints of the fewest more lines at which pours end, so that none takes more loads than a day brings.

    Empty where the construction joints there are enough; a sentence that tells why where no lines do.
    """
    found: list[str] = []
    areas = areas_between(plan)
    for area in areas:
        row = _row(plan, load, area)
        if isinstance(row, Words):
            return row
        if row is None:
            where = "the slab"
            if len(areas) > 1:
                inside = within(plan, area).tolist()
                names = [panel.name for panel, one in zip(plan.panels.all, inside, strict=True) if one]
                where = f"the area of panels {names[0]} to {names[-1]}, between construction joints of the file,"
            return words(
                "no row of lines parts {where} into pours of at most {day} of {truck}; more loads a day do, or a "
                "joint that runs on from edge to edge", where=where, day=load.day, truck=volume(load.truck),
            )  # fmt: skip
        found += row
    return tuple(dict.fromkeys(found))


def _row(plan: Plan, load: Load, area: shapely.Polygon) -> list[str] | Words | None:
    """The joints of the best row of lines across one area; None where none does."""
    names = [panel.name for panel in plan.panels.all]
    volumes = dict(zip(names, plan.concrete.panel_volumes.tolist(), strict=True))
    every = frozenset(name for name, one in zip(names, within(plan, area).tolist(), strict=True) if one)

    def pour(panels: frozenset[str]) -> Pour:
        return load.pour(sum(volumes[name] for name in sorted(panels)), tuple(name for name in names if name in panels))

    if pour(every).loads <= load.most:
        return []
    largest = max((pour(frozenset([name])) for name in names if name in every), key=lambda one: round(one.net, 6))
    if largest.loads > load.most:
        return words(
            "panel {panel} alone takes {needed}, more than {day} of {truck}: no joint of the layout ends a pour soon "
            "enough; a larger truck or more loads a day do", panel=largest.panels[0], needed=volume(largest.needed),
            day=load.day, truck=volume(load.truck),
        )  # fmt: skip
    best: tuple[tuple[int, int, int, float], list[str]] | None = None
    rim = area.buffer(AT_RIM)
    beyond = {joint.name for joint in plan.joints.all if not shapely.LineString(joint.line).within(rim)}
    for corner in shapely.get_coordinates(area.exterior.simplify(STRAIGHT)).tolist()[:-1][:CORNERS]:
        stops = sorted(stops_from(plan, tuple(corner), area), key=lambda stop: stop.placed)
        for pours, lines in _fewest(every, stops, pour, load.most):
            joints = [name for line in lines for name in line.joints]
            spill = sum(name in beyond for name in joints)
            worth = len(pours), sum(one.loads for one in pours), spill, max(one.left for one in pours)
            if best is None or worth < (*best[0][:3], best[0][3] - 1e-6):
                best = worth, joints
    return best and best[1]


def _fewest(
    every: frozenset[str], stops: Sequence[Stop], pour: Callable[[frozenset[str]], Pour], most: int
) -> Iterator[tuple[list[Pour], list[Stop]]]:
    """The cheapest row of stops one behind the other, from nothing placed to all of it, where there is one."""
    ends: list[tuple[frozenset[str], Stop | None]] = [
        (frozenset(), None),
        *((stop.before, stop) for stop in stops),
        (every, None),
    ]
    cheapest: dict[int, tuple[tuple[int, int, float], int, Pour | None]] = {0: ((0, 0, 0.0), -1, None)}
    for k in range(1, len(ends)):
        for before in range(k):
            there = cheapest.get(before)
            if there is None or not ends[before][0] < ends[k][0]:
                continue
            one = pour(ends[k][0] - ends[before][0])
            if one.loads <= most:
                (pours, trucks, left), _, _ = there
                worth = pours + 1, trucks + one.loads, max(left, one.left)
                if k not in cheapest or worth < cheapest[k][0]:
                    cheapest[k] = worth, before, one
    at = len(ends) - 1
    if at not in cheapest:
        return
    found: list[Pour] = []
    lines: list[Stop] = []
    while at > 0:
        _, before, one_pour = cheapest[at]
        stop = ends[at][1]
        lines = [*([stop] if stop else []), *lines]
        found = [*([one_pour] if one_pour else []), *found]
        at = before
    yield found, lines
