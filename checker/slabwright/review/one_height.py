"""Heights that the advice of two comments gives to one point: it can have only one."""

from __future__ import annotations

from collections.abc import Mapping

from slabwright.design.model import Design
from slabwright.plan.grades import NewHeight
from slabwright.review.report import Comment
from slabwright.rulebook.remedy import Remedy, Write, set_along, set_heights
from slabwright.units.quantity import Amount, Kind

FINISH = "heights.finish."
SAME = 1e-6  # m


def heights_of(comment: Comment) -> Mapping[str, Amount]:
    """The finish heights that the advice of a comment writes, by point; none where another's advice settles it."""
    if comment.settled_by is not None or comment.variance is not None or not comment.remedies:
        return {}
    return _written(comment.remedies[0])


def clash(first: Comment, second: Comment) -> tuple[str, ...]:
    """The points that two comments give different heights."""
    one, other = heights_of(first), heights_of(second)
    return tuple(name for name in one if name in other and abs(one[name].si - other[name].si) > SAME)


def merged(first: Remedy, second: Remedy, design: Design, add: bool = False) -> Remedy | None:
    """All heights of two remedies, where both raise or both lower a point that which goes further; None where not.

    To ``add`` them is to move a point by both: the whole slab lower, and its far side lower still. None too where one
    of them does more than to write heights.
    """
    own, other = _written(first), _written(second)
    if len(own) < len(first.edits) or len(other) < len(second.edits):
        return None
    old = {spot.at.name: spot.height.si for spot in design.heights.finish}
    new: dict[str, float] = {}
    for name in dict.fromkeys((*own, *other)):
        moves = [heights[name].si - old[name] for heights in (own, other) if name in heights and name in old]
        if not moves or (min(moves) < 0 < max(moves) and not add):
            return None
        new[name] = old[name] + (sum(moves) if add else max(moves, key=abs))
    heights = [NewHeight(name, old[name], z) for name, z in new.items()]
    edge = first.says.values.get("along_edge")  # two stretches of one edge are told as one
    told = set_along(edge, heights) if isinstance(edge, str) and edge == second.says.values.get("along_edge") else None
    return next(iter(set_heights(heights, told)), None)


def _written(remedy: Remedy) -> dict[str, Amount]:
    return {
        edit.path.removeprefix(FINISH): edit.value
        for edit in remedy.edits
        if isinstance(edit, Write)
        and edit.path.startswith(FINISH)
        and isinstance(edit.value, Amount)
        and edit.value.kind is Kind.HEIGHT
    }
