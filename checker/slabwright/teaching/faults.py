"""Believable faults, one or more for every rule, and how they get into a sound design.

They are data, in ``faults/<group>.yaml`` beside this module: the rule a fault breaks, its name, what is wrong in a
foreman's words, what else falls short with it and why, and for each sound job the values to change. A value is written
once for inch plans and once for metric ones where they differ.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal, get_args

import yaml

from slabwright.source import edit, locate
from slabwright.source.files import read_text
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind

Verb = Literal["put", "add", "raise", "scale", "drop"]

SOUND = ("trailer_bay_corrected", "garden_patio", "garage_floor", "school_walk")
OWN = "meets"  # stands for the rule's own small example
_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


@dataclass(frozen=True, slots=True)
class Change:
    """One value changed.

    ``put`` writes a value or adds the key, ``add`` puts an entry at the end of a list, ``raise`` moves a height by a
    length with its unit (below zero: lowers it), ``scale`` multiplies the number in front of a unit, ``drop`` leaves
    the key or entry out.
    """

    verb: Verb
    path: str
    value: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """One way to break a rule; ``changes`` by the name of the job it fits, ``also`` the other rules it must break."""

    rule: str
    name: str
    told: str  # what is wrong, in a foreman's words
    changes: Mapping[str, tuple[Change, ...]]
    also: Mapping[str, str]  # rule -> why it cannot but fall short as well


@cache
def faults() -> tuple[Fault, ...]:
    """Every fault, in the order of its file and by the name of the file."""
    return tuple(fault for path in sorted((Path(__file__).parent / "faults").glob("*.yaml")) for fault in _in(path))


@cache
def without_fault() -> Mapping[str, str]:
    """Rules that no change of a design can break, and why."""
    path = Path(__file__).parent / "without_fault.yaml"
    return dict(yaml.load(read_text(path), _LOADER) or {})


def _in(path: Path) -> Iterator[Fault]:
    for entry in yaml.load(read_text(path), _LOADER) or ():
        changes = {job.strip(): _changes(what) for jobs, what in entry["in"].items() for job in jobs.split(",")}
        yield Fault(entry["rule"], entry["name"], entry["told"], changes, entry.get("also", {}))


def _changes(what: Mapping[str, Any]) -> tuple[Change, ...]:
    found: list[Change] = []
    for verb in get_args(Verb):
        said = what.get(verb, {})
        items = said.items() if isinstance(said, dict) else ((path, "") for path in said)
        found.extend(Change(verb, path, value) for path, value in items)
    return tuple(found)


def path_of(job: str, rule: str = "") -> Path:
    """Where a sound job is; for :data:`OWN` the small example of ``rule``."""
    folder = locate.folder("example_designs")
    return folder / "rules" / rule / "meets.slab.yaml" if job == OWN else folder / "jobs" / f"{job}.slab.yaml"


def seed(fault: Fault, job: str, text: str) -> str | None:
    """The text of a job with a fault put in; None when the job has nothing there to break.

    Values are changed where they stand, so remarks and all else are left as typed.
    """
    changes = fault.changes.get(job, ())
    return all_changed(text, changes) if changes else None


def all_changed(text: str, changes: Iterable[Change]) -> str | None:
    """The text with every change made; None where one of them has nothing there to change."""
    for change in changes:
        after = changed(text, change)
        if after is None or after == text:
            return None
        text = after
    return text


def line_of(text: str, path: str) -> int:
    """The line, from 1, of the value at a path, or of the section that would hold it; 1 where neither is there."""
    while path:
        line = edit.line_of(text, path)
        if line is not None:
            return line
        path = path[: max(path.rfind("."), path.rfind("["), 0)]
    return 1


def changed(text: str, change: Change) -> str | None:
    """The text of a design with one value changed; None where it has nothing there to change."""
    held = change.path if change.verb == "add" else change.path.rpartition(".")[0]
    if held and edit.line_of(text, held) is None:  # a fault breaks what is there, and brings no section of its own
        return None
    match change.verb:
        case "put":
            return edit.put(text, change.path, change.value)
        case "add":
            return edit.add(text, change.path, change.value)
        case "drop":
            return edit.drop(text, change.path)
        case "raise":
            return _raised(text, change.path, change.value)
        case "scale":
            return _scaled(text, change.path, float(change.value))


def _raised(text: str, path: str, by: str) -> str | None:
    """A height moved by a length, written to as many decimals as before."""
    before, unit = edit.value_at(text, path), edit.value_at(text, "units.height")
    if before is None or unit is None:
        return None
    meters = quantity.read(by.removeprefix("-"), Kind.DEPTH).si * (-1 if by.startswith("-") else 1)
    more = quantity.to_unit(Amount(meters, Kind.HEIGHT), unit)
    decimals = len(before.partition(".")[2])
    return edit.put(text, path, f"{float(before) + more:.{decimals}f}")


def _scaled(text: str, path: str, factor: float) -> str | None:
    before = edit.value_at(text, path)
    if before is None:
        return None
    number, _, unit = before.partition(" ")
    return edit.put(text, path, f"{float(number) * factor:.4g} {unit}".strip())
