"""Construction joints at whole truck loads: the lines of a layout at which each pour ends.

Every line of joints that parts the slab whole may end a pour. Seen from a corner, some of them lie one behind the
other; of all such rows those are taken whose pours need no more loads than a day brings. Of these the one with the
fewest pours, then the fewest loads, then the least left over in any one pour.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from slabwright.formulas.ordering import USUAL_ALLOWANCE, loads, with_allowance
from slabwright.named_tuple import NamedTuple
from slabwright.plan.plan import Plan
from slabwright.proposals.stopping import Stop, stops_from
from slabwright.text.words import Words, words
from slabwright.units.quantity import volume

CORNERS = 12  # of the slab, from which placing may start


class Pour(NamedTuple):
    """What is placed in one day, m3: as drawn, with its allowance, the loads that bring it, and what is left over."""

    net: float
    needed: float
    loads: int
    left: float
    panels: tuple[str, ...]


class Parted(NamedTuple):
    """The pours from one end of the slab to the other, and the lines of joints between them.

    ``why`` tells, where they end on lines of the layout, what kept them from whole loads.
    """

    ends: tuple[tuple[str, ...], ...]
    pours: tuple[Pour, ...]
    why: Words | None = None


def loads_of(plan: Plan) -> tuple[float, float] | Words:
    """The allowance as a share and the load of a truck, m3; or the sentence that tells that the file names none."""
    order = plan.design.order
    if order is None or order.truck is None:
        return words("the file names no truck, and no load has a size; under order write truck: {10 yd3|8 m3}")
    return (order.allowance.si if order.allowance else USUAL_ALLOWANCE), order.truck.si


def parted(plan: Plan, most: int, kept: Sequence[str]) -> Parted | Words:
    """The slab parted into pours of at most so many loads each; or the sentence that tells why it is not.

    Lines of the construction joints ``kept`` always end a pour.
    """
    sizes = loads_of(plan)
    if isinstance(sizes, Words):
        return sizes
    share, truck = sizes
    names = [panel.name for panel in plan.panels.all]
    volumes = dict(zip(names, plan.concrete.panel_volumes.tolist(), strict=True))

    def pour(panels: frozenset[str]) -> Pour:
        net = sum(volumes[name] for name in panels)
        needed = with_allowance(net, share)
        trucks = loads(needed, truck)
        own = tuple(name for name in names if name in panels)
        return Pour(net, needed, trucks, trucks * truck - needed, own)

    largest = pour(frozenset([max(names, key=lambda name: round(volumes[name], 6))]))
    day = f"{most} loads" if most > 1 else "one load"
    if largest.loads > most:
        return words(
            "panel {panel} alone takes {needed}, more than {day} of {truck}: no joint of the layout ends a pour soon "
            "enough", panel=largest.panels[0], needed=volume(largest.needed), day=day, truck=volume(truck),
        )  # fmt: skip
    best: tuple[tuple[int, int, float], Parted] | None = None
    for corner in plan.shape.corners[:CORNERS]:
        stops = sorted(stops_from(plan, (corner.at.x, corner.at.y)), key=lambda stop: stop.placed)
        found = _fewest(frozenset(names), stops, pour, most, frozenset(kept))
        if found is not None:
            worth = len(found.pours), sum(one.loads for one in found.pours), max(one.left for one in found.pours)
            if best is None or worth < (*best[0][:2], best[0][2] - 1e-6):
                best = worth, found
    if best is None:
        return words(
            "no row of lines across the slab parts it into pours of at most {day} of {truck}; more loads a day do, or "
            "a joint that runs on from edge to edge", day=day, truck=volume(truck),
        )  # fmt: skip
    return best[1]


def _fewest(
    every: frozenset[str],
    stops: Sequence[Stop],
    pour: Callable[[frozenset[str]], Pour],
    most: int,
    kept: frozenset[str],
) -> Parted | None:
    """The cheapest row of stops one behind the other, from nothing placed to all of it."""
    ends: list[tuple[frozenset[str], Stop | None]] = [
        (frozenset(), None),
        *((stop.before, stop) for stop in stops),
        (every, None),
    ]
    musts = [k for k, (_, stop) in enumerate(ends) if stop is not None and kept.intersection(stop.joints)]
    cheapest: dict[int, tuple[tuple[int, int, float], int, Pour | None]] = {0: ((0, 0, 0.0), -1, None)}
    for k in range(1, len(ends)):
        for before in range(k):
            there = cheapest.get(before)
            if there is None or not ends[before][0] < ends[k][0] or any(before < must < k for must in musts):
                continue
            one = pour(ends[k][0] - ends[before][0])
            if one.loads <= most:
                (pours, trucks, left), _, _ = there
                worth = pours + 1, trucks + one.loads, max(left, one.left)
                if k not in cheapest or worth < cheapest[k][0]:
                    cheapest[k] = worth, before, one
    at = len(ends) - 1
    if at not in cheapest:
        return None
    found: list[Pour] = []
    lines: list[tuple[str, ...]] = []
    while at > 0:
        _, before, one_pour = cheapest[at]
        stop = ends[at][1]
        lines = [*([stop.joints] if stop else []), *lines]
        found = [*([one_pour] if one_pour else []), *found]
        at = before
    return Parted(tuple(lines), tuple(found))
