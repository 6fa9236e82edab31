"""A copy of a design with its remedies applied, one after the other, each judged before it stays.

Remarks and the layout of the file are kept. Joint depths, cover, filler, mix and order are put right without asking;
heights, those of the ground beside it too, the lines of joints and thickness only where the person asks for them by
name. Where remedies leave a hold or a caution about joints, or bring a note, a whole new layout is taken if it leaves
fewer; where they leave something on heights and water, heights proposed for the whole slab, before those remedies or
after them, are taken if they leave less, or take fewer changes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, NamedTuple

from slabwright.plan.plan import Plan
from slabwright.proposals import joints
from slabwright.proposals.applying import Change, applied, bench_of
from slabwright.proposals.heights import program
from slabwright.proposals.heights.job import left
from slabwright.proposals.heights.propose import fewer
from slabwright.review import remedies
from slabwright.review.likewise import as_one
from slabwright.review.report import Comment, Report
from slabwright.review.trials import Bench
from slabwright.rulebook.in_force import WEIGHTS, Limits
from slabwright.rulebook.remedy import Edit, Remedy, Write
from slabwright.rulebook.rule import Rule
from slabwright.source.problem import UnreadableError
from slabwright.text.words import Words, words
from slabwright.units.quantity import System, count, height, length

Named = Literal["heights", "joints", "thickness"]  # only put right where they are asked for by name
NAMED: tuple[Named, ...] = ("heights", "joints", "thickness")
OF_HEIGHTS = ("heights.", "edges[")  # of the ground beside the slab, too, which remedies bring to the heights
NO_SOLVER = (
    "not looked for over the whole slab: the solver highspy is not installed here; pip install 'slabwright[propose]'"
)
DECLARED = (".takes_water", ".guard", ".tied")  # what the person has declared is never changed for them


@dataclass(frozen=True, slots=True)
class PutRight:
    """The text of the copy, what was changed in it, and its review.

    ``untried`` tells why heights for the whole slab were not looked for where they were asked for.
    """

    text: str
    changes: tuple[Change, ...]
    report: Report
    plan: Plan
    untried: Words | None = None


def kind_of(edit: Edit) -> Named | None:
    """Whether an edit moves heights or the ground, draws or moves joints, or changes thickness; None for all else.

    >>> from slabwright.units.quantity import depth
    >>> kind_of(Write("joints[0].depth", depth(0.03))), kind_of(Write("thickness.design", depth(0.15)))
    (None, 'thickness')
    """
    section = edit.path.partition(".")[0].partition("[")[0]
    if section == "edges" and ".ground" in edit.path:
        return "heights"
    if section == "joints" and isinstance(edit, Write) and not edit.path.endswith((".from", ".to", ".along", ".kind")):
        return None
    return next((name for name in NAMED if name == section), None)


def allowed(remedy: Remedy, asked: Collection[str]) -> bool:
    """Whether all edits of a remedy may be made with what was asked for by name; a declaration never is."""
    if any(edit.path.endswith(DECLARED) for edit in remedy.edits):
        return False
    return bool(remedy.edits) and all((kind := kind_of(edit)) is None or kind in asked for edit in remedy.edits)


def put_right(
    path: Path,
    text: str,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    system: System,
    asked: Collection[str] = (),
) -> PutRight:
    """Apply what holds, heaviest comments first, until nothing more does.

    ``asked`` names what may be changed beyond what is always safe: ``heights``, ``joints``, ``thickness``.

    Raises :class:`UnreadableError` when the design cannot be read.
    """
    bench, first = bench_of(path, text, rules, limits, system)
    done = _laid_out(_remedied(_Copy((), bench, first), asked), first, asked)
    if "heights" in asked and left(done.report):
        ways = [done, _raised(done)]
        if any(path.startswith(OF_HEIGHTS) for change in done.changes for path in change.paths):
            early = _laid_out(_remedied(_raised(_Copy((), bench, first)), asked), first, asked)
            ways += [early] if _heavy(early.report) <= _heavy(first) else []
        done = min(ways, key=lambda one: (*_standing(one.report), one.report.counted("note"), len(one.changes)))
    report = remedies.advised(as_one(done.report, done.bench.plan.design), done.bench)
    looked = "heights" not in asked or not left(done.report) or _solver_there()
    untried = None if looked else words(NO_SOLVER)
    return PutRight(done.bench.text, done.changes, report, done.bench.plan, untried)


def _solver_there() -> bool:
    try:
        program.solver()
    except UnreadableError:
        return False
    return True


class _Copy(NamedTuple):
    """A copy as far as it is put right."""

    changes: tuple[Change, ...]
    bench: Bench
    report: Report


def _remedied(copy: _Copy, asked: Collection[str]) -> _Copy:
    """The copy with the remedies applied that hold."""
    changes, bench, report = applied(copy.bench, copy.report, lambda remedy: allowed(remedy, asked))
    return _Copy((*copy.changes, *changes), bench, report)


def _laid_out(copy: _Copy, first: Report, asked: Collection[str]) -> _Copy:
    """The copy with its joints laid out anew, where remedies alone leave more about joints."""
    remain = _of_joints(copy.report)
    if "joints" not in asked or not (any(remain[:2]) or remain[2] > _of_joints(first)[2]):
        return copy
    drawn = joints.laid_out(copy.bench)
    if drawn is None or _of_joints(drawn.report) >= remain or _standing(drawn.report) > _standing(copy.report):
        return copy
    if not _heavy(drawn.report) <= _heavy(first):
        return copy
    n, cutting = count(len(drawn.lines)), length(drawn.cutting)
    says = words("lay the joints out anew: {n} of them, {cut} of cutting", n=n, cut=cutting)
    about = [one for each in (first, copy.report) for one in each.comments if _counts(one)]
    told = min(about, key=lambda one: (WEIGHTS.index(one.weight), not _drawn(one)))
    kept = [one for one in copy.changes if not all(path.startswith("joints") for path in one.paths)]
    change = Change(told.rule, told.weight, told.says, says, ("joints",), _notes(first, drawn.report))
    return _remedied(_Copy((*kept, change), drawn.bench, drawn.report), asked)


def _raised(copy: _Copy) -> _Copy:
    """The copy with heights proposed for the whole slab, where they leave less."""
    bench, found = copy.bench, fewer(copy.bench, copy.report)
    if found is None or found.brings:
        return copy
    told = copy.report.comments[left(copy.report)[0] - 1]
    rows = [f"{{point{n}}} at {{height{n}}}" for n in range(len(found.points))]
    points = {f"point{n}": one.height.name for n, one in enumerate(found.points)}
    new = {f"height{n}": height(one.height.new) for n, one in enumerate(found.points)}
    says = words(f"set the heights proposed: {', '.join(rows)}", **points, **new)
    paths = tuple(f"heights.finish.{one.height.name}" for one in found.points)
    change = Change(told.rule, told.weight, told.says, says, paths, _notes(copy.report, found.report))
    return _Copy(
        (*copy.changes, change), *bench_of(bench.path, found.text, bench.rules, bench.limits, bench.plan.system)
    )


def _of_joints(report: Report) -> tuple[int, int, int]:
    """Holds, cautions and notes about joints, those with a variance left out."""
    counts = Counter(one.weight for one in report.comments if _counts(one))
    return counts["hold"], counts["caution"], counts["note"]


def _notes(before: Report, after: Report) -> tuple[Words, ...]:
    """Notes of rules that had fewer comments before, by rule with their places."""
    had = Counter(one.rule for one in before.comments)
    places: dict[str, list[str]] = {}
    for one in after.comments:
        if one.weight == "note":
            places.setdefault(one.rule, []).append(one.at.name)
    return tuple(
        words("{rule} at {place}", rule=rule, place=", ".join(at)) for rule, at in places.items() if len(at) > had[rule]
    )


def _heavy(report: Report) -> set[str]:
    """Rules with a hold or a caution."""
    return {one.rule for one in report.comments if one.weight != "note"}


def _standing(report: Report) -> tuple[int, int]:
    return report.holds, report.counted("caution")


def _drawn(comment: Comment) -> bool:
    """Whether joints are to be drawn or moved for it, or a person is to decide."""
    edits = [edit for remedy in comment.remedies for edit in remedy.edits]
    return not edits or any(kind_of(edit) == "joints" for edit in edits)


def _counts(comment: Comment) -> bool:
    return comment.group == "joints" and comment.variance is None
