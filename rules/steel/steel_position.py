"""The steel lies in the upper half of the slab, or at its middle, with enough concrete over it.

What is compared
    Compares the depth of the middle of the mat below the top, which is the cover and one bar, with half the thickness
    and the 3/4 in by which steel in a slab may lie off its place. It then compares the cover with 3/4 in indoors, and
    in the weather with 1 1/2 in, or with 2 in over #6 and thicker bars; on metric plans, where covers are written to
    the half centimeter, 3 mm less are met. Saw cuts reach no deeper than the cover, give or take an eighth of an inch
    or 5 mm, unless the steel stops at them or is cut there by half. For the bars of a thickened edge, it compares the
    cover under those at the bottom with 3 in, on metric plans with 40 mm, and over insulation with the cover indoors;
    the cover over those at the top is judged as above.
Why it matters
    A slab that dries shrinks and curls, and that crack opens at the top, where it is widest: light steel in the upper
    half holds it shut. Under a wheel in the middle of a panel the bottom cracks first, but steel as light as this
    carries no wheels; the thickness does. On the base it does nothing for either. Too high, and the line of every bar
    shows as a crack and a rust stain.
When it does not apply
    There are no bars and no mesh, in the slab or along a thickened edge.
How to put it right
    Write the cover the chairs really give: thickness less chair, less both layers of bars. Chairs are sold by the
    quarter inch. The cover told here also clears the saw cuts that the steel runs through, and lets the stone pass.
    Where all of that cannot be had, thinner bars or a thicker slab are the way.
Where sources differ
    The dwelling code wants steel between the middle and the upper third while concrete is placed; a trade magazine at
    or above the middle; Army ribbed mats a quarter of the thickness below the top. In slabs up to 5 in many lay it
    right at the middle, which is sound: only beyond the placing tolerance it is held, and on metric plans, which have
    another code, it is a caution. General members have 3/8 in of tolerance, slabs on ground 3/4 in (quoted). The cover
    is that of structural concrete, good practice only in a slab on ground. Its 3 in under an edge is meant for concrete
    cast against earth; European and Australian practice takes 40 mm over a base that was made for it.
"""

from __future__ import annotations

import math
import re

from slabwright.formulas.thickness import PLACING_TOLERANCE
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Steel no lower than the middle, with cover"
LIMITS = (
    Limit("under_middle_at_most", "3/4 in", Kind.DEPTH, "hold", Cite("irc-r506-2009"), ("0 in", "2 in"),
          "how far the middle of the mat may lie under the middle of the slab"),
    Limit("metric_under_middle_at_most", "20 mm", Kind.DEPTH, "caution", Cite("aci-117-slab-steel"), ("0 mm", "50 mm"),
          "how far the middle of the mat may lie under the middle of the slab, where another code governs"),
    Limit("cover_outdoors_at_least", "1 1/2 in", Kind.DEPTH, "caution", Cite("aci-318-19", "Table 20.5.1.3.1"),
          ("1/2 in", "3 in"), "cover over bars to {#5|16 mm} and over mesh in the weather"),
    Limit("cover_thick_bars_at_least", "2 in", Kind.DEPTH, "caution", Cite("aci-318-19", "Table 20.5.1.3.1"),
          ("1/2 in", "3 in"), "cover over {#6|19 mm} and thicker bars in the weather"),
    Limit("cover_indoors_at_least", "3/4 in", Kind.DEPTH, "caution", Cite("aci-318-19", "Table 20.5.1.3.1"),
          ("1/4 in", "3 in"), "cover indoors"),
    Limit("cut_under_cover_at_most", "0 in", Kind.DEPTH, "caution", Cite("geometry"), ("0 in", "2 in"),
          "how far a cut reaches below the top of steel that runs through it"),
    Limit("cover_on_ground_at_least", "3 in", Kind.DEPTH, "caution", Cite("aci-318-19", "Table 20.5.1.3.1"),
          ("1 in", "4 in"), "cover under the bottom bars of an edge that is cast on the ground"),
    Limit("metric_cover_on_base_at_least", "40 mm", Kind.DEPTH, "caution", Cite("common-practice"),
          ("20 mm", "100 mm"), "cover under the bottom bars of an edge on a prepared base, where another code governs"),
)  # fmt: skip
THICK_BAR = 0.70 * INCH  # m: between #5 and #6
INSULATION = r"(?i)\b(EPS|XPS)|insul|styro|polystyr|foam glass|cellplast"
ROUND = 0.003  # m that a cover of a metric plan may lack: 35 mm are met for 1 1/2 in (common practice)
STONES = 3 / 4  # of the concrete over the steel, `stone-between-bars`


