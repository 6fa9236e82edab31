"""Plain data that remembers its places: what the schema gate hands on."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from slabwright.source.place import Place


class Group(dict[str, Any]):
    """A section as a dict; ``place`` is that of the section, ``places`` that of each key."""

    __slots__ = ("place", "places")

    def __init__(self, place: Place) -> None:
        super().__init__()
        self.place = place
        self.places: dict[str, Place] = {}

    def without(self, keys: Collection[str]) -> Group:
        """The section without some of its keys."""
        rest = Group(self.place)
        rest.update((key, value) for key, value in self.items() if key not in keys)
        rest.places = self.places
        return rest


class Items(list[Any]):
    """A list; ``place`` is that of the list, ``places`` that of each entry."""

    __slots__ = ("place", "places")

    def __init__(self, place: Place) -> None:
        super().__init__()
        self.place = place
        self.places: list[Place] = []


class Named(str):
    """Text with its place, for names that are looked up later."""

    __slots__ = ("place",)
    place: Place

    def __new__(cls, text: str, place: Place) -> Named:
        """The text ``text`` as it stands at ``place``."""
        named = super().__new__(cls, text)
        named.place = place
        return named

    def __reduce__(self) -> tuple[type[Named], tuple[str, Place]]:
        """What it is made of again in another process."""
        return Named, (str(self), self.place)
