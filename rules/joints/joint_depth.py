"""Every joint is deep enough that the crack comes in it.

What is compared
    Compares the depth of each saw cut and tooled groove with a quarter of the thickness of the slab, and in walks also
    with 1 in. Compares the depth of early-entry cuts with 1 in in slabs up to 9 in, and with a fifth of the thickness
    above. Strips and construction joints go all the way down. Where a thickened edge takes up more than a quarter of a
    cut, a quarter of that depth is asked; an edge that is only crossed is noted, and so is a pad that the base is dug
    half as deep again for, and a cut deeper than a third of the thickness. An edge more than twice as deep as the slab
    is a footing poured with it, and no saw is set for that. Between parts of different thickness, and through them, the
    thickest counts.
Why it matters
    The groove makes one line weaker than all the others. Too shallow, and the slab never notices: two years later
    the groove is whole and the crack runs beside it. Too deep, and the faces have too little left to lock together.
When it does not apply
    No joint is drawn, or none but pattern lines.
How to put it right
    Write the depth, and set the saw or choose the bit by it. A groover with a 3/8 in bit marks a slab, no more.
Where sources differ
    Parking guides and town codes ask a quarter, a Navy text a quarter to a third: the quarter is the hold, the third
    the top of a range. A specification for walks prints 1 in, for 4 in; towns print no such least, so it is a note.
    Early cuts in slabs over 9 in are printed as a sixth to a fifth of the thickness; the fifth is taken. No text says
    which thickness counts at a thickened edge: that is common practice. Metric plans may write 25 mm for the inch.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Joints deep enough"
LIMITS = (
    Limit("part_of_thickness_at_least", "1/4", Kind.RATIO, "hold", Cite("aci-330r-first"), ("1/6", "1/2"),
          "depth of a saw cut or tooled groove, as part of the thickness"),
    Limit("early_depth_at_least", "1 in", Kind.DEPTH, "hold", Cite("early-entry-paper"), ("1/2 in", "3 in"),
          "depth of an early-entry cut in a slab up to {9 in|230 mm}"),
    Limit("early_part_at_least", "1/5", Kind.RATIO, "hold", Cite("early-entry-paper"), ("1/8", "1/2"),
          "depth of an early-entry cut in a thicker slab, as part of the thickness"),
    Limit("formed_part_at_least", "1", Kind.RATIO, "caution", Cite("common-practice"), ("1/4", "1"),
          "depth of a formed strip or construction joint, as part of the thickness"),
    Limit("part_of_thick_edge_at_least", "1/4", Kind.RATIO, "caution", Cite("common-practice"), ("1/6", "1/2"),
          "depth of a cut that lies over a quarter of its length in a thickened edge, as part of the depth there"),
    Limit("part_of_crossed_edge_at_least", "1/4", Kind.RATIO, "note", Cite("common-practice"), ("0", "1/2"),
          "depth of a cut that crosses a thickened edge or a pad, as part of the depth there"),
    Limit("depth_in_walk_at_least", "1 in", Kind.DEPTH, "note", Cite("ufgs-03300n", "par. 3.8.3"), ("1/2 in", "3 in"),
          "depth of a saw cut or tooled groove in a walk"),
    Limit("part_of_thickness_at_most", "1/3", Kind.RATIO, "note", Cite("navy-training"), ("1/4", "1/2"),
          "depth of a cut that leaves enough of the faces to lock, as part of the thickness"),
)  # fmt: skip
EARLY_UP_TO = 9 * INCH  # m, `early-entry-paper`
FORMED = ("formed strip", "construction joint")  # from top to bottom unless a depth says otherwise
PAD = 1.5  # times as deep as drawn: the base is dug deeper on purpose, and not uneven (common practice)
FOOTING = 2  # times as deep as the slab: a quarter of that is half the slab, more than a cut may take (common practice)
MOSTLY_THICK = 1 / 4  # of its length: such a joint is cut for the thickened edge (common practice)


def part(of_thickness: float, thickness: float) -> float:
    """Depth in m that is a part of a thickness in m."""
    return of_thickness * thickness


WORKED = (
    Worked("a quarter of 5 in", depth(1.25 * INCH), lambda: part(1 / 4, 5 * INCH), 1e-9,
           Cite("common-practice"), "jt-depth-3-4-in-5in"),
    Worked("a quarter of an 8 in strip", depth(2 * INCH), lambda: part(1 / 4, 8 * INCH), 1e-9,
           Cite("common-practice"), "jt-depth-thickened"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The depth of each joint that has one, or that is formed all the way down."""
    joints = [joint for joint in plan.joints.all if joint.counts]
    if not joints:
        does_not_apply("no joints are drawn")
    written = [joint for joint in joints if joint.joint.depth or joint.joint.kind in FORMED]
    if not written:
        not_shown("joints, depth: how deep each is cut, such as {1 1/4 in|32 mm}", place=joints[0].joint.place)
    for joint in written:
        yield _judged(plan, joint, limits)


