"""Lines tooled or sawn for looks are not the only lines in a slab that needs joints.

What is compared
    The number of joints in a slab that has pattern lines and is longer than 24 times its thickness, with one. Then the
    depth of each pattern line with a quarter of the thickness.
Why it matters
    A line that is 3/8 in deep looks like a joint from above and is none. The slab shrinks, finds nothing weak enough,
    and cracks straight across the pattern, which makes it look worse than a plain slab with the same crack.
When it does not apply
    There are no pattern lines.
How to put it right
    Choose the pattern so that some of its lines can be cut to a quarter of the thickness, and write what they are: saw
    cut or tooled groove. A line that deep cracks whether it was meant to or not, so it counts as a joint as well.
Where sources differ
    None: pattern lines seldom reach a quarter of the thickness, a trade magazine says, and the quarter is the depth
    that joints have everywhere. That a slab up to 24 thicknesses long can do without is the lower end of the spacings.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.joints import LEAST_MULTIPLE, saw_depth
from slabwright.formulas.units import INCH
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
    Spot,
    Worked,
    does_not_apply,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, depth, meets, ratio, round_up

TITLE = "Joints as well as pattern lines"
LIMITS = (
    Limit("joints_at_least", "1", Kind.COUNT, "caution", Cite("trade-article-pattern"), ("0", "1"),
          "joints in a slab that has pattern lines and is longer than 24 thicknesses"),
    Limit("part_of_thickness_at_most", "1/4", Kind.RATIO, "note", Cite("aci-330r-first"), ("1/8", "1/2"),
          "depth of a pattern line that stays a pattern, as part of the thickness"),
)  # fmt: skip
WORKED = (
    Worked("what would be a joint in 6 in", depth(1.5 * INCH), lambda: saw_depth(6 * INCH), 1e-9,
           Cite("aci-330r-first"), "jt-depth-6in"),
)  # fmt: skip


def _lines(plan: Plan) -> list[PlannedJoint]:
    return [joint for joint in plan.joints.all if not joint.counts]


def relevant(plan: Plan) -> Relevance:
    """There are pattern lines."""
    return APPLIES if _lines(plan) else does_not_apply("there are no pattern lines")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Whether there are joints besides, then the depth of each line."""
    lines, t, part = _lines(plan), depth(plan.thickness.design), limits.part_of_thickness_at_most
    at, joints = Spot("the slab", lines[0].joint.place), count(sum(joint.counts for joint in plan.joints.all))
    long = max(panel.long_side for panel in plan.panels.all) > LEAST_MULTIPLE * t.si * (1 + 1e-9)
    if limits.joints_at_least.met(joints):
        yield Margin(at, joints, limits.joints_at_least)
    elif long:
        least, step_by = (0.025, 0.005) if plan.system == "metric" else (INCH, INCH / 8)
        write = round_up(depth(max(saw_depth(t.si), least)), step_by)
        says = words("the slab has pattern lines and no joints, and will crack across the pattern")
        make = "make line {name} a {kind} {write} deep, and others like it"
        to_pass = words(make, name=lines[0].name, kind="saw cut", write=write)
        yield Finding(at, says, joints, limits.joints_at_least, (), to_pass)
    for line in lines:
        at, shown, asked = spot(line, f"line {line.name}"), line.joint.depth, depth(part.value.si * t.si)
        if shown is None:
            continue
        if meets(shown.si, asked.si, "most"):
            yield Margin(at, shown, part, asked)
            continue
        working = step("part", "depth / thickness", words("{d} / {t}", d=shown, t=t), ratio(shown.si / t.si))
        says = words("{line} is deep enough to crack, and is drawn as a pattern", line=at.name)
        to_pass = words("make line {name} a {kind}, since it is one", name=line.name, kind="tooled groove")
        yield Finding(at, says, shown, part, (working,), to_pass, asked)
