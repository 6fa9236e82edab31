"""``trust``: the rules that a firm file names run from now on, or no longer."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from slabwright.review import trust as trusted
from slabwright.text.screen import put

FINE = 0


def trust(arguments: argparse.Namespace) -> int:
    """Let the rules that a firm file names run from now on, or no longer."""
    told = trusted.withdraw if arguments.withdraw else trusted.trust
    put(told(Path(arguments.folder)), sys.stdout)
    return FINE
