"""One typed height far off its neighbors, and the comments that rest on it: one question, and not fifteen comments.

Each height that lies far off a plane through those about it is put where they say, or where it was probably read (a
foot or a tenth off, two digits swapped, the point a place off), and the design is judged again. The one that takes most
away is asked about, and what it takes away is told together.
"""

import statistics
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence
from functools import cache
from typing import NamedTuple

import numpy as np

from slabwright.design.heights import SpotHeight
from slabwright.design.model import Design
from slabwright.design.questions import IS_IT_MISREAD, misread_asked
from slabwright.plan.plan import Plan
from slabwright.rulebook.conclusion import Finding, bare
from slabwright.rulebook.rule import Rule
from slabwright.source.problem import Problem
from slabwright.units.quantity import height

Found = Sequence[tuple[Rule, Finding]]
Judge = Callable[[Plan, Collection[str] | None], Found | None]
SURFACES = {"finish": "the finish", "base": "the base", "existing": "the ground"}
OTHERS = {"finish": "the shots of the base", "base": "the finish heights"}
OFF = 0.1  # m, 4 in, off its neighbors: more than a slab is folded by from one height to the next (common practice)
EVEN = 1e-6  # m: four heights round a panel are all equally far off the plane through the others
SUSPECTS = 10  # heights tried, those farthest off first
BEST = 3  # of these, that are tried where they may have been read too
WORK = 1000  # designs judged times panels and facets: some seconds at most
NEAR = 0.15  # m off its neighbors: where a height may have been read that they do not put quite there
MOST_READ = 2  # ways tried in which a height may have been read
BORNE_OUT = 0.0254  # m, 1 in: finish and base so nearly as far apart as elsewhere bear each other out (common practice)
NEIGHBORS = 8  # nearest heights that a plane is laid through, the nearer counting more
FEWER = 3  # comments that have to go with a height before it is asked about
TORN = 2 * BORNE_OUT  # m off the other surface, from which one of the two looks misread (common practice)
BOTH = 4  # spots with finish and base, from which it is known how far apart they lie
LARGEST = 400  # heights of a surface that are looked through


class Misread(NamedTuple):
    """A height that looks misread, and the findings that go once it is where its neighbors put it."""

    name: str  # "the finish at C"
    asks: Problem
    rest: frozenset[int]  # ids of findings


class _Suspect(NamedTuple):
    surface: str
    number: int  # among the heights of the surface
    spot: SpotHeight
    off: float  # m above where the others put it
    others: str = "its neighbors"


def misread(plan: Plan, found: Found, judge: Judge, doubted: Sequence[Problem] = ()) -> Misread | None:
    """The one height that most of what is found rests on; None where there is none, or several would do as well.

    ``judge`` gives what is found on another plan by the rules of some names, or by all, those that are left out finding
    what they found before; None where more of them fail at it. ``doubted`` is what the reading asks: of a height that
    it asks about, a single comment rests on it.
    """
    return _most_rests_on(plan, found, judge) or _asked_about(plan, found, judge, doubted)


def _asked_about(plan: Plan, found: Found, judge: Judge, doubted: Sequence[Problem]) -> Misread | None:
    """A height that the reading asks about, and what goes once it is where the others put it."""
    asked = {one.place: one for one in doubted if one.wrong.endswith(IS_IT_MISREAD)}
    for suspect in _suspects(plan.design) if asked and found else ():
        asks = asked.get(suspect.spot.place)
        if asks is None:
            continue
        with bare():
            now = judge(plan.edited(_put_right(plan.design, suspect), {"heights"}), None)
        if now is not None and (gone := frozenset(_gone(found, now))) and _weight(now) < _weight(found):
            return Misread(_name(suspect), asks, gone)
    return None


