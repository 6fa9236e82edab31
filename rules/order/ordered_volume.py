"""What is ordered covers the slab as it is drawn, and what stays in hose and hopper.

What is compared
    Compares the order, with the allowance where it comes on top, with the net volume (thickened edges and steps
    counted) and what fills the hose: less than that leaves a hole in the slab. It then compares the order with these
    and what stays in the hopper (as written, or a quarter yard of a pump), and with 4 % over the net volume, 3 % where
    the base was shot. More than 1.2 times net is a note; of a small order, half a yard over what is usual is. Where
    finish and base are known, the volume is the room between them.
Why it matters
    Two barrows short at four in the afternoon is a cold joint across the slab. The yard left over costs less.
When it does not apply
    The base is drawn above the finish. Otherwise it applies wherever the order is written.
How to put it right
    Order what is asked, rounded up to what the plant sells; or bring the base to height, shoot it, and order less.
Where sources differ
    Suppliers print 4 to 10 % for what the base is off and what is spilled, the least for a base that was shot; a cost
    handbook prints 5 %, the military 10 %, and contractors go to 20. Less than 4 % is a caution, since an eighth of an
    inch on a 4 in slab is 3 %. What the order should be raised to is worked with 5 %, or with the allowance as written.
"""

from __future__ import annotations

from slabwright.formulas.ordering import cylinder_volume, rounded_up, slab_volume, with_allowance
from slabwright.formulas.units import FOOT2, FOOT3, INCH, YARD3
from slabwright.rulebook.kit import *

