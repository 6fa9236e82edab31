"""Each command by its name: a module whose imports it needs. Only the one that is asked for is loaded.

A review loads for 0.3 s (shapely and numpy most of it); ``teach`` adds 0.13 s, ``order`` 0.11 s, ``stake`` 0.08 s,
``serve`` half a second.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable

Run = Callable[[argparse.Namespace], int]


def named(name: str) -> Run:
    """What a command does: it reads what is asked, gives its answer, and returns the exit status."""
    run: Run
    match name:
        case "review":
            from slabwright.cli.review_command import review as run
        case "rulebook":
            from slabwright.cli.rulebook_command import rulebook as run
        case "teach":
            from slabwright.cli.teach_command import teach as run
        case "draw":
            from slabwright.cli.draw_command import draw as run
        case "order":
            from slabwright.cli.order_command import order as run
        case "stake":
            from slabwright.cli.stake_command import stake as run
        case "card":
            from slabwright.cli.card_command import card as run
        case "begin":
            from slabwright.cli.beginning import begin as run
        case "propose":
            from slabwright.cli.proposing import propose as run
        case "serve":
            from slabwright.cli.serve_command import serve as run
        case "trust":
            from slabwright.cli.trust_command import trust as run
        case _:
            from slabwright.cli.completing import completion as run
    return run
