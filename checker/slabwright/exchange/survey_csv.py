"""A survey as CSV: point, northing, easting, height, description."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path

from slabwright.exchange.survey import Shot, Survey, Unit, What, ask, chains, safe_name
from slabwright.source import files
from slabwright.source.place import Place
from slabwright.source.problem import Problems, refuse

COLUMNS = ("point", "northing", "easting", "height", "description")
_ALSO = {
    "point": ("pin", "pt", "no", "nr", "number", "name", "id", "point number", "point no"),
    "northing": ("north", "n", "y"),
    "easting": ("east", "e", "x"),
    "height": ("elevation", "elev", "z", "h", "level", "finish"),
    "description": ("desc", "code", "note", "remark", "feature", "what"),
}
_MEANT = {name: column for column, names in _ALSO.items() for name in (column, *names)}
_UNITS: dict[str, Unit] = {"ft": "ft", "feet": "ft", "foot": "ft", "m": "m", "meter": "m", "meters": "m"}
_HEADING = re.compile(r"(?P<name>[a-z #.]+?)[ _]*[\[(]?(?P<unit>(?<![a-z])(?:ft|feet|foot|m|meters?))?[\])]?\.?")
_SAID = re.compile(r"#.*\bunits?\b\W*(ft|feet|m|meters?)\b", re.IGNORECASE)
_CELL = re.compile(r"(?P<number>[-+]?(?:\d+(?:\.\d*)?|\.\d+))\s*(?P<unit>ft|feet|m|meters?|'|)\.?", re.IGNORECASE)
MOST_POINTS, LONGEST_LINE = 5_000, 1_000

# The words of a description that say what a point is; the first that is known counts.
_WORDS: dict[What, tuple[str, ...]] = {
    "corner": ("corner", "cor", "outline", "form", "slab"),
    "opening": ("opening", "hole", "planter", "pit"),
    "joint": ("joint", "jt", "cj", "sawcut", "saw"),
    "valley": ("valley", "swale"),
    "ridge": ("ridge", "crown"),
    "grade break": ("break", "gb"),
    "base": ("base", "subgrade", "stone"),
    "existing": ("existing", "ground", "eg", "ng"),
    "bench": ("bench", "benchmark", "bm", "tbm", "control"),
    "drain": ("drain", "inlet"),
    "finish": ("finish", "fg", "spot", "grade"),
}
_WHAT = {word: what for what, words in _WORDS.items() for word in words}


def read_survey(path: Path, unit: str = "") -> Survey:
    """The survey in a file; ``unit`` is that of its numbers where the file does not say.

    :raises UnreadableError: with every problem and question.
    """
    text = files.read_text(path)
    problems = Problems()
    lines = [(number, line) for number, line in enumerate(re.split(r"\r\n|\r|\n", text), 1) if line.strip()]
    said = next((match[1].lower() for _, line in lines if (match := _SAID.match(line.strip()))), "")
    lines = [(number, line) for number, line in lines if not line.lstrip().startswith("#")]
    if not lines:
        refuse(str(path), "this file holds no points", f"a line for each point: {', '.join(COLUMNS)}")
    if len(lines) > MOST_POINTS:
        refuse(
            str(path),
            f"this file holds {len(lines):,} lines, and at most {MOST_POINTS:,} are read",
            "the points of this slab",
        )
    for number, line in lines:
        if len(line) > LONGEST_LINE:
            wrong = f"line {number} of this file is longer than {LONGEST_LINE:,} letters"
            refuse(str(path), wrong, f"a line for each point: {', '.join(COLUMNS)}")
    parted = _parted_by([line for _, line in lines])
    rows = [(number, [cell.strip() for cell in next(csv.reader([line], delimiter=parted))]) for number, line in lines]
    columns, units = _columns(rows[0][1], Place(str(path), rows[0][0], 1), problems)
    if columns is not None:
        rows = rows[1:]
    else:
        columns = {name: at for at, name in enumerate(COLUMNS)}
    typed: set[Unit] = {*units.values(), *(_UNITS[one] for one in (said, unit) if one)}
    if not typed:
        write = "--units ft or --units m on the command line, or (ft) behind the names of the columns"
        refuse(str(path), "this file does not say whether it is in feet or meters", write)
    if len(typed) > 1:
        refuse(str(path), "feet and meters are mixed between the columns, or with --units", "one unit for all")
    survey = Survey(str(path), typed.pop())
    _read_rows(survey, rows, columns, parted, problems)
    ask(survey, problems)
    problems.raise_if_any()
    return survey


def _parted_by(lines: list[str]) -> str:
    """What parts the columns: tab, semicolon or comma, whichever stands in the most lines."""
    return max("\t;,", key=lambda sign: sum(line.count(sign) >= 2 for line in lines))


def _columns(cells: list[str], place: Place, problems: Problems) -> tuple[dict[str, int] | None, dict[str, Unit]]:
    """The columns of a heading and their units; None where the first line holds a point."""
    if len(cells) > 2 and any(map(_CELL.fullmatch, (cell.replace(",", ".") for cell in cells[1:3]))):
        return None, {}
    columns: dict[str, int] = {}
    units: dict[str, Unit] = {}
    for at, cell in enumerate(cells):
        match = _HEADING.fullmatch(cell.lower())
        name = _MEANT.get(match["name"].strip(" #.")) if match else None
        if name is None:
            continue
        if name in columns:
            problems.add(place, f'two columns are called "{name}"', "one column for each")
        columns[name] = at
        if match and match["unit"]:
            units[name] = _UNITS[match["unit"]]
    missing = [name for name in COLUMNS[:3] if name not in columns]
    if missing:
        problems.add(place, f"the heading names no column {' and no column '.join(missing)}", ", ".join(COLUMNS))
        problems.raise_if_any()
    return columns, units


def _read_rows(
    survey: Survey, rows: list[tuple[int, list[str]]], columns: dict[str, int], parted: str, problems: Problems
) -> None:
    found: list[Shot] = []
    first_on: dict[str, int] = {}
    for number, cells in rows:
        place = Place(survey.file, number, 1)
        if parted == "," and len(cells) >= 7 and all(cell.lstrip("-").isdecimal() for cell in cells[1:7]):
            wrong = "this line has decimal commas, and commas between its columns"
            problems.add(place, wrong, "decimal points, or semicolons between the columns")
            problems.raise_if_any()
        said = {name: cells[at] if at < len(cells) else "" for name, at in columns.items()}
        name = said["point"]
        if not name:
            problems.add(place, "this line names no point", "its number or name first")
            continue
        if first_on.setdefault(name.casefold(), number) != number:
            wrong = f'point "{name}" is there twice; first on line {first_on[name.casefold()]}'
            problems.add(place, wrong, "which of the two is right? Keep one, or give it another number")
            continue
        x = _number(said["easting"], "easting", survey, name, place, parted, problems)
        y = _number(said["northing"], "northing", survey, name, place, parted, problems)
        height = said.get("height", "")
        z = _number(height, "height", survey, name, place, parted, problems) if height not in ("", "-") else None
        if x is not None and y is not None:
            what, label = _what(said.get("description", ""))
            found.append(Shot(safe_name(name), x, y, z, what, label, place, name))
            if label and what == "finish" and not _words(label).keys() & {*_WORDS["finish"]}:
                survey.unknown.append(f"{found[-1].name} ({label})")
    if not any(shot.what in ("corner", "joint", "base", "existing") for shot in found):
        found = [_as_corner(shot) for shot in found]  # a bare list of points: its corners in order
    for shot in found:
        if shot.name in survey.shots:
            problems.add(shot.place, f'two points are called "{shot.name}" in a design', "another name for one of them")
        survey.shots[shot.name] = shot
    survey.outline = [shot.name for shot in survey.of("corner")]
    survey.openings = chains(survey.of("opening"))
    survey.joints = {name: ("saw cut", names) for name, names in chains(survey.of("joint")).items() if len(names) > 1}
    for kind in ("valley", "ridge", "grade break"):
        made = chains(survey.of(kind))
        survey.lines |= {name: (kind, names) for name, names in made.items() if len(names) > 1}


def _as_corner(shot: Shot) -> Shot:
    if shot.what != "finish" or shot.label:
        return shot
    return replace(shot, what="corner")


def _number(
    cell: str, column: str, survey: Survey, name: str, place: Place, parted: str, problems: Problems
) -> float | None:
    text = cell.replace(",", ".") if parted != "," and cell.count(",") == 1 and "." not in cell else cell
    match = _CELL.fullmatch(text)
    if match is None:
        what = f"is {cell!r}, which is no number" if cell else "is missing"
        problems.add(place, f'the {column} of point "{name}" {what}', "a number such as 1204.55")
        return None
    unit = match["unit"].lower()
    if unit and ((unit == "'" and survey.unit == "m") or (unit != "'" and _UNITS[unit] != survey.unit)):
        problems.add(
            place, f'the {column} of point "{name}" is in {unit}, and the file in {survey.unit}', "one unit for all"
        )
    value = float(match["number"])
    if abs(value) > 3e7:
        problems.add(place, f'the {column} of point "{name}" is too far off', "check the number")
        return None
    return value


def _what(description: str) -> tuple[What, str]:
    """What a description says a point is, and what it belongs to.

    >>> _what("joint J1"), _what("COR"), _what("")
    (('joint', 'joint J1'), ('corner', 'COR'), ('finish', ''))
    """
    return next((_WHAT[word] for word in _words(description) if word in _WHAT), "finish"), description


def _words(description: str) -> dict[str, None]:
    return dict.fromkeys(re.findall(r"[a-z]+", description.lower()))
