"""Designs turned, mirrored, shifted, raised, renamed, listed in another order, or written in the other units.

Every function takes a :class:`Drawing` and gives another that means the same slab. They work on the parsed YAML, led by
the schema: it says which text is a quantity of which kind, which pair is a place on the plan and which word the name
of a point. All values are kept as the text they are typed in.
"""

from __future__ import annotations

import json
import math
import random
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any, Literal

import yaml
from slabwright.source import locate
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind

XY = tuple[float, float]
System = Literal["us", "metric"]

# What a number of each kind is written in; kinds that no unit system changes are left out.
UNIT_OF: Mapping[Kind, Mapping[System, str]] = {
    Kind.LENGTH: {"us": "ft", "metric": "m"},
    Kind.DEPTH: {"us": "in", "metric": "mm"},
    Kind.HEIGHT: {"us": "ft", "metric": "m"},
    Kind.SLOPE: {"us": "in/ft", "metric": "mm/m"},
    Kind.AREA: {"us": "ft2", "metric": "m2"},
    Kind.VOLUME: {"us": "yd3", "metric": "m3"},
    Kind.STRESS: {"us": "psi", "metric": "MPa"},
    Kind.PRESSURE: {"us": "psi", "metric": "kPa"},
    Kind.SUBGRADE: {"us": "pci", "metric": "MN/m3"},
    Kind.FORCE: {"us": "lb", "metric": "kN"},
    Kind.LINE_LOAD: {"us": "lb/ft", "metric": "kN/m"},
    Kind.UNIT_WEIGHT: {"us": "lb/yd3", "metric": "kg/m3"},
    Kind.MASS: {"us": "lb", "metric": "kg"},
    Kind.SMALL_VOLUME: {"us": "gal", "metric": "L"},
    Kind.TEMPERATURE: {"us": "°F", "metric": "°C"},
    Kind.SPEED: {"us": "mph", "metric": "km/h"},
    Kind.PLACING_RATE: {"us": "yd3/h", "metric": "m3/h"},
    Kind.COVERAGE: {"us": "ft2/gal", "metric": "m2/L"},
}
_IN_PHRASE = re.compile(r"\d[\d\s./'\"-]*(?:in|ft|mm|cm|m|\")?(?![a-z])")


class _Plain(yaml.emitter.Emitter, yaml.serializer.Serializer, yaml.representer.SafeRepresenter,
             yaml.resolver.BaseResolver):  # fmt: skip
    """Writes every text without quotes where YAML lets it."""

    def __init__(self, stream: Any, width: int) -> None:
        yaml.emitter.Emitter.__init__(self, stream, width=width, allow_unicode=True)
        yaml.serializer.Serializer.__init__(self)
        yaml.representer.SafeRepresenter.__init__(self, sort_keys=False)
        yaml.resolver.BaseResolver.__init__(self)

    def ignore_aliases(self, data: Any) -> bool:
        return True


@dataclass(frozen=True)
class Drawing:
    """A design file as parsed, all values text, and the files of rod readings it names."""

    data: dict[str, Any]
    readings: Mapping[str, str]

    def text(self) -> str:
        """The design as YAML."""
        from io import StringIO

        out = StringIO()
        dumper = _Plain(out, 1000)
        dumper.open()
        dumper.represent(self.data)
        dumper.close()
        return out.getvalue()

    def write(self, folder: Path) -> Path:
        """Write the design and its readings; where the design is."""
        for name, text in self.readings.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, encoding="utf-8")
        path = folder / "pad.slab.yaml"
        path.write_text(self.text(), encoding="utf-8")
        return path


def drawn(path: Path) -> Drawing:
    """The design in a file."""
    return drawing_of(path.read_text(encoding="utf-8"), path.parent)


def drawing_of(text: str, folder: Path = Path()) -> Drawing:
    """The design in a text; rod readings are looked for in ``folder``."""
    data = yaml.load(text, yaml.BaseLoader)
    heights = data.get("heights", {})
    names = [heights[key] for key in ("finish", "base", "existing") if isinstance(heights.get(key), str)]
    return Drawing(data, {name: (folder / name).read_text(encoding="utf-8") for name in names})


