"""Every joint is deep enough that the crack comes in it, also where the slab is thickest along it.

What is compared
    The depth of each saw cut and tooled groove with a quarter of the thickness, and never under 1 in; of early-entry
    cuts with 1 in in slabs to 9 in, a fifth of the thickness above. The greatest thickness along the joint counts:
    over a thickened edge the cut follows. Strips and construction joints go all the way down. A cut over a third of
    the thickness is noted.
Why it matters
    The groove makes one line weaker than all the others. Too shallow, and the slab never notices: two years later
    the groove is whole and the crack runs beside it. Too deep, and the faces have too little left to lock together.
When it does not apply
    No joint is drawn, or none but pattern lines.
How to put it right
    Write the depth, and set the saw or choose the bit by it. A groover with a 3/8 in bit marks a slab, no more.
Where sources differ
    Parking guides ask a quarter, walk specifications add 1 in as the least, a Navy text gives a quarter to a third: the
    quarter is the hold, the third the top of a range. Early cuts in slabs over 9 in are printed as a sixth to a fifth
    of the thickness; the fifth is taken. Metric plans may write 25 mm for the inch.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
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
    not_shown,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, meets, ratio, round_up

TITLE = "Joints deep enough"
LIMITS = (
    Limit("part_of_thickness_at_least", "1/4", Kind.RATIO, "hold", Cite("aci-330r-first"), ("1/6", "1/2"),
          "depth of a saw cut or tooled groove, as part of the thickness"),
    Limit("depth_at_least", "1 in", Kind.DEPTH, "hold", Cite("ufgs-03300n", "par. 3.8.3"), ("1/2 in", "3 in"),
          "depth of any saw cut or tooled groove"),
    Limit("early_depth_at_least", "1 in", Kind.DEPTH, "hold", Cite("early-entry-paper"), ("1/2 in", "3 in"),
          "depth of an early-entry cut in a slab up to {9 in|229 mm}"),
    Limit("early_part_at_least", "1/5", Kind.RATIO, "hold", Cite("early-entry-paper"), ("1/8", "1/2"),
          "depth of an early-entry cut in a thicker slab, as part of the thickness"),
    Limit("formed_part_at_least", "1", Kind.RATIO, "caution", Cite("common-practice"), ("1/4", "1"),
          "depth of a formed strip or construction joint, as part of the thickness"),
    Limit("part_of_thickness_at_most", "1/3", Kind.RATIO, "note", Cite("navy-training"), ("1/4", "1/2"),
          "depth of a cut that leaves enough of the faces to lock, as part of the thickness"),
)  # fmt: skip
EARLY_UP_TO = 9 * INCH  # m, `early-entry-paper`
FORMED = ("formed strip", "construction joint")  # from top to bottom unless a depth says otherwise


def part(of_thickness: float, thickness: float) -> float:
    """Depth in m that is a part of a thickness in m."""
    return of_thickness * thickness


WORKED = (
    Worked("a quarter of 5 in", depth(1.25 * INCH), lambda: part(1 / 4, 5 * INCH), 1e-9,
           Cite("common-practice"), "jt-depth-3-4-in-5in"),
    Worked("a quarter of an 8 in strip", depth(2 * INCH), lambda: part(1 / 4, 8 * INCH), 1e-9,
           Cite("common-practice"), "jt-depth-thickened"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """There is a joint, and a depth or a full-depth joint to judge."""
    if not (joints := [joint for joint in plan.joints.all if joint.counts]):
        return does_not_apply("no joints are drawn")
    if any(joint.joint.depth or joint.joint.kind in FORMED for joint in joints):
        return APPLIES
    return not_shown("joints, depth: how deep each is cut, such as {1 1/4 in|32 mm}", place=joints[0].joint.place)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The depth of each joint; one without a depth among others that have one is shown as not cut at all."""
    metric, most, drawn = plan.system == "metric", limits.part_of_thickness_at_most, plan.thickness.design
    for joint in (joint for joint in plan.joints.all if joint.counts):
        formed, at, t = joint.joint.kind in FORMED, spot(joint), plan.thickness.along(joint.line)
        shown = joint.joint.depth or depth(t if formed else 0.0)
        limit, asked = _least(joint.joint.kind, t, limits, metric)
        deep = max(part(most.value.si, drawn), asked)
        write = round_up(depth(asked), 0.005 if metric else INCH / 8)
        if not meets(shown.si, asked, "least"):
            says = "concrete runs on under {joint}" if formed else "{joint} is too shallow to draw the crack"
            says = says if shown.si else "no depth is written for {joint}, while other joints have one"
        elif not formed and not meets(shown.si, deep, "most"):
            says, limit, asked, t = "{joint} leaves the two faces little to lock with", most, deep, drawn
            write = write if meets(write.si, deep, "most") else depth(deep)
        else:
            yield Margin(at, shown, limit, depth(asked))
            continue
        off, way = depth(abs(write.si - shown.si)), "more" if write.si > shown.si else "less"
        to_pass = words("make {joint} {write} deep: {off} {way}", joint=at.name, write=write, off=off, way=way)
        working = step("part", "depth / thickness", words("{d} / {t}", d=shown, t=depth(t)), ratio(shown.si / t))
        yield Finding(at, words(says, joint=at.name), shown, limit, (working,), to_pass, depth(asked))


def _least(kind: str, t: float, limits: Limits, metric: bool) -> tuple[InForce, float]:
    """The limit that governs, and the least depth in m; metric plans take an inch to the whole millimetre below."""
    early = kind == "early saw cut"
    limit = limits.early_part_at_least if early else limits.part_of_thickness_at_least
    limit = limits.formed_part_at_least if kind in FORMED else limit
    floor = limits.early_depth_at_least if early else limits.depth_at_least
    least = math.floor(floor.value.si * 1000 + 1e-6) / 1000 if metric else floor.value.si
    if early and meets(t, EARLY_UP_TO, "most"):
        return floor, least
    return max((limit, part(limit.value.si, t)), (floor, least), key=lambda pair: pair[1])
