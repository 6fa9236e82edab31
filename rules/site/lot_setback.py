"""The slab stays on its lot, and as far from the lines as the town asks.

What is compared
    Compares how far the slab reaches over each lot line with nothing; its distance to side and rear lines with 5 ft;
    and its distance to a street side and the front with 15 ft. A drive, a walk or a pad for vehicles may reach the
    lines, and cross the front and the street side.
Why it matters
    Concrete on the neighbor's side of the line is taken out at the contractor's cost, years later if need be. Inside
    the setback the permit is refused, or given on paper only.
When it does not apply
    No line of the lot is written.
How to put it right
    Find the pins, not the fence, and string the line before forming. Draw the slab back, or ask the town for a variance
    before the pour.
Where sources differ
    One town's page for patios has 5 and 15 ft; another asks about 4 ft so that water stays on the lot. These are
    cautious defaults for a plan on the desk: the town's own figures come by local amendments.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Inside the lines of the lot"
LIMITS = (
    Limit("over_at_most", "0 in", Kind.LENGTH, "hold", Cite("common-practice"), ("0 in", "10 ft"),
          "how far the slab reaches over a lot line"),
    Limit("side_at_least", "5 ft", Kind.LENGTH, "caution", Cite("rosemount-mn"), ("0 ft", "50 ft"),
          "distance to a side or rear line"),
    Limit("street_side_at_least", "15 ft", Kind.LENGTH, "caution", Cite("rosemount-mn"), ("0 ft", "100 ft"),
          "distance to a street side or the front line"),
)  # fmt: skip
WORKED = ()
MAY_REACH, STREETS = ("driveway", "walk", "vehicle pad"), ("street side", "front")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each line: over it, then near it."""
    lot = plan.design.site.lot
    crossed = [line.kind in STREETS for line in lot.lines] if lot else []
    if lot is None or not lot.lines:
        does_not_apply("no line of the lot is written (site.lot.lines)")
    if all(crossed) and all(_reaches(plan, line.along) for line in lot.lines):
        does_not_apply("a drive or a walk may cross the front and the street side")
    for number, line in enumerate(lot.lines, 1):
        reaches = _reaches(plan, line.along)
        name, street = line.name or f"{line.kind} line {number}", line.kind in STREETS
        at = Spot(name, line.place, tuple((point.x, point.y) for point in line.along))
        over, away = length(plan.site.over(line.along)), length(plan.site.away(line.along))
        limit = limits.street_side_at_least if street else limits.side_at_least
        off, behind = length(limit.value.si - away.si), length(over.si + limit.value.si)
        if not (reaches and street):
            yield compare(
                at, over, limits.over_at_most,
                says=lambda: words("the slab reaches {over} over {line}", over=over, line=name),
                decide=lambda: words("draw the slab back {back}, behind {line}", back=over, line=name) if reaches else
                words("draw the slab back {back}, to {to} behind {line}", back=behind, to=limit.value, line=name),
            )  # fmt: skip
        if not reaches and meets(over.si, INCH / 100, "most"):
            yield compare(
                at, away, limit,
                says=lambda: words("the slab comes within {away} of {line}", away=away, line=name),
                working=lambda: step("short by", "asked - distance", words("{a} - {d}", a=limit.value, d=away), off),
                decide=lambda: words("keep the slab {write} from {line}: {off} more", write=limit.value, line=name,
                                     off=off),
            )  # fmt: skip


def _reaches(plan: Plan, line: Sequence[Point]) -> bool:
    """Whether what lies at a line of the lot is a drive or a walk, which may cross the street side."""
    return all(area.use in MAY_REACH for area in plan.areas.along([(point.x, point.y) for point in line]))
