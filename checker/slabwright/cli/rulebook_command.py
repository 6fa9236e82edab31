"""``rulebook``: the rules in force with their limits."""

from __future__ import annotations

import argparse
import sys

from slabwright.cli.asked import group_of, rules_of
from slabwright.text.json_values import json_text
from slabwright.text.outputs import put_data
from slabwright.text.screen import put, screen
from slabwright.writers import rule_pages

FINE = 0


def rulebook(arguments: argparse.Namespace) -> int:
    """List the rules in force with their limits."""
    group = group_of(arguments.group)
    rules, limits, layers = rules_of(arguments)
    rules = tuple(rule for rule in rules if group in {"", rule.group})
    if arguments.json:
        put_data(json_text(rule_pages.as_data(rules, limits, layers)))
        return FINE
    put(rule_pages.rulebook(rules, limits, layers, *screen(arguments.width)), sys.stdout)
    return FINE
