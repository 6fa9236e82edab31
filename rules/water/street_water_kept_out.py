"""Water that fills the gutter of the street does not run down the drive to the building.

What is compared
    Of all ways over the slab from the street to a building, or to a trench drain that wheels cross before one, takes
    the lowest, and compares the height of its crest above the gutter with 1 1/2 in, on metric plans with 25 mm, and as
    a note with 6 in, about a curb. A crest no higher than the gutter is a hold, before a drain a caution. Where there
    is no building, a slab that falls from the street to an old slab, such as the public walk, a wall, a lot line or a
    trench drain at its far end is judged by the same heights; so is one whose water a channel in it takes, before a
    floor that wheels cross to.
    The gutter is a fixed height of the kind `gutter`, or the ground beside the street.
Why it matters
    A curb holds the water of a storm in the street, and a drive is a gap in it. Where the drive then falls to the
    garage, all that runs down the gutter turns in. A drain at the door helps little: in a storm the street fills it.
When it does not apply
    The slab does not reach from a street to a building or such a drain and does not fall from a street to what stands
    beside it, or no rain falls on it.
How to put it right
    Raise the drive just behind the gutter, over a few feet, before it goes down: a hump as high as the curb. Where it
    climbs all the way and is highest at the building, the floor sets its height, and a trench drain goes before it.
Where sources differ
    No code is known that prints a number. A curb is about 6 in, but where it is dropped for a drive the water stands
    no higher than the lip, 1 or 1 1/2 in, 25 or 30 mm where curbs are metric: common practice. Below the gutter
    the drive fills in every storm, by gravity.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Street water stays in the street"
LIMITS = (
    Limit("crest_at_least", "1/16 in", Kind.DEPTH, "hold", Cite("geometry"), ("0 in", "6 in"),
          "crest of the way from street to building above the gutter"),
    Limit("lip_high_crest_at_least", "1 1/2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/2 in", "6 in"),
          "crest of the way from street to building above the gutter, as high as the lip of a dropped curb"),
    Limit("metric_lip_high_crest_at_least", "25 mm", Kind.DEPTH, "caution", Cite("common-practice"),
          ("10 mm", "150 mm"), "crest of the way from street to building above the gutter, as high as the lip of a "
          "dropped curb in metric work"),
    Limit("curb_high_crest_at_least", "6 in", Kind.DEPTH, "note", Cite("common-practice"), ("1 in", "12 in"),
          "crest of the way from street to building above the gutter, as high as a curb"),
)  # fmt: skip
WORKED = ()
AT_STREET = 0.05  # m
HALF = 0.5  # of the water: a slab that sends more of it away from the street falls from the street
SPARED = ("existing slab", "wall", "property line")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The crest of the lowest way in."""
    if not plan.outdoors:
        does_not_apply("no rain falls on it")
    drains = [piece for piece in _beside(plan, "trench drain") if piece.wheels_cross]
    streets, walls = _beside(plan, "street"), _beside(plan, "building") + drains
    if not streets:
        does_not_apply("it does not reach from a street to a building")
    onto = [] if walls else _runs_onto(plan) or _floors_behind_channels(plan)
    if not walls and not onto:
        does_not_apply("it leads from no street to a building, nor falls from one to what stands beside it")
    needs_heights(plan)
    gutter, crest = _gutter(plan), plan.water.crest(streets, walls or onto)
    if gutter is None:
        such = such_height(plan, "99.30", "99.850")
        not_shown(f"edges, ground: the height of the gutter beside {streets[0].name}, such as {such}",
                  place=streets[0].place)  # fmt: skip
    if crest is None:
        does_not_apply("no way over the slab leads from the street to a building")
    above = depth(crest.height - gutter)
    runs_in = bool(walls) and crest.wall not in {piece.name for piece in drains}
    metric = plan.home == "metric" and limits.lip_high_crest_at_least.layer == "published"
    low = limits.metric_lip_high_crest_at_least if metric else limits.lip_high_crest_at_least
    lips = low, limits.curb_high_crest_at_least
    asked = (*((limits.crest_at_least,) if runs_in else ()), *lips)
    high = height(gutter + max(limit.value.si for limit in limits.values()))
    lip = height(plan.grades.written(gutter + low.value.si, up=True))
    yield compare(
        Spot(f"crest at {plan.shape.name_at(crest.at)}", plan.place("heights.finish", "heights"), (crest.at,)),
        above, *asked,
        says=lambda: _told(above, crest.wall),
        working=lambda: step("crest above the gutter", "crest - gutter",
                             words("{c} - {g}", c=height(crest.height), g=height(gutter)), above),
        remedy=lambda: set_heights(plan.raising.crest(streets, walls or onto, high.si)),
        decide=lambda: words("lay a trench drain before {wall}: the slab is highest there already", wall=crest.wall)
        if _highest_at_floor(plan, crest.at, crest.wall)
        else _raised(crest.wall, high, None if lips[0].met(above) else lip, _at(crest.at, streets)),
    )  # fmt: skip


