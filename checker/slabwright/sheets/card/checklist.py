"""What a plan cannot show: to be looked at on the morning of the pour, as this design calls for it."""

from __future__ import annotations

from slabwright.design.pouring import Pour
from slabwright.design.reinforcement import Reinforcement
from slabwright.plan.edges import filler_depth
from slabwright.plan.plan import Plan
from slabwright.plan.steel import Bed
from slabwright.sheets.sheet import Column, Section, tabled
from slabwright.text.words import Value, Words, words
from slabwright.units.quantity import Amount, depth, length, share

BOX = "[ ]"
LISTED = 8  # names on one line of the list
ALIKE = 0.0005  # m: risers that differ by less are called alike
STEEP = 0.06  # slope: coarse broom or grooves above, `finish-guide`
TOO_STEEP = 0.08  # slope: stiff concrete, placed low to high above, `common-practice`


def section(plan: Plan) -> Section:
    """The list, with a box to tick on each line."""
    rows = tuple((BOX, what, look) for what, look in _looks(plan))
    columns = (Column("box", "", right=False), Column("what", "", right=False), Column("look", "", right=False))
    return tabled("look", "Look before the truck comes", columns, rows)


def _looks(plan: Plan) -> list[tuple[str, Words]]:
    said = plan.design.pour or Pour()
    found = [
        ("base", _base(plan)),
        ("forms", _forms(plan)),
        *_steps(plan),
        *_isolation(plan),
        *_steel(plan),
        *_tubes(plan),
        *_fixtures(plan),
    ]
    joints = [joint.name for joint in plan.joints.all if joint.counts]
    if joints:
        listed = ", ".join(joints[:LISTED]) + (f" and {len(joints) - LISTED} more" if len(joints) > LISTED else "")
        found.append(
            ("joints", words("marked on the forms at both ends: {listed}; saw fueled, spare blade", listed=listed))
        )
    method = plan.design.order.method if plan.design.order else None
    found.append(
        ("way in", words("{method}: ground carries it, reach tried out", method=method or "truck, pump or buggies"))
    )
    found.append(
        (
            "bleed water",
            words("no float, trowel, broom or cement on it: wait, or drag it off; no water to finish with"),
        )
    )
    found += _finish(plan, said)
    return found


def _base(plan: Plan) -> Words:
    base = plan.design.site.base
    if base is not None and base.thickness is not None:
        return words("{t} {material}, tamped, no soft spot under a boot, no frost or mud; damp and not shiny",
                     t=base.thickness, material=base.material or "base")  # fmt: skip
    return words("tamped, no soft spot under a boot, no frost or mud; damp and not shiny")


def _forms(plan: Plan) -> Words:
    thick = plan.design.thickness
    board = thick.form_board_name or ""
    text = "staked and braced, oiled, tops on their marks by the rod; {t} from a string to the base at every pin"
    values: dict[str, Amount | str] = {"t": depth(plan.thickness.design)}
    if len(plan.areas.thicknesses) > 1:
        each = {f"t{number}": area.thickness for number, area in enumerate(plan.areas.all)}
        names = {f"n{number}": area.name for number, area in enumerate(plan.areas.all)}
        told = ", ".join(f"{{t{number}}} in {{n{number}}}" for number in range(len(plan.areas.all)))
        text, values = text.replace("{t}", told), {**each, **names}
    if board:
        text += "; {board} boards"
        values["board"] = board
    return Words(text, values)


def _steps(plan: Plan) -> list[tuple[str, Words]]:
    """The riser boards of the flights that are poured with the slab."""
    found = []
    for flight in plan.flights.all:
        if flight.steps.same_pour and flight.poured:
            low, high = depth(min(flight.poured)), depth(max(flight.poured))
            alike = high.si - low.si < ALIKE
            text = "{flight}: {n} of {low}" if alike else "{flight}: {n} of {low} to {high}"
            more = "; staked and braced against the weight above, lower edge beveled, treads with a fall to the front"
            boards = f"{len(flight.poured)} riser board{'s' * (len(flight.poured) > 1)}"
            values: dict[str, Value] = {"flight": flight.name, "n": boards, "low": low}
            found.append(("steps", words(text + more, **(values if alike else {**values, "high": high}))))
    return found


