"""Lines tooled or sawn for looks are not the only lines in a slab that needs joints.

What is compared
    Where the slab has pattern lines and is longer than 24 times its thickness, compares the number of its joints with
    one. It then compares the depth of each pattern line with a quarter of the thickness.
Why it matters
    A line that is 3/8 in deep looks like a joint from above and is none. The slab shrinks, finds nothing weak enough,
    and cracks straight across the pattern, which makes it look worse than a plain slab with the same crack.
When it does not apply
    There are no pattern lines.
How to put it right
    Choose the pattern so that some of its lines can be cut to a quarter of the thickness, and write what they are: saw
    cut or tooled groove. A line that deep cracks whether it was meant to or not, so it counts as a joint as well.
Where sources differ
    Sources agree: pattern lines seldom reach a quarter of the thickness, a trade magazine says, and the quarter is the
    depth that joints have everywhere. That a slab up to 24 thicknesses long can do without is the lower end of the
    spacings.
"""

from __future__ import annotations

from slabwright.formulas.joints import LEAST_MULTIPLE, saw_depth
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Joints as well as pattern lines"
LIMITS = (
    Limit("joints_at_least", "1", Kind.COUNT, "caution", Cite("trade-article-pattern"), ("0", "1"),
          "joints in a slab that has pattern lines and is longer than 24 thicknesses"),
    Limit("part_of_thickness_at_most", "1/4", Kind.RATIO, "note", Cite("aci-330r-first"), ("1/8", "1/2"),
          "depth of a pattern line that stays a pattern, as part of the thickness"),
)  # fmt: skip
IN_WALK = 0.025  # m: the least depth of a cut in a walk, as `joint-depth` has it; on a tape in inches the next is 1 in
WORKED = (
    Worked("what would be a joint in 6 in", depth(1.5 * INCH), lambda: saw_depth(6 * INCH), 1e-9,
           Cite("aci-330r-first"), "jt-depth-6in"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Whether there are joints besides, then the depth of each line."""
    lines = [joint for joint in plan.joints.all if not joint.counts]
    if not lines:
        does_not_apply("there are no pattern lines")
    joints = count(sum(joint.counts for joint in plan.joints.all))
    long = any(panel.long_side > LEAST_MULTIPLE * panel.drawn * (1 + 1e-9) for panel in plan.panels.all)
    if not long and not joints.si and not any(line.joint.depth for line in lines):
        does_not_apply("the slab is short enough to do without joints, and no depth is written of its lines")
    if joints.si or long:
        yield compare(
            Spot("the slab", lines[0].joint.place), joints, limits.joints_at_least,
            says=lambda: words("the slab has pattern lines and no joints, and will crack across the pattern"),
            remedy=lambda: _cut(plan, squarest_of(plan, [line.joint for line in lines])),
        )  # fmt: skip
    for line in lines:
        if line.joint.depth:
            yield _judged(plan, line, line.joint.depth, limits.part_of_thickness_at_most)


def _judged(plan: Plan, line: PlannedJoint, deep: Amount, limit: InForce) -> Conclusion:
    at, t = spot(line, f"line {line.name}"), depth(plan.areas.thickest(line.line).thickness.si)
    others = [joint for joint in plan.design.joints if joint.kind == "pattern" and joint is not line.joint]
    return compare(
        at, deep, limit, asked=depth(limit.value.si * t.si),
        says=lambda: words("{line} is deep enough to crack, and is drawn as a pattern", line=at.name),
        working=lambda: step("part", "depth / thickness", words("{d} / {t}", d=deep, t=t), ratio(deep.si / t.si)),
        remedy=lambda: _cut(plan, [line.joint, *squarest_of(plan, others, [line.joint])]),
    )  # fmt: skip


def _cut(plan: Plan, lines: Sequence[Joint]) -> Remedy:
    """Lines of the pattern made joints, a quarter of the thickness deep."""
    areas = [area for line in lines for area in plan.areas.along([(point.x, point.y) for point in line.along])]
    quarter = saw_depth(max(area.thickness.si for area in areas))
    walked = any(area.use == "walk" for area in areas)
    deep = round_up(depth(max(quarter, IN_WALK) if walked else quarter), tape_step(plan))
    names = " and ".join(joint.name for joint in lines)
    says = words("make {names} saw cuts {write} deep" if len(lines) > 1 else "make {names} a saw cut {write} deep",
                 names=names, write=deep)  # fmt: skip
    kinds = [write(f"{joint.place.path}.kind", "saw cut", says) for joint in lines]
    depths = [write(f"{joint.place.path}.depth", deep, says) for joint in lines]
    return together(*kinds, *depths, says=says)
