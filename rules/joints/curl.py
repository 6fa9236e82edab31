"""Panels of a shop floor are short enough that their edges do not curl up under wheels and feet.

What is compared
    Compares how much each panel may curl with 2 1/2 times the curl of an 8 ft panel 4 in thick. Curl grows with the
    square of the spacing and falls with the thickness.
Why it matters
    Indoors the top dries and the bottom does not. The top shrinks, and every panel turns up at its edges like a slice
    of old bread. Hard wheels then bang over each joint and break its edges off, and a desk rocks beside it.
When it does not apply
    The slab is not a shop floor. Outdoors rain keeps the top wet again and again.
How to put it right
    Cut shorter panels, or make the slab thicker. Longer curing helps the first month and not the second year.
Where sources differ
    Articles say how curl grows, none says how much is too much. The 2 1/2 times are common practice, and a caution.
"""

from __future__ import annotations

import math

from slabwright.formulas.joints import curl_index, square_bays
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "Panels that lie flat"
LIMITS = (
    Limit("curl_at_most", "2.5", Kind.RATIO, "caution", Cite("common-practice"), ("1", "6"),
          "curl to expect, as a multiple of that of {8 ft|2.4 m} panels {4 in|100 mm} thick"),
)  # fmt: skip
WORKED = (
    Worked("8 ft panels of 4 in", ratio(1.0), lambda: curl_index(8 * FOOT, 4 * INCH), 1e-9,
           Cite("trade-articles-shrinkage"), "jt-curl-8ft-4in"),
    Worked("15 ft panels of 4 in", ratio(3.52), lambda: curl_index(15 * FOOT, 4 * INCH), 0.005,
           Cite("trade-articles-shrinkage"), "jt-curl-15ft-4in"),
    Worked("15 ft panels of 6 in", ratio(2.34), lambda: curl_index(15 * FOOT, 6 * INCH), 0.005,
           Cite("trade-articles-shrinkage"), "jt-curl-15ft-6in"),
)  # fmt: skip
USUAL = {"us": (length(8 * FOOT), depth(4 * INCH)), "metric": (length(2.4), depth(0.1))}  # the panel curl is told by


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The long side of each panel over the design thickness."""
    panels = [panel for panel in plan.panels.all if "shop floor" in panel.uses]
    if not panels:
        does_not_apply("the slab is not a shop floor")
    limit, (short, thin) = limits.curl_at_most, USUAL[plan.home]
    most = limit.value.si * curl_index(short.si, thin.si)
    longest = {panel.name: math.sqrt(most / curl_index(1.0, panel.drawn)) for panel in panels}
    every = {
        panel.name: square_bays(panel.long_side, panel.short_side, longest[panel.name])
        for panel in panels
        if not meets(panel.long_side, longest[panel.name], "most")
    }
    for panel in panels:
        side, t = length(panel.long_side), depth(panel.drawn)
        curl = ratio(curl_index(side.si, t.si) / curl_index(short.si, thin.si))
        yield compare(
            at := spot(panel), curl, limit,
            says=lambda: words("the edges of {panel} are likely to curl up", panel=at.name),
            working=lambda: step(
                "curl", "(side / usual side) squared x usual thickness / thickness",
                words("({s} / {b}) x ({s} / {b}) x {f} / {t}", s=side, t=t, b=short, f=thin), curl),
            remedy=lambda: cut_panel(
                plan, panel, square_bays(side.si, panel.short_side, longest[panel.name]), every),
        )  # fmt: skip
