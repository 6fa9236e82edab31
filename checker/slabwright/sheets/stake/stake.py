"""The stake sheet: where the pins go, what the rod reads on each, cut and fill, squaring, and the closing check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from slabwright.formulas import layout
from slabwright.formulas.units import FOOT
from slabwright.review import cautions
from slabwright.sheets.sheet import Figure, Section, Sheet, sheet_of
from slabwright.sheets.stake.ground import ground
from slabwright.sheets.stake.places import channels, places, reading, steps
from slabwright.sheets.stake.square import square
from slabwright.sheets.stake.staked import Stakes, known_heights, rod
from slabwright.text.words import Words, step, words
from slabwright.units.quantity import has_comma, height, numerals

_LETTERS = 32  # of a description that a total station takes (common practice)


def sheet(found: Stakes, more: Sequence[Section] = (), says: Sequence[Words] = ()) -> Sheet:
    """The whole sheet; ``more`` and ``says`` are what readings taken back from the field add."""
    sections = (
        _instrument(found), places(found), channels(found), steps(found), ground(found), square(found), *more,
    )  # fmt: skip
    taken = [
        words(
            "Have buried lines located 2 to 3 business days before a pin is driven; the free locate does not mark "
            "private lines. [{source}]",
            source=cautions.source("one-call-laws", found.plan.system),
        ),
        words(
            "Cap or guard every pin and bar end that someone could fall on. [{source}]",
            source=cautions.source("osha-1926.701", found.plan.system),
        ),
    ]
    made = sheet_of(found.plan, "stake", "Stake sheet", [*_says(found), *says], sections, taken, ("pins",))
    return replace(made, picture=words("key plan with these pin numbers: --page stakes.html draws it"))


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
    slack = layout.BENCHMARK_REREAD
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


def point_rows(found: Stakes, heading: bool = True) -> str:
    """One line a pin as CSV: number, northing, easting, height, description, then place and rod readings.

    Northing is y and easting x of the plan, in feet or meters to three decimals, as all that follows; the height is
    the finish, and is left out where the design gives none. The first line names each column with its unit. Without
    the ``heading`` each line ends after the description, as total stations read it.
    """
    us = found.plan.system == "us"
    foot, unit = (FOOT, "ft") if us else (1.0, "m")

    def told(value: float | None) -> str:
        return "" if value is None else numerals(f"{round(value / foot, 3) + 0.0:.3f}", found.plan.system)

    lines = []
    separator = ";" if has_comma(found.plan.system) else ","
    if heading:
        measured = ("along", "off", "from_first", "from_second")
        heights = ("rod_finish", "rod_base", "rod_subgrade", "ground", "cut")
        lines.append(
            separator.join(
                ["pin", *(f"{name}_{unit}" for name in ("northing", "easting", "finish")), "description", "line"]
                + [f"{name}_{unit}" for name in (*measured, *heights)]
            )
        )
    for pin in found.pins:
        x, y = pin.at
        cells = [str(pin.number), told(y), told(x), told(pin.finish), _plain(pin.label)]
        if heading:
            line = f"{_plain(pin.line.first)} to {_plain(pin.line.second)}" if pin.reached else ""
            place = (pin.along, pin.off, *pin.tapes) if pin.reached else (None,) * 4
            rods = (reading(found, height) for height in (pin.finish, pin.base, pin.subgrade))
            cells += [line, *map(told, (*place, *rods, pin.existing, pin.cut))]
        lines.append(separator.join(cells))
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    """A description without anything that splits or ends a line: letters and digits of ASCII, spaces and dashes."""
    kept = "".join(letter if letter.isascii() and (letter.isalnum() or letter in " -._") else " " for letter in text)
    told = kept.split()
    whole, last = " ".join(told), " ".join(told[-2:])[-12:]
    if len(whole) > _LETTERS:  # of two ends of one thing the last words tell them apart
        whole = f"{whole[: _LETTERS - 1 - len(last)].rstrip()} {last}"
    return whole or "pin"
