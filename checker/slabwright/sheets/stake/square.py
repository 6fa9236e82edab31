"""Squaring, for the stake sheet: the main rectangle, 3-4-5, and what a measured diagonal tells."""

from __future__ import annotations

from slabwright.rulebook.kit import step
from slabwright.sheets.sheet import Column, Figure, Reading, Section, Table
from slabwright.sheets.stake.squaring import INCH, Rectangle, skew, three_four_five
from slabwright.sheets.stake.staked import Stakes, tape
from slabwright.text.words import words
from slabwright.units.quantity import Amount, Kind, System, angle, depth, eighths, length

_DIFFERENCES: dict[System, tuple[float, ...]] = {
    "us": (0.125 * INCH, 0.25 * INCH, 0.5 * INCH, INCH),
    "metric": (0.003, 0.005, 0.010, 0.025),
}


def square(found: Stakes) -> Section:
    """The rectangle to set strings to, 3-4-5 at its first corner, and what a diagonal that is off tells."""
    rectangle, system = found.rectangle, found.plan.system
    a, b, c, d = rectangle.names
    one, other, long = three_four_five(rectangle.along, rectangle.off, system)
    figures = [
        Figure("rectangle", "main rectangle", None, words("{what}: {names}", what=rectangle.what,
               names=f"{a}-{b}-{c}-{d}")),
        Figure("along", f"{a}-{b} and {d}-{c}", tape(rectangle.along, system)),
        Figure("off", f"{b}-{c} and {a}-{d}", tape(rectangle.off, system)),
        Figure("diagonal", f"{a}-{c} and {b}-{d}", tape(rectangle.diagonal, system), words("both diagonals, alike")),
        Figure(
            "three_four_five",
            "3-4-5 that fits",
            None,
            words(
                "from {corner}: {one} along {first}, {other} along {second}; {long} between the two marks is square",
                corner=a,
                one=length(one),
                first=f"{a}-{b}",
                other=length(other),
                second=f"{a}-{d}",
                long=length(long),
            ),
        ),
    ]  # fmt: skip
    working = [
        step(
            "diagonal",
            "square root of (side x side + side x side)",
            words(
                "square root of ({one} x {one} + {other} x {other})",
                one=length(rectangle.along),
                other=length(rectangle.off),
            ),
            length(rectangle.diagonal),
        )
    ]
    if found.diagonal is not None:
        figures += _measured(found, rectangle, found.diagonal)
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
            (depth(size), _near(said.shift, system), _degrees(said.angle), "fine" if said.fine else "put right")
        )
    notes = [
        words(
            "With all four sides right: a long {ac} means that the far side {dc} leans towards {c}; move it back along "
            "itself by the length in the table. A short one: the other way.",
            ac=f"{a}-{c}",
            dc=f"{d}-{c}",
            c=c,
        ),
        words("Fine is within {1/4 in in 20 ft (1 in 960)|1 in 960} of a diagonal, common practice."),
    ]
    named = {name for name in rectangle.names if name.startswith("R") and name not in found.plan.design.points}
    for name, place in zip(rectangle.names, rectangle.corners, strict=True):
        if name in named:
            along, off = found.line.of([place])[0]  # type: ignore[arg-type]
            notes.append(
                words(
                    "{name} is no corner of the slab: {along} along {line}, {off} off it.",
                    name=name,
                    along=tape(float(along), system).text,
                    off=tape(float(off), system).text,
                    line=f"{found.line.first}-{found.line.second}",
                )
            )
    return Section(
        "square",
        "Squaring",
        figures=tuple(figures),
        tables=(Table("skew", "What a measured diagonal tells", columns, tuple(rows)),),
        working=tuple(working),
        notes=tuple(notes),
    )


def _near(m: float, system: System) -> Reading:
    return Reading(eighths(m) if system == "us" else f"{round(m * 1000)} mm", depth(m))


def _degrees(deg: float) -> Reading:
    return Reading(f"{deg:.2f} deg", angle(deg))


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
            angle=_degrees(said.angle).text,
        )
    return [Figure("measured", f"{a}-{c} as measured", Amount(measured.si, Kind.LENGTH, measured.typed), told)]
