"""Where one bar or sheet ends and the next goes on, they lap far enough to act as one.

What is compared
    The lap of bars with 60 bar diameters, or 40 of steel that yields at 40,000 psi and less. The lap of mesh with one
    space of the wires and 2 in, and never under 6 in.
Why it matters
    A lap that is too short pulls out. The slab then cracks along the row of laps, straight across, and at that crack
    there might as well be no steel.
When it does not apply
    There are no bars and no mesh.
How to put it right
    Lap further, and stagger the laps so that they do not make a line. Sheets lap whole squares: count the wires.
Where sources differ
    The dwelling tables give 40 and 60 diameters, for walls; a class B lap of the structural code comes to about 49 of
    Grade 60 in good concrete. The longer one is taken. Neither is a duty in a slab on ground, so it is a caution. The
    lap of mesh is recalled from the structural code.
"""

from __future__ import annotations

from slabwright.formulas.steel import dwelling_lap, mesh_lap
from slabwright.formulas.units import INCH, PSI
from slabwright.rulebook.kit import *

TITLE = "Laps long enough"
LIMITS = (
    Limit("diameters_at_least", "60", Kind.RATIO, "caution", Cite("irc-r608.5.4"), ("20", "100"),
          "lap of bars, in bar diameters"),
    Limit("soft_diameters_at_least", "40", Kind.RATIO, "caution", Cite("irc-r608.5.4"), ("20", "100"),
          "lap of bars that yield at {40,000 psi|276 MPa} and less, in bar diameters"),
    Limit("beyond_space_at_least", "2 in", Kind.DEPTH, "caution", Cite("aci-318-mesh-lap", "sec. 25.5.4"),
          ("0 in", "6 in"), "lap of mesh, over one space of its wires"),
    Limit("mesh_at_least", "6 in", Kind.DEPTH, "caution", Cite("aci-318-mesh-lap", "sec. 25.5.4"), ("2 in", "24 in"),
          "lap of any mesh"),
)  # fmt: skip
SOFT = 41000 * PSI  # Pa: Grade 40 and 280 MPa
WORKED = (
    Worked("#4 of Grade 60", depth(30 * INCH), lambda: dwelling_lap(0.5 * INCH, 60000 * PSI), 0.5 * INCH,
           Cite("irc-r608.5.4"), "re-lap-4"),
    Worked("#5 of Grade 40", depth(25 * INCH), lambda: dwelling_lap(0.625 * INCH, 40000 * PSI), 0.5 * INCH,
           Cite("irc-r608.5.4"), "re-lap-5"),
    Worked("6x6 mesh", depth(8 * INCH), lambda: mesh_lap(6 * INCH), 1e-9, Cite("aci-318-mesh-lap")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The lap of each mat that has one."""
    steel = plan.design.reinforcement
    if steel is None or not steel.mats:
        does_not_apply("there are no bars and no mesh")
    if not any(mat.lap for _, mat, _ in steel.mats):
        plan.given(f"reinforcement.{steel.mats[0][0]}.lap")
    if steel.bars and steel.bars.lap:
        fy, bar = steel.bars.yield_strength, depth(steel.bars.size.diameter)
        limit = limits.soft_diameters_at_least if fy is not None and fy.si <= SOFT else limits.diameters_at_least
        asked = depth(limit.value.si * bar.si)
        yield _judged(plan, steel.bars.lap, limit, Spot("the bars", steel.bars.place), step(
            "least lap", "bar diameters x diameter", words("{n} x {d}", n=limit.value, d=bar), asked))  # fmt: skip
    if steel.mesh and steel.mesh.lap:
        space, beyond, least = depth(steel.mesh.wire_spacing), limits.beyond_space_at_least, limits.mesh_at_least
        by_wires = depth(space.si + beyond.value.si)
        limit = beyond if by_wires.si >= least.value.si else least
        asked = by_wires if limit is beyond else depth(least.value.si)
        formula, numbers = "least of any mesh", words("{l}", l=least.value)
        if limit is beyond:
            formula, numbers = "space of the wires + lap beyond it", words("{s} + {b}", s=space, b=beyond.value)
        yield _judged(plan, steel.mesh.lap, limit, Spot("the mesh", steel.mesh.place),
                      step("least lap", formula, numbers, asked))  # fmt: skip


def _judged(plan: Plan, lap: Amount, limit: InForce, at: Spot, asked: Step) -> Conclusion:
    enough = round_up(asked.result, 0.01 if plan.system == "metric" else INCH)
    return compare(
        at, lap, limit, asked=asked.result,
        says=lambda: words("the laps of {mat} are so short that they pull out", mat=at.name),
        working=lambda: asked,
        remedy=lambda: write(f"{at.place.path}.lap", enough, words(
            "lap {mat} {write}: {more} more", mat=at.name, write=enough, more=depth(enough.si - lap.si))),
    )  # fmt: skip