def _highest_at_floor(plan: Plan, crest: XY, wall: str) -> bool:
    """Whether a slab that climbs from the street has its crest at a building, and the file says what stands fixed."""
    fixed = any(one.kind != "gutter" for one in plan.design.fixed)
    at_wall = _at(crest, [one for one in _beside(plan, "building") if one.name == wall])
    return fixed and at_wall and not _at(crest, _beside(plan, "street"))


def _at(spot: XY, pieces: Sequence[EdgePiece]) -> bool:
    """Whether a spot of the slab lies at one of some edges."""
    return any(nearest_on(one.line, spot)[0] < AT_STREET for one in pieces)


def _raised(wall: str, high: Amount, lip: Amount | None, at_street: bool) -> Words:
    """Where the slab goes down from the street all the way it has no crest to raise."""
    behind = "raise the slab {a few feet|a meter or so} behind the gutter, before it goes on to {wall},"
    where = behind if at_street else "raise the crest before {wall}"
    if lip is None:
        return words(f"{where} to {{write}}", wall=wall, write=high)
    return words(f"{where} to {{lip}} at least, and best to {{write}}", wall=wall, lip=lip, write=high)


def _told(above: Amount, wall: str) -> Words:
    if above.si <= 0:
        return words("nothing on the slab keeps the water of the gutter from {wall}", wall=wall)
    return words("street water that rises {above} in the gutter runs in to {wall}", above=above, wall=wall)


def _runs_onto(plan: Plan) -> list[EdgePiece]:
    """Old paving, walls, lot lines, and drains away from the street, that more than half of the water comes to."""
    most = {one.to for one in plan.water.bare_shares if one.kind == "edge" and not meets(one.share, HALF, "most")}
    street = {at for piece in _beside(plan, "street") for at in piece.line}
    drains = [
        piece for piece in _beside(plan, "trench drain") if piece.wheels_cross is None and street.isdisjoint(piece.line)
    ]
    spared = [piece for piece in plan.edges.pieces if piece.beside in SPARED]
    return [piece for piece in spared + drains if piece.name in most]


def _floors_behind_channels(plan: Plan) -> list[EdgePiece]:
    """Floors and old slabs that wheels cross to, where channels in the slab take more than half of its water."""
    channels = {one.name for one in plan.channels.all}
    taken = sum(one.share for one in plan.water.shares if one.to in channels)
    crossed = [piece for piece in plan.edges.pieces if piece.beside == "existing slab" and piece.wheels_cross]
    return [] if meets(taken, HALF, "most") else crossed


def _beside(plan: Plan, what: str) -> list[EdgePiece]:
    return [piece for piece in plan.edges.pieces if piece.beside == what]


def _gutter(plan: Plan) -> float | None:
    """The lowest height of the gutter, m; None where the file gives none."""
    fixed = [amount.si for one in plan.design.fixed if one.kind == "gutter" for amount in one.height]
    beside = [low for piece in _beside(plan, "street") for low in piece.ground or ()]
    return min(fixed or beside, default=None)
