"""The board the forms are made of is as deep as the slab, or the base is dug below it.

What is compared
    How far the real depth of the form board falls short of the design thickness, with nothing, and with 3/4 in. A 2x4
    is 3 1/2 in deep, not 4. Where the file says that the base is dug below the board, it is met.
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

from collections.abc import Iterator

from slabwright.formulas.thickness import board_depth, least_board, short_of
from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, share

TITLE = "Form boards as deep as the slab"
LIMITS = (
    Limit("short_at_most", "3/4 in", Kind.DEPTH, "hold", Cite("aci-117-10-quoted", "sec. 4.5.4"), ("0 in", "2 in"),
          "how far the board may fall short of the slab if nobody digs"),
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


def relevant(plan: Plan) -> Relevance:
    """The board is named, and something is formed."""
    if all(piece.fixed_face for piece in plan.edges.pieces):
        return does_not_apply("walls or old slabs stand all round, so nothing is formed")
    if plan.design.thickness.form_board is None:
        board = "thickness.form_board: the board the forms are made of, such as {2x6|140 mm}"
        return not_shown(board, place=plan.place("thickness.form_board", "thickness"))
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The real depth of the board, unless the base is dug below it."""
    said = plan.design.thickness
    if said.form_board is None or said.dug_below_form:
        return
    board, t = depth(said.form_board.si), said.design
    at = Spot(f"the {said.form_board_name or 'form'} board", plan.place("thickness.form_board", "thickness"))
    short = depth(short_of(t.si, board.si))
    limit = limits.broken(short, "short_at_most", "short_preferred_at_most")
    if limit is None:
        yield Margin(at, short, limits.short_preferred_at_most)
        return
    says = words("{board} is {d} deep, and the slab is drawn {t}", board=at.name, d=board, t=t)
    numbers = words("{t} - {d}", t=t, d=board)
    working = (
        step("short by", "design thickness - depth of the board", numbers, short),
        step("concrete lost", "short by / design thickness", words("{s} / {t}", s=short, t=t),
             share(lost(board.si, t.si))),
    )  # fmt: skip
    dig = "dig the base {off} below the board and write dug_below_form: true"
    to_pass = words(dig, off=short)
    if plan.system == "metric":
        to_pass = words("form with boards of {deeper} or deeper; or " + dig, deeper=t, off=short)
    elif deeper := least_board(t.si):
        to_pass = words("form with {deeper} or deeper; or " + dig, deeper=deeper, off=short)
    yield Finding(at, says, short, limit, working, to_pass)
