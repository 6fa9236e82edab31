"""A design begun from a survey or a drawing: what it shows, and the rest to be filled in."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path

from slabwright.design.read import read_text
from slabwright.design.spelling import nearest
from slabwright.design.uses import CALLED, COUNTS_AS, Called
from slabwright.exchange.geojson import read_geojson
from slabwright.exchange.marked import flights, sections
from slabwright.exchange.survey import Shot, Survey
from slabwright.exchange.survey_csv import read_survey
from slabwright.plan.plan import Plan
from slabwright.source.problem import UnreadableError, refuse

SUFFIXES = {".csv": "csv", ".txt": "csv", ".geojson": "geojson", ".json": "geojson"}

# Usual thickness, and a cut of a quarter of it (common practice).
_THIN, _THICK = (
    {"ft": ("4 in", "1 in"), "m": ("100 mm", "30 mm")},
    {"ft": ("6 in", "1 1/2 in"), "m": ("150 mm", "40 mm")},
)
_LIGHT = ("patio", "walk")


def begin_from(path: Path, called: str, unit: str = "") -> str:
    """The text of a design for what a survey CSV or a GeoJSON file shows.

    :raises UnreadableError: with every problem of the file, and every question it leaves.
    """
    use = next((one for one in CALLED if one == called), None)
    if use is None:
        asked = nearest(called, CALLED) if called else ""
        wrong = f"there is no use {called!r}" if called else "it is not said what the slab is for"
        refuse("", wrong, asked or f"--use with one of: {', '.join(CALLED)}")
    sort = SUFFIXES.get(path.suffix.lower())
    if sort is None:
        refuse(str(path), "a design begins from a survey or a drawing", "the name of a .csv or .geojson file")
    if sort == "csv":
        return _that_reads(path, written(read_survey(path, unit), use))
    return _that_reads(path, written(read_geojson(path, unit), use))


def _that_reads(path: Path, text: str) -> str:
    """The text, if a review of it could begin.

    :raises UnreadableError: naming the file it was begun from, with the first thing that keeps it from that.
    """
    try:
        Plan(read_text(path.with_suffix(".slab.yaml"), text)[0])
    except UnreadableError as reason:
        first = reason.problems[0]
        refuse(str(path), first.wrong, first.write)
    return text


def written(survey: Survey, use: Called) -> str:
    """The text of the design."""
    unit = survey.unit
    thickness, depth = (_THIN if COUNTS_AS[use] in _LIGHT else _THICK)[unit]
    steps = flights(survey.marked)
    name = _quoted(f"{Path(survey.file).stem}, to be named")
    parts = [
        "# Begun from a survey: its points as they were taken, easting first. Fill in what it does not show,\n"
        "# then run: slabwright review THIS-FILE\n"
        f"format: 1\njob: {{name: {name}}}\nunits: {{plan: {unit}, height: {unit}}}\nuse: {use}\n",
        _section("points", (f"  {one.name}: [{number(one.x)}, {number(one.y)}]" for one in survey.shots.values())),
        f"outline: [{', '.join(survey.outline)}]\n",
        _section(
            "openings", (f"  - {{name: {_quoted(k)}, corners: [{', '.join(v)}]}}" for k, v in survey.openings.items())
        ),
        "# What stands beside each edge: building, street, lawn and so on, a run for each.\n"
        "edges:\n  - {rest: open ground}\n" + _taken_as_finish(survey),
        _heights(survey),
        _section("fixtures", (f"  - {{kind: drain, at: {one.name}}}" for one in survey.of("drain"))),
        f"thickness:   # usual for a {use}; change it to yours\n  design: {thickness}\n"
        if steps
        else f"thickness: {{design: {thickness}}}   # usual for a {use}; change it to yours\n",
        "".join(["  steps:\n", *(f"    - {one}\n" for one in steps)] if steps else []),
        *(_section(key, (f"  - {one}" for one in entries)) for key, entries in sections(survey.marked)),
        _section(
            "joints",
            (
                f"  - {{name: {_quoted(k)}, kind: {kind}, along: [{', '.join(names)}]"
                + (f", depth: {depth}}}" if kind == "saw cut" else "}")
                for k, (kind, names) in survey.joints.items()
            ),
        ),
    ]
    return "".join(part for part in parts if part)


def number(value: float) -> str:
    """A number as a survey has it, to a tenth of a millimeter, without zeros at the end.

    >>> number(12.50), number(100.0), number(-0.00001)
    ('12.5', '100', '0')
    """
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _height(value: float) -> str:
    """A height, with two decimals at least."""
    whole, _, part = number(value).partition(".")
    return f"{whole}.{part:0<2}"


def _section(key: str, lines: Iterable[str]) -> str:
    told = list(lines)
    return "\n".join([f"{key}:", *told, ""]) if told else ""


def _taken_as_finish(survey: Survey) -> str:
    """A line of the design that tells which points nobody said to be on the finish."""
    if not survey.unknown:
        return ""
    told = ", ".join(" ".join(one.split()) for one in survey.unknown)
    return f"# Taken as heights of the finish, for their descriptions are not known; leave out what is none: {told}\n"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _heights(survey: Survey) -> str:
    surfaces: Mapping[str, list[Shot]] = {
        "finish": survey.of("corner", "opening", "joint", "valley", "ridge", "grade break", "finish", "drain"),
        "base": survey.of("base"),
        "existing": survey.of("existing"),
        "benches": survey.of("bench"),
    }
    lines = []
    for key, shots in surfaces.items():
        spots = [f"{one.name}: {_height(one.z)}" for one in shots if one.z is not None]
        if spots:
            lines.append(f"  {key}: {{{', '.join(spots)}}}")
    if survey.lines:
        lines.append("  lines:")
        for name, (kind, names) in survey.lines.items():
            lines.append(f"    - {{name: {_quoted(name)}, kind: {kind}, along: [{', '.join(names)}]}}")
    return _section("heights", lines)
