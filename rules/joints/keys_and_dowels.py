"""Keys and dowels are used where there is room for them and where wheels need them, and dowels are of the right size.

What is compared
    Compares the thickness of the slab at each joint with a key with 6 in, and at each cut with dowels, outdoors, with 8
    in. Under vehicles it asks whether a construction joint is locked, in a slab of 8 in and over, or of 5 in and over
    with axles over 4,000 lb; and it compares the diameter, length and spacing of dowels with a table by thickness.
Why it matters
    A key takes a third of the thickness out of one face. In a thin slab what is left over and under it shears off at
    the first wheel. A dowel that is a little out of line in a thin slab locks the cut and breaks it open a foot away.
    But a construction joint has no broken faces that lock: each wheel steps from one edge down onto the other.
When it does not apply
    No joint is locked by a key or dowels, and no construction joint lies under wheels on 5 in or more. An addition of
    4 in that is doweled to keep it flush is left alone.
How to put it right
    Leave thin cuts plain. Dowel the construction joints of thick slabs, or thicken both edges there by a quarter over
    5 ft. Where a key is wanted, thicken the slab to 6 in from 3 ft on each side.
Where sources differ
    An Army text takes keys from 6 in on, and dowels in construction joints always. A paving association dowels those at
    any thickness, cuts from 8 in on; the newest parking guide wants no dowels in cuts of 7 in and under. Floor guides
    dowel from 5 in on, so cuts indoors are left alone. Between 5 and 8 in opinions part: a note, for axles heavier than
    those of cars. The table is for airfields; floors take bars of 14 in. That half as thick again is too thick is
    common practice.
"""

from __future__ import annotations

