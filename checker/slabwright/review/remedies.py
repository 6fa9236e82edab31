"""Remedies tried: applied to the text of the design in memory, read again and judged again before they are told.

A remedy holds when its comment is gone, nothing came that weighs as much, no pond stands deeper, and every rule that
could judge still can; of its own rule there may be nothing left to judge. What comes besides, and weighs less, is told
with it. Where none holds and the rule leaves nothing to a person, one that only trades its comment for others that are
no holds is told with them; else the comments that have to be settled together are named.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import Enum
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from slabwright.design.model import Design
from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.review.report import Comment, Report
from slabwright.review.run import Conclusions, conclude
from slabwright.rulebook.kit import WEIGHTS, Finding, Limits, Rule, bare
from slabwright.rulebook.remedy import Append, Edit, Remedy, Write
from slabwright.source import edit as yaml_edit
from slabwright.source.problem import UnreadableError
from slabwright.text.words import Value, Words, words
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind, cube_strength

FINEST = {"ft": 2, "in": 3, "m": 3, "cm": 1, "mm": 0}  # decimals that a height is at least written with
DEEPER = 0.0005  # m by which a pond may stand deeper: half a step of heights in mm
MOST_OTHERS = 8  # remedies of other comments that are tried on one that none of its own settles
WORK = 6000  # comments tried times panels, facets and comments: a few seconds, also on a floor of thousands of panels


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


class Bench(NamedTuple):
    """What remedies are tried on: a design as text and worked, and what it is judged by."""

    path: Path
    text: str
    plan: Plan
    rules: Sequence[Rule]
    limits: Mapping[str, Limits]
    concluded: Conclusions


def advised(report: Report, bench: Bench) -> Report:
    """The report with the advice of standing comments tried, and the first alternative told that holds.

    The heaviest comments are tried; those beyond :data:`WORK` keep their first remedy, not tried.
    """
    size = len(bench.plan.panels.all) + len(bench.plan.finish.facets) + 4 * len(report.comments)
    left = max(1, WORK // (1 + size))
    comments = []
    for comment in report.comments:
        tries = comment.variance is None and any(one.edits for one in comment.remedies) and left > 0
        left -= tries
        comments.append(_advised(comment, bench) if tries else comment)
    held = [remedy for comment in comments if comment.tried for remedy in comment.remedies]
    stuck = {comment.number for comment in report.comments if comment.remedies} & {
        comment.number for comment in comments if not comment.remedies and not comment.decide
    }
    return report._replace(
        comments=tuple(_settled_by(held, one, bench) if one.number in stuck else one for one in comments)
    )


def _settled_by(held: Sequence[Remedy], comment: Comment, bench: Bench) -> Comment:
    """A comment that no remedy of its own settles, with the advice of another one that settles it as well."""
    for remedy in held[:MOST_OTHERS]:
        trial = tried(remedy, comment, bench)
        if trial.outcome is Outcome.HOLDS:
            return comment._replace(to_pass=_with_rest(remedy.says, trial), tried=True, remedies=(remedy,))
    return comment


def _advised(comment: Comment, bench: Bench) -> Comment:
    trials = []
    for remedy in comment.remedies:
        trial = tried(remedy, comment, bench)
        if trial.outcome is Outcome.HOLDS:
            return comment._replace(to_pass=_with_rest(remedy.says, trial), tried=True, remedies=(remedy,))
        if trial.outcome is Outcome.UNTRIED:
            return comment._replace(to_pass=remedy.says)
        trials.append((remedy, trial))
    if comment.decide:
        return comment._replace(to_pass=comment.decide, remedies=())
    for remedy, trial in trials:
        if trial.outcome is Outcome.TRADES:
            return comment._replace(to_pass=_with_rest(remedy.says, trial), remedies=(remedy,))
    return comment._replace(to_pass=_together(comment, trials, bench), remedies=())


def _together(comment: Comment, trials: Sequence[tuple[Remedy, Trial]], bench: Bench) -> Words:
    """What a person has to decide where no remedy of a comment works alone: it, and what stands in the way, at once."""
    came = [(rule, finding.at.name) for _, trial in trials for rule, finding in trial.brings]
    here = [(rule.name, one.at.name) for rule, one in bench.concluded.found if one.at.name == comment.at.name]
    others = list(dict.fromkeys(pair for pair in came + here if pair != (comment.rule, comment.at.name)))
    if not others:
        return words("no single change settles it: draw it anew there, and review again")
    told = "; ".join(f"{rule} at {at}" for rule, at in others[:3])
    return words("no change settles it alone: draw it anew there together with {others}", others=told)


def _with_rest(says: Words, trial: Trial) -> Words:
    """The sentence of a remedy, and what else must be seen to when it is done."""
    seen = list(dict.fromkeys(f"{rule} at {finding.at.name}" for rule, finding in trial.brings))
    if not seen:
        return says
    rest = "; ".join(seen[:3]) + (f" and {len(seen) - 3} more" if len(seen) > 3 else "")
    return words(f"{says.template}; then look at {{rest_of_it}}", **says.values, rest_of_it=rest)


def tried(remedy: Remedy, comment: Comment, bench: Bench) -> Trial:
    """Apply a remedy to the design in memory and judge again."""
    text = edited(bench.text, remedy.edits, bench.plan.design)
    if text is None:
        return Trial(Outcome.UNTRIED)
    try:
        design, _ = read_text(bench.path, text)
        plan = bench.plan.edited(design._replace(system=bench.plan.system), remedy.sections)
    except UnreadableError:
        return Trial(Outcome.FAILS, text)
    now = Conclusions()
    with bare():
        conclude([(plan, now)], bench.rules, bench.limits)
    brings = tuple(_new(bench.concluded.found, now.found))
    gone = _count(now, comment) < _count(bench.concluded, comment)
    as_heavy = any(WEIGHTS.index(one.limit.weight) <= WEIGHTS.index(comment.weight) for _, one in brings)
    settled = {one.rule for one in now.does_not_apply if one.rule == comment.rule}
    lost = len(now.crashes) > len(bench.concluded.crashes) or _judged(bench.concluded) - _judged(now) - settled
    if not gone or lost or _deeper(bench.plan, plan):
        return Trial(Outcome.FAILS, text, brings)
    held = any(one.limit.weight == "hold" for _, one in brings)
    return Trial(Outcome.FAILS if held else Outcome.TRADES if as_heavy else Outcome.HOLDS, text, brings)


def _deeper(then: Plan, now: Plan) -> bool:
    """Whether water stands deeper somewhere; not where its ways cannot be followed, of which rules that fail tell."""
    if now.water is then.water:
        return False
    try:
        before, after = (max((pond.depth for pond in plan.water.ponds), default=0.0) for plan in (then, now))
    except Exception:
        return False
    return after > before + DEEPER


def _count(concluded: Conclusions, comment: Comment) -> int:
    """How many findings there are like a comment: of its rule, about the same thing, no lighter."""
    heaviest = WEIGHTS.index(comment.weight)
    return sum(
        rule.name == comment.rule
        and (one.at.name == comment.at.name or comment.at.name.startswith("panel "))  # panels are named by their order
        and WEIGHTS.index(one.limit.weight) <= heaviest
        for rule, one in concluded.found
    )


def _new(then: Sequence[tuple[Rule, Finding]], now: Sequence[tuple[Rule, Finding]]) -> Iterator[tuple[str, Finding]]:
    """Findings that were not there; one that only moved to another place, of the same rule and weight, is not new."""
    spare = Counter((rule.name, one.limit.weight) for rule, one in then)
    known = Counter((rule.name, one.at.name, one.limit.weight) for rule, one in then)
    unknown: list[tuple[str, Finding]] = []
    for rule, one in now:
        if known[rule.name, one.at.name, one.limit.weight] > 0:
            known[rule.name, one.at.name, one.limit.weight] -= 1
            spare[rule.name, one.limit.weight] -= 1
        else:
            unknown.append((rule.name, one))
    for name, one in sorted(unknown, key=lambda pair: WEIGHTS.index(pair[1].limit.weight)):
        if spare[name, one.limit.weight] > 0:
            spare[name, one.limit.weight] -= 1
        else:
            yield name, one


def _judged(concluded: Conclusions) -> set[str]:
    return {rule.name for rule, _ in concluded.found} | {one.rule for one in concluded.met}


def edited(text: str, edits: Sequence[Edit], design: Design) -> str | None:
    """The text of a design with edits made in it, remarks kept; None where one of them does not fit the file."""
    after: str | None = text
    for (sort, path), alike in groupby(edits, lambda one: (type(one), one.path)):
        if after is None:
            return None
        if sort is Append:  # all at once: each reading of a long file takes a while
            entries = (one.entry for one in alike if isinstance(one, Append))
            after = yaml_edit.add(after, path, *(_braced(entry, design) for entry in entries))
            continue
        for one in alike:
            if after is not None and isinstance(one, Write):
                after = yaml_edit.put(after, path, _entry(one.value, design))
            elif after is not None:
                after = yaml_edit.drop(after, path)
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
        return f"{quantity.to_unit(value, unit):.{max(FINEST[unit], _decimals(design))}f}"
    if value.kind is Kind.SLOPE:
        return f"{100 * value.si:.4g} %"
    return quantity.written_out(value, design.system)


def _decimals(design: Design) -> int:
    """How many decimals the file writes its finish heights with."""
    typed = (spot.height.typed for spot in design.heights.finish)
    return max((len(text.partition(".")[2]) for text in typed if text.replace(".", "", 1).isdigit()), default=0)
