"""There is enough steel to pull the slab over the ground from one free joint to the next.

What is compared
    The steel of each mat with what the drag of the ground asks for: F L w / (2 fs). F is 1.5, w the weight of the slab,
    fs two thirds of the yield strength, L the longest panel where the steel stops at the joints, and the longest way
    across the slab where it runs through or the file does not say.
Why it matters
    When the slab shrinks, steel that crosses a crack drags one half of it over the ground to the other. Too little, and
    it yields: the crack stands open, and one side goes down. Then the steel was for nothing.
When it does not apply
    There are no bars and no mesh.
How to put it right
    Lay more of it, or stop it at joints that come closer. Short panels want hardly any.
Where sources differ
    The slab text works at two thirds of the yield, a highway guide at three quarters, with a friction from 0.9 to
    2.2 by what lies below; 1.5 is the usual one. The structural code's 0.18 % is for other slabs. It is a caution:
    steel is no duty in a slab on ground.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.design.model import Bars, Mesh
from slabwright.formulas.steel import drag_steel, drag_stress, slab_weight, steel_area
from slabwright.formulas.units import FOOT, IN2_PER_FT, INCH, PSI
from slabwright.plan.plan import Plan
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
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, meets, ratio, stress
from slabwright.units.quantity import steel_area as area_of

TITLE = "Steel enough to hold its cracks"
LIMITS = (
    Limit("part_of_drag_at_least", "1", Kind.RATIO, "caution", Cite("crsi-slab-example"), ("1/2", "4"),
          "steel there is over steel that the drag of the ground asks for"),
)  # fmt: skip
GRADE_60, WIRE = 60000 * PSI, 65000 * PSI  # Pa, where the file names none, `crsi-slab-example`


def asked_for(run: float, thickness: float, yield_strength: float) -> float:
    """Steel in m2/m against the drag of a slab ``thickness`` m thick over ``run`` m, at a ``yield_strength`` in Pa."""
    return drag_steel(run, slab_weight(thickness), drag_stress(yield_strength))


WORKED = (
    Worked("24 ft of 8 in slab, Grade 60", area_of(0.045 * IN2_PER_FT),
           lambda: asked_for(24 * FOOT, 8 * INCH, 60000 * PSI), 0.0005 * IN2_PER_FT, Cite("crsi-slab-example"),
           "re-drag-24ft"),
    Worked("the same in mesh", area_of(0.042 * IN2_PER_FT), lambda: asked_for(24 * FOOT, 8 * INCH, 65000 * PSI),
           0.0005 * IN2_PER_FT, Cite("crsi-slab-example"), "re-drag-24ft-mesh"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """There are bars or mesh."""
    steel = plan.design.reinforcement
    return APPLIES if steel and steel.mats else does_not_apply("there are no bars and no mesh")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each mat by itself."""
    steel, t = plan.design.reinforcement, depth(plan.thickness.design)
    for name, mat, _ in steel.mats if steel else ():
        yield _judged(plan, limits, Spot(f"the {name}", mat.place), mat, t.si)


def _judged(plan: Plan, limits: Limits, at: Spot, mat: Bars | Mesh, t: float) -> Finding | Margin:
    limit = limits.part_of_drag_at_least
    parts = plan.panels.all if mat.at_joints == "stop" else plan.panels.stretches
    run = length(max(part.long_side for part in parts))
    if isinstance(mat, Bars):
        strength = mat.yield_strength.si if mat.yield_strength else GRADE_60
        has = area_of(steel_area(mat.size.area, mat.spacing.si))
    else:
        strength, has = WIRE, area_of(mat.area_per_width)
    asked = area_of(limit.value.si * asked_for(run.si, t, strength))
    if meets(has.si, asked.si, "least"):
        return Margin(at, has, limit, asked)
    given = words("{l} of {t}, fy {fy}", l=run, t=depth(t), fy=stress(strength))
    working = (
        step("steel for the drag", "1.5 L w / (2 fs)", given, area_of(asked.si / limit.value.si)),
        step(
            "part of it", "steel there is / steel asked", words("{h} / {a}", h=has, a=asked), ratio(has.si / asked.si)
        ),
    )
    says = words("{mat} cannot drag {run} of slab together", mat=at.name, run=run)
    to_pass = words("lay mesh of {asked} or more", asked=asked)
    if isinstance(mat, Bars):
        fine = 0.01 if plan.system == "metric" else INCH / 2
        write = depth(math.floor(mat.spacing.si * has.si / asked.si / fine + 1e-6) * fine)
        to_pass = words("lay the bars {write} apart", write=write)
    return Finding(at, says, has, limit, working, to_pass, asked)
