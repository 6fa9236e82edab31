"""What everything that cannot move, and the falls that are asked, leave of the heights of the slab: clash or room.

Heights of the slab at places along its edges and its drawn valleys are differences of one another and of the datum:
a fixed thing holds the slab there between two heights, a fall asked holds one place so much above another. What lies
between the places is left open, so a clash found here is one on any surface; a low line that nobody drew, between a
wall and where the slab falls to, is not counted on.
"""

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import ClassVar, NamedTuple

from slabwright.geometry.differences import Arc, forced, greatest
from slabwright.geometry.xy import XY
from slabwright.plan.asked_falls import SIDE_BY_SIDE, AskedFalls, Asks, HeldSpot
from slabwright.plan.held import FLUSH, Bound, Chain, HeightAsked, Held, HeldHeights
from slabwright.plan.view import PlanView

MOST_SPOTS = 50
ANY = 1e3  # a fall, or a depth in m, beyond every one that is asked
AT_MOST = frozenset({"steepest", "door step", "base", *FLUSH})  # the amounts asked of these are greatest ones


class Tight(NamedTuple):
    """How much of one thing can be asked of the heights, and what allows no more; no less, of what is asked at most."""

    amount: float  # a slope, or a depth in m; below zero where it cannot but be the other way round
    run: float  # over which it is asked, m; 1 for each place where it is a depth
    held: tuple[Held, ...]
    label: str  # of what is asked: the wall, the valley, the door
    others: tuple[tuple[HeightAsked, str], ...]  # what else is asked that allows no more
    at: tuple[XY, ...]  # between these places, from the one that lies higher by it


class HeldRoom(NamedTuple):
    """How far a held thing, alone, could be raised and brought down, m; inf where nothing ends it."""

    held: Held
    up: float
    down: float

    @property
    def change(self) -> float:
        """How far it has to move so that all can hold, m: above zero raised; 0 where it may stay."""
        return self.up if self.up < 0 else -self.down if self.down < 0 else 0.0