@dataclass(frozen=True)
class _Change:
    """What becomes of each sort of value."""

    pair: Callable[[XY], XY] | None = None  # meters
    amount: Callable[[str, Amount, bool], str] = lambda text, amount, bare: text
    name: Callable[[str], str] = lambda name: name
    phrase: Callable[[str], str] = lambda phrase: phrase
    plan_unit: str = ""  # written afterwards; as before when empty


def turned(drawing: Drawing, degrees: float) -> Drawing:
    """Turned about the origin, counterclockwise; quarter turns are exact."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    if degrees % 90 == 0:
        c, s = float(round(c)), float(round(s))
    return _changed(drawing, _Change(pair=lambda xy: (c * xy[0] - s * xy[1], s * xy[0] + c * xy[1])))


def mirrored(drawing: Drawing) -> Drawing:
    """Seen in a mirror: left is right, and the corners run the other way round."""
    return _changed(drawing, _Change(pair=lambda xy: (-xy[0], xy[1])))


def shifted(drawing: Drawing, east: float, north: float) -> Drawing:
    """Moved by so many meters."""
    return _changed(drawing, _Change(pair=lambda xy: (xy[0] + east, xy[1] + north)))


def raised(drawing: Drawing, by: float) -> Drawing:
    """Every height, those of benches, fixed things, ground, sills and rims among them, ``by`` m higher."""
    unit = str(drawing.data["units"]["height"])

    def lift(text: str, amount: Amount, bare: bool) -> str:
        if amount.kind != Kind.HEIGHT:
            return text
        higher = Amount(amount.si + by, Kind.HEIGHT)
        return decimal(quantity.to_unit(higher, unit)) if bare else f"{decimal(higher.si)} m"

    return _changed(drawing, _Change(amount=lift))


def renamed(drawing: Drawing) -> Drawing:
    """Every point under another name, in another order of the alphabet."""
    names = list(drawing.data.get("points", ()))
    new = {name: f"Q{len(names) - k:03d}" for k, name in enumerate(names)}
    return _changed(drawing, _Change(name=lambda name: new.get(name, name)))


def started_elsewhere(drawing: Drawing, by: int = 1) -> Drawing:
    """The outline begun ``by`` corners further on, and so are the openings."""
    data = dict(drawing.data, outline=_begun(drawing.data["outline"], by))
    for key in ("openings", "parts"):
        if key in data:
            data[key] = [dict(one, corners=_begun(one["corners"], by)) for one in data[key]]
    return replace(drawing, data=data)


def _begun(corners: list[Any], by: int) -> list[Any]:
    """A ring begun ``by`` corners on; a first corner that an arc closes on stands once."""
    first, last = corners[0], corners[-1]
    if first == (last["arc_to"] if isinstance(last, dict) else last):
        corners = corners[1:]
    by %= len(corners)
    return corners[by:] + corners[:by]


def walked_back(drawing: Drawing) -> Drawing:
    """The outline, the openings and every run along them listed the other way round."""
    data = dict(drawing.data, outline=_back(drawing.data["outline"]))
    for key in ("openings", "parts"):
        if key in data:
            data[key] = [dict(one, corners=_back(one["corners"])) for one in data[key]]
    if "edges" in data:
        data["edges"] = [_run_back(edge) for edge in data["edges"]]
    if "thickened_edges" in data["thickness"]:
        edges = [_run_back(edge) for edge in data["thickness"]["thickened_edges"]]
        data["thickness"] = dict(data["thickness"], thickened_edges=edges)
    return replace(drawing, data=data)


def _back(corners: list[Any]) -> list[Any]:
    """A ring the other way round: an arc belongs to the corner it ends at, and now ends where it began."""
    at = [corner["arc_to"] if isinstance(corner, dict) else corner for corner in corners]
    through = [corner["through"] if isinstance(corner, dict) else None for corner in corners]
    found = []
    for k in range(len(corners) - 1, -1, -1):
        arc = through[(k + 1) % len(corners)]
        found.append({"arc_to": at[k], "through": arc} if arc is not None else at[k])
    return found


def _run_back(edge: dict[str, Any]) -> dict[str, Any]:
    edge = dict(edge)
    for key in ("run", "ground"):
        if isinstance(edge.get(key), list):
            edge[key] = edge[key][::-1]
    return edge


def shuffled(drawing: Drawing, seed: int = 5) -> Drawing:
    """Edges, joints, fixtures, openings, fixed heights, height lines, points and heights listed in another order."""
    order = random.Random(seed)

    def mixed(value: Any) -> Any:
        items = list(value.items()) if isinstance(value, dict) else list(value)
        order.shuffle(items)
        return dict(items) if isinstance(value, dict) else items

    data = dict(drawing.data)
    for key in ("edges", "joints", "fixtures", "openings", "parts", "fixed", "points", "loads"):
        if key in data:
            data[key] = mixed(data[key])
    if "heights" in data:
        mixable = {key: mixed(value) for key, value in data["heights"].items() if not isinstance(value, str)}
        data["heights"] = {**data["heights"], **mixable}
    return replace(drawing, data=mixed(data))


def other_units(drawing: Drawing) -> Drawing:
    """Feet, inches and pounds in meters, millimeters and newtons, or the other way round; bars keep their names.

    The review still shows the system it showed before: rules take 25 mm for the inch and 100 mm for 4 in on metric
    plans, and are meant to.
    """
    units = drawing.data["units"]
    to: System = "metric" if units["plan"] in ("ft", "in") else "us"
    unit = UNIT_OF[Kind.LENGTH][to]

    def convert(text: str, amount: Amount, bare: bool) -> str:
        if amount.kind not in UNIT_OF:
            return text
        return decimal(quantity.to_unit(amount, unit)) if bare else typed(amount, to)

    def phrase(text: str) -> str:
        found = list(_IN_PHRASE.finditer(text))
        last = re.search(r"(in|ft|mm|cm|m|\")\s*$", found[-1][0].strip()) if found else None
        for match in reversed(found):
            whole = match[0].strip()
            whole += "" if re.search(r"[a-z'\"]", whole) or last is None else f" {last[1]}"
            text = (
                f"{text[: match.start()]}{typed(quantity.read(whole, Kind.DEPTH), to)} {text[match.end() :].lstrip()}"
            )
        return text.strip()

    changed = _changed(drawing, _Change(pair=lambda xy: xy, amount=convert, phrase=phrase, plan_unit=unit))
    written = {"plan": unit, "height": unit, "show": units.get("show", "us" if to == "metric" else "metric")}
    return replace(changed, data={**changed.data, "units": written})


def typed(amount: Amount, system: System) -> str:
    """An amount as text in a unit of ``system``, to the last digit that counts.

    >>> typed(quantity.read("12 ft", Kind.LENGTH), "metric")
    '3.6576 m'
    """
    unit = UNIT_OF[amount.kind][system]
    return f"{decimal(quantity.to_unit(amount, unit))} {unit}"


def decimal(value: float) -> str:
    """A number with at most ten decimals and no exponent."""
    text = f"{value:.10f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@cache
def _schema() -> dict[str, Any]:
    found: dict[str, Any] = json.loads((locate.folder("schemas") / "design.schema.json").read_text(encoding="utf-8"))
    return found


def _named(reference: str) -> dict[str, Any]:
    """What a reference of the schema names."""
    found = _schema()
    for key in reference.removeprefix("#/").split("/"):
        found = found[key]
    return found


def _changed(drawing: Drawing, change: _Change) -> Drawing:
    units = drawing.data["units"]
    data = _walk(drawing.data, _schema(), change, units)
    readings = {name: _read_again(text, change, units) for name, text in drawing.readings.items()}
    return Drawing(data, readings)


def _walk(value: Any, schema: dict[str, Any], change: _Change, units: Mapping[str, str]) -> Any:
    """A value with every quantity, place and name in it changed."""
    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        if name == "pair" and isinstance(value, list):
            return _pair(value, change, units)
        schema = _named(schema["$ref"])
    if "anyOf" in schema and "properties" not in schema:
        branches = [one for one in schema["anyOf"] if _fits(value, one)]
        branch = next((one for one in branches if one == _PAIRS and _numbers(value)), next(iter(branches), None))
        return value if branch is None else _walk(value, branch, change, units)
    if isinstance(value, list):
        return [_walk(item, schema.get("items", {}), change, units) for item in value]
    if isinstance(value, dict):
        named = schema.get("keys") == "point" or schema.get("additionalProperties") == _PAIRS
        others = schema.get("additionalProperties")
        inner = others if isinstance(others, dict) else {}
        return {
            (change.name(key) if named else key): _walk(
                item, schema.get("properties", {}).get(key, inner), change, units
            )
            for key, item in value.items()
        }
    return _text(str(value), schema, change, units)


_PAIRS = {"$ref": "#/$defs/pair"}


def _numbers(value: Any) -> bool:
    """Whether a list is of numbers, and so one place rather than the names of several."""
    return isinstance(value, list) and all(isinstance(one, str) and re.match(r"[-+.\d]", one) for one in value)


def _fits(value: Any, schema: dict[str, Any]) -> bool:
    if "$ref" in schema:
        schema = _named(schema["$ref"])
    if "const" in schema:
        return bool(value == schema["const"])
    kinds = schema.get("type", "object")
    if isinstance(value, dict):
        return kinds == "object" and set(schema.get("required", ())) <= set(value)
    return kinds == "array" if isinstance(value, list) else kinds not in ("array", "object")


def _pair(value: list[str], change: _Change, units: Mapping[str, str]) -> list[str]:
    if change.pair is None:
        return value
    x, y = (_amount(text, Kind.LENGTH, units["plan"])[0].si for text in value)
    unit = change.plan_unit or units["plan"]
    return [decimal(quantity.to_unit(Amount(m, Kind.LENGTH), unit)) for m in change.pair((x, y))]


def _amount(text: str, kind: Kind, unit: str) -> tuple[Amount, bool]:
    """An amount, and whether it was a bare number in ``unit``."""
    if unit and (typed := re.fullmatch(r"([-+]?)([\d.]+)?\s*(\d+/\d+)?", text)):
        size = float(typed[2] or 0) + float(Fraction(typed[3] or 0))
        return quantity.bare(-size if typed[1] == "-" else size, unit, kind), True  # type: ignore[arg-type]
    return quantity.read(text, kind), False


def _text(text: str, schema: dict[str, Any], change: _Change, units: Mapping[str, str]) -> str:
    if schema.get("names") == "point":
        return change.name(text)
    if schema.get("grammar") == "asked":
        return change.phrase(text)
    if schema.get("grammar") == "board":
        name, meters = quantity.board_depth(text)
        return text if name else change.amount(text, Amount(meters, Kind.DEPTH), False)
    if "quantity" not in schema or re.fullmatch(r"\d+/\d+", text):  # stone by its sieves, such as 0/22
        return text
    amount, bare = _amount(text, Kind(schema["quantity"]), units[schema["bare"]] if "bare" in schema else "")
    return change.amount(text, amount, bare)


def _read_again(text: str, change: _Change, units: Mapping[str, str]) -> str:
    """Rod readings with places and names changed, all lengths in meters."""
    lines = [line.split(",") for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    heads = [re.fullmatch(r"\s*([a-z_ ]+?)\s*(?:\((\w+)\))?\s*", cell.lower()) for cell in lines[0]]
    columns = {head[1]: k for k, head in enumerate(heads) if head}
    unit_of = {head[1]: head[2] for head in heads if head}
    rows = []
    for cells in lines[1:]:
        row = [cell.strip() for cell in cells]
        for name in ("backsight", "bs", "foresight", "fs", "x", "y"):
            k = columns.get(name, len(row))
            if k < len(row) and row[k]:
                unit = unit_of[name] or units["plan" if name in "xy" else "height"]
                row[k] = decimal(_amount(row[k], Kind.HEIGHT, unit)[0].si)
        x, y = (columns.get(name, len(row)) for name in "xy")
        if change.pair and x < len(row) and y < len(row) and row[x]:
            row[x], row[y] = (decimal(m) for m in change.pair((float(row[x]), float(row[y]))))
        row[columns["point"]] = change.name(row[columns["point"]])
        rows.append(",".join(row))
    measured = ("backsight", "bs", "foresight", "fs", "x", "y")
    head = ",".join(f"{name} (m)" if name in measured else name for name in columns)
    return "\n".join([head, *rows, ""])
