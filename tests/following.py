"""Doing exactly what a comment's ``to_pass`` says, to the design as parsed.

A follower takes the design, the comment and the printed amounts of its sentence, and changes the design. It reads
every number from the sentence as it is printed, since that is what a crew would write down.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import shapely
from slabwright.geometry.shape.ahead import distance_ahead
from slabwright.review.report import Comment
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind, System
from turning import Drawing, decimal

Data = dict[str, Any]
Follower = Callable[[Data, Comment, "Said"], None]


class Said:
    """The amounts of a sentence as they are printed, read back."""

    def __init__(self, comment: Comment, system: System) -> None:
        self.values = comment.to_pass.values
        self.system = system

    def text(self, slot: str) -> str:
        """A slot as printed in the first unit system."""
        value = self.values[slot]
        return quantity.show(value, self.system, both=False) if isinstance(value, Amount) else str(value)

    def si(self, slot: str) -> float:
        """The number that the printed slot says, SI."""
        value = self.values[slot]
        assert isinstance(value, Amount)
        text = self.text(slot)
        return quantity.read(text.partition(" (")[0] if value.kind == Kind.SLOPE else text, value.kind).si


def follow(drawing: Drawing, comment: Comment, system: System, follower: Follower) -> Drawing:
    """The drawing with one comment followed."""
    data = _copied(drawing.data)
    follower(data, comment, Said(comment, system))
    return Drawing(data, drawing.readings)


def _copied(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _copied(item) for key, item in value.items()}
    return [_copied(item) for item in value] if isinstance(value, list) else value


def _unit(data: Data, what: str, metres: float) -> str:
    return decimal(quantity.to_unit(Amount(metres, Kind.LENGTH), data["units"][what]))


def _xy(data: Data, said: Any) -> tuple[float, float]:
    pair = data["points"][said] if isinstance(said, str) else said
    factor = quantity.bare(1.0, data["units"]["plan"], Kind.LENGTH).si
    return float(pair[0]) * factor, float(pair[1]) * factor


def _slab(data: Data) -> shapely.Polygon:
    return shapely.Polygon([_xy(data, corner) for corner in data["outline"]])


def _named(items: list[Data], name: str, counted: str = "") -> Data:
    """The item of a list that has a name, or that is counted under it."""
    for number, item in enumerate(items, 1):
        if item.get("name", f"{counted}{number}") == name:
            return item
    raise LookupError(name)


def _set_line(data: Data, joint: Data, line: Any) -> None:
    joint.pop("along", None)
    joint["from"], joint["to"] = ([_unit(data, "plan", float(v)) for v in end] for end in line)


def _line(data: Data, joint: Data) -> np.ndarray:
    return np.array([_xy(data, joint["from"]), _xy(data, joint["to"])])


# heights


def heights(data: Data, comment: Comment, said: Said) -> None:
    """Raise or lower points to the heights given."""
    numbers = [slot.removeprefix("to") for slot in said.values if slot.startswith("to")]
    assert numbers
    for number in numbers:
        name = str(said.values[f"name{number}"])
        section = "base" if name.startswith("the base at ") else "finish"
        spots = data["heights"][section]
        point = name.removeprefix("the base at ")
        before = float(spots[point]) * quantity.bare(1.0, data["units"]["height"], Kind.HEIGHT).si
        spots[point] = _unit(data, "height", said.si(f"to{number}"))
        assert abs(before - said.si(f"to{number}")) == np.float64(said.si(f"off{number}")).round(9) or math.isclose(
            abs(before - said.si(f"to{number}")), said.si(f"off{number}"), abs_tol=0.0015
        )  # "by" and "to" say the same, to the last digit printed


def ground_down(data: Data, comment: Comment, said: Said) -> None:
    """Cut the ground beside an edge down to a height."""
    _named(data["edges"], comment.at.name)["ground"] = _unit(data, "height", said.si("low"))


def fixture_moved(data: Data, comment: Comment, said: Said) -> None:
    """Carry a downspout on to a point, as far off as is said."""
    spout = _named(data["fixtures"], said.text("spout"))
    old, new = np.array(_xy(data, spout["at"])), np.array(_xy(data, said.text("point")))
    assert math.isclose(float(np.hypot(*(new - old))), said.si("away"), abs_tol=0.001)
    spout["at"] = said.text("point")


def length_written(data: Data, comment: Comment, said: Said) -> None:
    """Write the length that a tape reads the second time."""
    first, last = comment.at.name.split("-")
    (one,) = (one for one in data["measured"] if (one["from"], one["to"]) == (first, last))
    one["length"] = said.text("write")


def fold_drawn(data: Data, comment: Comment, said: Said) -> None:
    """Draw a grade break from corner to opposite corner."""
    data["heights"].setdefault("lines", []).append({"kind": "grade break", "along": [said.text("a"), said.text("c")]})


def fold_drawn_across(data: Data, comment: Comment, said: Said) -> None:
    """Draw it between the other two corners."""
    data["heights"].setdefault("lines", []).append({"kind": "grade break", "along": [said.text("b"), said.text("d")]})


def fixed_lower(data: Data, comment: Comment, said: Said) -> None:
    """Bring a fixed height down."""
    fixed = _named(data["fixed"], said.text("name"))
    size = quantity.bare(1.0, data["units"]["height"], Kind.HEIGHT).si
    fixed["height"] = _unit(data, "height", float(fixed["height"]) * size - said.si("off"))


def ground_up(data: Data, comment: Comment, said: Said) -> None:
    """Bring the ground beside an edge up to a height."""
    _named(data["edges"], comment.at.name)["ground"] = _unit(data, "height", said.si("up"))


def outlet_lower(data: Data, comment: Comment, said: Said) -> None:
    """Let a drain out at a height."""
    _named(data["fixtures"], said.text("drain"))["outlet"] = _unit(data, "height", said.si("low"))


def leaf_higher(data: Data, comment: Comment, said: Said) -> None:
    """Hang a leaf at a height."""
    leaf = _named(data["fixtures"], said.text("leaf"))
    assert math.isclose(
        (said.si("write") - said.si("more")) / quantity.bare(1.0, data["units"]["height"], Kind.HEIGHT).si,
        float(leaf["bottom"]),
        abs_tol=0.005,
    )
    leaf["bottom"] = _unit(data, "height", said.si("write"))


def fall_as_built(data: Data, comment: Comment, said: Said) -> None:
    """Bring the lower point to the height that the written fall asks."""
    data["heights"]["finish"][said.text("point")] = _unit(data, "height", said.si("to"))


def fall_as_worked(data: Data, comment: Comment, said: Said) -> None:
    """Write the fall that the heights give."""
    (stated,) = data["heights"]["falls"]
    stated["along"] = [said.text("first"), said.text("last")]
    stated["fall"] = said.text("worked").partition(" (")[0]


# joints and panels


def cut_bays(data: Data, comment: Comment, said: Said) -> None:
    """Cut a panel across its long side into bays, and along it where that is said too."""
    box = shapely.minimum_rotated_rectangle(shapely.Polygon(comment.at.shape))
    corners = np.asarray(box.exterior.coords)[:4]
    a, b, d = corners[0], corners[1], corners[3]
    if np.hypot(*(b - a)) < np.hypot(*(d - a)):
        b, d = d, b
    joints = data.setdefault("joints", [])
    ways = [(a, b - a, d - a, "n", "bay")] + ([(a, d - a, b - a, "m", "width")] if "m" in said.values else [])
    for start, run, across, count, bay in ways:
        size = float(np.hypot(*run))
        bays = round(said.si(count))
        assert math.isclose(bays * said.si(bay), size, abs_tol=0.002 * bays)  # the bays fill the side
        for k in range(1, bays):
            foot = start + run * (k * said.si(bay) / size)
            joint: Data = {"kind": "saw cut", "name": f"new {len(joints)}"}
            _set_line(data, joint, (foot, foot + across))
            joints.append(joint)


def onto_corner(data: Data, comment: Comment, said: Said) -> None:
    """Move a joint by a distance, onto an inside corner."""
    joint = _named(data["joints"], said.text("joint"), "J")
    line, corner = _line(data, joint), np.array(comment.at.shape[0])
    foot = np.asarray(shapely.shortest_line(shapely.LineString(line), shapely.Point(corner)).coords)[0]
    assert math.isclose(float(np.hypot(*(corner - foot))), said.si("away"), abs_tol=0.001)
    _set_line(data, joint, line + (corner - foot))


def joint_deeper(data: Data, comment: Comment, said: Said) -> None:
    """Write another depth for a joint."""
    _named(data["joints"], comment.at.name.removeprefix("joint "), "J")["depth"] = said.text("write")


def carry_on(data: Data, comment: Comment, said: Said) -> None:
    """Carry joints on, straight ahead, for a distance."""
    ways = [(said.text("joint").removeprefix("joint "), "ahead")] if "joint" in said.values else [
        (said.text(slot), f"way{slot.removeprefix('name')}") for slot in said.values if slot.startswith("name")
    ]  # fmt: skip
    slab = _slab(data)
    for name, way in ways:
        joint = _named(data["joints"], name, "J")
        line = _line(data, joint)
        end = max((0, 1), key=lambda k: slab.boundary.distance(shapely.Point(line[k])))
        out = line[end] - line[1 - end]
        line[end] = line[end] + out / np.hypot(*out) * said.si(way)
        _set_line(data, joint, line)


def no_point(data: Data, comment: Comment, said: Said) -> None:
    """Turn a joint towards square at a pointed corner, or make a sliver wider."""
    _widen(data, comment, said) if "wider" in comment.to_pass.template else _turn(data, comment, said)


def _turn(data: Data, comment: Comment, said: Said) -> None:
    corner, slab = np.array(comment.at.shape[0]), _slab(data)
    joint = min(data["joints"], key=lambda one: shapely.Point(corner).distance(shapely.LineString(_line(data, one))))
    line = _line(data, joint)
    if np.hypot(*(line[1] - corner)) < np.hypot(*(line[0] - corner)):
        line = line[::-1]
    ring = np.asarray(slab.exterior.coords)
    sides = [shapely.LineString(ring[k : k + 2]) for k in range(len(ring) - 1)]
    side = np.asarray(min(sides, key=lambda one: one.distance(shapely.Point(corner))).coords)
    along = (side[1] - side[0]) / np.hypot(*(side[1] - side[0]))
    found = []
    for sign in (1, -1):
        turn = math.radians(sign * said.si("more"))
        c, s = math.cos(turn), math.sin(turn)
        way = np.array([[c, -s], [s, c]]) @ (line[1] - line[0]) / np.hypot(*(line[1] - line[0]))
        found.append((abs(float(way[0] * along[1] - way[1] * along[0])), way))
    way = max(found, key=lambda one: one[0])[1]
    reach = distance_ahead(slab, (float(corner[0]), float(corner[1])), (float(way[0]), float(way[1])))
    _set_line(data, joint, (corner, corner + way * reach))


def _widen(data: Data, comment: Comment, said: Said) -> None:
    panel = shapely.Polygon(comment.at.shape)
    joint = max(data["joints"], key=lambda one: panel.boundary.buffer(1e-6).intersection(
        shapely.LineString(_line(data, one))).length)  # fmt: skip
    line = _line(data, joint)
    foot = np.asarray(shapely.shortest_line(panel.centroid, shapely.LineString(line)).coords)
    out = (foot[1] - foot[0]) / np.hypot(*(foot[1] - foot[0]))
    _set_line(data, joint, line + out * said.si("more"))


def joints_filled(data: Data, comment: Comment, said: Said) -> None:
    """Seal joints."""
    for name in said.text("names").split(", "):
        _named(data["joints"], name, "J")["sealed"] = "true"


# filler


def filler_at_edge(data: Data, comment: Comment, said: Said) -> None:
    """Set filler of a depth at an edge."""
    _named(data["edges"], comment.at.name)["isolation"] = {"material": "foam", "depth": said.text("asked")}


def filler_on_sides(data: Data, comment: Comment, said: Said) -> None:
    """Put full-depth filler against the sides named; a tie there goes."""
    for name in said.text("names").split(", "):
        edge = _named(data["edges"], name)
        edge.pop("tied", None)
        edge["isolation"] = {"material": "foam", "depth": "full"}


def fixture_free(data: Data, comment: Comment, said: Said) -> None:
    """Wrap a fixture, or bring a joint nearer to it."""
    fixture = _named(data["fixtures"], comment.at.name)
    if "asked" in said.values:
        fixture["isolation"] = {"material": "foam", "depth": said.text("asked")}
        return
    at = shapely.Point(_xy(data, fixture["at"]))
    joint = min(data["joints"], key=lambda one: at.distance(shapely.LineString(_line(data, one))))
    line = _line(data, joint)
    foot = np.asarray(shapely.shortest_line(shapely.LineString(line), at).coords)
    _set_line(data, joint, line + (foot[1] - foot[0]) / np.hypot(*(foot[1] - foot[0])) * said.si("off"))


# thickness, steel, mix, order


def write_at(*path: str, slot: str = "write") -> Follower:
    """Write the number of a slot under a key."""

    def written(data: Data, comment: Comment, said: Said) -> None:
        section = data
        for key in path[:-1]:
            section = section[key]
        assert path[-1] in section  # it is corrected, not added
        section[path[-1]] = said.text(slot)

    return written


def deeper_board(data: Data, comment: Comment, said: Said) -> None:
    """Form with the board named."""
    data["thickness"]["form_board"] = said.text("deeper")


def dug_below(data: Data, comment: Comment, said: Said) -> None:
    """Dig the base below the board, and write so."""
    assert "dug_below_form: true" in comment.to_pass.template
    data["thickness"]["dug_below_form"] = "true"


def strength_or_water(data: Data, comment: Comment, said: Said) -> None:
    """Order another strength, or less water to the cement."""
    by_ratio = comment.shown.kind == Kind.RATIO
    write_at("mix", "water_cement" if by_ratio else "strength")(data, comment, said)


def _steel(data: Data, comment: Comment) -> Data:
    steel: Data = data["reinforcement"]["mesh" if "mesh" in comment.at.name else "bars"]
    return steel


def bars_nearer(data: Data, comment: Comment, said: Said) -> None:
    """Lay bars at another spacing, of another size where one is named."""
    steel = _steel(data, comment)
    steel["spacing"] = said.text("write")
    if "name" in said.values:
        steel["size"] = said.text("name")


def steel_stopped(data: Data, comment: Comment, said: Said) -> None:
    """Stop the steel at the joints."""
    _steel(data, comment)["at_joints"] = "stop"


def steel_on_chairs(data: Data, comment: Comment, said: Said) -> None:
    """Set the steel on chairs."""
    _steel(data, comment).update(held_by="chairs", support_spacing=said.text("s"))


def steel_moved(data: Data, comment: Comment, said: Said) -> None:
    """Set the steel at another depth."""
    _steel(data, comment)["top_cover"] = said.text("write")


# thick edges, hard things below, the saw, walks, dowels, box-outs, laps, corner bars, fibre


def edge_thicker(data: Data, comment: Comment, said: Said) -> None:
    """Make an edge deep, or bring a thickened edge back over a length."""
    edges = data["thickness"].setdefault("thickened_edges", [])
    if "more" in said.values:
        edges[int(comment.at.name.removeprefix("thickened edge ")) - 1]["taper"] = said.text("taper")
        return
    run = _named(data["edges"], said.text("edge"))["run"]
    edges[:] = [one for one in edges if one["run"] != run]
    edges.append({"run": run, "depth": said.text("write"), "taper": said.text("taper")})


def over_lower(data: Data, comment: Comment, said: Said) -> None:
    """Take a hard thing below down."""
    thing = _named(data["thickness"]["over"], comment.at.name.removeprefix("the "))
    before = quantity.read(thing["depth"], Kind.DEPTH).si
    assert math.isclose(before + said.si("off"), said.si("write"), abs_tol=0.0005)
    thing["depth"] = said.text("write")


def cut_at(data: Data, comment: Comment, said: Said) -> None:
    """Cut joints so long after finishing."""
    for name in said.text("joints").partition(" ")[2].split(", "):
        _named(data["joints"], name, "J")["cut_after"] = said.text("write")


def book_until(data: Data, comment: Comment, said: Said) -> None:
    """Book the crew until an hour."""
    data["pour"]["until"] = said.text("until")


def last_foot(data: Data, comment: Comment, said: Said) -> None:
    """Say how the last foot is made."""
    _named(data["joints"], comment.at.name.removeprefix("joint "), "J")["last_foot"] = said.text("how")


def a_joint_of_it(data: Data, comment: Comment, said: Said) -> None:
    """Make a pattern line a joint."""
    line = _named(data["joints"], said.text("name"), "J")
    line["kind"] = said.text("kind")
    if "write" in said.values:
        line["depth"] = said.text("write")


def locked_well(data: Data, comment: Comment, said: Said) -> None:
    """Make the slab thick enough for what locks a joint, or take other dowels."""
    if "what" not in said.values:
        data["thickness"]["design"] = said.text("write")
        return
    joint = _named(data["joints"], comment.at.name.removeprefix("the dowels of joint "), "J")
    key = {"thick": "diameter", "long": "length", "apart": "spacing"}[said.text("what")]
    joint["dowels"][key] = said.text("write")


def filler_thicker(data: Data, comment: Comment, said: Said) -> None:
    """Set thicker filler at an edge."""
    _named(data["edges"], comment.at.name)["isolation"]["thickness"] = said.text("write")


def filler_across(data: Data, comment: Comment, said: Said) -> None:
    """Put filler through joints across a walk."""
    before = len(data["joints"])
    cut_bays(data, comment, said)
    for joint in data["joints"][before:]:
        joint["isolation"] = {"material": "foam", "depth": "full"}


def sealed(data: Data, comment: Comment, said: Said) -> None:
    """Seal the filler at edges."""
    for name in said.text("names").split(", "):
        _named(data["edges"], name)["isolation"]["sealed"] = "true"


def boxed_out(data: Data, comment: Comment, said: Said) -> None:
    """Box a column out another way."""
    _named(data["fixtures"], said.text("thing"))["box_out"] = said.text("how")


def lapped(data: Data, comment: Comment, said: Said) -> None:
    """Lap bars or sheets further."""
    _steel(data, comment)["lap"] = said.text("write")


def corner_bars(data: Data, comment: Comment, said: Said) -> None:
    """Lay more or longer bars at a corner."""
    (bars,) = data["reinforcement"]["corner_bars"]
    if comment.shown.kind == Kind.COUNT:
        bars["count"] = said.text("write")
    else:
        bars["length"] = said.text("write")


def fibre(data: Data, comment: Comment, said: Said) -> None:
    """Save nothing on account of fibre, or order a whole dose of it."""
    if "write" in said.values:
        data["reinforcement"]["fibre"]["dose"] = said.text("write")
    else:
        del data["reinforcement"]["fibre"]["in_place_of"]
