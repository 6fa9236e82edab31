"""Joints are cut as soon as the concrete can be cut, and before it cracks.

What is compared
    How long after finishing each cut is made: an early-entry saw 1 h to 4 h; a wet or dry saw from 4 h on, and up to
    12 h at 80 °F and over or where no forecast is given, 18 h in mild weather, 24 h below 40 °F.
Why it matters
    Too early and the edges ravel. Too late and the slab has already cut itself, crooked, a foot beside the chalk line:
    the cut made next morning runs down the middle of a panel that is broken in two.
When it does not apply
    Nothing is cut with a saw: tooled, formed and construction joints are there when the slab is finished.
How to put it right
    Write the hours the weather asks for, and go by the edge of the trial cut on the day. On a hot day the early-entry
    saw buys the night's sleep; tooled joints buy it too.
Where sources differ
    Conventional saw: 4 to 12 h (ACI 302.1R), 6 to 18 h (CSA A23.1), 4 h in heat to 3 days in cold (a trade magazine).
    Early entry: 1 h hot to 4 h cold (ACI 224.4R), 2 to 6 h (ACI 325.12R). Every slab tells by its edges, so all of it
    is a caution; the 24 h in cold are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.units import celsius
from slabwright.plan.plan import Plan
from slabwright.plan.things import PlannedJoint
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    does_not_apply,
    not_shown,
    spot,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, meets

TITLE = "Joints cut in time"
LIMITS = (
    Limit("early_saw_at_most", "4 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("1 h", "12 h"),
          "from finishing to an early-entry cut"),
    Limit("hot_at_most", "12 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("2 h", "24 h"),
          "from finishing to a cut, at {80 °F|26.7 °C} and over or without a forecast"),
    Limit("mild_at_most", "18 h", Kind.DURATION, "caution", Cite("csa-a23.1-94"), ("4 h", "48 h"),
          "from finishing to a cut, between {40 °F|4.4 °C} and {80 °F|26.7 °C}"),
    Limit("cold_at_most", "24 h", Kind.DURATION, "caution", Cite("common-practice"), ("6 h", "96 h"),
          "from finishing to a cut, below {40 °F|4.4 °C}"),
    Limit("early_saw_at_least", "1 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("0 h", "4 h"),
          "from finishing to an early-entry cut"),
    Limit("saw_at_least", "4 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("1 h", "12 h"),
          "from finishing to any other cut"),
)  # fmt: skip
WORKED = ()
HOT, COLD = celsius(80), celsius(40)  # deg C, `aci-305.1-14` and `aci-306r-10`
SAWN = ("saw cut", "early saw cut")


def _sawn(plan: Plan) -> list[PlannedJoint]:
    return [joint for joint in plan.joints.all if joint.joint.kind in SAWN]


def relevant(plan: Plan) -> Relevance:
    """A joint is sawn, and the file says when."""
    if not (sawn := _sawn(plan)):
        return does_not_apply("no joint is cut with a saw")
    if any(joint.joint.cut_after for joint in sawn):
        return APPLIES
    return not_shown("joints, cut_after: how long after finishing each is cut, such as 8 h", place=sawn[0].joint.place)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each kind of cut with each wait, told once."""
    forecast = plan.design.pour.weather if plan.design.pour else None
    alike: dict[tuple[str, float], list[PlannedJoint]] = {}
    air = forecast.air.si if forecast and forecast.air else None
    for joint in _sawn(plan):
        if joint.joint.cut_after:
            alike.setdefault((joint.joint.kind, joint.joint.cut_after.si), []).append(joint)
    for (kind, _), joints in alike.items():
        yield from _judged(joints, limits, kind == "early saw cut", air)


def _judged(joints: list[PlannedJoint], limits: Limits, early: bool, air: float | None) -> Iterator[Finding | Margin]:
    least = limits.early_saw_at_least if early else limits.saw_at_least
    most = limits.early_saw_at_most if early else limits.hot_at_most
    if not early and air is not None and not meets(air, HOT, "least"):
        most = limits.mild_at_most if meets(air, COLD, "least") else limits.cold_at_most
    names = list(dict.fromkeys(joint.name for joint in joints))
    told = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
    at, shown = spot(joints[0], f"joint {told}" if len(names) == 1 else f"joints {told}"), joints[0].joint.cut_after
    if shown is None:
        return
    late = "the slab may crack before {joints} " + ("is cut" if len(names) == 1 else "are cut")
    soon, ways = "cut so soon, the edges of {joints} ravel", ("cut {joints} {write} after finishing or later",
                                                              "cut {joints} within {write} of finishing")  # fmt: skip
    for limit, says, way in ((least, soon, ways[0]), (most, late, ways[1])):
        if limit.met(shown):
            yield Margin(at, shown, limit)
            continue
        to_pass = words(way, joints=at.name, write=limit.value)
        yield Finding(at, words(says, joints=at.name), shown, limit, (), to_pass)
