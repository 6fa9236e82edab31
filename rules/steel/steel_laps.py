"""Where one bar or sheet ends and the next goes on, they lap far enough to act as one.

What is compared
    Compares the lap of bars with 40 bar diameters, and with the class B lap of the structural code for their steel and
    concrete; concrete whose strength is not written is taken at 3,000 psi, steel at 60,000 psi, of bars by their
    diameter in mm at 500 MPa, of 10M and its like at 400 MPa. Compares the lap of sheets with one space of their wires,
    plain ones never with less than 6 in; that of plain sheets with one space and 2 in (50 mm) besides, of Australian
    ones with one space and 25 mm, which is a note. Bars of a thickened edge are compared as the bars of the slab are,
    apart from them.
Why it matters
    A lap that is too short pulls out. The slab then cracks along the row of laps, straight across, and at that crack
    there might as well be no steel.
When it does not apply
    There are no bars and no mesh, in the slab or along a thickened edge.
How to put it right
    Lap further, and stagger the laps so that they do not make a line. Sheets lap whole squares: count the wires.
Where sources differ
    Under 40 diameters every table agrees that the lap is short: a caution. A class B lap of Grade 60 comes to 57
    diameters in 3,000 psi and 49 in 4,000 psi, the dwelling table for walls to 60; neither is a requirement for a slab
    on ground, so up to there it is a note, and an inch may lack, as tolerances for bars let it (recalled).
    Tables that print 30 diameters are for bars that are pressed together. The lap of plain sheets is recalled from the
    American code, for steel that is worked to its full strength, and printed in New Zealand's; crews lap one square,
    and in a slab on ground that is common practice. Australian makers let the two outer wires of both sheets lie past
    each other, which they print as 225 mm.
"""

from __future__ import annotations

from slabwright.formulas.steel import class_b_lap, mesh_lap, usual_yield
from slabwright.formulas.units import INCH, PSI
from slabwright.rulebook.kit import *

