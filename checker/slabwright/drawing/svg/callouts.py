"""Numbered callouts: a sign by weight, a leader, and the shape the comment speaks of."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely

from slabwright.drawing.svg.dimensions import boxed_text
from slabwright.drawing.svg.labels import Lettering, leader, led
from slabwright.drawing.svg.place import Box, rings
from slabwright.drawing.svg.sheet import XY
from slabwright.drawing.svg.text import escaped, number, path_data, text_width
from slabwright.review.report import Comment

_MANY = 150  # of more comments than these none is moved far from its place
_DIGITS = 2.6  # mm
_BUBBLE = 2.5  # mm, half the width of a callout of one or two figures


def callouts(on: Lettering, comments: Sequence[Comment]) -> Iterator[str]:
    """A numbered callout at every place of every comment, with the shape it speaks of."""
    few = sum(len(comment.places) for comment in comments) <= _MANY
    for comment in comments:
        drawn = [
            (place.at.name, _callout(on, comment, shape, few))
            for place in comment.places
            if (shape := [at for at in place.at.shape if all(math.isfinite(v) for v in at)])
        ]
        titled = ""
        if drawn:
            names = ", ".join(dict.fromkeys(name for name, _ in drawn))
            titled = f"<title>{comment.number}: {escaped(names)}</title>"
        head_of = f'<g class="callout" data-comment="{comment.number}" data-weight="{comment.weight}"'
        yield f"{head_of}>{titled}{''.join(one for _, one in drawn)}</g>"


def _callout(on: Lettering, comment: Comment, shape: Sequence[XY], few: bool) -> str:
    """One callout and the shape it points to, m."""
    weight = comment.weight if comment.variance is None else f"{comment.weight} accepted"
    points = on.view.line(shape)
    at = _anchor(points)
    size = 2 * _half(comment.number)
    box = on.room.best(led(on, at, rings(at, size, size, (2.0, 5.0, 8.0)), 0.5), 0.0)
    if box is None and few:
        far = list(rings(at, size, size, (12.0, 17.0, 24.0, 32.0, 42.0, 55.0), 16))
        box = on.room.best(led(on, at, far, 0.5), 1.0) or on.room.best(far, 1.0)  # better across a word than not
    if box is None:
        on.drop("callouts")
        return _spot(points, comment.weight)
    on.room.take(box)
    mark = leader(at, box, far=0.5, room=on.room) + _bubble(comment.number, weight, box)
    return _spot(points, comment.weight) + mark


def _anchor(points: Sequence[XY]) -> XY:
    """Where a callout points: the spot itself, the middle of a line, a place inside a ring."""
    if len(points) > 3 and points[0] == points[-1]:
        shape = shapely.Polygon(points)
        if shape.area > 0:
            return next((x, y) for x, y in shape.representative_point().coords)
    if len(points) == 1:
        return points[0]
    middle = shapely.LineString(points).interpolate(0.5, normalized=True)
    return float(middle.x), float(middle.y)


def _spot(points: Sequence[XY], weight: str) -> str:
    if len(points) == 1:
        x, y = points[0]
        return f'<circle class="spot-{weight}" cx="{number(x)}" cy="{number(y)}" r="1.7"/>'
    closed = len(points) > 3 and points[0] == points[-1]
    return f'<path class="spot-{weight}" d="{path_data(points[:-1] if closed else points, closed)}"/>'


def _bubble(count: int, weight: str, box: Box) -> str:
    """The sign of a weight with the number in it: eight-sided for a hold, square for a caution, round for a note."""
    x, y, r = box.x, box.y, _half(count)
    kind = weight.split(" ", maxsplit=1)[0]
    classes = f"bubble bubble-{weight}"
    if kind == "note":
        sign = f'<circle class="{classes}" cx="{number(x)}" cy="{number(y)}" r="{number(r)}"/>'
    else:
        sides, reach = (8, 1.08 * r) if kind == "hold" else (4, 1.33 * r)
        turns = [(2 * k + 1) * math.pi / sides for k in range(sides)]
        corners = [(x + reach * math.cos(turn), y + reach * math.sin(turn)) for turn in turns]
        sign = f'<path class="{classes}" d="{path_data(corners, closed=True)}"/>'
    return f'<g class="mark">{sign}{boxed_text(Box(x, y, 0, _DIGITS), str(count), "", True)}</g>'


def _half(count: int) -> float:
    """Half the width of the sign round a number, mm."""
    return max(_BUBBLE, text_width(str(count), _DIGITS, True) / 1.7)