TITLE = "Enough ordered"
EACH_POUR = True
LIMITS = (
    Limit("part_of_net_at_least", "1", Kind.RATIO, "hold", Cite("geometry"), ("0.9", "1.2"),
          "what is ordered, over net volume and what fills the hose"),
    Limit("with_hopper_at_least", "1", Kind.RATIO, "caution", Cite("geometry"), ("0.9", "1.2"),
          "what is ordered, over net volume and what stays in hose and hopper"),
    Limit("with_spare_at_least", "1.04", Kind.RATIO, "caution", Cite("nrmca-cip-8-spare"), ("1", "1.3"),
          "part of net volume that is ordered"),
    Limit("with_spare_on_shots_at_least", "1.03", Kind.RATIO, "caution", Cite("nrmca-cip-8-spare"), ("1", "1.3"),
          "part of net volume that is ordered where the base was shot"),
    Limit("part_of_net_at_most", "1.2", Kind.RATIO, "note", Cite("common-practice"), ("1", "2"),
          "what is ordered, over net volume, before it looks as if an allowance were counted twice"),
)  # fmt: skip
USUAL = 0.05  # allowance that an order is raised to where none is written, `cost-handbook-2018`
HOPPER = 0.25 * YARD3  # m3 left in the hopper of a small pump, `pump-trade-text`
HALF_PERCENT = 0.005  # of the net volume: a spare is printed, and ordered, in whole percent
SLACK = 0.5 * YARD3  # m3 that may be left of a small order, `common-practice`
STEP = {"us": 0.25 * YARD3, "metric": 0.1}  # m3 that plants sell by, `supplier-practice`
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


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The order against what fills the slab, then against a spare, then against what looks like too much."""
    if plan.concrete.quantities.net <= 0:
        does_not_apply("the base is drawn above the finish")
    ordered, order = plan.given("order.volume"), plan.given("order")
    net, base = plan.concrete.quantities.net, plan.design.site.base
    at = plan.spot("the order", "order")
    comes = volume(with_allowance(ordered.si, order.on_top)) if order.on_top else ordered
    hose = cylinder_volume(order.hose.si, order.hose_length.si) if order.hose and order.hose_length else 0.0
    hopper = order.left_in_hopper.si if order.left_in_hopper else HOPPER if order.method == "pump" else 0.0
    left = hose + hopper
    spare = limits.with_spare_on_shots_at_least if base and base.shot_after_compaction else limits.with_spare_at_least
    fills, hopper_too = limits.part_of_net_at_least, limits.with_hopper_at_least
    governs, covers = max(((hopper_too, net * hopper_too.value.si + left), (spare, net * spare.value.si)),
                          key=lambda pair: pair[1])  # fmt: skip
    usual = with_allowance(net, order.allowance.si if order.allowance else USUAL) + left
    size = order.step.si if order.step else STEP[plan.home]
    write_down = volume(rounded_up(max(usual, covers) / (1 + order.on_top), size))

    def working(of: str, asked: Amount, numbers: Words, what: str = "needed") -> tuple[Step, ...]:
        steps = [*_sum(plan), step(what, of, numbers, asked)]
        if order.on_top:
            given = words("{v} x (1 + {a})", v=ordered, a=share(order.on_top))
            steps.append(step("what comes", "order x (1 + allowance)", given, comes))
        return tuple(steps)

    def remedy() -> Remedy:
        told = "order {write}, and the allowance on top" if order.on_top else "order {write}"
        return write("order.volume", write_down, words(told, write=write_down))

    least = volume(net * fills.value.si + hose)
    if not meets(comes.si, least.si, "least"):
        yield compare(
            at, comes, fills, asked=least,
            says=lambda: words(_short(plan, comes, hose), comes=comes),
            working=lambda: working("net volume + what fills the hose" if hose else "net volume", least,
                                    words("{n} + {h}", n=volume(net), h=volume(hose)) if hose else
                                    words("{n}", n=volume(net))),
            remedy=remedy,
        )  # fmt: skip
        return
    yield compare(
        at, comes, governs, asked=volume(covers), give=HALF_PERCENT * net,
        says=lambda: words("{comes} covers the slab and leaves little for a base that is not quite level", comes=comes)
        if governs is spare else words("{comes} leaves nothing for the hopper of the pump", comes=comes),
        working=lambda: working("part x net volume", volume(covers), words("{p} x {n}", p=spare.value, n=volume(net)))
        if governs is spare else
        working("net volume + what stays behind", volume(covers),
                words("{n} + {b}", n=volume(net), b=volume(left))),
        remedy=remedy,
    )  # fmt: skip
    note = limits.part_of_net_at_most
    slack = volume(with_allowance(max(size, SLACK), order.on_top))
    most = volume(max(note.value.si * net, usual + slack.si))
    small = most.si > note.value.si * net
    yield compare(
        at, comes, note, asked=most,
        says=lambda: words("{comes} is far more than the slab takes", comes=comes),
        working=lambda: working("what is usual + what is left of a small order", most,
                                words("{u} + {s}", u=volume(usual), s=slack), "at most") if small else
        working("part x net volume", most, words("{p} x {n}", p=note.value, n=volume(net)), "at most"),
        decide=lambda: words("order {write}, or say what the rest is for", write=write_down),
    )  # fmt: skip


def _sum(plan: Plan) -> list[Step]:
    """The sum of the net volume, where it has several terms."""
    found = plan.concrete.quantities
    known = (("slab", found.slab), ("thickened edges", found.thickened_edges), ("steps", found.steps))
    parts = {name: si for name, si in known if abs(si) > 1e-6}
    if len(parts) < 2:
        return []
    given = {f"p{n}": volume(si) for n, si in enumerate(parts.values())}
    return [step("net volume", " + ".join(parts), words(" + ".join(f"{{{slot}}}" for slot in given), **given),
                 volume(found.net))]  # fmt: skip


def _short(plan: Plan, comes: Amount, hose: float) -> str:
    """Why the order is short, as far as the numbers tell."""
    found = plan.concrete.quantities
    flat = sum(slab_volume(area.polygon.area, area.thickness.si) for area in plan.areas.all)
    if found.from_surfaces and meets(comes.si, flat, "least") and not meets(comes.si, found.slab, "least"):
        return "{comes} covers the slab as thick as it is drawn, and the base lies lower"
    if found.net - found.slab > 0 and meets(comes.si, flat, "least"):
        return "{comes} covers area times thickness, and leaves out thickened edges and steps"
    if hose and meets(comes.si, found.net, "least"):
        return "{comes} fills the slab and not the hose"
    return "{comes} is less than the slab takes"
