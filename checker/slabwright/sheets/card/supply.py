"""Trucks, where to stop when one does not come, and masks at the saw, for the pour-day card."""

from __future__ import annotations

from slabwright.formulas import safety, ticket
from slabwright.formulas.units import HOUR
from slabwright.plan.plan import Plan
from slabwright.review import cautions
from slabwright.rulebook.limits import published_sources
from slabwright.sheets.card.hours import Hours, clock, waits
from slabwright.sheets.card.stopping import stops
from slabwright.sheets.card.when import about
from slabwright.sheets.order.concrete import Concrete
from slabwright.sheets.sheet import Column, Section, Table
from slabwright.text.words import words
from slabwright.units.quantity import Amount, duration, is_alone, length, volume

TRUCKS_LISTED = 8
STOPS_LISTED = 8


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
    return Section("trucks", "Trucks", tables=(Table("trucks", "Trucks", columns, rows),), notes=tuple(notes))


def stop(plan: Plan, found: Hours) -> Section:
    """Joints that part the slab, and the one to stop at when a truck does not come."""
    known = stops(plan)
    if not known.stops:
        return Section(
            "stop",
            "Where to stop if short",
            notes=(words("No joint parts the whole slab: carry a bulkhead and set it at the nearest joint line."),),
        )
    columns = (Column("joint", "stop at", right=False), Column("placed", "placed"), Column("left", "still to come"))
    rows = tuple(
        (" and ".join(stop.joints), volume(stop.placed), volume(stop.left)) for stop in known.stops[:STOPS_LISTED]
    )
    notes = [
        words("Placed from corner {start} ({reason}). Set a bulkhead on the line, with dowels or a key as drawn.",
              start=known.start.removeprefix("corner "), reason=known.reason),
    ]  # fmt: skip
    for load in found.loads[:-1][:4]:
        stop = known.last_before(load.brought)
        if stop is not None:
            notes.append(
                words(
                    "If truck {next} does not come, {brought} is placed at most: stop at {joint}, {placed}.",
                    next=load.number + 1,
                    brought=volume(load.brought),
                    joint=" and ".join(stop.joints),
                    placed=volume(stop.placed),
                )
            )
    return Section(
        "stop", "Where to stop if short", tables=(Table("stop", "", columns, rows),), notes=tuple(notes)
    )  # fmt: skip


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
    return Section(
        "saws", f"Masks at the saw, {where}", tables=(Table("saws", "", columns, rows),), notes=tuple(notes)
    )  # fmt: skip


def safety_source(plan: Plan) -> str:
    """Where the masks are written."""
    if is_alone(plan.system):
        return cautions.source("osha-1926.1153", plan.system)
    return published_sources().source("osha-1926.1153").label


def _mask(factor: int) -> str:
    return f"mask, APF {factor}" if factor else "no mask asked"
