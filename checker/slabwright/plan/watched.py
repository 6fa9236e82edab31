"""A plan as a rule gets it: what the rule looks at is written down, so that it need not judge again what stays."""

from __future__ import annotations

from typing import Any, cast

from slabwright.design.differing import SECTION_OF
from slabwright.design.model import Design
from slabwright.plan.plan import VIEWS, Plan

EVERYTHING = frozenset(SECTION_OF.values())


class _WatchedDesign:
    """Stands in for a design, and writes down each section when it is first asked for."""

    def __init__(self, design: Design, read: set[str]) -> None:
        self._design, self._read = design, read

    def __getattr__(self, name: str) -> Any:
        if name in SECTION_OF:
            self._read.add(SECTION_OF[name])
        elif name not in ("file", "places", "place"):
            self._read.update(EVERYTHING)
        found = getattr(self._design, name)
        vars(self)[name] = found  # found there from now on
        return found


class _WatchedView:
    """Hands on a view of the plan, and writes down the sections that it rests on when it is first asked for."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __get__(self, watched: Watched, owner: type) -> Any:
        watched.read.update(watched.plan.sections[self._name])
        view = getattr(watched.plan, self._name)
        vars(watched)[self._name] = view
        return view


class Watched(Plan):
    """A plan before one rule; ``read`` are the sections of the file that the rule has looked at, itself or by views."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.read: set[str] = set()
        self.design = cast(Design, _WatchedDesign(plan.design, self.read))


for _name in VIEWS:
    setattr(Watched, _name, _WatchedView(_name))
