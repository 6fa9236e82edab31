"""A drain lets out lower than its rim, and its pipe falls all the way.

What is compared
    For each drain the height of its rim above the height where its pipe lets out, with 1 in; and where the length of
    the pipe is given, that drop over the length, with 1 %.
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
    inch is the least that a grate and a bend take up, by common practice; an outlet above the rim needs no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas import slopes
from slabwright.plan.plan import Plan
from slabwright.plan.things import PlannedFixture
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Worked,
    compared,
    does_not_apply,
    not_shown,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height, slope

TITLE = "A drain has an outlet below it"
LIMITS = (
    Limit("drop_at_least", "1 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "24 in"),
          "rim of a drain above its outlet"),
    Limit("pipe_fall_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.2 %", "6 %"),
          "fall of a drain's pipe, all of the drop counted"),
)  # fmt: skip
WORKED = (
    Worked("drop of a pipe 40 ft long at 1 %", depth(4.8 * 0.0254), lambda: slopes.fall(40 * 0.3048, 0.01),
           0.05 * 0.0254, Cite("geometry"), "wa-valley-cost"),
)  # fmt: skip


def _drains(plan: Plan) -> list[PlannedFixture]:
    return [one for one in plan.fixtures.all if one.fixture.kind == "drain"]


def _rim(drain: PlannedFixture) -> float | None:
    """The height of the rim as typed, else of the slab there, m."""
    return drain.fixture.rim.si if drain.fixture.rim else drain.slab


def relevant(plan: Plan) -> Relevance:
    """A drain is drawn, and of one at least both heights are known."""
    drains = _drains(plan)
    if not drains:
        return does_not_apply("no drain is drawn")
    if any(one.fixture.outlet and _rim(one) is not None for one in drains):
        return APPLIES
    first, us = drains[0], plan.design.height_unit in ("ft", "in")
    add = []
    if first.fixture.outlet is None:
        such = "98.60" if us else "98.600"
        add.append(f"fixtures, outlet: the height where the pipe of {first.name} lets out, such as {such}")
    if _rim(first) is None:
        add.append(f"fixtures, rim: the height of the rim of {first.name}, such as {'99.20' if us else '99.200'}")
    return not_shown(*add, place=first.fixture.place)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The drop of each drain, then the fall of its pipe."""
    for drain in _drains(plan):
        rim, outlet, pipe = _rim(drain), drain.fixture.outlet, drain.fixture.pipe
        if rim is None or outlet is None:
            continue
        need = limits.drop_at_least.value.si
        if pipe:
            need = max(need, slopes.fall(pipe.si, limits.pipe_fall_at_least.value.si))
        low = plan.grades.written(rim - need, up=False)
        drop, name = rim - outlet.si, drain.name
        numbers = words("{r} - {o}", r=height(rim), o=outlet)
        working = [step("drop", "rim - outlet", numbers, depth(drop))]
        to_pass = words(
            "let {drain} out {more} lower, at {low}", drain=name, more=depth(outlet.si - low), low=height(low)
        )
        says = "{drain} lets out above its own rim" if drop < 0 else "{drain} lets out hardly lower than its rim"
        yield compared(
            limits, ("drop_at_least",), spot(drain), depth(drop), words(says, drain=name), to_pass, (*working,)
        )
        if pipe and limits.drop_at_least.met(drop):
            fall = slopes.slope(drop, pipe.si)
            numbers = words("{d} / {l}", d=depth(drop), l=pipe)
            working.append(step("fall of the pipe", "drop / length", numbers, slope(fall)))
            yield compared(
                limits,
                ("pipe_fall_at_least",),
                spot(drain),
                slope(fall),
                words("the pipe of {drain} hardly falls", drain=name),
                to_pass,
                tuple(working),
            )
