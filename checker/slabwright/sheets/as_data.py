"""A sheet of a job as JSON, by ``schemas/sheet.schema.json``, and its main table as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from slabwright.sheets.as_text import cell_text
from slabwright.sheets.sheet import Cell, Figure, Money, Reading, Section, Sheet, Table
from slabwright.text.json_values import Data, amount_data, json_text, step_data
from slabwright.text.letters import visible
from slabwright.text.words import Words, plain, written
from slabwright.units.quantity import Amount, Kind, System, has_comma, numerals, to_unit

VERSION = 1  # of the shape written here; it changes when a key changes its meaning or goes away

# The unit a number of each kind stands in, where a program reads it as text.
_UNITS: dict[Kind, dict[System, str]] = {
    Kind.LENGTH: {"us": "ft", "metric": "m"},
    Kind.DEPTH: {"us": "in", "metric": "mm"},
    Kind.HEIGHT: {"us": "ft", "metric": "m"},
    Kind.AREA: {"us": "ft2", "metric": "m2"},
    Kind.VOLUME: {"us": "yd3", "metric": "m3"},
    Kind.SMALL_VOLUME: {"us": "gal", "metric": "L"},
    Kind.MASS: {"us": "lb", "metric": "kg"},
    Kind.SLOPE: {"us": "%", "metric": "%"},
    Kind.SHARE: {"us": "%", "metric": "%"},
    Kind.DURATION: {"us": "h", "metric": "h"},
    Kind.TEMPERATURE: {"us": "°F", "metric": "°C"},
}
_PLACES = 4


def as_json(sheet: Sheet) -> str:
    """The whole sheet as one JSON document."""
    return json_text(as_data(sheet))


def as_data(sheet: Sheet) -> Data:
    """The sheet as plain data; sections, tables and figures by their keys, rows as objects by column."""
    system = sheet.system
    return {
        "sheet": VERSION,
        "kind": sheet.kind,
        "title": sheet.title,
        "job": sheet.job,
        "number": sheet.number,
        "file": sheet.file,
        "use": sheet.use,
        "pour": sheet.pour.isoformat() if sheet.pour else None,
        **({"pours": [day.isoformat() for day in sheet.pours]} if sheet.pours else {}),
        "system": system,
        "says": [plain(words, system) for words in sheet.says],
        "sections": {section.key: _section(section, system) for section in sheet.sections},
        "cautions": [plain(words, system) for words in sheet.cautions],
        "local_code": sheet.local_code,
    }


def _section(section: Section, system: System) -> Data:
    return {
        "title": section.title,
        "figures": {figure.key: _figure(figure, system) for figure in section.figures},
        "tables": {table.key: _table(table, system) for table in section.tables},
        "working": [step_data(step, system) for step in section.working],
        "notes": [plain(words, system) for words in section.notes],
        "add": [written(one, system) for one in section.add],
    }


def _figure(figure: Figure, system: System) -> Data:
    return {
        "label": figure.label,
        "value": _cell(figure.value, system),
        "says": plain(figure.says, system) if figure.says else None,
    }


def _table(table: Table, system: System) -> Data:
    def row_data(row: tuple[Cell, ...]) -> Data:
        return {column.key: _cell(cell, system) for column, cell in zip(table.columns, row, strict=True)}

    return {
        "title": table.title,
        "columns": {column.key: column.title for column in table.columns},
        "rows": [row_data(row) for row in table.rows],
        "total": row_data(table.total) if table.total else None,
    }


def _cell(cell: Cell, system: System) -> Any:
    match cell:
        case Amount():
            return amount_data(cell, system)
        case Reading():
            return amount_data(cell.amount, system) | {"typed": cell.text}
        case Words():
            return plain(cell, system)
        case Money():
            return {"money": round(cell.value, 2), "currency": cell.currency}
        case _:
            return cell


def as_csv(sheet: Sheet) -> str:
    """The main tables of the sheet as CSV: one row each, numbers without thousands marks, the unit in its own column.

    Where there are several, which have the same columns, the first column names the table.
    Text that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    tables = [sheet.table(key) for key in sheet.rows]
    columns = tables[0].columns
    rows = [
        (*((table.key,) if len(tables) > 1 else ()), *row)
        for table in tables
        for row in (*table.rows, *((table.total,) if table.total else ()))
    ]
    keys = [*(("table",) if len(tables) > 1 else ()), *(column.key for column in columns)]
    measured = [any(isinstance(row[at], Amount | Reading) for row in rows) for at in range(len(keys))]
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";" if has_comma(sheet.system) else ",", lineterminator="\n")
    head: list[str] = []
    for key, has_unit in zip(keys, measured, strict=True):
        head += [key, f"{key}_unit"] if has_unit else [key]
    writer.writerow(head)
    for row in rows:
        cells: list[str] = []
        for cell, has_unit in zip(row, measured, strict=True):
            cells += _csv_cells(cell, sheet.system, has_unit)
        writer.writerow(cells)
    return out.getvalue()


def _csv_cells(cell: Cell, system: System, has_unit: bool) -> Iterator[str]:
    unit = ""
    if isinstance(cell, Reading):
        cell = cell.amount
    match cell:
        case Amount():
            unit = _UNITS.get(cell.kind, {}).get(system, "")
            number = to_unit(cell, unit) if unit else cell.si
            yield numerals(f"{round(number, _PLACES):.{_PLACES}f}".rstrip("0").rstrip("."), system)
        case Money():
            yield numerals(f"{cell.value:.2f}", system)
        case int():
            yield str(cell)
        case _:
            text = visible(cell_text(cell, system)).replace("\u00a0", " ")
            yield f"'{text}" if text[:1] in set("=+-@") else text
    if has_unit:
        yield unit
