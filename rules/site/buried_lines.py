"""Lines under and beside the slab lie clear of the dig, and are dug to by hand.

What is compared
    Takes the room between the bottom of the base and the top of each line under the slab: none is a hold, less than 12
    in a caution. Compares the distance of each line, measured level, from what is dug with 24 in and half the pipe:
    within that it is dug by hand. It also asks whether a line under the slab runs in a sleeve.
Why it matters
    A line in the base is cut by a stake or crushed by the roller, and nobody hears of it until the slab is down: or
    somebody does at once. Marks on the ground show where a line runs and never how deep.
When it does not apply
    No line is written that runs under the slab or within 10 ft of it. Heating loops that lie in the concrete are no
    buried line: they stand under `embedded`, and `tubes-in-slab` speaks of them.
How to put it right
    Stop, and expose it by hand. Its operator decides whether it stays, is protected or is moved: nobody else raises,
    lowers or moves a line. Lay two empty sleeves while all is open.
Where sources differ
    States set 18 to 24 in to either side of the marks, dug by hand, and some half the pipe besides; none sets a depth.
    The 12 in of room, about what a form stake reaches below the base, and the sleeve are common practice.
"""

from __future__ import annotations

from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "Buried lines clear of the dig"
LIMITS = (
    Limit("clear_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "12 in"),
          "room between the bottom of the base and a line"),
    Limit("stake_clear_at_least", "12 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "36 in"),
          "room under the base that stakes and the teeth of a bucket reach"),
    Limit("machine_off_at_least", "24 in", Kind.LENGTH, "note", Cite("one-call-laws"), ("12 in", "10 ft"),
          "distance to either side of a line, and half the pipe, that is dug by hand"),
    Limit("bare_lines_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "10"),
          "lines under the slab without a sleeve"),
)  # fmt: skip
WORKED = ()
LOOK = 10 * FOOT  # m: lines farther off are no concern of the slab


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Depth, distance, then sleeves."""
    base, dig, hand = plan.design.site.base, plan.design.dig, limits.machine_off_at_least
    beyond = dig.beyond_edge.si if dig and dig.beyond_edge else 0.0
    every = plan.site.buried
    under = [(name, line) for name, line in every if plan.site.under(line.along) > 0]
    near = [(name, line) for name, line in every if meets(plan.site.away(line.along) - beyond, LOOK, "most")]
    if not near and plan.site.loops:
        not_shown("embedded: the heating loops in the slab, with their top_cover, such as {2 1/2 in|65 mm}, and not "
                  "under site.buried", place=plan.place("site.buried"))  # fmt: skip
    if not near:
        does_not_apply("no line under the slab or beside it is written (site.buried)")
    if under and all(line.depth is None and line.sleeve is None for _, line in under):
        not_shown("site.buried, depth and sleeve: how deep it lies, such as {24 in|600 mm}, and whether in a sleeve",
                  place=under[0][1].place)  # fmt: skip
    told: set[str] = set()
    for name, line in under:
        if (lies := line.depth) is None:
            continue
        over = plan.areas.thickest([(point.x, point.y) for point in line.along])
        dug = depth(over.thickness.si + (base.thickness.si if base and base.thickness else 0.0))
        room = depth(lies.si - dug.si)
        if not limits.stake_clear_at_least.met(room):
            told.add(name)
        yield compare(
            Spot(name, line.place, tuple((point.x, point.y) for point in line.along)), room,
            limits.clear_at_least, limits.stake_clear_at_least,
            says=lambda: words("{name} lies in the slab or its base", name=name) if room.si < 0 else
            words("{name} lies {room} under the base, where stakes and teeth reach it", name=name, room=room),
            working=lambda: step("room", "depth - thickness and base", words("{d} - {t}", d=lies, t=dug), room),
            decide=lambda: words("stop, expose {name} by hand, and let its operator decide", name=name)
            if room.si < 0 else words("expose {name} by hand before anything is driven or dug there", name=name),
        )  # fmt: skip
    for name, line in ((name, line) for name, line in near if name not in told):
        off = length(max(plan.site.away(line.along) - beyond, 0.0))
        asked = length(hand.value.si + (line.size.si / 2 if line.size else 0.0))
        yield compare(
            Spot(name, line.place, tuple((point.x, point.y) for point in line.along)), off, hand, asked=asked,
            says=lambda: words("{name} runs within {asked} of what is dug", name=name, asked=asked),
            decide=lambda: words("dig by hand within {asked} to either side of {name} until it is seen", asked=asked,
                                 name=name),
        )  # fmt: skip
    if known := [(name, line) for name, line in under if line.sleeve is not None]:
        bare = ", ".join(name for name, line in known if not line.sleeve)
        yield compare(
            Spot("the sleeves", known[0][1].place), count(sum(not line.sleeve for _, line in known)),
            limits.bare_lines_at_most,
            says=lambda: words("{names} can never be pulled out from under the slab", names=bare),
            decide=lambda: words("ask the operator of {names} whether it is to be sleeved before the pour, and lay an "
                                 "empty sleeve beside it", names=bare),
        )  # fmt: skip
