"""From a design file to a frozen, typed :class:`Design`, with questions that do not stop."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, cast

from slabwright.design import costs, heights, pouring, surroundings
from slabwright.design import model as d
from slabwright.design import questions as doubts
from slabwright.design.located import Group, Items, Named
from slabwright.design.parts import Names, amounts, made_of, mesh_of
from slabwright.design.points import Points, opened
from slabwright.design.schema_gate import gate, schema_named
from slabwright.source import yaml_tree
from slabwright.source.node import Node, Section, Text, key_places
from slabwright.source.place import Place
from slabwright.source.problem import Problem, Problems
from slabwright.units.quantity import System, depth

_UNITS = ("ft", "in", "m", "mm")


def read_design(path: Path) -> tuple[d.Design, tuple[Problem, ...]]:
    """The design in a file, and questions about it that do not keep it from being read.

    :raises UnreadableError: with every problem found, in file order.
    """
    file = str(path)
    root = yaml_tree.load(yaml_tree.read_text(path), file)
    problems, questions = Problems(), Problems()
    data = gate(
        root, schema_named("design"), problems, questions, units=_units(root), known={"point": _point_names(root)}
    )
    problems.raise_if_any()
    design = _Reader(path, data, root, problems, questions).design()
    problems.raise_if_any()
    doubts.ask(design, questions)
    return design, tuple(questions)


def _units(root: Node) -> Mapping[str, str]:
    """What bare numbers mean, as far as the file says it rightly."""
    units = root.get("units") if isinstance(root, Section) else None
    if not isinstance(units, Section):
        return {}
    return {key: value.text for key, value in units.entries.items() if isinstance(value, Text) and value.text in _UNITS}


def _point_names(root: Node) -> frozenset[str] | dict[str, Any]:
    """The names under points, in file order."""
    points = root.get("points") if isinstance(root, Section) else None
    return dict.fromkeys(points.entries) if isinstance(points, Section) else {}


class _Reader:
    """Builds the design, section by section, from checked data."""

    def __init__(self, path: Path, data: Group, root: Node, problems: Problems, questions: Problems) -> None:
        self.path = path
        self.data = data
        self.root = root
        self.problems = problems
        self.questions = questions
        self.points = Points(data.get("points"), problems)

    def design(self) -> d.Design:
        """The whole design."""
        data = self.data
        units = data["units"]
        show = units.get("show") or ("us" if units["plan"] in ("ft", "in") else "metric")
        return d.Design(
            file=str(self.path),
            job=self.job(data["job"]),
            use=data["use"],
            plan_unit=str(units["plan"]),
            height_unit=str(units["height"]),
            system=cast(System, str(show)),
            points=self.points.named,
            outline=self.corners(data["outline"]),
            thickness=self.thickness(data["thickness"]),
            site=self.site(data.get("site")),
            openings=self.openings(data.get("openings", ())),
            edges=tuple(self.edge(group) for group in data.get("edges", ())),
            heights=heights.read(self.path, data.get("heights"), self.points, units, self.problems, self.questions),
            fixed=tuple(self.fixed(group) for group in data.get("fixed", ())),
            fixtures=tuple(self.fixture(group) for group in data.get("fixtures", ())),
            measured=tuple(self.measured(group) for group in data.get("measured", ())),
            joints=self.joints(data.get("joints", ())),
            reinforcement=self.reinforcement(data.get("reinforcement")),
            loads=tuple(made_of(d.Load, group) for group in data.get("loads", ())),
            line_loads=tuple(
                d.LineLoad(str(one["name"]), self.run(one["along"]), one["load"], one.place)
                for one in data.get("line_loads", ())
            ),
            mix=made_of(d.Mix, data.get("mix")),
            order=self.order(data.get("order")),
            dig=costs.dig(data.get("dig")),
            prices=costs.prices(data.get("prices")),
            pour=pouring.pour(data.get("pour")),
            permit=surroundings.permit(data.get("permit")),
            variances=tuple(made_of(d.Variance, group) for group in data.get("variances", ())),
            places=key_places(self.root),
        )

    def job(self, group: Group) -> d.Job:
        """``job``."""
        return d.Job(
            name=str(group["name"]),
            pour=group.get("pour"),
            number=str(group.get("number", "")),
            notes=str(group.get("notes", "")),
            place=group.place,
        )

    def site(self, group: Group | None) -> d.Site:
        """``site``."""
        if group is None:
            return d.Site()
        soil = made_of(d.Soil, group["soil"]) if "soil" in group else None
        base = made_of(d.Base, group["base"]) if "base" in group else None
        return d.Site(
            freezing=group.get("freezing"),
            deicing_salt=group.get("deicing_salt"),
            outdoors=group.get("outdoors"),
            right_of_way=group.get("right_of_way", False),
            enclosed=group.get("enclosed"),
            rain_in_an_hour=group.get("rain_in_an_hour"),
            accessible_route=self.run(group.get("accessible_route", ())),
            soil=soil,
            base=base,
            **surroundings.said(group, self.points.spot),
            place=group.place,
        )

    def corners(self, items: Items) -> tuple[d.Corner, ...]:
        """Corners of an outline or an opening."""
        corners = []
        for item, place in zip(items, items.places, strict=True):
            if isinstance(item, Group):
                at, through = self.points.spot(item["arc_to"]), self.points.spot(item["through"])
                corners.append(d.Corner(at, through, place))
            else:
                corners.append(d.Corner(self.points.spot(item), None, place))
        corners = opened(corners)
        self.points.check_arcs(corners)
        arcs = sum(1 for corner in corners if corner.through is not None)
        if len(corners) < 3 and not (len(corners) == 2 and arcs):
            self.problems.add(items.place, f"{len(corners)} corners make no shape", "at least 3 corners")
        return tuple(corners)

    def run(self, items: Any) -> tuple[d.Point, ...]:
        """Points in order."""
        return tuple(self.points.spot(item) for item in items)

    def spots(self, said: Any) -> tuple[d.Point, ...]:
        """One point or several."""
        return self.run([said] if isinstance(said, Named) else said)

    def isolation(self, said: Any, place: Place) -> d.Isolation | None:
        """Filler, or ``none``, or nothing said."""
        if said is None:
            return None
        if not isinstance(said, Group):
            return d.Isolation("none", depth(0.0), depth(0.0), place=place)
        reach = said.get("depth")
        full = isinstance(reach, str)
        return d.Isolation(
            material=str(said["material"]),
            thickness=said.get("thickness"),
            depth=None if full else reach,
            full_depth=full,
            sealed=said.get("sealed"),
            place=place,
        )

    def isolation_of(self, group: Group) -> d.Isolation | None:
        """The filler a section names."""
        return self.isolation(group.get("isolation"), group.places.get("isolation", group.place))

    def openings(self, items: Any) -> tuple[d.Opening, ...]:
        """``openings``; those without a name are counted."""
        names = Names("opening", self.problems)
        return tuple(
            d.Opening(
                name=names.of(group, f"opening {number}"),
                corners=self.corners(group["corners"]),
                holds=group.get("holds", "other"),
                takes_water=group.get("takes_water", False),
                isolation=self.isolation_of(group),
                place=group.place,
            )
            for number, group in enumerate(items, 1)
        )

    def edge(self, group: Group) -> d.Edge:
        """One entry of ``edges``."""
        run = self.run(group.get("run", ()))
        ground = amounts(group.get("ground"))
        if len(ground) > 1 and len(ground) != len(run):
            wanted = f"one height, or {len(run)}: one for each point of the run" if run else "one height"
            self.problems.add(group.places["ground"], f"there are {len(ground)} heights of the ground here", wanted)
        return d.Edge(
            beside=group.get("beside") or group["rest"],
            run=run,
            name=str(group.get("name", "")),
            takes_water=group.get("takes_water"),
            ground=ground,
            tied=group.get("tied", False),
            planned_step=group.get("planned_step", False),
            wheels_cross=group.get("wheels_cross"),
            falls_to_slab=group.get("falls_to_slab"),
            existing_joints=self.spots(group.get("existing_joints", ())),
            isolation=self.isolation_of(group),
            place=group.place,
        )

    def fixed(self, group: Group) -> d.Fixed:
        """One entry of ``fixed``."""
        if "at" in group and "along" in group:
            self.problems.add(group.places["at"], '"at" does not go with "along"', "keep one of the two")
        along = self.run(group["along"]) if "along" in group else (self.points.spot(group["at"]),)
        levels = amounts(group["height"])
        if len(levels) > 1 and len(levels) != len(along):
            wanted = f"one height, or {len(along)}: one for each point" if len(along) > 1 else "one height"
            self.problems.add(group.places["height"], f"there are {len(levels)} heights here", wanted)
        return d.Fixed(
            name=str(group["name"]),
            kind=group["kind"],
            along=along,
            height=levels,
            slab=group.get("slab"),
            place=group.place,
        )

    def fixture(self, group: Group) -> d.Fixture:
        """One entry of ``fixtures``."""
        wide = group["kind"] in ("door", "gate")
        if wide and "along" not in group and "at" not in group:
            self.problems.add(group.place, f"this {group['kind']} does not say where it is", "along: [A, B]")
        if not wide and "at" not in group:
            wrong = f"this {group['kind']} does not say where it is"
            self.problems.add(group.place, wrong, "at: [12, 3], or the name of a point")
        for key, kinds in (
            ("rim", ("drain", "cleanout", "meter", "valve")),
            ("outlet", ("drain",)),
            ("sill", ("door",)),
            ("swings_over", ("door", "gate")),
            ("pipe", ("drain",)),
            ("roof", ("downspout",)),
            ("hinge", ("door", "gate")),
            ("bottom", ("door", "gate")),
            ("opens_to", ("door", "gate")),
        ):
            if key in group and group["kind"] not in kinds:
                self.problems.add(
                    group.places[key],
                    f'"{key}" belongs to a {" or ".join(kinds)}, and this is a {group["kind"]}',
                    "delete it, or change the kind",
                )
        return d.Fixture(
            kind=group["kind"],
            name=str(group.get("name", "")),
            at=self.points.spot(group["at"]) if "at" in group else None,
            along=self.run(group.get("along", ())),
            size=group.get("size"),
            isolation=self.isolation_of(group),
            rim=group.get("rim"),
            outlet=group.get("outlet"),
            sill=group.get("sill"),
            swings_over=group.get("swings_over"),
            box_out=group.get("box_out"),
            required_exit=group.get("required_exit", False),
            pipe=group.get("pipe"),
            roof=group.get("roof"),
            hinge=self.spots(group.get("hinge", ())),
            bottom=group.get("bottom"),
            opens_to=self.points.spot(group["opens_to"]) if "opens_to" in group else None,
            place=group.place,
        )

    def measured(self, group: Group) -> d.Measured:
        """One entry of ``measured``."""
        start, end = self.run((group["from"], group["to"]))
        if (start.x, start.y) == (end.x, end.y):
            self.problems.add(group.places["to"], "this length begins and ends at one point", "another point")
        return d.Measured((start, end), group["length"], group.place)

    def thickness(self, group: Group) -> d.Thickness:
        """``thickness``."""
        names = Names("flight of steps", self.problems)
        board, board_name = group.get("form_board", (None, ""))
        return d.Thickness(
            design=group["design"],
            form_board=board,
            form_board_name=board_name,
            dug_below_form=group.get("dug_below_form", False),
            thickened_edges=tuple(
                d.ThickenedEdge(
                    run=self.run(edge["run"]),
                    depth=edge["depth"],
                    taper=edge["taper"],
                    width=edge.get("width"),
                    place=edge.place,
                )
                for edge in group.get("thickened_edges", ())
            ),
            over=tuple(
                d.Over(str(one["name"]), self.points.spot(one["at"]), one["depth"], one.place)
                for one in group.get("over", ())
            ),
            steps=tuple(
                d.Steps(
                    name=names.of(flight, f"steps {number}"),
                    width=flight["width"],
                    tread=flight["tread"],
                    riser=flight["riser"],
                    count=flight["count"],
                    leads_to=str(flight.get("leads_to", "")),
                    place=flight.place,
                )
                for number, flight in enumerate(group.get("steps", ()), 1)
            ),
            place=group.place,
        )

    def joints(self, items: Any) -> tuple[d.Joint, ...]:
        """``joints``; those without a name become J1, J2 and so on by their place in the list."""
        names = Names("joint", self.problems)
        joints = []
        for number, group in enumerate(items, 1):
            if "along" in group and ("from" in group or "to" in group):
                key = "from" if "from" in group else "to"
                self.problems.add(group.places[key], f'"{key}" does not go with "along"', "keep one of the two")
            along = group.get("along") or (group.get("from"), group.get("to"))
            joints.append(
                d.Joint(
                    name=names.of(group, f"J{number}"),
                    kind=group["kind"],
                    along=self.run(along) if None not in along else (),
                    depth=group.get("depth"),
                    cut_after=group.get("cut_after"),
                    last_foot=group.get("last_foot"),
                    isolation=self.isolation_of(group),
                    sealed=group.get("sealed"),
                    locked_by=group.get("locked_by"),
                    dowels=made_of(d.Dowels, group["dowels"]) if "dowels" in group else None,
                    place=group.place,
                )
            )
        return tuple(joints)

    def order(self, group: Group | None) -> d.Order | None:
        """``order``."""
        if group is None:
            return None
        lists = {"stock", "sheet", "retarder", "truck_spots"}
        made: d.Order = made_of(d.Order, group.without(lists))
        retarder = group.get("retarder")
        return made._replace(
            stock=amounts(group.get("stock")),
            sheet=amounts(group.get("sheet")),
            retarder=None if retarder is None else made_of(d.Retarder, retarder),
            truck_spots=self.spots(group.get("truck_spots", ())),
        )

    def reinforcement(self, said: Any) -> d.Reinforcement | None:
        """``reinforcement``."""
        if said is None:
            return None
        place = self.data.places["reinforcement"]
        if not isinstance(said, Group):
            return d.Reinforcement(none=True, place=place)
        bars, mesh, fibre = said.get("bars"), said.get("mesh"), said.get("fibre")
        return d.Reinforcement(
            bars=made_of(d.Bars, bars) if bars is not None else None,
            mesh=mesh_of(mesh) if mesh is not None else None,
            fibre=made_of(d.Fibre, fibre) if fibre is not None else None,
            corner_bars=tuple(
                d.CornerBars(
                    at=self.spots(group["at"]),
                    size=group["size"],
                    length=group["length"],
                    count=group.get("count", 2),
                    place=group.place,
                )
                for group in said.get("corner_bars", ())
            ),
            place=place,
        )
