"""Which sections of a design file two designs differ in, wherever in their files the same is written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from slabwright.design.model import Design
from slabwright.source.place import Place
from slabwright.units.quantity import Amount

# The top-level key of the file that each field of a design, or what follows from it, is read from.
SECTION_OF = {
    **{name: name for name in Design._fields if name not in ("file", "places")},
    **dict.fromkeys(("plan_unit", "height_unit", "home", "system"), "units"),
    "called": "use",
    "pours": "pour",
}


def differing(one: Design, other: Design) -> frozenset[str]:
    """The top-level keys of the file under which two designs do not say the same in the same words.

    >>> from pathlib import Path
    >>> from slabwright.design.read import read_text
    >>> pad = "format: 1\\njob: {name: P}\\nunits: {plan: ft, height: ft}\\nuse: patio\\noutline: [A, B, C]\\n"
    >>> pad += "points: {A: [0, 0], B: [8, 0], C: [8, 8]}\\nthickness: {design: 4 in}\\n"
    >>> texts = pad, "# moved a line down\\n" + pad.replace("4 in", "5 in")
    >>> sorted(differing(*(read_text(Path("pad.slab.yaml"), text)[0] for text in texts)))
    ['thickness']
    """
    return frozenset(
        section for name, section in SECTION_OF.items() if not _same(getattr(one, name), getattr(other, name))
    )


def _same(one: Any, other: Any) -> bool:
    """Whether two values of a design are equal but for their places; typed words count, for they are shown."""
    kind = type(one)
    if kind is not type(other):
        return False
    if one is other or kind is Place:
        return True
    if kind is Amount:
        return bool(one.si == other.si and one.typed == other.typed and one.kind is other.kind)
    if issubclass(kind, tuple):
        pairs = zip(one, other, strict=True) if len(one) == len(other) else ((0, 1),)
        return all(mine is its or _same(mine, its) for mine, its in pairs)
    if issubclass(kind, Mapping):
        return list(one) == list(other) and all(_same(value, other[key]) for key, value in one.items())
    if is_dataclass(kind):
        return all(_same(getattr(one, field.name), getattr(other, field.name)) for field in fields(kind))
    return bool(one == other)
