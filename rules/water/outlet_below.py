"""A drain lets out lower than its rim, and its pipe falls all the way.

What is compared
    For each drain, takes the height of its rim above the height where its pipe lets out: level with it or below is a
    hold, less than 1 in a caution. Where the length of the pipe is given, it compares that drop over the length with 1
    %, less a twentieth or half a step of the heights as typed. For each channel it does the same with the rim where the
    channel lets out, and takes the drop of the pipe from the bottom there. It also takes the fall of the bottom to that
    place: a bottom that rises to it is a caution, one that falls less than 0.5 % a note.
Why it matters
    A drain is a hole until somebody finds a place below it. Found after the pour, the place is too high, the pipe is
    laid level or uphill, and the first leaves close it. Then the slab, shaped like a bowl on purpose, fills up.
When it does not apply
    No drain and no channel is drawn. Where a valley or an edge lets water out, the ground beside it is judged by
    `ground-dams-edge`.
How to put it right
    Take the pipe to a lower spot, or a longer way down the hill; else raise the rim and all that falls to it. Pipe the
    water to a sump with a pump only where nothing else is left: it stops in the first power outage.
Where sources differ
    1 % for a pipe is common practice; plumbing codes ask 1/8 to 1/4 in/ft of small pipes, and a town can set that. The
    bottoms of channels are cast with 0.5 to 0.6 %; a level one is laid where it is deep enough to run full (channel
    makers). The inch is the least that a grate and a bend take up, by common practice; an outlet no lower than the rim
    needs no source.
"""

from __future__ import annotations

