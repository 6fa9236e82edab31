"""The slab keeps the height that each fixed thing around it asks for.

What is compared
    Wherever a fixed height meets the slab, the height of the slab with what the file says the fixed thing asks
    (`slab: at least 1 in below`); where it says nothing, with the distance usual for its kind: siding and weep screed
    2 in above the slab, a door sill 1 in, a damp course 150 mm.
Why it matters
    Siding that stands in splash rots from the bottom, a weep screed that is buried keeps water in the wall, and a slab
    at the sill lets wind push rain under the door. None of it shows in the first year.
When it does not apply
    No fixed height meets the slab.
How to put it right
    Lower the slab along the wall, or move the fixed thing. Two that cannot both be kept are settled with the owner now.
Where sources differ
    The code's 2 in below wood siding and below a weep screed hold for hard surfaces (4 and 6 in are for earth). The
    1 in at a sill is a handbook's least, 2 in better; 150 mm is British practice. Florida asks 4 in for termites.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import FixedMatch
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    does_not_apply,
    heights_not_shown,
    not_shown,
    spot,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height, meets

TITLE = "Fixed heights are kept"
LIMITS = (
    Limit("stated_room_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "1 in"),
          "room on top of the least distance that the file asks for"),
    Limit("stated_excess_at_most", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "1 in"),
          "excess over the greatest distance that the file asks for"),
    Limit("siding_at_least", "2 in", Kind.DEPTH, "hold", Cite("irc-r317.1"), ("1 in", "8 in"),
          "siding above the slab"),
    Limit("weep_screed_at_least", "2 in", Kind.DEPTH, "hold", Cite("irc-r703.7.2.1"), ("1 in", "8 in"),
          "weep screed above the slab"),
    Limit("sill_at_least", "1 in", Kind.DEPTH, "caution", Cite("beall", "p. 285"), ("0 in", "8 in"),
          "door sill above the slab"),
    Limit("damp_course_at_least", "150 mm", Kind.DEPTH, "caution", Cite("paving-guidance-uk"), ("50 mm", "300 mm"),
          "damp course above the slab"),
)  # fmt: skip
WORKED = ()
KINDS = ("siding", "weep screed", "sill", "damp course")  # each with a limit of its own
Compared = tuple[InForce, float, int]  # the limit, the distance asked, and 1 where the slab lies below, -1 above


def relevant(plan: Plan) -> Relevance:
    """A fixed height meets the slab, and it is known what it asks."""
    if not plan.design.fixed:
        return does_not_apply("no fixed heights are given")
    if not plan.finish.surface:
        return heights_not_shown(plan)
    if not plan.fixed.matches:
        return does_not_apply("no fixed height lies at the slab")
    first = plan.fixed.matches[0].fixed
    if any(match.fixed.slab or match.fixed.kind in KINDS for match in plan.fixed.matches):
        return APPLIES
    add = f"fixed, slab: what {first.name} asks of the slab, such as at least {{1 in|25 mm}} below"
    return not_shown(add, place=first.place)


def _compared(match: FixedMatch, limits: Limits) -> Iterator[Compared]:
    """What a fixed thing asks for, by the file or by its kind."""
    if match.fixed.slab is None and match.fixed.kind in KINDS:
        limit = limits[f"{match.fixed.kind.replace(' ', '_')}_at_least"]
        yield limit, limit.value.si, 1
    for direction, distance, side in match.asks:
        limit = limits.stated_room_at_least if direction == "least" else limits.stated_excess_at_most
        yield limit, distance + limit.value.si, side


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The worst spot of each fixed thing, for each distance it asks for."""
    found: dict[tuple[int, str, int], list[tuple[float, FixedMatch, Compared]]] = {}
    for match in plan.fixed.matches:
        for limit, asked, side in _compared(match, limits):
            gap = side * (match.height - match.slab)
            off = asked - gap if limit.direction == "least" else gap - asked
            found.setdefault((id(match.fixed), limit.name, side), []).append((off, match, (limit, asked, side)))
    for spots in found.values():
        _, match, (limit, asked, side) = max(spots, key=lambda one: one[0])
        if meets(gap := side * (match.height - match.slab), asked, limit.direction):
            yield Margin(spot(match), depth(gap), limit, depth(asked))
        else:
            yield _finding(plan, match, [one for off, one, _ in spots if off > 1e-9], (limit, asked, side))


def _finding(plan: Plan, match: FixedMatch, short: list[FixedMatch], compared: Compared) -> Finding:
    limit, asked, side = compared
    gap, low = depth(side * (match.height - match.slab)), (limit.direction == "most") == (side == 1)
    changes = plan.grades.moved([(one.at, one.height - side * asked) for one in short], up=low)
    formula = "fixed height - slab" if side == 1 else "slab - fixed height"
    numbers = words("{a} - {b}", a=height(max(match.height, match.slab)), b=height(min(match.height, match.slab)))
    says = f"the slab is too {'low' if low else 'high'} for {{fixed}} at {{point}}"
    return Finding(
        at=spot(match),
        says=words(says, fixed=match.fixed.name, point=plan.shape.name_at(match.at)),
        shown=gap,
        limit=limit,
        working=(step("distance", formula, numbers, gap),),
        to_pass=write_heights(changes, words("move the slab by {off} there", off=depth(abs(asked - gap.si)))),
        asked=depth(asked),
    )
