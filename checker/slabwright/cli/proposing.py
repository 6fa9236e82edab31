"""``propose``: what would settle a design, found by search and judged by the review."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path

from slabwright.cli.asked import settings_of
from slabwright.cli.guarding import guard
from slabwright.proposals import joints as joint_search
from slabwright.proposals.heights import propose as height_search
from slabwright.proposals.heights.job import job_of
from slabwright.review import reviewing
from slabwright.review.likewise import as_one
from slabwright.review.reviewing import Settings
from slabwright.rulebook.limits import shown_in
from slabwright.source import files
from slabwright.source.problem import refuse
from slabwright.text.json_values import json_text
from slabwright.text.outputs import keep_new, put_data, wrote
from slabwright.text.screen import put, screen
from slabwright.writers import heights_sheet, joints_sheet

SUFFIX = ".slab.yaml"
FOUND, NOTHING = 0, 1


def propose(arguments: argparse.Namespace) -> int:
    """Search for what would settle one design."""
    return heights(arguments) if arguments.what == "heights" else joints(arguments)


def heights(arguments: argparse.Namespace) -> int:
    """Propose heights; 0 when some are found, 1 when none are.

    Raises :class:`UnreadableError` when the design cannot be read, or the solver is not installed.
    """
    path, out, text, settings = _begun(arguments)
    laid, own = reviewing.layers(settings, reviewing.house_of(path))
    rules, limits = reviewing.in_force(laid, own)
    job = job_of(path, text, rules, limits, None)
    system = shown_in(
        settings.system, job.plan.design.system, reviewing.read_in(laid, own), settings.both, settings.comma
    )
    done = height_search.propose(job_of(path, text, rules, limits, system))
    design = job.plan.design
    found = tuple(one._replace(report=as_one(one.report, design)) for one in done.found)
    done = done._replace(before=as_one(done.before, design), found=found)
    if out is not None and done.found:
        keep_new({out: done.found[0].text}, "--out")
    if arguments.json:
        put_data(json_text(heights_sheet.as_data(done)))
    else:
        put(heights_sheet.sheet(done, *screen(arguments.width)), sys.stdout)
        if out is not None and done.found:
            wrote(out)
    return FOUND if done.found else NOTHING


def joints(arguments: argparse.Namespace) -> int:
    """Propose a layout of joints; 0 when one is found that meets every rule on where joints lie, 1 when none is.

    Raises :class:`UnreadableError` when the design cannot be read or its joints cannot be edited, or the copy may not
    stand where it is asked for.
    """
    path, out, text, settings = _begun(arguments)
    laid, own = reviewing.layers(settings, reviewing.house_of(path))
    rules, limits = reviewing.in_force(laid, own)
    first = reviewing.judge(path, settings).report
    system = shown_in(settings.system, first.system, reviewing.read_in(laid, own), settings.both, settings.comma)
    done = joint_search.propose(path, text, rules, limits, system, arguments.loads)
    if done is None:
        refuse(
            str(path),
            "its joints cannot be edited as they are typed: one of them is repeated elsewhere in the file by an alias",
            "each joint out in full, without & and *",
        )
    done = replace(done, report=as_one(done.report, done.bench.plan.design))
    if out is not None and done.found:
        keep_new({out: done.bench.text}, "--out")
    if arguments.json:
        put_data(json_text(joints_sheet.as_data(done, first)))
    else:
        put(joints_sheet.sheet(done, first, *screen(arguments.width)), sys.stdout)
        if out is not None and done.found:
            wrote(out, f"; next: slabwright draw {out} --out plan.svg")
    return FOUND if done.found else NOTHING


def _begun(arguments: argparse.Namespace) -> tuple[Path, Path | None, str, Settings]:
    """The design, where the copy goes, the text and the settings; refuses a copy that may not stand there."""
    path = Path(arguments.file)
    out = Path(arguments.out) if arguments.out else None
    if arguments.out == files.STANDARD:
        return path, out, files.read_text(path), settings_of(arguments)
    if out is not None and not out.name.endswith(SUFFIX):
        refuse(str(out), "a design has a name that ends in .slab.yaml", f"--out {out.stem}{SUFFIX}")
    if out is not None and (out.exists() or out.is_symlink()):
        refuse(str(out), "there is a file of this name already", "--out with a new name; nothing is overwritten")
    if out is None:
        guard(arguments, (path,))
    text = files.read_text(path)
    if out is not None and ".csv" in text and out.resolve().parent != path.resolve().parent:
        refuse(str(out), "the design names readings that stand beside it", f"--out {path.parent / out.name}")
    return path, out, text, settings_of(arguments)
