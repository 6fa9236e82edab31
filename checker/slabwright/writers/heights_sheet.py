"""Proposed heights as a sheet of text and as data."""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.proposals.heights.clash import Change, Clash
from slabwright.proposals.heights.found import AS_DRAWN, ONE_PLANE, Found, kept_off_street
from slabwright.proposals.heights.program import FAR
from slabwright.proposals.heights.propose import Proposal
from slabwright.review.report import LOCAL_CODE
from slabwright.text.json_values import Data, amount_data
from slabwright.text.sheet import Line, Sheet
from slabwright.text.words import cannot_all_hold, move_by, plain
from slabwright.text.working import counted, sentence
from slabwright.units.quantity import Amount, Kind, System, depth, height, round_up, share, show, slope, volume
from slabwright.writers import plan_picture
from slabwright.writers.sheet_words import verdict

FINEST = 1e-5  # m: room under this is none


def sheet(done: Proposal, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The heights, what governs them and what they leave room for; or what cannot all hold."""
    page, system = Sheet(width, encoding), done.before.system
    page.rule(heavy=True)
    page.paragraph("HEIGHTS PROPOSED", tone="strong")
    page.rule()
    page.labeled("Job", done.job, indent=0)
    page.labeled("File", done.before.file, indent=0)
    page.labeled("Before", verdict(done.before), indent=0)
    page.labeled("Found", _found_line(done), indent=0)
    page.rule(heavy=True)
    if done.clash is not None:
        _clash(page, done.clash, system)
    for number, one in enumerate(done.found):
        _found(page, one, system, other=number > 0)
        if not done.kept:
            _takes(page, one, done, system)
        for label, told in () if done.kept else besides(one):
            page.labeled(label, told, indent=2)
        page.blank()
        page.picture(plan_picture.falls(one.plan, encoding))
    page.blank()
    page.paragraph(LOCAL_CODE)
    return page.lines


def _found_line(done: Proposal) -> str:
    if done.kept:
        return "the heights as drawn meet every rule on heights and water; nothing has to move"
    if not done.found:
        if done.clash is not None and done.clash.on_any_folds:
            return "no heights do it, on these folds or on others"
        proven = done.clash is not None and done.clash.proven
        on_drawn = "no heights do it on the folds as drawn, and none were found on others"
        return on_drawn if proven else "the search found no heights that do it"
    best = done.found[0]
    if not best.points:
        return f"heights on {best.folds}"
    return f"heights on {best.folds}; {counted(len(best.points), 'point moves', 'points move')}"


def _clash(page: Sheet, clash: Clash, system: System) -> None:
    page.heading("WHAT CANNOT ALL HOLD")
    page.paragraph(sentence(clash_words(clash, system)), indent=2)
    if not clash.proven:
        page.paragraph(
            "The search chose the ways in which parts fall: other ways may do it, and it has not shown that none does.",
            indent=2,
        )
    if clash.change is not None:
        page.paragraph(f"The cheapest single change: {change_words(clash.change, system)}.", indent=2)
    else:
        page.paragraph("No fixed height changed alone makes it possible.", indent=2)


def clash_words(clash: Clash, system: System) -> str:
    """What clashes, and by how much: "A, B and C cannot all hold: short by 4 1/2 in"."""
    return plain(cannot_all_hold(clash.groups, _up(clash.short, system)), system, both=False)


def change_words(change: Change, system: System) -> str:
    """The change of a fixed height, in words."""
    return plain(move_by(change.name, _up(abs(change.by), system), change.by > 0), system, both=False)


def _up(si: float, system: System) -> Amount:
    """A depth to the next 1/16 in or millimeter: what is short is never told shorter."""
    return round_up(depth(si - 1e-6), 0.0254 / 16 if system == "us" else 0.001)


def _found(page: Sheet, one: Found, system: System, other: bool) -> None:
    page.heading(("OR " if other else "") + one.folds.upper())
    for point in one.points:
        name, old, new = point.height.name, height(point.height.old), height(point.height.new)
        way = "new" if old == new else ("up" if new.si > old.si else "down")
        told = f"{_show(old, system)} to {_show(new, system)}, {way} {_show(depth(abs(new.si - old.si)), system)}"
        page.labeled(name, _show(new, system) if way == "new" else told, indent=2)
        if point.by:
            page.labeled("", f"held there by {point.by}", indent=2)
    falls = f"{_show(slope(one.least), system)} at least, {_show(slope(one.most), system)} at most"
    page.labeled("falls", falls, indent=2)
    shares = [f"{_show(share(part.share), system)} {_where(part.kind)} {part.to}" for part in one.shares]
    page.labeled("water", ", ".join(shares), indent=2)
    rooms = list(_rooms(one, system))
    if rooms:
        page.rows("room left", rooms, indent=2)
    if one.brings:
        page.labeled("look at", "; ".join(one.brings), indent=2)
    page.labeled("review", verdict(one.report), indent=2)


def _takes(page: Sheet, one: Found, done: Proposal, system: System) -> None:
    """What heights take of digging and concrete."""
    earth = one.earth
    against = "in the bank" if earth.from_ground else "in the bank, against the heights as drawn"
    trips = f"; {counted(earth.trips, 'trip', 'trips')}" if earth.trips is not None else ""
    dug, filled = _show(volume(earth.dug), system), _show(volume(earth.filled), system)
    page.labeled("digging", f"{dug} dug, {filled} filled, {against}{trips}", indent=2)
    page.labeled("concrete", _show(volume(one.concrete), system), indent=2)
    if earth.own_fall > 0:
        page.labeled("valley", sentence(valley_words(one, done, system)), indent=2)


def besides(one: Found) -> list[tuple[str, str]]:
    """What moves along with the heights, and what does not."""
    plan, found = one.plan, []
    if not kept_off_street(one):
        bump = "wheels bump up from it at this height: no fold that was tried keeps its water out and meets it flush"
        found.append(("street", bump))
    if plan.areas.several:
        found.append(("parts", "each part keeps its thickness, so the base under it moves as the finish does"))
    if plan.flights.all:
        names = " and ".join(each.name for each in plan.flights.all)
        found.append(("steps", f"{names}: the review measured the risers again with the new heights"))
    if plan.channels.all:
        rims = " and ".join(each.name for each in plan.channels.all)
        found.append(("channels", f"{rims}: a rim that the file gives stays, and the slab is set to it"))
    if plan.design.heights.base:
        found.append(("base", "the base as it was shot stays; the concrete is reckoned on it"))
    return found


def valley_words(valley: Found, done: Proposal, system: System) -> str:
    """What the fall along a new valley takes, and whether it eats what its cross fall saves against one plane."""
    own = f"its own fall takes about {_show(volume(valley.earth.own_fall), system)} of digging on level ground"
    plane = next((one for one in done.found if one.folds == ONE_PLANE), None)
    if plane is None:
        return own
    saved = plane.earth.dug - valley.earth.dug
    less = _show(volume(abs(saved)), system)
    if saved > 0:
        return f"{own}; it still digs {less} less than one straight plane"
    return f"{own}, and eats what the cross fall saves: one straight plane digs {less} less"


def _where(kind: str) -> str:
    return {"edge": "over", "drain": "into", "opening": "into"}.get(kind, "stays in")


def _rooms(one: Found, system: System) -> Iterator[str]:
    for room in one.rooms:
        parts = [
            f"{way} {_show(depth(by), system) if by > FINEST else '0'}"
            for way, by in (("up", room.up), ("down", room.down))
            if by < FAR - FINEST
        ]
        if parts:
            yield f"{room.name}: {', '.join(parts)}"


def _show(amount: Amount, system: System) -> str:
    return show(amount, system, both=False)


def as_data(done: Proposal) -> Data:
    """The proposal as plain data for JSON."""
    system = done.before.system
    return {
        "job": done.job,
        "file": done.before.file,
        "nothing_has_to_move": done.kept,
        "step": amount_data(depth(done.step), system),
        "clash": None if done.clash is None else _clash_data(done.clash, system),
        "proposals": [_found_data(one, done, system) for one in done.found],
    }


def _clash_data(clash: Clash, system: System) -> Data:
    change = clash.change
    return {
        "cannot_all_hold": list(clash.groups),
        "short": amount_data(depth(clash.short), system),
        "proven": clash.proven,
        "on_any_folds": clash.on_any_folds,
        "says": clash_words(clash, system),
        "cheapest_change": None if change is None else {
            "name": change.name, "by": amount_data(depth(change.by), system), "says": change_words(change, system),
        },
    }  # fmt: skip


def _found_data(one: Found, done: Proposal, system: System) -> Data:
    return {
        "folds": one.folds,
        "as_drawn": one.folds == AS_DRAWN,
        "points": [
            {
                "name": point.height.name,
                "old": amount_data(height(point.height.old), system),
                "new": amount_data(height(point.height.new), system),
                "held_by": point.by,
            }
            for point in one.points
        ],
        "least_fall": amount_data(slope(one.least), system),
        "greatest_fall": amount_data(slope(one.most), system),
        "water": [
            {"to": part.to, "kind": part.kind, "share": amount_data(Amount(part.share, Kind.SHARE), system)}
            for part in one.shares
        ],
        "room_left": [
            {
                "name": room.name,
                "up": amount_data(depth(room.up), system),
                "down": amount_data(depth(room.down), system),
            }
            for room in one.rooms
        ],
        "brings": list(one.brings),
        "moved": amount_data(depth(one.moved), system),
        "digging": {
            "from_ground": one.earth.from_ground,
            "dug": amount_data(volume(one.earth.dug), system),
            "filled": amount_data(volume(one.earth.filled), system),
            "trips": one.earth.trips,
            "valley": valley_words(one, done, system) if one.earth.own_fall > 0 else None,
        },
        "besides": [told for _, told in besides(one)],
        "concrete": amount_data(volume(one.concrete), system),
        "picture": plan_picture.falls(one.plan, "utf-8"),
        "holds": one.report.holds,
        "cautions": one.report.counted("caution"),
    }
