"""The stake sheet: where the pins go, what the rod reads on each, cut and fill, squaring, and the closing check."""

from __future__ import annotations

from collections.abc import Sequence

from slabwright.formulas import leveling
from slabwright.review import cautions
from slabwright.rulebook.kit import step
from slabwright.sheets.sheet import Column, Figure, Section, Sheet, Table
from slabwright.sheets.stake.heights import ground, rods
from slabwright.sheets.stake.pins import LAP
from slabwright.sheets.stake.square import square
from slabwright.sheets.stake.staked import LONGEST_ROD, Bench, Stakes, known_heights, rod, stakes, tape
from slabwright.text.words import Words, words
from slabwright.units.quantity import height, length

__all__ = ["LONGEST_ROD", "Bench", "Stakes", "known_heights", "point_rows", "sheet", "stakes"]


def sheet(found: Stakes, more: Sequence[Section] = (), says: Sequence[Words] = ()) -> Sheet:
    """The whole sheet; ``more`` and ``says`` are what readings taken back from the field add."""
    design = found.plan.design
    sections = [_instrument(found), _places(found), *rods(found), *ground(found), square(found), *more]
    return Sheet(
        kind="stake",
        title="Stake sheet",
        job=design.job.name,
        number=design.job.number,
        file=design.file,
        use=design.use,
        pour=design.job.pour,
        system=found.plan.system,
        says=(*_says(found), *says),
        sections=tuple(sections),
        cautions=(
            words(
                "Have buried lines located 2 to 3 business days before a pin is driven; the free locate does not mark "
                "private lines. [{source}]",
                source=cautions.source("one-call-laws", found.plan.system),
            ),
            words(
                "Cap or guard every pin and bar end that someone could fall on. [{source}]",
                source=cautions.source("osha-1926.701", found.plan.system),
            ),
        ),
        rows="pins",
    )


def _says(found: Stakes) -> list[Words]:
    count = len(found.pins)
    said = [words("{count} pins; a bigger rod reading is lower ground", count=count)]
    if found.bench is not None:
        said.append(
            words(
                "set up on {bench} at {at}, rod {rod}: the line of sight is at {sight}",
                bench=found.bench.name,
                at=found.bench.height,
                rod=found.bench.backsight,
                sight=height(found.bench.instrument),
            )
        )
    else:
        said.append(words("with --bench NAME --backsight READING it gives the rod reading on every pin"))
    return said


def _instrument(found: Stakes) -> Section:
    bench = found.bench
    design = found.plan.design
    notes = [
        words(
            "The line of sight is a level ceiling, and the rod measures down from it: the bigger the reading, the "
            "lower the ground. A pin that reads too small stands high: drive it down."
        ),
        words("Feet with tenths are not feet and inches: 4.33 ft is 4 ft and 0.33 of 12 in. Read one scale."),
    ]
    if found.plan.system == "metric":
        notes.pop()
    if bench is None:
        known = known_heights(design)
        named = f"--bench {next(iter(known))!r}" if known else "--bench 'door sill=100.00'"
        reading = "1.295" if found.plan.system == "metric" else "4.25"
        add = (f"the command line: {named} --backsight {reading}, the rod reading on it",)
        return Section("instrument", "Instrument", notes=tuple(notes), add=add)
    working = step(
        "height of instrument",
        "bench + rod on the bench",
        words("{bench} + {rod}", bench=bench.height, rod=bench.backsight),
        height(bench.instrument),
    )
    slack = leveling.BENCHMARK_REREAD
    low, high = max(0.0, bench.backsight.si - slack), bench.backsight.si + slack
    close = words(
        "read the rod on {bench} again before the instrument is moved and after the last pin: {low} to {high} closes "
        "(within {slack}, common practice); anything else means that it was knocked, and every pin since is doubtful",
        bench=bench.name,
        low=rod(low, found.plan.system, 0),
        high=rod(high, found.plan.system, 0),
        slack=height(slack),
    )
    return Section(
        "instrument",
        "Instrument",
        figures=(
            Figure("bench", bench.name, bench.height, words("height of the bench")),
            Figure("backsight", "rod on it", bench.backsight, words("backsight")),
            Figure("instrument", "line of sight", height(bench.instrument), words("height of instrument")),
            Figure("closing", "closing check", None, close),
        ),
        working=(working,),
        notes=tuple(notes),
    )


def _places(found: Stakes) -> Section:
    line, system = found.line, found.plan.system
    columns = (
        Column("pin", "pin", right=False),
        Column("what", "what", right=False),
        Column("along", f"along {line.first}-{line.second}"),
        Column("off", "off it"),
        Column("from_first", f"from {line.first}"),
        Column("from_second", f"from {line.second}"),
    )
    rows = tuple(
        (
            pin.number,
            pin.label,
            tape(pin.along, system),
            tape(pin.off, system),
            tape(pin.tapes[0], system),
            tape(pin.tapes[1], system),
        )
        for pin in found.pins
    )
    spacing = max(found.screed - LAP[system], found.screed / 2)
    return Section(
        "places",
        "Where the pins go",
        tables=(Table("pins", "Where the pins go", columns, rows),),
        notes=(
            words(
                "Measured along a string from {first} to {second}, and square off it to the left (a minus: to the "
                "right). The tapes from {first} and from {second} check it: they are the diagonals.",
                first=line.first,
                second=line.second,
            ),
            words(
                "For a {screed} screed, pins at most {apart} apart, so that it laps both (common practice).",
                screed=length(found.screed),
                apart=length(spacing),
            ),
        ),
    )


def point_rows(found: Stakes) -> str:
    """Number, northing, easting, height, description: one line a pin, no heading, as total stations read it.

    Northing is y and easting x of the plan, in feet or meters to three decimals; the height is the finish, and is
    left out where the design gives none.
    """
    foot = 0.3048 if found.plan.system == "us" else 1.0
    lines = []
    for pin in found.pins:
        z = "" if pin.finish is None else f"{pin.finish / foot + 0.0:.3f}"
        x, y = (f"{round(value / foot, 3) + 0.0:.3f}" for value in pin.at)
        lines.append(f"{pin.number},{y},{x},{z},{_plain(pin.label)}")
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    """A description without anything that splits or ends a line: letters and digits of ASCII, spaces and dashes."""
    kept = "".join(letter if letter.isascii() and (letter.isalnum() or letter in " -._") else " " for letter in text)
    return " ".join(kept.split())[:32] or "pin"
