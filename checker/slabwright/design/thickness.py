"""How thick a design is, with its thickened edges and its steps: ``thickness``."""

from typing import Literal, NamedTuple

from slabwright.design.point import Point
from slabwright.design.steel import Bar
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount


class EdgeBars(NamedTuple):
    """One layer of bars along a thickened edge, apart from the steel of the slab."""

    count: int  # type: ignore[assignment]  # it hides the method of tuples
    size: Bar
    at: Literal["bottom", "top"] = "bottom"
    cover: Amount | None = None  # depth, from the bottom of the edge or from the top
    lap: Amount | None = None  # depth
    place: Place = NOWHERE


class ThickenedEdge(NamedTuple):
    """Depth ``depth`` at the edge, kept for ``width``, then back to the design thickness over ``taper``."""

    run: tuple[Point, ...]
    depth: Amount  # depth
    taper: Amount  # length
    width: Amount | None = None  # length
    bars: tuple[EdgeBars, ...] = ()
    place: Place = NOWHERE


class StairLanding(NamedTuple):
    """A landing in place of the tread behind one riser of a flight."""

    after: int  # the riser, counted from the foot
    depth: Amount  # depth
    turns: Literal["left", "right"] | None = None  # the way the next risers go, seen on the way up
    place: Place = NOWHERE


class Steps(NamedTuple):
    """A flight poured with the slab, solid below: ``count`` risers all alike, or each as in ``risers``."""

    name: str
    width: Amount  # length
    tread: Amount  # depth
    riser: Amount | None = None  # depth; with ``count``, or None
    count: int = 0  # type: ignore[assignment]
    risers: tuple[Amount, ...] = ()  # depth: from the foot up, instead of the two
    tread_slope: Amount | None = None  # slope
    handrail: bool | None = None  # None: not said
    guard: Amount | None = None  # depth: how high a guard stands at its open sides
    leads_to: str = ""  # name of a door or an edge
    foot: tuple[Point, ...] = ()  # both ends of the lowest nosing
    climbs_to: Point | None = None  # a spot on the side that it climbs to
    foot_height: Amount | None = None  # height at the foot; None: that of the slab there
    landings: tuple[StairLanding, ...] = ()
    same_pour: bool = True
    place: Place = NOWHERE

    @property
    def each(self) -> tuple[float, ...]:
        """The height of each riser, from the foot up, m."""
        return tuple(one.si for one in self.risers) or (self.riser.si if self.riser else 0.0,) * self.count


class Over(NamedTuple):
    """Something hard below the slab that leaves ``depth`` of concrete over it."""

    name: str
    at: Point
    depth: Amount  # depth
    place: Place = NOWHERE


class Thickness(NamedTuple):
    """``thickness``."""

    design: Amount  # depth
    form_board: Amount | None = None  # depth: the real depth of the board
    form_board_name: str = ""  # "2x6"
    dug_below_form: bool = False
    thickened_edges: tuple[ThickenedEdge, ...] = ()
    over: tuple[Over, ...] = ()
    steps: tuple[Steps, ...] = ()
    place: Place = NOWHERE
