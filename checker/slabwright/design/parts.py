"""Pieces that several sections of a design are made with."""

from __future__ import annotations

from typing import Any

from slabwright.design import model as d
from slabwright.design.located import Group, Named
from slabwright.source.place import Place
from slabwright.source.problem import Problems
from slabwright.units.quantity import Amount


class Names:
    """Names of one sort of thing: given or counted, each once."""

    def __init__(self, what: str, problems: Problems) -> None:
        self.what = what
        self.problems = problems
        self.seen: dict[str, Place] = {}

    def of(self, group: Group, counted: str) -> str:
        """The name of a thing; a second of the same name is refused."""
        name = str(group.get("name", counted))
        place = group.places.get("name", group.place)
        first = self.seen.setdefault(name.casefold(), place)
        if first is not place:
            self.problems.add(
                place,
                f'a second {self.what} is called "{name}"; the first is on line {first.line}',
                "give it another name",
            )
        return name


def made_of(made: Any, group: Group | None) -> Any:
    """A dataclass whose fields are the keys of its section."""
    if group is None:
        return made()
    return made(
        **{key: str(value) if isinstance(value, Named) else value for key, value in group.items()}, place=group.place
    )


def mesh_of(group: Group) -> d.Mesh:
    """Wire sheets, from their style and what the section adds."""
    style: d.Mesh = group["style"]
    return d.Mesh(
        style=style.style,
        wire_spacing=style.wire_spacing,
        wire_diameter=style.wire_diameter,
        area_per_width=style.area_per_width,
        top_cover=group.get("top_cover"),
        held_by=group.get("held_by"),
        support_spacing=group.get("support_spacing"),
        at_joints=group.get("at_joints"),
        lap=group.get("lap"),
        place=group.place,
    )


def amounts(said: Any) -> tuple[Amount, ...]:
    """One amount or a list of them."""
    if said is None:
        return ()
    return (said,) if isinstance(said, Amount) else tuple(said)
