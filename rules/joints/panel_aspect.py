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
from collections.abc import Iterator
from operator import itemgetter

from slabwright.formulas.joints import panel_ratio
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Plan,
    Relevance,
    Worked,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Amount, Kind, count, length, ratio

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


def relevant(plan: Plan) -> Relevance:
    """Every slab has at least one panel."""
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The aspect of each panel."""
    lightest = min(limits.values(), key=lambda limit: limit.value.si)
    ratios = [(panel_ratio(panel.long_side, panel.short_side), panel) for panel in plan.panels.all]
    longest = max((pair for pair in ratios if lightest.met(pair[0])), key=itemgetter(0), default=None)
    if longest is not None:
        yield Margin(spot(longest[1]), ratio(longest[0]), lightest)
    for share, panel in ratios:
        limit = limits.broken(share, "aspect_at_most", "preferred_aspect_at_most")
        if limit is None:
            continue
        at, long, short, aspect = spot(panel), panel.long_side, panel.short_side, ratio(share)
        n, m = _bays(aspect.si, lightest.value.si)
        bay, width = length(long / n), length(short / m)
        to_pass = words("cut it across its long side into {n} bays of {bay}", n=count(n), bay=bay)
        if m > 1:
            to_pass = words(
                "cut it into {n} by {m} bays of {bay} by {width}", n=count(n), m=count(m), bay=bay, width=width
            )
        sides = words("{long} / {short}", long=length(long), short=length(short))
        after = words("{longer} / {shorter}", longer=max(bay, width, key=_si), shorter=min(bay, width, key=_si))
        yield Finding(
            at=at,
            says=words("{panel} is a long strip", panel=at.name),
            shown=aspect,
            limit=limit,
            working=(
                step("aspect", "long side / short side", sides, aspect),
                step("aspect of each bay", "longer side / shorter side", after, ratio(panel_ratio(bay.si, width.si))),
            ),
            to_pass=to_pass,
        )


def _si(side: Amount) -> float:
    return side.si


def _bays(aspect: float, most: float) -> tuple[int, int]:
    """Fewest bays along and across a panel that are all within ``most`` (over 1, so that there always are some)."""
    tried = ((max(1, round(aspect * m)), m) for m in itertools.count(1))
    return next((n, m) for n, m in tried if max(aspect * m / n, n / (aspect * m)) <= most)
