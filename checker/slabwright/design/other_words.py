"""The trade's other words for keys of a design file, and where each belongs."""

from __future__ import annotations

import re
from collections.abc import Mapping

from slabwright.design.schema_shape import Shape, is_metric, meant, signed
from slabwright.design.spelling import flow
from slabwright.source.node import Listing, Node, Section, Text
from slabwright.units.quantity import QuantityError

# Words by the path of the key that each stands for, wherever in the file the word is written.
_ANYWHERE = {
    "job": "project, client, customer, title",
    "job.name": "job name, project name",
    "job.pour": "date, day, pour date, placing date, poured",
    "units": "unit, measure",
    "use": "type, purpose, slab type, slab",
    "site.freezing": "freeze, frost, climate, winter",
    "site.deicing_salt": "salt, salts, deicer, deicing, de icing, deicers",
    "site.soil": "subgrade, ground, dirt, earth, soils",
    "site.base": "gravel, subbase, sub base, base course, road base, crushed stone, aggregate base, "
                 "hardcore, base, bedding",
    "site.fill": "backfill",
    "site.trenches": "trench",
    "site.buried": "pipe, pipes, utilities, utility, gas, conduit",
    "site.trees": "tree",
    "site.wires": "overhead, power line, power lines, overhead wires",
    "points": "coordinates, coords, vertices, point, nodes",
    "points and outline": "size, dimensions, length, width, sides, area, lengths",
    "outline": "corners, shape, perimeter, boundary, polygon, footprint, plan, outlines, edge",
    "openings": "hole, holes, planter, planters, cutout, cutouts, opening, tree well",
    "parts": "part, zone, zones, areas, regions, ramp, apron, landing",
    "edges": "wall, walls, house, building, garage, surroundings, adjacent, borders, lawn, street, "
             "neighbors, neighbours, property line, curb, beside",
    "edges[].isolation": "filler, expansion, expansion joint, isolation joint, expansion joints, isolation joints, "
                         "isolation, foam, expansion strip",
    "heights": "height",
    "heights.finish": "elevation, elevations, level, levels, spot heights, spot elevations, finish heights, grade, "
                      "grades, slope, pitch, fall, gradient, drainage, slopes",
    "heights.base": "readings, rod, rod readings, shots",
    "heights.existing": "existing ground, existing grade",
    "heights.lines": "valley, ridge, swale, crown, folds, breaklines",
    "heights.benches": "benchmark, bench mark, benchmarks, bench marks, bench, tbm, bm",
    "fixed": "sill, door sill, threshold, thresholds, fixed heights, fixed height, sills",
    "fixtures": "drain, drains, post, posts, column, columns, door, doors, downspout, downspouts, cleanout, fixture, "
                "manhole, catch basin",
    "channels": "channel, channel drain, channel drains, slot drain, slot drains, trench drain, trench drains, grating",
    "embedded": "tubes, tubing, heating, heating tubes, radiant, radiant tubing, floor heating, underfloor heating, "
                "loops, embedments",
    "measured": "diagonal, diagonals, tape, taped, tapes",
    "thickness": "thick",
    "thickness.design": "depth, slab thickness, slab depth, concrete thickness",
    "thickness.form_board": "forms, formwork, boards, board, form boards, edge forms",
    "thickness.thickened_edges": "thickened edge, haunch, footing, footings, turndown, turned down edge, grade beam",
    "thickness.steps": "step, stairs, stair",
    "joints": "joint, cut, cuts, saw cut, saw cuts, sawcut, sawcuts, control joint, control joints, contraction joint, "
              "contraction joints, panel, panels",
    "joints[].dowels": "dowel, dowels",
    "reinforcement": "steel, reinforcing, reinforcing steel",
    "reinforcement.bars": "rebar, rebars, re bar, bar, bars, rods",
    "reinforcement.mesh": "wire, wire mesh, welded wire, wwf, wwm, mesh, fabric",
    "reinforcement.fiber": "fibers, fibres, fibre, fiber mesh, fibermesh, fiber",
    "reinforcement.bars.top_cover": "cover, clear cover",
    "reinforcement.bars.held_by": "chairs, bolsters",
    "loads": "load, vehicle, vehicles, traffic, axle, cars, car, live load, wheels",
    "stalls": "parking stall, parking stalls, accessible stall, accessible stalls, parking space, parking spaces, "
              "ada stall, disabled bay, disabled bays",
    "mix": "concrete, mixture, mix design, concrete mix",
    "mix.strength": "psi, mpa, compressive strength, design strength, fc, concrete strength",
    "mix.air": "air content, air entrainment, entrained air, air",
    "mix.aggregate": "stone, stone size, aggregate size, rock, max aggregate",
    "mix.water_cement": "wc, w/c, w c, water cement ratio, wcr",
    "order.volume": "yards, yardage, quantity, cubic yards, yd3, amount",
    "order.truck": "truck size, trucks",
    "order.allowance": "waste, overage, extra",
    "order.method": "pump, placing, chute, delivery",
    "order.retarder": "vapor barrier, vapor retarder, vapour barrier, poly, plastic, membrane, sheeting",
    "dig": "excavation, digging, excavate",
    "prices": "price, cost, costs, budget",
    "pour": "placement, placements, pours, placing, phases, stages",
    "pour.curing": "cure, curing, curing compound",
    "pour.weather": "temperature, forecast",
    "pour.start": "start time",
    "pour.finish": "texture, broom, finish type, surface, broomed",
    "pour.crew": "men, hands, people",
    "variances": "exception, exceptions, waiver, waivers, variance",
    "site.keep_off": "septic, septic tank, drain field, keep out",
    "site.lot.lines": "property lines, lot line, lot lines, boundary line, boundary lines",
    "site.soil.sulfate": "sulfate, sulphate, sulfates, sulphates",
    "edges[].guard": "guards, guard rail, guardrail, railing, railings",
    "mix.water_reducer": "plasticizer, superplasticizer, plasticiser, superplasticiser, admixture, admixtures",
    "pour.protection": "blankets, insulation, cold protection, frost protection",
    "pour.trucks_apart": "interval, truck interval, truck spacing, time between trucks",
    "site.accessible_route": "accessible, accessibility, accessible way, wheelchair, ada, barrier free",
}  # fmt: skip

