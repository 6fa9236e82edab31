"""Where the thickness changes inside a panel it changes slowly: over ten times the step, or at a joint.

What is compared
    Compares, where two parts of the slab of different thickness meet away from a joint, the taper over the step in the
    underside with 10. A step of up to 1 1/2 in is a note, a higher one a caution. A joint within 2 in of the line
    serves it. A thick pad that lies all inside one panel, as under the posts of a lift, is compared with 1: sides of 45
    degrees.
Why it matters
    The slab shrinks and slides over the base a little. At an abrupt step the underside catches, and the thin side tears
    where it is pulled: two years later a crack follows the line where the thick part ends.
When it does not apply
    The file names no parts, or all of one thickness; every change sits at a joint.
How to put it right
    Set a joint where the thickness changes, or bring the thick part back over ten times the step and write its taper.
Where sources differ
    Road and floor texts bring thickened edges back over 3 to 5 ft, and ask nothing of other changes. Ten times the
    step, 1 1/2 in as what lies in a base anyway, and 45 degrees for a pad are common practice: the panel shrinks
    towards a pad in its middle from all sides, and nothing holds it at a second place.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Thickness changes at a joint, or slowly"
LIMITS = (
    Limit("steps_long_at_least", "10", Kind.RATIO, "caution", Cite("common-practice"), ("0", "40"),
          "taper from one thickness to another inside a panel, in steps"),
    Limit("low_steps_long_at_least", "10", Kind.RATIO, "note", Cite("common-practice"), ("0", "40"),
          "taper from one thickness to another that differ by {1 1/2 in|38 mm} at most, in steps"),
    Limit("pad_steps_long_at_least", "1", Kind.RATIO, "caution", Cite("common-practice"), ("0", "40"),
          "taper round a thick pad that lies all inside one panel, in steps"),
)  # fmt: skip
AWAY = 0.3  # m of a line that a joint may leave out, a foot
LOW = 1.5 * INCH  # m, a step as a base has them anyway (common practice)


def taper_for(steps: float, step: float) -> float:
    """Length in m over which a step in the underside (m) is brought back."""
    return steps * step


WORKED = (
    Worked("6 in down to 4 in over ten steps", length(20 * INCH), lambda: taper_for(10, 2 * INCH), 1e-9,
           Cite("common-practice")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each line where the thickness changes away from a joint, told once for two parts."""
    if len(plan.areas.thicknesses) < 2:
        does_not_apply("the slab is drawn of one thickness")
    changes = [change for change in plan.panels.changes if change.away > AWAY]
    if not changes:
        does_not_apply("every change of thickness sits at a joint")
    lines: dict[tuple[str, str], list[ThicknessChange]] = {}
    for change in changes:
        lines.setdefault((change.thin.name, change.thick.name), []).append(change)
    for stretches in lines.values():
        yield _judged(plan, limits, stretches)


def _judged(plan: Plan, limits: Limits, stretches: Sequence[ThicknessChange]) -> Conclusion:
    change = max(stretches, key=lambda one: one.away)
    limit = limits.low_steps_long_at_least if meets(change.step, LOW, "most") else limits.steps_long_at_least
    if limit is limits.steps_long_at_least and _pad(plan, change.thick):
        limit = limits.pad_steps_long_at_least
    step_down, taper, shown = depth(change.step), length(change.taper), ratio(change.taper / change.step)
    where = Spot(f"the line between {change.thin.name} and {change.thick.name}", change.part.place, change.line)
    least = taper_for(limit.value.si, change.step)
    finest = tape_step(plan, INCH, 0.05)
    asked = length(math.ceil(least / finest - 1e-6) * finest)
    slowly = words("bring {thick} back to {thin} over {write}", thick=depth(change.thick.thickness.si),
                   thin=depth(change.thin.thickness.si), write=asked)  # fmt: skip
    joint = words("cut a joint where the thickness changes, between {thin} and {thick}", thin=change.thin.name,
                  thick=change.thick.name)  # fmt: skip
    return compare(
        where, shown, limit,
        says=lambda: words("the thickness changes by {step} inside a panel, and no joint is there", step=step_down),
        working=lambda: step("part", "taper / step", words("{t} / {s}", t=taper, s=step_down), shown),
        remedy=lambda: [write(f"{change.part.place.path}.taper", asked, slowly),
                        new_joints(plan, [(one.line[0], one.line[-1]) for one in stretches], joint)],
    )  # fmt: skip


def _pad(plan: Plan, thick: Area) -> bool:
    """Whether a thick part lies all inside one panel, away from what bounds it."""
    return any(
        one.polygon.contains(thick.polygon)
        and meets(float(one.polygon.boundary.distance(thick.polygon)), AWAY, "least")
        for one in plan.panels.all
    )
