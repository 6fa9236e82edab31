"""A door or gate that opens over the slab clears it through its whole swing, frost lift counted.

What is compared
    Compares the height of the underside of the leaf above the highest spot of the slab that it swings over with 0,
    where it strikes, and with 1 in; outdoors where the ground freezes, with 1 1/2 in. The leaf swings a quarter turn to
    the side it opens to, or to both where that is not said; where its hinge is not said, it is told if it strikes
    whichever end it hangs at, and met if it clears from both. A door hangs at its sill unless the file gives the
    height of its underside.
Why it matters
    A leaf hung level over a slab that rises away from it stops half open, and nobody sees it on a plan of heights at
    corners. In the first hard winter the slab lifts by half an inch, the gate jams, and somebody saws its foot off.
When it does not apply
    No door or gate is said to swing over the slab. A door on an accessible way has a low threshold, as has one
    where the file asks for a slab 1/2 in under the sill at most, so it only must not strike.
How to put it right
    Hang the leaf higher, or on rising hinges; let it open to the low side; or lower the slab under its tip.
Where sources differ
    The inch, and the half inch more in frost, are common practice. Lifts of 1/4 to 3/4 in are reported under doors.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Doors and gates swing free of the slab"
LIMITS = (
    Limit("gap_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "2 in"),
          "underside of a leaf above the slab it swings over"),
    Limit("free_gap_at_least", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "4 in"),
          "underside of a leaf above the slab, with room for grit and a mat"),
    Limit("frost_gap_at_least", "1 1/2 in", Kind.DEPTH, "note", Cite("common-practice"), ("0 in", "6 in"),
          "underside of a leaf above a slab outdoors that frost lifts"),
)  # fmt: skip
WORKED = ()


def _swinging(plan: Plan) -> list[PlannedFixture]:
    doors = [one for one in plan.fixtures.all if one.fixture.kind in ("door", "gate")]
    return [one for one in doors if (_drawn(one.fixture) if (said := one.fixture.swings_over) is None else said)]


def _drawn(leaf: Fixture) -> bool:
    """Whether the file draws how a leaf swings, by its hinge or the side it opens to."""
    return bool(leaf.hinge) or leaf.opens_to is not None


def _lacks(plan: Plan, leaf: PlannedFixture) -> list[str]:
    """What the file does not say of a leaf."""
    such = such_height(plan, "98.00", "98.000")
    lacks = []
    if not leaf.fixture.along:
        lacks.append(
            f"fixtures, along: the two ends of the width of {leaf.name}, such as [[6, 0], [9, 0]]; "
            "or its width, such as {3 ft|0.9 m}, and its middle (at)"
        )
    if not leaf.fixture.hinge:
        lacks.append(f"fixtures, hinge: the end of the width that {leaf.name} hangs at, such as [[6, 0]]")
    if leaf.fixture.bottom is None and leaf.fixture.sill is None:
        lacks.append(f"fixtures, bottom: the height of the underside of {leaf.name}, such as {such}")
    return lacks


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The narrowest gap of each leaf."""
    leaves = _swinging(plan)
    if not leaves:
        does_not_apply("no door or gate is said to swing over the slab")
    needs_heights(plan)
    judged = [(one, *found) for one in leaves if (found := _swept(plan, limits, one)) is not None]
    if not judged and all(_lacks(plan, one) for one in leaves):
        not_shown(*_lacks(plan, leaves[0]), place=leaves[0].fixture.place)
    if not judged:
        does_not_apply("no leaf swings over the slab")
    for one, swept, highest, bottom in judged:
        kept = _kept(plan, limits, one, swept)
        most = max(limit.value.si for limit in kept)
        gap, point = depth(bottom.si - swept.slab), plan.shape.name_at(swept.at)
        higher = height(plan.grades.written(highest.slab + most, up=True))
        told = "{leaf} strikes the slab at {point}" if gap.si < 0 else "{leaf} hardly clears the slab at {point}"
        yield compare(
            Spot(one.name, one.fixture.place, (swept.at,)), gap, *kept,
            give=plan.finish.give,
            says=lambda: words(told, leaf=one.name, point=point),
            working=lambda: step("gap", "underside - slab",
                                 words("{b} - {s}", b=height(bottom.si), s=height(swept.slab)), gap),
            remedy=lambda: write(
                f"{one.fixture.place.path}.bottom", higher,
                words("hang {leaf} {more} higher, its underside at {write}",
                      leaf=one.name, more=depth(higher.si - bottom.si), write=higher)),
        )  # fmt: skip


def _kept(plan: Plan, limits: Limits, leaf: PlannedFixture, swept: Leaf) -> tuple[InForce, ...]:
    """What a leaf is held against over the highest spot of its swing."""
    if plan.doors.low_threshold(leaf):  # its threshold is as low as the access standards ask
        return (limits.gap_at_least,)
    frost = plan.design.site.freezing in ("moderate", "severe") and plan.rained_on(plan.areas.at(swept.at))
    return (limits.gap_at_least, limits.free_gap_at_least, *([limits.frost_gap_at_least] if frost else []))


def _swept(plan: Plan, limits: Limits, leaf: PlannedFixture) -> tuple[Leaf, Leaf, Amount] | None:
    """The spot over which a leaf is judged, the highest it may have to clear, and its underside; None where unknown.

    Where its hinge is not said, it strikes if it does so from its better end, and clears if it does so from its worse.
    """
    fixture, bottom = leaf.fixture, leaf.fixture.bottom or leaf.fixture.sill
    if fixture.hinge or fixture.bottom is None:
        swept = plan.doors.leaf(fixture)
        return (swept, swept, bottom) if swept and bottom else None
    ends = filter(None, (plan.doors.leaf(fixture._replace(hinge=(end,))) for end in fixture.along))
    by_height = sorted(ends, key=lambda swept: swept.slab)
    if not by_height:
        return None
    better, worse = by_height[0], by_height[-1]
    high = fixture.bottom.si + plan.finish.give
    if not limits.gap_at_least.met(high - better.slab):
        return better, worse, fixture.bottom
    clears = all(limit.met(high - worse.slab) for limit in _kept(plan, limits, leaf, worse))
    return (worse, worse, fixture.bottom) if clears else None