# Words that stand for a key of the section they are written in, and elsewhere for nothing in particular.
_WITHIN = {
    "site.soil.kind": "type, material",
    "site.soil.support": "k, k value, modulus, stiffness",
    "site.base.material": "kind, type, stone, gravel",
    "site.base.thickness": "depth, thick, layer",
    "outline[].arc_to": "to, end, arc, curve, curve to",
    "outline[].through": "via, by, over, middle, mid, past",
    "openings[].corners": "points, outline, shape, at, center, centre, circle, radius, diameter",
    "edges[].run": "side, along, from, points, edge, line",
    "edges[].beside": "wall, house, building, what, against, kind, type, adjacent",
    "edges[].ground": "height, elevation, level, grade, heights",
    "edges[].isolation.thickness": "width, size, gap, wide",
    "openings[].isolation.thickness": "width, size, gap, wide",
    "fixtures[].isolation.thickness": "width, size, gap, wide",
    "channels[].isolation.thickness": "width, size, gap, wide",
    "joints[].isolation.thickness": "width, size, gap, wide",
    "edges[].takes_water": "drain, drains, water, drainage, outlet",
    "heights.base": "gravel, subbase, bottom",
    "joints[].dowels.diameter": "size, dia, thickness, bar",
    "joints[].dowels.spacing": "every, apart, centers",
    "heights.existing": "ground",
    "heights.datum": "reference, zero",
    "heights.falls": "falls to",
    "fixed[].height": "elevation, level",
    "fixtures[].at": "location, position, where, point, place",
    "fixtures[].kind": "type, what",
    "fixtures[].width": "wide, leaf, clear width",
    "fixtures[].canopy": "awning, porch roof, overhang, shelter, sheltered, covered, roofed, balcony",
    "fixtures[].rim": "height, elevation, level, top, grate",
    "channels[].along": "run, line, points, at, from, to",
    "site.trenches[].along": "from, to, line, points",
    "site.buried[].along": "from, to, line, points",
    "site.wires[].along": "from, to, line, points",
    "site.lot.lines[].along": "from, to, line, points",
    "line_loads[].along": "from, to, line, points",
    "heights.lines[].along": "from, to, run, line, points",
    "site.fill.lift": "layer, layers, layer thickness",
    "order.retarder.tested_class": "class",
    "pour.weather.air": "high, max, maximum, temperature, temp, air temperature",
    "pour.weather.low": "min, minimum, night",
    "channels[].rim": "height, heights, elevation, level, top, grate",
    "channels[].invert": "bottom, depth, flow line, invert level",
    "thickness.design": "thickness, thick",
    "thickness.form_board": "form",
    "joints[].kind": "type",
    "joints[].from": "start, begin",
    "joints[].to": "end",
    "joints[].along": "points, line, run, at, x, y, between",
    "joints[].cut_after": "time, cut time, when, after, hours",
    "reinforcement.bars.size": "bar, bars, number, diameter",
    "reinforcement.bars.spacing": "on center, oc, centers, every",
    "reinforcement.bars.top_cover": "depth",
    "reinforcement.bars.held_by": "supports, support, held",
    "reinforcement.mesh.style": "size, spacing, type",
    "reinforcement.mesh.top_cover": "cover, clear cover, depth",
    "reinforcement.mesh.held_by": "chairs, supports, support, held",
    "loads[].axle": "weight, load",
    "loads[].vehicle": "name, kind, type",
    "loads[].tire_pressure": "pressure, psi, tyre pressure",
    "stalls[].corners": "points, outline, shape, at",
    "stalls[].aisle": "access aisle, access, hatch, hatched",
    "mix.strength": "grade",
    "mix.water_cement": "ratio",
    "mix.aggregate": "gravel",
    "order.volume": "concrete",
    "order.truck": "load",
    "pour.start": "time",
    "edges[].ground_below": "lip, drop, below, lower by",
    "edges[].tied": "dowels, doweled, dowelled, bars",
    "edges[].guard": "rail",
    "fixtures[].along": "from, to, ends, line",
    "fixtures[].size": "diameter, dimensions, dia, side",
    "fixtures[].isolation": "wrapped, wrap, wrapping",
    "fixtures[].outlet": "invert, pipe invert, discharge",
    "fixtures[].pipe": "pipe length, pipe fall, pipe slope",
    "fixtures[].sill": "threshold, door sill",
    "fixtures[].swings_over": "swing, swings, opens, opens out",
    "channels[].pipe": "pipe length, pipe fall, pipe slope",
    "heights.falls[].along": "from, to, run, line, points",
    "thickness.steps[].tread": "run, going",
    "thickness.steps[].foot": "from, to, at, along, line",
    "thickness.steps[].handrail": "rail, railing, railings",
    "joints[].isolation": "filler, foam, expansion, expansion strip",
}

