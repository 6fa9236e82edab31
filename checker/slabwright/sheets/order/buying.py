"""The list of things to order: one row each, with what it costs where the user gave a price."""

from __future__ import annotations

from collections.abc import Sequence

from slabwright.design.costs import Prices
from slabwright.design.phrases import Price
from slabwright.formulas import hauling
from slabwright.plan.plan import Plan
from slabwright.sheets.order import materials
from slabwright.sheets.order.bars_and_mesh import Steel
from slabwright.sheets.order.concrete import Concrete
from slabwright.sheets.order.haul import Haul
from slabwright.sheets.order.material_parts import fiber_bags
from slabwright.sheets.sheet import Cell, Column, Figure, Money, Section, Table
from slabwright.text.words import Words, words
from slabwright.units.quantity import (
    System,
    area,
    depth,
    length,
    mass,
    numerals,
    share,
    show,
    small_volume,
    volume,
)

_Row = tuple[str, Cell, Cell, float, Price | None, bool]  # item, detail, quantity, SI number, price, always


def buying(
    plan: Plan, worked: Concrete, steel: Steel | None, dug: Haul | None, prices: Prices
) -> tuple[Section, Section]:
    """What is ordered, and what the crew or somebody hired does; both go out as CSV."""
    bought = [*_concrete(worked, prices, plan), *_steel(steel, prices), *_rest(plan, prices), *_base(plan, prices)]
    done = [*_work(plan, prices), *_ground(plan, dug, prices)]
    priced = any(price is not None for *_, price, _ in (*bought, *done))
    first, sum_bought = _table("list", bought, prices, priced, plan.system)
    second, sum_done = _table("do", done, prices, priced, plan.system)
    notes: list[Words] = []
    bare = [item for item, _, _, _, price, always in (*bought, *done) if always and price is None]
    if priced and bare:
        notes.append(
            words("no price is given for {items}: the total leaves them out", items=", ".join(dict.fromkeys(bare)))
        )
    if not priced:
        notes.append(words("no prices are given, so there are quantities alone: write prices, or --prices FILE"))
    whole = Figure(
        "total", "Ordered and done", Money(sum_bought + sum_done, prices.currency), words("all that is priced")
    )
    return (
        Section("list", "To order", tables=(first,), notes=tuple(notes)),
        Section("do", "To do", figures=(whole,) if first.total and second.total else (), tables=(second,)),
    )


def _table(key: str, rows: Sequence[_Row], prices: Prices, priced: bool, system: System) -> tuple[Table, float]:
    """The rows as a table, with what they cost together."""
    columns = [
        Column("item", "Item", right=False),
        Column("detail", "Detail", right=False),
        Column("quantity", "Quantity"),
    ]
    if priced:
        columns += [Column("price", "Price"), Column("cost", "Cost")]
    lines: list[tuple[Cell, ...]] = []
    total = 0.0
    for item, detail, quantity, number, price, always in rows:
        if not always and price is None:
            continue
        cost = None if price is None else price.of(number)
        total += cost or 0.0
        line: tuple[Cell, ...] = (item, detail, quantity)
        if priced:
            line += (_typed(price, system) if price else None, None if cost is None else Money(cost, prices.currency))
        lines.append(line)
    summed = any(price is not None for *_, price, _ in rows)
    sum_row = ("total", None, None, None, Money(total, prices.currency)) if summed else None
    return Table(key, "", tuple(columns), tuple(lines), sum_row), total


def _typed(price: Price, system: System) -> str:
    """A price as it is typed; one with a comma says itself which sign that is."""
    return price.typed if "," in price.typed else numerals(price.typed, system)


