"""A walk has a joint about every 5 ft, so that its panels are about as long as it is wide.

What is compared
    Compares the long side of each panel of a walk with 5 ft; in a curve, the length of the panel along its middle.
    Panels about as wide as that or wider which are close to square are left alone: there the width is the spacing. So
    are bays that lie across a wide walk, up to one and a half times as wide as long: their joints are nearer still. And
    so are panels that vehicles cross, and those of 6 in and more, as a drive crossing has them: they are jointed like
    a drive.
Why it matters
    A walk is thin, narrow and lies on the poorest base of the job. Left in long strips it breaks across wherever a
    root or a soft spot lifts or drops it, and every break is a trip. Short squares tilt a little and stay whole.
When it does not apply
    The slab is not a walk, or steps stand on all of the panel.
How to put it right
    Tool a joint every 5 ft, or nearer: in a narrow walk at most one and a half times as far apart as it is wide. The
    school of thought that saws walks like drives saves joints and buys cracks.
Where sources differ
    A guide specification for public works asks 5 ft; some cities ask the width of the walk; the 24 to 36 thicknesses
    of other slabs would let a 4 in walk have 8 to 12 ft. In the public right of way it is a caution, elsewhere a note.
    A town that sets its own spacing goes into an amendment.
"""

from __future__ import annotations

from slabwright.formulas.joints import square_bays
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Walks in short squares"
LIMITS = (
    Limit("public_side_at_most", "5 ft", Kind.LENGTH, "caution", Cite("ufgs-03300n", "par. 3.8.3"), ("3 ft", "12 ft"),
          "longest side of a panel of a walk in the public right of way"),
    Limit("side_at_most", "5 ft", Kind.LENGTH, "note", Cite("ufgs-03300n", "par. 3.8.3"), ("3 ft", "12 ft"),
          "longest side of a panel of any other walk"),
)  # fmt: skip
WORKED = ()
WIDE = 0.9  # of the longest side: about as wide (common practice)
CROSSING = 6 * INCH  # m: a walk so thick carries vehicles (common practice)
ACROSS = 1.5  # as `panel-aspect` lets a bay be wide; one that is wider wants a joint along the walk
SQUARE = 1.25  # long over short side: still close to square (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The long side of each panel."""
    walks = [panel for panel in plan.panels.all if panel.uses == {"walk"} and not plan.flights.covers(panel.polygon)]
    panels = [panel for panel in walks if not _driven_over(plan, panel)]
    if not panels:
        does_not_apply("vehicles cross all of the walk" if walks else "the slab is not a walk")
    limit = limits.public_side_at_most if plan.design.site.right_of_way else limits.side_at_most
    for panel in panels:
        (run, width), most = as_laid(panel), limit.value.si
        across = meets(panel.aspect, ACROSS, "most") and plan.panels.lies_across(panel)
        square = not meets(panel.short_side, WIDE * most, "most") and meets(panel.aspect, SQUARE, "most")
        side = length(width if across else run)
        n, m = square_bays(run, width, max(most, width))
        yield compare(
            at := spot(panel), side, limit, asked=length(max(side.si, most) if square or across else most),
            says=lambda: words("{panel} is long for a walk", panel=at.name),
            working=lambda: step("each bay", "side / bays", words("{side} / {n}", side=side, n=count(n)),
                                 length(side.si / n)),
            remedy=lambda: [*cut_at_corners(plan, panel), cut_panel(plan, panel, (n, m))],
        )  # fmt: skip


def _driven_over(plan: Plan, panel: Panel) -> bool:
    """Whether vehicles cross a panel: over one of its edges, as the file says, or by its thickness."""
    crossed = (piece for piece in plan.edges.pieces if piece.edge and piece.edge.wheels_cross)
    over = any(sum(piece in plan.edges.at(corner.at) for corner in panel.corners) > 1 for piece in crossed)
    return over or meets(panel.drawn, CROSSING, "least")