# What an example of the key would not settle, by the section, empty for anywhere, and the word. Of flakes of calcium
# chloride 77 % is the salt, and 71 parts in 111 of that are the ion: half of their weight.
_HALVES = "corners: [{arc_to: [4.4, 1.9], through: [4, 2.3]}, {arc_to: [3.6, 1.9], through: [4, 1.5]}], two halves"
_SAID = {
    ("openings[]", "center, centre, circle, radius, diameter"): f"{_HALVES} of a circle",
    ("joints[]", "spacing"): "from and to of each joint; slabwright propose joints FILE lays them out",
    **{
        (section, "from, to"): "along: [A, B], with both ends in the one list"
        for section in ("channels[]", "fixtures[]", "fixed[]", "heights.falls[]", "heights.lines[]", "line_loads[]",
                        "site.buried[]", "site.lot.lines[]", "site.trenches[]", "site.wires[]")
    },
    ("edges[]", "from, to"): "run: [A, B], with both ends in the one list",
    ("thickness.steps[]", "from, to"): "foot: [S, T], the two ends of the lowest nosing",
    ("heights", "slope, slopes, fall, pitch, gradient"):
        "finish, with a height at each corner, which the fall is worked out from; "
        "a fall as typed on a sketch is checked against them by falls: [{along: [A, B], fall: 2 %}]",
    ("fixtures[]", "swing, swings, opens, opening"):
        "swings_over: true where it swings out over the slab, false where it does not",
    ("fixtures[]", "threshold"): "sill, the height of the top of the threshold",
    ("openings[]", "beside, kind, type, use, what"): "holds: pool, or what else stands in it",
    ("site.base", "retarder, vapor retarder, vapor barrier, sheet"): "retarder under order, with the rolls it comes in",
    ("site.fill", "depth, thickness, height, deep"):
        "leave it out, and write heights.existing, which the depth of the fill is worked out from",
    ("site.soil", "plasticity index, plasticity, pi, liquid limit"):
        "kind: expansive clay, where the soils report says that it swells",
    ("site.trees[]", "trunk, trunk diameter, diameter, girth, size, spread"):
        "height, how tall the tree is, which the reach of its roots is taken from",
    ("site.lot", "corners, outline, boundary"):
        "lines: [{kind: side, along: [A, B]}], for the lines of the lot near the slab",
    ("dig", "loads, trips, truckloads"): "leave it out; the loads are worked out from box and payload",
    ("pour.first_use", "vehicles, vehicle, traffic, trucks, people, foot, walking"): "feet, cars or heavy",
    ("mix", "calcium chloride, accelerator"): "chloride: 1 %, the ion alone, for 2 % of calcium chloride flakes; "
                                               "leave out an accelerator without chloride",
    ("order", "bags, bag, sacks"): "volume, of what the bags make: about 0.6 ft3 of 80 lb, 12 L of 25 kg",
    ("", "door, doors"): "fixtures: [{kind: door, along: [[8, 0], [11, 0]], sill: 100.00}]",
    ("", "post, posts"): "fixtures: [{kind: post, at: [12, 3], box_out: round}]",
    ("", "column, columns"): "fixtures: [{kind: column, at: [12, 3], box_out: turned square}]",
    ("", "downspout, downspouts"): "fixtures: [{kind: downspout, at: [12, 3]}]",
}  # fmt: skip

