"""The concrete of a plan: net volume, allowance, what the pump keeps, loads, and room before another truck."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import floor

from slabwright.design.model import Order
from slabwright.formulas import ordering
from slabwright.formulas.units import INCH, YARD3
from slabwright.plan.plan import Plan
from slabwright.text.words import Step, Words, step, words
from slabwright.units.quantity import depth, length, share, volume

SPARE, SPARE_ON_SHOTS = 0.04, 0.03  # least allowance, `nrmca-cip-8-spare`
HOPPER = 0.25 * YARD3  # m3 left in the hopper of a small pump: 1/4 to 1/2 yd3, `pump-trade-text`
TRUCK = {"us": 10 * YARD3, "metric": 7.5}  # m3: 9 to 11 yd3 is typical, `ready-mixed-truck-page`
STEP = {"us": 0.25 * YARD3, "metric": 0.1}  # m3, `supplier-practice`
SHORT_LOAD = 3 * YARD3  # m3: fees start below 3 to 10 yd3, `supplier-practice`
EIGHTH, MILLIMETER = INCH / 8, 0.001
QUARTER, FIVE = INCH / 4, 0.005
DEEPER = {"us": (INCH / 4, INCH / 2, 3 * INCH / 4, INCH), "metric": (0.005, 0.010, 0.015, 0.025)}


@dataclass(frozen=True, slots=True)
class Concrete:
    """All volumes in m3. ``needed`` is net, allowance and losses; ``ordered`` is what is ordered for it."""

    net: float
    allowance: float  # share
    allowance_volume: float
    allowance_reason: Words
    losses: tuple[Step, ...]  # each with its volume as result
    lost: float
    least: float  # net, the least allowance and losses: an order under this is too small
    needed: float
    step: float
    rounded: float  # needed, rounded up to the plant's step
    ordered: float  # as the file orders it, its allowance on top unless it is inside; else ``rounded``
    on_top: float  # allowance that comes on top of the volume in the file, share
    typed: bool  # the file orders a volume of its own
    truck: float
    loads: tuple[float, ...]
    short_load: float  # a load under this is a short one
    area: float  # m2 of slab, steps not counted
    working: tuple[Step, ...]
    assumed: tuple[Words, ...]
    add: tuple[str, ...]

    @property
    def trucks(self) -> int:
        """How many loads."""
        return len(self.loads)

    @property
    def too_small(self) -> bool:
        """Whether the file orders less than the slab takes with the least allowance."""
        return self.typed and self.ordered < self.least * (1 - 1e-6)

    @property
    def brought(self) -> float:
        """What so many full trucks can bring, m3."""
        return self.trucks * self.truck

    @property
    def last_is_short(self) -> bool:
        """Whether the last load is a short one."""
        return self.loads[-1] < self.short_load * (1 - 1e-6)

    @property
    def headroom(self) -> float:
        """Average extra depth, m, before one more truck is needed, the allowance kept; below zero: needed already."""
        return (self.brought - self.needed) / (1 + self.allowance) / self.area

    @property
    def order_headroom(self) -> float:
        """Average extra depth, m, before the volume ordered is used up, allowance and all; below zero: short."""
        return (self.ordered - self.lost - self.net) / self.area

    def extra(self, deeper: float) -> float:
        """What ``deeper`` m of average depth costs, m3, with its allowance."""
        return ordering.with_allowance(ordering.slab_volume(self.area, deeper), self.allowance)

    def deeper(self, by: float) -> tuple[float, int]:
        """Volume needed (m3) and loads when the slab runs deeper by ``by`` m on average."""
        needed = self.needed + self.extra(by)
        return needed, ordering.loads(ordering.rounded_up(needed, self.step), self.truck)


def floored(value: float, unit: float) -> float:
    """A length cut down to whole units; a hair under a whole one counts as whole.

    >>> round(floored(0.0254 * 0.706, EIGHTH) / 0.0254, 3)
    0.625
    """
    return floor(value / unit + 1e-6) * unit


def concrete(plan: Plan, order: Order | None = None) -> Concrete:
    """The concrete of a plan by its own ``order`` section, or by another one."""
    said = order or plan.design.order or Order()
    net = plan.concrete.quantities.net
    part, reason = ordering.USUAL_ALLOWANCE, words("as estimators take it (cost handbook 2018, p. 42)")
    if said.allowance is not None:
        part, reason = said.allowance.si, words("as the file says")
    base = plan.design.site.base
    spare = SPARE_ON_SHOTS if base is not None and base.shot_after_compaction else SPARE
    added = net * part
    losses, add = _losses(said)
    lost = sum(one.result.si for one in losses)
    needed = net + added + lost
    step_size = said.step.si if said.step else STEP[plan.home]
    least = net * (1 + spare) + lost
    rounded = ordering.rounded_up(max(needed, least), step_size)
    ordered = ordering.with_allowance(said.volume.si, said.on_top) if said.volume else rounded
    truck = said.truck.si if said.truck else TRUCK[plan.home]
    count = max(1, ordering.loads(ordered, truck))
    loads = (*(truck,) * (count - 1), ordered - (count - 1) * truck)
    return Concrete(
        net, part, added, reason, losses, lost, least, needed, step_size, rounded, ordered,
        said.on_top if said.volume else 0.0, said.volume is not None, truck, loads,
        said.short_load.si if said.short_load else SHORT_LOAD, plan.shape.area,
        _working(net, part, added, losses, needed, rounded, step_size), _assumed(plan, said), add,
    )  # fmt: skip


def _losses(said: Order) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """What the pump keeps, and what to write to know it better."""
    losses, add = [], []
    if said.left_in_hopper:
        losses.append(step("left in the hopper", "as given", words(""), volume(said.left_in_hopper.si)))
    elif said.method == "pump":
        losses.append(step("left in the hopper", "common practice", words(""), volume(HOPPER)))
        add.append("order.left_in_hopper: what stays in the pump, such as {0.25 yd3|0.2 m3}")
    if said.hose and said.hose_length:
        line = ordering.cylinder_volume(said.hose.si, said.hose_length.si)
        numbers = words("pi / 4 x {d} x {d} x {l}", d=depth(said.hose.si), l=length(said.hose_length.si))
        losses.append(step("left in the line", "pi / 4 x diameter x diameter x length", numbers, volume(line)))
    elif said.method == "pump":
        such = "{2 1/2 in|65 mm} and {100 ft|30 m}"
        add.append(f"order.hose and order.hose_length: inside diameter and length of the line, such as {such}")
    return tuple(losses), tuple(add)


def _assumed(plan: Plan, said: Order) -> tuple[Words, ...]:
    """What stands in for things the file does not say."""
    found = []
    if said.truck is None:
        found.append(words("a truck is taken to bring {truck}: write order.truck", truck=volume(TRUCK[plan.home])))
    if said.step is None:
        found.append(words("orders are rounded up to {step}: write order.step", step=volume(STEP[plan.home])))
    if said.method == "pump" and said.left_in_hopper is None:
        found.append(words("{hopper} is taken to stay in the hopper", hopper=volume(HOPPER)))
    return tuple(found)


def _working(
    net: float, part: float, added: float, losses: tuple[Step, ...], needed: float, rounded: float, step_size: float
) -> tuple[Step, ...]:
    allowance = step("allowance", "net x share", words("{v} x {s}", v=volume(net), s=share(part)), volume(added))
    lost = sum(one.result.si for one in losses)
    parts = "{n} + {a} + {l}" if lost else "{n} + {a}"
    values = {"n": volume(net), "a": volume(added)} | ({"l": volume(lost)} if lost else {})
    total = step(
        "needed", "net + allowance + losses" if lost else "net + allowance", words(parts, **values), volume(needed)
    )
    up = step(
        "rounded up", "to steps", words("{n} to steps of {s}", n=volume(needed), s=volume(step_size)), volume(rounded)
    )
    return (allowance, *losses, total, up)


def for_other(plan: Plan) -> Concrete:
    """The same order terms for another plan of the job, ordering what that one needs."""
    said = plan.design.order or Order()
    return concrete(plan, said._replace(volume=None))


def all_days(plan: Plan, days: Sequence[Concrete]) -> Concrete:
    """What the pours of several days take together: the sums, and all their loads one after the other."""
    return replace(
        concrete(plan),
        net=sum(day.net for day in days),
        allowance_volume=sum(day.allowance_volume for day in days),
        lost=sum(day.lost for day in days),
        least=sum(day.least for day in days),
        needed=sum(day.needed for day in days),
        rounded=sum(day.rounded for day in days),
        ordered=sum(day.ordered for day in days),
        typed=all(day.typed for day in days),
        loads=tuple(load for day in days for load in day.loads),
    )
