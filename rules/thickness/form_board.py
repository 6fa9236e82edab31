"""The board the forms are made of is as deep as the slab, or the base is dug below it.

What is compared
    Compares how far the real depth of the form board falls short of the design thickness with nothing, and with 3/4 in.
    A 2x4 is 3 1/2 in deep, not 4. Where the file says that the base is dug below the board, it is met.
    A part of the slab may have a thickness and a board of its own; a thicker part that names no board is a caution.
Why it matters
    A slab between 2x4s on a base level with their bottom edge is 3 1/2 in thick, all of it, whatever was ordered and
    paid for: an eighth of the concrete stays in the truck. Dug below, the concrete runs out under the board a
    little and the slab is whole.
When it does not apply
    Walls and old slabs stand all round, so that nothing is formed.
How to put it right
    Take the next deeper board, set the board up on stakes and bank earth against it, or dig the base below the board
    and write dug_below_form: true.
Where sources differ
    Some crews draw 4 in and mean a 2x4. That is half an inch short all over; it is a note here, because digging below
    is common. Over 3/4 in no spot of the slab could keep its tolerance, so that is a hold.
"""

from __future__ import annotations

from slabwright.formulas.thickness import board_depth, least_board, short_of
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Form boards as deep as the slab"
LIMITS = (
    Limit("short_at_most", "3/4 in", Kind.DEPTH, "hold", Cite("aci-117-10-quoted", "sec. 4.5.4"), ("0 in", "2 in"),
          "how far the board may fall short of the slab if nobody digs"),
    Limit("part_short_at_most", "3/4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "2 in"),
          "how far the board of the slab may fall short of a part that names none"),
    Limit("short_preferred_at_most", "0 in", Kind.DEPTH, "note", Cite("lumber-sizes"), ("0 in", "2 in"),
          "how far the board may fall short of the slab before somebody must dig"),
)  # fmt: skip


def lost(board: float, thickness: float) -> float:
    """Share of the concrete that is not in a slab drawn ``thickness`` m thick and formed by a ``board`` m deep."""
    return short_of(thickness, board) / thickness


WORKED = (
    Worked("2x4 beside 4 in", depth(0.5 * INCH), lambda: short_of(4 * INCH, board_depth("2x4")), 1e-9,
           Cite("lumber-sizes"), "th-form-2x4"),
    Worked("concrete lost by it", share(0.125), lambda: lost(board_depth("2x4"), 4 * INCH), 1e-9,
           Cite("lumber-sizes"), "th-form-2x4"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The real depth of the board, unless the base is dug below it."""
    if all(piece.fixed_face for piece in plan.edges.pieces):
        does_not_apply("walls or old slabs stand all round, so nothing is formed")
    dug = plan.design.thickness.dug_below_form
    if dug and not plan.design.thickness.form_board:
        does_not_apply("the base is dug below the form boards")
    plan.given("thickness.form_board")
    formed = [piece for piece in plan.edges.pieces if not piece.fixed_face]
    for area in plan.areas.all:
        if any(one is area for piece in formed for one in plan.areas.along(piece.line)):
            yield _judged(plan, limits, area, dug)


def _judged(plan: Plan, limits: Limits, area: Area, dug: bool) -> Conclusion:
    """The board of an area that has a formed edge: its own, or the one of the slab."""
    own = area.part if area.part and area.part.form_board else None
    said, path = own or plan.design.thickness, "thickness.form_board"
    if own:
        path = f"{own.place.path}.form_board"
    board, t = depth((said.form_board or plan.given("thickness.form_board")).si), area.thickness
    name = f"the {said.form_board_name or 'form'} board"
    short = depth(0.0 if dug else short_of(t.si, board.si))
    unsaid = area.part is not None and area.part.thickness is not None and not own
    alone = ", with no board of its own" if unsaid else ""
    return compare(
        plan.spot(name, path, "thickness"), short,
        limits.part_short_at_most if unsaid else limits.short_at_most, limits.short_preferred_at_most,
        says=lambda: words(f"{{board}} is {{d}} deep, and {{area}} is drawn {{t}}{alone}", board=name, d=board, t=t,
                           area=area.name),
        working=lambda: (
            step("short by", "design thickness - depth of the board", words("{t} - {d}", t=t, d=board), short),
            step("concrete lost", "short by / design thickness", words("{s} / {t}", s=short, t=t),
                 share(lost(board.si, t.si))),
        ),
        remedy=lambda: [*_deeper(plan, area), write(
            "thickness.dug_below_form", "true",
            words("dig the base {off} below the board and write dug_below_form: true", off=short))],
    )  # fmt: skip


def _deeper(plan: Plan, area: Area) -> list[Remedy]:
    """The board that is deep enough, if one is sold."""
    t, says = area.thickness, "form with {deeper} or deeper"
    path = f"{area.part.place.path}.form_board" if area.part else "thickness.form_board"
    if plan.home == "metric":
        return [write(path, t, words(says.replace("with", "with boards of"), deeper=t))]
    board = least_board(t.si)
    return [write(path, board, words(says, deeper=board))] if board else []