def _most_rests_on(plan: Plan, found: Found, judge: Judge) -> Misread | None:
    if len(found) < FEWER or sum(finding.limit.weight != "note" for _, finding in found) < 2:
        return None
    suspects = sorted(_suspects(plan.design), key=lambda one: -abs(one.off))
    if not suspects:
        return None
    size = len(plan.panels.all) + len(plan.finish.facets)
    suspects = suspects[: min(SUSPECTS, max(BEST, WORK // (1 + size)))]

    @cache
    def with_it(suspect: _Suspect) -> Plan:
        return plan.edited(_put_right(plan.design, suspect), {"heights"})

    def found_with(suspect: _Suspect, names: Collection[str] | None = None) -> Found | None:
        with bare():
            return judge(with_it(suspect), names)

    spoke = {rule.name for rule, _ in found}
    for suspect in (one._replace(off=off) for one in suspects for off in (one.off, *_read_off(one))):
        now = found_with(suspect, spoke)
        if now is not None and len(list(_gone(found, now))) >= FEWER:
            break
    else:  # most designs end here, with the few rules judged that had something to say
        return None
    tried: list[tuple[tuple[int, int], _Suspect, Found]] = []

    def put_right(suspect: _Suspect) -> None:
        now = found_with(suspect)
        if now is not None:
            tried.append((_weight(now), suspect, now))

    for suspect in suspects:
        put_right(suspect)
    for _, suspect, _ in sorted(tried, key=lambda one: one[0])[:BEST]:
        for off in _read_off(suspect):
            put_right(suspect._replace(off=off))
    if not tried:
        return None
    tried.sort(key=lambda one: one[0])
    best, suspect, now = tried[0]
    others = (weight for weight, one, _ in tried if (one.surface, one.number) != (suspect.surface, suspect.number))
    gone = frozenset(_gone(found, now))
    if any(weight <= best for weight in others) or len(gone) < FEWER or best >= _weight(found):
        return None
    asks = misread_asked(suspect.spot, suspect.off, SURFACES[suspect.surface], suspect.others, plan.design)
    return Misread(_name(suspect), asks, gone)


def _name(suspect: _Suspect) -> str:
    return f"{SURFACES[suspect.surface]} at {suspect.spot.at.name or 'one spot'}"


def _read_off(suspect: _Suspect) -> list[float]:
    """How far off (m) a height is if it was misread in one of the usual ways, those nearest to its neighbors first."""
    typed = suspect.spot.height.typed.partition(" ")[0]
    try:
        number = float(typed)
    except ValueError:
        return []
    if not number:
        return []
    ways = [number - step for step in (1, -1, 0.1, -0.1)] + [number * 10, number / 10]
    for at in range(len(typed) - 1):
        if typed[at : at + 2].isdigit():
            ways.append(float(typed[:at] + typed[at + 1] + typed[at] + typed[at + 2 :]))
    meters = suspect.spot.height.si / number
    offs = sorted(((number - way) * meters for way in ways), key=lambda off: abs(off - suspect.off))
    return [off for off in offs if abs(off - suspect.off) <= NEAR][:MOST_READ]


def _weight(found: Found) -> tuple[int, int]:
    counts = Counter(finding.limit.weight for _, finding in found)
    return counts["hold"], counts["caution"]


def _gone(then: Found, now: Found) -> Iterator[int]:
    """Findings of which there is none like it any more: of its rule, at its place."""
    left = Counter((rule.name, one.at.name) for rule, one in now)
    for rule, one in then:
        if left[rule.name, one.at.name] > 0:
            left[rule.name, one.at.name] -= 1
        else:
            yield id(one)


def _put_right(design: Design, suspect: _Suspect) -> Design:
    def spots(surface: str, there: tuple[SpotHeight, ...]) -> tuple[SpotHeight, ...]:
        meant = suspect.spot._replace(height=height(suspect.spot.height.si - suspect.off))
        at = suspect.number
        return (*there[:at], meant, *there[at + 1 :]) if surface == suspect.surface else there

    heights = design.heights
    return design._replace(
        heights=heights._replace(
            finish=spots("finish", heights.finish),
            base=spots("base", heights.base),
            existing=spots("existing", heights.existing),
        )
    )


def _suspects(design: Design) -> Iterator[_Suspect]:
    """Heights that lie far off the plane through those about them, or off where the other surface puts them."""
    torn = _torn(design)
    for surface in SURFACES:
        spots: tuple[SpotHeight, ...] = getattr(design.heights, surface)
        if not 4 <= len(spots) <= LARGEST:
            continue
        places = np.array([(spot.at.x, spot.at.y, 1.0) for spot in spots])
        heights = np.array([spot.height.si for spot in spots])
        for index, spot in enumerate(spots):
            rise = torn.get((spot.at.x, spot.at.y)) if surface != "existing" else None
            if rise is not None:
                if abs(rise) > TORN:
                    yield _Suspect(surface, index, spot, rise if surface == "finish" else -rise, OTHERS[surface])
                if abs(rise) <= BORNE_OUT:
                    continue
            away = np.hypot(*(places - places[index])[:, :2].T)
            away[index] = np.inf
            near = np.argsort(away, kind="stable")[:NEIGHBORS]
            near = near[np.isfinite(away[near])]
            closer = 1 / np.maximum(away[near], 0.01)
            about = (places[near] - (*places[index][:2], 0.0)) * closer[:, None]
            plane, _, rank, _ = np.linalg.lstsq(about, heights[near] * closer, rcond=None)
            if rank == 3 and abs(off := float(heights[index] - plane[2])) >= OFF - EVEN:
                yield _Suspect(surface, index, spot, off)


def _torn(design: Design) -> dict[tuple[float, float], float]:
    """How much farther the finish lies over the base than it does elsewhere, m, at spots where both are known."""
    base = {(spot.at.x, spot.at.y): spot.height.si for spot in design.heights.base}
    rises = {at: one.height.si - base[at] for one in design.heights.finish if (at := (one.at.x, one.at.y)) in base}
    if len(rises) < BOTH:
        return {}
    middle = statistics.median(rises.values())
    return {at: rise - middle for at, rise in rises.items()}
