"""Questions about a design that can be read but looks like a slip. None of them stops a review."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence

import numpy as np

from slabwright.design.heights import SpotHeight
from slabwright.design.model import Design
from slabwright.design.outline import Corner
from slabwright.design.point import Point
from slabwright.formulas.units import FOOT
from slabwright.source.problem import Problem, Problems
from slabwright.units.quantity import Amount, depth, height, meets, show, to_unit

ROD = (2 * FOOT, 14 * FOOT)  # what a rod shows on most sites (common practice)
NEAR_REFERENCE = 3 * FOOT  # heights this close to a known height are heights
FAR_FROM_REFERENCE = 30 * FOOT
TALLEST = 10 * FOOT  # between the highest and the lowest height of one slab (common practice)
LONGEST = 300.0  # m
SHORTEST = 0.3  # m
SAME = 0.0005  # m: heights that differ by less are one, written in two units
MISREAD = 0.5 * FOOT  # from which one height alone looks misread: mostly by a whole foot (common practice)
MEANT = FOOT  # m, to which a height is drawn off the others by a valley, a drain or a ridge (common practice)
SUSPECTS = 20  # heights farthest off the plane through all, of which one may be the misread one
IS_IT_MISREAD = "is it misread?"
ONE_MISTYPED = "is one of them mistyped?"
ONE_HOLDS = "which of them holds? Take the other out; a step is drawn with a point on either side"
OR_MISTYPED = "or is a height mistyped?"
STEP_OR_SLIP = "is a height there mistyped, or is it a step?"
ALONE = 3.0  # times as far off as any other
DECIMALS = {"ft": 2, "in": 1, "m": 3, "cm": 1, "mm": 0}  # that heights are written with


def ask(design: Design, questions: Problems) -> None:
    """Add every question about ``design`` to ``questions``."""
    _names(design, questions)
    _flights(design, questions)
    _thin_edges(design, questions)
    _no_length(design, questions)
    _size(design, questions)
    _two_heights(design, questions)
    if design.heights.finish:
        _feet_and_inches(design, questions)
        if not _rod_readings(design, questions) and not _span(design, questions):
            _misread(design.heights.finish, "the finish", design, questions)
    if not _off_the_finish(design, questions):
        _misread(design.heights.base, "the base", design, questions)
    _misread(design.heights.existing, "the ground", design, questions)


def _flights(design: Design, questions: Problems) -> None:
    """Steps that lead up to something that is not there."""
    known = {one.name for one in design.fixtures} | {one.name for one in design.edges}
    for flight in design.thickness.steps:
        if flight.leads_to and flight.leads_to not in known:
            wrong = f'"{flight.name}" leads to "{flight.leads_to}", and no door or edge has that name'
            questions.add(flight.place, wrong, "what is it called?")


def _thin_edges(design: Design, questions: Problems) -> None:
    """Thickened edges that are no thicker than the slab."""
    for edge in design.thickness.thickened_edges:
        if edge.depth.si <= design.thickness.design.si:
            wrong = (
                f"this thickened edge is {edge.depth.typed} deep, and the slab {design.thickness.design.typed} thick"
            )
            questions.add(edge.place, wrong, "is the depth that of the whole edge? It is counted from the finish down")


def _no_length(design: Design, questions: Problems) -> None:
    """Lines of the finish, and falls, that end where they begin."""
    lines = [(f"the {line.kind} {line.name}".strip(), line.along, line.place) for line in design.heights.lines]
    lines += [("this fall", fall.along, fall.place) for fall in design.heights.falls]
    for what, along, place in lines:
        if len({(point.x, point.y) for point in along}) == 1:
            at = along[0].name or along[0].typed or "one spot"
            questions.add(place, f"{what} runs from {at} to {at}, and so nowhere", "where does it end?")


def _names(design: Design, questions: Problems) -> None:
    """``A`` and ``a``: one question, however many such pairs there are."""
    seen: dict[str, str] = {}
    pairs = [(first, name) for name in design.points if (first := seen.setdefault(name.casefold(), name)) != name]
    if pairs:
        name = pairs[0][1]
        told = ", ".join(f'"{first}" and "{other}"' for first, other in pairs)
        asks = "are they two points?" if len(pairs) == 1 else "are they two points each?"
        place = design.places.get(f"points.{name}", design.points[name].place)
        questions.add(place, f"the points {told} differ only in capitals", asks)


def _size(design: Design, questions: Problems) -> None:
    """A slab too large or too small for the unit of its plan."""
    points = _vertices(design.outline)
    across = max(p.x for p in points) - min(p.x for p in points)
    along = max(p.y for p in points) - min(p.y for p in points)
    sizes = f"{_length(across, design)} by {_length(along, design)}"
    if max(across, along) > LONGEST:
        unit = {"ft": "in", "m": "mm"}.get(design.plan_unit, design.plan_unit)
        questions.add(design.place("units.plan", "outline"), f"this slab is {sizes}", f"is plan: {unit} meant?")
    elif 0 < max(across, along) < SHORTEST:
        unit = {"in": "ft", "mm": "m", "cm": "m"}.get(design.plan_unit, design.plan_unit)
        questions.add(design.place("units.plan", "outline"), f"this slab is {sizes}", f"is plan: {unit} meant?")


def _length(meters: float, design: Design) -> str:
    """A plan length in few words."""
    return f"{meters / FOOT:,.4g} ft" if design.system == "us" else f"{meters:,.4g} m"


def _vertices(corners: Sequence[Corner]) -> list[Point]:
    """The corners of an outline and the points its arcs pass through."""
    return [point for corner in corners for point in (corner.through, corner.at) if point is not None]


def _two_heights(design: Design, questions: Problems) -> None:
    """Points of two names at one spot, with a height each: a surface has one height at one spot."""
    surfaces = {"finish": "finish", "base": "base", "existing": "ground"}
    for surface, what in surfaces.items():
        seen: dict[tuple[float, float], SpotHeight] = {}
        for spot in getattr(design.heights, surface):
            first = seen.setdefault((round(spot.at.x, 3), round(spot.at.y, 3)), spot)
            if abs(first.height.si - spot.height.si) > SAME:
                names = f"{first.at.name or first.at.typed} and {spot.at.name or spot.at.typed}"
                heights = f"{first.height.typed} and {spot.height.typed}"
                wrong = f"{names} are one spot, and their {what} heights are {heights}"
                questions.add(spot.place, wrong, ONE_HOLDS)


def _feet_and_inches(design: Design, questions: Problems) -> None:
    """``99.11`` beside ``99.6``: feet and inches with a point between, where decimal feet are read.

    Asked only when every decimal is one that inches can have, and both 10 or 11 and a single digit occur.
    """
    if design.height_unit != "ft":
        return
    typed = [spot.height for spot in design.heights.finish if spot.height.typed.endswith(" ft")]
    parts = {amount: amount.typed.removesuffix(" ft").partition(".")[2] for amount in typed}
    two = [amount for amount, part in parts.items() if part in ("10", "11")]
    one = [amount for amount, part in parts.items() if len(part) == 1 and part != "0"]
    others = [part for part in parts.values() if len(part) > 1 and part not in ("10", "11", "00")]
    if not two or not one or others:
        return
    number = two[0].typed.removesuffix(" ft")
    feet, _, inches = number.partition(".")
    questions.add(
        two[0].place or design.place("heights.finish"),
        f"{number} and {one[0].typed.removesuffix(' ft')} look like feet and inches, and are read as tenths of a foot",
        f"is {feet}'-{inches}\" meant?",
    )


def _references(design: Design) -> list[float]:
    """Heights that are surely heights, m."""
    amounts: Iterable[Amount] = (
        *(height for fixed in design.fixed for height in fixed.height),
        *design.heights.benches.values(),
        *(ground for edge in design.edges for ground in edge.ground),
        *(sill for fixture in design.fixtures for sill in (fixture.sill, fixture.rim, fixture.outlet) if sill),
        *(rim for channel in design.channels for rim in channel.rim),
    )
    return [amount.si for amount in amounts]


def _rod_readings(design: Design, questions: Problems) -> bool:
    """Rod readings entered as heights: far below every known height, or lowest at the building. Whether asked."""
    spots = [spot for spot in design.heights.finish if spot.height.typed]
    values = [spot.height.si for spot in spots]
    if len(values) < 3 or not all(ROD[0] <= value <= ROD[1] for value in values):
        return False
    references = _references(design)
    write = "if they are what the rod showed, put them in a file: finish: shots.csv"
    place = design.place("heights.finish")
    if references and min(references) - max(values) > FAR_FROM_REFERENCE:
        under = min(references) - max(values)
        gap = f"{under:,.0f} m" if design.system == "metric" else f"{under / FOOT:,.0f} ft"
        questions.add(place, f"the finish lies {gap} below the fixed heights: are these rod readings?", write)
        return True
    at_wall = {(p.x, p.y) for edge in design.edges if edge.beside in ("building", "wall") for p in edge.run}
    wall = [spot.height.si for spot in spots if (spot.at.x, spot.at.y) in at_wall]
    other = [spot.height.si for spot in spots if (spot.at.x, spot.at.y) not in at_wall]
    known = any(
        abs(reference - value) <= NEAR_REFERENCE for reference in references for value in (min(values), max(values))
    )
    if len(wall) >= 2 and other and not known and max(wall) < min(other):
        questions.add(place, "every height at the building is lower than all others: are these rod readings?", write)
        return True
    return False


def _span(design: Design, questions: Problems) -> bool:
    """Heights of one slab too far apart. Whether asked."""
    low = min(design.heights.finish, key=lambda spot: spot.height.si)
    high = max(design.heights.finish, key=lambda spot: spot.height.si)
    apart = high.height.si - low.height.si
    if apart > TALLEST:
        far = f"{apart:,.2f} m" if design.system == "metric" else f"{apart / FOOT:,.1f} ft"
        names = f"{high.at.name or 'the highest'} and {low.at.name or 'the lowest'}"
        questions.add(
            low.place,
            f"finish heights at {names} are {far} apart",
            ONE_MISTYPED,
        )
    return apart > TALLEST


def _off_the_finish(design: Design, questions: Problems) -> bool:
    """One shot on the base that lies far deeper or higher under the finish than all others. Whether asked."""
    finish = {(spot.at.x, spot.at.y): spot.height.si for spot in design.heights.finish}
    shots = [shot for shot in design.heights.base if (shot.at.x, shot.at.y) in finish]
    if len(shots) < 4:
        return False
    rises = [shot.height.si - finish[shot.at.x, shot.at.y] for shot in shots]
    middle = statistics.median(rises)
    offs = sorted(zip((rise - middle for rise in rises), shots, strict=True), key=lambda one: -abs(one[0]))
    (off, shot), (next_off, _), *_ = offs
    if not meets(abs(off), MISREAD, "least") or abs(next_off) > abs(off) / ALONE:
        return False
    _ask_misread(shot, off, "the base", "the other shots", design, questions)
    return True


def _misread(spots: Sequence[SpotHeight], what: str, design: Design, questions: Problems) -> None:
    """One height that lies far off the plane through all the others, which fit each other well."""
    if len(spots) < 5:  # of four on a warped slab each lies as far off the three others
        return
    places = np.array([(spot.at.x, spot.at.y, 1.0) for spot in spots])
    places[:, :2] -= places[:, :2].mean(axis=0)
    heights = np.array([spot.height.si for spot in spots])
    plane, *_ = np.linalg.lstsq(places, heights, rcond=None)
    farthest = np.argsort(-np.abs(places @ plane - heights), kind="stable")[:SUSPECTS]
    found: list[tuple[float, float, SpotHeight]] = []
    for number in sorted(int(one) for one in farthest):
        spot, others = spots[number], np.arange(len(spots)) != number
        plane, _, rank, _ = np.linalg.lstsq(places[others], heights[others], rcond=None)
        if rank == 3:  # the others do not lie in a line
            fits = float(np.abs(places[others] @ plane - heights[others]).max())
            found.append((fits, float(heights[number] - places[number] @ plane), spot))
    if not found:
        return
    fits, off, spot = min(found, key=lambda one: one[0])
    if abs(off) < MEANT and _meant(spot, off, design):
        return
    if meets(abs(off), MISREAD, "least") and fits <= abs(off) / ALONE:
        _ask_misread(spot, off, what, "the others", design, questions)


def _meant(spot: SpotHeight, off: float, design: Design) -> bool:
    """Whether a height ``off`` m above the others is drawn so: low in a valley or at a drain, high on a ridge."""
    at = spot.at.x, spot.at.y
    kind = "valley" if off < 0 else "ridge"
    folded = any(at == (p.x, p.y) for line in design.heights.lines if line.kind == kind for p in line.along)
    drains = (one.at for one in design.fixtures if one.kind == "drain" and one.at)
    channels = (p for channel in design.channels for p in channel.along)
    return folded or (off < 0 and any(at == (p.x, p.y) for p in (*drains, *channels)))


def misread_asked(spot: SpotHeight, off: float, what: str, others: str, design: Design) -> Problem:
    """Whether a height is misread that lies ``off`` m above where ``others`` put it."""
    side, name = "above" if off > 0 else "below", spot.at.name or "one spot"
    meant = show(Amount(spot.height.si - off, spot.height.kind), design.system, both=False).removeprefix("about ")
    return Problem(
        spot.place,
        f"{what} at {name} lies {_off(abs(off), design)} {side} where {others} put it: {IS_IT_MISREAD}",
        f"shoot it again: about {meant} would fit, and comments on heights rest on it",
    )


def _off(meters: float, design: Design) -> str:
    """A difference of heights as the file writes heights: 4 1/2 in, 0.33 ft or 25 mm."""
    unit = design.height_unit
    if unit == "in":
        return show(depth(meters), "us", both=False).removeprefix("about ")
    return f"{round(to_unit(height(meters), unit), DECIMALS[unit]):,g} {unit}"


def same_slip(one: Problem, name: str) -> bool:
    """Whether a question asks after the same slip as that of a misread height at a point: other surfaces lie off it."""
    other_surface = f" at {name} lies " in one.wrong and IS_IT_MISREAD in one.wrong
    return other_surface or one.write in (ONE_MISTYPED, STEP_OR_SLIP) or one.write.endswith(OR_MISTYPED)


def _ask_misread(spot: SpotHeight, off: float, what: str, others: str, design: Design, questions: Problems) -> None:
    asked = misread_asked(spot, off, what, others, design)
    questions.add(asked.place, asked.wrong, asked.write)