TITLE = "Laps long enough"
LIMITS = (
    Limit("diameters_at_least", "40", Kind.RATIO, "caution", Cite("irc-r608.5.4"), ("20", "100"),
          "lap of bars, in bar diameters"),
    Limit("part_of_class_b_at_least", "1", Kind.RATIO, "note", Cite("aci-318-14-laps"), ("1/2", "2"),
          "lap of bars, as part of the class B lap"),
    Limit("spaces_at_least", "1", Kind.RATIO, "caution", Cite("common-practice"), ("1/2", "3"),
          "lap of sheets, in spaces of their wires"),
    Limit("beyond_space_at_least", "2 in", Kind.DEPTH, "note", Cite("aci-318-mesh-lap", "sec. 25.5.4"),
          ("0 in", "6 in"), "lap of plain sheets, over one space of their wires"),
    Limit("beyond_australian_space_at_least", "25 mm", Kind.DEPTH, "note", Cite("supplier-practice"),
          ("0 mm", "150 mm"), "lap of Australian sheets, over one space of their wires"),
    Limit("mesh_at_least", "6 in", Kind.DEPTH, "caution", Cite("aci-318-mesh-lap", "sec. 25.5.4"), ("2 in", "24 in"),
          "lap of any plain sheet"),
)  # fmt: skip
KSI = 1000 * PSI  # Pa
USUAL_CONCRETE = 3 * KSI  # Pa, where the file names none
LAID = INCH  # m: how much a lap may come out short, as tolerances for bars let it (recalled, not checked)
THICKEST = 0.795 * INCH  # m, up to #6 and 20 mm; thicker bars are held against their diameters alone
WORKED = (
    Worked("#4 of Grade 60 in 3,000 psi", depth(29 * INCH), lambda: class_b_lap(0.5 * INCH, 60 * KSI, 3000 * PSI),
           0.6 * INCH, Cite("aci-318-14-laps")),
    Worked("#5 of Grade 60 in 4,000 psi", depth(31 * INCH), lambda: class_b_lap(0.625 * INCH, 60 * KSI, 4000 * PSI),
           0.6 * INCH, Cite("aci-318-14-laps")),
    Worked("6x6 mesh", depth(8 * INCH), lambda: mesh_lap(6 * INCH), 1e-9, Cite("aci-318-mesh-lap")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The lap of each mat that has one."""
    mats = list({id(laid.mat): laid for laid in reversed(plan.steel.mats)}.values())[::-1]
    layers = [layer for edge in plan.design.thickness.thickened_edges for layer in edge.bars]
    if not mats and not layers:
        does_not_apply("there are no bars and no mesh")
    if mats and not any(laid.mat.lap for laid in mats) and not any(layer.lap for layer in layers):
        plan.steel.asks_for(mats[0], "lap")
    if not mats and not any(layer.lap for layer in layers):
        not_shown("thickness.thickened_edges, bars, lap: over what length one bar lies beside the next, such as "
                  "{30 in|750 mm}", place=layers[0].place)  # fmt: skip
    for laid in mats:
        if isinstance(laid.mat, Bars) and laid.mat.lap:
            yield _bars(plan, limits, laid.mat, laid.mat.lap, laid.name)
        elif isinstance(laid.mat, Mesh) and laid.mat.lap:
            yield _mesh(plan, limits, laid.mat, laid.mat.lap, laid.name)
    for layer in layers:
        if layer.lap:
            yield _bars(plan, limits, layer, layer.lap, f"the {layer.at} bars of the edge")


def _bars(plan: Plan, limits: Limits, bars: Bars | EdgeBars, lap: Amount, name: str) -> Conclusion:
    """40 diameters, then the class B lap."""
    by_size, by_code, bar = limits.diameters_at_least, limits.part_of_class_b_at_least, depth(bars.size.diameter)
    grade = bars.yield_strength if isinstance(bars, Bars) else None
    steel = _held(grade or stress(usual_yield(bars.size.name)), 40 * KSI)
    concrete = _held(plan.design.mix.strength or stress(USUAL_CONCRETE), 2.5 * KSI)
    least = depth(by_size.value.si * bar.si)
    full = depth(by_code.value.si * class_b_lap(min(bar.si, THICKEST), steel.si, concrete.si))
    by_form = meets(bar.si, THICKEST, "most")
    longest = depth(max(least.si, full.si) if by_form else least.si)
    if by_form and meets(lap.si + _give(plan), least.si, "least"):
        numbers = words("{d} of {fy} in {f}", d=bar, fy=steel, f=concrete)
        return _judged(
            plan,
            lap,
            by_code,
            Spot(name, bars.place),
            longest,
            step(
                "class B lap",
                "{1.3 fy d / (25 root f'c), psi and in|1.3 fy d / (2.08 root f'c), MPa and mm}",
                numbers,
                full,
            ),
        )
    return _judged(
        plan,
        lap,
        by_size,
        Spot(name, bars.place),
        longest,
        step("least lap", "bar diameters x diameter", words("{n} x {d}", n=by_size.value, d=bar), least),
    )


def _held(strength: Amount, least: float) -> Amount:
    """A strength within what the code's form holds for: from ``least``, Pa, to 80,000 psi, which no concrete has."""
    held = min(max(strength.si, least), 80 * KSI)
    return strength if held == strength.si else stress(held)


def _mesh(plan: Plan, limits: Limits, mesh: Mesh, lap: Amount, name: str) -> Conclusion:
    """One space of the wires and something beyond it, by the kind of sheet."""
    beyond = (
        limits.beyond_australian_space_at_least if mesh.style.startswith(("SL", "RL")) else limits.beyond_space_at_least
    )
    space, least, at = depth(mesh.cross_spacing), limits.mesh_at_least, Spot(name, mesh.place)
    asked, squares = depth(space.si + beyond.value.si), limits.spaces_at_least
    one = depth(squares.value.si * space.si)
    if meets(one.si, least.value.si, "least") and not meets(lap.si + _give(plan), one.si, "least"):
        whole = step("least lap", "spaces x space of the wires", words("{n} x {s}", n=squares.value, s=space), one)
        return _judged(plan, lap, squares, at, depth(max(asked.si, one.si)), whole)
    if meets(asked.si, least.value.si, "least"):
        return _judged(
            plan,
            lap,
            beyond,
            at,
            asked,
            step("least lap", "space of the wires + lap beyond it", words("{s} + {b}", s=space, b=beyond.value), asked),
        )
    asked = depth(least.value.si)
    return _judged(
        plan, lap, least, at, asked, step("least lap", "least of any sheet", words("{l}", l=least.value), asked)
    )


def _judged(plan: Plan, lap: Amount, limit: InForce, at: Spot, enough: Amount, asked: Step) -> Conclusion:
    to = round_up(depth(enough.si - _give(plan)), tape_step(plan, INCH, 0.01))
    return compare(
        at, lap, limit, asked=asked.result,
        give=max(_give(plan), LAID) if limit.name == "part_of_class_b_at_least" else _give(plan),
        says=lambda: words("the laps of {mat} are so short that they pull out" if limit.weight != "note" else
                           "the laps of {mat} are shorter than a full lap", mat=at.name),
        working=lambda: asked,
        remedy=lambda: write(f"{at.place.path}.lap", to, words(
            "lap {mat} {write}: {more} more", mat=at.name, write=to, more=depth(to.si - lap.si))),
    )  # fmt: skip


def _give(plan: Plan) -> float:
    return 0.0 if plan.home == "us" else tape_step(plan)
