"""The order sheet: everything to buy and haul for one plan, with the arithmetic, the risk and the choices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from slabwright.design.costs import Prices, laid_over
from slabwright.plan import pours
from slabwright.plan.plan import Plan
from slabwright.sheets import by_day
from slabwright.sheets.order import concrete_parts, ground, material_parts
from slabwright.sheets.order.bars_and_mesh import Steel, all_steel
from slabwright.sheets.order.buying import buying
from slabwright.sheets.order.concrete import Concrete, all_days, concrete, for_other
from slabwright.sheets.order.haul import Haul, haul
from slabwright.sheets.order.options import Judge, Options, Settle, options
from slabwright.sheets.order.phone import phone_section
from slabwright.sheets.order.risk import risk
from slabwright.sheets.sheet import Section, Sheet, sheet_of
from slabwright.text.words import Words, words
from slabwright.units.quantity import share, volume

ROWS = ("list", "do")  # tables that go out as CSV


def order_sheet(
    plan: Plan, prices: Prices | None = None, judge: Judge | None = None, settle: Settle | None = None
) -> Sheet:
    """The order sheet of a plan.

    ``prices`` are laid over those of the design; ``judge`` reviews other choices; ``settle`` proposes heights.
    """
    costs = laid_over(plan.design.prices, prices)
    days = pours.days(plan)
    if days:
        return _of_days(plan, days, costs)
    in_file = concrete(plan)
    worked = for_other(plan) if in_file.too_small else in_file
    choices = options(plan, costs, judge, settle)
    dug, steel = haul(plan), all_steel(plan)
    phone, *of_pour = _of_the_pour(plan, worked)
    sections = [
        phone,
        *buying(plan, worked, steel, dug, costs),
        *of_pour,
        ground.choices_section(plan, choices, costs),
        *_of_the_job(plan, worked, steel, dug),
    ]
    says = _says(plan, in_file, worked, choices)
    return sheet_of(plan, "order", "Order sheet", says, sections, _cautions(plan, in_file, worked), ROWS)


def _of_days(plan: Plan, days: Sequence[pours.Day], costs: Prices) -> Sheet:
    """What is phoned in for each day, then what the whole job takes."""
    sections: list[Section | None] = []
    orders: list[Concrete] = []
    says: list[Words] = []
    cautions: list[Words] = []
    for number, day in enumerate(days, 1):
        in_file = concrete(day.plan)
        worked = for_other(day.plan) if in_file.too_small else in_file
        orders.append(worked)
        says += by_day.said(
            day, _says(day.plan, in_file, worked, None, pours.path_in_file("order.volume", day.planned.pour))
        )
        cautions += by_day.said(day, _cautions(day.plan, in_file, worked))
        sections += by_day.sections(day, number, _of_the_pour(day.plan, worked))
    worked, dug, steel = all_days(plan, orders), haul(plan), all_steel(plan)
    sections += [*buying(plan, worked, steel, dug, costs), *_of_the_job(plan, worked, steel, dug)]
    sheet = sheet_of(plan, "order", "Order sheet", says, sections, cautions, ROWS)
    return replace(sheet, pours=tuple(day.planned.pour.day for day in days if day.planned.pour.day))


def _of_the_pour(plan: Plan, worked: Concrete) -> list[Section | None]:
    """What is phoned in for a pour, and how that is worked."""
    return [
        phone_section(plan, worked),
        concrete_parts.concrete_section(plan, worked),
        concrete_parts.headroom_section(plan, worked),
        concrete_parts.risk_section(plan, risk(plan, worked.lost, worked.ordered, worked.brought)),
    ]


def _of_the_job(plan: Plan, worked: Concrete, steel: Steel | None, dug: Haul | None) -> list[Section | None]:
    """How all else that the job takes is worked."""
    return [
        ground.haul_section(dug),
        material_parts.steel_section(steel),
        material_parts.isolation_section(plan),
        material_parts.joints_section(plan),
        ground.base_section(plan),
        material_parts.other_section(plan, worked),
    ]


def _says(
    plan: Plan, in_file: Concrete, worked: Concrete, choices: Options | None, key: str = "order.volume"
) -> list[Words]:
    """The point of the sheet."""
    said = [concrete_parts.order_in_words(worked)]
    if in_file.too_small:
        said.append(
            words(
                "the file orders {v}, {by} too little: raise {key} before you call",
                key=key,
                v=volume(in_file.ordered),
                by=volume(worked.ordered - in_file.ordered),
            )
        )
    said += [concrete_parts.headroom_in_words(worked, plan.system)]
    best = choices.best if choices else None
    if choices and best and best.key != "as it lies":
        said.append(words("the base is off its height; cheapest that keeps every rule: {name}", name=best.name))
    return said


def _cautions(plan: Plan, in_file: Concrete, worked: Concrete) -> list[Words]:
    """What the order ought to be thought over for."""
    found = []
    if in_file.too_small:
        found.append(
            words(
                "the file orders {v}, and {n} is needed with the least allowance: {s} short",
                v=volume(in_file.ordered),
                n=volume(in_file.least),
                s=volume(in_file.least - in_file.ordered),
            )
        )
    if worked.net * (1 + worked.allowance) + worked.lost < worked.least * (1 - 1e-6):
        found.append(words("an allowance of {a} is thin (common practice)", a=share(worked.allowance)))
    if worked.allowance > 0.15 + 1e-9:
        found.append(words("an allowance of {a} is more than waste takes (common practice)", a=share(worked.allowance)))
    if worked.last_is_short:
        found.append(
            words("the last load of {v} is a short one: ask the plant what it costs", v=volume(worked.loads[-1]))
        )
    if not plan.concrete.quantities.from_surfaces:
        found.append(words("the base is not shot: the volume is area times thickness, and the ground decides the rest"))
    return found