class Agreement(PlanView):
    """The heights that cannot move and the falls that are asked, as one system of differences."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset[str]()
    _held: HeldHeights
    _asked_falls: AskedFalls

    @cached_property
    def _system(self) -> tuple[tuple[HeldSpot, ...], tuple[Asks, ...]]:
        """Every place, and everything asked; heights are numbered: the datum, the held things, the places."""
        held, chains = self._held.all, self._held.chains
        if len(held) < 2:
            return (), ()
        spots: list[HeldSpot] = []
        numbers: dict[tuple[int, HeightAsked | None, int, int], int] = {}
        asks: list[Asks] = []
        for thing in range(1, len(held) + 1):
            asks += [Asks(None, Arc(thing, 0, 0.0)), Asks(None, Arc(0, thing, 0.0))]

        def put(at: XY, bounds: Sequence[tuple[Chain | None, Bound]]) -> list[int]:
            found = []
            for chain, (thing, low, high) in bounds:
                sort = chain.asked if chain else None
                key = thing, sort, round(at[0] * 1000), round(at[1] * 1000)
                if key not in numbers and len(spots) >= MOST_SPOTS:
                    continue
                if key not in numbers:
                    number = numbers[key] = len(held) + 1 + len(spots)
                    spots.append(HeldSpot(at, thing, low, high, sort))
                    if math.isfinite(low):
                        arc = Arc(number, thing + 1, low, 0.0 if sort is None else 1.0)
                        asks.append(Asks(sort, arc, held[thing].name))
                    if math.isfinite(high):
                        flush = sort if sort in FLUSH else None
                        arc = Arc(thing + 1, number, -high, 0.0 if flush is None else 1.0)
                        asks.append(Asks(flush, arc, held[thing].name))
                found.append(numbers[key])
            return found

        def at_place(at: XY) -> list[int]:
            """The numbers of a place: one for each thing that holds the slab there."""
            bounds = [(chain, bound) for chain in chains if (bound := chain.at(at)) is not None]
            return put(at, bounds or [(None, (-1, -math.inf, math.inf))])

        for at in (at for chain in chains for at, _, _ in chain.spots):
            if len(spots) < MOST_SPOTS:
                at_place(at)
        bound = [spot.at for spot in spots]
        for sort, label, start, end, run in self._asked_falls.between(bound):
            for upper in at_place(start):
                asks += [Asks(sort, Arc(upper, lower, 0.0, run), label) for lower in at_place(end)]
        asks += self._asked_falls.to_outlets(spots, len(held) + 1)
        for at in self._asked_falls.turns():
            put(at, [(None, (-1, -math.inf, math.inf))])
        asks += self._asked_falls.no_steeper(spots, len(held) + 1)
        return tuple(spots), tuple(asks)

    @property
    def _count(self) -> int:
        return 1 + len(self._held.all) + len(self._system[0])

    def tight(self, sort: HeightAsked, kept: Mapping[HeightAsked, float]) -> Tight | None:
        """The most of one thing that can be asked (of what is asked at most, the least), and what allows no more.

        ``kept`` are the amounts of other things that are kept as well. None where nothing is asked, or nothing
        binds it; the least greatest fall is then level.
        """
        asks = [one for one in self._system[1] if one.sort in (None, sort) or one.sort in kept]
        sign = -1.0 if sort in AT_MOST else 1.0
        if not any(one.sort == sort for one in asks):
            return None
        arcs = [one.arc if one.sort == sort else self._with(one, kept) for one in asks]
        found = greatest(self._count, arcs, 0.0 if sort in AT_MOST else ANY)
        if found is None and sort == "steepest":
            level = {spot.held: spot.at for spot in reversed(self._system[0]) if spot.held >= 0}
            return Tight(0.0, 0.0, tuple(self._held.all[k] for k in sorted(level)), "", (), tuple(level.values()))
        if found is None or not math.isfinite(found.amount):
            return None
        chain = [asks[number] for number in found.chain]
        own = [one for one in chain if one.sort == sort]
        first = chain.index(own[0])
        round_ = (*chain[first:], *chain[:first])
        order = [one.arc.upper - 1 for one in round_ if 0 < one.arc.upper <= len(self._held.all)]
        if not order:
            return None
        order = order if sort in AT_MOST else order[::-1]
        at = [self._at(number) for one in own for number in (one.arc.upper, one.arc.lower)]
        if sort in AT_MOST:
            at = at[::-1]
        return Tight(
            amount=sign * found.amount,
            run=sum(one.arc.run for one in own),
            held=tuple(self._held.all[number] for number in dict.fromkeys(order)),
            label=own[0].label,
            others=tuple(
                dict.fromkeys(
                    (one.sort, one.label)
                    for one in chain
                    if one.sort not in (None, sort) and one.arc.run > SIDE_BY_SIDE
                )
            ),
            at=tuple(dict.fromkeys(spot for spot in at if spot is not None)),
        )

    def _at(self, number: int) -> XY | None:
        spots = self._system[0]
        place = number - len(self._held.all) - 1
        return spots[place].at if place >= 0 else None

    def _with(self, one: Asks, kept: Mapping[HeightAsked, float]) -> Arc:
        """An arc with the amount that is kept of it."""
        arc = one.arc
        if one.sort is None:
            return arc
        amount = kept[one.sort] * (-1.0 if one.sort in AT_MOST else 1.0)
        return Arc(arc.upper, arc.lower, arc.least + arc.run * amount)

    def rooms(self, kept: Mapping[HeightAsked, float]) -> tuple[HeldRoom, ...]:
        """How far each held thing, alone, could be raised or brought down so that all that is kept can hold.

        Where the one is below zero it has to go the other way: so much, at least. Things with which nothing can hold,
        however they move, are left out.
        """
        asks = [one for one in self._system[1] if one.sort is None or one.sort in kept]
        found = []
        for thing, one in enumerate(self._held.all, 1):
            arcs = [self._with(ask, kept) for ask in asks if not _anchors(ask, thing)]
            lies = forced(self._count, arcs)
            if lies is not None:
                found.append(HeldRoom(one, float(-lies[0, thing]), float(-lies[thing, 0])))
        return tuple(found)


def _anchors(ask: Asks, thing: int) -> bool:
    """Whether an arc ties a held thing to the datum."""
    return {ask.arc.upper, ask.arc.lower} == {0, thing}
