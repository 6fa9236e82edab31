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

from collections.abc import Iterator

from slabwright.formulas.steel import dwelling_lap, mesh_lap
from slabwright.formulas.units import INCH, PSI
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
    Spot,
    Worked,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, Kind, depth, meets, round_up

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


def relevant(plan: Plan) -> Relevance:
    """There are bars or mesh with a lap."""
    steel = plan.design.reinforcement
    if steel is None or not steel.mats:
        return does_not_apply("there are no bars and no mesh")
    if any(mat.lap for _, mat, _ in steel.mats):
        return APPLIES
    path = f"reinforcement.{steel.mats[0][0]}"
    such = "{30 in|750 mm}"
    return not_shown(f"{path}.lap: how far its pieces lap, such as {such}", place=plan.place(path))


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The lap of each mat that has one."""
    steel = plan.design.reinforcement
    if steel and steel.bars and steel.bars.lap:
        fy, bar = steel.bars.yield_strength, depth(steel.bars.size.diameter)
        soft = fy is not None and fy.si <= SOFT
        limit = limits.soft_diameters_at_least if soft else limits.diameters_at_least
        numbers = words("{n} x {d}", n=limit.value, d=bar)
        asked, formula = limit.value.si * bar.si, "bar diameters x diameter"
        yield _judged(plan, Spot("the bars", steel.bars.place), steel.bars.lap, limit, asked, (formula, numbers))
    if steel and steel.mesh and steel.mesh.lap:
        space, beyond, least = depth(steel.mesh.wire_spacing), limits.beyond_space_at_least, limits.mesh_at_least
        numbers, at = words("{s} + {b}", s=space, b=beyond.value), Spot("the mesh", steel.mesh.place)
        asked, limit = max((space.si + beyond.value.si, beyond), (least.value.si, least), key=lambda pair: pair[0])
        given = "space of the wires + lap beyond it", numbers
        given = given if limit is beyond else ("least of any mesh", words("{l}", l=least.value))
        yield _judged(plan, at, steel.mesh.lap, limit, asked, given)


def _judged(
    plan: Plan, at: Spot, lap: Amount, limit: InForce, metres: float, given: tuple[str, Words]
) -> Finding | Margin:
    asked = depth(metres)
    if meets(lap.si, asked.si, "least"):
        return Margin(at, lap, limit, asked)
    write = round_up(asked, 0.01 if plan.system == "metric" else INCH)
    says = words("the laps of {mat} are so short that they pull out", mat=at.name)
    to_pass = words("lap {mat} {write}: {more} more", mat=at.name, write=write, more=depth(write.si - lap.si))
    return Finding(at, says, lap, limit, (step("least lap", *given, asked),), to_pass, asked)
