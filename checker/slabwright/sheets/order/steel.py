"""The part of the order sheet on steel: bars by size, the cutting plan, mesh, supports."""

from __future__ import annotations

from slabwright.sheets.order.cutting import Pattern
from slabwright.sheets.order.materials import BarList, MeshList, Steel
from slabwright.sheets.sheet import Cell, Column, Figure, Section, Table
from slabwright.text.words import Words, words
from slabwright.units.quantity import area, length, mass, share


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
