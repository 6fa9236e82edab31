"""How precise the review is: sound designs that should pass without a murmur, and single faults that should be caught.

``corpus/sound`` holds designs as competent contractors draw them; ``corpus/faults`` holds slips, each drawn into one of
them, with the rule that should speak. Both were written without a look at the rules. The expected answer is the trade's
(common practice): no hold on a sound design and hardly a caution; every fault caught by the rule named.

``python tests/corpus.py`` prints the figures; ``--write`` also writes ``docs/alarms.md``; names after it limit the run.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml
from checkout import ROOT
from slabwright.design.differing import differing
from slabwright.design.read import read_design, read_text
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.concluding import conclude, conclude_again
from slabwright.review.likewise import as_one
from slabwright.review.report import Comment, Conclusions, Report
from slabwright.rulebook import limits, loading
from slabwright.source.problem import UnreadableError
from slabwright.teaching.slips import Slip, sound
from slabwright.teaching.slips import slips as faults

HERE = ROOT / "tests" / "corpus"
PAGE = ROOT / "docs" / "alarms.md"
EXPLAINED = HERE / "explained.yaml"  # alarms on sound designs that stand, by design and rule, with the reason
MADE = "<!-- Written by `python tests/corpus.py --write`; change the corpus or the rules instead. -->"
ADVICE = "## Advice that was followed"  # from here on `python tests/advice.py --write` writes the page
WEIGHTS = ("hold", "caution", "note")


@dataclass(frozen=True, slots=True)
class Judged:
    """A design of the corpus, judged; ``refused`` tells why it could not be read."""

    report: Report | None
    refused: str = ""
    told: Report | None = None  # as it is told, like comments as one

    def comments(self, *weights: str) -> list[Comment]:
        """Comments of some weights."""
        return [one for one in self.report.comments if one.weight in weights] if self.report else []

    def alarms(self) -> Counter[tuple[str, str]]:
        """How many comments there are of each rule and weight."""
        return Counter((one.rule, one.weight) for one in self.comments(*WEIGHTS))


@cache
def in_force() -> tuple[Any, Any]:
    """The published rules and their limits."""
    rules = loading.load_rules()
    return rules, limits.resolve(rules)


@cache
def text_with(fault: Slip) -> str:
    """The design with the fault drawn into it."""
    text = fault.into(sound()[fault.design].read_text(encoding="utf-8"))
    if text is None:
        raise ValueError(f"{fault.name}: nothing to change at one of {', '.join(fault.paths)} in {fault.design}")
    return text


def judged(path: Path, text: str) -> Judged:
    """A design reviewed by every published rule."""
    rules, limits_in_force = in_force()
    try:
        design, questions = read_text(path, text)
        plan = Plan(design)
    except UnreadableError as error:
        return Judged(None, "; ".join(problem.wrong for problem in error.problems))
    report = run.review(plan, rules, limits_in_force, questions)
    return Judged(report, told=as_one(report, design))


class Worked(NamedTuple):
    """A sound design as the rules saw it, and its review."""

    plan: Plan
    concluded: Conclusions
    judged: Judged


@cache
def worked(name: str) -> Worked | None:
    """A sound design reviewed; None where it cannot be read."""
    rules, limits_in_force = in_force()
    try:
        design, questions = read_design(sound()[name])
        plan = Plan(design)
    except UnreadableError:
        return None
    concluded = Conclusions()
    conclude([(plan, concluded)], rules, limits_in_force)
    report = run.report(plan, rules, limits_in_force, concluded, questions, figured=False)
    return Worked(plan, concluded, Judged(report, told=as_one(report, design)))


def sound_judged(name: str) -> Judged:
    """A sound design reviewed."""
    one = worked(name)
    return one.judged if one else judged(sound()[name], sound()[name].read_text(encoding="utf-8"))


def with_slip(fault: Slip) -> Judged:
    """A design with a slip in it, reviewed as a remedy is: what did not look at its sections stays as it was."""
    before, path = worked(fault.design), sound()[fault.design]
    if before is None:
        return judged(path, text_with(fault))
    rules, limits_in_force = in_force()
    try:
        design, questions = read_text(path, text_with(fault))
        changed = differing(design, before.plan.design)
        plan = before.plan.edited(design, changed)
    except UnreadableError as error:
        return Judged(None, "; ".join(problem.wrong for problem in error.problems))
    now = conclude_again(plan, changed, before.concluded, rules, limits_in_force)
    report = run.report(plan, rules, limits_in_force, now, questions, figured=False)
    return Judged(report, told=as_one(report, design))


@dataclass(frozen=True, slots=True)
class Caught:
    """What became of a fault: by which rule it was caught, and what else came that was not there before."""

    fault: Slip
    judged: Judged
    by: tuple[str, ...]
    others: tuple[str, ...]  # rules that speak besides, neither expected nor allowed, holds and cautions only
    split: bool = False  # whether a rule that should speak tells it in several comments of one weight

    @property
    def right(self) -> bool:
        """Whether a rule that should speak does; where a question was expected, whether something is asked."""
        report = self.judged.report
        asked = bool(self.judged.refused or (report and report.questions))
        waits = report is not None and any(entry.rule in self.fault.rules for entry in report.not_shown)
        return bool(self.by) or (self.fault.weight == "question" and (asked or waits))


@cache
def tried(fault: Slip) -> Caught:
    """The fault, reviewed and held against its sound design."""
    now = with_slip(fault)
    fresh = now.alarms() - sound_judged(fault.design).alarms()
    spoke = [rule for rule, _ in fresh]
    if now.refused:
        spoke += ["refused"]
    by = tuple(dict.fromkeys(rule for rule in spoke if rule in fault.rules))
    loud = [rule for rule, weight in fresh if weight != "note"]
    others = tuple(dict.fromkeys(rule for rule in loud if rule not in fault.rules and rule not in fault.also))
    comments = now.told.comments if now.told else ()
    told = Counter((one.rule, one.weight) for one in comments if one.rule in by and (one.rule, one.weight) in fresh)
    return Caught(fault, now, by, others, any(number > 1 for number in told.values()))


def page(found: list[Caught]) -> str:
    """The page of alarms: the figures, every alarm on a sound design with its reason, every fault that is missed."""
    reasons = yaml.safe_load(EXPLAINED.read_text(encoding="utf-8")) or {}
    alarms = [(name, one) for name in sound() for one in sound_judged(name).comments("hold", "caution")]
    holds = sum(one.weight == "hold" for _, one in alarms)
    right = sum(one.right for one in found)
    crowded = sum(len(one.others) > 1 for one in found)
    split = sum(one.split for one in found)
    rows = [
        f"| {name} | {one.weight} | {one.rule} | {one.at.name} | {why} |"
        for name, one in alarms
        for why in [reasons.get(name, {}).get(one.rule, "**not explained**")]
    ]
    missed = [
        f"| {one.fault.design} | {one.fault.wrong} | {' or '.join(one.fault.rules)} |" for one in found if not one.right
    ]
    return "\n".join(
        [
            MADE,
            "",
            "# Alarms",
            "",
            "How precise the review is, measured on designs that were drawn as the trade draws them, without a look at",
            "a rule: sound jobs, which a good reviewer passes without a murmur, and single slips drawn into them, each",
            "with the rule that should speak (common practice). `python tests/corpus.py` prints these figures.",
            "",
            "| | |",
            "|---|---|",
            f"| sound designs | {len(sound())} |",
            f"| holds on them | {holds} |",
            f"| cautions on them | {len(alarms) - holds} |",
            f"| single faults | {len(found)} |",
            f"| caught by the rule that should speak | {right} ({right / len(found):.1%}) |",
            f"| with more than one comment beside it that the fault did not cause | {crowded} |",
            f"| told by the rule that should speak in more than one comment of a weight | {split} |",
            "",
            "## Alarms that stand",
            "",
            "| design | weight | rule | at | why it stands |",
            "|---|---|---|---|---|",
            *rows,
            "",
            "## Faults that are missed",
            "",
            "| design | what is wrong | rule that should speak |",
            "|---|---|---|",
            *missed,
            "",
            "".join(PAGE.read_text(encoding="utf-8").partition(ADVICE)[1:]),
        ]
    )


def main(arguments: list[str]) -> int:
    """Print the figures; 1 where a sound design is held."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="only designs and faults whose names hold one of these")
    parser.add_argument("--write", action="store_true", help="write docs/alarms.md")
    parser.add_argument("--missed", action="store_true", help="list only faults that are missed")
    asked = parser.parse_args(arguments)

    def wanted(name: str) -> bool:
        return not asked.names or any(part in name for part in asked.names)

    names = [name for name in sound() if wanted(name)]
    false: dict[str, Counter[str]] = {weight: Counter() for weight in WEIGHTS}
    lines: list[str] = []
    questions = 0
    for name in names:
        one = sound_judged(name)
        if one.report is None:
            lines.append(f"REFUSED {name}: {one.refused}")
            continue
        questions += len(one.report.questions)
        for comment in one.comments("hold", "caution"):
            false[comment.weight][comment.rule] += 1
            lines.append(f"{comment.weight.upper()} {name}: {comment.rule} at {comment.at.name}")
        lines += [f"CRASH {name}: {crash.rule} {crash.what}" for crash in one.report.crashes]
        lines += [f"question {name}: {question.asks}" for question in one.report.questions]
        lines += [f"note {name}: {comment.rule} at {comment.at.name}" for comment in one.comments("note")]
    found = [tried(fault) for fault in faults() if wanted(fault.name) or (asked.names and wanted(fault.design))]
    for one in found:
        if not one.right:
            said = one.judged.refused or ", ".join(sorted({rule for rule, _ in one.judged.alarms()})) or "nothing"
            mark = " (new)" if one.fault.new else ""
            lines.append(f"MISSED{mark} {one.fault.design} / {one.fault.name}: {' or '.join(one.fault.rules)}; {said}")
        elif one.others and not asked.missed:
            lines.append(f"beside {one.fault.design} / {one.fault.name}: {', '.join(one.others)}")
        if one.split and not asked.missed:
            lines.append(f"told apart {one.fault.design} / {one.fault.name}: {', '.join(one.by)}")
    if asked.write:
        PAGE.write_text(page(found), encoding="utf-8")
    sys.stdout.write("\n".join(lines) + "\n\n")
    right = sum(one.right for one in found)
    crowded = sum(len(one.others) > 1 for one in found)
    sys.stdout.write(
        f"{len(names)} sound designs: {false['hold'].total()} false holds, {false['caution'].total()} false cautions, "
        f"{questions} questions\n"
        f"{len(found)} faults: {right} caught by the right rule ({right / max(1, len(found)):.1%}), "
        f"{crowded} with more than one comment beside it that was not expected, "
        f"{sum(one.split for one in found)} told in more than one comment of a rule and weight\n"
    )
    for weight in ("hold", "caution"):
        for rule, many in false[weight].most_common():
            sys.stdout.write(f"  false {weight}s {many:3}  {rule}\n")
    return 1 if false["hold"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
