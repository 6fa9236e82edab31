"""No panel is longer than its thickness can hold together without a crack of its own.

What is compared
    Compares the long side of every panel with a multiple of the thickness drawn. More than 36 times, or more than 15 ft
    outdoors and 18 ft indoors, is a hold; on metric plans more than 36 times or more than 6 m is a caution, and more
    than 50 times a hold. More than 30 times is a note; with stone under 3/4 in, more than 24 times is a note as well;
    on metric plans a twentieth more passes. Where a panel holds parts of different thickness, the thinnest counts.
Why it matters
    Concrete shrinks about 3/4 in in 100 ft as it dries, and the ground holds it back. When the pull between two
    joints is more than the slab can bear, it makes a joint where it likes: two years later a crack wanders from
    edge to edge, halfway between the straight lines.
When it does not apply
    It applies to every slab: one without joints is one panel. Light steel buys no wider joints. A floor with steel in
    place of joints, about half a percent of its section, is an engineer's design and wants a variance.
How to put it right
    Space the joints anew in equal bays where that takes fewer cuts, cut the panel into equal bays, or make the slab
    thicker. Bays close to square crack least.
Where sources differ
    The multiple is 24 to 36 in ACI 302.1R, 30 in ACI 330R, and 24, 30 or 36 by stone and slump in published tables;
    trade teaching in New Zealand allows up to 50 with mesh. The cap is 18 ft for floors (ACI 302.1R), 15 ft for parking
    (ACI 330R) and 5 m in Canada, and the tables have none; guides for flatwork stop at 12 ft. Here the widest multiple
    and the caps set the hold, the lower cap outdoors, where the sun works on the slab as well; what the tables ask
    below that is a note, since the trade lays 12 ft on 4 in every day and mostly gets away with it. Neither American
    text governs a metric plan: yards with mesh are laid in bays of 5 and 6 m there, common practice, and beyond the
    widest multiple that is taught anywhere it is a hold.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache, partial

from slabwright.formulas.joints import square_bays
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "Panels short enough for their thickness"
LIMITS = (
    Limit("thicknesses_at_most", "36", Kind.RATIO, "hold", Cite("aci-302.1r-96"), ("18", "60"),
          "longest side of a panel, in thicknesses"),
    Limit("side_outdoors_at_most", "15 ft", Kind.LENGTH, "hold", Cite("aci-330r-first", "sec. 2.7"), ("5 ft", "40 ft"),
          "longest side of a panel outdoors, however thick"),
    Limit("side_indoors_at_most", "18 ft", Kind.LENGTH, "hold", Cite("aci-302.1r-96"), ("5 ft", "60 ft"),
          "longest side of a panel indoors, however thick"),
    Limit("metric_thicknesses_at_most", "36", Kind.RATIO, "caution", Cite("aci-302.1r-96"), ("18", "60"),
          "longest side of a panel of a metric plan, in thicknesses"),
    Limit("widest_thicknesses_at_most", "50", Kind.RATIO, "hold", Cite("trade-education-metric"), ("24", "80"),
          "longest side of a panel of a metric plan, in thicknesses, with mesh"),
    Limit("metric_side_at_most", "6 m", Kind.LENGTH, "caution", Cite("common-practice"), ("1.5 m", "18 m"),
          "longest side of a panel of a metric plan, however thick"),
    Limit("preferred_thicknesses_at_most", "30", Kind.RATIO, "note", Cite("beall", "Fig. 2-15"), ("12", "60"),
          "longest side of a panel, in thicknesses, that cracks are rare in"),
    Limit("small_stone_thicknesses_at_most", "24", Kind.RATIO, "note", Cite("beall", "Fig. 2-15"), ("12", "60"),
          "longest side of a panel with stone under {3/4 in|19 mm}, in thicknesses"),
)  # fmt: skip
HARDLY = 0.05  # as a share of a preferred length: bays are laid out in round numbers, by common practice
LARGE_STONE = 0.019  # m: what is sold as 3/4 in or 19 mm


def allowed(multiple: float, thickness: float, cap: float = float("inf")) -> float:
    """Longest side in m: ``multiple`` times ``thickness`` (m), at most ``cap`` (m)."""
    return min(multiple * thickness, cap)


WORKED = (
    Worked("widest spacing of 4 in", length(12 * FOOT), lambda: allowed(36, 4 * INCH, 18 * FOOT), 1e-6,
           Cite("aci-302.1r-96"), "jt-302-4in"),
    Worked("30 t with a 15 ft cap, 5 in", length(12.5 * FOOT), lambda: allowed(30, 5 * INCH, 15 * FOOT), 1e-6,
           Cite("aci-330r-first", "sec. 2.7"), "jt-330-rule-5in"),
    *(Worked(f"4 in, {multiple} t", length(feet * FOOT), partial(allowed, multiple, 4 * INCH), 0.5 * FOOT,
             Cite("beall", "Fig. 2-15"), "jt-table-4in") for multiple, feet in ((24, 8), (30, 10), (36, 12))),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The long side of each panel against the multiples and the cap, the heavier first."""
    stone, panels = plan.design.mix.aggregate, plan.panels.all
    metric = plan.home == "metric"
    multiples = [*_widest(limits, metric), limits.preferred_thicknesses_at_most]
    if stone and not meets(stone.si, LARGE_STONE, "least"):
        multiples += [limits.small_stone_thicknesses_at_most]
    most: dict[str, list[tuple[float, InForce]]] = {}
    for panel in panels:
        cap = limits.side_outdoors_at_most if any(map(plan.rained_on, panel.areas)) else limits.side_indoors_at_most
        cap = limits.metric_side_at_most if metric and cap.layer == "published" else cap
        bounds = ((allowed(limit.value.si, panel.drawn), limit) for limit in multiples)
        most[panel.name] = [*bounds, (cap.value.si, cap)]
    tightest = {name: min(meters for meters, _ in bounds) for name, bounds in most.items()}
    every = {
        panel.name: square_bays(*as_laid(panel), tightest[panel.name])
        for panel in panels
        if not meets(panel.long_side, tightest[panel.name], "most")
    }
    anew = cache(partial(spaced_evenly, plan, every=every))
    for panel in panels:
        yield _judged(plan, panel, depth(panel.drawn), most[panel.name], every, anew)


