"""Keys and dowels are used where the slab is thick enough for them, and dowels are of the right size.

What is compared
    The thickness of the slab at each joint with a key with 6 in, and at each joint with dowels, outdoors, with 8 in.
    Then diameter, length and spacing of the dowels with a table by thickness.
Why it matters
    A key takes a third of the thickness out of one face. In a thin slab what is left over and under it shears off at
    the first wheel, and the joint is worse than a plain one. A dowel that is a little out of line in a thin slab
    locks the joint and breaks it open a foot away.
When it does not apply
    No joint is locked by a key or by dowels.
How to put it right
    Leave thin joints plain: a straight butt joint is enough for 4 in. Where a key is wanted, thicken the slab to 6 in
    from 3 ft on each side.
Where sources differ
    Army text: keys from 6 in on, dowels at 8 in and over always. The newest parking guide wants none at 7 in and under;
    building guides, as recalled, dowel floors from 5 in on, so floors indoors are left alone. Between 7 and 8 in
    opinions part: a caution. The table is for airfields, and the recalled one for buildings asks shorter bars.
"""

from __future__ import annotations

from slabwright.design.model import Dowels
from slabwright.formulas.dowels import dowel_row
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Keys and dowels where there is room"
LIMITS = (
    Limit("keyed_at_least", "6 in", Kind.DEPTH, "caution", Cite("ti-809-02", "ch. 5"), ("4 in", "12 in"),
          "thickness of a slab with a keyed joint"),
    Limit("dowelled_at_least", "8 in", Kind.DEPTH, "caution", Cite("aci-prc-330-21"), ("4 in", "12 in"),
          "thickness of a slab outdoors with dowels"),
    Limit("diameter_at_least", "1", Kind.RATIO, "note", Cite("ufc-3-260-02", "Table 12-8"), ("1/2", "2"),
          "diameter of a dowel, as part of the table's"),
    Limit("length_at_least", "1", Kind.RATIO, "note", Cite("ufc-3-260-02", "Table 12-8"), ("1/2", "2"),
          "length of a dowel, as part of the table's"),
    Limit("spacing_at_most", "1", Kind.RATIO, "note", Cite("ufc-3-260-02", "Table 12-8"), ("1/2", "2"),
          "spacing of dowels, as part of the table's"),
)  # fmt: skip
WORKED = (
    Worked("bar at 6 in", depth(0.75 * INCH), lambda: dowel_row(6 * INCH).least_diameter, 1e-9,
           Cite("ufc-3-260-02", "Table 12-8"), "jt-dowel-table-6in"),
    Worked("length at 14 in", depth(20 * INCH), lambda: dowel_row(14 * INCH).length, 1e-9,
           Cite("ufc-3-260-02", "Table 12-8"), "jt-dowel-table-14in"),
)  # fmt: skip
THIN, THICK = 5 * INCH, 20.5 * INCH  # m: what the table holds for


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The thickness at each joint, then the dowels."""
    locked = [joint for joint in plan.joints.all if joint.joint.locked_by in ("key", "dowels")]
    if not locked:
        does_not_apply("no joint has a key or dowels")
    if not any(_judged(plan, joint) for joint in locked):
        does_not_apply("no size is written of the dowels")
    for joint in locked:
        key, t = joint.joint.locked_by == "key", depth(plan.thickness.along(joint.line))
        if key or plan.outdoors:
            what = "a key" if key else "dowels"
            limit = limits.keyed_at_least if key else limits.dowelled_at_least
            yield compare(
                spot(joint), t, limit,
                says=lambda: words(f"{{t}} is thin for {what} in {{joint}}", t=t, joint=f"joint {joint.name}"),
                remedy=lambda: _plain_or_thick(joint, limit.value),
            )  # fmt: skip
        if joint.joint.dowels and not key and THIN <= t.si <= THICK:
            yield from _dowels(joint, t, joint.joint.dowels, limits)


def _judged(plan: Plan, joint: PlannedJoint) -> bool:
    return joint.joint.locked_by == "key" or plan.outdoors or joint.joint.dowels is not None


def _plain_or_thick(joint: PlannedJoint, least: Amount) -> list[Remedy]:
    path, says = joint.joint.place.path, words("leave {joint} a plain butt joint", joint=joint.name)
    plain = [drop(f"{path}.locked_by", says)]
    plain += [drop(f"{path}.dowels", says)] if joint.joint.dowels else []
    thick = words("make the slab {write} thick at {joint}", write=least, joint=joint.name)
    return [together(*plain, says=says), write("thickness.design", least, thick)]


def _dowels(joint: PlannedJoint, t: Amount, has: Dowels, limits: Limits) -> Conclusions:
    row = dowel_row(t.si)
    rows = (
        ("diameter", "thick", "thin", has.diameter, row.least_diameter, limits.diameter_at_least),
        ("length", "long", "short", has.length, row.length, limits.length_at_least),
        ("spacing", "apart", "far apart", has.spacing, row.most_spacing, limits.spacing_at_most),
    )
    at = spot(joint, f"the dowels of joint {joint.name}")
    for key, what, wrong, shown, metres, limit in rows:
        asked = depth(limit.value.si * metres)
        yield compare(
            at, shown, limit, asked=asked,
            says=lambda: words(f"{{dowels}} are {wrong} for a slab of {{t}}", dowels=at.name, t=t),
            working=lambda: step("by the table", "for the thickness", words("{t}", t=t), depth(metres)),
            remedy=lambda: write(f"{joint.joint.place.path}.dowels.{key}", asked, words(
                f"set {{dowels}} {{write}} {what}", dowels=at.name, write=asked)),
        )  # fmt: skip
