"""Parts of the order sheet on the ground: a base off its height, dig and haul, base to bring."""

from __future__ import annotations

from slabwright.design.costs import Prices
from slabwright.plan.plan import Plan
from slabwright.sheets.order import materials
from slabwright.sheets.order.haul import Haul, Trips
from slabwright.sheets.order.options import Option, Options
from slabwright.sheets.sheet import Cell, Column, Figure, Money, Section, Table
from slabwright.text.words import Words, plain, step, words
from slabwright.units.quantity import area, depth, mass, share, unit_weight, volume


def choices_section(plan: Plan, found: Options | None, prices: Prices) -> Section | None:
    """Deeper, dig or fill: the choices with what each takes and costs."""
    if found is None:
        return None
    figures = [
        Figure("low_area", "Base too low over", area(found.low.area), words("{v} of it", v=volume(found.low.volume))),
        Figure("high_area", "Base too high over", area(found.high.area),
               words("{v} of it", v=volume(found.high.volume))),
        Figure("deepest", "Deepest concrete", depth(found.deepest)),
        Figure("thinnest", "Thinnest concrete", depth(found.thinnest)),
    ]  # fmt: skip
    columns = (
        Column("choice", "Choice", right=False),
        Column("concrete", "Concrete"),
        Column("loads", "Loads"),
        Column("base", "Base"),
        Column("trimmed", "Trimmed"),
        Column("rules", "Rules", right=False),
        Column("cost", "Cost"),
    )
    rows = tuple(_choice(one, prices) for one in found.choices)
    notes = [words("{name}: {does}", name=one.name, does=_flat(one.does, plan)) for one in found.choices]
    for one in found.choices:
        if one.brings:
            notes.append(words("{name} brings {what}", name=one.name, what=", ".join(one.brings)))
        if one.clears:
            notes.append(words("{name} clears {what}", name=one.name, what=", ".join(one.clears)))
    notes += found.left_out
    notes.append(words("never loose dirt; base in lifts of {4 in|100 mm}; feather a step over {1 1/2 in|40 mm} within "
                       "{2 ft|0.6 m} (common practice)"))  # fmt: skip
    best = found.best
    if best is not None:
        figures.append(Figure("cheapest", "Cheapest that keeps the rules", best.name, _ahead(found, best, prices)))
    add = tuple(f"{key}: it decides what a choice costs" for key in found.add)
    table = Table("choices", "", columns, rows)
    return Section("choices", "Deeper, dig or fill", tuple(figures), (table,), (), tuple(notes), add)


def _flat(does: Words, plan: Plan) -> str:
    return plain(does, plan.system)


def _ahead(found: Options, best: Option, prices: Prices) -> Words | None:
    """How far the best choice is ahead of the next two."""
    others = [one for one in found.choices if one is not best and one.kept is not False and one.cost is not None]
    if not others or best.cost is None:
        return None
    told = ", ".join(f"{one.name} {Money((one.cost or 0) - best.cost, prices.currency)} more" for one in others[:2])
    return words("{told}", told=told)


def _choice(one: Option, prices: Prices) -> tuple[Cell, ...]:
    kept = {True: "kept", False: "not kept", None: "not judged"}[one.kept]
    return (
        one.name,
        volume(one.worked.ordered),
        one.worked.trucks,
        mass(one.base_mass) if one.base_mass else None,
        volume(one.trimmed) if one.trimmed else None,
        kept,
        None if one.cost is None else Money(one.cost, prices.currency),
    )


def haul_section(dug: Haul | None) -> Section | None:
    """Dig and haul: bank, loose and compacted, weight, trips and what governs."""
    if dug is None:
        return None
    figures = [
        Figure("bank", "Dug, in the bank", volume(dug.cut), _ground(dug)),
        Figure("loose", "Hauled, loose", volume(dug.spoil.loose), words("swell {s}", s=share(dug.swell))),
        Figure(
            "compacted", "The same compacted", volume(dug.cut * dug.compacts_to), words("if it is good enough to use")
        ),
        Figure("weight", "Weight", mass(dug.spoil.mass), words("at {w} in the bank", w=unit_weight(dug.bank_weight))),
    ]
    if dug.fill > 1e-3:
        figures.append(Figure("fill", "To fill, compacted", volume(dug.fill)))
    columns = (Column("what", "Hauled", right=False), Column("loose", "Loose"), Column("weight", "Weight"),
               Column("by_volume", "Trips by volume"), Column("by_weight", "Trips by weight"), Column("trips", "Trips"),
               Column("governs", "Governs", right=False))  # fmt: skip
    hauled = [dug.spoil, *([dug.broken] if dug.broken else [])]
    rows = tuple(_trip_row(one) for one in hauled)
    if dug.days is not None:
        figures.append(Figure("days", "Days at the tip", dug.days))
    return Section(
        "dig", "Dig and haul", tuple(figures), (Table("trips", "", columns, rows),), dug.working, dug.notes, dug.add
    )  # fmt: skip


def _ground(dug: Haul) -> Words:
    if not dug.from_ground:
        return words("area times the depth given")
    if dug.covered < 0.999:
        return words(
            "between ground and underside of the base, over {c} of the slab; the rest alike", c=share(dug.covered)
        )
    return words("between ground and underside of the base")


def _trip_row(one: Trips) -> tuple[Cell, ...]:
    return (one.what, volume(one.loose), mass(one.mass), one.by_volume, one.by_mass, one.trips, one.governs)


def base_section(plan: Plan) -> Section | None:
    """Base to bring: compacted, loose and by weight."""
    found = materials.base_course(plan)
    if found is None:
        return None
    figures = (
        Figure("base_compacted", "Base, compacted", volume(found.compacted), words("{m}", m=found.material)),
        Figure("base_loose_least", "Base, loose, at least", volume(found.loose[0])),
        Figure("base_loose_most", "Base, loose, at most", volume(found.loose[1])),
        Figure(
            "base_weight",
            "Base, weight",
            mass(found.mass),
            words("at {140 lb/ft3|2240 kg/m3} compacted (common practice)"),
        ),
    )
    numbers = words("{a} x {t}", a=area(found.area), t=depth(found.thickness))
    working = (step("base", "area x thickness", numbers, volume(found.compacted)),)
    return Section("base", "Base", figures, (), working)
