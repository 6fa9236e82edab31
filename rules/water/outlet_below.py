"""A drain lets out lower than its rim, and its pipe falls all the way.

What is compared
    For each drain, takes the height of its rim above the height where its pipe lets out: level with it or below is a
    hold, less than 1 in a caution. Where the length of the pipe is given, it compares that drop over the length with 1
    %, less a twentieth or half a step of the heights as typed.
Why it matters
    A drain is a hole until somebody finds a place below it. Found after the pour, the place is too high, the pipe is
    laid level or uphill, and the first leaves close it. Then the slab, shaped like a bowl on purpose, fills up.
When it does not apply
    No drain is drawn. Where a valley or an edge lets water out, the ground beside it is judged by `ground-dams-edge`.
How to put it right
    Take the pipe to a lower spot, or a longer way down the hill; else raise the rim and all that falls to it. Pipe
    the water to a sump with a pump only where nothing else is left: it stops with the first power cut.
Where sources differ
    1 % for a pipe is common practice; plumbing codes ask 1/8 to 1/4 in/ft of small pipes, and a town can set that. The
    inch is the least that a grate and a bend take up, by common practice; an outlet no lower than the rim needs no
    source.
"""

from __future__ import annotations

from typing import NoReturn

from slabwright.formulas import slopes
from slabwright.rulebook.kit import *

TITLE = "A drain has an outlet below it"
LIMITS = (
    Limit("drop_at_least", "1/16 in", Kind.DEPTH, "hold", Cite("geometry"), ("0 in", "24 in"),
          "rim of a drain above its outlet, so that water runs at all"),
    Limit("usual_drop_at_least", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "24 in"),
          "rim of a drain above its outlet, for a grate and a bend"),
    Limit("pipe_fall_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.2 %", "6 %"),
          "fall of a drain's pipe, all of the drop counted"),
)  # fmt: skip
WORKED = (
    Worked("drop of a pipe 40 ft long at 1 %", depth(4.8 * 0.0254), lambda: slopes.fall(40 * 0.3048, 0.01),
           0.05 * 0.0254, Cite("geometry"), "wa-valley-cost"),
)  # fmt: skip
LEVEL = 1e-9  # m


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The drop of each drain, then the fall of its pipe."""
    drains = [one for one in plan.fixtures.all if one.fixture.kind == "drain"]
    if not drains:
        does_not_apply("no drain is drawn")
    known = [(one, rim, one.fixture.outlet) for one in drains if one.fixture.outlet and (rim := _rim(one)) is not None]
    if not known:
        _heights_asked(plan, drains[0])
    least, usual = limits.drop_at_least, limits.usual_drop_at_least
    for drain, rim, outlet in known:
        drop, pipe = depth(rim - outlet.si), drain.fixture.pipe
        need = max(usual.value.si, slopes.fall(pipe.si, limits.pipe_fall_at_least.value.si) if pipe else 0.0)
        low = height(plan.grades.written(rim - need, up=False))
        dropped = step("drop", "rim - outlet", words("{r} - {o}", r=height(rim), o=outlet), drop)

        def lower() -> Remedy:
            says = words("let {drain} out {more} lower, at {low}", drain=drain.name, more=depth(outlet.si - low.si),
                         low=low)  # fmt: skip
            return write(f"{drain.fixture.place.path}.outlet", low, says)

        yield compare(
            spot(drain), drop, least, usual,
            says=lambda: words(_told(drop.si), drain=drain.name),
            working=lambda: dropped,
            remedy=lower,
        )  # fmt: skip
        if pipe and least.met(drop) and usual.met(drop):
            fall, steep = slope(slopes.slope(drop.si, pipe.si)), limits.pipe_fall_at_least
            yield compare(
                spot(drain), fall, steep, give=fall_give(plan, steep.value, pipe.si),
                says=lambda: words("the pipe of {drain} hardly falls", drain=drain.name),
                working=lambda: (
                    dropped, step("fall of the pipe", "drop / length", words("{d} / {l}", d=drop, l=pipe), fall)),
                remedy=lower,
            )  # fmt: skip


def _told(drop: float) -> str:
    if drop < -LEVEL:
        return "{drain} lets out above its own rim"
    return "{drain} lets out level with its rim" if drop < LEVEL else "{drain} lets out hardly lower than its rim"


def _rim(drain: PlannedFixture) -> float | None:
    """The height of the rim as typed, else of the slab there, m."""
    return drain.fixture.rim.si if drain.fixture.rim else drain.slab


def _heights_asked(plan: Plan, drain: PlannedFixture) -> NoReturn:
    us, add = plan.design.height_unit in ("ft", "in"), []
    if drain.fixture.outlet is None:
        such = "98.60" if us else "98.600"
        add.append(f"fixtures, outlet: the height where the pipe of {drain.name} lets out, such as {such}")
    if _rim(drain) is None:
        add.append(f"fixtures, rim: the height of the rim of {drain.name}, such as {'99.20' if us else '99.200'}")
    not_shown(*add, place=drain.fixture.place)
