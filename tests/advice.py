"""Whether advice holds up: every "to pass" of the corpus that changes the file is made, and the whole reviewed again.

What is printed under "to pass" for each comment on a sound design, with and without a slip, is written into the text
of the design; the text is read and judged as if a person had typed it. Advice works clean when its comment is gone,
no hold came that was not there, no fixed height moved and no pond stands deeper than before.

``python tests/advice.py`` prints the figures and what does not work clean; ``--write`` also writes them into
``docs/alarms.md``; names after it limit the run to designs and faults whose names hold one of them.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

import corpus
from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.review import remedies, run, trials
from slabwright.review.concluding import conclude
from slabwright.review.report import Comment, Conclusions, Report
from slabwright.source.problem import UnreadableError
from slabwright.teaching.slips import Slip
from slabwright.text.words import plain

DEEPER = 0.0005  # m by which a pond may stand deeper: half a step of the heights on most plans
WRONG = (
    "unread",  # the file cannot be read once the advice is followed
    "comment stays",
    "new hold",
    "fixed height moved",
    "deeper pond",
    "rule failed",
)


class Job(NamedTuple):
    """A design of the corpus: a sound one, or one with a slip in it."""

    name: str
    path: Path
    slip: Slip | None = None

    @property
    def text(self) -> str:
        """The design as text."""
        return corpus.text_with(self.slip) if self.slip else self.path.read_text(encoding="utf-8")


class Followed(NamedTuple):
    """Advice that was followed: of which comment, and what of :data:`WRONG` came of it."""

    job: str
    comment: Comment
    wrong: tuple[str, ...]
    brings: tuple[str, ...] = ()

    @property
    def told(self) -> str:
        """The comment and its advice in a line."""
        what = ", ".join((*self.wrong, *self.brings))
        return (
            f"{self.job}: {self.comment.rule} at {self.comment.at.name}: {plain(self.comment.to_pass, 'us')} ({what})"
        )


class Tally(NamedTuple):
    """All advice of some jobs: what was followed, and how many comments leave it to a person."""

    followed: tuple[Followed, ...]
    decided: int

    @property
    def clean(self) -> int:
        """How many pieces of advice work clean."""
        return sum(not one.wrong for one in self.followed)


def jobs() -> list[Job]:
    """Every design of the corpus, and every design with each of its slips."""
    sound = [Job(name, path) for name, path in corpus.sound().items()]
    return sound + [Job(one.name, corpus.sound()[one.design], one) for one in corpus.faults()]


def some(share: float, seed: int) -> list[Job]:
    """A part of all jobs, the same for the same seed."""
    every = jobs()
    return random.Random(seed).sample(every, round(share * len(every)))


def reviewed(job: Job, text: str) -> tuple[Report, trials.Bench]:
    """A text reviewed by every published rule, and the bench its advice is tried on."""
    rules, limits = corpus.in_force()
    design, questions = read_text(job.path, text)
    plan, concluded = Plan(design), Conclusions()
    conclude([(plan, concluded)], rules, limits)
    report = run.report(plan, rules, limits, concluded, questions, figured=False)
    return report, trials.Bench(job.path, text, plan, rules, limits, concluded)


def followed(job: Job) -> Iterator[Followed | Comment]:
    """Each comment of a job with its advice followed; the comment alone where a person decides."""
    try:
        report, bench = reviewed(job, job.text)
    except UnreadableError:
        return
    report = remedies.advised(report, bench)
    for comment in report.comments:
        if not comment.remedies or not comment.remedies[0].edits:
            yield comment
            continue
        if "numbers_done" in comment.to_pass.values:  # it holds with others done, and `advice_at_once.py` does them all
            continue
        text = trials.edited(bench.text, comment.remedies[0].edits, bench.plan.design)
        if text is None:
            yield Followed(job.name, comment, ("unread",))
            continue
        try:
            yield _held(job, comment, report, bench, text)
        except UnreadableError as error:
            yield Followed(job.name, comment, ("unread",), tuple(problem.wrong for problem in error.problems))


def _held(job: Job, comment: Comment, report: Report, bench: trials.Bench, text: str) -> Followed:
    """What following the advice of a comment came to, judged as a file of its own."""
    after, anew = reviewed(job, text)
    holds = _places(after, "hold") - _places(report, "hold")
    many = Counter(one.rule for one in report.comments if one.weight == "hold")
    came = [f"{rule} at {at}" for rule, at in holds if _of_rule(after, rule) > many[rule]]
    wrong = {
        "comment stays": _like(after, comment) >= _like(report, comment),
        "new hold": bool(came),
        "fixed height moved": _fixed(bench.plan) != _fixed(anew.plan),
        "deeper pond": _deepest(anew.plan) > _deepest(bench.plan) + DEEPER,
        "rule failed": len(after.crashes) > len(report.crashes),
    }
    return Followed(job.name, comment, tuple(name for name in WRONG if wrong.get(name)), tuple(came))


def _places(report: Report, weight: str) -> Counter[tuple[str, str]]:
    return Counter((one.rule, one.at.name) for one in report.comments if one.weight == weight)


def _of_rule(report: Report, rule: str) -> int:
    return sum(one.rule == rule and one.weight == "hold" for one in report.comments)


def _like(report: Report, comment: Comment) -> int:
    """How many comments of its rule stand at its place, no lighter; panels are named by their order."""
    heaviest = corpus.WEIGHTS.index(comment.weight)
    return sum(
        one.rule == comment.rule
        and (one.at.name == comment.at.name or comment.at.name.startswith("panel "))
        and corpus.WEIGHTS.index(one.weight) <= heaviest
        for one in report.comments
    )


def _fixed(plan: Plan) -> list[tuple[str, float]]:
    return [(one.name, *(at.si for at in one.height)) for one in plan.design.fixed]


def _deepest(plan: Plan) -> float:
    """Depth of the deepest pond (m); none where water cannot be followed."""
    try:
        return max((one.depth for one in plan.water.ponds), default=0.0)
    except Exception:
        return 0.0


def tally(some_jobs: Sequence[Job]) -> Tally:
    """All advice of some jobs, followed."""
    every = [one for job in some_jobs for one in followed(job)]
    done = tuple(one for one in every if isinstance(one, Followed))
    return Tally(done, len(every) - len(done))


def section(found: Tally) -> str:
    """What the page of alarms tells of it."""
    bad = [one for one in found.followed if one.wrong]
    rows = [
        f"| {one.job} | {one.comment.rule} at {one.comment.at.name} | {', '.join((*one.wrong, *one.brings))} |"
        for one in bad
    ]
    return "\n".join(
        [
            corpus.ADVICE,
            "",
            'Every "to pass" of the corpus that changes the file, made in the text of the design, and the whole',
            "reviewed again: it works clean when its comment is gone, no hold came that was not there, no fixed height",
            "moved and no pond stands deeper. `python tests/advice.py` prints these figures, and takes some minutes.",
            "",
            "| | |",
            "|---|---|",
            f"| pieces of advice followed | {len(found.followed)} |",
            f"| work clean | {found.clean} ({found.clean / max(1, len(found.followed)):.1%}) |",
            *(f"| {name} | {sum(name in one.wrong for one in bad)} |" for name in WRONG),
            f"| comments that tell what to decide instead | {found.decided} |",
            "",
            *(["| design or fault | comment | what came |", "|---|---|---|", *rows, ""] if rows else []),
        ]
    )


def main(arguments: list[str]) -> int:
    """Print the figures and what does not work clean; 1 where anything does not."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="only designs and faults whose names hold one of these")
    parser.add_argument("--write", action="store_true", help="write the figures into docs/alarms.md")
    asked = parser.parse_args(arguments)
    found = tally([one for one in jobs() if not asked.names or any(part in one.name for part in asked.names)])
    bad = [one for one in found.followed if one.wrong]
    sys.stdout.write("".join(f"{one.told}\n" for one in bad))
    for name, many in Counter(name for one in bad for name in one.wrong).most_common():
        sys.stdout.write(f"{many:4} {name}\n")
    for name, many in Counter(one.comment.rule for one in bad).most_common():
        sys.stdout.write(f"{many:4} of {name}\n")
    sys.stdout.write(
        f"{len(found.followed)} pieces of advice followed, {found.clean} clean "
        f"({found.clean / max(1, len(found.followed)):.1%}); {found.decided} comments are left to a person\n"
    )
    if asked.write:
        before = corpus.PAGE.read_text(encoding="utf-8").partition(corpus.ADVICE)[0]
        corpus.PAGE.write_text(before.rstrip() + "\n\n" + section(found), encoding="utf-8")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