import math
from itertools import pairwise
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
    Limit("bottom_fall_at_least", "0 %", Kind.SLOPE, "caution", Cite("geometry"), ("0 %", "2 %"),
          "fall of the bottom of a channel to where it lets out, so that none of it rises"),
    Limit("usual_bottom_fall_at_least", "0.5 %", Kind.SLOPE, "note", Cite("common-practice"), ("0 %", "4 %"),
          "fall of the bottom of a channel to where it lets out"),
)  # fmt: skip
WORKED = (
    Worked("drop of a pipe 40 ft long at 1 %", depth(4.8 * 0.0254), lambda: slopes.fall(40 * 0.3048, 0.01),
           0.05 * 0.0254, Cite("geometry"), "wa-valley-cost"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The drop of each drain and channel, then the fall of its pipe; last the bottoms of channels."""
    drains: list[PlannedFixture | PlannedChannel] = [one for one in plan.fixtures.all if one.fixture.kind == "drain"]
    drains += plan.channels.all
    if not drains:
        does_not_apply("no drain is drawn")
    known = [(one, rim, outlet) for one in drains if (outlet := _said(one).outlet) and (rim := _rim(one)) is not None]
    bottoms = [channel for channel in plan.channels.all if channel.inverts]
    if not known and not bottoms:
        _heights_asked(plan, drains[0])
    least, usual = limits.drop_at_least, limits.usual_drop_at_least
    for drain, rim, outlet in known:
        drop, pipe = depth(rim - outlet.si), _said(drain).pipe
        need = max([usual.value.si] + ([slopes.fall(pipe.si, limits.pipe_fall_at_least.value.si)] if pipe else []))
        low = height(plan.grades.written(rim - need, up=False))
        dropped = step("drop", "rim - outlet", words("{r} - {o}", r=height(rim), o=outlet), drop)

        def lower() -> Remedy:
            says = words("let {drain} out {more} lower, at {low}", drain=drain.name, more=depth(outlet.si - low.si),
                         low=low)  # fmt: skip
            return write(f"{_said(drain).place.path}.outlet", low, says)

        yield compare(
            spot(drain), drop, least, usual,
            says=lambda: words(_told(drop.si), drain=drain.name),
            working=lambda: dropped,
            remedy=lower,
        )  # fmt: skip
        if pipe and least.met(drop) and usual.met(drop):
            from_bottom = _bottom(drain)
            if from_bottom is not None:
                drop = depth(from_bottom - outlet.si)
                dropped = step("drop", "bottom - outlet", words("{b} - {o}", b=height(from_bottom), o=outlet), drop)
                low = height(plan.grades.written(from_bottom - slopes.fall(
                    pipe.si, limits.pipe_fall_at_least.value.si), up=False))  # fmt: skip
            fall, steep = slope(slopes.slope(drop.si, pipe.si)), limits.pipe_fall_at_least
            yield compare(
                spot(drain), fall, steep, give=fall_give(plan, steep.value, pipe.si),
                says=lambda: words("the pipe of {drain} rises from its bottom to where it lets out" if drop.si < 0 else
                                   "the pipe of {drain} hardly falls", drain=drain.name),
                working=lambda: (
                    dropped, step("fall of the pipe", "drop / length", words("{d} / {l}", d=drop, l=pipe), fall)),
                remedy=lower,
            )  # fmt: skip
    for channel in bottoms:
        yield from _channel_bottom(plan, channel, limits)


def _channel_bottom(plan: Plan, channel: PlannedChannel, limits: Limits) -> Conclusions:
    """How each stretch of a channel falls along its bottom to the nearest place at which it lets out."""
    least, usual = limits.bottom_fall_at_least, limits.usual_bottom_fall_at_least
    for k, (start, end) in enumerate(pairwise(channel.line)):
        first, last = channel.inverts[k], channel.inverts[k + 1]
        before, after = [out for out in channel.outlets if out <= k], [out for out in channel.outlets if out > k]
        on = last <= first if not channel.outlets else not before
        if before and after:  # on both sides of the highest place between two outlets
            between = range(before[-1], after[0] + 1)
            on = k >= max(between, key=lambda number: channel.inverts[number])
        upper, lower, to = (first, last, k + 1) if on else (last, first, k)
        run, fall = length(math.dist(start, end)), slope(slopes.slope(upper - lower, math.dist(start, end)))
        limit = broken_fall(plan, fall.si, run.si, least, usual)
        need = depth(slopes.fall(run.si, usual.value.si))
        low = height(plan.grades.written(upper - need.si, up=False))
        place = plan.shape.name_at(channel.line[to])
        alone = len(channel.line) == len(channel.channel.invert) == 2
        yield compare(
            spot(channel), fall, limit, give=fall_give(plan, limit.value, run.si),
            says=lambda: words("the bottom of {channel} rises to its outlet at {place}" if fall.si < 0 else
                               "the bottom of {channel} hardly falls to {place}", channel=channel.name, place=place),
            working=lambda: step("fall of the bottom", "(upper - lower) / length",
                                 words("({u} - {l}) / {r}", u=height(upper), l=height(lower), r=run), fall),
            remedy=lambda: write(f"{channel.channel.place.path}.invert[{to}]", low, words(
                "set the bottom at {place} at {low}", place=place, low=low)) if alone else (),
            decide=lambda: words("let the bottom fall {need} from end to end", need=need),
        )  # fmt: skip


def _said(drain: PlannedFixture | PlannedChannel) -> Fixture | Channel:
    return drain.channel if isinstance(drain, PlannedChannel) else drain.fixture


def _bottom(drain: PlannedFixture | PlannedChannel) -> float | None:
    """The bottom of a channel where it lets out, m; None for drains, and where it is not given."""
    if not isinstance(drain, PlannedChannel) or not drain.inverts:
        return None
    return min(drain.inverts[k] for k in drain.outlets or range(len(drain.inverts)))


def _told(drop: float) -> str:
    if same(drop, 0.0):
        return "{drain} lets out level with its rim"
    return "{drain} lets out above its own rim" if drop < 0 else "{drain} lets out hardly lower than its rim"


def _rim(drain: PlannedFixture | PlannedChannel) -> float | None:
    """The height of the rim as typed, else of the slab there, m; of a channel where it lets out."""
    if isinstance(drain, PlannedChannel):
        return min((rim for k in drain.outlets or range(len(drain.rims)) if (rim := drain.rims[k]) is not None),
                   default=None)  # fmt: skip
    return drain.fixture.rim.si if drain.fixture.rim else drain.slab


def _heights_asked(plan: Plan, drain: PlannedFixture | PlannedChannel) -> NoReturn:
    add, section = [], "channels" if isinstance(drain, PlannedChannel) else "fixtures"
    if _said(drain).outlet is None:
        such = such_height(plan, "98.60", "98.600")
        add.append(f"{section}, outlet: the height where the pipe of {drain.name} lets out, such as {such}")
    if _rim(drain) is None:
        such = such_height(plan, "99.20", "99.200")
        add.append(f"{section}, rim: the height of the rim of {drain.name}, such as {such}")
    not_shown(*add, place=_said(drain).place)
