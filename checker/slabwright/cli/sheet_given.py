"""How a sheet to work from is made: its plan, what stands in the review of one, and the form it is given in."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from slabwright.cli.asked import Begun, begun
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.sheets import as_data, as_text
from slabwright.sheets.sheet import Sheet
from slabwright.source.files import STANDARD
from slabwright.source.problem import refuse
from slabwright.text.outputs import keep, put_data, wrote

if TYPE_CHECKING:
    from slabwright.sheets.order.options import Judge, Standing

FINE = 0


def begun_sheet(arguments: argparse.Namespace) -> Begun:
    """The design of a sheet, begun; refuses a page that could not be one before that."""
    if arguments.page and arguments.page != STANDARD and Path(arguments.page).suffix.lower() not in {".html", ".htm"}:
        refuse(arguments.page, "a page is an HTML file", "--page with a name that ends in .html")
    return begun(arguments)


def judge_by(one: Begun) -> Judge:
    """What stands in the review of a plan by the rules in force; they are loaded when the first plan is judged."""

    def judge(plan: Plan) -> Standing:
        report = run.review(plan, *one.in_force())
        return frozenset(
            (comment.rule, comment.at.name, comment.weight)
            for comment in report.comments
            if comment.variance is None and comment.weight != "note"
        )

    return judge


def deliver(
    sheet: Sheet, arguments: argparse.Namespace, rows: str = "", more: Callable[[], Mapping[str, Any]] = dict
) -> int:
    """Give a sheet the way it was asked for: a page in a file, JSON, CSV (``rows``, else its main table), or text.

    ``more`` gives what the template of the page needs besides the sheet.
    """
    if arguments.page:
        from slabwright.sheets import paper  # 40 ms of templates

        keep(Path(arguments.page), paper.page(sheet, more()), "--page")
        if not (arguments.json or arguments.csv):
            wrote(Path(arguments.page))
            return FINE
    if arguments.json or arguments.csv:
        put_data(as_data.as_json(sheet) if arguments.json else rows or as_data.as_csv(sheet))
    else:
        as_text.write(sheet, sys.stdout, arguments.width)
    return FINE
