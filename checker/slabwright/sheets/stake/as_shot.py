"""Readings taken back from the field: off the plan by how much, how thick the slab gets, which rules, which order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from pathlib import Path
from typing import Literal

import numpy as np
import shapely

from slabwright.design.heights import Closing, SpotHeight
from slabwright.design.located import Named
from slabwright.design.shots import read_shots
from slabwright.formulas.units import FOOT
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.review import run
from slabwright.review.report import Comment
from slabwright.rulebook.in_force import WEIGHTS, Limits
from slabwright.rulebook.rule import Rule
from slabwright.sheets.order.concrete import Concrete, concrete, for_other
from slabwright.sheets.sheet import Cell, Column, Figure, Reading, Section, Table, tabled
from slabwright.sheets.stake.pins import Pin, as_points, heights_at
from slabwright.sheets.stake.staked import level
from slabwright.source.place import Place
from slabwright.source.problem import Problem, Problems
from slabwright.text.words import Words, words
from slabwright.text.working import counted
from slabwright.units.quantity import Amount, depth, eighths, numerals, share, show, volume

Of = Literal["base", "finish"]

CLOSE = 0.003  # m: nearer to the plan than a rod can tell, `makers-accuracy`


@dataclass(frozen=True, slots=True)
class Shot:
    """One point as shot; heights and thickness in m, ``off`` above the plan positive."""

    name: str
    planned: float | None
    shot: float
    thickness: float | None
    wanted: float

    @property
    def off(self) -> float | None:
        """As shot less planned, m."""
        return None if self.planned is None else self.shot - self.planned


@dataclass(frozen=True, slots=True)
class AsShot:
    """What the field says. ``plan`` is the design with the heights as shot in place of those planned."""

    of: Of
    shots: tuple[Shot, ...]
    closings: tuple[Closing, ...]
    questions: tuple[Problem, ...]
    plan: Plan
    planned: Plan  # the design as it was
    short_now: tuple[Comment, ...]  # fall short as shot, and did not as planned
    not_judged: tuple[str, ...]  # rules that failed in themselves on the plan as shot
    before: Concrete  # what the plan needs, as ``after`` is what it needs as shot
    after: Concrete
    in_file: Concrete  # as the file orders it


def take_back(
    plan: Plan,
    pins: Sequence[Pin],
    path: Path,
    of: Of,
    benches: Mapping[str, Amount],
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
) -> AsShot:
    """Read a file of rod readings on pins (by number) and points (by name), and work the plan again with them.

    ``of`` says what the rod stood on. Raises :class:`UnreadableError` with every problem of the
    file, or of the plan that comes of it.
    """
    spots, closings, questions = _read(plan, pins, path, benches)
    design = plan.design
    heights = design.heights
    typed: tuple[SpotHeight, ...] = getattr(heights, of)
    kept = [one for one in typed if not any(_same_spot(one, new) for new in spots)]
    by_place = [_by_its_own_name(plan, one) for one in spots]
    new = [_without_thickening(plan, one) for one in by_place] if of == "base" else by_place
    shot = (*new, *kept)
    named = {one.at.name: one.at for one in shot if one.at.name} | dict(design.points)
    with_shots = heights._replace(base=shot) if of == "base" else heights._replace(finish=shot)
    changed = Plan(design._replace(heights=with_shots, points=named))
    before = run.review(plan, rules, limits)
    after = run.review(changed, rules, limits)
    known = [one for one in before.comments if one.variance is None]
    short_now = tuple(
        one for one in after.comments if one.variance is None and not any(_says_again(one, old) for old in known)
    )  # fmt: skip
    shots = _shots(plan, changed, spots, of)
    failed = tuple(one.rule for one in after.crashes)
    orders = for_other(plan), for_other(changed), concrete(plan)
    return AsShot(of, shots, closings, questions, changed, plan, short_now, failed, *orders)


def _read(
    plan: Plan, pins: Sequence[Pin], path: Path, benches: Mapping[str, Amount]
) -> tuple[tuple[SpotHeight, ...], tuple[Closing, ...], tuple[Problem, ...]]:
    problems, questions = Problems(), Problems()
    units = {"plan": plan.design.plan_unit, "height": plan.design.height_unit}
    points = {**as_points(pins), **plan.design.points}
    name = Named(path.name, Place(str(path)))
    spots, closings = read_shots(path, name, benches, points, units, problems, questions)
    problems.raise_if_any()
    if not spots:
        problems.add(Place(str(path)), "no pin or point of the plan was read", "a line for each pin, by its number")
    problems.raise_if_any()
    return spots, closings, tuple(questions)


def _without_thickening(plan: Plan, one: SpotHeight) -> SpotHeight:
    """A shot on the bottom of a thickened edge, brought up to the base of the plain slab, as the plan takes it."""
    at = (one.at.x, one.at.y)
    extra = plan.thickness.at(at) - plan.thickness.body_at(at)
    return one._replace(height=replace(one.height, si=one.height.si + extra))


def _says_again(new: Comment, old: Comment) -> bool:
    """Whether a comment tells no more than one before: the same rule of the same thing, or of a part of its place.

    With more heights known the review looks at smaller parts, and calls them by other names.
    """
    if new.rule != old.rule or WEIGHTS.index(new.weight) < WEIGHTS.index(old.weight):
        return False
    if new.at.name == old.at.name:
        return True
    if not new.at.shape or not old.at.shape:
        return False
    inner = shapely.point_on_surface(_drawn(new.at.shape))
    return bool(_drawn(old.at.shape).buffer(ON_EDGE).covers(inner))


def _drawn(shape: Sequence[XY]) -> shapely.Geometry:
    """What a comment speaks of: a place, a line, or what a closed line holds."""
    if len(shape) == 1:
        return shapely.Point(shape[0])
    closed = len(shape) > 3 and tuple(shape[0]) == tuple(shape[-1])
    return shapely.Polygon(shape) if closed else shapely.LineString(shape)


def _by_its_own_name(plan: Plan, one: SpotHeight) -> SpotHeight:
    """A shot on a pin at a point of the design, under the name the design and its review call the place by."""
    points = (p for p in plan.design.points.values() if hypot(p.x - one.at.x, p.y - one.at.y) < ON_EDGE)
    return one._replace(at=next(points, one.at))


def _same_spot(one: SpotHeight, other: SpotHeight) -> bool:
    return hypot(one.at.x - other.at.x, one.at.y - other.at.y) < ON_EDGE


def _shots(plan: Plan, changed: Plan, spots: Sequence[SpotHeight], of: Of) -> tuple[Shot, ...]:
    xy = np.array([[one.at.x, one.at.y] for one in spots])
    finish = heights_at(plan, xy)
    wanted = [plan.thickness.at((one.at.x, one.at.y)) for one in spots]
    base = np.full(len(xy), np.nan)
    if changed.concrete.base_surface is not None:
        below = [changed.concrete.below((x, y)) for x, y in xy.tolist()]
        base = changed.concrete.base_surface.height(xy) - np.array(below)
    found = []
    for index, one in enumerate(spots):
        top, shot = finish[index], one.height.si
        if of == "base":
            planned = None if top is None else top - wanted[index]
            thick = None if top is None else top - shot
        else:
            planned = top
            under = float(base[index]) if not np.isnan(base[index]) else None if top is None else top - wanted[index]
            thick = None if under is None else shot - under
        found.append(Shot(one.at.name, planned, shot, thick, wanted[index]))
    return tuple(found)


def sections(found: AsShot) -> list[Section]:
    """What the field adds to the stake sheet."""
    return [_differences(found), _rules(found), _order(found)]


def says(found: AsShot) -> list[Words]:
    """The point of it, for the top of the sheet."""
    off = [shot for shot in found.shots if shot.off is not None and abs(shot.off) > CLOSE]
    said = [
        words(
            "as shot: {off} of {count} shots on the {of} are off the plan by more than {close}",
            off=len(off),
            count=len(found.shots),
            of=found.of,
            close=depth(CLOSE),
        )
    ]
    if found.short_now:
        rules = ", ".join(dict.fromkeys(one.rule for one in found.short_now))
        said.append(words("falls short now, and did not on the plan: {rules}", rules=rules))
    said.append(
        words(
            "order {now} as shot; {before} on the plan",
            now=volume(found.after.rounded),
            before=volume(found.before.rounded),
        )
    )
    return said


def _small(m: float, found: AsShot) -> Reading:
    """A difference in height, with its sign: inches and eighths, or millimeters."""
    text = eighths(m).rstrip('"') if found.plan.system == "us" else str(round(m * 1000))
    return Reading(text if text.startswith("-") or text == "0" else f"+{text}", depth(m))


def _signed(m: float, found: AsShot) -> Reading:
    """A difference in height, with its sign, as the heights beside it are written: feet or meters."""
    us = found.plan.system == "us"
    text = f"{m / FOOT:+.2f}" if us else f"{m:+.3f}"
    return Reading("0" if not float(text) else numerals(text, found.plan.system), depth(m))


def _differences(found: AsShot) -> Section:
    us = found.plan.system == "us"
    unit, small = ("ft", "in") if us else ("m", "mm")
    columns = (
        Column("point", "pin"),
        Column("planned", f"planned {unit}"),
        Column("shot", f"as shot {unit}"),
        Column("off_level", f"off {unit}"),
        Column("off", f"off {small}"),
        Column("thickness", f"thickness {small}"),
        Column("wanted", f"wanted {small}"),
        Column("do", "", right=False),
    )
    rows: list[tuple[Cell, ...]] = []
    for shot in found.shots:
        thick = None if shot.thickness is None else _small(shot.thickness, found)
        rows.append(
            (
                shot.name,
                None if shot.planned is None else level(shot.planned, found.plan.system),
                level(shot.shot, found.plan.system),
                None if shot.off is None else _signed(shot.off, found),
                None if shot.off is None else _small(shot.off, found),
                None if thick is None else Reading(thick.text.lstrip("+"), thick.amount),
                Reading(_small(shot.wanted, found).text.lstrip("+"), depth(shot.wanted)),
                _told(shot, found.of),
            )
        )
    notes = [
        words("Off: plus is higher than planned. Thickness is finish less base at that spot."),
        words("Between shots the ground is taken straight, so shoot every pin: valleys and ridges above all."),
    ]
    for closing in found.closings:
        notes.append(
            words(
                "Came back to {bench} {error} off, over {setups}; {0.02 ft|6 mm} is usual.",
                bench=closing.bench,
                error=show(depth(abs(closing.error)), found.plan.system),
                setups=counted(closing.setups, "set-up", "set-ups"),
            )
        )
    if not found.closings:
        notes.append(words("The run was not closed: no reading on a bench at its end, so nothing tells of a slip."))
    notes += [
        words("To confirm: {ask}", ask=f"line {one.place.line}: {one.wrong}; {one.write}") for one in found.questions
    ]
    title = f"As shot, on the {found.of}"
    return replace(tabled("as_shot", title, columns, rows, notes, title), figures=_thicknesses(found))


def _thicknesses(found: AsShot) -> tuple[Figure, ...]:
    """The depths as shot beside those planned; nothing without a base."""
    depths, then = found.plan.concrete.depths, found.planned.concrete.depths
    if depths is None:
        return ()
    design = found.planned.thickness.design
    least, mean, most = (then.least, then.mean, then.most) if then else (design, design, design)
    told = [
        Figure(key, title, depth(shot), words("{planned} on the plan", planned=depth(planned)))
        for key, title, shot, planned in (
            ("least", "thinnest", depths.least, least),
            ("mean", "mean", depths.mean, mean),
            ("most", "deepest", depths.most, most),
        )
    ]
    return (*told, Figure("covered", "of the slab shot", share(depths.covered)))


def _told(shot: Shot, of: Of) -> str:
    if shot.off is None or abs(shot.off) <= CLOSE:
        return ""
    if of == "finish":
        return "lower it" if shot.off > 0 else "raise it"
    return "high: dig" if shot.off > 0 else "low: fill or pour deeper"


def _rules(found: AsShot) -> Section:
    failed = [
        words("{rule} failed in itself and judged nothing: review it by hand.", rule=one) for one in found.not_judged
    ]
    if not found.short_now:
        fine = words("No rule falls short as shot that did not on the plan.")
        return Section("rules", "Rules, as shot", notes=(*failed, *(() if failed else (fine,))))
    columns = (
        Column("rule", "rule", right=False),
        Column("weight", "weight", right=False),
        Column("at", "where", right=False),
        Column("shown", "shown"),
        Column("asked", "asked"),
    )
    ordered = sorted(found.short_now, key=lambda one: WEIGHTS.index(one.weight))
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (one.rule, one.weight, one.at.name, one.shown, one.asked) for one in ordered
    )  # fmt: skip
    return Section(
        "rules",
        "Rules, as shot",
        tables=(Table("short_now", "Falls short as shot, and did not on the plan", columns, rows),),
        notes=(*failed, *(_to_pass(one) for one in ordered[:6])),
    )


def _to_pass(one: Comment) -> Words:
    """What would make it pass, behind the rule and the thing."""
    values = {"the_rule": one.rule, "the_thing": one.at.name, **one.to_pass.values}
    return Words(f"{{the_rule}} at {{the_thing}}: {one.to_pass.template}", values)


def _order(found: AsShot) -> Section:
    before, after = found.before, found.after
    columns = (Column("what", "", right=False), Column("planned", "on the plan"), Column("shot", "as shot"))
    rows: tuple[tuple[Cell, ...], ...] = (
        ("net volume", volume(before.net), volume(after.net)),
        ("with allowance and losses", volume(before.needed), volume(after.needed)),
        ("to order", volume(before.rounded), volume(after.rounded)),
        ("loads", before.trucks, after.trucks),
    )
    more, trucks = after.net - before.net, after.trucks - before.trucks
    note = words("The volume is as planned.")
    if abs(more) > 1e-6:
        fewer = "more" if trucks > 0 else "fewer"
        note = words(
            "The slab takes {by} {more} than planned, and {loads}.",
            by=volume(abs(more)),
            more="more" if more > 0 else "less",
            loads="as many loads" if trucks == 0 else counted(abs(trucks), f"{fewer} load", f"{fewer} loads"),
        )
    notes = [note]
    if found.in_file.typed:
        over = found.in_file.ordered - after.needed
        said = "The file orders {v}: {by} more than needed as shot." if over >= 0 else (
            "The file orders {v}: {by} short of what is needed as shot.")  # fmt: skip
        notes.append(words(said, v=volume(found.in_file.ordered), by=volume(abs(over))))
    return tabled("order", "The order, as shot", columns, rows, notes, "The order, as shot")
