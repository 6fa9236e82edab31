"""``propose joints``: a layout of joints that the review finds nothing in, as an edit of the design.

Cuts of the file are laid out anew. Construction joints, joints with filler all through them and pattern lines stay: the
one ends a day's pour, the other parts the slab, the third is for looks. New joints are made as the first cut of the
file is. What decides is the review of the edited design.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count as count_up
from itertools import pairwise
from pathlib import Path

import numpy as np

from slabwright.design.joints import Joint
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.proposals.applying import applied, bench_of
from slabwright.proposals.layout.asked import Asked, asked_of
from slabwright.proposals.layout.cuts import Judged, Line, Slab
from slabwright.proposals.layout.search import directions, joined, layout, plain_grid
from slabwright.proposals.pours import Load, Parted, areas_between, ends_of, lines_between, load_of, pours_of
from slabwright.proposals.whole_loads import Row, rows, together
from slabwright.review import run
from slabwright.review.likewise import as_one
from slabwright.review.report import Comment, Report
from slabwright.review.trials import Bench, edited
from slabwright.rulebook.draw_joints import like_those_there
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.remedy import Append, Drop, Edit, Remedy, Write, place_of
from slabwright.rulebook.rule import Rule
from slabwright.source.edit import text_at
from slabwright.source.problem import UnreadableError
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, System, to_unit
from slabwright.units.quantity import length as meters

# Rules that judge where joints lie, and limits of rules on fixtures that do
LAID_OUT = frozenset({
    "curl", "inside-corner-joint", "joint-ends", "joints-line-up", "panel-aspect", "panel-corners", "panel-spacing",
    "pattern-lines", "walk-joints",
})  # fmt: skip
BESIDES = frozenset({("fixtures-isolated", "joint_distance_at_most"), ("column-box-out", "joint_distance_at_most")})
HEAVY = ("hold", "caution")
OF_CUTS = ("cut_after", "last_foot")  # keys of a joint that say how it is cut
OF_LOCK = ("locked_by", "dowels")
AT_CORNER = 0.01  # m
ROUNDING = 3e-4  # of a limit
LOOKED_AT, DRAWN = 12, 3  # rows of lines at whole loads that are looked at, and that are drawn
DEARER, DEAREST = 2.0, 3.0  # times the lines of the layout without: no load is worth more, nor where nothing else is


@dataclass(frozen=True, slots=True)
class Proposal:
    """A layout, the design with it, and what its review says.

    ``left`` are comments about the layout that still stand, heaviest first; ``own`` those at corners that the slab
    itself has, which no joint opens; ``before`` is how many holds, cautions and notes about the layout the design had.
    """

    bench: Bench  # the design with the layout in it
    report: Report
    lines: tuple[Line, ...]
    kept: tuple[str, ...]  # names of joints that stay
    cutting: float  # m
    plain: float  # m: cutting of a plain grid
    cutting_before: float  # m: cutting of the file as it was
    before: tuple[int, int, int]
    left: tuple[Comment, ...]
    own: tuple[Comment, ...]
    own_corners: tuple[XY, ...]
    pours: Parted | Words | None = None  # where pours end, or why no line ends them; None where nobody asked

    @property
    def found(self) -> bool:
        """Whether no hold and no caution about the layout stands, and pours end where they were asked to."""
        return not isinstance(self.pours, Words) and not any(comment.weight in HEAVY for comment in self.left)

    @property
    def joints(self) -> tuple[tuple[str, str, Amount | None, tuple[XY, ...]], ...]:
        """Name, kind, depth and points (m) of each joint of the layout, joints that stay left out."""
        new = (one for one in self.bench.plan.design.joints if one.name not in self.kept)
        return tuple((one.name, one.kind, one.depth, tuple((p.x, p.y) for p in one.along)) for one in new)

    @property
    def typed(self) -> str:
        """The joints of the design with the layout as a section that drops into the file."""
        rows = [text_at(self.bench.text, one.place.path) for one in self.bench.plan.design.joints]
        return "\n".join(["joints:", *(f"  - {row}" for row in rows)]) if rows else "joints: []"


def propose(
    path: Path, text: str, rules: Sequence[Rule], limits: Mapping[str, Limits], system: System, loads: int | None = None
) -> Proposal | None:
    """The best layout found for a design; None where its joints cannot be edited as the file is written.

    With ``loads`` construction joints part it, so that no pour takes more truck loads than so many: those of the file,
    and where a pour between them takes more, new ones where whole loads are used up, if a layout goes round joints
    there, else on lines of the layout.
    Raises :class:`UnreadableError` when the design cannot be read.
    """
    before = bench_of(path, text, rules, limits, system)[0]
    done = laid_out(before)
    return done if done is None or loads is None else _poured(before, done, loads)


def laid_out(before: Bench) -> Proposal | None:
    """The same for a design that is read and judged already."""
    plan = before.plan
    kept = tuple(joint for joint in plan.design.joints if stays(joint))
    bare = plan.edited(plan.design._replace(joints=kept), {"joints"})
    lines_kept = [plan.joints.line_of(joint) for joint in kept if joint.kind != "pattern"]
    found: list[Proposal] = []
    asked_before: list[Asked] = []
    for notes in (True, False):
        asked = asked_of(bare, before.rules, before.limits, lines_kept, notes)
        if any(asked[1:7] == earlier[1:7] for earlier in asked_before):
            continue
        asked_before.append(asked)
        for tried in (asked, _tighter(asked)):
            best = layout(tried)
            one = _drawn(before, tried, best, kept)
            if one is None:
                return None
            found.append(one)
            if one.found or best.faults:
                break
        if found[-1].found:
            break
    return min(found, key=lambda one: weighed(one.left))


def _poured(before: Bench, done: Proposal, most: int) -> Proposal | None:
    """The layout with construction joints at which each pour ends, through the whole depth."""
    plan = done.bench.plan
    load = load_of(plan, most)
    if isinstance(load, Words):
        return replace(done, pours=load)
    there = pours_of(plan, load)
    if all(one.loads <= most for one in there):
        return replace(done, pours=Parted(there, ends_of(plan)))
    on_lines = lines_between(plan, load)
    lines = max(_lines(done), done.plain)
    whole = _at_whole_loads(before, done, load, (DEAREST if isinstance(on_lines, Words) else DEARER) * lines)
    if isinstance(whole, Proposal):
        return whole
    return replace(done, pours=on_lines) if isinstance(on_lines, Words) else _made_ends(done, on_lines, load, whole)


def _lines(done: Proposal) -> float:
    """How long all lines of a layout are that part the slab, those that stay with them, m."""
    return sum(joint.length for joint in done.bench.plan.joints.all if joint.counts)


def _at_whole_loads(before: Bench, done: Proposal, load: Load, dear: float) -> Proposal | Words:
    """The layout round construction joints at which whole loads are used up; or why there is none.

    Each row of lines is looked at with grids alone; those with the least to cut are drawn, and where all break
    something, be notes asked or not, the one that breaks least is mended. With more lines in all than ``dear``, m,
    none is worth it.
    """
    plan = before.plan
    kept = tuple(joint for joint in plan.design.joints if stays(joint))
    bare = plan.edited(plan.design._replace(joints=kept), {"joints"})
    lines_kept = [plan.joints.line_of(joint) for joint in kept if joint.kind != "pattern"]
    asked_each = [asked_of(bare, before.rules, before.limits, lines_kept, notes) for notes in (True, False)]
    areas = [Slab(asked_each[0]._replace(slab=area)) for area in areas_between(bare)]
    above = [n for n, one in enumerate(pours_of(bare, load)) if one.loads > load.most]
    ways = directions(plan.shape.slab)
    found = together([rows(bare, areas, n, ways, load, LOOKED_AT) for n in above], LOOKED_AT)
    stay = sum(joint.length for joint in bare.joints.all if joint.counts)
    if found and (least := stay + found[0].length) > dear:
        told = "joints at whole loads alone take {cut} of lines, and at most {dear} are worth it"
        return words(told, cut=meters(least), dear=meters(dear))
    if not found:
        where = "an area between construction joints of the file" if len(areas) > 1 else "the slab"
        return words(f"no straight line across {where} ends a pour at a whole load")
    tried = asked_each if asked_each[0][1:7] != asked_each[1][1:7] else asked_each[:1]
    for asked in tried:
        looked = [(layout(_round(asked, row), mend=False), row) for row in found]
        looked.sort(key=lambda one: (one[0].cost[0], one[0].cost[1] + one[1].length))
        if looked[0][0].faults and asked is tried[-1]:
            row = looked[0][1]
            looked = [(layout(_round(asked, row)), row)]
        nearest = looked[0][0]
        for best, row in (one for one in looked[:DRAWN] if not one[0].faults):
            if stay + best.length + row.length > dear:
                told = "a layout with joints at whole loads takes {cut} of lines, and at most {dear} are worth it"
                return words(told, cut=meters(stay + best.length + row.length), dear=meters(dear))
            drawn = _drawn_round(before, done, _round(asked, row), best, row, kept)
            pours = pours_of(drawn.bench.plan, load) if drawn and drawn.found else ()
            if drawn and pours and all(one.loads <= load.most for one in pours):
                return replace(drawn, pours=Parted(pours, ends_of(bare)))
    rule = next((one.rule for one in nearest.faults if one.rule), "inside-corner-joint")
    told = "no row of lines at whole loads was found round which a layout keeps every rule on joints"
    return words(f"{told}; {{rule}} is in the way of the nearest", rule=rule)


def _round(asked: Asked, row: Row) -> Asked:
    return asked._replace(kept=(*asked.kept, *(np.array(line) for line in (*row.lines, *row.on))))


def _drawn_round(
    before: Bench, done: Proposal, asked: Asked, best: Judged, row: Row, kept: Sequence[Joint]
) -> Proposal | None:
    """The design with construction joints along a row, and a layout round them."""
    plan = before.plan
    taken = {joint.name for joint in kept}
    names = (name for number in count_up(1) if (name := f"C{number}") not in taken)
    edits: list[Edit] = []
    for line in row.lines:
        deep = plan.areas.thickest(list(line)).thickness
        ends = ("from", place_of(line[0])), ("to", place_of(line[-1]))
        entry = ("name", next(names)), *ends, ("kind", "construction joint"), ("depth", deep)
        edits.append(Append("joints", (*entry, *_lock(before).items())))
    text = edited(before.text, edits, plan.design)
    if text is None:
        return None
    bench, _ = bench_of(before.path, text, before.rules, before.limits, plan.system)
    stay = [joint for joint in bench.plan.design.joints if stays(joint)]
    on = sum(math.dist(a, b) for line in row.on for a, b in pairwise(line))
    cuts = best._replace(lines=joined((*best.lines, *row.on)), length=best.length + on)
    drawn = _drawn(bench, asked, cuts, stay)
    return drawn and replace(drawn, kept=done.kept, before=done.before, cutting_before=done.cutting_before)


def _made_ends(done: Proposal, lines: Sequence[str], load: Load, why: Words) -> Proposal | None:
    """The layout with the lines at which pours end made construction joints."""
    before, plan = done.bench, done.bench.plan
    made = [joint for joint in plan.design.joints if joint.name in lines]
    edits: list[Edit] = []
    for joint in [joint for joint in made if not stays(joint)]:
        path, over = joint.place.path, plan.areas.thickest([(point.x, point.y) for point in joint.along])
        edits += [Write(f"{path}.kind", "construction joint"), Write(f"{path}.depth", over.thickness)]
        edits += [Drop(f"{path}.{key}") for key in OF_CUTS if f"{path}.{key}" in plan.design.places]
        edits += [Write(f"{path}.{key}", typed) for key, typed in _lock(before).items()]
    text = edited(before.text, edits, plan.design)
    if text is None:
        return None
    bench, report = bench_of(before.path, text, before.rules, before.limits, plan.system)
    _, bench, report = applied(bench, report, _of_joint)
    return replace(
        done,
        bench=bench,
        report=report,
        left=tuple(one for one in of_layout(report) if not _own(one, done.own_corners)),
        own=tuple(one for one in of_layout(report) if _own(one, done.own_corners)),
        cutting=sum(one.length for one in bench.plan.joints.all if one.counts and not stays(one.joint)),
        pours=Parted(pours_of(bench.plan, load), ends_of(plan), why),
    )


def _lock(bench: Bench) -> dict[str, str]:
    """What locks the first construction joint of the file that is locked, as it is typed there."""
    locked = (one for one in bench.plan.design.joints if one.kind == "construction joint" and one.lock)
    like = next(locked, None)
    typed = {key: text_at(bench.text, f"{like.place.path}.{key}") for key in OF_LOCK} if like else {}
    return {key: text for key, text in typed.items() if text}


def stays(joint: Joint) -> bool:
    """Whether a joint of the file stays where it is."""
    filled = joint.isolation is not None and joint.isolation.material != "none"
    return filled or joint.kind in ("construction joint", "pattern")


def of_layout(report: Report) -> list[Comment]:
    """Comments about where joints lie, without those that are accepted."""
    return [
        one for one in report.comments
        if one.variance is None and (one.rule in LAID_OUT or (one.rule, one.limit.name) in BESIDES)
    ]  # fmt: skip


def weighed(comments: Sequence[Comment]) -> tuple[int, int, int]:
    """How many of some comments are holds, cautions and notes."""
    counts = Counter(one.weight for one in comments)
    return counts["hold"], counts["caution"], counts["note"]


def _tighter(asked: Asked) -> Asked:
    """The same asked with a hair of room, for layouts that only rounding to the file puts beyond a limit."""
    return asked._replace(
        longest=asked.longest * (1 - ROUNDING),
        aspect=asked.aspect * (1 - ROUNDING),
        sharpest=asked.sharpest * (1 + ROUNDING),
        narrowest=asked.narrowest * (1 + ROUNDING),
    )


def _drawn(before: Bench, asked: Asked, best: Judged, kept: Sequence[Joint]) -> Proposal | None:
    """The design with a layout in it, and depths and ends of its joints settled as the rules ask."""
    plan = before.plan
    text = edited(before.text, _edits(plan, best.lines, kept), plan.design)
    if text is None:
        return None
    try:
        bench, report = bench_of(before.path, text, before.rules, before.limits, plan.system)
    except UnreadableError:
        return None
    _, bench, report = applied(bench, report, _of_joint)
    whole = [one for one in of_layout(report) if not _own(one, asked.own_corners)]
    stood = _report_of(before)
    had = tuple(one for one in of_layout(stood) if not _own(one, asked.own_corners))
    return Proposal(
        bench=bench,
        report=report,
        lines=best.lines,
        kept=tuple(joint.name for joint in kept),
        cutting=best.length,
        plain=plain_grid(asked),
        cutting_before=sum(one.length for one in plan.joints.all if one.counts and not stays(one.joint)),
        before=weighed(as_one(stood._replace(comments=had), plan.design).comments),
        left=tuple(whole),
        own=tuple(one for one in of_layout(report) if _own(one, asked.own_corners)),
        own_corners=asked.own_corners,
    )


def _report_of(bench: Bench) -> Report:
    return run.report(bench.plan, bench.rules, bench.limits, bench.concluded, figured=False)


def _own(comment: Comment, corners: Sequence[XY]) -> bool:
    """Whether a comment is about a corner that the slab itself has."""
    shape = comment.at.shape
    one = comment.rule == "panel-corners" and len(shape) == 1
    return one and any(math.dist(shape[0], at) <= AT_CORNER for at in corners)


def _of_joint(remedy: Remedy) -> bool:
    """Whether a remedy only says how joints are made: their depth, how the last foot is cut, when."""
    return bool(remedy.edits) and all(
        isinstance(edit, Write)
        and edit.path.startswith("joints[")
        and edit.path.endswith((".depth", ".last_foot", ".cut_after"))
        for edit in remedy.edits
    )


def _edits(plan: Plan, lines: Sequence[Line], kept: Sequence[Joint]) -> list[Edit]:
    """New joints at the end of the list, made as the first cut of the file; then the old cuts left out."""
    made = like_those_there(plan, [(line[0], line[-1]) for line in lines], words("lay the joints out anew"))
    taken = {joint.name for joint in kept}
    names = (name for number in count_up(1) if (name := f"J{number}") not in taken)
    edits: list[Edit] = []
    for edit, line in zip(made.edits, lines, strict=True):
        assert isinstance(edit, Append)
        keys = dict(edit.entry) | {"name": next(names)}
        if len(line) > 2:
            entry = [(key, value) for key, value in keys.items() if key not in ("from", "to")]
            edits.append(Append("joints", (entry[0], ("along", _chain(plan, line)), *entry[1:])))
        else:
            edits.append(Append("joints", tuple(keys.items())))
    gone = [joint.place.path for joint in plan.design.joints if joint not in kept]
    return [*edits, *(Drop(path) for path in reversed(gone))]


def _chain(plan: Plan, line: Sequence[XY]) -> str:
    """Points of a cut that bends, as the file writes them."""
    unit = plan.design.plan_unit
    points = ([f"{to_unit(meters(v), unit):.4f}".rstrip("0").rstrip(".") for v in point] for point in line)
    return f"[{', '.join(f'[{x}, {y}]' for x, y in points)}]"
