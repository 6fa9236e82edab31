"""``teach``: the groups of rules, one rule as a lesson, or an exercise and its answer."""

from __future__ import annotations

import argparse

from slabwright.cli.asked import group_of, rules_of
from slabwright.teaching import command


def teach(arguments: argparse.Namespace) -> int:
    """Print the page asked for, by the rules in force."""
    rules, limits, _ = rules_of(arguments)
    return command.teach(arguments, rules, limits, group_of(arguments.group))
