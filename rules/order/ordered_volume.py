"""What is ordered covers the slab as it is drawn, the allowance, and what stays in pump and hose.

What is compared
    The order with the net volume, thickened edges and steps counted, the allowance on that, and what stays in the hose
    (by its size and length) and the hopper (as written, or a quarter yard of a pump). Where finish and base are known,
    the volume is the room between them. An allowance comes on top of the order unless it is inside; where none is
    written it is 10 %, or 5 % on a base that was shot, and at least a quarter yard. Over 1.2 times net is a note.
Why it matters
    Two barrows short at four in the afternoon is a cold joint across the slab. The yard left over costs less.
When it does not apply
    The base is drawn above the finish. Otherwise it always does, once the order is written.
How to put it right
    Order what is asked, rounded up to what the plant sells; or bring the base to height, shoot it, and order less.
Where sources differ
    Allowances are printed as 3, 5 and 10 %; suppliers say 4 to 10, contractors up to 20. 10 % is the military's, 5 % a
    cost handbook's, with what is dug too deep on top. An order that covers the slab and not these is a caution.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.ordering import cylinder_volume, rounded_up, slab_volume, with_allowance
from slabwright.formulas.units import FOOT2, FOOT3, INCH, YARD3
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
from slabwright.units.quantity import Kind, meets, volume

TITLE = "Enough ordered"
LIMITS = (
    Limit("part_of_need_at_least", "1", Kind.RATIO, "hold", Cite("common-practice"), ("0.9", "1.2"),
          "what is ordered, over net volume, written allowance and what stays in pump and hose"),
    Limit("allowance_at_least", "10 %", Kind.SHARE, "caution", Cite("navfac-p-405"), ("0 %", "30 %"),
          "allowance where none is written"),
    Limit("allowance_on_shots_at_least", "5 %", Kind.SHARE, "caution", Cite("cost-handbook-2018", "p. 42"),
          ("0 %", "30 %"), "allowance where none is written and the base was shot after it was compacted"),
    Limit("part_of_net_at_most", "1.2", Kind.RATIO, "note", Cite("common-practice"), ("1", "2"),
          "what is ordered, over net volume, before it looks as if an allowance were counted twice"),
)  # fmt: skip
HOPPER = 0.25 * YARD3  # m3 left in the hopper of a small pump, `pump-trade-text`
LEAST = 0.25 * YARD3  # m3 of allowance on a small slab, `common-practice`
WORKED = (
    Worked("450 ft2, 4 in, 5 %", volume(5.833 * YARD3),
           lambda: with_allowance(slab_volume(450 * FOOT2, 4 * INCH), 0.05), 0.0005 * YARD3,
           Cite("cost-handbook-2018", "p. 42"), "or-taper-volume-exact"),
    Worked("527.40 ft3 and 10 %", volume(580.14 * FOOT3), lambda: with_allowance(527.40 * FOOT3, 0.10),
           0.005 * FOOT3, Cite("navedtra-14070"), "or-foundation-sum"),
    Worked("100 ft of 4 in hose", volume(0.323 * YARD3), lambda: cylinder_volume(4 * INCH, 1200 * INCH), 0.0005 * YARD3,
           Cite("geometry"), "or-line-4in"),
    Worked("9.07 yd3 by quarter yards", volume(9.25 * YARD3), lambda: rounded_up(9.07 * YARD3, 0.25 * YARD3), 1e-9,
           Cite("supplier-practice"), "or-round-up"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """A volume is ordered, and by the heights there is room for some."""
    if plan.design.order and plan.design.order.volume:
        return APPLIES if plan.concrete.quantities.net > 0 else does_not_apply("the base is drawn above the finish")
    return not_shown("order.volume: what is ordered, such as {12 yd3|9 m3}", place=plan.place("order.volume", "order"))


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The order against what is needed, then against what looks like too much."""
    order, q, base = plan.design.order, plan.concrete.quantities, plan.design.site.base
    on_shots = base and base.shot_after_compaction
    if order is None or order.volume is None:
        return
    usual = limits.allowance_on_shots_at_least if on_shots else limits.allowance_at_least
    part, least = (order.allowance, 0.0) if order.allowance else (usual.value, LEAST)
    on_top = part.si if order.allowance and not order.allowance_inside else 0.0
    hose = cylinder_volume(order.hose.si, order.hose_length.si) if order.hose and order.hose_length else 0.0
    hopper = order.left_in_hopper.si if order.left_in_hopper else HOPPER if order.method == "pump" else 0.0
    comes, behind = volume(with_allowance(order.volume.si, on_top)) if on_top else order.volume, hose + hopper
    extra = max(with_allowance(q.net, part.si) - q.net, least)
    full, hold, note = q.net + extra + behind, limits.part_of_need_at_least, limits.part_of_net_at_most
    asked = [(hold, hold.value.si * (full if order.allowance else q.net + behind))]
    asked += [] if order.allowance else [(usual, full)]
    limit, need = next(((one, si) for one, si in asked if not meets(comes.si, si, "least")), (note, full))
    size = order.step.si if order.step else (0.1 if plan.system == "metric" else 0.25 * YARD3)
    write, at = volume(rounded_up(full / (1 + on_top), size)), Spot("the order", order.place)
    most = max(note.value.si * q.net + behind, full + with_allowance(size, on_top))
    says = "{comes} is less than the slab takes"
    if limit is note and meets(comes.si, most, "most"):
        yield Margin(at, comes, asked[-1][0], volume(asked[-1][1]))
        return
    if limit is note:
        says, need = "{comes} is far more than the slab takes", most
    elif limit is usual:
        says = "{comes} covers the slab and leaves little for a base that is not quite level"
    elif q.net - q.slab > 0 and meets(comes.si, slab_volume(plan.shape.area, plan.thickness.design) + behind, "least"):
        says = "{comes} covers area times thickness, and leaves out thickened edges and steps"
    known = (("slab", q.slab), ("thickened edges", q.thickened_edges), ("steps", q.steps))
    parts, working = {name: si for name, si in known if abs(si) > 1e-6}, []
    if len(parts) > 1:
        given = {f"p{n}": volume(si) for n, si in enumerate(parts.values())}
        terms = words(" + ".join(f"{{{slot}}}" for slot in given), **given)
        working.append(step("net volume", " + ".join(parts), terms, volume(q.net)))
    stays = (" + what stays behind", " + {b}", {"b": volume(behind)}) if behind else ("", "", {})
    told, of = ({"a": part}, "allowance") if extra > least else ({}, "least allowance on a small slab")
    numbers = words("{n} + {x}" + " ({a})" * len(told) + stays[1], n=volume(q.net), x=volume(extra), **told, **stays[2])
    working.append(step("needed", f"net volume + {of}{stays[0]}", numbers, volume(full)))
    if on_top:
        numbers = words("{v} x (1 + {a})", v=order.volume, a=part)
        working.append(step("what comes", "order x (1 + allowance)", numbers, comes))
    to_pass = words("order {write}, and the allowance on top" if on_top else "order {write}", write=write)
    yield Finding(at, words(says, comes=comes), comes, limit, tuple(working), to_pass, volume(need))
