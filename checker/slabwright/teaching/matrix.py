"""The table of faults: every rule, the faults that break it, and what falls short in each job they are put into.

``python -m slabwright.teaching.matrix docs/`` writes it; a test works every row again and compares.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from itertools import groupby
from pathlib import Path

from slabwright.rulebook import limits, loading
from slabwright.rulebook.in_force import Limits, Weight
from slabwright.rulebook.rule import Rule
from slabwright.source import edit
from slabwright.source.files import read_text
from slabwright.teaching.exercise import review_text
from slabwright.teaching.faults import OWN, SOUND, Fault, faults, path_of, seed, without_fault

FILE = "fault-matrix.md"
_HEAD = """\
<!-- Written by `python -m slabwright.teaching.matrix docs/`; change the faults or the rules instead. -->

# Faults that prove the rules

Every rule is proved on whole jobs: a believable fault is put into one that draws no hold and no caution, and exactly
that rule must fall short.
Where the ground or the arithmetic makes others fall short with it, they are named with the reason.

A cell says what the shortfall weighs in that job. *own* is the small example of the rule: it stands in where no whole
job holds anything of the kind.

"""
_COLUMNS = ("trailer bay", "patio", "garage floor", "walk", "own")
_ROW_HEAD = f"| rule | fault | what is wrong | {' | '.join(_COLUMNS)} | falls short with it |\n|{'---|' * 9}\n"

Outcome = Mapping[str, Weight]  # what falls short: rule -> the heaviest weight


def outcome(
    fault: Fault, job: str, rules: Sequence[Rule], in_force: Mapping[str, Limits], before: Outcome
) -> Outcome | None:
    """What falls short in a job with a fault in it and not ``before`` it; None when the fault cannot be put in."""
    path = path_of(job, fault.rule)
    seeded = seed(fault, job, read_text(path))
    if seeded is None:
        return None
    found = outcome_of(seeded, path, rules, in_force)
    return {rule: weight for rule, weight in found.items() if before.get(rule) != weight}


def outcome_of(text: str, path: Path, rules: Sequence[Rule], in_force: Mapping[str, Limits]) -> Outcome:
    """What falls short in a text that stands for the design in ``path``, without what variances accept.

    A rule that fails in itself counts as a hold.
    """
    report = review_text(text, path.name, readings_beside(text, path.parent), rules, in_force)
    found: dict[str, Weight] = {crash.rule: "hold" for crash in report.crashes}
    for comment in report.comments:  # the heaviest come first
        if comment.variance is None:
            found.setdefault(comment.rule, comment.weight)
    return found


def readings_beside(text: str, folder: Path) -> dict[str, str]:
    """The files of rod readings a design names, and their text."""
    named = (edit.value_at(text, f"heights.{key}") for key in ("finish", "base", "existing"))
    return {name: read_text(folder / name) for name in named if name and (folder / name).is_file()}


def row(fault: Fault, outcomes: Mapping[str, Outcome]) -> str:
    """One row of the table: ``outcomes`` by job."""
    cells = [outcomes[job].get(fault.rule, "") if job in outcomes else "" for job in (*SOUND, OWN)]
    seen = {rule for found in outcomes.values() for rule in found}
    others = "; ".join(f"{rule}: {why}" for rule, why in fault.also.items() if rule in seen)
    words = (f"[{fault.rule}](rulebook.md#{fault.rule})", fault.name, fault.told, *cells, others)
    return f"| {' | '.join(' '.join(word.split()) for word in words)} |\n"


def page(rules: Sequence[Rule], rows: Mapping[tuple[str, str], str]) -> str:
    """The whole page; ``rows`` by rule and name of the fault."""
    parts = [_HEAD]
    for group, members in groupby(rules, key=lambda rule: rule.group):
        named = [rule.name for rule in members]
        found = [rows[fault.rule, fault.name] for name in named for fault in faults() if fault.rule == name]
        if found:
            parts += [f"## {group.capitalize()}\n\n", _ROW_HEAD, *found, "\n"]
    reasons = without_fault()
    if reasons:
        parts.append("## Rules that no change of a design breaks\n\n")
        parts += [f"- [{rule}](rulebook.md#{rule}): {why}\n" for rule, why in reasons.items()]
    return "".join(parts).rstrip("\n") + "\n"


def write(folder: Path) -> None:
    """Work every fault and write the page into a folder."""
    rules = loading.load_rules()
    in_force = limits.resolve(rules)
    rows = {}
    sound = {job: outcome_of(read_text(path_of(job)), path_of(job), rules, in_force) for job in SOUND}
    for fault in faults():
        worked = {job: outcome(fault, job, rules, in_force, sound.get(job, {})) for job in fault.changes}
        rows[fault.rule, fault.name] = row(fault, {job: found for job, found in worked.items() if found is not None})
    (folder / FILE).write_text(page(rules, rows), encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
