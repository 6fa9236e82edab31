"""``review --as-built``: what rain does on a slab that is built within its tolerance."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from slabwright.cli.guarding import guard
from slabwright.proposals.as_built import AsBuilt, as_built
from slabwright.review import reviewing
from slabwright.review.reviewing import Judged, Settings
from slabwright.source.problem import refuse
from slabwright.text.json_values import json_text
from slabwright.text.outputs import keep, put_data
from slabwright.text.screen import put, screen
from slabwright.units.grammar import read
from slabwright.units.quantity import Kind, QuantityError
from slabwright.writers import as_built_sheet

FINE, HOLD = 0, 1
LEAST, MOST = 0.0005, 0.0508  # m, 2 in: gaps that a crew could leave


def tell(arguments: argparse.Namespace, settings: Settings) -> int:
    """Puddles on many plausible surfaces of one design; the status is that of its review.

    Raises :class:`UnreadableError` when the design cannot be read, draws no heights, or the gap is none.
    """
    path, gap = Path(arguments.files[0]), _gap(arguments.gap)
    guard(arguments, (path,))
    judged = reviewing.judge(path, settings, advise=True)
    found = as_built(judged.plan, gap, seed=1 if arguments.seed is None else arguments.seed)
    if found is None:
        refuse(str(path), "it gives no heights of the finish over the whole slab", "heights.finish, such as A: 99.90")
    if arguments.page:
        _keep_page(arguments, judged, found)
    if arguments.json:
        put_data(json_text({"as_built": as_built_sheet.as_data(judged.plan, found, judged.report.system)}))
    else:
        put(as_built_sheet.sheet(judged.plan, found, judged.report.system, *screen(arguments.width)), sys.stdout)
    return HOLD if judged.holds else FINE


def _keep_page(arguments: argparse.Namespace, judged: Judged, found: AsBuilt) -> None:
    from slabwright.drawing import content  # with the page 60 ms
    from slabwright.writers import as_built_map
    from slabwright.writers.page import Built, page

    out, system = Path(arguments.page), judged.report.system
    if out.suffix.lower() not in {".html", ".htm"}:
        refuse(str(out), "a page is an HTML file", f"--page {out.with_suffix('.html').name}")
    rows = tuple(as_built_sheet.rows(judged.plan, found, system))
    built = Built(as_built_map.svg(judged.plan, found), rows, as_built_sheet.remark(found, system))
    keep(out, page(content.drawn(judged.report, judged.plan), built=built), "--page")


def _gap(typed: str | None) -> float | None:
    if typed is None:
        return None
    try:
        gap = read(typed, Kind.DEPTH).si
    except QuantityError as error:
        refuse("", f"--gap: {error.wrong}", error.write)
    if not LEAST <= gap <= MOST:
        refuse("", f'"{typed}" is no gap that a crew leaves under a straightedge', '--gap "1/4 in"')
    return gap
