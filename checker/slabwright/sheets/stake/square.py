"""Squaring, for the stake sheet: the main rectangle, 3-4-5, and what a measured diagonal tells."""

from __future__ import annotations

import numpy as np

from slabwright.formulas.units import INCH
from slabwright.sheets.sheet import Column, Figure, Reading, Section, Table
from slabwright.sheets.stake.sight import seen, standing
from slabwright.sheets.stake.squaring import LEG, Rectangle, skew, three_four_five
from slabwright.sheets.stake.staked import Stakes, tape
from slabwright.text.words import Step, Words, step, words
from slabwright.units.quantity import Amount, Kind, System, angle, depth, eighths, length, numerals

_DIFFERENCES: dict[System, tuple[float, ...]] = {
    "us": (0.125 * INCH, 0.25 * INCH, 0.5 * INCH, INCH),
    "metric": (0.003, 0.005, 0.010, 0.025),
}


def square(found: Stakes) -> Section:
    """The rectangles to set strings to, 3-4-5 at the first corner of each, and what a diagonal that is off tells."""
    main, *legs = found.rectangles
    figures, working = _strings(found, main, "main rectangle", "")
    if found.diagonal is not None:
        figures += _measured(found, main, found.diagonal)
    for number, leg in enumerate(legs, 2):
        more, sums = _strings(found, leg, f"leg {number}" if len(legs) > 1 else "other leg", f"_{number}")
        figures, working = figures + more, working + sums
    notes = [words("Fine is within {1/4 in in 20 ft (1 in 960)|1 in 960} of a diagonal, common practice.")]
    tables = []
    if _across(found, main):
        tables.append(_skews(found, main))
        a, _, c, d = main.names
        notes.insert(
            0,
            words(
                "With all four sides right: a long {ac} means that the far side {dc} leans towards {c}; move it back "
                "along itself by the length in the table. A short one: the other way.",
                ac=f"{a}-{c}",
                dc=f"{d}-{c}",
                c=c,
            ),
        )
    else:
        notes.insert(0, words("A building stands in the way of the diagonals: square each corner with 3-4-5."))
    if legs:
        notes.append(words("Set the main rectangle first: the strings of a leg start from its sides."))
    marks = {
        name: place
        for one in found.rectangles
        for name, place in zip(one.names, one.corners, strict=True)
        if name in one.marks
    }
    for name, place in marks.items():
        along, off = found.line.of(np.array([place]))[0].tolist()
        notes.append(
            words(
                "{name} is no corner of the slab: {along} along {line}, {off} off it.",
                name=name,
                along=tape(along, found.plan.system).text,
                off=tape(off, found.plan.system).text,
                line=f"{found.line.first}-{found.line.second}",
            )
        )
    return Section("square", "Squaring", tuple(figures), tuple(tables), tuple(working), tuple(notes))


def _across(found: Stakes, rectangle: Rectangle) -> bool:
    """Whether both diagonals can be taped."""
    solid = standing(found.plan)
    a, b, c, d = rectangle.corners
    return seen(solid, a, c) and seen(solid, b, d)


def _strings(found: Stakes, rectangle: Rectangle, name: str, key: str) -> tuple[list[Figure], list[Step]]:
    """Sides, diagonals and 3-4-5 of one rectangle, with the sum that gives the diagonal."""
    system = found.plan.system
    a, b, c, d = rectangle.names
    one, other, long = three_four_five(rectangle.along, rectangle.off, system)
    square_by = words(
        "from {corner}: {one} along {first}, {other} along {second}; {long} between the two marks is square",
        corner=a,
        one=tape(one, system).text,
        first=f"{a}-{b}",
        other=tape(other, system).text,
        second=f"{a}-{d}",
        long=tape(long, system).text,
    )
    figures = [
        Figure(f"rectangle{key}", name, None, _named(rectangle)),
        Figure(f"along{key}", f"{a}-{b} and {d}-{c}", tape(rectangle.along, system)),
        Figure(f"off{key}", f"{b}-{c} and {a}-{d}", tape(rectangle.off, system)),
    ]
    working = []
    if _across(found, rectangle):
        both = words("both diagonals, alike")
        figures.append(Figure(f"diagonal{key}", f"{a}-{c} and {b}-{d}", tape(rectangle.diagonal, system), both))
        sides = [tape(side, system).text for side in (rectangle.along, rectangle.off)]
        numbers = words("root of ({one} x {one} + {other} x {other})", one=sides[0], other=sides[1])
        result = length(rectangle.diagonal)
        working.append(step(f"diagonal {a}-{c}", "square root of (side x side + side x side)", numbers, result))
    figures.append(Figure(f"three_four_five{key}", "3-4-5 that fits", None, square_by))
    return figures, working


def _named(rectangle: Rectangle) -> Words:
    names = "-".join(rectangle.names)
    return (
        words("{names}", names=names)
        if rectangle.what == LEG
        else words("{what}: {names}", what=rectangle.what, names=names)
    )


def _skews(found: Stakes, rectangle: Rectangle) -> Table:
    a, _, c, _ = rectangle.names
    system = found.plan.system
    columns = (
        Column("off_by", f"{a}-{c} off by"),
        Column("shift", "move the far side"),
        Column("angle", "out of square"),
        Column("verdict", "", right=False),
    )
    rows = []
    for size in _DIFFERENCES[system]:
        said = skew(rectangle, rectangle.diagonal + size)
        rows.append(
            (depth(size), _near(said.shift, system), _degrees(said.angle, system), "fine" if said.fine else "put right")
        )
    return Table("skew", "What a measured diagonal tells", columns, tuple(rows))


def _near(m: float, system: System) -> Reading:
    return Reading(eighths(m) if system == "us" else f"{round(m * 1000)} mm", depth(m))


def _degrees(deg: float, system: System) -> Reading:
    return Reading(numerals(f"{deg:.2f} deg", system), angle(deg))


def _measured(found: Stakes, rectangle: Rectangle, measured: Amount) -> list[Figure]:
    a, _, c, d = rectangle.names
    said = skew(rectangle, measured.si)
    system = found.plan.system
    if said.fine:
        told = words(
            "{by} off, within {allowed}: square enough", by=depth(abs(said.excess)), allowed=depth(said.allowed)
        )
    else:
        told = words(
            "{by} too {which}, more than {allowed}: move {side} along itself by {shift} {way} {c}; it is {angle} out",
            by=_near(abs(said.excess), system).text,
            which="long" if said.excess > 0 else "short",
            allowed=_near(said.allowed, system).text,
            side=f"{d}-{c}",
            shift=_near(said.shift, system).text,
            way="away from" if said.excess > 0 else "towards",
            c=c,
            angle=_degrees(said.angle, system).text,
        )
    return [Figure("measured", f"{a}-{c} as measured", Amount(measured.si, Kind.LENGTH, measured.typed), told)]
