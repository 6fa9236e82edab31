"""A base that is off its height: pour thicker, bring base up, trim, or set other heights; what each takes and costs.

Each choice is a design of its own, worked and judged like the one in the file. A choice keeps the rules when its review
holds nothing that the base as it lies does not bring, and no other choice of which that is true clears more holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Final, NamedTuple

from slabwright.design.costs import Dig, Prices
from slabwright.design.heights import SpotHeight
from slabwright.design.model import Design
from slabwright.formulas import base as base_course
from slabwright.formulas import hauling
from slabwright.formulas.units import INCH
from slabwright.geometry.surface.cut_fill import Above, above
from slabwright.plan.plan import Plan
from slabwright.sheets.order.concrete import EIGHTH, Concrete, floored, for_other
from slabwright.sheets.order.haul import a_load, ground
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, Kind, depth, volume

Standing = frozenset[tuple[str, str, str]]  # rule, thing, weight of every hold and caution that stands
Judge = Callable[[Plan], Standing]
Settle = Callable[[Plan], Design | None]  # the design with the heights that `propose heights` finds; None without any

THIN_ANYWHERE: Final = 3 / 4 * INCH  # m under it anywhere, `aci-117-10-quoted`
_MATTERS = 0.02  # m3: less base than that is nobody's decision
_FINE_GRADE = INCH / 4  # m: a base nowhere further off than this is at its height, common practice
_SHIFT = {"us": EIGHTH, "metric": 0.005}  # m: what a finish is moved by


@dataclass(frozen=True, slots=True)
class Option:
    """One choice. Volumes in m3, masses in kg; ``cost`` None while a price it needs is not given."""

    key: str
    name: str
    does: Words
    worked: Concrete
    base_volume: float = 0.0  # compacted
    base_mass: float = 0.0
    trimmed: float = 0.0  # bank
    trimmed_mass: float = 0.0
    trips: int | None = 0
    cost: float | None = None
    brings: tuple[str, ...] = ()  # what stands in its review and not in that of the base as it lies
    clears: tuple[str, ...] = ()
    kept: bool | None = None  # whether it keeps every rule; None: not judged


@dataclass(frozen=True, slots=True)
class Options:
    """The choices, those that keep the rules first, the cheapest (or, without prices, the least concrete) in front."""

    low: Above
    high: Above
    deepest: float  # m
    thinnest: float  # m
    choices: tuple[Option, ...]
    left_out: tuple[Words, ...]  # choices there are not, and why
    add: tuple[str, ...]  # prices that are not given

    @property
    def best(self) -> Option | None:
        """The one to take: the first that keeps every rule, if costs are known for it."""
        return next((one for one in self.choices if one.kept is not False and one.cost is not None), None)


class _Offer(NamedTuple):
    """A choice before it is worked: the design it makes, and what it takes of base and trimming, m3."""

    key: str
    name: str
    does: Words
    design: Design
    base_volume: float = 0.0
    trimmed: float = 0.0


def options(
    plan: Plan, prices: Prices | None = None, judge: Judge | None = None, settle: Settle | None = None
) -> Options | None:
    """The choices for a base that was shot; None while it was not, or where it is at its height already.

    ``settle`` adds the heights that are proposed for the whole slab on the base as it lies.
    """
    lies, depths = _low_and_high(plan), plan.concrete.depths
    if lies is None or depths is None:
        return None
    low, high = lies
    drawn = plan.thickness.body_at
    off = max(depths.most - drawn(depths.most_at), drawn(depths.least_at) - depths.least)
    if off < _FINE_GRADE * (1 - 1e-6) or max(low.volume, high.volume) < _MATTERS:
        return None
    offers = [*_base_graded(plan, low.volume, high.volume)]
    left_out = []
    for up in (False, True):
        moved = _finish_moved(plan, up)
        if isinstance(moved, _Offer):
            offers.append(moved)
        elif moved is not None:
            left_out.append(moved)
    offers += _settled(plan, settle)
    missing: set[str] = set()
    made = [_worked(plan, offer, prices or Prices(), missing) for offer in offers]
    choices = _judged(made, judge)
    return Options(low, high, depths.most, depths.least, choices, tuple(left_out), tuple(sorted(missing)))


def _low_and_high(plan: Plan) -> tuple[Above, Above] | None:
    """Where the base lies too low for the design thickness, and where too high; None where either is not known."""
    top, bottom = plan.finish.surface, plan.concrete.base_surface
    if top is None or bottom is None:
        return None
    return above(top, bottom, plan.thickness.design), above(bottom, top, -plan.thickness.design)


def _base_graded(plan: Plan, low: float, high: float) -> Iterator[_Offer]:
    """The base as it lies, brought up where it is too low, trimmed where too high, and both; volumes in m3."""
    as_it_lies = words("pour what the base asks for: {v} more than at the design thickness", v=volume(low))
    yield _Offer("as it lies", "pour as the base lies", as_it_lies, plan.design)
    if low >= _MATTERS:
        does = words("bring the low places up with compacted base, {v}, in lifts of {4 in|100 mm}", v=volume(low))
        yield _Offer("fill", "bring the low base up", does, _base_moved(plan, up=True), base_volume=low)
    if high >= _MATTERS:
        does = words("trim the high places of the base, {v}", v=volume(high))
        yield _Offer("trim", "trim the high base", does, _base_moved(plan, down=True), trimmed=high)
    if low >= _MATTERS and high >= _MATTERS:
        does = words("trim the high places and fill the low ones")
        yield _Offer("trim and fill", "trim and fill", does, _base_moved(plan, up=True, down=True), low, high)


def _finish_moved(plan: Plan, up: bool) -> _Offer | Words | None:
    """The whole finish set higher, or lower, onto the base as it lies; why it cannot; None where nothing asks."""
    shift, why = _shift(plan, up)
    if why is not None or not shift:
        return why
    does = words("set the whole finish {d} higher" if up else "set the whole finish {d} lower", d=depth(abs(shift)))
    way = "raise" if up else "lower"
    return _Offer(way, f"{way} the finish", does, _moved(plan, shift))


def _settled(plan: Plan, settle: Settle | None) -> Iterator[_Offer]:
    """The heights that are proposed for the whole slab: on the base as it lies, and with the base graded to them."""
    settled = settle(plan) if settle else None
    moves = _moves(plan.design, settled) if settled else []
    if settled is None or not moves:
        return
    does = words(
        "set the {n} heights that `propose heights` moves, {most} at most; the base stays",
        n=len(moves),
        most=depth(max(abs(by) for by in moves)),
    )
    yield _Offer("settle", "new heights, base as it is", does, settled)
    after = Plan(settled)
    if lies := _low_and_high(after):
        fill, trim = (part.volume for part in lies)
        does = words(
            "set the same heights, and grade the base to them: trim {trim} and fill {fill}",
            trim=volume(trim),
            fill=volume(fill),
        )
        graded = _base_moved(after, up=True, down=True)
        base, trimmed = (cubic if cubic >= _MATTERS else 0.0 for cubic in (fill, trim))
        yield _Offer("settle and grade", "new heights, base graded", does, graded, base, trimmed)


def _worked(plan: Plan, offer: _Offer, prices: Prices, missing: set[str]) -> tuple[Option, Plan]:
    """A choice with what it takes and costs, and the plan that its review judges."""
    other = plan if offer.design is plan.design else Plan(offer.design)
    worked = for_other(other)
    trimmed_mass, trips = _hauled(plan, offer.trimmed)
    option = Option(
        offer.key,
        offer.name,
        offer.does,
        worked,
        base_volume=offer.base_volume,
        base_mass=hauling.mass_of(offer.base_volume, base_course.USUAL_DENSITY),
        trimmed=offer.trimmed,
        trimmed_mass=trimmed_mass,
        trips=trips,
    )
    return replace(option, cost=_cost(option, prices, missing)), _ordering(other, worked)


def _moves(before: Design, after: Design) -> list[float]:
    """How far each finish height is moved, m, heights that stay left out."""
    drawn = {(one.at.x, one.at.y): one.height.si for one in before.heights.finish}
    moved = [one.height.si - drawn.get((one.at.x, one.at.y), one.height.si) for one in after.heights.finish]
    return [by for by in moved if abs(by) > 1e-6]


def _judged(made: list[tuple[Option, Plan]], judge: Judge | None) -> tuple[Option, ...]:
    """The choices with what their reviews say, in order."""
    choices = [option for option, _ in made]
    if judge is not None:
        standing = [judge(plan) for _, plan in made]
        holds = [sum(weight == "hold" for _, _, weight in one) for one in standing]
        brought = [one - standing[0] for one in standing]
        fewest = min(count for count, brings in zip(holds, brought, strict=True) if not brings)
        told = []
        for option, one, count in zip(choices, standing, holds, strict=True):
            brings, clears = one - standing[0], standing[0] - one
            kept = not brings and count == fewest
            told.append(replace(option, brings=_said(brings), clears=_said(clears), kept=kept))
        choices = told
    far = float("inf")
    return tuple(
        sorted(
            choices,
            key=lambda one: (one.kept is False, far if one.cost is None else one.cost, one.worked.needed, one.key),
        )
    )


def _said(standing: Standing) -> tuple[str, ...]:
    return tuple(f"{rule} ({thing})" if thing else rule for rule, thing, _ in sorted(standing))


def _hauled(plan: Plan, bank: float) -> tuple[float, int | None]:
    """Mass (kg) of a bank volume, and its trips in loads that truck and tip take; None while these are not known."""
    if not bank:
        return 0.0, 0
    soil = ground(plan)
    box, payload = a_load(plan.design.dig or Dig())
    if box is None or payload is None:
        return hauling.mass_of(bank, soil.bank_weight), None
    trips = hauling.trips(bank, soil.swell, soil.bank_weight, box, payload)
    return hauling.mass_of(bank, soil.bank_weight), trips


def _cost(option: Option, prices: Prices, missing: set[str]) -> float | None:
    """Concrete, loads, base and hauling of a choice, by the prices given; None while one it needs is not."""
    worked = option.worked
    needs = {"prices.concrete": prices.concrete}
    if option.base_volume:
        needs["prices.base"] = prices.base
    if option.trimmed:
        needs["prices.haul"] = prices.haul
    lacking = {key for key, price in needs.items() if price is None}
    missing |= lacking
    if option.base_volume and prices.base_placing is None:
        missing.add("prices.base_placing")
    if option.trimmed and option.trips is None:
        missing |= {"dig.box", "dig.payload"}
        return None
    if lacking or prices.concrete is None:
        return None
    cost = prices.concrete.of(worked.ordered)
    cost += prices.delivery.of(worked.trucks) if prices.delivery else 0.0
    cost += prices.short_load.of(1) if prices.short_load and worked.last_is_short else 0.0
    if option.base_volume and prices.base is not None:
        brought = prices.base.of(option.base_mass)
        cost += max(brought, prices.base_delivery.of(1)) if prices.base_delivery else brought
        cost += prices.base_placing.of(option.base_volume) if prices.base_placing else 0.0
    if option.trimmed and prices.haul is not None and option.trips is not None:
        cost += prices.haul.of(option.trips)
        cost += prices.tip.of(option.trimmed_mass) if prices.tip else 0.0
    return cost


def _ordering(plan: Plan, worked: Concrete) -> Plan:
    """The plan with the volume a choice orders, so that rules on the order judge that one."""
    order = plan.design.order
    if order is None or order.volume is None:
        return plan
    said = order._replace(volume=Amount(worked.rounded, Kind.VOLUME), allowance_inside=True)
    return Plan(plan.design._replace(order=said))


def _base_moved(plan: Plan, up: bool = False, down: bool = False) -> Design:
    """The design with its base brought to the underside of the slab where it is too low, too high, or both."""
    shots: list[SpotHeight] = []
    places = [(shot.at.x, shot.at.y) for shot in plan.design.heights.base]
    for shot, at, finish in zip(plan.design.heights.base, places, plan.finish.all_at(places), strict=True):
        level = shot.height.si
        level = level if finish is None else finish - plan.thickness.shot_at(at, finish - level)
        moves = (up and level > shot.height.si) or (down and level < shot.height.si)
        shots.append(shot._replace(height=Amount(level, Kind.HEIGHT)) if moves else shot)
    heights = plan.design.heights._replace(base=tuple(shots))
    return plan.design._replace(heights=heights)


def _moved(plan: Plan, by: float) -> Design:
    """The design with its finish, and the rims of drains and channels in it, moved up by ``by`` m."""

    def moved(height: Amount) -> Amount:
        return Amount(height.si + by, Kind.HEIGHT)  # the bottoms of channels stay

    design = plan.design
    finish = tuple(one._replace(height=moved(one.height)) for one in design.heights.finish)
    fixtures = tuple(one._replace(rim=moved(one.rim)) if one.rim else one for one in design.fixtures)
    channels = tuple(one._replace(rim=tuple(map(moved, one.rim))) for one in design.channels)
    return design._replace(heights=design.heights._replace(finish=finish), fixtures=fixtures, channels=channels)


def _shift(plan: Plan, up: bool) -> tuple[float, Words | None]:
    """How far the finish may go up or down to bring the mean depth to the design, m; or why it may not."""
    depths = plan.concrete.depths
    if depths is None:
        return 0.0, None
    off = depths.mean - depths.mean_drawn
    wanted = max(0.0, -off if up else off)
    if wanted < _SHIFT[plan.home]:
        return 0.0, None
    room, holder = wanted, ""
    if not up:
        thin = depths.least - (plan.thickness.body_at(depths.least_at) - THIN_ANYWHERE)
        if thin < room:
            room, holder = thin, "the thinnest place"
    for match in plan.fixed.matches:
        asked, off_fixed = match.fixed.slab, match.slab - match.height
        if asked is None:
            continue
        bound = asked.high if up else asked.low
        if bound is None:
            continue
        left = bound - off_fixed if up else off_fixed - bound
        if left < room - 1e-9:
            room, holder = left, match.fixed.name
    shift = floored(max(room, 0.0), _SHIFT[plan.home])
    if shift <= 0:
        said = "the finish cannot go up: {thing} holds it" if up else "the finish cannot go down: {thing} holds it"
        return 0.0, words(said, thing=holder)
    return (shift if up else -shift), None
