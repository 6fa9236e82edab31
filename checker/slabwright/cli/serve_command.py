"""``serve``: review in an editor."""

from __future__ import annotations

import argparse

from slabwright.source.problem import refuse

FINE = 0


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
