"""What each command does: files in, a page on standard output and an exit status out.

Each imports what it needs when it runs. Files that cannot be read, and names that are not known, raise
:class:`UnreadableError`.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from slabwright.cli.arguments import comma
from slabwright.cli.guarding import guard
from slabwright.source.files import STANDARD
from slabwright.source.problem import refuse
from slabwright.text.outputs import keep, put_data, wrote

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan
    from slabwright.rulebook.kit import Limits, Rule

FINE, HOLD = 0, 1


def review(arguments: argparse.Namespace) -> int:
    """Review designs: the sheet, JSON or SARIF; 2 when a file cannot be read, else 1 when a hold stands."""
    from slabwright.cli import delivery
    from slabwright.review.reviewing import Settings

    settings = Settings(
        tuple(map(Path, arguments.amendments)),
        Path(arguments.rules) if arguments.rules else None,
        arguments.system,
        _group(arguments.only),
        arguments.strict,
        arguments.both,
        comma(arguments),
    )
    return delivery.review(arguments, settings)


def _group(name: str | None) -> str:
    """A group of rules named on the command line; empty when none is."""
    from slabwright.rulebook.kit import GROUPS
    from slabwright.rulebook.limits import nearest

    if name and name not in GROUPS:
        near = nearest(name, GROUPS)
        refuse("", f"there is no group of rules {name!r}", near or f"one of: {', '.join(GROUPS)}")
    return name or ""


def _in_force(
    amendments: Sequence[Path], own: Path | None
) -> tuple[tuple[Rule, ...], Mapping[str, Limits], tuple[str, ...]]:
    """The rules, the limits in force, and the names of the amendments laid over the published ones."""
    from slabwright.rulebook import limits, loading

    rules = loading.load_rules(own)
    laid = [limits.read_amendments(path, rules) for path in amendments]
    return rules, limits.resolve(rules, laid), tuple(one.name for one in laid)


def rulebook(arguments: argparse.Namespace) -> int:
    """List the rules in force with their limits."""
    from slabwright.text.sheet import fitting_width, put, stream_encoding
    from slabwright.writers import rule_pages

    group = _group(arguments.group)
    own = Path(arguments.rules) if arguments.rules else None
    rules, limits, layers = _in_force([Path(name) for name in arguments.amendments], own)
    rules = tuple(rule for rule in rules if group in {"", rule.group})
    if arguments.json:
        from slabwright.text.json_values import json_text

        put_data(json_text(rule_pages.as_data(rules, limits, layers)))
        return FINE
    width, encoding = fitting_width(sys.stdout, arguments.width), stream_encoding(sys.stdout)
    put(rule_pages.rulebook(rules, limits, layers, width, encoding), sys.stdout)
    return FINE


def teach(arguments: argparse.Namespace) -> int:
    """The groups of rules, one rule as a lesson, or an exercise and its answer."""
    from slabwright.teaching import command

    own = Path(arguments.rules) if arguments.rules else None
    rules, limits, _ = _in_force([Path(name) for name in arguments.amendments], own)
    return command.teach(arguments, rules, limits, _group(arguments.group))


def draw(arguments: argparse.Namespace) -> int:
    """Draw the plan of one design, or a section through it, with the comments of its review."""

    from slabwright.design.read import read_design
    from slabwright.drawing import content
    from slabwright.plan.plan import Plan
    from slabwright.review import firm, reviewing, run, trust
    from slabwright.rulebook.limits import shown_in

    path = Path(arguments.file)
    out = Path(arguments.out) if arguments.out else None
    kind = out.suffix.lower() if out is not None and arguments.out != STANDARD else ".svg"
    if kind not in (".svg", ".pdf", ".geojson", ".xml"):
        wrong = "a drawing is an SVG or a PDF file, or GeoJSON, or LandXML (.xml)"
        refuse(str(out), wrong, f"--out {Path(arguments.out).with_suffix('.svg').name}")
    if kind in (".geojson", ".xml") and arguments.section:
        refuse(str(out), "a section is drawn as SVG or PDF alone", "--out with the name of a .svg file")
    if arguments.section and (arguments.mark or arguments.pins):
        refuse("--section", "marks and pins are drawn on the plan", "--mark or --pins without --section")
    guard(arguments, (path,))
    design, questions = read_design(path)
    house = firm.for_design(path)
    laid = (*house.amendments, *map(Path, arguments.amendments))
    own = trust.own_rules(Path(arguments.rules) if arguments.rules else None, house)
    rules, limits = reviewing.in_force(laid, own)
    system = shown_in(arguments.system, design.system, reviewing.read_in(laid, own), arguments.both,
                      kind in (".svg", ".pdf") and comma(arguments))  # fmt: skip
    design = design._replace(system=system)
    plan = Plan(design)
    if out is not None and kind in (".geojson", ".xml"):
        from slabwright.exchange.drawn import drawn_as

        keep(out, drawn_as(plan, kind), "--out")
        wrote(out)
        return FINE
    report = content.drawn(run.review(plan, rules, limits, questions), plan)
    if arguments.section:
        from slabwright.drawing import section
        from slabwright.drawing.svg.section_svg import section_svg

        along = section.line_of(design, arguments.section)
        report = report._replace(drawing={**report.drawing, "section": section.section(plan, *along)})
        text = section_svg(report)
    else:
        from slabwright.drawing.svg.plan_svg import plan_svg

        text = plan_svg(report._replace(drawing={**report.drawing, **_marks(arguments, plan)}))
    if out is None:
        put_data(text)
        return FINE
    keep(out, _as_pdf(text, out) if kind == ".pdf" else text, "--out")
    wrote(out)
    return FINE


def _marks(arguments: argparse.Namespace, plan: Plan) -> dict[str, list[dict[str, object]]]:
    """What is drawn on the plan for other sheets: marks of sections, and pins of the stake sheet."""
    from slabwright.drawing.section import line_of
    from slabwright.sheets.stake.staked import stakes

    lines = [line_of(plan.design, words) for words in arguments.mark]
    pins = stakes(plan).pins if arguments.pins else ()
    return {
        "sections": [{"title": title, "line": [[*start], [*end]]} for start, end, title in lines],
        "pins": [{"number": pin.number, "at": [*pin.at]} for pin in pins],
    }


def _as_pdf(svg: str, out: Path) -> bytes:
    from slabwright.drawing.svg.pdf import NoPdfError, pdf

    try:
        return pdf(svg)
    except NoPdfError as error:
        write = f"pip install 'slabwright[pdf]', or --out {out.with_suffix('.svg').name}"
        refuse(str(out), f"a PDF needs cairosvg and the library cairo: {error}", write)


def begin(arguments: argparse.Namespace) -> int:
    """Write a design to start from."""
    from slabwright.cli import beginning

    return beginning.begin(arguments)


def order(arguments: argparse.Namespace) -> int:
    """Print what one design takes: concrete, steel, digging and the rest."""
    from slabwright.cli import sheet_commands

    return sheet_commands.order(arguments)


def stake(arguments: argparse.Namespace) -> int:
    """Print where the pins of one design go and what the rod reads on them."""
    from slabwright.cli import site_commands

    return site_commands.stake(arguments)


def card(arguments: argparse.Namespace) -> int:
    """Print the card for the morning of the pour."""
    from slabwright.cli import site_commands

    return site_commands.card(arguments)


def propose(arguments: argparse.Namespace) -> int:
    """Search for what would settle one design."""
    from slabwright.cli import proposing

    words: dict[str, Callable[[argparse.Namespace], int]] = {"heights": proposing.heights, "joints": proposing.joints}
    return words[arguments.what](arguments)


def serve(arguments: argparse.Namespace) -> int:
    """Review in an editor, until it goes."""
    try:
        from slabwright.exchange.server import start
    except ModuleNotFoundError as error:
        if error.name not in ("pygls", "lsprotocol"):
            raise
        refuse("", "serving an editor needs pygls, which is not installed", "pip install 'slabwright[editor]'")
    start()
    return FINE


def trust_rules(arguments: argparse.Namespace) -> int:
    """Let the rules that a firm file names run from now on, or no longer."""
    from slabwright.review import trust
    from slabwright.text.sheet import put

    told = trust.withdraw if arguments.withdraw else trust.trust
    put(told(Path(arguments.folder)), sys.stdout)
    return FINE


def completion(arguments: argparse.Namespace) -> int:
    """Print the script by which a shell completes."""
    from slabwright.cli import completing

    sys.stdout.write(completing.script(arguments.shell))
    return FINE


COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "review": review,
    "rulebook": rulebook,
    "teach": teach,
    "draw": draw,
    "order": order,
    "stake": stake,
    "card": card,
    "begin": begin,
    "propose": propose,
    "serve": serve,
    "trust": trust_rules,
    "completion": completion,
}
