"""The views of a plan: what each reads of the file, and which of them an edited plan takes over."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import pytest
from example_reviews import DESIGNS, IN_FORCE, JOBS, RULES, TODAY, example, name_of, read_and_worked
from slabwright.design.model import Design
from slabwright.design.read import read_design
from slabwright.plan import figures
from slabwright.plan.plan import VIEWS, Plan
from slabwright.review import run

UNITS = {"plan_unit", "height_unit", "home", "system"}
NO_SECTION = {"file", "places", "place"}  # where things stand in the text
OF_SECTION = {**dict.fromkeys(UNITS, "units"), "called": "use", "pours": "pour"}
FILE_SECTIONS = {OF_SECTION.get(name, name) for name in Design._fields} - NO_SECTION


class Recording:
    """Stands in for a design, and writes down which sections of it are read."""

    def __init__(self, design: Design, read: set[str]) -> None:
        self._design, self._read = design, read

    def __getattr__(self, name: str) -> Any:
        if name not in NO_SECTION:
            self._read.add(OF_SECTION.get(name, name))
        return getattr(self._design, name)

    def _replace(self, **changes: Any) -> Recording:
        return Recording(self._design._replace(**changes), self._read)


def watched(design: Design) -> tuple[Plan, Mapping[str, set[str]]]:
    """A plan each of whose views reads a design of its own, and what each has read."""
    read = {name: set[str]() for name in VIEWS}
    made: dict[str, Any] = {}
    while len(made) < len(VIEWS):
        for name, view in VIEWS.items():
            if name not in made and made.keys() >= set(view.rests_on) - {"design"}:
                asked = {**made, "design": Recording(design, read[name])}
                asked |= dict.fromkeys(view.made.unasked(design))  # nothing can be asked of None
                made[name] = view.made(*(asked[on] for on in view.rests_on))
    return Plan(design, made), read


def members(view: object) -> Iterator[str]:
    """The names of the properties of a view."""
    return (name for name, member in vars(type(view)).items() if isinstance(member, property | cached_property))


@cache
def read_by_views(path: Path) -> Mapping[str, set[str]]:
    """What each view reads of an example while every rule judges it and every property is asked for."""
    plan, read = watched(read_and_worked(path)[0].design)
    run.review(plan, RULES, IN_FORCE, (), TODAY)
    for view in map(vars(plan).__getitem__, VIEWS):
        for member in members(view):
            getattr(view, member)
    return read


@pytest.mark.long
@pytest.mark.parametrize("path", [*DESIGNS, *JOBS], ids=name_of)
def test_no_view_reads_a_section_that_it_does_not_declare(path: Path) -> None:
    for name, sections in read_by_views(path).items():
        assert sections <= VIEWS[name].sections, name


def test_every_declared_section_is_read() -> None:
    """One too many would only cost time; that each is read keeps the declarations true."""
    for name, view in VIEWS.items():
        assert set().union(*(read_by_views(path)[name] for path in JOBS)) == view.sections, name


@pytest.mark.parametrize("path", JOBS, ids=name_of)
def test_views_rest_on_no_section_but_through_what_they_ask(path: Path) -> None:
    plan = read_and_worked(path)[0]
    for name, view in VIEWS.items():
        unasked = view.made.unasked(plan.design)
        through = (plan.sections[other] for other in view.rests_on if other not in {"design", *unasked})
        assert unasked < set(view.rests_on)
        assert plan.sections[name] == view.sections.union(*through)
        assert plan.sections[name] <= FILE_SECTIONS
        assert "design" in view.rests_on or not view.sections


def test_joints_lie_the_same_at_any_height_unless_steps_end_them() -> None:
    plans = [read_and_worked(path)[0] for path in JOBS]
    assert {bool(plan.design.thickness.steps) for plan in plans} == {True, False}
    for plan in plans:
        assert ("heights" in plan.sections["joints"]) is bool(plan.design.thickness.steps)


# taking over


def of_section(design: Design, section: str) -> dict[str, Any]:
    """The fields of a design that a section of the file gives."""
    fields = [name for name in Design._fields if OF_SECTION.get(name, name) == section]
    return {name: getattr(design, name) for name in fields}


def changed(before: Design, after: Design) -> set[str]:
    """The sections in which two designs differ."""
    return {one for one in FILE_SECTIONS if of_section(before, one) != of_section(after, one)}


@cache
def pairs() -> Mapping[str, tuple[Design, Design]]:
    """The two examples of each rule, as two versions of one file."""
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "slab.yaml"
        for rule in sorted({path.parent.name for path in DESIGNS}):
            both = []
            for case in ("meets", "falls_short"):
                path.write_bytes(example(rule, case).read_bytes())
                both.append(read_design(path)[0])
            found[rule] = (both[0], both[1])
    return found


def taken_over(before: Design, after: Design) -> None:
    """Figures and report of a plan that takes over what it can are those of a plan made from nothing."""
    sections, old, whole = changed(before, after), Plan(before), Plan(after)
    run.review(old, RULES, IN_FORCE, (), TODAY)
    new = old.edited(after, sections)
    for name, rests_on in old.sections.items():
        assert (getattr(new, name) is getattr(old, name)) == rests_on.isdisjoint(sections), name
    assert figures.worked(new) == figures.worked(whole)
    assert run.review(new, RULES, IN_FORCE, (), TODAY) == run.review(whole, RULES, IN_FORCE, (), TODAY)


@pytest.mark.long
@pytest.mark.parametrize("rule", sorted({path.parent.name for path in DESIGNS}))
def test_an_edited_plan_is_the_plan_of_the_edited_design(rule: str) -> None:
    before, after = pairs()[rule]
    taken_over(before, after)
    taken_over(after, before)


def edits_of(section: str) -> list[tuple[Design, Design]]:
    """Designs, and the same with this one section as the other example of the rule has it.

    No two of them differ in openings, channels or units; whole jobs lose the two, and are shown the other way.
    """
    jobs = [read_and_worked(path)[0].design for path in JOBS]
    if section == "channels":
        return [(job, job._replace(channels=())) for job in jobs if job.channels]
    if section == "openings":
        return [(job, job._replace(openings=())) for job in jobs if job.openings]
    if section == "units":
        return [(job, job._replace(system="metric" if job.system == "us" else "us")) for job in jobs]
    shape = set() if section in {"points", "outline"} else {"points", "outline"}  # edges lie on the outline they are of
    apart = [(a, b) for a, b in pairs().values() if section in (differ := changed(a, b)) and differ.isdisjoint(shape)]
    return [(one, one._replace(**of_section(other, section))) for one, other in apart]


@pytest.mark.parametrize("section", sorted(FILE_SECTIONS))
def test_an_edit_of_one_section_leaves_views_that_do_not_rest_on_it(section: str) -> None:
    edits = edits_of(section)
    rested_on = any(section in view.sections for view in VIEWS.values())
    assert edits or not rested_on, "no pair of examples differs in it"
    for before, after in edits[:4]:
        taken_over(before, after)