def _judged(plan: Plan, joint: PlannedJoint, limits: Limits) -> Conclusion:
    """One joint against the heaviest of its limits that is broken; where all are met, against the most."""
    at, t, local = spot(joint), _thickness(plan, joint), _local(plan, joint)[0]
    shown, finest = joint.joint.depth or depth(t), tape_step(plan)
    asked = _asked(plan, joint, limits)
    broken = [(limit, least) for limit, least in asked if not meets(shown.si, least, "least")]
    governs, least = min(broken or asked, key=lambda pair: (WEIGHTS.index(pair[0].weight), -pair[1]))
    in_edge = governs.name in ("part_of_thick_edge_at_least", "part_of_crossed_edge_at_least")
    whole = depth(local if in_edge else t)
    new, thickest = round_up(depth(least), finest), plan.areas.thickest(joint.line)
    uneven = len({one.thickness.si for one in plan.areas.along(joint.line)}) > 1
    where, in_area = (" in {area}", {"area": thickest.name}) if uneven else ("", {})
    most = limits.part_of_thickness_at_most
    in_thick = part(limits.part_of_thick_edge_at_least.value.si, local)
    deep = max(part(most.value.si, t), in_thick, *(each for _, each in asked))
    deep = round_up(depth(deep), finest).si + (finest if local > t else 0.0)
    if not broken and joint.joint.kind not in FORMED and not meets(shown.si, deep, "most"):
        return compare(
            at, shown, most, asked=depth(deep),
            says=lambda: words("{joint} leaves the two faces little to lock with", joint=at.name),
            working=lambda: _part(shown, depth(t)),
            remedy=lambda: _made(joint, shown, new if meets(new.si, deep, "most") else depth(deep)),
        )  # fmt: skip
    return compare(
        at, shown, governs, asked=depth(least),
        says=lambda: words(_told(joint, governs) + where, joint=at.name, **in_area),
        working=lambda: _part(shown, whole),
        remedy=lambda: [] if governs.name == "part_of_crossed_edge_at_least" else _made(joint, shown, new),
        decide=lambda: words("cut {joint} {deep} deep where it is thick, if the crack is to come there",
                             joint=at.name, deep=new),
    )  # fmt: skip


def _asked(plan: Plan, joint: PlannedJoint, limits: Limits) -> list[tuple[InForce, float]]:
    """Limits by the way a joint is made and what it crosses, each with the least depth in m that it asks."""
    kind, t = joint.joint.kind, _thickness(plan, joint)
    if kind in FORMED:
        return [(limits.formed_part_at_least, part(limits.formed_part_at_least.value.si, t))]
    if kind == "early saw cut" and meets(t, EARLY_UP_TO, "most"):
        return [(limits.early_depth_at_least, limits.early_depth_at_least.value.si)]
    if kind == "early saw cut":
        return [(limits.early_part_at_least, part(limits.early_part_at_least.value.si, t))]
    asked = [(limits.part_of_thickness_at_least, part(limits.part_of_thickness_at_least.value.si, t))]
    if any(area.use == "walk" for area in plan.areas.along(joint.line)):
        asked += [(limits.depth_in_walk_at_least, limits.depth_in_walk_at_least.value.si)]
    local, share = _local(plan, joint)
    footing = not meets(plan.thickness.crossed(joint.line)[0], FOOTING * t, "most")
    if local > t and not footing:
        edge = limits.part_of_thick_edge_at_least if share > MOSTLY_THICK else limits.part_of_crossed_edge_at_least
        asked += [(edge, part(edge.value.si, local))]
    return asked


def _local(plan: Plan, joint: PlannedJoint) -> tuple[float, float]:
    """How thick the slab is where a joint crosses thick edges or a pad, m, and the share of it that edges take up."""
    local, share = plan.thickness.crossed(joint.line)
    depths = plan.concrete.depths
    if depths is None or (plan.thickness.body_even and depths.most <= PAD * local):
        return local, share  # nowhere is it so deep
    deepest, ends = plan.concrete.deepest_along(joint.line), (joint.line[0], joint.line[-1])
    beside = max(local, *map(plan.thickness.at, ends))  # it may end at a thicker part, and crosses nothing there
    return (deepest, share) if deepest > PAD * beside else (local, share)


def _thickness(plan: Plan, joint: PlannedJoint) -> float:
    """Of the parts of the slab that a joint runs through or between, the thickness of the thickest, m."""
    return plan.areas.thickest(joint.line).thickness.si


def _told(joint: PlannedJoint, limit: InForce) -> str:
    if limit.name == "part_of_crossed_edge_at_least":
        return "{joint} is shallow where it crosses thicker concrete"
    return (
        "concrete runs on under {joint}" if joint.joint.kind in FORMED else "{joint} is too shallow to draw the crack"
    )


def _part(shown: Amount, t: Amount) -> Step:
    return step("part", "depth / thickness", words("{d} / {t}", d=shown, t=t), ratio(shown.si / t.si))


def _made(joint: PlannedJoint, shown: Amount, new: Amount) -> Remedy:
    off, way = depth(abs(new.si - shown.si)), "more" if new.si > shown.si else "less"
    says = words("make {joint} {write} deep: {off} {way}", joint=f"joint {joint.name}", write=new, off=off, way=way)
    return write(f"{joint.joint.place.path}.depth", new, says)
