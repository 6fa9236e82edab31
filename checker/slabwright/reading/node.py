"""A YAML file as read: text, lists and sections, each with its place. Nothing is interpreted yet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from slabwright.place import Place

_NUMBER = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)|[-+]?(?:inf|infinity)|nan", re.IGNORECASE)
_EMPTY = frozenset({"", "~", "null", "Null", "NULL"})


@dataclass(frozen=True, slots=True)
class Text:
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
        return float(self.text) if self.plain and _NUMBER.fullmatch(self.text) else None

    @property
    def not_finite(self) -> bool:
        """Whether it is one of the ways to write infinity or "not a number"."""
        return self.plain and _NOT_FINITE.fullmatch(self.text) is not None


@dataclass(frozen=True, slots=True)
class Listing:
    """A list."""

    place: Place
    items: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """Keys and their values, in file order; ``keys`` has the place of each key."""

    place: Place
    entries: Mapping[str, Node]
    keys: Mapping[str, Place]

    def get(self, key: str) -> Node | None:
        """The value of ``key``, or None."""
        return self.entries.get(key)


Node = Text | Listing | Section


def key_places(root: Node) -> Iterator[tuple[str, Place]]:
    """Key path and place of every key below ``root``, and of every list entry that holds keys."""
    todo: list[Node] = [root]
    while todo:
        node = todo.pop()
        if isinstance(node, Section):
            yield from ((place.path, place) for place in node.keys.values())
            todo.extend(node.entries.values())
        elif isinstance(node, Listing):
            yield from ((item.place.path, item.place) for item in node.items if isinstance(item, Section))
            todo.extend(node.items)
