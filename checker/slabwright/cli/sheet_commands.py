"""The commands that give sheets to work from: a design in, a sheet out as text, JSON, CSV or a page that prints."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from slabwright.cli.arguments import comma
from slabwright.cli.guarding import guard
from slabwright.source.files import STANDARD
from slabwright.source.problem import refuse
from slabwright.text.outputs import keep, put_data, wrote

if TYPE_CHECKING:
    from slabwright.design.model import Design
    from slabwright.plan.plan import Plan
    from slabwright.review.firm import Firm
    from slabwright.rulebook.kit import Limits, Rule
    from slabwright.sheets.order.options import Judge, Settle, Standing
    from slabwright.sheets.sheet import Sheet

FINE = 0


def order(arguments: argparse.Namespace) -> int:
    """The order sheet of a design."""
    from slabwright.design.read import read_prices
    from slabwright.sheets.order.order import order_sheet

    plan = plan_of(arguments)
    prices = read_prices(Path(arguments.prices)) if arguments.prices else None
    return deliver(order_sheet(plan, prices, judge_by(arguments), settle_by(arguments)), arguments)


def plan_of(arguments: argparse.Namespace) -> Plan:
    """The worked plan of ``arguments.file``, shown in the system asked for."""
    from slabwright.design.read import read_design
    from slabwright.plan.plan import Plan
    from slabwright.review import firm, reviewing
    from slabwright.rulebook.limits import shown_in

    path = Path(arguments.file)
    if arguments.page and arguments.page != STANDARD and Path(arguments.page).suffix.lower() not in {".html", ".htm"}:
        refuse(arguments.page, "a page is an HTML file", "--page with a name that ends in .html")
    guard(arguments, (path,))
    design, _ = read_design(path)
    house = firm.for_design(path)
    own = own_of(arguments, house)
    laid = (*house.amendments, *map(Path, arguments.amendments))
    read = reviewing.read_in(laid, own) if laid else ()
    return Plan(
        design._replace(system=shown_in(arguments.system, design.system, read, arguments.both, comma(arguments)))
    )


def own_of(arguments: argparse.Namespace, house: Firm) -> Path | None:
    """The folder of own rules that may run: the one named on the command line, else a trusted one of the firm."""
    from slabwright.review import trust

    return trust.own_rules(Path(arguments.rules) if arguments.rules else None, house)


def in_force(arguments: argparse.Namespace) -> tuple[tuple[Rule, ...], Mapping[str, Limits]]:
    """The rules and limits that ``arguments.file`` is judged by."""
    from slabwright.review import firm
    from slabwright.rulebook import limits, loading

    house = firm.for_design(Path(arguments.file))
    rules = loading.load_rules(own_of(arguments, house))
    paths = [*house.amendments, *map(Path, arguments.amendments)]
    return rules, limits.resolve(rules, [limits.read_amendments(path, rules) for path in paths])


def judge_by(arguments: argparse.Namespace) -> Judge:
    """What stands in the review of a plan by the rules in force; they are loaded when the first plan is judged."""
    from functools import cache

    loaded = cache(lambda: in_force(arguments))

    def judge(plan: Plan) -> Standing:
        from slabwright.review import run

        report = run.review(plan, *loaded())
        return frozenset(
            (comment.rule, comment.at.name, comment.weight)
            for comment in report.comments
            if comment.variance is None and comment.weight != "note"
        )

    return judge


def settle_by(arguments: argparse.Namespace) -> Settle:
    """The design with the heights proposed for it; None where none are found, needed, or the solver is missing."""

    def settle(plan: Plan) -> Design | None:
        from slabwright.proposals import heights
        from slabwright.proposals.height_search import job_of
        from slabwright.source import files
        from slabwright.source.problem import UnreadableError

        path = Path(arguments.file)
        try:
            done = heights.propose(job_of(path, files.read_text(path), *in_force(arguments), plan.system))
        except UnreadableError:
            return None
        return done.found[0].plan.design if done.found and not done.kept else None

    return settle


def deliver(
    sheet: Sheet, arguments: argparse.Namespace, rows: str = "", more: Callable[[], Mapping[str, Any]] = dict
) -> int:
    """Give a sheet the way it was asked for: a page in a file, JSON, CSV (``rows``, else its main table), or text.

    ``more`` gives what the template of the page needs besides the sheet.
    """
    if arguments.page:
        from slabwright.sheets import paper

        keep(Path(arguments.page), paper.page(sheet, more()), "--page")
        if not (arguments.json or arguments.csv):
            wrote(Path(arguments.page))
            return FINE
    if arguments.json or arguments.csv:
        from slabwright.sheets import as_data

        put_data(as_data.as_json(sheet) if arguments.json else rows or as_data.as_csv(sheet))
    else:
        from slabwright.sheets import as_text

        as_text.write(sheet, sys.stdout, arguments.width)
    return FINE
