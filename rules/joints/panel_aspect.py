"""Panels are close to square: the long side at most one and a half times the short one.

What is compared
    Divides the long side of each panel's smallest rectangle by its short side: over 1.5 is a caution, and over 2 a
    hold; where the panel is no longer than 24 times its thickness a note and a caution. In walks up to 4 ft wide over 2
    is a caution, and 1.5 to 2 a note where the bays are 5 ft or less. In ribbons up to 2 ft wide, such as two tracks
    for wheels, only over 2 counts. A gutter up to 4 ft wide along a street or curb is left alone where its bays are
    10 ft or less. A panel that misses 1.5 by a twentieth is met.
Why it matters
    A panel shrinks along its length as if the width were not there. A strip pulls itself apart across the middle and
    leaves two panels near square: the crack that the layout left out. Porches and walks beside a house show it first,
    one ragged line across each long bay.
When it does not apply
    A stoop or the pad of a machine no longer than 6 ft is poured whole; a panel under a flight of steps is their bed.
    Elsewhere it applies to every slab: one without joints is one panel.
How to put it right
    Cut the panel across its long side into equal bays, each as near to square as it goes, or move the joints on either
    side of it apart.
Where sources differ
    Army floors and parking keep 1.25, floors and slabs on ground 1.5, plain highway pavement 2. Here 1.5, the text for
    slabs on ground, is the caution and 2, the loosest published, the hold. That a panel as short as the closest spacing
    asks may be long for its width, as in the strip of an apron, is common practice. Walks are jointed every 5 ft
    whatever their width (public works), and crack little in such short bays; that narrow ones may is common practice.
"""

from __future__ import annotations

