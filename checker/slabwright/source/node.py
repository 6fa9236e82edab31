"""A YAML file as read: text, lists and sections, each with its place. Nothing is interpreted yet."""

from __future__ import annotations

import re
from collections.abc import Mapping

from slabwright.named_tuple import NamedTuple
from slabwright.source.place import Place

_NUMBER = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)|[-+]?(?:inf|infinity)|nan", re.IGNORECASE)
_ENDS_A_NUMBER = frozenset("0123456789.")
_EMPTY = frozenset({"", "~", "null", "Null", "NULL"})


class Text(NamedTuple):
    """One value or key as typed; ``plain`` when it stood without quotes."""

    place: Place
    text: str
    plain: bool = True

    @property
    def empty(self) -> bool:
        """Whether nothing stands there (an unquoted ``~`` or ``null`` counts as nothing)."""
        return self.plain and self.text in _EMPTY

    @property
    def number(self) -> float | None:
        """The number, if it is an unquoted decimal number; ``07:00``, ``1:48``, ``1_000`` and ``0x1F`` are text.

        >>> [Text(Place(""), typed).number for typed in ("99.90", "1:48", "1_000", "-.5")]
        [99.9, None, None, -0.5]
        """
        text = self.text
        if text[-1:] not in _ENDS_A_NUMBER or not self.plain:  # most texts end with a unit or a letter
            return None
        return float(text) if _NUMBER.fullmatch(text) else None

    @property
    def not_finite(self) -> bool:
        """Whether it is one of the ways to write infinity or "not a number"."""
        return self.plain and _NOT_FINITE.fullmatch(self.text) is not None


class Listing(NamedTuple):
    """A list."""

    place: Place
    items: tuple[Node, ...]


class Section(NamedTuple):
    """Keys and their values, in file order; ``keys`` has the place of each key."""

    place: Place
    entries: Mapping[str, Node]
    keys: Mapping[str, Place]

    def get(self, key: str) -> Node | None:
        """The value of ``key``, or None."""
        return self.entries.get(key)


Node = Text | Listing | Section


def key_places(root: Node) -> dict[str, Place]:
    """The place of every key below ``root``, and of every list entry that holds keys, by key path."""
    found: dict[str, Place] = {}
    todo: list[Node] = [root]
    while todo:
        node = todo.pop()
        if isinstance(node, Section):
            found.update({place.path: place for place in node.keys.values()})
            todo += [value for value in node.entries.values() if not isinstance(value, Text)]
        elif isinstance(node, Listing):
            within = [item for item in node.items if not isinstance(item, Text)]
            found.update({item.place.path: item.place for item in within if isinstance(item, Section)})
            todo += within
    return found
