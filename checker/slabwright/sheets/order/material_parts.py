"""Parts of the order sheet on what else is bought: steel and its cutting, isolation, joints, fiber, sheeting, forms."""

from __future__ import annotations

from slabwright.formulas import hauling, ordering
from slabwright.plan.plan import Plan
from slabwright.sheets.order import materials
from slabwright.sheets.order.bars_and_mesh import BarList, MeshList, Steel
from slabwright.sheets.order.concrete import Concrete
from slabwright.sheets.order.cutting import Pattern
from slabwright.sheets.sheet import Cell, Column, Figure, Section, Table
from slabwright.text.words import Words, step, words, written
from slabwright.units.quantity import area, depth, length, mass, share, small_volume, volume


def steel_section(steel: Steel | None) -> Section | None:
    """Bars to buy, how to cut them, mesh sheets and supports."""
    if steel is None:
        return None
    figures: list[Figure] = []
    tables: list[Table] = []
    if steel.bars:
        tables.append(_bar_table(steel))
        for one in steel.bars:
            tables.append(_cutting_table(f"cut_{_key(one.size)}", f"Cutting {one.size}", one.plan.patterns, "Bars"))
    for number, mesh in enumerate(steel.meshes, 1):
        tables += _mesh_tables(mesh, "" if number == 1 else f"_{number}")
    if steel.supports:
        says = words("at most {s} apart each way, on the rims of every mat too", s=length(steel.support_spacing))
        figures.append(Figure("supports", steel.held_by.capitalize(), steel.supports, says))
    cut = sum(mesh.wires_cut for mesh in steel.meshes)
    if cut:
        each = words("every second one, before concrete comes, where sheets run under a joint")
        figures.append(Figure("wires_cut", "Wires to cut", cut, each))
    total = sum(one.mass for one in steel.bars) + sum(mesh.mass for mesh in steel.meshes)
    figures.append(Figure("steel_weight", "Steel, as bought", mass(total)))
    return Section("steel", "Steel", tuple(figures), tuple(tables), steel.working, steel.notes, steel.add)


def _key(size: str) -> str:
    return size.replace("#", "no").replace(" ", "").lower()


def _bar_table(steel: Steel) -> Table:
    columns = (
        Column("size", "Size", right=False),
        Column("pieces", "Pieces"),
        Column("lap", "Lap"),
        Column("length", "Length, laps in"),
        Column("stock", "Stock"),
        Column("bars", "Stock bars"),
        Column("waste", "Waste"),
        Column("weight", "Weight"),
    )
    rows: list[tuple[Cell, ...]] = [_bar_row(one) for one in steel.bars]
    return Table("bars", "Bars", columns, tuple(rows))


def _bar_row(one: BarList) -> tuple[Cell, ...]:
    pieces = sum(count * pattern.bars for pattern in one.plan.patterns for _, count in pattern.pieces)
    return (one.size, pieces, length(one.lap), length(one.plan.used), length(one.plan.stock), one.plan.bars,
            share(round(one.plan.waste, 4)), mass(one.mass))  # fmt: skip


def _cutting_table(key: str, title: str, patterns: tuple[Pattern, ...], what: str) -> Table:
    columns = (Column("bars", what), Column("pieces", "Cut each into", right=False), Column("left", "Left over"))
    rows = tuple(
        (pattern.bars, _pieces(pattern.pieces), length(pattern.left) if pattern.left > 5e-4 else None)
        for pattern in patterns
    )
    return Table(key, title, columns, rows)


def _pieces(pieces: tuple[tuple[float, int], ...]) -> Words:
    values = {f"l{at}": length(one) for at, (one, _) in enumerate(pieces)}
    return words(" + ".join(f"{count} of {{l{at}}}" for at, (_, count) in enumerate(pieces)), **values)


def _mesh_tables(mesh: MeshList, other: str) -> list[Table]:
    columns = (
        Column("style", "Mesh", right=False),
        Column("sheet", "Sheet"),
        Column("lap", "Lap"),
        Column("area", "Covers"),
        Column("sheets", "Sheets"),
        Column("weight", "Weight"),
    )
    sheet = words("{a} by {b}", a=length(mesh.length), b=length(mesh.width))
    row = (mesh.style, sheet, length(mesh.lap), area(mesh.area), mesh.plan.bars, mass(mesh.mass))
    return [
        Table(f"mesh{other}", "Mesh", columns, (row,)),
        _cutting_table(f"cut_mesh{other}", "Cutting mesh", mesh.plan.patterns, "Sheets"),
    ]


