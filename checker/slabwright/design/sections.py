"""Sections with a logic of their own: keys that stand in for others, counted names, outlines, files of shots."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import hypot
from pathlib import Path
from typing import Any

from slabwright.design.fixtures import Channel, Fixture
from slabwright.design.heights import Fixed, HeightLine, Heights, SpotHeight, kind_called
from slabwright.design.joints import Joint
from slabwright.design.located import Group, Items
from slabwright.design.model import Design, Mix, Part
from slabwright.design.outline import SOFT_GROUND, Corner, Edge, Isolation, Measured, Opening, side_at
from slabwright.design.phrases import EUROPEAN
from slabwright.design.point import Point, Points
from slabwright.design.reinforcement import Mesh, Reinforcement
from slabwright.design.structure import Settle
from slabwright.design.thickness import Steps, Thickness
from slabwright.design.uses import COUNTS_AS
from slabwright.formulas.mix import SLUMP_CLASSES
from slabwright.source.place import Place
from slabwright.source.problem import Problems
from slabwright.units.quantity import Amount, Kind, System, depth, heights_in

SAME_POINT = 0.001  # m: corners nearer than this are one corner
SLUMP_SLACK = 0.005  # m: what lies between two classes belongs to either
POOL = r"(?i)\b(pool|schwimmbecken|piscine)$"  # an opening that is called so
AT_SIDE = 0.61  # m, 2 ft: how far from the slab a door or gate may stand in its wall
STRAIGHT = 0.001  # an arc that rises less than this share of its chord is a straight line

# What only some fixtures have.
_BELONGS_TO = (
    ("rim", ("drain", "cleanout", "meter", "valve")),
    ("outlet", ("drain",)),
    ("sill", ("door",)),
    ("width", ("door", "gate")),
    ("swings_over", ("door", "gate")),
    ("canopy", ("door",)),
    ("pipe", ("drain",)),
    ("roof", ("downspout",)),
    ("footing", ("post", "column")),
    ("hinge", ("door", "gate")),
    ("bottom", ("door", "gate")),
    ("opens_to", ("door", "gate")),
    ("plate", ("anchor",)),
    ("embedment", ("anchor",)),
)

# What only an entry of several pours has, and where else it is written.
_OF_SEVERAL = {
    "name": "delete it",
    "day": "job: {pour: 2026-04-14}, with the day",
    "corners": "delete it: one pour covers the whole slab",
    "volume": "order: {volume: 12 yd3}, with the volume",
}


class Sections:
    """What must happen to the data of some sections before a record is made of them.

    Each method takes the data of one section with its place, checks what the schema cannot, and gives the same data
    with a key for each field, or the record itself.
    """

    def __init__(self, path: Path, points: Points, problems: Problems, questions: Problems) -> None:
        self.path = path
        self.points = points
        self.problems = problems
        self.questions = questions
        self.units: Mapping[str, Any] = {}

    @property
    def settle(self) -> Mapping[type, Settle]:
        """What to do first with the data of each class; not kept, so that nothing here rests on itself."""
        return {
            Channel: self.channel,
            Design: self.design,
            Edge: self.edge,
            Fixed: self.fixed,
            Fixture: self.fixture,
            HeightLine: self.height_line,
            Heights: self.heights,
            Isolation: self.isolation,
            Joint: self.joint,
            Measured: self.measured,
            Mesh: self.mesh,
            Mix: self.mix,
            Opening: self.opening,
            Part: self.part,
            Reinforcement: self.reinforcement,
            Steps: self.steps,
            Thickness: self.thickness,
        }

    def design(self, data: Group, place: Place) -> Group:
        """The whole file."""
        del data["format"]
        units = self.units = data.pop("units")
        data["plan_unit"], data["height_unit"] = units["plan"], units["height"]
        system: System = units.get("show") or ("us" if units["plan"] in ("ft", "in") else "metric")
        data["system"] = heights_in(system, units["height"])
        data["called"], data["use"] = data["use"], COUNTS_AS[data["use"]]
        data["file"], data["points"] = str(self.path), self.points.named
        data["outline"] = self.corners(data["outline"])
        for group in data.get("fixtures", ()):
            self.width(group, data["outline"])
        self.name(data.get("openings", ()), "opening", "opening {}")
        self.name(data.get("parts", ()), "part", "part {}")
        self.name(data.get("joints", ()), "joint", "J{}")
        self.name(data.get("channels", ()), "channel", "channel {}")
        self.name(data.get("embedded", ()), "run of tubes", "tubes {}")
        self.pours(data)
        self.name(data.get("stalls", ()), "stall", "stall {}")
        return data

    def pours(self, data: Group) -> None:
        """One pour is a section, or the only entry of a list; of several each has its day, corners and order."""
        said = data.pop("pour", None)
        several = list(said) if isinstance(said, list) else [said] if said is not None else []
        if len(several) < 2:
            for group in several:
                data["pour"] = group
                for key, write in _OF_SEVERAL.items():
                    if key in group:
                        self.problems.add(group.places[key], f'"{key}" belongs to one of several pours', write)
            return
        self.name(several, "pour", "pour {}")
        for group in several:
            for key, such in (("day", "day: 2026-04-14"), ("corners", "corners: [A, B, C, D]")):
                if key not in group:
                    wrong = f"{group['name']} does not say its {key}"
                    self.problems.add(group.place, wrong, f"{such}, and so in each of the {len(several)} pours")
        for section, key, own in (("job", "pour", "day"), ("order", "volume", "volume")):
            if key in data.get(section, ()):
                wrong = f'"{section}.{key}" is of one pour, and there are {len(several)}'
                told = all(own in group for group in several)
                write = f"delete it: each pour has its {own}" if told else f"{own} in each entry of pour"
                self.problems.add(data[section].places[key], wrong, write)
        days = [group["day"] for group in several if "day" in group]
        if days:
            data["job"]["pour"] = min(days)
        data["pours"] = sorted(several, key=lambda group: group["day"]) if len(days) == len(several) else several

    def name(self, items: Sequence[Group], what: str, counted: str) -> None:
        """Names of one sort of thing: given, or counted by the place in the list; a second of one name is refused."""
        seen: dict[str, Place] = {}
        for number, group in enumerate(items, 1):
            name = group.setdefault("name", counted.format(number))
            place = group.places.get("name", group.place)
            first = seen.setdefault(name.casefold(), place)
            if first is not place:
                wrong = f'a second {what} is called "{name}"; the first is on line {first.line}'
                self.problems.add(place, wrong, "give it another name")

    def corners(self, items: Items) -> tuple[Corner, ...]:
        """Corners of an outline or an opening."""
        spot = self.points.spot
        corners = tuple(
            Corner(spot(item["arc_to"]), spot(item["through"]), place)
            if isinstance(item, Group)
            else Corner(spot(item), None, place)
            for item, place in zip(items, items.places, strict=True)
        )
        corners = opened(corners)
        self.arcs(corners)
        arcs = sum(1 for corner in corners if corner.through is not None)
        if len(corners) < 3 and not (len(corners) == 2 and arcs):
            self.problems.add(items.place, f"{len(corners)} corners make no shape", "at least 3 corners")
        return corners

    def arcs(self, corners: Sequence[Corner]) -> None:
        """Note arcs whose middle point lies on the straight line between their ends, or that end where they begin."""
        for before, corner in zip([corners[-1], *corners[:-1]], corners, strict=True):
            through = corner.through
            if through is None:
                continue
            start, end = before.at, corner.at
            chord = hypot(end.x - start.x, end.y - start.y)
            if chord == 0.0:
                self.problems.add(corner.place, "this arc ends where it begins", "make two arcs of it")
                continue
            others = [one.at for one in corners if one.at not in (start, end)]
            if any(hypot(at.x - through.x, at.y - through.y) <= SAME_POINT for at in others):
                self.problems.add(
                    corner.place,
                    "the point this arc passes through is a corner already",
                    "let the arc pass through a point of its own, or make it two arcs that meet at that corner",
                )
                continue
            across = (end.x - start.x) * (through.y - start.y) - (end.y - start.y) * (through.x - start.x)
            if abs(across) / chord**2 < STRAIGHT:
                self.problems.add(
                    corner.place,
                    "the point this arc passes through lies on the straight line between its ends",
                    "move that point out to the curve, or name the corner alone for a straight run",
                )

    def one_or_each(self, group: Group, key: str, spots: int, wrong: str, each: str, several: bool) -> None:
        """Refuse heights that are neither one nor as many as the points they stand at."""
        heights = group.get(key)
        if isinstance(heights, list) and 1 < len(heights) != spots:
            wanted = f"one height, or {spots}: {each}" if several else "one height"
            self.problems.add(group.places[key], f"there are {len(heights)} {wrong}", wanted)

    def along(self, group: Group, *keys: str) -> None:
        """Let the points of keys stand in for ``along``, which they are refused beside."""
        given = [key for key in keys if key in group]
        if given and "along" in group:
            self.problems.add(group.places[given[0]], f'"{given[0]}" does not go with "along"', "keep one of the two")
        group.setdefault("along", [group.pop(key) for key in given])

    def opening(self, group: Group, place: Place) -> Group:
        """One entry of ``openings``; what is called a pool is one, whatever it is said to hold."""
        if group.get("holds", "other") in ("pit", "other") and re.search(POOL, group.get("name", "")):
            group["holds"] = "pool"
        group["corners"] = self.corners(group["corners"])
        return group

    def part(self, group: Group, place: Place) -> Group:
        """One entry of ``parts``."""
        group["corners"] = self.corners(group["corners"])
        if "use" in group:
            group["called"], group["use"] = group["use"], COUNTS_AS[group["use"]]
        steel = group.get("reinforcement")
        if isinstance(steel, Group) and "fiber" in steel:
            wrong = "fiber is mixed into all of the concrete, and not into a part of it alone"
            self.problems.add(steel.places["fiber"], wrong, "write it under reinforcement of the whole slab")
        return self.board(group)

    def board(self, group: Group) -> Group:
        """A section with the depth of its form board, and the name of that board."""
        if "form_board" in group:
            group["form_board"], group["form_board_name"] = group["form_board"]
        return group

    def edge(self, group: Group, place: Place) -> Group:
        """One entry of ``edges``."""
        if "rest" in group:
            group["beside"] = group.pop("rest")
        if "ground_below" in group:
            self.dressed(group, group.places["ground_below"])
        run = group.get("run", ())
        self.one_or_each(
            group, "ground", len(run), "heights of the ground here", "one for each point of the run", bool(run)
        )
        return group

    def dressed(self, group: Group, place: Place) -> None:
        """Refuse ground dressed to the slab where a height is given as well, or something stands that stays."""
        if "ground" in group:
            self.problems.add(place, '"ground_below" does not go with "ground"', "keep one of the two")
        elif group.get("beside") not in SOFT_GROUND:
            soft = f"{', '.join(SOFT_GROUND[:-1])} and {SOFT_GROUND[-1]}"
            wrong = f'"ground_below" belongs to {soft}; other things stay where they are'
            such = "99.30" if self.units["height"] in ("ft", "in") else "99.850"
            self.problems.add(place, wrong, f"its height, as in ground: {such}")

    def isolation(self, said: Any, place: Place) -> Group | Isolation:
        """Filler, or ``none``."""
        if not isinstance(said, Group):
            return Isolation("none", depth(0.0), depth(0.0), place=place)
        if isinstance(said.get("depth"), str):
            del said["depth"]
            said["full_depth"] = True
        return said

    def fixed(self, group: Group, place: Place) -> Group:
        """One entry of ``fixed``."""
        group.setdefault("kind", kind_called(group["name"]))
        self.along(group, "at")
        spots = len(group["along"])
        self.one_or_each(group, "height", spots, "heights here", "one for each point", spots > 1)
        return group

    def fixture(self, group: Group, place: Place) -> Group:
        """One entry of ``fixtures``."""
        kind = group["kind"]
        wide = kind in ("door", "gate")
        if "at" not in group and not ((wide or kind == "anchor") and "along" in group):
            wrong = f"this {kind} does not say where it is"
            lined = kind == "drain" and "along" in group
            write = "along: [A, B]" if wide else "at: [12, 3], or the name of a point"
            long = "under channels, with along and width, for a drain along a line; at: [12, 3] for a drain at a spot"
            self.problems.add(group.place, wrong, long if lined else write)
        for key, kinds in _BELONGS_TO:
            if key in group and kind not in kinds:
                belongs = " or ".join((_one(kinds[0]), *kinds[1:]))
                wrong = f'"{key}" belongs to {belongs}, and this is {_one(kind)}'
                self.problems.add(group.places[key], wrong, "delete it, or change the kind")
        group.pop("width", None)  # laid out by now
        return group

    def width(self, group: Group, outline: tuple[Corner, ...]) -> None:
        """Lay the width of a door or gate along the side of the slab that it stands at."""
        if "width" not in group or group["kind"] not in ("door", "gate"):
            return
        if "along" in group:
            self.problems.add(group.places["width"], '"width" does not go with "along"', "keep one of the two")
        if "along" in group or "at" not in group:
            return
        at, half = self.points.spot(group["at"]), group["width"].si / 2
        away, ux, uy = side_at(outline, at)
        if away > AT_SIDE:
            wrong = f"no side of the slab is near this {group['kind']}, so its width has no direction"
            self.problems.add(group.places["width"], wrong, "along: [[4, 0], [7, 0]] in place of at and width")
        group["along"] = [Point(at.x + way * half * ux, at.y + way * half * uy) for way in (-1, 1)]

    def channel(self, group: Group, place: Place) -> Group:
        """One entry of ``channels``."""
        along = [self.points.spot(one) for one in group["along"]]
        if sum(hypot(b.x - a.x, b.y - a.y) for a, b in pairwise(along)) <= SAME_POINT:
            self.problems.add(group.places["along"], "this channel begins and ends at one point", "another point")
        for key, what in (("rim", "heights of the rim here"), ("invert", "heights of the bottom here")):
            self.one_or_each(group, key, len(along), what, "one for each point of the line", True)
        said = group.get("outlet_at", [])
        for one in map(self.points.spot, said if isinstance(said, list) else [said]):
            if all(hypot(one.x - at.x, one.y - at.y) > SAME_POINT for at in along):
                self.problems.add(
                    group.places["outlet_at"], "the channel lets out where its line has no point", "a point of its line"
                )
        return group

    def measured(self, group: Group, place: Place) -> Measured:
        """One entry of ``measured``."""
        start, end = self.points.spot(group["from"]), self.points.spot(group["to"])
        if (start.x, start.y) == (end.x, end.y):
            self.problems.add(group.places["to"], "this length begins and ends at one point", "another point")
        return Measured((start, end), group["length"], group.place)

    def thickness(self, group: Group, place: Place) -> Group:
        """``thickness``."""
        self.name(group.get("steps", ()), "flight of steps", "steps {}")
        return self.board(group)

    def steps(self, group: Group, place: Place) -> Group:
        """One entry of ``thickness.steps``."""
        for key in ("riser", "count"):
            if "risers" in group and key in group:
                self.problems.add(group.places[key], f'"{key}" does not go with "risers"', "keep one of the two")
        foot = [self.points.spot(one) for one in group.get("foot", ())]
        if foot and hypot(foot[1].x - foot[0].x, foot[1].y - foot[0].y) <= SAME_POINT:
            self.problems.add(group.places["foot"], "this nosing begins and ends at one point", "another point")
        if "climbs_to" in group and not foot:
            self.problems.add(group.places["climbs_to"], '"climbs_to" needs a foot', "foot: [[4, 3], [8, 3]]")
        count = len(group["risers"]) if "risers" in group else group.get("count", 0)
        seen: set[int] = set()
        for landing in group.get("landings", ()):
            after = landing["after"]
            if after > count or after in seen:
                wrong = f"there is no riser {after}" if after > count else f"two landings lie behind riser {after}"
                self.problems.add(landing.places["after"], wrong, "the number of a riser, counted from the foot")
            seen.add(after)
        return group

    def joint(self, group: Group, place: Place) -> Group:
        """One entry of ``joints``."""
        self.along(group, "from", "to")
        return group

    def mesh(self, group: Group, place: Place) -> Group:
        """``reinforcement.mesh``: what the style says, and what the section adds."""
        group.update(group["style"]._asdict())
        return group

    def mix(self, group: Group, place: Place) -> Group:
        """``mix``: exposure classes apart, and the slump that a class of consistence stands for."""
        classes: tuple[str, ...] = group.pop("exposure", ())
        if classes:
            frost = sorted(one for one in classes if one.startswith("XF"))
            group["exposure"] = frost[-1] if frost else classes[0]
            group["classes"] = tuple(one for one in classes if one in EUROPEAN)
        consistence = group.get("consistence")
        if consistence in SLUMP_CLASSES:
            low, high = SLUMP_CLASSES[consistence]
            asked = group.setdefault("slump", Amount((low + (high or low)) / 2, Kind.DEPTH, consistence, place))
            if not low - SLUMP_SLACK <= asked.si <= (high or asked.si) + SLUMP_SLACK:
                wrong = f"the slump of {asked.typed} does not lie in class {consistence}"
                self.questions.add(group.places["slump"], wrong, "which of the two is ordered?")
        return group

    def reinforcement(self, said: Any, place: Place) -> Group | Reinforcement:
        """``reinforcement``, or ``none``."""
        return said if isinstance(said, Group) else Reinforcement(none=True, place=place)

    def height_line(self, group: Group, place: Place) -> Group:
        """One entry of ``heights.lines``."""
        group.setdefault("name", "")
        return group

    def heights(self, group: Group, place: Place) -> Group:
        """``heights``: spot heights typed at points or reduced from files of rod readings."""
        benches: dict[str, Amount] = dict(group.get("benches", {}))
        for name in ("finish", "base", "existing"):
            said: Any = group.get(name)
            if isinstance(said, Group):
                group[name] = tuple(
                    SpotHeight(self.points.named[point], height, said.places[point]) for point, height in said.items()
                )
            elif said is not None:
                from slabwright.design.shots import read_shots  # 4 ms: most files name no shots

                group[name], _ = read_shots(
                    self.path, said, benches, self.points.named, self.units, self.problems, self.questions
                )
        group["benches"] = benches
        return group


def opened(corners: tuple[Corner, ...]) -> tuple[Corner, ...]:
    """The corners without the first typed again at the end; an arc typed there is the side that closes the shape."""
    if len(corners) < 2:
        return corners
    first, last = corners[0], corners[-1]
    again = hypot(last.at.x - first.at.x, last.at.y - first.at.y) <= SAME_POINT
    if not again or (last.through and first.through):
        return corners
    return opened((first if last.through is None else last._replace(at=first.at), *corners[1:-1]))


def _one(kind: str) -> str:
    """A kind of fixture with its article."""
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"
