"""Lids of cleanouts, meters and valves come up to the finish, and not past it.

What is compared
    The height of the lid of each cleanout, meter or valve box inside the concrete with the finish there: 1/4 in up or
    down, and 1/2 in.
Why it matters
    A cleanout that is poured over is found with a jackhammer, on the day the sewer backs up. A lid that stands proud
    trips people and stops the screed; one that lies low is a puddle.
When it does not apply
    Nothing of the kind stands inside the concrete.
How to put it right
    Ask for the height before the pour, cut or raise the riser, and set the lid with the screed, boxed out or sleeved.
Where sources differ
    The lips are those of the access standards, upright and bevelled, which hold on public ways; elsewhere they are good
    practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.local_limits import BEVELLED_LIP, UPRIGHT_LIP
from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
from slabwright.plan.things import PlannedFixture
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Worked,
    compared,
    does_not_apply,
    heights_not_shown,
    not_shown,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height

TITLE = "Lids come up to the finish"
LIMITS = (
    Limit("lip_at_most", "1/2 in", Kind.DEPTH, "hold", Cite("ada-1991", "4.5.2"), ("1/8 in", "2 in"),
          "how far a lid stands over or under the finish, bevelled"),
    Limit("upright_lip_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("ada-1991", "4.5.2"), ("0 in", "1 in"),
          "how far a lid stands over or under the finish"),
)  # fmt: skip
WORKED = (
    Worked("upright lip", depth(0.25 * INCH), lambda: UPRIGHT_LIP, 1e-9, Cite("ada-1991", "4.5.2"), "wa-trip-lip"),
    Worked("bevelled lip", depth(0.5 * INCH), lambda: BEVELLED_LIP, 1e-9, Cite("ada-1991", "4.5.2"), "wa-trip-lip"),
)  # fmt: skip
LIDS = ("cleanout", "meter", "valve")


def _inside(plan: Plan) -> list[PlannedFixture]:
    return [one for one in plan.fixtures.all if one.inside and one.fixture.kind in LIDS]


def relevant(plan: Plan) -> Relevance:
    """A lid stands in the concrete, and both heights are known for one of them."""
    inside = _inside(plan)
    if not inside:
        return does_not_apply("no cleanout, meter or valve stands inside the concrete")
    if all(one.fixture.rim is None for one in inside):
        names = ", ".join(one.name for one in inside[:6])
        such = "99.90" if plan.design.height_unit in ("ft", "in") else "100.000"
        add = f"fixtures, rim: the height of the lid of {names}, such as {such}"
        return not_shown(add, place=inside[0].fixture.place)
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each lid whose height is written."""
    for one in _inside(plan):
        if (rim := one.fixture.rim) is None or one.slab is None:
            continue
        lip, at, finish = depth(abs(rim.si - one.slab)), spot(one), height(one.slab)
        says = words("{lid} stands {off} over the finish", lid=at.name, off=lip)
        if rim.si < one.slab:
            says = words("{lid} lies {off} under the finish", lid=at.name, off=lip)
        high, low = (height(most) for most in (max(rim.si, one.slab), min(rim.si, one.slab)))
        working = step("lip", "higher - lower", words("{h} - {l}", h=high, l=low), lip)
        to_pass = words("set {lid} at {write}, with the finish", lid=at.name, write=finish)
        yield compared(limits, ("lip_at_most", "upright_lip_at_most"), at, lip, says, to_pass, (working,))
