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

from collections.abc import Iterator

from slabwright.design.model import Dowels
from slabwright.formulas.dowels import dowel_row
from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
from slabwright.plan.things import PlannedJoint
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Worked,
    does_not_apply,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Amount, Kind, depth, meets

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
SAID = {"thick": "thin", "long": "short", "apart": "far apart"}


def relevant(plan: Plan) -> Relevance:
    """A joint is locked by a key or by dowels."""
    locked = any(joint.joint.locked_by in ("key", "dowels") for joint in plan.joints.all)
    return APPLIES if locked else does_not_apply("no joint has a key or dowels")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The thickness at each joint, then the dowels."""
    for joint in plan.joints.all:
        key, dowelled = joint.joint.locked_by == "key", joint.joint.locked_by == "dowels"
        thick = plan.thickness.along(joint.line)
        if key or (dowelled and plan.outdoors):
            limit, t = limits.keyed_at_least if key else limits.dowelled_at_least, depth(thick)
            if limit.met(t):
                yield Margin(spot(joint), t, limit)
            else:
                says = "{t} is thin for a key in {joint}" if key else "{t} is thin for dowels in {joint}"
                to_pass = words("leave {joint} a plain butt joint, or make the slab {write} thick", joint=joint.name,
                                write=limit.value)  # fmt: skip
                yield Finding(spot(joint), words(says, t=t, joint=f"joint {joint.name}"), t, limit, (), to_pass)
        if dowelled and joint.joint.dowels and THIN <= thick <= THICK:
            yield from _dowels(joint, thick, joint.joint.dowels, limits)


def _dowels(joint: PlannedJoint, thick: float, has: Dowels, limits: Limits) -> Iterator[Finding | Margin]:
    row, t = dowel_row(thick), depth(thick)
    rows: tuple[tuple[str, Amount, float, InForce], ...] = (
        ("thick", has.diameter, row.least_diameter, limits.diameter_at_least),
        ("long", has.length, row.length, limits.length_at_least),
        ("apart", has.spacing, row.most_spacing, limits.spacing_at_most),
    )
    for what, shown, metres, limit in rows:
        at, asked = spot(joint, f"the dowels of joint {joint.name}"), depth(limit.value.si * metres)
        if meets(shown.si, asked.si, limit.direction):
            yield Margin(at, shown, limit, asked)
            continue
        working = step("by the table", "for the thickness", words("{t}", t=t), depth(metres))
        says = words("{dowels} are {how} for a slab of {t}", dowels=at.name, how=SAID[what], t=t)
        to_pass = words("set {dowels} {write} {what}", dowels=at.name, write=asked, what=what)
        yield Finding(at, says, shown, limit, (working,), to_pass, asked)