def _isolation(plan: Plan) -> list[tuple[str, Words]]:
    named = [
        f"{piece.name} ({piece.isolation.material})"
        for piece in plan.edges.pieces
        if piece.isolation is not None and filler_depth(piece.isolation, plan.areas.thickest(piece.line).thickness.si)
    ]
    for fixture in plan.fixtures.all:
        filler = fixture.fixture.isolation
        if filler is not None and filler_depth(filler, plan.areas.at(fixture.at).thickness.si):
            named.append(f"{fixture.name} ({filler.material})")
    if not named:
        return []
    once = list(dict.fromkeys(named))
    listed = ", ".join(once[:LISTED]) + (f" and {len(once) - LISTED} more" if len(once) > LISTED else "")
    return [("isolation", words("fixed so that it cannot float, full height, no gap: {listed}", listed=listed))]


def _steel(plan: Plan) -> list[tuple[str, Words]]:
    bonded = any(bed.steel.bonded for bed in plan.steel.beds)
    told = [("bond", words("the electrician has bonded the steel, and the inspector has seen it"))] if bonded else []
    return [*(line for bed in plan.steel.beds for line in _steel_of(bed.steel, _of(plan, bed))), *told]


def _of(plan: Plan, bed: Bed) -> Words:
    """Which part of the slab steel belongs to, where it does not lie all through it."""
    everywhere = len(bed.areas) == len(plan.areas.all)
    return words("") if everywhere else words("{part}: ", part=", ".join(area.name for area in bed.areas))


def _steel_of(steel: Reinforcement, where: Words) -> list[tuple[str, Words]]:
    if steel.none:
        return []
    mat = steel.bars or steel.mesh
    if mat is None:
        return [("fiber", words("on the ticket, dose as ordered"))] if steel.fiber else []
    if mat.held_by in ("hooked up by hand", "nothing"):
        told = where.template + "{held} by the file, so it ends on the ground: put it on chairs"
        return [("steel", words(told, **where.values, held=mat.held_by))]
    text = where.template + "held up by {held}"
    amounts: dict[str, Value] = {**where.values, "held": str(mat.held_by or "something: the file does not say what")}
    if mat.support_spacing is not None:
        text += " at {every}"
        amounts["every"] = mat.support_spacing
    if mat.top_cover is not None:
        text += ", {cover} below the top, walked on and still there"
        amounts["cover"] = mat.top_cover
    else:
        text += ", walked on and still there"
    if mat.at_joints is not None:
        text += "; at joints: {joints}"
        amounts["joints"] = str(mat.at_joints)
    return [("steel", Words(text, amounts))]


def _tubes(plan: Plan) -> list[tuple[str, Words]]:
    heating = [one.name for one in plan.design.embedded if one.kind == "heating tubes"]
    if not heating:
        return []
    told = "tied down, under pressure while it is placed and sawed, the gauge in sight: {listed}"
    return [("tubes", words(told, listed=", ".join(heating)))]


def _fixtures(plan: Plan) -> list[tuple[str, Words]]:
    drains = [fixture.name for fixture in plan.fixtures.all if fixture.fixture.kind == "drain"]
    drains += [channel.name for channel in plan.channels.all]
    if not drains:
        return []
    return [("drains", words("at their height, taped over, connected: {listed}", listed=", ".join(drains)))]


def _finish(plan: Plan, said: Pour) -> list[tuple[str, Words]]:
    found = []
    steepest = max((facet.slope for facet in plan.finish.facets if facet.area > 0.1), default=0.0)
    if said.finish == "trowel" and plan.outdoors:
        found.append(("finish", words("a troweled slab outdoors is slippery when wet: broom it (finish guide)")))
    if said.finish == "broom" and steepest > STEEP * (1 + 1e-6) and plan.outdoors:
        found.append(
            (
                "finish",
                words("it falls up to {fall}: coarse broom or grooves over 6 % (finish guide)", fall=share(steepest)),
            )
        )
    if said.broom_direction == "along" and plan.outdoors:
        found.append(("broom", words("strokes along the fall grip less: across it (finish guide)")))
    if steepest > TOO_STEEP * (1 + 1e-6):
        found.append(
            (
                "slope",
                words(
                    "up to {fall}: slump {slump} at most, place low to high", fall=share(steepest), slump=depth(0.0762)
                ),
            )
        )
    if plan.design.order is not None and plan.design.order.method == "pump" and plan.design.order.hose_length:
        found.append(("pump", words("{line} of line laid and primed", line=length(plan.design.order.hose_length.si))))
    return found
