"""What is dug and hauled, and what things cost: the sections ``dig`` and ``prices`` of a design, and price files."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from slabwright.design.located import Group
from slabwright.source.clean import plain_characters
from slabwright.source.place import Place
from slabwright.source.problem import Problems
from slabwright.units.amount import Amount, Kind, QuantityError
from slabwright.units.unit_table import find_unit

_NOWHERE = Place("")


class BrokenConcrete(NamedTuple):
    """``dig.broken_concrete``: an old slab to break out and haul, apart from the soil."""

    area: Amount  # area
    thickness: Amount  # depth
    place: Place = _NOWHERE


class Tip(NamedTuple):
    """``dig.tip``: where the spoil goes, and what it takes."""

    name: str = ""
    load_at_most: Amount | None = None  # mass
    volume_at_most: Amount | None = None  # volume, loose, of one load
    loads_a_day: int | None = None
    place: Place = _NOWHERE


class Dig(NamedTuple):
    """``dig``: ``depth`` is the mean depth dug where the ground was not shot."""

    depth: Amount | None = None  # depth
    beyond_edge: Amount | None = None  # length: room dug outside the forms
    box: Amount | None = None  # volume of the truck's box, loose
    payload: Amount | None = None  # mass
    tip: Tip | None = None
    broken_concrete: BrokenConcrete | None = None
    place: Place = _NOWHERE


class Price(NamedTuple):
    """A price as typed: ``value`` for one ``unit``, which measures ``size`` in SI (1 for things that are counted)."""

    value: float
    unit: str
    size: float
    typed: str
    place: Place = _NOWHERE

    def of(self, si: float) -> float:
        """What ``si`` (m3, kg, m, m2 or a count) costs."""
        return self.value * si / self.size


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
    fibre: Price | None = None  # by mass
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
    place: Place = _NOWHERE


_PRICE = re.compile(r"(\d{1,3}(?:,\d{3})+|\d+)?(\.\d+)?\s*(?:(?:per|/|a|an|for)\s*(?:1 |one )?(.+?)|each)?")
_SUCH = {
    Kind.VOLUME: "165 per yd3, or 210 per m3",
    Kind.MASS: "1.10 per lb, or 38 per ton",
    Kind.LENGTH: "2.50 per ft",
    Kind.AREA: "0.30 per ft2",
    Kind.COUNT: "450 each",
}


def price(text: str, place: Place, kind: Kind) -> Price:
    """A price by volume, mass, length or area, or (``Kind.COUNT``) each; a bare number is a price each.

    :raises QuantityError: when it is no price, or is by another kind of unit.

    >>> found = price("165 per yd3", Place(""), Kind.VOLUME)
    >>> round(found.of(10 * 0.9144**3), 2)
    1650.0
    """
    typed = " ".join(plain_characters(text).split())
    found = _PRICE.fullmatch(typed.lower().lstrip("$€£ "))
    if not found or not (found[1] or found[2]):
        raise QuantityError(f'"{typed}" is not a price', _SUCH[kind], place)
    value = float((found[1] or "0").replace(",", "") + (found[2] or ""))
    if not value < 1e9:
        raise QuantityError(f'"{typed}" is more than anything here costs', _SUCH[kind], place)
    unit = (found[3] or "").strip()
    if kind is Kind.COUNT:
        if any(find_unit(unit, measured) for measured in _SUCH if unit and measured is not Kind.COUNT):
            raise QuantityError(f'"{typed}" is a price by {unit}, and this is counted', _SUCH[kind], place)
        return Price(value, unit or "each", 1.0, typed, place)
    known = find_unit(unit, kind) if unit else None
    if known is None:
        wrong = f'"{typed}" is not a price by {kind}' if unit else f'"{typed}" does not say what it is for'
        raise QuantityError(wrong, _SUCH[kind], place)
    return Price(value, known.name, known.factor, typed, place)


PRICE_GRAMMARS: dict[str, Callable[[str, Place], Price]] = {
    f"price {'each' if kind is Kind.COUNT else f'per {kind.value}'}": partial(price, kind=kind) for kind in _SUCH
}


def dig(group: Group | None) -> Dig | None:
    """``dig``."""
    if group is None:
        return None
    tip, broken = group.get("tip"), group.get("broken_concrete")
    return Dig(
        depth=group.get("depth"),
        beyond_edge=group.get("beyond_edge"),
        box=group.get("box"),
        payload=group.get("payload"),
        tip=None
        if tip is None
        else Tip(
            str(tip.get("name", "")),
            tip.get("load_at_most"),
            tip.get("volume_at_most"),
            tip.get("loads_a_day"),
            tip.place,
        ),
        broken_concrete=None if broken is None else BrokenConcrete(broken["area"], broken["thickness"], broken.place),
        place=group.place,
    )


def prices(group: Group | None) -> Prices | None:
    """``prices``."""
    if group is None:
        return None
    said: dict[str, Any] = {key: str(value) if key == "currency" else value for key, value in group.items()}
    return Prices(**said, place=group.place)


def read_prices(path: Path) -> Prices:
    """A price file: the keys of ``prices`` and nothing else.

    :raises UnreadableError: with every problem found.
    """
    from slabwright.design.schema_gate import gate, schema_named
    from slabwright.source import yaml_tree

    design = schema_named("design")
    schema = {**design["properties"]["prices"], "$schema": design["$schema"], "$defs": design["$defs"]}
    problems = Problems()
    data = gate(yaml_tree.load(yaml_tree.read_text(path), str(path)), schema, problems)
    problems.raise_if_any()
    found = prices(data)
    return found if found is not None else Prices()


def laid_over(first: Prices | None, over: Prices | None) -> Prices:
    """Two lists of prices as one; where both have a price, that of ``over`` counts.

    >>> laid_over(Prices(currency="USD"), None).currency
    'USD'
    """
    if first is None or over is None:
        return first or over or Prices()
    changed = {name: value for name, value in over._asdict().items() if name != "place" and value}
    return first._replace(**changed)
