"""A design with a remedy applied to its text in memory, read again and judged again.

A remedy holds when its comment is gone, nothing came that weighs as much and nothing moved and got worse, no pond
stands deeper, and every rule that could judge still can; of its own rule, and of one that was met, there may be nothing
left to judge.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import Enum
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from slabwright.design.differing import differing
from slabwright.design.model import Design
from slabwright.design.read import design_of
from slabwright.plan.plan import Plan
from slabwright.review.concluding import conclude_again
from slabwright.review.report import Comment, Conclusions
from slabwright.rulebook.conclusion import Finding, bare
from slabwright.rulebook.in_force import WEIGHTS, Limits
from slabwright.rulebook.remedy import Append, Edit, Remedy, Write
from slabwright.rulebook.rule import Rule
from slabwright.source import edit as yaml_edit
from slabwright.source.problem import Problems, UnreadableError
from slabwright.text.words import Value, Words, words
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind, cube_strength

FINEST = {"ft": 2, "in": 4, "m": 3, "cm": 1, "mm": 0}  # decimals that a height is at least written with
MUCH = 0.5  # by which one that stays where it was may be, since other things are weighed against it
DEEPER = 0.0005  # m by which a pond may stand deeper: half a step of heights in mm
SLACK = 0.05  # by which a shortfall that moved may be bigger, as a share of what it was: heights are rounded


class Outcome(Enum):
    """What trying a remedy came to."""

    HOLDS = "holds"
    TRADES = "trades"  # its comment is gone, and others came that weigh as much, though no hold
    FAILS = "fails"
    UNTRIED = "untried"  # its edits do not fit the file as it is written


class Trial(NamedTuple):
    """A remedy tried: the outcome, and what else then falls short, heaviest first."""

    outcome: Outcome
    text: str = ""  # the design with the remedy applied
    brings: tuple[tuple[str, Finding], ...] = ()  # (rule, finding)
    gone: bool = True  # its comment

    @property
    def burden(self) -> tuple[int, ...]:
        """How much falls short then that did not: how many findings of each weight, the heaviest first."""
        return tuple(sum(one.limit.weight == weight for _, one in self.brings) for weight in WEIGHTS)

    def told(self, says: Words, comment: Comment, of_its_own: bool = False) -> Words:
        """The sentence of the remedy, and what else must be seen to when it is done, be it ``of_its_own`` or not."""
        own = set() if of_its_own else {(comment.rule, name) for name in _names(comment)}
        brings = [(rule, finding.at.name) for rule, finding in self.brings if (rule, finding.at.name) not in own]
        seen = list(dict.fromkeys(f"{rule} at {name}" for rule, name in brings))
        if not seen:
            return says
        rest = "; ".join(seen[:3]) + (f" and {len(seen) - 3} more" if len(seen) > 3 else "")
        return words(f"{says.template}; then look at {{rest_of_it}}", **says.values, rest_of_it=rest)


class Bench(NamedTuple):
    """What remedies are tried on: a design as text and worked, and what it is judged by."""

    path: Path
    text: str
    plan: Plan
    rules: Sequence[Rule]
    limits: Mapping[str, Limits]
    concluded: Conclusions


class Applied(NamedTuple):
    """A design with a remedy applied: its text, what the rules conclude, its plan; None where it cannot be read.

    The text is None where the edits do not fit the file as it is written.
    """

    text: str | None
    now: Conclusions | None = None
    plan: Plan | None = None


def tried(remedy: Remedy, comment: Comment, bench: Bench) -> Trial:
    """Apply a remedy to the design in memory and judge again."""
    return trial_of(apply(remedy, bench), comment, bench)


def apply(remedy: Remedy, bench: Bench, near: Bench | None = None) -> Applied:
    """The design with a remedy applied, judged again: what looks at a section that reads otherwise than ``near``.

    That is the design as it stands, or with other remedies in it of which this one has most.
    """
    near = near or bench
    text = edited(bench.text, remedy.edits, bench.plan.design)
    if text is None:
        return Applied(None)
    try:
        design = design_of(bench.path, text, Problems())._replace(system=bench.plan.system)
        changed = differing(design, near.plan.design)
        plan = near.plan.edited(design, changed)
    except UnreadableError:
        return Applied(text)
    with bare():
        now = conclude_again(plan, changed, near.concluded, bench.rules, bench.limits)
    return Applied(text, now, plan)


def with_it(bench: Bench, after: Applied) -> Bench:
    """What the design is with a remedy in it, where it could be judged."""
    return bench._replace(plan=after.plan, concluded=after.now) if after.plan and after.now else bench


def trial_of(applied: Applied, comment: Comment, bench: Bench, before: Bench | None = None) -> Trial:
    """What a remedy that was applied comes to for a comment.

    What it brings is what was not there ``before``: on the design with other remedies in it, or else as it stands.
    """
    text, now, plan = applied
    before = before or bench
    if text is None:
        return Trial(Outcome.UNTRIED)
    if now is None or plan is None:
        return Trial(Outcome.FAILS, text, gone=False)
    brings = tuple(came(before.concluded, now))
    heaviest = min((WEIGHTS.index(one.limit.weight) for _, one in brings), default=len(WEIGHTS))
    own = WEIGHTS.index(comment.weight)
    spoke = {rule.name for rule, _ in before.concluded.found} - {comment.rule}
    settled = {one.rule for one in now.does_not_apply if one.rule not in spoke}
    lost = len(now.crashes) > len(before.concluded.crashes) or _judged(before.concluded) - _judged(now) - settled
    done = gone(now, comment, bench)
    if not done or lost or _deeper(before.plan, plan):
        return Trial(Outcome.FAILS, text, brings, done)
    fails = heaviest < own or heaviest == WEIGHTS.index("hold")
    return Trial(Outcome.FAILS if fails else Outcome.TRADES if heaviest == own else Outcome.HOLDS, text, brings)


def _deeper(then: Plan, now: Plan) -> bool:
    """Whether water stands deeper somewhere; not where its ways cannot be followed, of which rules that fail tell."""
    if now.water is then.water:
        return False
    try:
        before, after = (max((pond.depth for pond in plan.water.ponds), default=0.0) for plan in (then, now))
    except Exception:
        return False
    return after > before + DEEPER


def settles(now: Conclusions, comment: Comment, bench: Bench) -> bool:
    """Whether nothing like a comment is left, however light, and its rule has not only found it in another place."""
    then, left = (
        [(one.at.name, _no_lighter(one, comment)) for rule, one in seen.found if rule.name == comment.rule]
        for seen in (bench.concluded, now)
    )
    fewer = sum(heavy for _, heavy in left) <= sum(heavy for _, heavy in then) - len(comment.places)
    names, spoken_of = _names(comment), {name for name, _ in left}
    return fewer and names.isdisjoint(spoken_of) and not (left and panels_named(comment))


def _no_lighter(finding: Finding, comment: Comment) -> bool:
    return WEIGHTS.index(finding.limit.weight) <= WEIGHTS.index(comment.weight)


def gone(now: Conclusions, comment: Comment, bench: Bench) -> bool:
    """Whether fewer findings like a comment are left, by the places that it speaks for."""
    return _count(now, comment) <= _count(bench.concluded, comment) - len(comment.places)


def _count(concluded: Conclusions, comment: Comment) -> int:
    """How many findings there are like a comment: of its rule, about the same things, no lighter."""
    names, panels = _names(comment), panels_named(comment)
    return sum(
        rule.name == comment.rule and (panels or one.at.name in names) and _no_lighter(one, comment)
        for rule, one in concluded.found
    )


def _names(comment: Comment) -> set[str]:
    return {one.at.name for one in comment.places}


def panels_named(comment: Comment) -> bool:
    """Whether it speaks of panels, which are named by their order."""
    return any(name.startswith("panel ") for name in _names(comment))


def came(before: Conclusions, after: Conclusions) -> Iterator[tuple[str, Finding]]:
    """Findings that were not there, and those that are much worse where they were.

    One that only moved to another place and got no worse there is not new. An order that is short is worked anew for
    whatever else is done, and panels are named by their order: neither is worse for its name.
    """
    known: defaultdict[tuple[str, str, str], list[Finding]] = defaultdict(list)
    for rule, one in before.found:
        known[rule.name, one.at.name, one.limit.weight].append(one)
    unknown: list[tuple[str, Finding]] = []
    for rule, one in after.found:
        there = known[rule.name, one.at.name, one.limit.weight]
        if not there:
            unknown.append((rule.name, one))
        elif _worse(one, there.pop(0), MUCH) and rule.group != "order" and not one.at.name.startswith("panel "):
            yield rule.name, one
    spare: defaultdict[tuple[str, str], list[Finding]] = defaultdict(list)
    for (name, _, weight), left in known.items():
        spare[name, weight] += left
    for name, one in sorted(unknown, key=lambda pair: WEIGHTS.index(pair[1].limit.weight)):
        gone_there = spare[name, one.limit.weight]
        moved = next((then for then in gone_there if not _worse(one, then)), None)
        if moved is None:
            yield name, one
        else:
            gone_there.remove(moved)


def _worse(now: Finding, then: Finding, slack: float = SLACK) -> bool:
    """Whether a shortfall of the same limit is bigger than one was before, by more than a share of that."""
    alike = now.limit.name == then.limit.name
    return alike and _short_by(now) > _short_by(then) * (1 + slack)


def _short_by(finding: Finding) -> float:
    return abs(finding.shown.si - (finding.asked or finding.limit.value).si)


def _judged(concluded: Conclusions) -> set[str]:
    return {rule.name for rule, _ in concluded.found} | {one.rule for one in concluded.met}


def edited(text: str, edits: Sequence[Edit], design: Design) -> str | None:
    """The text of a design with edits made in it, remarks kept; None where one of them does not fit the file."""
    after: str | None = text
    for (sort, path), alike in groupby(edits, lambda one: (type(one), "" if isinstance(one, Write) else one.path)):
        if after is None:
            return None
        if sort is Write:  # all at once, as entries of a list: each reading of a long file takes a while
            values = {one.path: _entry(one.value, design) for one in alike if isinstance(one, Write)}
            after = yaml_edit.put_each(after, values)
        elif sort is Append:
            entries = (one.entry for one in alike if isinstance(one, Append))
            after = yaml_edit.add(after, path, *(_braced(entry, design) for entry in entries))
        else:
            for _ in alike:
                after = yaml_edit.drop(after, path) if after is not None else None
    return after


def _braced(entry: Iterable[tuple[str, Value | tuple[Value, ...]]], design: Design) -> str:
    return f"{{{', '.join(f'{key}: {_entry(value, design)}' for key, value in entry)}}}"


def _entry(value: Value | tuple[Value, ...], design: Design) -> str:
    """A value of an entry; of a tuple, a place or a list of points, numbers are bare and in the unit of the plan."""
    if isinstance(value, tuple):
        return f"[{', '.join(_on_plan(one, design) for one in value)}]"
    return as_written(value, design)


def _on_plan(value: Value, design: Design) -> str:
    if not isinstance(value, Amount):
        return str(value)
    return f"{quantity.to_unit(value, design.plan_unit):.4f}".rstrip("0").rstrip(".")


def as_written(value: Value, design: Design) -> str:
    """A value as it is typed in a file of this design: heights bare, in the unit of heights, all else with its unit."""
    if not isinstance(value, Amount):
        text = str(value)
        return f'"{text}"' if "," in text and text[0] not in "{[" else text  # a comma ends it inside braces
    if cube_strength(value):
        return value.typed
    if value.kind is Kind.HEIGHT:
        unit = design.height_unit
        decimals = max(FINEST[unit], _decimals(design))
        written = f"{round(quantity.to_unit(value, unit), decimals) + 0.0:.{decimals}f}"
        return written.rstrip("0").rstrip(".") if unit == "in" else written
    if value.kind is Kind.SLOPE:
        return f"{100 * value.si:.4g} %"
    return quantity.written_out(value, design.system)


def _decimals(design: Design) -> int:
    """How many decimals the file writes its finish heights with."""
    typed = (spot.height.typed for spot in design.heights.finish)
    return max((len(text.partition(".")[2]) for text in typed if text.replace(".", "", 1).isdigit()), default=0)
