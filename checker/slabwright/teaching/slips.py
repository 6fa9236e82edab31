"""Sound jobs, and single slips drawn into them: what exercises are made of.

They are the corpus on which the precision of the review is measured: jobs as competent contractors draw them, and in
``faults/*.yaml`` one slip each, as it really happens, with the rules that should speak.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from slabwright.source import edit, locate
from slabwright.source.files import read_text
from slabwright.teaching.faults import Change, all_changed

_VERBS = ("put", "add", "raise", "drop")
_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip drawn into a sound design."""

    name: str
    design: str
    wrong: str  # in a foreman's words
    rules: tuple[str, ...]  # any of them is right
    weight: str  # the least weight expected
    also: Mapping[str, str] = field(hash=False)  # other rules that the same slip may set off, and why
    changes: tuple[Change, ...] = ()
    new: bool = False  # no rule of that name was there when it was written

    @property
    def paths(self) -> tuple[str, ...]:
        """Where values are changed."""
        return tuple(dict.fromkeys(change.path for change in self.changes))

    @property
    def dropped(self) -> frozenset[str]:
        """Where something is left out."""
        return frozenset(change.path for change in self.changes if change.verb == "drop")

    def into(self, text: str) -> str | None:
        """A text of the design with the slip in it; None where it has nothing there to change."""
        return all_changed(text, self.changes)


@cache
def sound() -> Mapping[str, Path]:
    """Every sound design by its name."""
    folder = locate.folder("corpus") / "sound"
    return {path.name.removesuffix(".slab.yaml"): path for path in sorted(folder.glob("*.slab.yaml"))}


@cache
def slips() -> tuple[Slip, ...]:
    """Every slip, in the order of the files."""
    return tuple(slip for path in sorted((locate.folder("corpus") / "faults").glob("*.yaml")) for slip in _in(path))


def _in(path: Path) -> Iterator[Slip]:
    for one in yaml.load(read_text(path), _LOADER):
        rules = one["rule"] if isinstance(one["rule"], list) else [one["rule"]]
        changes = tuple(_changes(one))
        also = one.get("also", {})
        yield Slip(one["name"], one["in"], one["wrong"], tuple(rules), one["weight"], also, changes, "new" in one)


def _changes(one: Mapping[str, Any]) -> Iterator[Change]:
    for verb in _VERBS:
        said = one.get(verb, {})
        if isinstance(said, str):
            said = [said]
        for path, values in said.items() if isinstance(said, dict) else ((path, "") for path in said):
            for value in values if isinstance(values, list) else [values]:
                yield Change(verb, path, value)  # type: ignore[arg-type]


def job_text(name: str) -> str:
    """A sound job without the remarks in front of it, which tell how it was meant."""
    lines = read_text(sound()[name]).splitlines(keepends=True)
    while lines and (lines[0].startswith("#") or not lines[0].strip()):
        del lines[0]
    return "".join(lines)


def value(text: str, path: str) -> str:
    """What stands at a path of a design, as typed; empty where nothing does."""
    return edit.text_at(text, path) or ""
