"""Plain data that remembers its places: what the schema gate hands on."""

from __future__ import annotations

from typing import Any

from slabwright.source.place import Place


class Group(dict[str, Any]):
    """A section as a dict; ``place`` is that of the section, ``places`` that of each key."""

    __slots__ = ("place", "places")

    def __init__(self, place: Place) -> None:
        super().__init__()
        self.place = place
        self.places: dict[str, Place] = {}


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