def _widest(limits: Limits, metric: bool) -> list[InForce]:
    """The widest multiples; American texts hold no metric plan, unless an amendment names them."""
    if metric and limits.thicknesses_at_most.layer == "published":
        return [limits.widest_thicknesses_at_most, limits.metric_thicknesses_at_most]
    return [limits.thicknesses_at_most]


def _judged(
    plan: Plan,
    panel: Panel,
    t: Amount,
    most: Sequence[tuple[float, InForce]],
    every: Mapping[str, tuple[int, int]],
    anew: Callable[[float], EvenBays | None],
) -> Conclusion:
    side, at = length(panel.long_side), spot(panel)
    tightest, lightest = min(most, key=lambda pair: pair[0])
    broken = [pair for pair in most if not meets(side.si, pair[0], "most")] or [(tightest, lightest)]
    asked, limit = min(broken, key=lambda pair: (WEIGHTS.index(pair[1].weight), pair[0]))
    of_thickness = limit.value.kind is Kind.RATIO

    def working() -> tuple[Step, ...]:
        even = anew(tightest)
        n, run = (even.bays, even.run) if even else (every[panel.name][0], as_laid(panel)[0])
        bay = step("each bay", "length / bays", words("{run} / {n}", run=length(run), n=count(n)), length(run / n))
        numbers = words("{multiple} x {t}", multiple=ratio(limit.value.si), t=t)
        longest = step("longest side", "multiple x thickness", numbers, length(asked))
        return (longest, bay) if of_thickness else (bay,)

    def remedies() -> list[Remedy]:
        even = anew(tightest)
        return [*([even.remedy] if even else []), cut_panel(plan, panel, every[panel.name], every)]

    long = "is long for its thickness" if of_thickness else "is longer than joints are ever set apart here"
    return compare(
        at, side, limit, asked=length(asked),
        give=HARDLY * asked if limit.weight == "note" and plan.home == "metric" else 0.0,
        says=lambda: words(f"{{panel}} {long}", panel=at.name),
        working=working,
        remedy=remedies,
    )  # fmt: skip
