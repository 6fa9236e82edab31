"""What a command line asks for, read alike by every command: settings, a group of rules, limits in force, a plan."""

import argparse
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from slabwright.cli.guarding import guard
from slabwright.cli.options import comma
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import firm, reviewing
from slabwright.review.reviewing import Settings
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.limits import shown_in
from slabwright.rulebook.rule import GROUPS, Rule
from slabwright.source.alike import most_like
from slabwright.source.problem import Problem, refuse


class Published(NamedTuple):
    """The rules, the limits in force, and the names of the amendments laid over the published ones."""

    rules: tuple[Rule, ...]
    limits: Mapping[str, Limits]
    layers: tuple[str, ...]


def settings_of(arguments: argparse.Namespace) -> Settings:
    """What is asked of every design; a firm file may add to it."""
    return Settings(
        tuple(map(Path, arguments.amendments)),
        own_rules(arguments),
        arguments.system,
        group_of(getattr(arguments, "only", None)),
        getattr(arguments, "strict", False),
        arguments.both,
        comma(arguments),
    )


def own_rules(arguments: argparse.Namespace) -> Path | None:
    """The folder of own rules named on the command line."""
    return Path(arguments.rules) if arguments.rules else None


def group_of(name: str | None) -> str:
    """A group of rules named on the command line; empty when none is."""
    if name and name not in GROUPS:
        near = most_like(name, GROUPS)
        refuse("", f"there is no group of rules {name!r}", near or f"one of: {', '.join(GROUPS)}")
    return name or ""


def rules_of(arguments: argparse.Namespace) -> Published:
    """The rules and limits to read or to learn, which no design and so no firm file is asked for."""
    reviewing.forget()
    laid, own = tuple(map(Path, arguments.amendments)), own_rules(arguments)
    rules, limits = reviewing.in_force(laid, own)
    return Published(rules, limits, tuple(one.name for one in reviewing.read_in(laid, own)))


class Begun(NamedTuple):
    """A design on its way to a sheet or a drawing, and the amendments and own rules that it is judged by."""

    plan: Plan
    questions: Sequence[Problem]
    amendments: tuple[Path, ...]
    own: Path | None

    def in_force(self) -> tuple[tuple[Rule, ...], Mapping[str, Limits]]:
        """The rules and the limits that hold for it; loaded when they are first asked for."""
        return reviewing.in_force(self.amendments, self.own)


def begun(arguments: argparse.Namespace, for_people: bool = True) -> Begun:
    """The worked plan of ``arguments.file``, shown in the system asked for; only people are given a decimal comma.

    Raises :class:`UnreadableError` when the design, its firm file or amendments cannot be read.
    """
    reviewing.forget()
    path, asked = Path(arguments.file), settings_of(arguments)
    guard(arguments, (path,))
    design, questions = read_design(path)
    laid, own = reviewing.layers(asked, firm.for_design(path))
    system = shown_in(asked.system, design.system, reviewing.read_in(laid, own), asked.both, for_people and asked.comma)
    return Begun(Plan(design._replace(system=system)), questions, laid, own)
