"""There is enough steel to pull the slab over the ground from one free joint to the next.

What is compared
    Compares the steel of each mat with what the drag of the ground asks for: F L w / (2 fs). F is 1.5, w the weight of
    the slab, fs two thirds of the yield strength, L the longest way across the slab where the steel is written to run
    through the joints, else the longest panel: half of the steel gives way at a joint, which is what it is cut for.
    Where half goes through, or the file does not say, too little for the longest way across is a note.
Why it matters
    When the slab shrinks, steel that crosses a crack drags one half of it over the ground to the other. Too little, and
    it yields: the crack stands open, and one side goes down. Then the steel was for nothing.
When it does not apply
    There are no bars and no mesh.
How to put it right
    Lay more of it, or stop it at joints that come closer. Short panels want hardly any.
Where sources differ
    The slab text works at two thirds of the yield, a highway guide at three quarters, with a friction from 0.9 to 2.2
    by what lies below; 1.5 is the usual one. The structural code's 0.18 % is for other slabs. It is a caution: steel is
    no requirement in a slab on ground.
"""

from __future__ import annotations

import math

from slabwright.formulas.steel import drag_steel, drag_stress, slab_weight, usual_yield
from slabwright.formulas.steel import steel_area as steel_per_width
from slabwright.formulas.units import FOOT, IN2_PER_FT, INCH, PSI
from slabwright.rulebook.kit import *

TITLE = "Steel enough to hold its cracks"
LIMITS = (
    Limit("part_of_drag_at_least", "1", Kind.RATIO, "caution", Cite("crsi-slab-example"), ("1/2", "4"),
          "steel there is over steel that the drag of the ground asks for"),
    Limit("part_of_drag_if_through_at_least", "1", Kind.RATIO, "note", Cite("crsi-slab-example"), ("1/2", "4"),
          "the same across all joints, where some of the steel goes through them or the file does not say"),
)  # fmt: skip
WIRE = 65000 * PSI  # Pa, where the file names none, `crsi-slab-example`


def asked_for(run: float, thickness: float, yield_strength: float) -> float:
    """Steel in m2/m against the drag of a slab ``thickness`` m thick over ``run`` m, at a ``yield_strength`` in Pa."""
    return drag_steel(run, slab_weight(thickness), drag_stress(yield_strength))


WORKED = (
    Worked("24 ft of 8 in slab, Grade 60", steel_area(0.045 * IN2_PER_FT),
           lambda: asked_for(24 * FOOT, 8 * INCH, 60000 * PSI), 0.0005 * IN2_PER_FT, Cite("crsi-slab-example"),
           "re-drag-24ft"),
    Worked("the same in mesh", steel_area(0.042 * IN2_PER_FT), lambda: asked_for(24 * FOOT, 8 * INCH, 65000 * PSI),
           0.0005 * IN2_PER_FT, Cite("crsi-slab-example"), "re-drag-24ft-mesh"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each mat by itself."""
    if not plan.steel.mats:
        does_not_apply("there are no bars and no mesh")
    for laid in plan.steel.mats:
        mat, t, limit = laid.mat, depth(laid.thickness), limits.part_of_drag_at_least
        within = [panel for panel in plan.panels.all if any(one is area for one in panel.areas for area in laid.areas)]
        panel = length(max(part.long_side for part in within))
        across = length(max(part.long_side for part in plan.panels.stretches))
        run, strength, has = across if mat.at_joints == "run through" else panel, _strength(mat), _steel(mat)
        enough = limit.value.si * asked_for(panel.si, t.si, strength.si)
        if mat.at_joints in (None, "half through") and meets(has.si, enough, "least"):
            run, limit = across, limits.part_of_drag_if_through_at_least
        asked = steel_area(limit.value.si * asked_for(run.si, t.si, strength.si))
        yield compare(
            Spot(laid.name, mat.place), has, limit, asked=asked,
            says=lambda: words("{mat} cannot drag {run} of slab together", mat=laid.name, run=run),
            working=lambda: (
                step("steel for the drag", "1.5 L w / (2 fs)", words("{l} of {t}, fy {fy}", l=run, t=t, fy=strength),
                     steel_area(asked.si / limit.value.si)),
                step("part of it", "steel there is / steel asked", words("{h} / {a}", h=has, a=asked),
                     ratio(has.si / asked.si)),
            ),
            remedy=lambda: _closer(plan, mat, asked.si / has.si),
            decide=lambda: words("lay mesh of {asked} or more", asked=asked),
        )  # fmt: skip


def _strength(mat: Bars | Mesh) -> Amount:
    if isinstance(mat, Bars):
        return stress(mat.yield_strength.si if mat.yield_strength else usual_yield(mat.size.name))
    return stress(WIRE)


def _steel(mat: Bars | Mesh) -> Amount:
    return steel_area(steel_per_width(mat.size.area, mat.spacing.si) if isinstance(mat, Bars) else mat.area_per_width)


def _closer(plan: Plan, mat: Bars | Mesh, times: float) -> list[Remedy]:
    """Bars so close that there is ``times`` as much steel; a sheet is chosen by a person."""
    if not isinstance(mat, Bars):
        return []
    fine = tape_step(plan, INCH / 2, 0.01)
    apart = depth(math.floor(mat.spacing.si / times / fine + 1e-6) * fine)
    return [write(f"{mat.place.path}.spacing", apart, words("lay the bars {write} apart", write=apart))]
