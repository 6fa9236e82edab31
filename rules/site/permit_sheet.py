"""The sheet for the permit counter holds what the counter asks.

What is compared
    Where a permit is asked for, counts how many of these are missing: address, owner, parcel, north, scale, streets,
    easements, flood plain, septic and well, erosion control; the lines of the lot, its area and what covers it; and a
    height at every corner.
Why it matters
    A sheet with a hole in it goes to the bottom of the pile. The pour is booked, the weather is right, and the paper is
    three weeks away.
When it does not apply
    No permit is asked for, and no part of the slab lies in the public right of way.
How to put it right
    Write what is missing; where there is none, write none. The review's drawing brings arrows, heights and distances.
Where sources differ
    Every counter has its own list. This is what those of several towns have in common; in the right of way they also
    ask for poles, hydrants and meters, and look at the forms before the pour.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "What the counter asks is on the sheet"
LIMITS = (
    Limit("missing_at_most", "0", Kind.COUNT, "note", Cite("municipal-checklists"), ("0", "12"),
          "things the counter asks for that are not on the sheet"),
)  # fmt: skip
WORKED = ()
ASKED = (
    "address", "owner", "parcel", "north", "scale", "streets", "easements", "flood_plain", "septic_and_well",
    "erosion_control",
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What is missing."""
    if plan.design.permit is None:
        if not plan.design.site.right_of_way:
            does_not_apply("no permit is asked for with this file (permit)")
        not_shown("permit: what the counter asks, such as {address: 14 Weir Lane, scale: {1/8 in = 1 ft|1:100}, "
                  "easements: none}", place=plan.place("site.right_of_way", "site"))  # fmt: skip
    missing = _missing(plan)
    names = ", ".join(missing)
    yield compare(
        plan.spot("the permit sheet", "permit"), count(len(missing)), limits.missing_at_most,
        says=lambda: words("{name} is not on the sheet, and the counter asks for it", name=names) if len(missing) == 1
        else words("{n} things the counter asks for are not on the sheet", n=count(len(missing))),
        decide=lambda: words("add {names}", names=names),
    )  # fmt: skip


def _missing(plan: Plan) -> list[str]:
    """Keys of what is not on the sheet."""
    permit, lot = plan.design.permit, plan.design.site.lot
    missing = [f"permit.{key}" for key in ASKED if permit is None or not getattr(permit, key)]
    missing += [] if lot and lot.lines else ["site.lot.lines"]
    missing += [f"site.lot.{key}" for key in ("area", "covered") if lot is None or not getattr(lot, key)]
    return missing + ([] if plan.finish.surface else ["heights.finish"])
