"""What the truck's ticket should say, how far it may be off, and what water does."""

from __future__ import annotations

from slabwright.formulas import OutOfRangeError, mix, ticket
from slabwright.formulas.mix import FLOW_CLASSES, SLUMP_CLASSES, WATER_PER_GALLON
from slabwright.formulas.units import GALLON, INCH, YARD3
from slabwright.plan.plan import Plan
from slabwright.sheets.order.concrete import Concrete
from slabwright.sheets.sheet import Figure, Section
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, System, cube_strength, depth, in_both, meets, numerals, share, stress

_LITER_OF_WATER = 1.0  # kg
HARD_TROWEL_AIR = 0.03  # share, total, of a hard-troweled floor, `ascc-position-1`


def liquid(m3: float, system: System) -> str:
    """A volume of liquid: ``4.6 gal``, or ``17 L``; the other in brackets where both systems are shown."""
    gallons, liters = numerals(f"{m3 / GALLON:.1f} gal", system), f"{m3 * 1000:.0f} L"
    if not in_both(system):
        return gallons if system == "us" else liters
    return f"{gallons} ({liters})" if system == "us" else f"{liters} ({gallons})"


def water_room(plan: Plan) -> float | None:
    """Water in kg/m3 between the ratio ordered and the one the exposure allows; None where either is not known."""
    said = plan.design.mix
    site = plan.design.site
    salted = site.deicing_salt and site.freezing not in (None, "none") and plan.outdoors
    if said.water_cement is None or said.aggregate is None or not salted:
        return None
    try:
        water = mix.mixing_water(mix.nominal_stone(said.aggregate.si))
    except OutOfRangeError:
        return None
    return ticket.water_room(water, said.water_cement.si, mix.SALTED_WATER_CEMENT)


def section(plan: Plan, order: Concrete) -> Section:
    """Slump, air and water."""
    said = plan.design.mix
    figures = []
    if said.consistence is not None:
        figures.append(Figure("consistence", "consistence", said.consistence, _class_range(said.consistence)))
    if said.slump is not None and said.slump.typed != said.consistence:
        off = _slump_off(said.slump.si, plan.system)
        figures.append(
            Figure(
                "slump",
                "slump",
                said.slump,
                words(
                    "{low} to {high} passes (ASTM C94, recalled)",
                    low=depth(max(0.0, said.slump.si - off)),
                    high=depth(said.slump.si + off),
                ),
            )
        )
    placed = plan.design.pour.slump if plan.design.pour else None
    if placed is not None:
        figures.append(Figure("placed_slump", "slump placed at", placed, words("what the crew wants at the form")))
    if said.air is not None:
        off = mix.AIR_TOLERANCE
        told = words("{low} to {high} passes (ASTM C94, recalled)", low=share(max(0.0, said.air.si - off)),
                     high=share(said.air.si + off))  # fmt: skip
        figures.append(Figure("air_content", "air", said.air, told))
    if said.strength is not None:
        figures.append(Figure("strength", "strength", said.strength, cylinder_and_cube(said.strength)))
    if said.water_cement is not None:
        figures.append(Figure("water_cement", "water to cement", said.water_cement))
    figures.append(Figure("water", "water that may be added", None, _may_be_added(plan, order)))
    return Section("ticket", "On the ticket", tuple(figures), notes=tuple(_notes(plan)), add=_missing(plan))


def cylinder_and_cube(strength: Amount) -> Words | None:
    """``30 MPa on cylinders, 37 MPa on cubes`` of a class; nothing of a strength."""
    cube = cube_strength(strength)
    if cube is None:
        return None
    return words("{a} on cylinders, {b} on cubes", a=stress(strength.si), b=stress(cube))


def _class_range(name: str) -> Words:
    """``slump of 100 mm to 150 mm``, as the standard tables the class."""
    slump = name in SLUMP_CLASSES
    low, high = SLUMP_CLASSES[name] if slump else FLOW_CLASSES[name]
    what = "slump" if slump else "flow"
    if low is None or high is None:
        said = "and less" if low is None else "and over"
        return words(f"{what} of {{d}} {said} (EN 206)", d=depth(high or low or 0.0))
    return words(f"{what} of {{low}} to {{high}} (EN 206)", low=depth(low), high=depth(high))


def _slump_off(ordered: float, system: System) -> float:
    """How far the slump may be off, in m; metric tickets go by 15, 25 and 40 mm (`astm-c94` in its metric form)."""
    off = ticket.slump_tolerance(ordered)
    return off if system == "us" else {0.5: 0.015, 1.0: 0.025, 1.5: 0.040}[round(off / INCH, 1)]


def _may_be_added(plan: Plan, order: Concrete) -> Words:
    room = water_room(plan)
    held_back = "only what the ticket shows as held back, and never past the slump ordered"
    if room is None:
        return words(held_back + "; the mix does not say that there is room for more")
    if room <= 0:
        return words("none beyond what the ticket shows as held back: the ratio is at its limit already")
    truck = order.loads[0]
    per = "yd3" if plan.system == "us" else "m3"
    unit = YARD3 if plan.system == "us" else 1.0
    return words(
        held_back + "; at the very most {each} a {per}, {truck} a full truck, to reach the limit of the ratio",
        each=liquid(room * unit / _LITER_OF_WATER / 1000, plan.system),
        per=per,
        truck=liquid(room * truck / _LITER_OF_WATER / 1000, plan.system),
    )


def _notes(plan: Plan) -> list[Words]:
    low, high = mix.strength_loss(WATER_PER_GALLON / YARD3)
    each = "gallon to the yard" if plan.system == "us" else "5 L to the m3"
    notes = [
        words(
            "Each {each} brings {slump} more slump, {low} to {high} less strength, more shrinkage (trade magazines).",
            each=each,
            slump=depth(ticket.SLUMP_PER_GALLON if plan.system == "us" else 0.025),
            low=stress(low),
            high=stress(high),
        ),
        words("Once, before discharge, then 30 revolutions, written on the ticket (ASTM C94, recalled)."),
    ]
    air = plan.design.mix.air
    if air is not None and not meets(air.si, HARD_TROWEL_AIR, "most"):
        notes.append(words("With entrained air no hard trowel: it blisters and scales (common practice)."))
    return notes


def _missing(plan: Plan) -> tuple[str, ...]:
    us = plan.system == "us"
    such = {} if plan.design.mix.consistence else {"slump": "4 in" if us else "100 mm"}
    such |= {"water_cement": "0.45", "aggregate": "3/4 in" if us else "20 mm"}
    return tuple(
        f"mix.{key}: such as {example}" for key, example in such.items() if getattr(plan.design.mix, key) is None
    )  # fmt: skip
