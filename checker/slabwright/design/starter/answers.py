"""Eight short questions about a slab, what each answer is read as, and what is usual where none is given."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from slabwright.design.schema_gate import schema_named
from slabwright.design.starter.shape import XY, Outline, read_size
from slabwright.design.uses import CALLED, Called
from slabwright.formulas.units import FOOT, INCH
from slabwright.source.alike import most_like
from slabwright.source.problem import refuse
from slabwright.units.quantity import Amount, Kind, QuantityError, System, read

THICKEST = 11.25 * INCH  # m: the widest board that forms an edge
NEARLY = 1e-6
GLUE = "\N{NO-BREAK SPACE}"  # a number stays with its unit

Freezing = Literal["none", "moderate", "severe", "salt"]
Steel = Literal["none", "bars", "mesh", "fiber"]
Comes = Literal["chute", "pump", "buggy", "wheelbarrow"]

Pair = tuple[str, str]  # the text for a design in inches, and in metric


def pick(pair: Pair, system: System) -> str:
    """The text for a unit system."""
    return pair[system == "metric"]


@dataclass(frozen=True, slots=True)
class Kit:
    """What a use calls for."""

    thickness: Pair
    least: Pair  # the thinnest that carries what comes on it
    fall: float  # share of the run
    across: bool = False  # falls across its width, not away from its beginning
    steel: Steel = "none"
    indoors: bool = False
    wall: str = ""  # what the wall it stands against is called; empty where it mostly stands free
    beside: str = "open ground"
    vehicle: str = ""
    axle: Pair = ("", "")


_FOUR, _FIVE, _SIX = ("4 in", "100 mm"), ("5 in", "125 mm"), ("6 in", "150 mm")

KITS: Mapping[Called, Kit] = {
    "patio": Kit(_FOUR, _FOUR, 0.02, wall="house wall", beside="lawn"),
    "walk": Kit(_FOUR, _FOUR, 0.02, across=True, beside="lawn"),
    "driveway": Kit(
        _FIVE, _FOUR, 0.02, steel="bars", wall="garage", beside="lawn", vehicle="pickup", axle=("4000 lb", "17.5 kN")
    ),
    "vehicle pad": Kit(
        _SIX, _SIX, 0.02, steel="bars", wall="workshop wall", beside="gravel", vehicle="motor home",
        axle=("12000 lb", "53 kN"),
    ),
    "garage floor": Kit(
        _FIVE, _FOUR, 0.0125, steel="bars", indoors=True, wall="wall", vehicle="car", axle=("3000 lb", "13 kN")
    ),
    "shop floor": Kit(
        _SIX, _SIX, 0.0125, steel="bars", indoors=True, wall="wall", vehicle="forklift", axle=("8000 lb", "36 kN")
    ),
    "equipment pad": Kit(_SIX, _FOUR, 0.0125, steel="bars"),
    "sport court": Kit(_FOUR, _FOUR, 0.02, beside="lawn"),
    "pool deck": Kit(_FOUR, _FOUR, 0.02, beside="lawn"),
    "bin store": Kit(_FOUR, _FOUR, 0.02, wall="house wall", beside="lawn"),
    "carport": Kit(
        _FIVE, _FOUR, 0.02, steel="bars", wall="house wall", beside="lawn", vehicle="car", axle=("3000 lb", "13 kN")
    ),
    "shed base": Kit(_FOUR, _FOUR, 0.0125, indoors=True, beside="lawn"),
    "barn floor": Kit(
        _SIX, _SIX, 0.0125, steel="bars", indoors=True, wall="wall", vehicle="tractor", axle=("8000 lb", "36 kN")
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Answers:
    """What was said about a slab; ``walls`` and ``water`` are numbers of its sides, from 0."""

    use: Called
    outline: Outline
    walls: tuple[int, ...]
    water: tuple[int, ...]
    thickness: Amount
    freezing: Freezing
    steel: Steel
    comes: Comes

    @property
    def kit(self) -> Kit:
        """What its use calls for."""
        return KITS[self.use]


Said = Mapping[str, Any]  # answers so far, by the names of the fields


class Question(NamedTuple):
    """One question: the field it fills, its option, the words, what is usual, and how an answer is read."""

    field: str
    option: str
    words: Callable[[Said], str]
    usual: Callable[[Said], str]
    read: Callable[[str, Said], Any]


def answered(given: Mapping[str, str | None]) -> Answers:
    """Answers from options; what is usual where none is given. Use and size must be given.

    Raises :class:`UnreadableError` for the first that cannot be read.
    """
    said: dict[str, Any] = {}
    for question in QUESTIONS:
        typed = given.get(question.option)
        said[question.field] = question.read(question.usual(said) if typed is None else typed, said)
    return Answers(**said)


def _read_use(text: str, _: Said) -> Called:
    instead = schema_named("design")["properties"]["use"]["instead"]
    plain = " ".join(text.lower().split())
    use = instead.get(plain, plain)
    if use not in CALLED:
        near = use if plain in instead else most_like(use, CALLED)
        refuse("", f'there is no use "{text}"', near or f"one of: {', '.join(CALLED)}")
    found: Called = use
    return found


def _sides_listed(said: Said) -> str:
    outline: Outline = said["outline"]
    unit, step = ("m", 1.0) if outline.system == "metric" else ("ft", FOOT)
    return ", ".join(f"{name} {outline.run(at) / step:.4g}{GLUE}{unit}" for at, name in enumerate(outline.sides))


def _read_sides(text: str, outline: Outline) -> tuple[int, ...]:
    """Sides by their names in either direction, in the order of the outline; none for ``none``."""
    plain = text.strip().upper()
    if plain in ("NONE", "NO", "N"):
        return ()
    found: set[int] = set()
    for name in [one for one in re.split(r"[\s,;&+]+|\bAND\b", plain) if one]:
        ends = [letter for letter in name if letter != "-"]
        at = [number for number, side in enumerate(outline.sides) if sorted(ends) == sorted((side[0], side[2]))]
        if not at:
            refuse("", f'"{text}" names no side', f"one or more of {', '.join(outline.sides)}, or none")
        found.update(at)
    if not found:
        refuse("", "no side is named", f"one or more of {', '.join(outline.sides)}, or none")
    return tuple(sorted(found))


def _read_walls(text: str, said: Said) -> tuple[int, ...]:
    outline: Outline = said["outline"]
    walls = _read_sides(text, outline)
    if len(walls) == len(outline.sides):
        refuse("", "a wall on every side leaves no way for water, nor for the truck", "all but the open side")
    if KITS[said["use"]].indoors:
        return walls
    away = _summed([_turned(outline.outward(side)) for side in walls])
    names = " and ".join(outline.sides[side] for side in walls)
    if any(_dot(away, outline.outward(side)) > -0.5 for side in walls):
        wrong = f"one plane cannot fall away from {names} at once"
        refuse("", wrong, "the wall with the door, or two that meet at a corner; draw the others in the file")
    return walls


def _usual_walls(said: Said) -> str:
    outline: Outline = said["outline"]
    kit = KITS[said["use"]]
    if kit.indoors:
        door = _usual_water({**said, "walls": ()})
        return ", ".join(name for name in outline.sides if name != door)
    return outline.sides[0] if kit.wall else "none"


def _usual_water(said: Said) -> str:
    """The side that lies farthest down the fall from the walls; of one without, along a walk or opposite its first."""
    outline: Outline = said["outline"]
    walls: tuple[int, ...] = said["walls"]
    kit = KITS[said["use"]]
    free = [side for side in range(len(outline.sides)) if side not in walls]
    away = _summed([_turned(outline.outward(side)) for side in walls]) if walls else (0.0, 1.0)
    if kit.indoors and outline.inside_corners() and not walls:
        return outline.sides[0]  # the one side that no other faces alongside
    if kit.across and not walls:
        longest = max(outline.run(side) for side in free)
        free = [side for side in free if side and outline.run(side) > longest - 0.01] or free
        return outline.sides[free[0]]

    def down(side: int) -> tuple[bool, float]:
        (ax, ay), (bx, by) = outline.lines[side]
        faces = _dot(away, outline.outward(side)) > 0.5
        return faces, _dot(away, ((ax + bx) / 2, (ay + by) / 2))

    return outline.sides[max(free, key=down)]


def _read_water(text: str, said: Said) -> tuple[int, ...]:
    outline: Outline = said["outline"]
    walls: tuple[int, ...] = said["walls"]
    water = _read_sides(text, outline)
    free = ", ".join(name for at, name in enumerate(outline.sides) if at not in walls)
    if not water:
        refuse("", "water that leaves over no side stays on the slab", f"one of {free}")
    for side in water:
        if side in walls:
            refuse("", f"{outline.sides[side]} is a wall", f"one of {free}")
    down = falls_to(outline, walls, water, KITS[said["use"]].indoors)
    for side in water:
        if _dot(down, outline.outward(side)) <= 0.1:
            refuse("", f"water that falls away from the wall does not come to {outline.sides[side]}",
                   f"another of {free}")  # fmt: skip
    inside = outline.inside_corners()
    turned = any(_dot(falls_to(outline, walls, (), False), outline.outward(side)) < 0.5 for side in water)
    if turned and not KITS[said["use"]].indoors:
        for side in walls:
            if side in inside or (side + 1) % len(outline.sides) in inside:
                refuse("", f"water that runs along the wall {outline.sides[side]} comes to the inside corner",
                       "the side away from the wall")  # fmt: skip
    for side in walls:
        if _dot(down, outline.outward(side)) > 0.1:
            refuse("", f"water that leaves over {text.strip().upper()} runs to the wall {outline.sides[side]}",
                   f"another of {free}")  # fmt: skip
    return water


def falls_to(outline: Outline, walls: Sequence[int], water: Sequence[int], indoors: bool) -> XY:
    """The way the slab falls, one unit for each direction it falls in: away from walls, and to where water leaves."""
    ways = [] if indoors else [_turned(outline.outward(side)) for side in walls]
    return _summed([*ways, *(outline.outward(side) for side in water)])


def _summed(ways: Sequence[XY]) -> XY:
    """Directions added up, each that is nearly there already left out."""
    x = y = 0.0
    for way in ways:
        if _dot((x, y), way) < 0.5:
            x, y = x + way[0], y + way[1]
    return x, y


def _dot(one: XY, two: XY) -> float:
    return one[0] * two[0] + one[1] * two[1]


def _turned(way: XY) -> XY:
    return -way[0], -way[1]


def _read_thickness(text: str, said: Said) -> Amount:
    outline, kit = said["outline"], KITS[said["use"]]
    usual, least = pick(kit.thickness, outline.system), pick(kit.least, outline.system)
    try:
        amount = read(text, Kind.DEPTH)
    except QuantityError as error:
        refuse("", error.wrong or f'"{text}" is no thickness', error.write or usual)
    if amount.si < read(least, Kind.DEPTH).si - NEARLY:
        refuse("", f"{text.strip()} is too thin for a {said['use']}", f"{least} or more; {usual} is usual")
    if amount.si > THICKEST + NEARLY:
        refuse("", f"{text.strip()} is thicker than one board forms", usual)
    return amount


_FREEZING: Mapping[str, Freezing] = {
    "none": "none", "no": "none", "never": "none", "moderate": "moderate", "some": "moderate", "severe": "severe",
    "hard": "severe", "yes": "severe", "salt": "salt", "severe with salt": "salt", "salted": "salt",
}  # fmt: skip
_STEEL: Mapping[str, Steel] = {
    "none": "none", "no": "none", "bars": "bars", "bar": "bars", "rebar": "bars", "yes": "bars", "mesh": "mesh",
    "wire": "mesh", "wire mesh": "mesh", "fiber": "fiber", "fibre": "fiber", "fibers": "fiber", "fibres": "fiber",
}  # fmt: skip
_COMES: Mapping[str, Comes] = {
    "chute": "chute", "truck": "chute", "pump": "pump", "buggy": "buggy", "buggies": "buggy",
    "wheelbarrow": "wheelbarrow", "wheelbarrows": "wheelbarrow", "barrow": "wheelbarrow", "barrows": "wheelbarrow",
}  # fmt: skip


def _one_of(words: Mapping[str, str]) -> Callable[[str, Said], str]:
    listed = list(dict.fromkeys(words.values()))

    def reads(text: str, _: Said) -> str:
        plain = " ".join(text.lower().split())
        if plain in words:
            return words[plain]
        near = most_like(plain, words)
        return refuse("", f'"{text}" is not known here', words[near] if near else f"one of: {', '.join(listed)}")

    return reads


QUESTIONS: tuple[Question, ...] = (
    Question("use", "use", lambda _: f"What is it for? {', '.join(CALLED)}", lambda _: "patio", _read_use),
    Question(
        "outline", "size",
        lambda _: "How big is it? Along the wall x away from it, as in 20 ft x 12 ft or 6 m x 4 m; an L: 20 ft x 12 ft "
                  "+ 8 ft x 10 ft; or as taped: 20 ft, 12 ft, 20'-1\", 12 ft, diagonal 23'-4\"",
        lambda _: "12 ft x 16 ft", lambda text, _: read_size(text),
    ),
    Question(
        "walls", "wall", lambda said: f"Which sides stand against a wall? {_sides_listed(said)}, or none",
        _usual_walls, _read_walls,
    ),
    Question(
        "water", "water", lambda said: "Over which side does the water leave?", _usual_water, _read_water,
    ),
    Question(
        "thickness", "thickness", lambda _: "How thick is it?",
        lambda said: pick(KITS[said["use"]].thickness, said["outline"].system), _read_thickness,
    ),
    Question(
        "freezing", "freezing", lambda _: "How hard does it freeze while wet? none, moderate, severe, or salt: severe "
                                          "with salt on it",
        lambda said: "none" if KITS[said["use"]].indoors else "salt", _one_of(_FREEZING),
    ),
    Question(
        "steel", "steel", lambda _: "Which steel? none, bars, mesh, fiber", lambda said: KITS[said["use"]].steel,
        _one_of(_STEEL),
    ),
    Question(
        "comes", "method", lambda _: "How does the concrete come? chute, pump, buggy, wheelbarrow", lambda _: "chute",
        _one_of(_COMES),
    ),
)  # fmt: skip