from slabwright.formulas.joints import DowelRow, dowel_row
from slabwright.formulas.loads import CAR_AXLE
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Keys and dowels where there is room"
LIMITS = (
    Limit("keyed_at_least", "6 in", Kind.DEPTH, "caution", Cite("ti-809-02", "ch. 5"), ("4 in", "12 in"),
          "thickness of a slab with a keyed joint"),
    Limit("doweled_at_least", "8 in", Kind.DEPTH, "caution", Cite("aci-prc-330-21"), ("4 in", "12 in"),
          "thickness of a slab outdoors with dowels in a joint that is cut"),
    Limit("locked_at_least", "1", Kind.COUNT, "caution", Cite("tm-5-809-12", "par. 5"), ("0", "1"),
          "what locks a construction joint under vehicles in a slab of {8 in|200 mm} and over"),
    Limit("locked_in_thinner_at_least", "1", Kind.COUNT, "note", Cite("tm-5-809-12", "par. 5"), ("0", "1"),
          "what locks a construction joint under axles over {4,000 lb|18 kN} in a slab of {5 to 8 in|125 to 200 mm}"),
    Limit("diameter_at_least", "1", Kind.RATIO, "note", Cite("ufc-3-260-02", "Table 12-8"), ("1/2", "2"),
          "diameter of a dowel, as part of the table's"),
    Limit("diameter_at_most", "1.5", Kind.RATIO, "note", Cite("common-practice"), ("1", "3"),
          "diameter of a dowel, as part of the table's"),
    Limit("length_at_least", "0.875", Kind.RATIO, "note", Cite("ufc-3-260-02", "Table 12-8"), ("0.5", "2"),
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
SOLD = 0.05  # share by which sizes sold in metric differ: 3/4 in is 20 mm there
THIN = 5 * INCH  # m, from which the table holds
ALWAYS = 8 * INCH  # m, from which a construction joint under vehicles is locked


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What locks each joint: whether there is room for it, whether it is there, and of what size it is."""
    heavy = any(not meets(load.axle.si, CAR_AXLE[plan.home], "most") for load in plan.design.loads)
    found: list[Conclusion] = []
    for joint in plan.joints.all:
        beside = plan.areas.along(joint.line)
        thinnest, driven = min(beside, key=lambda area: area.thickness.si), any(map(plan.driven_on, beside))
        t = depth(thinnest.thickness.si)
        wanted = driven and (meets(t.si, ALWAYS, "least") or (heavy and meets(t.si, THIN, "least")))
        by, dowels, sawn = joint.joint.lock, joint.joint.dowels, joint.joint.kind != "construction joint"
        if wanted and not sawn and not joint.joint.isolation:
            thick = meets(t.si, ALWAYS, "least")
            found += [_locked(plan, joint, t, limits.locked_at_least if thick else limits.locked_in_thinner_at_least)]
        if by == "key" or (by == "dowels" and sawn and plan.outdoors):
            found += [_room(joint, thinnest, limits.keyed_at_least if by == "key" else limits.doweled_at_least)]
        if by == "dowels" and dowels and driven and meets(t.si, THIN, "least"):
            found += _sizes(plan, joint, t, dowels, limits)
    if not found:
        does_not_apply("no joint has a key, or dowels that wheels need")
    yield from found


def _room(joint: PlannedJoint, area: Area, limit: InForce) -> Conclusion:
    t = depth(area.thickness.si)
    what = "a key" if joint.joint.lock == "key" else "dowels"
    path, says = joint.joint.place.path, words("leave {joint} a plain butt joint", joint=joint.name)
    written = {"locked_by": joint.joint.locked_by, "dowels": joint.joint.dowels}
    plain = [drop(f"{path}.{key}", says) for key, value in written.items() if value]
    thick = words("make the slab {write} thick at {joint}", write=limit.value, joint=joint.name)
    return compare(
        at := spot(joint), t, limit,
        says=lambda: words("{t} is thin for {what} in {joint}", t=t, what=what, joint=at.name),
        remedy=lambda: [together(*plain, says=says), write(area.thickness_path, limit.value, thick)],
    )  # fmt: skip


def _locked(plan: Plan, joint: PlannedJoint, t: Amount, limit: InForce) -> Conclusion:
    """A construction joint under vehicles: locked, by whatever it is, or not."""
    row = _row(plan, t)
    size = (row.least_diameter, row.length, row.most_spacing)
    typed = (f"{m / INCH:g} in" if plan.home == "us" else f"{round(m * 1000)} mm" for m in size)
    entry = "{{diameter: {}, length: {}, spacing: {}}}".format(*typed)
    says = words("dowel {joint} with bars {d} thick and {l} long, {s} apart; or thicken both edges there",
                 joint=joint.name, d=depth(size[0]), l=depth(size[1]), s=depth(size[2]))  # fmt: skip
    path = joint.joint.place.path
    return compare(
        at := spot(joint), count(int(bool(joint.joint.lock))), limit,
        says=lambda: words("each wheel steps down across {joint}: nothing locks it", joint=at.name),
        remedy=lambda: together(
            write(f"{path}.locked_by", "dowels", says), write(f"{path}.dowels", entry, says), says=says),
    )  # fmt: skip


def _row(plan: Plan, t: Amount) -> DowelRow:
    """The row of the table for a thickness; on a job in metric in the sizes that are sold there."""
    row = dowel_row(t.si)
    return row if plan.home == "us" else DowelRow(*(roundest(meters, SOLD) for meters in row))


def _sizes(plan: Plan, joint: PlannedJoint, t: Amount, has: Dowels, limits: Limits) -> Conclusions:
    row = _row(plan, t)
    rows = (
        ("diameter", "thick", "thin", has.diameter, row.least_diameter, limits.diameter_at_least),
        ("diameter", "thick", "thick", has.diameter, row.most_diameter, limits.diameter_at_most),
        ("length", "long", "short", has.length, row.length, limits.length_at_least),
        ("spacing", "apart", "far apart", has.spacing, row.most_spacing, limits.spacing_at_most),
    )
    at = spot(joint, f"the dowels of joint {joint.name}")
    for key, what, wrong, shown, meters, limit in rows:
        asked = depth(limit.value.si * meters)
        usual = depth(meters if limit.name in ("diameter_at_most", "length_at_least") else asked.si)
        yield compare(
            at, shown, limit, asked=asked,
            says=lambda: words(f"{{dowels}} are {wrong} for a slab of {{t}}", dowels=at.name, t=t),
            working=lambda: step("by the table", "for the thickness", words("a slab of {t}", t=t), depth(meters)),
            remedy=lambda: write(f"{joint.joint.place.path}.dowels.{key}", usual, words(
                f"set {{dowels}} {{write}} {what}", dowels=at.name, write=usual)),
        )  # fmt: skip
