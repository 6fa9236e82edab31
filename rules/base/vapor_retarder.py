"""A sheet lies under floors that are or may be closed in, and none under slabs in the open.

What is compared
    Where the room over the slab is heated or closed, or may be one day, compares the thickness of the sheet with 6 mil
    and its laps with 6 in. Where no tested class of the sheet is written, its thickness is also compared with 10 mil,
    as a note; class B or C is a note as well. Where the slab lies in the open and never will be closed in, the rule
    asks whether there is a sheet at all.
Why it matters
    Water rises from the ground as vapor for as long as the house stands. Without a sheet it lifts tiles, rots wood and
    feeds mold, and no one can put one in later. Under a slab in the open a sheet does harm: the mix bleeds upwards
    only, the top dries first, and the slab curls.
When it does not apply
    The slab lies in the open and nobody says that it may be closed in, or it lies under a roof and the room is neither
    heated nor closed: there a sheet may lie or not.
How to put it right
    Roll it out on the base just before the steel, lap and tape it, turn it up at walls behind the filler, and mend
    every hole. Ask the owner once whether the patio will ever be a room.
Where sources differ
    The building code takes 6 mil and leaves out drives, walks, patios and unheated garages. Later dwelling codes ask a
    tested class, A by ASTM E1745 (recalled), which plain film of any thickness does not have: 10 mil is a hint that
    somebody thought of it. Soils reports ask for less than 0.3 perm instead of a thickness.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "A sheet under closed rooms only"
LIMITS = (
    Limit("sheet_at_least", "6 mil", Kind.DEPTH, "hold", Cite("ibc-1910.1"), ("2 mil", "30 mil"),
          "thickness of the sheet under a closed room"),
    Limit("newer_sheet_at_least", "10 mil", Kind.DEPTH, "note", Cite("irc-r506.2.3-2021"), ("2 mil", "30 mil"),
          "thickness of a sheet of which no tested class is written"),
    Limit("other_class_at_most", "0", Kind.COUNT, "note", Cite("irc-r506.2.3-2021"), ("0", "1"),
          "sheets of another tested class than A"),
    Limit("lap_at_least", "6 in", Kind.DEPTH, "hold", Cite("ibc-1910.1"), ("2 in", "24 in"), "lap of the sheets"),
    Limit("open_at_most", "0 mil", Kind.DEPTH, "note", Cite("irc-r506.2.3-2012"), ("0 mil", "30 mil"),
          "thickness of a sheet under a slab that stays in the open"),
)  # fmt: skip
WORKED = ()
ROOMS = ("garage floor", "shop floor")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Thickness and lap of the sheet, or the sheet that should not be there."""
    sheet = plan.design.order.retarder if plan.design.order else None
    closed = plan.given("site.enclosed") if (known := _closed(plan)) is None else known
    if not closed and not sheet:
        does_not_apply("nobody says that it may be closed in (site.enclosed), and no sheet is drawn")
    if sheet and not closed and not plan.outdoors:
        does_not_apply("the floor lies under a roof and is neither heated nor closed in: a sheet does no harm")
    if sheet and not (sheet.thickness or (closed and sheet.lap)):
        plan.given("order.retarder.thickness")
    at = Spot("the sheet", sheet.place if sheet else plan.place("site.enclosed", "use"))
    thick = sheet.thickness if sheet and sheet.thickness else depth(0.0)
    if not closed:
        yield compare(
            at, thick, limits.open_at_most,
            says=lambda: words("a sheet under a slab in the open keeps its bleed water in, and the slab curls"),
            remedy=lambda: drop("order.retarder", words("leave the sheet out")),
        )  # fmt: skip
        return
    if sheet is None or sheet.thickness:
        tested = sheet is not None and sheet.tested_class is not None
        yield _thickness(plan, limits, at, thick, sheet is not None, tested)
    if sheet and (grade := sheet.tested_class):
        yield compare(
            at, count(grade != "A"), limits.other_class_at_most,
            says=lambda: words("a sheet of class {grade} is weaker than later dwelling codes ask", grade=grade),
            remedy=lambda: write("order.retarder.tested_class", "A", words("lay a sheet of class A")),
        )  # fmt: skip
    if sheet and sheet.lap:
        lap, asked = sheet.lap, limits.lap_at_least.value
        yield compare(
            at, lap, limits.lap_at_least,
            says=lambda: words("laps of {d} open when people walk on the sheet", d=lap),
            remedy=lambda: write("order.retarder.lap", asked, words("lap the sheets {asked}", asked=asked)),
        )  # fmt: skip


def _closed(plan: Plan) -> bool | None:
    """Whether a closed room stands over it, now or one day; None where the file must say."""
    said, order = plan.design.site.enclosed, plan.design.order
    sheet = order is not None and order.retarder is not None
    if said is not None:
        return said
    if any(not plan.rained_on(area) for area in plan.areas.used(*ROOMS)):
        return True if sheet else None
    return None if sheet else False


def _thickness(plan: Plan, limits: Limits, at: Spot, thick: Amount, drawn: bool, tested: bool) -> Conclusion:
    heavier, lighter = limits.sheet_at_least, limits.newer_sheet_at_least
    asking = (heavier,) if tested else (heavier, lighter)
    short = [one for one in asking if not one.met(thick)]
    limit = short[0] if short else asking[-1]
    order = max((one.value for one in asking), key=lambda amount: amount.si)

    def says() -> Words:
        if not drawn:
            return words("the room may be closed in, and no sheet is drawn under its floor")
        if limit is lighter:
            return words("a sheet of {d} is plain film, and later codes want a tested class", d=thick)
        return words("a sheet of {d} is torn by the stone before the concrete comes", d=thick)

    told = words("lay a sheet of {write}, with laps of {lap}", write=order, lap=limits.lap_at_least.value)
    if limit is lighter:
        told = words("ask the maker for its class, or lay one of {write}", write=order)
    return compare(
        at, thick, limit,
        says=says,
        remedy=lambda: write("order.retarder.thickness", order, told) if drawn else (),
        decide=lambda: told,
    )  # fmt: skip
