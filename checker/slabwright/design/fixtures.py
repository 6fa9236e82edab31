"""What stands in or on the slab, or is cast into it: ``fixtures``, ``channels``, ``embedded``."""

from typing import Literal, NamedTuple

from slabwright.design.outline import Isolation
from slabwright.design.point import Point
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount

FixtureKind = Literal[
    "drain", "post", "column", "cleanout", "meter", "valve", "downspout", "sump outlet", "anchor", "gate", "door"
]


class Fixture(NamedTuple):
    """Something in or on the slab.

    ``sill`` and ``canopy`` belong to doors, ``swings_over``, ``hinge``, ``bottom`` and ``opens_to`` to doors and gates,
    ``rim`` to drains and boxes, ``outlet`` and ``pipe`` to drains, ``roof`` to downspouts; ``along`` is the width of a
    door or gate or the legs of an anchor, ``at`` the spot of everything else.
    """

    kind: FixtureKind
    name: str = ""
    at: Point | None = None
    along: tuple[Point, ...] = ()
    size: Amount | None = None  # depth: diameter or side
    isolation: Isolation | None = None
    rim: Amount | None = None  # height
    outlet: Amount | None = None  # height
    sill: Amount | None = None  # height
    swings_over: bool | None = None
    canopy: bool = False  # keeps the rain off its sill
    box_out: Literal["round", "square", "turned square"] | None = None  # the hole left round it
    box_out_size: Amount | None = None  # depth: diameter or side of that hole
    required_exit: bool = False
    pipe: Amount | None = None  # length, from the drain to its outlet
    roof: Amount | None = None  # area that comes down a downspout
    hinge: tuple[Point, ...] = ()  # one end of the width, or both for two leaves
    bottom: Amount | None = None  # height of the underside of the leaf
    opens_to: Point | None = None  # a spot on the side it opens to; None: not said
    footing: Amount | None = None  # depth of the bottom of the footing of a post or column below the finish
    plate: Amount | None = None  # depth: side of the base plate of an anchor, its bolts at the corners
    embedment: Amount | None = None  # depth of an anchor in the concrete
    place: Place = NOWHERE


class Channel(NamedTuple):
    """One entry of ``channels``: a channel or slot drain in the slab, whose rim takes water all along."""

    name: str
    along: tuple[Point, ...]  # its middle line
    width: Amount  # depth
    rim: tuple[Amount, ...] = ()  # height: one, or one for each point
    invert: tuple[Amount, ...] = ()  # height of the bottom inside: one, or one for each point
    outlet_at: tuple[Point, ...] = ()  # points of its line; none: the end with the lowest bottom
    outlet: Amount | None = None  # height where its pipe lets out
    pipe: Amount | None = None  # length, from the channel to its outlet
    bed: Amount | None = None  # depth of the concrete under it, and width of that beside it
    isolation: Isolation | None = None
    place: Place = NOWHERE

    def height_at(self, heights: tuple[Amount, ...], number: int) -> Amount | None:
        """The rim or invert at a point of its line, by the point's number; None where the file gives none."""
        return heights[number if len(heights) > 1 else 0] if heights else None


class Embedded(NamedTuple):
    """One entry of ``embedded``: tubes or conduit cast in the slab; with no line and no corners they lie all over."""

    name: str
    kind: Literal["heating tubes", "conduit", "pipe"]
    along: tuple[Point, ...] = ()
    corners: tuple[Point, ...] = ()
    size: Amount | None = None  # depth: outside diameter
    top_cover: Amount | None = None  # depth of the concrete over it
    place: Place = NOWHERE