from slabwright.formulas.joints import LEAST_MULTIPLE, panel_ratio, parking_spacing, square_bays
from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "Panels close to square"
LIMITS = (
    Limit("aspect_at_most", "2", Kind.RATIO, "hold", Cite("highway-handbook"), ("1.1", "4"),
          "long side over short side of a panel"),
    Limit("preferred_aspect_at_most", "1.5", Kind.RATIO, "caution", Cite("aci-360r-06"), ("1.1", "3"),
          "long side over short side of a panel that is likely to stay whole"),
    Limit("short_preferred_aspect_at_most", "1.5", Kind.RATIO, "note", Cite("aci-360r-06"), ("1.1", "3"),
          "long side over short side of a panel no longer than 24 times its thickness"),
    Limit("short_aspect_at_most", "2", Kind.RATIO, "caution", Cite("highway-handbook"), ("1.1", "4"),
          "long side over short side of a strip no longer than 24 times its thickness"),
    Limit("narrow_aspect_at_most", "2", Kind.RATIO, "caution", Cite("highway-handbook"), ("1.1", "4"),
          "long side over short side of a panel up to {4 ft|1.2 m} wide in a walk, or of a narrow strip"),
    Limit("narrow_preferred_aspect_at_most", "1.5", Kind.RATIO, "note", Cite("aci-360r-06"), ("1.1", "3"),
          "long side over short side of a panel up to {4 ft|1.2 m} wide in a walk, up to {5 ft|1.5 m} long"),
)  # fmt: skip
HARDLY = 0.05  # share by which a panel may miss 1.5: joints go by doors and corners (common practice)
NARROW = 4 * FOOT  # m, to which a walk is narrow
RIBBON = 2 * FOOT  # m, to which a strip is a ribbon that wheels run on
SMALL_PAD = 10 * FOOT  # m, to which nobody cuts a pad that one mat of steel holds together (common practice)
GUTTER_BAY = 10 * FOOT  # m, between the cuts of curbs and gutters (common practice)
AT_VALLEY = 0.01  # m
POURED_WHOLE = 6 * FOOT  # m, to which nobody cuts a stoop or the pad of a machine (common practice)
USUAL_BAY = 5 * FOOT  # m, between the joints of a walk, `ufgs-03300n` par. 3.8.3
WORKED = (
    Worked("porch 25 ft x 4 ft without joints", ratio(6.25), lambda: panel_ratio(25 * 0.3048, 4 * 0.3048), 1e-6,
           Cite("common-practice"), "jt-panel-ratio"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The aspect of each panel."""
    one = plan.areas.uses == ("equipment pad",) or (plan.areas.uses == ("patio",) and len(plan.panels.all) == 1)
    if one and all(meets(panel.long_side, POURED_WHOLE, "most") for panel in plan.panels.all):
        does_not_apply("a slab so small is poured whole")
    every = {
        panel.name: _bays(panel, _limits(plan, panel, limits), parking_spacing(panel.drawn))
        for panel in plan.panels.all
        if any(not limit.met(panel.aspect) for limit in _limits(plan, panel, limits)) and not _gutter(plan, panel)
    }
    panels = [one for one in plan.panels.all if not plan.flights.covers(one.polygon) and not _gutter(plan, one)]
    if not panels:
        does_not_apply("all of it is a flight of steps or a gutter")
    for panel in panels:
        long, short = length(panel.long_side), length(panel.short_side)
        aspect = ratio(panel_ratio(long.si, short.si))
        asked = _limits(plan, panel, limits)
        loose, usual = max(limit.value.si for limit in asked), min(limit.value.si for limit in asked)
        yield compare(
            at := spot(panel), aspect, *asked, give=HARDLY * usual if usual < loose and aspect.si < loose else 0.0,
            says=lambda: words("{panel} is a long strip", panel=at.name),
            working=lambda: step("aspect", "long side / short side", words("{l} / {s}", l=long, s=short), aspect),
            remedy=lambda: [*cut_at_corners(plan, panel), cut_panel(plan, panel, every[panel.name], every),
                            *evened(plan, panel)],
        )  # fmt: skip


def _gutter(plan: Plan, panel: Panel) -> bool:
    """Whether a panel is a bay of a gutter along a road: a valley runs along it, and it is cut as curbs are."""
    valleys = [line for line in plan.finish.lines if line.line.kind == "valley"]
    if not (meets(panel.short_side, NARROW, "most") and meets(panel.long_side, GUTTER_BAY, "most")):
        return False
    beside = {piece.beside for corner in panel.corners for piece in plan.edges.at(corner.at)}
    return bool(beside & {"street", "curb"}) and any(
        sum(nearest_on(line.xy, corner.at)[0] < AT_VALLEY for corner in panel.corners) > 1 for line in valleys
    )


def _bays(panel: Panel, asked: Sequence[InForce], longest: float) -> tuple[int, int]:
    squarest = min(limit.value.si for limit in asked)
    run, wide = as_laid(panel)
    found = square_bays(run, wide, max(longest, wide), squarest)
    return found if found != (1, 1) else (2, 1)  # one that bends, near square along its middle and no rectangle


def _limits(plan: Plan, panel: Panel, limits: Limits) -> tuple[InForce, ...]:
    """The limits that hold for a panel, the strictest last."""
    if len(plan.panels.all) == 1 and plan.design.reinforcement and meets(panel.long_side, SMALL_PAD, "most"):
        return (limits.aspect_at_most,)
    if meets(panel.short_side, RIBBON, "most") and panel.uses != {"walk"}:
        return (limits.narrow_aspect_at_most,)
    if panel.uses != {"walk"} or not meets(panel.short_side, NARROW, "most"):
        if meets(panel.long_side, LEAST_MULTIPLE * panel.drawn, "most"):
            return limits.short_aspect_at_most, limits.short_preferred_aspect_at_most
        return limits.aspect_at_most, limits.preferred_aspect_at_most
    if meets(panel.long_side, USUAL_BAY, "most"):
        return limits.narrow_aspect_at_most, limits.narrow_preferred_aspect_at_most
    return limits.narrow_aspect_at_most, limits.preferred_aspect_at_most
