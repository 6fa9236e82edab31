"""No panel lies half on dug ground and half on fill, or over a loose trench.

What is compared
    In each panel that is dug somewhere, compares the deepest fill under the base with 3 in. It also looks at each
    trench under the slab: one that is not written as compacted falls short, however shallow it is.
Why it matters
    Dug ground has carried its load for a thousand years and does not move. Fill settles, if only by a finger's breadth.
    The panel hangs over it, and breaks along the line where the one turns into the other, like a cookie over an edge.
When it does not apply
    Neither the ground before digging nor a trench is given.
How to put it right
    Let the base go deeper, so that all of the panel is dug; or put a joint on the line. Open a loose trench and fill it
    back in thin layers, each compacted.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Panels on even ground"
LIMITS = (
    Limit("fill_beside_cut_at_most", "3 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "24 in"),
          "fill under a panel that is dug elsewhere"),
    Limit("loose_trench_at_most", "0 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "24 in"),
          "depth of a trench under the slab that is not written as compacted"),
)  # fmt: skip
LIFT = {"us": 6 * INCH, "metric": 0.15}  # m: layers that a plate compacts through (common practice)
WORKED = ()
DUG = 1 * INCH  # m of cut from which a panel counts as dug


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The panel with the deepest fill beside a cut, and each trench."""
    trenches = [
        (trench.name or f"trench {number}", trench)
        for number, trench in enumerate(plan.design.site.trenches, 1)
        if plan.site.under(trench.along)
    ]
    if plan.site.ground is None and not trenches:
        if len(plan.design.heights.existing) > 2:
            needs_heights(plan)
        does_not_apply("neither the ground before digging nor a trench under the slab is given")
    if ground := plan.site.ground:
        panels = list(zip(ground.panel_fills, ground.panel_cuts, strict=True))
        yield _panels(plan, panels, limits.fill_beside_cut_at_most)
    for name, trench in trenches:
        over = plan.site.panels_over(trench.along)
        yield compare(
            Spot(name, trench.place, tuple((point.x, point.y) for point in trench.along)),
            depth(0.0 if trench.compacted else trench.depth.si), limits.loose_trench_at_most,
            says=lambda: words("{name} runs under {panels}, and is not written as compacted", name=name,
                               panels=("panel " if len(over) == 1 else "panels ") + ", ".join(over)),
            remedy=lambda: write(f"{trench.place.path}.compacted", "true",
                                 words("fill {name} back in layers of {lift}, each compacted, and write "
                                       "compacted: true", name=name, lift=depth(LIFT[plan.home]))),
        )  # fmt: skip


def _panels(plan: Plan, panels: list[tuple[float, float]], limit: InForce) -> Conclusion:
    """The deepest fill of ``panels`` (the deepest fill and cut in m of each) that are dug somewhere."""
    most = limit.value.si
    mixed = [(fill, number) for number, (fill, cut) in enumerate(panels) if not meets(cut, DUG, "most") and fill > 0]
    fill, number = max(mixed, default=(0.0, 0))
    shown, at = depth(fill), spot(plan.panels.all[number])
    others = sum(not limit.met(deep) for deep, _ in mixed) - 1
    says = "{panel} lies on dug ground at one end and on {d} of fill at the other"
    if others > 0:
        says += f", and so {'does one more' if others == 1 else f'do {others} more'}"

    def thicker() -> Remedy:
        base = plan.design.site.base
        off = round_up(depth(fill - most), tape_step(plan))
        thick = depth((base.thickness.si if base and base.thickness else 0.0) + off.si)
        return write("site.base.thickness", thick,
                     words("make the base {thick} thick: {off} more, and dig for it; or put a joint where the dug "
                           "ground ends", thick=thick, off=off))  # fmt: skip

    return compare(
        at, shown, limit,
        says=lambda: words(says, panel=at.name, d=shown),
        working=lambda: step("too deep", "fill beside a cut - limit", words("{d} - {a}", d=shown, a=depth(most)),
                             depth(fill - most)),
        remedy=thicker,
    )  # fmt: skip