def isolation_section(plan: Plan) -> Section | None:
    """Filler by material, thickness and height."""
    fillers = materials.isolation(plan)
    if not fillers:
        return None
    columns = (
        Column("material", "Material", right=False),
        Column("thickness", "Thickness"),
        Column("height", "Height"),
        Column("length", "Length"),
        Column("where", "Where", right=False),
    )
    rows = tuple(
        (one.material, depth(one.thickness) if one.thickness else None, depth(one.height) if one.height else None,
         length(one.length), ", ".join(one.where))
        for one in fillers
    )  # fmt: skip
    total = ("all", None, None, length(sum(one.length for one in fillers)), None)
    add = [] if all(one.height and one.thickness for one in fillers) else [
        written("isolation: material, thickness and depth of each, such as {material: foam, thickness: {1/2 in|12 mm}, "
                "depth: full}", plan.system)
    ]  # fmt: skip
    table = Table("fillers", "", columns, rows, total if len(rows) > 1 else None)
    return Section("isolation", "Isolation", (), (table,), (), (), tuple(add))


def joints_section(plan: Plan) -> Section | None:
    """Joint length by kind and depth."""
    found = materials.joint_lengths(plan)
    if not found:
        return None
    columns = (Column("kind", "Kind", right=False), Column("depth", "Depth"), Column("count", "Joints"),
               Column("length", "Length"))  # fmt: skip
    rows = tuple((one.kind, depth(one.depth) if one.depth else None, one.count, length(one.length)) for one in found)
    total = ("all", None, sum(one.count for one in found), length(sum(one.length for one in found)))
    table = Table("kinds", "", columns, rows, total if len(rows) > 1 else None)
    return Section("joints", "Joints", (), (table,))


def other_section(plan: Plan, worked: Concrete) -> Section:
    """Fiber, sheeting, curing and forms."""
    figures: list[Figure] = []
    notes: list[Words] = []
    working = []
    said = plan.design.reinforcement
    if said and said.fiber:
        weight = hauling.mass_of(worked.ordered, said.fiber.dose.si)
        figures.append(Figure("fiber", f"Fiber, {said.fiber.kind}", mass(weight)))
        numbers = words("{v} x {d}", v=volume(worked.ordered), d=said.fiber.dose)
        working.append(step("fiber", "ordered x dose", numbers, mass(weight)))
        bags = fiber_bags(plan, worked)
        if bags is not None:
            figures.append(Figure("fiber_bags", "Fiber bags", bags, words("whole bags into each load")))
    sheeting = materials.retarder(plan)
    if sheeting:
        says = words("{s} strips, lapped {l}", s=sheeting.strips, l=depth(sheeting.lap))
        figures.append(Figure("retarder_rolls", "Vapor retarder, rolls", sheeting.rolls, says))
        figures.append(Figure("retarder", "Vapor retarder, bought", area(sheeting.bought)))
    compound, how = materials.curing(plan)
    figures.append(Figure("curing", "Curing compound", small_volume(compound), words("if it is cured so")))
    working.append(how)
    notes.append(words("a broomed surface takes 15 to 30 % more curing compound (common practice)"))
    boards = materials.forms(plan)
    deep, values = materials.board_depths(boards)
    figures.append(Figure("forms", "Forms", length(boards.length), words(deep, **values)))
    if boards.openings or boards.bulkheads:
        numbers = words("{e} + {o} + {b}", e=length(boards.edge), o=length(boards.openings), b=length(boards.bulkheads))
        working.append(step("forms", "edges + openings + construction joints", numbers, length(boards.length)))
    return Section("other", "Fiber, sheeting, curing, forms", tuple(figures), (), tuple(working), tuple(notes))


def fiber_bags(plan: Plan, worked: Concrete) -> int | None:
    """Whole bags of fiber, each load on its own; None while the size of a bag is not known."""
    said, order = plan.design.reinforcement, plan.design.order
    if not (said and said.fiber and order and order.fiber_bag):
        return None
    return sum(ordering.bags(load * said.fiber.dose.si, order.fiber_bag.si) for load in worked.loads)
