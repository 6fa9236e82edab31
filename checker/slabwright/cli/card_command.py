"""``card``: one page for the morning of the pour."""

from __future__ import annotations

import argparse

from slabwright.cli.sheet_given import begun_sheet, deliver, judge_by
from slabwright.sheets.card.card import card as pour_card


def card(arguments: argparse.Namespace) -> int:
    """The card of a design."""
    one = begun_sheet(arguments)
    holds = sum(1 for _, _, weight in judge_by(one)(one.plan) if weight == "hold")
    return deliver(pour_card(one.plan, holds), arguments)
