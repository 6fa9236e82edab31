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

from slabwright.formulas.units import celsius
from slabwright.rulebook.kit import *

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
        yield from _judged(joints, wait, _window(limits, kind == "early saw cut", air))


def _window(limits: Limits, early: bool, air: float | None) -> tuple[InForce, InForce]:
    """The soonest and the latest that a joint is cut, by the saw and the air in deg C."""
    if early:
        return limits.early_saw_at_least, limits.early_saw_at_most
    if air is None or meets(air, HOT, "least"):
        return limits.saw_at_least, limits.hot_at_most
    return limits.saw_at_least, limits.mild_at_most if meets(air, COLD, "least") else limits.cold_at_most


def _judged(joints: Sequence[PlannedJoint], wait: Amount, window: tuple[InForce, InForce]) -> Conclusions:
    least, most = window
    names = list(dict.fromkeys(joint.name for joint in joints))
    told = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
    at = spot(joints[0], f"joint {told}" if len(names) == 1 else f"joints {told}")
    are = "is" if len(names) == 1 else "are"
    paths = dict.fromkeys(f"{joint.joint.place.path}.cut_after" for joint in joints)

    def cut(limit: InForce, how: str) -> Remedy:
        says = words(how, joints=at.name, write=limit.value)
        return together(*(write(path, limit.value, says) for path in paths), says=says)

    yield compare(
        at, wait, least,
        says=lambda: words("cut so soon, the edges of {joints} ravel", joints=at.name),
        remedy=lambda: cut(least, "cut {joints} {write} after finishing or later"),
    )  # fmt: skip
    yield compare(
        at, wait, most,
        says=lambda: words(f"the slab may crack before {{joints}} {are} cut", joints=at.name),
        remedy=lambda: cut(most, "cut {joints} within {write} of finishing"),
    )  # fmt: skip
