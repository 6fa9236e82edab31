"""The example designs, and their reviews by every published rule."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path

from slabwright.design.read import read_design, read_text
from slabwright.drawing import content
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.concluding import conclude
from slabwright.review.report import Conclusions, Report
from slabwright.review.trials import Bench
from slabwright.rulebook import limits, loading
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source import locate
from slabwright.source.problem import Problem
from turning import Drawing, drawn

FOLDER = locate.folder("example_designs")
DESIGNS = tuple(sorted(FOLDER.glob("rules/*/*.slab.yaml")))
JOBS = tuple(sorted(FOLDER.glob("jobs/*.slab.yaml")))
RULES = loading.load_rules()
IN_FORCE = limits.resolve(RULES)
TODAY = date(2026, 3, 1)  # no variance of an example has expired by then


def name_of(path: Path) -> str:
    """A design as test names call it: ``panel-aspect/meets``."""
    return f"{path.parent.name}/{path.name.removesuffix('.slab.yaml')}"


def reviewed(drawing: Drawing, rules: tuple[Rule, ...] = RULES, in_force: Mapping[str, Limits] = IN_FORCE) -> Report:
    """The review of a drawing; raises UnreadableError as the program does."""
    with tempfile.TemporaryDirectory() as folder:
        design, questions = read_design(drawing.write(Path(folder)))
    return run.review(Plan(design), rules, in_force, questions, TODAY)


@cache
def read_and_worked(path: Path) -> tuple[Plan, tuple[Problem, ...]]:
    """The plan of an example, and what the file leaves to be asked."""
    design, questions = read_design(path)
    return Plan(design), tuple(questions)


@cache
def review_of(path: Path) -> Report:
    """The review of an example as it stands, worked once."""
    plan, questions = read_and_worked(path)
    return run.review(plan, RULES, IN_FORCE, questions, TODAY)


def drawn_review(plan: Plan) -> Report:
    """The review of a plan, with what a drawing of it needs."""
    return content.drawn(run.review(plan, RULES, IN_FORCE), plan)


@cache
def drawing_in(path: Path) -> Drawing:
    """An example, parsed once."""
    return drawn(path)


def example(rule: str, case: str) -> Path:
    """Where an example of a rule is."""
    return FOLDER / "rules" / rule / f"{case}.slab.yaml"


def bench_of(path: Path, text: str) -> tuple[Bench, Report]:
    """A design on the bench, and its report with no remedy tried yet."""
    design, questions = read_text(path, text)
    plan, concluded = Plan(design), Conclusions()
    conclude([(plan, concluded)], RULES, IN_FORCE)
    report = run.report(plan, RULES, IN_FORCE, concluded, questions, TODAY)
    return Bench(path, text, plan, RULES, IN_FORCE, concluded), report
