"""Joints are cut as soon as the concrete can be cut, and before it cracks.

What is compared
    Compares how long after finishing each cut is made with the hours in which it can be. An early-entry saw cuts from 1
    h to 4 h. A wet or dry saw cuts by the estimate of 12 h at 50 °F, 4 h at 90 °F and a straight line between, with two
    hours more allowed; below 40 °F within 24 h; without a forecast within 12 h; and below 80 °F not before 4 h.
Why it matters
    Too early and the edges ravel. Too late and the slab has already cut itself, crooked, a foot beside the chalk line:
    the cut made next morning runs down the middle of a panel that is broken in two.
When it does not apply
    Nothing is cut with a saw: tooled, formed and construction joints are there when the slab is finished.
How to put it right
    Write the hours the weather asks for, and go by the edge of the trial cut on the day. On a hot day the early-entry
    saw buys the night's sleep; tooled joints buy it too.
Where sources differ
    A conventional saw cuts after 4 to 12 h (ACI 302.1R), 6 to 18 h (CSA A23.1), or 4 h in heat to 3 days in cold (a
    trade magazine). An early-entry saw cuts after 1 h in heat to 4 h in cold (ACI 224.4R), or 2 to 6 h (ACI 325.12R).
    No text read gives hours by temperature: the line between the ends of the first range is an estimate, and all of it
    a caution. The 24 h are common practice.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import HOUR, celsius
from slabwright.rulebook.kit import *

TITLE = "Joints cut in time"
EACH_POUR = True
LIMITS = (
    Limit("early_saw_at_most", "4 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("1 h", "12 h"),
          "from finishing to an early-entry cut"),
    Limit("saw_at_most", "12 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("4 h", "48 h"),
          "from finishing to a cut at {50 °F|10 °C}; by estimate two hours more, and {12 min less for each °F|"
          "21.6 min less for each °C} above"),
    Limit("cold_at_most", "24 h", Kind.DURATION, "caution", Cite("common-practice"), ("6 h", "96 h"),
          "from finishing to a cut, below {40 °F|4.4 °C}"),
    Limit("early_saw_at_least", "1 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("0 h", "4 h"),
          "from finishing to an early-entry cut"),
    Limit("saw_at_least", "4 h", Kind.DURATION, "caution", Cite("aci-saw-window"), ("1 h", "12 h"),
          "from finishing to any other cut, below {80 °F|26.7 °C}"),
)  # fmt: skip
COOL, HOT = (12 * HOUR, celsius(50)), (4 * HOUR, celsius(90))  # s at deg C: ends of the range, `aci-saw-window`
WARM, COLD = celsius(80), celsius(40)  # deg C, `aci-305.1-14` and `aci-306r-10`
GIVE = 2 * HOUR  # s: the estimate is no better (common practice)
SAWN = ("saw cut", "early saw cut")


def sooner(air: float) -> float:
    """How much sooner than at 50 °F a joint is cut in air of so many deg C, s: by a straight line, most at 90 °F."""
    return (COOL[0] - HOT[0]) * (min(air, HOT[1]) - COOL[1]) / (HOT[1] - COOL[1])


WORKED = (
    Worked("half way, at 70 °F", duration(8 * HOUR), lambda: COOL[0] - sooner(celsius(70)), 1e-6,
           Cite("common-practice")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each kind of cut with each wait, told once."""
    sawn = [joint for joint in plan.joints.all if joint.joint.kind in SAWN]
    if not sawn:
        does_not_apply("no joint is cut with a saw")
    alike: dict[tuple[str, Amount], list[PlannedJoint]] = {}
    for joint in sawn:
        if wait := joint.joint.cut_after:
            alike.setdefault((joint.joint.kind, duration(wait.si)), []).append(joint)
    if not alike:
        not_shown("joints, cut_after: how long after finishing each is cut, such as 8 h", place=sawn[0].joint.place)
    forecast = plan.design.pour.weather if plan.design.pour else None
    air = forecast.air.si if forecast and forecast.air else None
    for (kind, wait), joints in alike.items():
        if kind == "early saw cut":
            yield _soon(joints, wait, limits.early_saw_at_least)
            yield _late(joints, wait, limits.early_saw_at_most)
            continue
        if air is None or not meets(air, WARM, "least"):
            yield _soon(joints, wait, limits.saw_at_least)
        if air is None or meets(air, COLD, "least"):
            less, give = (sooner(air), GIVE) if air is not None else (0.0, 0.0)
            yield _late(joints, wait, limits.saw_at_most, less, give)
        else:
            yield _late(joints, wait, limits.cold_at_most)


def _soon(joints: Sequence[PlannedJoint], wait: Amount, least: InForce) -> Conclusion:
    return compare(
        at := _together(joints), wait, least,
        says=lambda: words("cut so soon, the edges of {joints} ravel", joints=at.name),
        remedy=lambda: _cut(joints, least.value, "cut {joints} {write} after finishing or later"),
    )  # fmt: skip


def _late(
    joints: Sequence[PlannedJoint], wait: Amount, most: InForce, less: float = 0.0, give: float = 0.0
) -> Conclusion:
    """``less`` is what the day takes from the limit, s, and ``give`` what such an estimate may be out, s."""
    asked = duration(most.value.si - less + give)
    quarters = duration(math.floor((most.value.si - less) / HOUR * 4 + 1e-6) * HOUR / 4)
    return compare(
        at := _together(joints), wait, most, asked=asked,
        says=lambda: words("the slab may crack before {joints} " + ("are cut" if "joints " in at.name else "is cut"),
                           joints=at.name),
        remedy=lambda: _cut(joints, quarters, "cut {joints} within {write} of finishing"),
    )  # fmt: skip


def _together(joints: Sequence[PlannedJoint]) -> Spot:
    """Joints as one thing, the first few by name."""
    names = list(dict.fromkeys(joint.name for joint in joints))
    told = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
    return spot(joints[0], f"joint {told}" if len(names) == 1 else f"joints {told}")


def _cut(joints: Sequence[PlannedJoint], wait: Amount, how: str) -> Remedy:
    says = words(how, joints=_together(joints).name, write=wait)
    paths = dict.fromkeys(f"{joint.joint.place.path}.cut_after" for joint in joints)
    return together(*(write(path, wait, says) for path in paths), says=says)
