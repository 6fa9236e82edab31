"""``order``: what one design takes: concrete, steel, digging and the rest."""

from __future__ import annotations

import argparse
from pathlib import Path

from slabwright.cli.asked import Begun
from slabwright.cli.sheet_given import begun_sheet, deliver, judge_by
from slabwright.design.model import Design
from slabwright.design.read import read_prices
from slabwright.plan.plan import Plan
from slabwright.proposals.heights.job import job_of
from slabwright.proposals.heights.propose import propose
from slabwright.sheets.order.options import Settle
from slabwright.sheets.order.order import order_sheet
from slabwright.source import files
from slabwright.source.problem import UnreadableError


def order(arguments: argparse.Namespace) -> int:
    """The order sheet of a design."""
    one = begun_sheet(arguments)
    prices = read_prices(Path(arguments.prices)) if arguments.prices else None
    return deliver(order_sheet(one.plan, prices, judge_by(one), _settle_by(one, Path(arguments.file))), arguments)


def _settle_by(one: Begun, path: Path) -> Settle:
    """The design with the heights proposed for it; None where none are found, needed, or the solver is missing."""

    def settle(plan: Plan) -> Design | None:
        try:
            done = propose(job_of(path, files.read_text(path), *one.in_force(), plan.system))
        except UnreadableError:
            return None
        return done.found[0].plan.design if done.found and not done.kept else None

    return settle
