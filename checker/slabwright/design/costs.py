"""What is dug and hauled, and what things cost: the sections ``dig`` and ``prices`` of a design, and price files."""

from typing import NamedTuple

from slabwright.design.phrases import Price as Price
from slabwright.source.place import NOWHERE, Place
from slabwright.units.amount import Amount


class BrokenConcrete(NamedTuple):
    """``dig.broken_concrete``: an old slab to break out and haul, apart from the soil."""

    area: Amount  # area
    thickness: Amount  # depth
    place: Place = NOWHERE


class Tip(NamedTuple):
    """``dig.tip``: where the spoil goes, and what it takes."""

    name: str = ""
    load_at_most: Amount | None = None  # mass
    volume_at_most: Amount | None = None  # volume, loose, of one load
    loads_a_day: int | None = None
    place: Place = NOWHERE


class Dig(NamedTuple):
    """``dig``: ``depth`` is the mean depth dug where the ground was not shot."""

    depth: Amount | None = None  # depth
    beyond_edge: Amount | None = None  # length: room dug outside the forms
    box: Amount | None = None  # volume of the truck's box, loose
    payload: Amount | None = None  # mass
    tip: Tip | None = None
    broken_concrete: BrokenConcrete | None = None
    place: Place = NOWHERE


class Prices(NamedTuple):
    """``prices``, or a price file: only what the user wrote; nothing has a price of its own."""

    currency: str = ""
    concrete: Price | None = None  # by volume
    delivery: Price | None = None  # each load
    short_load: Price | None = None  # each load under order.short_load
    pump: Price | None = None  # each visit
    bars: Price | None = None  # by mass
    mesh: Price | None = None  # each sheet
    chairs: Price | None = None  # each
    fiber: Price | None = None  # by mass
    isolation: Price | None = None  # by length
    joints: Price | None = None  # by length
    base: Price | None = None  # by mass, delivered
    base_placing: Price | None = None  # by volume, compacted
    base_delivery: Price | None = None  # each load: the least charge for having base brought
    haul: Price | None = None  # each trip
    tip: Price | None = None  # by mass
    retarder: Price | None = None  # by area
    curing: Price | None = None  # by volume
    forms: Price | None = None  # by length
    place: Place = NOWHERE


def laid_over(first: Prices | None, over: Prices | None) -> Prices:
    """Two lists of prices as one; where both have a price, that of ``over`` counts.

    >>> laid_over(Prices(currency="USD"), None).currency
    'USD'
    """
    if first is None or over is None:
        return first or over or Prices()
    changed = {name: value for name, value in over._asdict().items() if name != "place" and value}
    return first._replace(**changed)
