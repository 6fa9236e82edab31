"""A CSV file of rod readings as rows of meters; semicolons or tabs may part its columns, with decimal commas."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, cast

from slabwright.formulas.units import FOOT
from slabwright.source import yaml_tree
from slabwright.source.place import Place
from slabwright.source.problem import PROBLEMS_AT_MOST, Problems
from slabwright.units import quantity
from slabwright.units.mistyped import with_points
from slabwright.units.quantity import Kind, QuantityError

LONGEST_ROD = 25 * FOOT
_COLUMN = re.compile(r"([a-z ]+?) *(?:\((ft|in|m|mm)\))?")
_ALSO = {"bs": "backsight", "fs": "foresight", "name": "point", "remark": "note", "remarks": "note", "notes": "note"}
_COLUMNS = ("setup", "point", "backsight", "foresight", "x", "y", "note")
_NUMBER = re.compile(r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)")
_ONE_COMMA = re.compile(r"^([-+]?\d*),(\d+)(?![\d.,])")
_HELP = "the first line names the columns: setup, point, backsight, foresight, and x, y where points are only here"


@dataclass(slots=True)
class Row:
    """One line of readings, meters."""

    place: Place
    setup: str | None  # None: the file has no such column
    point: str
    backsight: float | None
    foresight: float | None
    xy: tuple[float, float] | None


class Sheet:
    """The file as rows of meters."""

    def __init__(self, file: str, text: str, units: Mapping[str, str], problems: Problems) -> None:
        self.file = file
        self.problems = problems
        self.lines = re.split(r"\r\n|\r|\n", text)
        self.quoted = '"' in text
        self.sign = ","  # between columns
        self.columns: dict[str, int] = {}
        self.factors: dict[str, float] = {}
        self.units: dict[str, str] = {}
        self.first = next((at for at, line in enumerate(self.lines) if _holds(line)), None)
        if self.first is None:
            problems.add(Place(file), "this file holds no readings", _HELP)
            return
        if yaml_tree.invisible(text, file, problems):
            return
        self.head(self.lines[self.first], self.first + 1, units)

    def head(self, line: str, number: int, units: Mapping[str, str]) -> None:
        """The line that names the columns."""
        place = Place(self.file, number)
        self.sign = next((sign for sign in (";", "\t") if sign in line and "," not in line), ",")
        columns: dict[str, int] = {}
        good = True
        for at, cell in enumerate(self.cells(line)):
            found = _COLUMN.fullmatch(cell.strip().lower().replace("_", " "))
            name = _ALSO.get(found[1], found[1]) if found else ""
            if found is None or name not in _COLUMNS or name in columns:
                what = "is named twice" if name in columns else "is not a column known here"
                self.problems.add(self.spot(number, at), f'"{cell.strip()}" {what}', _HELP)
                good = False
                continue
            columns[name] = at
            unit = found[2] or units["plan" if name in ("x", "y") else "height"]
            self.units[name] = unit
            self.factors[name] = quantity.bare(1.0, cast(Any, unit), Kind.LENGTH).si
        missing = [f'"{name}"' for name in ("point", "backsight", "foresight") if name not in columns]
        if ("x" in columns) != ("y" in columns):
            missing.append('"y"' if "x" in columns else '"x"')
        if missing and good:
            self.problems.add(place, f"there is no column {' and no '.join(missing)}", _HELP)
        elif good:
            self.columns = columns

    def cells(self, line: str) -> list[str]:
        """The cells of a line."""
        if self.quoted and '"' in line:
            return next(csv.reader([line], delimiter=self.sign), [])
        return line.split(self.sign)

    def spot(self, number: int, at: int) -> Place:
        """Place of the cell ``at``, from 0, of a line, counted from 1."""
        line = self.lines[number - 1]
        if '"' in line:
            return Place(self.file, number)
        before = line.split(self.sign)[: at + 1]
        lead = len(before[-1]) - len(before[-1].lstrip()) if before and before[-1].strip() else 0
        return Place(self.file, number, sum(len(cell) + 1 for cell in before[:at]) + lead + 1)

    def rows(self) -> list[Row]:
        """Every line of readings that can be read; the others are problems."""
        rows: list[Row] = []
        width = len(self.cells(self.lines[cast(int, self.first)]))
        for number, line in enumerate(self.lines[cast(int, self.first) + 1 :], cast(int, self.first) + 2):
            if not _holds(line):
                continue
            if len(self.problems) >= PROBLEMS_AT_MOST:
                break
            cells = self.cells(line.split(" #")[0] if " #" in line and '"' not in line else line)
            if len(cells) > width:
                self.problems.add(
                    Place(self.file, number),
                    f"this line has {len(cells)} columns and the first line has {width}",
                    "4.25, with a point, where a decimal comma split a number in two",
                )
                continue
            row = self.row(number, cells)
            if row is not None:
                rows.append(row)
        return rows

    def row(self, number: int, cells: Sequence[str]) -> Row | None:
        """One line."""
        place = Place(self.file, number)

        def cell(name: str) -> str:
            at = self.columns.get(name)
            return cells[at].strip() if at is not None and at < len(cells) else ""

        point = cell("point")
        if not point:
            self.problems.add(place, "this line names no point", "the name of the point or bench that was read")
            return None
        before = len(self.problems)
        values = {
            name: self.number(number, name, cell(name)) if cell(name) else None
            for name in ("backsight", "foresight", "x", "y")
        }
        if len(self.problems) > before:
            return None
        x, y = values["x"], values["y"]
        if (x is None) != (y is None):
            self.problems.add(place, f'"{point}" has x or y, not both', "both, or neither")
            return None
        if values["backsight"] is None and values["foresight"] is None:
            self.problems.add(place, f'"{point}" has no reading', "the backsight or the foresight")
            return None
        setup = cell("setup") if "setup" in self.columns else None
        xy = (x, y) if x is not None and y is not None else None
        return Row(place, setup, point, values["backsight"], values["foresight"], xy)

    def number(self, number: int, name: str, cell: str) -> float | None:
        """A reading or a coordinate, meters; beside semicolons or tabs a comma can only be a decimal one."""
        reading = name in ("backsight", "foresight")
        cell = _ONE_COMMA.sub(r"\1.\2", cell) if self.sign != "," else with_points(cell)
        if _NUMBER.fullmatch(cell):
            value = float(cell) * self.factors[name]
        else:
            try:
                value = quantity.read(cell, Kind.HEIGHT).si
            except QuantityError as reason:
                self.problems.add(self.spot(number, self.columns[name]), reason.wrong, reason.write)
                return None
        if reading and not 0 <= value <= LONGEST_ROD:
            self.problems.add(
                self.spot(number, self.columns[name]),
                f"{name} {cell} cannot be read on a rod: 0 to 25 ft (7.6 m) can be",
                "what the rod shows; heights go into the design itself",
            )
            return None
        if abs(value) > 3e6:
            self.problems.add(
                self.spot(number, self.columns[name]), f"{name} {cell} is too far off", "check the number"
            )
            return None
        return value


def _holds(line: str) -> bool:
    """Whether a line holds something else than a remark."""
    bare = line.strip()
    return bool(bare.strip(",;\t ")) and not bare.startswith("#")
