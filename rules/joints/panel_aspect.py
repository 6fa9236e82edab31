"""Panels are close to square: the long side at most one and a half times the short one.

What is compared
    The long side of each panel's smallest rectangle, divided by its short side.
Why it matters
    A panel shrinks along its length as if the width were not there. A strip pulls itself apart across the middle
    and leaves two panels near square: the crack that the layout left out. Porches and walks beside a house show it
    first, one ragged line across each long bay.
When it does not apply
    It always does: a slab without joints is one panel.
How to put it right
    Cut the panel across its long side into equal bays, each as near to square as it goes, or move the joints on either
    side of it apart.
Where sources differ
    1.25 (Army floors, parking), 1.5 (floors and slabs on ground), 2 (plain highway pavement). Here 1.5, the text for
    slabs on ground, is the caution and 2, the loosest published, the hold.
"""

from __future__ import annotations

import itertools

from slabwright.formulas.joints import panel_ratio
from slabwright.rulebook.kit import *

TITLE = "Panels close to square"
LIMITS = (
    Limit("aspect_at_most", "2", Kind.RATIO, "hold", Cite("highway-handbook"), ("1.1", "4"),
          "long side over short side of a panel"),
    Limit("preferred_aspect_at_most", "1.5", Kind.RATIO, "caution", Cite("aci-360r-06"), ("1.1", "3"),
          "long side over short side of a panel that is likely to stay whole"),
)  # fmt: skip
WORKED = (
    Worked("porch 25 ft x 4 ft without joints", ratio(6.25), lambda: panel_ratio(25 * 0.3048, 4 * 0.3048), 1e-6,
           Cite("common-practice"), "jt-panel-ratio"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The aspect of each panel."""
    strictest = min(limits.values(), key=lambda limit: limit.value.si)
    for panel in plan.panels.all:
        long, short = length(panel.long_side), length(panel.short_side)
        aspect = ratio(panel_ratio(long.si, short.si))
        yield compare(
            at := spot(panel), aspect, *limits.values(),
            says=lambda: words("{panel} is a long strip", panel=at.name),
            working=lambda: step("aspect", "long side / short side", words("{l} / {s}", l=long, s=short), aspect),
            remedy=lambda: _cut(plan, panel, aspect.si, strictest.value.si),
        )  # fmt: skip


def _cut(plan: Plan, panel: Panel, aspect: float, most: float) -> Remedy:
    """Fewest bays along and across a panel that are all within ``most`` (over 1, so that there always are some)."""
    tried = ((max(1, round(aspect * m)), m) for m in itertools.count(1))
    n, m = next((n, m) for n, m in tried if max(aspect * m / n, n / (aspect * m)) <= most)
    return cut_panel(plan, panel, n, m)
