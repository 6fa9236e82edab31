"""No panel lies half on dug ground and half on fill, or over a loose trench.

What is compared
    In each panel that is dug somewhere, the deepest fill under the base, with 3 in; and the depth of each trench under
    the slab that is not written as compacted, with nothing.
Why it matters
    Dug ground has carried its load for a thousand years and does not move. Fill settles, if only by a finger's breadth.
    The panel hangs over it, and breaks along the line where the one turns into the other, like a biscuit over an edge.
When it does not apply
    Neither the ground before digging nor a trench is given.
How to put it right
    Let the base go deeper, so that all of the panel is dug; or put a joint on the line. Open a loose trench and fill it
    back in thin layers, each compacted.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.units import INCH
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
    compared,
    does_not_apply,
    heights_not_shown,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, round_up

TITLE = "Panels on even ground"
LIMITS = (
    Limit("fill_beside_cut_at_most", "3 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "24 in"),
          "fill under a panel that is dug elsewhere"),
    Limit("loose_trench_at_most", "0 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "24 in"),
          "depth of a trench under the slab that is not written as compacted"),
)  # fmt: skip
WORKED = ()
DUG = 1 * INCH  # m of cut from which a panel counts as dug


def relevant(plan: Plan) -> Relevance:
    """The ground before digging is known, or a trench runs under the slab."""
    if plan.site.ground or any(plan.site.under(trench.along) for trench in plan.design.site.trenches):
        return APPLIES
    if len(plan.design.heights.existing) > 2 and plan.finish.surface is None:
        return heights_not_shown(plan)
    return does_not_apply("neither the ground before digging nor a trench under the slab is given")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The panel with the deepest fill beside a cut, and each trench."""
    if plan.site.ground:
        yield _panels(plan, limits)
    for number, trench in enumerate(plan.design.site.trenches, 1):
        if not plan.site.under(trench.along):
            continue
        name = trench.name or f"trench {number}"
        at = Spot(name, trench.place, tuple((point.x, point.y) for point in trench.along))
        over = plan.site.panels_over(trench.along)
        says = words("{name} runs under {panels}, and is not written as compacted", name=name,
                     panels=("panel " if len(over) == 1 else "panels ") + ", ".join(over))  # fmt: skip
        to_pass = words("fill {name} back in layers of {lift}, each compacted, and write compacted: true", name=name,
                        lift=depth(6 * INCH))  # fmt: skip
        loose = depth(0.0 if trench.compacted else trench.depth.si)
        yield compared(limits, ("loose_trench_at_most",), at, loose, says, to_pass)


def _panels(plan: Plan, limits: Limits) -> Finding | Margin:
    ground, most = plan.site.ground, limits.fill_beside_cut_at_most.value.si
    assert ground is not None
    pairs = zip(ground.panel_fills, ground.panel_cuts, strict=True)
    mixed = [(fill, number) for number, (fill, cut) in enumerate(pairs) if cut > DUG and fill > 0]
    fill, number = max(mixed, default=(0.0, 0))
    panel, shown = plan.panels.all[number], depth(fill)
    base = plan.design.site.base
    off = round_up(depth(fill - most), 0.005 if plan.system == "metric" else INCH / 8)
    thick = depth((base.thickness.si if base and base.thickness else 0.0) + off.si)
    others = sum(deep > most for deep, _ in mixed) - 1
    says = "{panel} lies on dug ground at one end and on {d} of fill at the other"
    if others > 0:
        says += f", and so {'does one more' if others == 1 else f'do {others} more'}"
    working = step("too deep", "fill beside a cut - limit", words("{d} - {a}", d=shown, a=depth(most)),
                   depth(fill - most))  # fmt: skip
    to_pass = words("make the base {thick} thick: {off} more, and dig for it; or put a joint where the dug ground ends",
                    thick=thick, off=off)  # fmt: skip
    at = spot(panel)
    said = words(says, panel=at.name, d=shown)
    return compared(limits, ("fill_beside_cut_at_most",), at, shown, said, to_pass, (working,))
