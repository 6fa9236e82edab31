"""``stake``: where the pins of one design go, and what the rod reads on them."""

from __future__ import annotations

import argparse
import math
from collections.abc import Collection
from pathlib import Path
from typing import Any, cast

from slabwright.cli.asked import Begun
from slabwright.cli.sheet_given import begun_sheet, deliver
from slabwright.plan.plan import Plan
from slabwright.sheets.sheet import Sheet
from slabwright.sheets.stake import as_shot
from slabwright.sheets.stake import stake as stake_sheet
from slabwright.sheets.stake.lines import Line, corner_names, named_line
from slabwright.sheets.stake.picture import picture
from slabwright.sheets.stake.staked import LONGEST_ROD, Bench, Stakes, known_heights, stakes
from slabwright.source.alike import most_like
from slabwright.source.problem import refuse
from slabwright.units import quantity
from slabwright.units.amount import Amount, Kind, QuantityError
from slabwright.units.mistyped import with_points

SCREED_LEAST, SCREED_MOST = 0.9, 12.5  # m: 3 ft to 40 ft


def stake(arguments: argparse.Namespace) -> int:
    """The stake sheet of a design."""
    one = begun_sheet(arguments)
    plan = one.plan
    found = stakes(
        plan, _bench(plan, arguments), _screed(arguments.screed), _line(plan, arguments.line),
        _measured(arguments.diagonal, Kind.LENGTH, plan.design.plan_unit, "--diagonal"),
    )  # fmt: skip
    if arguments.no_heading and not arguments.csv:
        refuse("", "--no-heading leaves out the heading of --csv, which is not asked for", "--csv --no-heading")
    sheet = _with_shots(found, one, arguments) if arguments.as_shot else stake_sheet.sheet(found)
    rows = stake_sheet.point_rows(found, heading=not arguments.no_heading)
    return deliver(sheet, arguments, rows, lambda: {"key_plan": picture(found)})


def _with_shots(found: Stakes, one: Begun, arguments: argparse.Namespace) -> Sheet:
    benches = known_heights(found.plan.design)
    if found.bench is not None:
        benches[found.bench.name] = found.bench.height
    shots = Path(arguments.as_shot)
    shot = as_shot.take_back(found.plan, found.pins, shots, arguments.shot_on, benches, *one.in_force())
    return stake_sheet.sheet(found, as_shot.sections(shot), as_shot.says(shot))


def _bench(plan: Plan, arguments: argparse.Namespace) -> Bench | None:
    """The bench and the reading on it; both or neither."""
    if arguments.bench is None and arguments.backsight is None:
        return None
    if arguments.bench is None or arguments.backsight is None:
        lacks = "--bench NAME" if arguments.bench is None else "--backsight READING"
        refuse("", "a bench and the rod reading on it go together", f"{lacks} too")
    unit = plan.design.height_unit
    backsight = _measured(arguments.backsight, Kind.HEIGHT, unit, "--backsight")
    if backsight is None or not 0 <= backsight.si <= LONGEST_ROD:
        refuse("", f"--backsight {arguments.backsight} cannot be read on a rod: 0 to 25 ft (7.6 m) can be",
               "what the rod shows on the bench")  # fmt: skip
    known = known_heights(plan.design)
    name, given, typed = arguments.bench.partition("=")
    name = name.strip()
    if given:
        level = _measured(typed, Kind.HEIGHT, unit, "--bench NAME=HEIGHT")
        if level is None or not name:
            refuse("", "--bench has no name or no height", "--bench 'door sill=100.00 ft'")
        return Bench(name, level, backsight)
    if name not in known:
        refuse("", f'there is no bench "{name}" in this design', most_like(name, known) or _benches(known))
    return Bench(name, known[name], backsight)


def _benches(known: Collection[str]) -> str:
    if known:
        return f"one of: {', '.join(known)}"
    return "its height with it, as in --bench 'door sill=100.00 ft', or under heights: benches in the design"


def _screed(text: str | None) -> float | None:
    length = _measured(text, Kind.LENGTH, "", "--screed")
    if length is not None and not SCREED_LEAST <= length.si <= SCREED_MOST:
        refuse("", f"--screed {text} is no screed: 3 to 40 ft (0.9 to 12.5 m) are", "--screed '10 ft'")
    return None if length is None else length.si


def _line(plan: Plan, names: list[str] | None) -> Line | None:
    if names is None:
        return None
    line = named_line(plan, *names)
    if line is None:
        refuse("", f"--line {' '.join(names)} does not name two corners of the outline",
               f"two of: {', '.join(list(corner_names(plan).values())[:12])}")  # fmt: skip
    return line


ON_A_ROD = {"ft": 1000.0, "m": 1000.0}  # more than any rod has: 1,250 on one is no thousand


def _measured(text: str | None, kind: Kind, unit: str, option: str) -> Amount | None:
    """A quantity typed on the command line; a number alone takes ``unit``, where there is one."""
    if text is None:
        return None
    longest = math.inf if option != "--backsight" else ON_A_ROD.get(unit, math.inf)
    typed = with_points(text.strip(), longest)
    try:
        if unit and typed.lstrip("-+").replace(".", "", 1).isdecimal():
            return quantity.bare(float(typed), cast(Any, unit), kind, typed)
        return quantity.read(typed, kind)
    except QuantityError as reason:
        refuse("", f"{option}: {reason.wrong}", reason.write)
