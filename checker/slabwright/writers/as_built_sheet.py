"""What a slab built within its tolerance does with rain, as a sheet of text and as data."""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.units import FOOT
from slabwright.plan.plan import Plan
from slabwright.proposals.as_built import STEEPEST, AsBuilt
from slabwright.review.report import LOCAL_CODE
from slabwright.text.json_values import Data, amount_data
from slabwright.text.sheet import Line, Sheet
from slabwright.units.quantity import System, area, depth, length, numerals, show, slope

TITLE = "Built within tolerance: does it still drain?"
LEAST = {"us": 0.1 * FOOT**2, "metric": 0.01}  # m2: smaller expected areas are told as less than that
SELDOM = 0.02  # chances under it are told to a tenth in a hundred


def sheet(plan: Plan, found: AsBuilt, system: System, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """How often puddles stand, where, and how much fall would keep them seldom."""
    page = Sheet(width, encoding)
    page.heading(TITLE.upper())
    for label, words in rows(plan, found, system):
        page.labeled(label, words, indent=2)
    page.blank()
    page.paragraph(remark(found, system), indent=2)
    page.blank()
    page.paragraph(LOCAL_CODE)
    return page.lines


def rows(plan: Plan, found: AsBuilt, system: System) -> Iterator[tuple[str, str]]:
    """What was tried and what came of it, each with its label; further places have none."""
    straightedge = show(length(3.048), system) if system == "us" else "3 m"
    gap = show(depth(found.gap), system)
    known = "; ACI 117 for flat floors, recalled, not checked" if found.gap == found.measures.gap else ""
    yield "tried", f"{found.surfaces} surfaces: the design, with the waves that a screed leaves"
    yield "waves", f"{gap} under a straightedge of {straightedge} in nine places of ten{known}"
    yield "puddles", _puddles(found, system)
    yield "water", f"{_area(found.area, system)} of the slab stands under it on average"
    if found.drawn > found.measures.puddle:
        yield "as drawn", f"{_area(found.drawn, system)} stands under water before any wave"
    for number, place in enumerate(found.places):
        often = round(place.chance * found.surfaces)
        yield "" if number else "where", f"{plan.shape.name_at(place.at)}: on {often} of {found.surfaces} surfaces"
    yield "fall", _fall(found, system)


def remark(found: AsBuilt, system: System) -> str:
    """What counts as a puddle, and what the waves are."""
    size = show(area(found.measures.puddle), system)
    deep = show(depth(found.measures.deep), system)
    return (
        f"A puddle is more than {size} under more than {deep} of water (common practice). The waves are made by "
        "chance, always alike for one seed; no two crews leave the same ones."
    )


def _puddles(found: AsBuilt, system: System) -> str:
    often = round(found.chance * found.surfaces)
    if often == 0:
        return numerals(f"on none of them; the chance is under {100 * found.error:.1f} in 100", system)
    if often == found.surfaces:
        return "on every one of them"
    places = 1 if found.chance < SELDOM else 0
    told = f"{100 * found.chance:.{places}f} in 100, give or take {100 * found.error:.{places}f}"
    return numerals(f"on {often} of them: {told}", system)


def _area(m2: float, system: System) -> str:
    if m2 < LEAST[system]:
        return f"less than {show(area(LEAST[system]), system)}" if m2 > 0 else "none"
    return show(area(m2), system)


def _fall(found: AsBuilt, system: System) -> str:
    flattest = f"the flattest part falls {show(slope(found.fall), system)}" if found.fall else "a part is level"
    if found.steeper is None:
        first = "settle the standing water of the design" if found.fall else "give that part a fall"
        told = f"not even {STEEPEST:.0f} times the fall makes puddles rarer than one slab in twenty"
        return f"{flattest}; {told}: {first} first"
    if found.steeper <= 1.0:
        return f"{flattest}; puddles are rarer than one slab in twenty"
    then = f"{show(slope(found.fall * found.steeper), system)} there, " if found.fall else ""
    times = numerals(f"{found.steeper:.2f}", system)
    return f"{flattest}; {times} times as steep everywhere, {then}makes puddles rarer than one slab in twenty"


def as_data(plan: Plan, found: AsBuilt, system: System) -> Data:
    """The same as plain values; lengths in m, areas in m2."""
    return {
        "surfaces": found.surfaces,
        "seed": found.seed,
        "gap": amount_data(depth(found.gap), system),
        "cell": amount_data(length(found.cell), system),
        "chance": found.chance,
        "standard_error": found.error,
        "area": amount_data(area(found.area), system),
        "area_as_drawn": amount_data(area(found.drawn), system),
        "places": [
            {"at": list(place.at), "name": plan.shape.name_at(place.at), "chance": place.chance,
             "area": amount_data(area(place.area), system)}
            for place in found.places
        ],
        "flattest_fall": None if found.fall is None else amount_data(slope(found.fall), system),
        "times_as_steep": found.steeper,
    }  # fmt: skip