_SIZE = "points and outline"  # two keys that a size becomes
WORDS: Mapping[str, str] = {word: path for path, words in _ANYWHERE.items() for word in words.split(", ")}
WORDS_WITHIN: Mapping[tuple[str, str], str] = {
    (path.rpartition(".")[0], word): path for path, words in _WITHIN.items() for word in words.split(", ")
}
SAID: Mapping[tuple[str, str], str] = {
    (section, word): told for (section, words), told in _SAID.items() for word in words.split(", ")
}


def said(key: str, section: str) -> str:
    """A whole answer to ``key``, unknown in ``section``; empty where the example of a key does.

    >>> said("spacing", "joints[2]")
    'from and to of each joint; slabwright propose joints FILE lays them out'
    """
    word = _word(key)
    return SAID.get((without_numbers(section), word)) or SAID.get(("", word), "")


def _word(key: str) -> str:
    return " ".join(re.split(r"[\s_-]+", key.strip().casefold()))


def right_paths(key: str, section: str) -> tuple[str, ...]:
    """Paths of the keys that ``key``, unknown in ``section``, stands for: mostly one, two for a size.

    >>> right_paths("rebar", ""), right_paths("Depth", "site.base"), right_paths("colour", "")
    (('reinforcement.bars',), ('site.base.thickness',), ())
    """
    word = _word(key)
    path = WORDS_WITHIN.get((without_numbers(section), word)) or WORDS.get(word)
    if path == _SIZE:  # of the slab; a width typed inside a section is one of something else
        return () if section else ("points", "outline")
    return (path,) if path else ()


def without_numbers(section: str) -> str:
    """The path of a section with no numbers: ``edges[2]`` is ``edges[]``."""
    return re.sub(r"\[\d+\]", "[]", section)


