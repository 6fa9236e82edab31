"""A sheet lies under floors that are or may be closed in, and none under slabs in the open.

What is compared
    Where the room over the slab is heated or closed, or may be one day: the thickness of the sheet with 6 mil and, as a
    note, 10 mil, and its laps with 6 in. Where it never will be: whether there is a sheet at all.
Why it matters
    Water rises from the ground as vapour for as long as the house stands. Without a sheet it lifts tiles, rots wood and
    feeds mould, and no one can put one in later. Under a slab in the open a sheet does harm: the mix bleeds upwards
    only, the top dries first, and the slab curls.
When it does not apply
    Flatwork in the open of which nobody says that it may be closed in.
How to put it right
    Roll it out on the base just before the steel, lap and tape it, turn it up at walls behind the filler, and mend
    every hole. Ask the owner once whether the patio will ever be a room.
Where sources differ
    The building code takes 6 mil and leaves out drives, walks, patios and unheated garages; later dwelling codes ask
    10 mil of a tested class (recalled). Soils reports ask for less than 0.3 perm instead of a thickness.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.design.model import Retarder
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    compared,
    does_not_apply,
    not_shown,
)
from slabwright.text.words import words
from slabwright.units.quantity import Amount, Kind, depth, meets

TITLE = "A sheet under closed rooms only"
LIMITS = (
    Limit("sheet_at_least", "6 mil", Kind.DEPTH, "hold", Cite("ibc-1910.1"), ("2 mil", "30 mil"),
          "thickness of the sheet under a closed room"),
    Limit("newer_sheet_at_least", "10 mil", Kind.DEPTH, "note", Cite("irc-r506.2.3-2021"), ("2 mil", "30 mil"),
          "thickness of the sheet in later dwelling codes"),
    Limit("lap_at_least", "6 in", Kind.DEPTH, "hold", Cite("ibc-1910.1"), ("2 in", "24 in"), "lap of the sheets"),
    Limit("open_at_most", "0 mil", Kind.DEPTH, "note", Cite("irc-r506.2.3-2012"), ("0 mil", "30 mil"),
          "thickness of a sheet under a slab that stays in the open"),
)  # fmt: skip
WORKED = ()
ROOMS = ("garage floor", "shop floor")


def _sheet(plan: Plan) -> Retarder | None:
    return plan.design.order.retarder if plan.design.order else None


def _closed(plan: Plan) -> bool | None:
    """Whether a closed room stands over it, now or one day; None where the file must say."""
    said, sheet = plan.design.site.enclosed, _sheet(plan)
    if said is not None:
        return said
    if not plan.outdoors and plan.design.use in ROOMS:
        return True if sheet else None
    return None if sheet else False


def relevant(plan: Plan) -> Relevance:
    """It is known whether a sheet is wanted, and something of it can be judged."""
    closed, sheet = _closed(plan), _sheet(plan)
    if closed is None:
        add = "site.enclosed: whether the room is heated or closed in, or may be one day, such as true"
        return not_shown(add, place=plan.place("site.enclosed", "site", "use"))
    if not closed and not sheet:
        return does_not_apply("nobody says that it may be closed in (site.enclosed), and no sheet is drawn")
    if sheet and not (sheet.thickness or (closed and sheet.lap)):
        add = "order.retarder.thickness: how thick the sheet is, such as {10 mil|0.25 mm}"
        return not_shown(add, place=sheet.place)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Thickness and lap of the sheet, or the sheet that should not be there."""
    sheet, closed = _sheet(plan), _closed(plan)
    at = Spot("the sheet", sheet.place if sheet else plan.place("site.enclosed", "use"))
    metric, thick = plan.system == "metric", sheet.thickness if sheet and sheet.thickness else depth(0.0)

    def least(limit: InForce) -> Amount:
        """A limit in whole hundredths of a millimetre on metric plans: 0.15 and 0.25 mm sheets are sold there."""
        return depth(math.floor(limit.value.si * 1e5 + 1e-6) / 1e5) if metric else limit.value

    if not closed:
        says = words("a sheet under a slab in the open keeps its bleed water in, and the slab curls")
        yield compared(limits, ("open_at_most",), at, thick, says, words("leave the sheet out"))
        return
    if sheet is None or sheet.thickness:
        heavier, lighter = limits.sheet_at_least, limits.newer_sheet_at_least
        broken = next((limit for limit in (heavier, lighter) if not meets(thick.si, least(limit).si, "least")), None)
        write = max(heavier.value, lighter.value, key=lambda amount: amount.si)
        if broken is None:
            yield Margin(at, thick, lighter, least(lighter))
        else:
            thin = "is torn by the stone before the concrete comes", "is thinner than later codes want"
            says = words("a sheet of {d} " + thin[broken is lighter], d=thick)
            says = says if sheet else words("the room may be closed in, and no sheet is drawn under its floor")
            to_pass = words("lay a sheet of {write}, with laps of {lap}", write=write, lap=limits.lap_at_least.value)
            yield Finding(at, says, thick, broken, (), to_pass, least(broken))
    if sheet and sheet.lap:
        lap = limits.lap_at_least
        asked = depth(math.floor(lap.value.si * 200 + 1e-6) / 200 if metric else lap.value.si)
        says = words("laps of {d} open when people walk on the sheet", d=sheet.lap)
        to_pass = words("lap the sheets {asked}", asked=asked)
        made = Finding(at, says, sheet.lap, lap, (), to_pass, asked)
        yield Margin(at, sheet.lap, lap, asked) if meets(sheet.lap.si, asked.si, "least") else made