def middle(cover: float, diameter: float) -> float:
    """Depth in m below the top of the middle of a mat whose two layers cross: the cover and one bar, both in m."""
    return cover + diameter


def lowest(thickness: float, tolerance: float = PLACING_TOLERANCE) -> float:
    """Depth in m below the top down to which a mat laid at the middle of a slab may come to lie."""
    return thickness / 2 + tolerance


WORKED = (
    Worked("steel at the middle of a 4 in slab", depth(2.75 * INCH), lambda: lowest(4 * INCH), 1e-9,
           Cite("aci-117-slab-steel")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Middle and cover of each mat that has a cover."""
    mats, layers = plan.steel.mats, [layer for edge in plan.design.thickness.thickened_edges for layer in edge.bars]
    if not mats and not layers:
        does_not_apply("there are no bars and no mesh")
    if mats and not any(laid.mat.top_cover for laid in mats) and not any(layer.cover for layer in layers):
        plan.steel.asks_for(mats[0], "top_cover")
    if not mats and not any(layer.cover for layer in layers):
        not_shown("thickness.thickened_edges, bars, cover: concrete between the bars and the bottom of the edge, such "
                  "as {3 in|75 mm}", place=layers[0].place)  # fmt: skip
    for laid in mats:
        if laid.mat.top_cover:
            yield from _judged(plan, limits, laid, laid.mat.top_cover)
    for layer in layers:
        if layer.cover:
            yield _at_edge(plan, limits, layer, layer.cover)


def _over(plan: Plan, limits: Limits, bar: float, areas: Sequence[Area]) -> InForce:
    """The cover asked over steel."""
    if not any(map(plan.rained_on, areas)):
        return limits.cover_indoors_at_least
    return limits.cover_outdoors_at_least if meets(bar, THICK_BAR, "most") else limits.cover_thick_bars_at_least


def _below(plan: Plan, limits: Limits) -> InForce:
    """The cover asked under the bottom bars of an edge: by what it is cast on."""
    base, on_ground = plan.design.site.base, limits.cover_on_ground_at_least
    if base and re.search(INSULATION, base.material):
        return limits.cover_indoors_at_least
    prepared = plan.home == "metric" and on_ground.layer == "published"
    return limits.metric_cover_on_base_at_least if prepared else on_ground


def _at_edge(plan: Plan, limits: Limits, layer: EdgeBars, cover: Amount) -> Conclusion:
    """The cover of one layer of bars along a thickened edge, under it or over it."""
    over = _over(plan, limits, layer.size.diameter, plan.areas.all) if layer.at == "top" else _below(plan, limits)
    least, written = over.value, round_up(over.value, tape_step(plan))
    side = "over" if layer.at == "top" else "under"
    return compare(
        Spot(f"the {layer.at} bars of the edge", layer.place), cover, over,
        says=lambda: words(f"too little concrete lies {side} the {layer.at} bars of the edge"),
        working=lambda: step("short by", "cover asked - cover", words("{a} - {c}", a=least, c=cover),
                             depth(least.si - cover.si)),
        remedy=lambda: write(f"{layer.place.path}.cover", written,
                             words(f"lay the {layer.at} bars of the edge with {{written}} of cover", written=written)),
    )  # fmt: skip


def _judged(plan: Plan, limits: Limits, laid: Laid, cover: Amount) -> Conclusions:
    at, bar, through = Spot(laid.name, laid.mat.place), laid.diameter, laid.mat.at_joints != "stop"
    t, metric = depth(laid.thickness), plan.home == "metric"
    under = limits.metric_under_middle_at_most if metric else limits.under_middle_at_most
    over = _over(plan, limits, bar, laid.areas)
    least = over.value
    shown, deepest = depth(middle(cover.si, bar)), depth(lowest(t.si, under.value.si))

    def remedy(wanted: float) -> Remedy:
        high = max([least.si, *_stone(plan), *(_cuts(plan, laid) if through else [])])
        return _set(plan, laid, high, wanted, deepest.si - bar, (high + bar - under.value.si) * 2)

    yield compare(
        at, shown, under, asked=deepest,
        says=lambda: words("the middle of {mat} lies near the bottom of the slab, where it holds no crack shut",
                           mat=at.name),
        working=lambda: (
            step("middle below the top", "cover + one bar", words("{c} + {d}", c=cover, d=depth(bar)), shown),
            step("lowest", "thickness / 2 + tolerance", words("{t} / 2 + {u}", t=t, u=under.value), deepest),
        ),
        remedy=lambda: remedy(t.si / 2 - bar),
    )  # fmt: skip
    yield compare(
        at, cover, over, give=ROUND if metric else 0.0,
        says=lambda: words("too little concrete lies over {mat}", mat=at.name),
        working=lambda: step("short by", "cover asked - cover", words("{a} - {c}", a=least, c=cover),
                             depth(least.si - cover.si)),
        remedy=lambda: remedy(least.si),
    )  # fmt: skip
    if sawn := _cuts(plan, laid) if laid.mat.at_joints not in ("stop", "half through") else []:
        cut, reaches = depth(max(sawn)), depth(max(0.0, max(sawn) - cover.si))
        yield compare(
            at, reaches, limits.cut_under_cover_at_most, give=tape_step(plan),
            says=lambda: words("the saw goes {cut} deep and cuts into {mat}, {cover} below the top", cut=cut,
                               mat=at.name, cover=cover),
            working=lambda: step("too deep", "cut - cover", words("{k} - {c}", k=cut, c=cover), reaches),
            remedy=lambda: [remedy(cut.si), write(f"{laid.mat.place.path}.at_joints", "stop", words(
                "stop {mat} at the joints and write at_joints: stop", mat=at.name))],
        )  # fmt: skip


def _stone(plan: Plan) -> list[float]:
    """Cover under which the largest stone does not pass over the steel, m, where the stone is written."""
    stone = plan.design.mix.aggregate
    return [stone.si / STONES] if stone else []


def _cuts(plan: Plan, laid: Laid) -> list[float]:
    """How deep the cuts are that steel may run through, m."""
    sawn = [one for one in plan.joints.all if one.joint.depth and one.joint.kind.endswith("cut")]
    there = [one for one in sawn if not set(laid.areas).isdisjoint(plan.areas.along(one.line))]
    return [one.joint.depth.si for one in there if one.joint.depth]


def _set(plan: Plan, laid: Laid, high: float, wanted: float, low: float, thick: float) -> Remedy:
    """The cover to write, from ``high`` to ``low`` and no less than ``wanted`` if it can be, all in m.

    Where nothing lies between, the slab is made ``thick`` m.
    """
    fine, coarse = tape_step(plan), tape_step(plan, INCH / 4)
    path, set_it = f"{laid.mat.place.path}.top_cover", "set {mat} {write} below the top"
    cover = round_up(depth(high), fine)
    cover = cover if meets(cover.si, low, "most") else depth(high)
    if not meets(high, low, "most"):
        slab = round_up(depth(thick), coarse)
        says = words("make the slab {t} thick and " + set_it, t=slab, mat=laid.name, write=cover)
        return together(write(laid.thickness_path, slab, says), write(path, cover, says), says=says)
    cover = depth(max(cover.si, math.floor(wanted / fine + 1e-6) * fine))
    return write(path, cover, words(set_it, mat=laid.name, write=cover))
