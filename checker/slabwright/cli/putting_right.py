"""``review --put-right``: a copy of a design with the remedies that hold, and what was changed in it."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path

from slabwright.proposals.put_right import NAMED
from slabwright.proposals.put_right import put_right as work
from slabwright.review import reviewing
from slabwright.review.reviewing import Judged, Settings
from slabwright.rulebook.limits import shown_in
from slabwright.source import files
from slabwright.source.problem import refuse
from slabwright.text.json_values import json_text
from slabwright.text.outputs import keep_new, put_data
from slabwright.text.screen import put, screen
from slabwright.writers.put_right_sheet import as_data, sheet

SUFFIX = ".slab.yaml"
FINE, HOLD = 0, 1


def put_right(arguments: argparse.Namespace, settings: Settings) -> int:
    """Write the copy; the status is that of the copy's review.

    Raises :class:`UnreadableError` when the design cannot be read, or the copy may not stand where it is asked for.
    """
    if len(arguments.files) != 1 or Path(arguments.files[0]).is_dir():
        refuse("", "a copy is put right of one design at a time", "review FILE --put-right OUT.slab.yaml")
    path, out = Path(arguments.files[0]), Path(arguments.put_right)
    text = files.read_text(path)
    if arguments.put_right != files.STANDARD:
        _may_stand(out, path, text)
    house = reviewing.house_of(path)
    laid, own = reviewing.layers(settings, house)
    rules, limits = reviewing.in_force(laid, own)
    first = reviewing.judge(path, settings)
    system = shown_in(settings.system, first.report.system, reviewing.read_in(laid, own), settings.both, settings.comma)
    done = work(path, text, rules, limits, system, [name for name in NAMED if getattr(arguments, name)])
    keep_new({out: done.text}, "--put-right")
    done = replace(done, report=done.report._replace(file=str(out)))
    if arguments.json:
        put_data(json_text(as_data(done)))
    else:
        put(sheet(first.report, done, *screen(arguments.width)), sys.stdout)
    judged = Judged(done.report, done.plan, settings.strict or house.strict)
    return HOLD if judged.holds else FINE


def _may_stand(out: Path, path: Path, text: str) -> None:
    """Refuse a copy that may not stand where it is asked for."""
    if not out.name.endswith(SUFFIX):
        refuse(str(out), "a design has a name that ends in .slab.yaml", f"--put-right {out.stem}{SUFFIX}")
    if out.exists() or out.is_symlink():
        refuse(str(out), "there is a file of this name already", "--put-right with a new name; nothing is overwritten")
    if ".csv" in text and out.resolve().parent != path.resolve().parent:
        refuse(str(out), "the design names readings that stand beside it", f"--put-right {path.parent / out.name}")
