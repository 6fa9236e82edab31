"""Each command by its name, and the small ones themselves. Only what the one that is asked for imports is loaded.

A review loads for 0.3 s (shapely and numpy most of it); ``teach`` adds 0.13 s, ``order`` 0.11 s, ``stake`` 0.08 s,
``serve`` half a second.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path

from slabwright.source.problem import refuse

Run = Callable[[argparse.Namespace], int]

FINE = 0


def named(name: str) -> Run:
    """What a command does: it reads what is asked, gives its answer, and returns the exit status."""
    run: Run
    match name:
        case "review":
            from slabwright.cli.review_command import review as run
        case "rulebook":
            run = rulebook
        case "teach":
            run = teach
        case "draw":
            from slabwright.cli.draw_command import draw as run
        case "order":
            from slabwright.cli.order_command import order as run
        case "stake":
            from slabwright.cli.stake_command import stake as run
        case "card":
            run = card
        case "begin":
            from slabwright.cli.beginning import begin as run
        case "propose":
            from slabwright.cli.proposing import propose as run
        case "serve":
            run = serve
        case "trust":
            run = trust
        case _:
            from slabwright.cli.completing import completion as run
    return run


def rulebook(arguments: argparse.Namespace) -> int:
    """List the rules in force with their limits."""
    from slabwright.cli.asked import group_of, rules_of
    from slabwright.text.json_values import json_text
    from slabwright.text.outputs import put_data
    from slabwright.text.screen import put, screen
    from slabwright.writers import rule_pages

    group = group_of(arguments.group)
    rules, limits, layers = rules_of(arguments)
    rules = tuple(rule for rule in rules if group in {"", rule.group})
    if arguments.json:
        put_data(json_text(rule_pages.as_data(rules, limits, layers)))
        return FINE
    put(rule_pages.rulebook(rules, limits, layers, *screen(arguments.width)), sys.stdout)
    return FINE


def teach(arguments: argparse.Namespace) -> int:
    """The groups of rules, one rule as a lesson, or an exercise and its answer, by the rules in force."""
    from slabwright.cli.asked import group_of, rules_of
    from slabwright.teaching import command

    rules, limits, _ = rules_of(arguments)
    return command.teach(arguments, rules, limits, group_of(arguments.group))


def card(arguments: argparse.Namespace) -> int:
    """One page for the morning of the pour of a design."""
    from slabwright.cli.sheet_given import begun_sheet, deliver, judge_by
    from slabwright.sheets.card.card import card as pour_card

    one = begun_sheet(arguments)
    holds = sum(1 for _, _, weight in judge_by(one)(one.plan) if weight == "hold")
    return deliver(pour_card(one.plan, holds), arguments)


def serve(arguments: argparse.Namespace) -> int:
    """Review in an editor, until it goes."""
    try:
        from slabwright.exchange.server import start  # pygls is installed where it is wanted
    except ModuleNotFoundError as error:
        if error.name not in ("pygls", "lsprotocol"):
            raise
        refuse("", "serving an editor needs pygls, which is not installed", "pip install 'slabwright[editor]'")
    start()
    return FINE


def trust(arguments: argparse.Namespace) -> int:
    """Let the rules that a firm file names run from now on, or no longer."""
    from slabwright.review import trust as trusted
    from slabwright.text.screen import put

    told = trusted.withdraw if arguments.withdraw else trusted.trust
    put(told(Path(arguments.folder)), sys.stdout)
    return FINE