def _concrete(worked: Concrete, prices: Prices, plan: Plan) -> list[_Row]:
    short = sum(1 for load in worked.loads if load < worked.short_load * (1 - 1e-6))
    mix = plan.design.mix
    said = [show(mix.strength, plan.system, both=False)] if mix.strength else []
    said += [*mix.classes, *([mix.consistence] if mix.consistence else [])]  # what the plant asks for a European mix
    rows: list[_Row] = [
        ("concrete", " ".join(said) or None, volume(worked.ordered), worked.ordered, prices.concrete, True),
        (
            "loads",
            words("at most {t} each", t=(plan.design.order and plan.design.order.truck) or volume(worked.truck)),
            worked.trucks,
            worked.trucks,
            prices.delivery,
            True,
        ),
    ]
    if short:
        rows.append(
            ("short loads", words("under {v}", v=volume(worked.short_load)), short, short, prices.short_load, False)
        )
    if plan.design.order and plan.design.order.method == "pump":
        rows.append(("pump", None, 1, 1, prices.pump, True))
    fiber = plan.design.reinforcement.fiber if plan.design.reinforcement else None
    if fiber:
        weight = hauling.mass_of(worked.ordered, fiber.dose.si)
        bags = fiber_bags(plan, worked)
        detail = words("{k}, {n} bags", k=fiber.kind, n=f"{bags:,}") if bags is not None else fiber.kind
        rows.append(("fiber", detail, mass(weight), weight, prices.fiber, True))
    return rows


def _steel(steel: Steel | None, prices: Prices) -> list[_Row]:
    if steel is None:
        return []
    rows: list[_Row] = []
    for one in steel.bars:
        detail = words("{n} bars of {l}, {w} waste", n=f"{one.plan.bars:,}", l=length(one.plan.stock),
                       w=share(round(one.plan.waste, 3)))  # fmt: skip
        rows.append((f"bars {one.size}", detail, mass(one.mass), one.mass, prices.bars, True))
    for mesh in steel.meshes:
        detail = words("sheets of {a} by {b}", a=length(mesh.length), b=length(mesh.width))
        rows.append((f"mesh {mesh.style}", detail, mesh.plan.bars, mesh.plan.bars, prices.mesh, True))
    if steel.supports:
        apart = words("at most {s} apart, on the rims too", s=length(steel.support_spacing))
        rows.append((steel.held_by, apart, steel.supports, steel.supports, prices.chairs, True))
    return rows


def _rest(plan: Plan, prices: Prices) -> list[_Row]:
    rows: list[_Row] = []
    for one in materials.isolation(plan):
        sizes = {"t": one.thickness, "h": one.height}
        known = {key: depth(value) for key, value in sizes.items() if value}
        detail = (
            words(" thick, ".join(["{t}"] * ("t" in known) + ["{h} high"] * ("h" in known)), **known) if known else None
        )
        rows.append((f"isolation, {one.material}", detail, length(one.length), one.length, prices.isolation, True))
    sheeting = materials.retarder(plan)
    if sheeting:
        rolls = "1 roll" if sheeting.rolls == 1 else f"{sheeting.rolls:,} rolls"
        rows.append(("vapor retarder", rolls, area(sheeting.bought), sheeting.bought, prices.retarder, True))
    compound, _ = materials.curing(plan)
    rows.append(("curing compound", "if cured so", small_volume(compound), compound, prices.curing, True))
    return rows


def _base(plan: Plan, prices: Prices) -> list[_Row]:
    base = materials.base_course(plan)
    return [("base", base.material, mass(base.mass), base.mass, prices.base, True)] if base else []


def _work(plan: Plan, prices: Prices) -> list[_Row]:
    """Forms to set and joints to cut, tool or form."""
    rows: list[_Row] = []
    boards = materials.forms(plan)
    if boards.length > 0:
        deep, values = materials.board_depths(boards)
        rows.append(("forms", words(deep, **values), length(boards.length), boards.length, prices.forms, True))
    for joint in materials.joint_lengths(plan):
        if joint.kind != "pattern":
            detail = words("{d} deep", d=depth(joint.depth)) if joint.depth else None
            rows.append((f"joints, {joint.kind}", detail, length(joint.length), joint.length, prices.joints, True))
    return rows


def _ground(plan: Plan, dug: Haul | None, prices: Prices) -> list[_Row]:
    rows: list[_Row] = []
    base = materials.base_course(plan)
    if base:
        rows.append(("placing base", "compacted", volume(base.compacted), base.compacted, prices.base_placing, True))
    if dug:
        trips = dug.trips
        detail = words("{v} loose", v=volume(dug.spoil.loose + (dug.broken.loose if dug.broken else 0.0)))
        rows.append(("trips to the tip", detail, trips, trips or 0, prices.haul if trips is not None else None, True))
        heavy = dug.spoil.mass + (dug.broken.mass if dug.broken else 0.0)
        rows.append(("tip", None, mass(heavy), heavy, prices.tip, False))
    return rows
