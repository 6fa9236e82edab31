"""Trucks, where to stop when one does not come, and masks at the saw, for the pour-day card."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from itertools import pairwise

from slabwright.formulas import safety, ticket
from slabwright.formulas.units import HOUR
from slabwright.plan.plan import Plan
from slabwright.proposals.placing import Placing, Turn
from slabwright.review import cautions
from slabwright.rulebook.limits import published_sources
from slabwright.sheets.card.hours import Hours, clock, waits
from slabwright.sheets.card.when import about
from slabwright.sheets.order.concrete import Concrete
from slabwright.sheets.sheet import Cell, Column, Section, tabled
from slabwright.text.words import Value, Words, words
from slabwright.units.quantity import Amount, duration, is_alone, length, volume

TRUCKS_LISTED = 8
STOPS_LISTED = 8
TURNS_LISTED = 12
STOPPED, COLD_JOINT = HOUR / 2, HOUR  # s between two loads, as the rule `loads-end-at-joint`: `beall`, common practice


def trucks(order: Concrete, found: Hours) -> Section:
    """What each truck brings and when, and how its spacing suits the crew."""
    columns = (
        Column("truck", "truck"),
        Column("load", "load"),
        Column("brought", "so far"),
        Column("leaves", "leaves", right=False),
        Column("arrives", "on site", right=False),
        Column("by", "empty by", right=False),
    )
    rows = tuple(
        (
            load.number,
            volume(load.volume),
            volume(load.brought),
            clock(load.leaves, found.start),
            clock(load.arrives, found.start),
            clock(load.discharged_by, found.start),
        )
        for load in found.loads[:TRUCKS_LISTED]
    )
    notes = []
    if len(found.loads) > TRUCKS_LISTED:
        notes.append(words("and {more} more", more=len(found.loads) - TRUCKS_LISTED))
    gap = waits(found)
    if gap is not None and found.spacing is not None and found.needed_spacing is not None:
        apart: dict[str, Amount | str] = {"apart": duration(found.spacing), "needed": about(found.needed_spacing)}
        if gap > 300:
            notes.append(
                words("Trucks {apart} apart; the crew empties one in {needed}, then waits: mind a cold joint.", **apart)
            )
        elif gap < -300:
            notes.append(words("Trucks {apart} apart; the crew takes {needed} for one, so they queue.", **apart))
        else:
            notes.append(words("Trucks {apart} apart; the crew takes {needed} for one.", **apart))
    notes.append(
        words("Empty within {time} of batching or 300 revolutions, unless the ticket says else (ASTM C94, quoted).",
              time=duration(ticket.DISCHARGE_WITHIN))
    )  # fmt: skip
    if order.last_is_short:
        notes.append(words("The last load of {load} is a short one.", load=volume(order.loads[-1])))
    return tabled("trucks", "Trucks", columns, rows, notes, "Trucks")


def order_of_panels(found: Hours, known: Placing) -> Section | None:
    """Panel after panel, each against a fresh edge, with the clock and the longest wait of an edge."""
    if len(known.turns) < 2:
        return None
    total = known.turns[-1].placed
    rows: list[tuple[Cell, ...]] = []
    before = 0.0
    for group in _grouped(known):
        named = {turn.panel for turn in group}
        joins = dict.fromkeys(name for turn in group for name in turn.beside if name not in named)
        at = _at(found, before / total)
        rows.append((_listed([turn.panel for turn in group]), at, volume(group[-1].placed), _listed(list(joins))))
        before = group[-1].placed
    columns = [
        Column("panels", "place", right=False),
        Column("at", "from about", right=False),
        Column("placed", "so far"),
        Column("joins", "fresh against", right=False),
    ]
    if found.start is None or found.placing is None:
        del columns[1]
        rows = [(row[0], *row[2:]) for row in rows]
    boxed, apart = _listed(known.boxed_in), _listed(known.apart)
    shut = "{panels} is shut in by walls and fresh concrete when its turn comes: leave a plank way out."
    if len(known.boxed_in) > 1:
        shut = "{panels} are shut in by walls and fresh concrete when their turns come: leave a plank way out."
    begun = "is" if len(known.apart) == 1 else "are"
    kept = "Every panel leaves a way out to {out}, and joins an edge that is still fresh."
    notes = [
        words("Start at corner {start}: {why}.", start=known.start.removeprefix("corner "), why=known.why),
        words(kept, out=known.out)
        if not (known.boxed_in or known.apart)
        else words(shut, panels=boxed)
        if known.boxed_in
        else words("{panels} {begun} begun away from what is placed: set a bulkhead there.", panels=apart, begun=begun),
    ]  # fmt: skip
    notes += _wait(found, known, total)
    return tabled("order", "Order of panels", columns, rows, notes)


def _grouped(known: Placing) -> list[tuple[Turn, ...]]:
    """The turns one by one, or where they are many, between the joints at which placing can stop."""
    if len(known.turns) <= TURNS_LISTED:
        return [(turn,) for turn in known.turns]
    ends = sorted({len(stop.before) for stop in known.stops} | {len(known.turns)})
    ends = ends if len(ends) > 1 else [*range(TURNS_LISTED, len(known.turns), TURNS_LISTED), len(known.turns)]
    return [known.turns[first:last] for first, last in pairwise([0, *ends])]


def _listed(panels: Sequence[str]) -> str:
    """Names of panels, those of four and more that follow each other by number in one.

    >>> _listed(["P1", "P5", "P6", "P7", "P8", "P4", "P3"]), _listed(["P4", "P3", "P2", "P1"])
    ('P1, P5 to P8, P4, P3', 'P4 to P1')
    """
    told: list[str] = []
    first = 0
    while first < len(panels):
        step = _number(panels[first + 1]) - _number(panels[first]) if first + 1 < len(panels) else 0
        last = first
        while abs(step) == 1 and last + 1 < len(panels) and _number(panels[last + 1]) - _number(panels[last]) == step:
            last += 1
        if last - first < 3:
            last = first
        told.append(panels[first] if last == first else f"{panels[first]} to {panels[last]}")
        first = last + 1
    return ", ".join(told)


def _number(panel: str) -> int:
    return int(panel.removeprefix("P"))


def _at(found: Hours, part: float) -> str:
    if found.start is None or found.placing is None:
        return ""
    minutes = 5 * round(part * found.placing / 300)
    return clock(found.start + timedelta(minutes=minutes), found.start)


def _wait(found: Hours, known: Placing, total: float) -> list[Words]:
    """How long the oldest fresh edge waits, against the half hour and the hour."""
    turn = known.longest_wait
    if found.placing is None or turn.waited <= 0:
        return []
    seconds = turn.waited / total * found.placing
    oldest = turn.beside[0]
    values: dict[str, Value] = {"edge": oldest, "panel": turn.panel, "wait": about(max(seconds, 300))}
    if seconds > COLD_JOINT:
        told = (
            "The edge of {edge} waits {wait} for {panel}: over an hour, so a cold joint is likely (common practice); "
        )
        told += "place faster, or set a bulkhead between them."
    elif seconds > STOPPED:
        told = "The edge of {edge} waits {wait} for {panel}; half an hour counts as a joint (Beall, p. 31), and heat "
        told += "shortens it: keep it damp and covered."
    else:
        told = "No fresh edge waits longer than that of {edge} for {panel}, {wait}; heat shortens what it may."
    return [words(told, **values)]


def stop(known: Placing, found: Hours, lost: float) -> Section:
    """Joints that part the slab, and the one to stop at when a truck does not come."""
    if not known.stops:
        return Section(
            "stop",
            "Where to stop if short",
            notes=(words("No joint parts the whole slab: carry a bulkhead and set it at the nearest joint line."),),
        )
    columns = (
        Column("joint", "stop at", right=False),
        Column("panels", "panels placed"),
        Column("placed", "placed"),
        Column("left", "still to come"),
    )
    rows = tuple(
        (" and ".join(stop.joints), len(stop.before), volume(stop.placed), volume(stop.left))
        for stop in known.stops[:STOPS_LISTED]
    )
    notes = [words("In the order of panels above. Set a bulkhead on the line, with dowels or a key as drawn.")]
    for load in found.loads[:-1][:4]:
        comes = max(load.brought - lost, 0.0)
        stop = known.last_before(comes)
        values: dict[str, Value] = {"next": load.number + 1, "brought": volume(comes)}
        if stop is not None:
            told = "If truck {next} does not come, {brought} is placed at most: stop at {joint}, {placed}."
            values |= {"joint": " and ".join(stop.joints), "placed": volume(stop.placed)}
        else:
            told = "If truck {next} does not come, {brought} is placed at most, and no joint is reached: carry a "
            told += "bulkhead, or do not begin until that truck is on the road."
        notes.append(words(told, **values))
    return tabled("stop", "Where to stop if short", columns, rows, notes)


def saws(plan: Plan) -> Section:
    """The mask asked with each saw, by hours a shift."""
    limit = safety.HANDHELD_HOURS
    columns = (Column("saw", "saw", right=False), Column("short", "to 4 h a shift", right=False),
               Column("long", "longer", right=False))  # fmt: skip
    rows = tuple(
        (saw, *(_mask(safety.saw_mask(saw, plan.outdoors, spent)) for spent in (limit, limit + HOUR)))
        for saw in ("handheld", "walk-behind", "drivable")
    )
    where = "outdoors" if plan.outdoors else "indoors"
    cuts = [joint.length for joint in plan.joints.all if joint.joint.kind in ("saw cut", "early saw cut")]
    notes = [
        words(
            "Water on every saw; vacuum or settle the slurry, none to a drain ({source}).", source=safety_source(plan)
        )
    ]
    if cuts:
        notes.append(words("{feet} to saw here.", feet=length(sum(cuts))))
    return tabled("saws", f"Masks at the saw, {where}", columns, rows, notes)


def safety_source(plan: Plan) -> str:
    """Where the masks are written."""
    if is_alone(plan.system):
        return cautions.source("osha-1926.1153", plan.system)
    return published_sources().source("osha-1926.1153").label


def _mask(factor: int) -> str:
    return f"mask, APF {factor}" if factor else "no mask asked"
