"""From a design file to a frozen, typed :class:`Design`, with questions that do not stop.

One line: text, tree, checked data, typed design. Each step knows the one before it and nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from slabwright.design import questions as doubts
from slabwright.design.costs import Prices
from slabwright.design.model import Design
from slabwright.design.point import Points
from slabwright.design.schema_gate import gate, schema_named
from slabwright.design.sections import Sections
from slabwright.design.structure import Structure
from slabwright.source import files, yaml_tree
from slabwright.source.node import Node, Section, Text, key_places
from slabwright.source.problem import Problem, Problems

_UNITS = ("ft", "in", "m", "cm", "mm")


def read_design(path: Path) -> tuple[Design, tuple[Problem, ...]]:
    """The design in a file, and questions about it that do not keep it from being read.

    :raises UnreadableError: with every problem found, in file order.
    """
    return read_text(path, files.read_text(path))


def read_text(path: Path, text: str) -> tuple[Design, tuple[Problem, ...]]:
    """The design that ``text`` describes, read as if it stood in the file ``path``.

    Places name ``path``, and companions such as files of rod readings are looked for beside it; the file itself is
    not opened and need not exist.

    :raises UnreadableError: with every problem found, in file order.
    """
    questions = Problems()
    design = design_of(path, text, questions)
    doubts.ask(design, questions)
    return design, tuple(questions)


def design_of(path: Path, text: str, questions: Problems) -> Design:
    """The same design; ``questions`` takes what has to be asked while its values are read, and no more is asked.

    :raises UnreadableError: with every problem found, in file order.
    """
    root = yaml_tree.load(text, str(path))
    problems = Problems()
    if isinstance(root, Section) and {"amendments", "layer"} <= root.entries.keys() and "outline" not in root.entries:
        wrong = "this is a file of local amendments, and no design"
        problems.add(root.keys["amendments"], wrong, f"--amendments {path}, beside the name of a design")
        problems.raise_if_any()
    data = gate(
        root, schema_named("design"), problems, questions, units=_units(root), known={"point": _point_names(root)}
    )
    problems.raise_if_any()
    points = Points(data.get("points"))
    sections = Sections(path, points, problems, questions)
    design = Structure(points, sections.settle).made(Design, data, data.place)._replace(places=key_places(root))
    problems.raise_if_any()
    return design


def read_prices(path: Path) -> Prices:
    """A price file: the keys of ``prices`` and nothing else.

    :raises UnreadableError: with every problem found.
    """
    design = schema_named("design")
    schema = {**design["properties"]["prices"], "$schema": design["$schema"], "$defs": design["$defs"]}
    problems = Problems()
    data = gate(yaml_tree.load(files.read_text(path), str(path)), schema, problems)
    problems.raise_if_any()
    return Structure(Points(None)).made(Prices, data, data.place)


def _units(root: Node) -> Mapping[str, str]:
    """What bare numbers mean, as far as the file says it rightly."""
    units = root.get("units") if isinstance(root, Section) else None
    if not isinstance(units, Section):
        return {}
    said = {key: value.text.lower().strip() for key, value in units.entries.items() if isinstance(value, Text)}
    return {key: unit for key, unit in said.items() if unit in _UNITS}


def _point_names(root: Node) -> frozenset[str] | dict[str, Any]:
    """The names under points, in file order."""
    points = root.get("points") if isinstance(root, Section) else None
    return dict.fromkeys(points.entries) if isinstance(points, Section) else {}