def keys_meant(key: str, section: str) -> set[str]:
    """Keys of ``section`` itself that ``key`` stands for, or that hold what it stands for.

    >>> keys_meant("depth", ""), keys_meant("end", "joints[2]")
    ({'thickness'}, {'to'})
    """
    here = without_numbers(section)
    found = set()
    for path in right_paths(key, section):
        around, _, last = path.rpartition(".")
        if around == here:
            found.add(last)
        elif not here:
            found.add(re.split(r"[.\[]", path)[0])
    return found


def told(key: str, section: str, top: Shape, root: Section, typed: Node) -> str:
    """What to write for ``key`` of ``section``: the right key with what was ``typed`` where it fits, or an example.

    Empty where the schema has no such key.
    """
    paths = right_paths(key, section)
    if not paths:
        return ""
    metric = is_metric(root)
    if len(paths) > 1:
        both = ", and ".join(filter(None, (_line(path, top, metric) for path in paths)))
        return f"{both}; slabwright begin works them out from a size" if both else ""
    path = paths[0]
    around, _, last = path.rpartition(".")
    whole = path.partition("[]")[0]
    if around == without_numbers(section):
        return _line(path, top, metric, typed, key)
    line = _line(whole, top, metric, typed if whole == path else None, key)
    first, _, rest = whole.partition(".")
    if rest and first in root.entries and isinstance(root.entries[first], Section):
        return f"under {around.replace('.', ', ')}, {line}" if line else ""
    for name in reversed(whole.split(".")[:-1]):
        line = f"{name}: {{{line}}}" if line else ""
    if path == "edges[].isolation" and line:
        return "isolation in the entry of edges that it lies against, as in isolation: " + _example(path, top, metric)
    if "[]" in path and line:
        return f"{last} in an entry of {whole}, as in {last}: {_example(path, top, metric)}"
    return line


def _line(path: str, top: Shape, metric: bool, typed: Node | None = None, key: str = "") -> str:
    """The last key of a path with what was typed, where it may stand there, else with its example.

    A ``key`` that is itself one of the words to choose from (``house: wall``) keeps the example.
    """
    shape = _shape(path, top)
    kept = ""
    if typed is not None and shape is not None and key.casefold() not in shape.schema.get("instead", ()):
        kept = _kept(typed, shape)
    value = kept or _example(path, top, metric)
    return f"{path.rpartition('.')[2]}: {value}" if value else ""


def _example(path: str, top: Shape, metric: bool) -> str:
    """The example of a key, as one line; empty where there is no such key."""
    shape = _shape(path, top)
    return flow(shape.example(metric)) if shape is not None and shape.examples else ""


def _shape(path: str, top: Shape) -> Shape | None:
    """What may stand behind the last key of a path, an entry of it where it ends with ``[]``; None for no such key."""
    shape = top
    for name in path.split("."):
        key, listed = name.removesuffix("[]"), name.endswith("[]")
        found = next((one.properties[key] for one in (shape, *shape.branches) if key in one.properties), None)
        entry = found
        if found is not None and listed:
            entry = next((one.items for one in (found, *found.branches) if one.items is not None), None)
        if entry is None:
            return None
        shape = entry
    return shape


def _kept(typed: Node, shape: Shape) -> str:
    """What was typed, where it may stand behind another key as it is: a name, a value with its unit, a list of them."""
    settled = meant(shape, typed)
    if isinstance(typed, Listing) and settled.items is not None and typed.items:
        entries = [_kept(each, settled.items) for each in typed.items]
        return f"[{', '.join(entries)}]" if all(entries) else ""
    if not isinstance(typed, Text) or typed.empty or not settled.takes(typed):
        return ""
    if settled.quantity is not None and typed.number is None:
        try:
            signed(typed.text, settled.quantity)
        except QuantityError:
            return ""
        return flow(typed.text)
    return flow(typed.text) if settled.bare or settled.said("names") or typed.text in (settled.choices or ()) else ""
