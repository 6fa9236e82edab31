"""How the commands are written: options and help, in trade words with examples."""

from __future__ import annotations

import argparse
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn, TypeAlias

from slabwright.source.files import designs_in

UNREADABLE = 2

_ABOUT = """\
Checks the plan of a concrete slab on ground before the truck comes: does the
water run off, are the panels short enough, is every wall isolated, is the
steel held up, is enough concrete ordered.
"""

_EXAMPLES = """\
examples:
  slabwright begin --use driveway --size "20 ft x 40 ft" --out drive.slab.yaml
  slabwright review drive.slab.yaml
  slabwright teach panel-aspect

The adopted local code and licensed practice govern.
"""

_REVIEW = """\
Reads design files and answers each with a review sheet: what to settle before
concrete is ordered, why, with the arithmetic and the source, and what would
make it pass. Several files, or a folder, are reviewed on all cores and end in a
table.
"""

_REVIEW_EXAMPLES = """\
examples:
  slabwright review drive.slab.yaml
  slabwright review drive.slab.yaml --metric --only joints
  slabwright review drive.slab.yaml --amendments town.yaml --strict
  slabwright review drive.slab.yaml --json > review.json
  slabwright review drive.slab.yaml --page review.html
  slabwright review jobs/ --sheet review.txt --sarif review.sarif
  slabwright review drive.slab.yaml --against HEAD~1
  slabwright review drive.slab.yaml --put-right drive_2.slab.yaml --heights
  slabwright review drive.slab.yaml --why 3
  slabwright review patio.slab.yaml --as-built --gap "1/4 in"

exit status:
  0  no hold stands          1  at least one hold (with --strict: or caution)
  2  a file could not be read, or the command is not written right
  3  the program itself failed

A firm's own settings come from the file .slabwright.yaml in the folder of the
design or the nearest one above it:
  amendments: [town.yaml]     # local limits, laid over the published ones
  rules: own-rules            # a folder of rules; they are programs, and run once
                              # you have said: slabwright trust FOLDER
  strict: true                # cautions count like holds
"""


class _Parser(argparse.ArgumentParser):
    """Help that keeps its line ends and says a mistake in the command in one line."""

    def error(self, message: str) -> NoReturn:
        write = f"{self.prog} -h shows how it is written"
        if message.endswith("required: FILE"):
            here = designs_in(Path())
            write = (
                f"{self.prog} {shlex.quote(str(here[0]))}" if here else f"{self.prog} FILE; slabwright begin makes one"
            )
        self.exit(UNREADABLE, f"{self.prog}: {message}\n  write: {write}\n")


Commands: TypeAlias = "argparse._SubParsersAction[_Parser]"


def parser() -> argparse.ArgumentParser:
    """The parser of the whole command line."""
    whole = _Parser(
        prog="slabwright",
        description=_ABOUT,
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    whole.add_argument("--version", action="store_true", help="print the version")
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", title="commands", parser_class=_Parser)
    for add in (
        _review,
        _rulebook,
        _teach,
        _draw,
        _order,
        _stake,
        _card,
        _begin,
        _propose,
        _serve,
        _trust,
        _completion,
    ):
        add(commands)
    return whole


def _review(commands: Commands) -> None:
    review = _command(commands, "review", "check a design and print the review sheet", _REVIEW, _REVIEW_EXAMPLES)
    review.add_argument("files", nargs="*", metavar="FILE", help="designs, and folders of .slab.yaml files")
    review.add_argument(
        "--json", action="store_true", help="everything as JSON instead of the sheet; with --brief the comments alone"
    )
    review.add_argument("--csv", action="store_true", help="the table of several designs as CSV instead of the sheets")
    review.add_argument("--sheet", metavar="FILE", help="also keep the sheet as plain text, alike on every computer")
    review.add_argument(
        "--page", metavar="FILE.html", help="also as a page with the plan drawn; of a folder a folder of pages"
    )
    review.add_argument("--sarif", metavar="FILE", help="also as SARIF 2.1.0, for repositories and editors; - here")
    review.add_argument(
        "--rule-pages", type=_link, metavar="URL", help="with --sarif: where you show docs/rulebook.md, for links to it"
    )
    review.add_argument("--passes", action="store_true", help="with --sarif: also what is met, not shown, not applying")
    review.add_argument("--strict", action="store_true", help="cautions count like holds in the exit status")
    _limits_options(review)
    _system_options(review)
    review.add_argument("--width", type=_width, metavar="N", help="columns of the sheet, at least 60")
    review.add_argument("--only", metavar="GROUP", help="only the rules of one group, such as joints")
    review.add_argument(
        "--against", metavar="REV", help="what changed since a git revision, or against another design file"
    )
    level = review.add_mutually_exclusive_group()
    level.add_argument("--brief", dest="level", action="store_const", const="brief", help="one line a comment")
    level.add_argument("--full", dest="level", action="store_const", const="full", help="everything that was looked at")
    review.set_defaults(level="usual")
    review.add_argument("--put-right", metavar="OUT", help="write a copy of the design with the remedies that hold")
    for name, what in (
        ("heights", "move heights"), ("joints", "draw, move or lay out joints anew"), ("thickness", "change thickness"),
    ):  # fmt: skip
        review.add_argument(f"--{name}", action="store_true", help=f"with --put-right: also {what}")
    review.add_argument(
        "--hook",
        action="store_true",
        help="FILEs are what a commit changes: review all that rests on them",
    )
    review.add_argument("--why", type=int, metavar="NUMBER", help="where the number of one comment comes from")
    review.add_argument("--as-built", action="store_true", help="puddles on 200 slabs built within tolerance")
    review.add_argument("--gap", metavar="DEPTH", help="with --as-built: the gap under a straightedge, such as 1/4 in")
    review.add_argument("--seed", type=_seed, metavar="N", help="with --as-built: other surfaces")
    review.add_argument("--watch", action="store_true", help="review again at every save, until Ctrl-C")
    review.add_argument("--jobs", type=_jobs, metavar="N", help="how many cores share the work; all without it")


def _rulebook(commands: Commands) -> None:
    rulebook = _command(
        commands,
        "rulebook",
        "list the rules in force, with every limit and who set it",
        "Every rule in force, by group: what it asks, its limits in both unit\n"
        "systems, who set each, and the source.\n",
        "examples:\n  slabwright rulebook\n  slabwright rulebook --group joints\n"
        "  slabwright rulebook --amendments town.yaml --json\n",
    )
    rulebook.add_argument("--group", metavar="GROUP", help="only one group, such as joints")
    rulebook.add_argument("--json", action="store_true", help="as JSON")
    _limits_options(rulebook)
    rulebook.add_argument("--width", type=_width, metavar="N", help="columns of the page, at least 60")


def _teach(commands: Commands) -> None:
    teach = _command(
        commands,
        "teach",
        "explain a rule, set an exercise and check it, or list exercises for a class",
        "Without a rule: the lessons of the course and the groups of rules. With one: what is\n"
        "compared, why it matters, when it does not apply, how to put it right, a published\n"
        "number worked again, a small design that falls short with the arithmetic, and the same\n"
        "put right. With --lesson: a lesson, and its answers with --answer. With --exercise:\n"
        "a sound job with slips in it, to be found and put right; the hundreds of its number are\n"
        "its level, 1 to 5, and the same number makes the same exercise. With --check: what was\n"
        "found, missed or broken in the corrected file; exit status 0 when all is found and\n"
        "nothing broken, else 1.\n",
        "examples:\n  slabwright teach\n  slabwright teach --lesson 0\n  slabwright teach panel-aspect\n"
        "  slabwright teach --exercise 205 --group joints --out drill\n"
        "  slabwright teach --check drill/exercise-205.slab.yaml --exercise 205 --group joints --hint\n"
        "  slabwright teach --exercise 205 --group joints --answer\n"
        "  slabwright teach --class 12 --seed 7 --level 2\n",
    )
    teach.add_argument("rule", metavar="RULE", nargs="?", help="the rule's name as it stands on a review sheet")
    teach.add_argument(
        "--lesson",
        type=int,
        choices=range(15),
        metavar="N",
        help="a lesson of the course, from 0; with --out as a page",
    )
    teach.add_argument(
        "--exercise", type=_exercise, nargs="?", const=-1, metavar="N", help="a sound job with slips in it; 100 to 599"
    )
    teach.add_argument("--group", metavar="GROUP", help="an exercise on one group of rules, such as joints")
    teach.add_argument("--level", type=int, choices=range(1, 6), help="of an exercise without a number, or of a class")
    teach.add_argument(
        "--out", metavar="DIR", help="write the exercise, or the lesson with its picture, into a folder of its own"
    )
    teach.add_argument("--check", metavar="FILE", help="what was found, missed or broken in the corrected file")
    teach.add_argument(
        "--hint",
        type=_hint,
        nargs="?",
        const=1,
        metavar="N",
        help="a step: 1 where, 2 what to ask, 3 what to read",
    )
    teach.add_argument("--answer", action="store_true", help="the slips, and why; of a class, the marking sheet")
    teach.add_argument("--class", dest="class_of", type=_class, metavar="N", help="a list of exercises, no two alike")
    teach.add_argument("--seed", type=_seed, metavar="N", help="the number a class list is made from")
    _limits_options(teach)
    teach.add_argument("--width", type=_width, metavar="N", help="columns of the page, at least 60")


def _draw(commands: Commands) -> None:
    draw = _command(
        commands,
        "draw",
        "draw the plan to scale, or a section, as an SVG or PDF file; or as GeoJSON, LandXML",
        "The plan to scale on a standard sheet: outline with dimensions, openings, walls,\n"
        "joints by kind, heights, contours, falls, standing water, isolation, drains, steel\n"
        "and a numbered callout for every comment of the review. Exit status 0 when it is\n"
        "drawn, whatever the review says. The name of --out decides: .svg a sheet to look at,\n"
        ".geojson the plan, .xml the finish and base as LandXML surfaces.\n",
        "examples:\n  slabwright draw drive.slab.yaml --out plan.svg\n"
        "  slabwright draw drive.slab.yaml --section A-C --out section.svg\n"
        "  slabwright draw drive.slab.yaml --mark A-C --pins --out plan.pdf\n"
        '  slabwright draw drive.slab.yaml --section "0,11 to 24,11" --metric > section.svg\n'
        "  slabwright draw drive.slab.yaml --out plan.geojson\n",
    )
    draw.add_argument("file", metavar="FILE", help="the design, by custom a .slab.yaml file")
    draw.add_argument(
        "--out", metavar="FILE", help="the file to write: .svg, .pdf, .geojson or .xml; the screen without it"
    )
    draw.add_argument(
        "--section", metavar="A-B", help="a section along a line instead: two points, or two pairs of plan numbers"
    )
    draw.add_argument(
        "--mark", metavar="A-B", action="append", default=[], help="mark on the plan where a section is cut; repeatable"
    )
    draw.add_argument("--pins", action="store_true", help="draw the pins of the stake sheet with their numbers")
    _limits_options(draw)
    _system_options(draw)


def _order(commands: Commands) -> None:
    order = _command(
        commands,
        "order",
        "what to order and haul, with the arithmetic",
        "Concrete with allowance, loads and headroom; the risk of running short; what a\n"
        "base off its height costs; dig and haul; steel with a cutting plan; isolation,\n"
        "joints, base, sheeting, curing, forms. Sums of money only by prices you give, in\n"
        "the design or in a file. Exit status 0 when the sheet is made.\n",
        "examples:\n  slabwright order drive.slab.yaml\n"
        "  slabwright order drive.slab.yaml --prices prices.yaml --page order.html\n"
        "  slabwright order drive.slab.yaml --csv > order.csv\n",
    )
    order.add_argument("--prices", metavar="FILE", help="prices, as under prices in a design; they count before those")
    _sheet_options(order)


def _stake(commands: Commands) -> None:
    stake = _command(
        commands,
        "stake",
        "where the pins go, and what the rod reads on each",
        "A pin at every corner, height line and along the edges, and a grid for the screed:\n"
        "plan position, finish height, rod readings for finish, base and subgrade, cut and\n"
        "fill, squaring and a closing check. Readings taken back from the field tell how\n"
        "far off it is, how thick the slab gets, which rules fall short, and the new order.\n",
        "examples:\n  slabwright stake drive.slab.yaml --bench sill --backsight 4.25\n"
        "  slabwright stake drive.slab.yaml --bench 'door sill=100.00 ft' --backsight \"4'-3\\\"\"\n"
        "  slabwright stake drive.slab.yaml --as-shot shots.csv --page stakes.html\n"
        "  slabwright stake drive.slab.yaml --csv > points.csv\n\n"
        "--csv gives number, northing, easting, height, description, place and rod readings\n"
        "under a heading with units; --csv --no-heading the first five alone, as total\n"
        "stations read them. The columns of shots.csv are point, backsight, foresight and,\n"
        "with several set-ups, setup; point is a pin by its number, a point of the design\n"
        "or a bench.\n",
    )
    _sheet_options(stake)
    stake.add_argument("--bench", metavar="NAME", help="a bench or fixed height of the design, or NAME=HEIGHT")
    stake.add_argument("--backsight", metavar="READING", help="what the rod reads on it")
    stake.add_argument("--screed", metavar="LENGTH", help="length of the screed; 10 ft or 3 m without it")
    stake.add_argument("--line", nargs=2, metavar=("A", "B"), help="the two corners that places are measured from")
    stake.add_argument("--diagonal", metavar="LENGTH", help="diagonal of the main rectangle as measured")
    stake.add_argument("--no-heading", action="store_true", help="with --csv: five columns, for a total station")
    stake.add_argument("--as-shot", metavar="FILE.csv", help="rod readings taken back from the field")
    stake.add_argument(
        "--shot-on", choices=("base", "finish"), default="base", help="what they were taken on: the base"
    )


def _card(commands: Commands) -> None:
    card = _command(
        commands,
        "card",
        "one page for the morning of the pour",
        "Hours, weather limits and the evaporation rate, the ticket and water that may be\n"
        "added, trucks, where to stop if short, what a plan cannot show and must be looked\n"
        "at, masks at the saw, cautions.\n",
        "examples:\n  slabwright card drive.slab.yaml\n  slabwright card drive.slab.yaml --page card.html\n",
    )
    _sheet_options(card)


def _begin(commands: Commands) -> None:
    begin = _command(
        commands,
        "begin",
        "write a design to start from; asks eight short questions",
        "A commented design to start from. On a terminal it asks eight short questions, each\n"
        "with what is usual, and writes a new file; options answer beforehand. With --use and\n"
        "--size it asks nothing. Feet or meters go by the size as typed. SIZE is along the wall\n"
        "x away from it; an L or a U has one or two more rectangles beyond the first, at its\n"
        "ends; four sides in order and the diagonal from the first corner to the third give\n"
        "the shape as taped.\n",
        'examples:\n  slabwright begin\n  slabwright begin --use patio --size "12 ft x 16 ft"\n'
        '  slabwright begin --use "garage floor" --size "6 m x 7.2 m" --out garage.slab.yaml\n'
        '  slabwright begin --use patio --size "20 ft x 12 ft + 8 ft x 10 ft" --wall A-B\n'
        """  slabwright begin --use walk --size "20 ft, 4 ft, 20'-1\", 4 ft, diagonal 20'-5\""\n"""
        "  slabwright begin --from survey.csv --use patio --units ft --out patio.slab.yaml\n",
    )
    for name, metavar, what in (
        ("use", "USE", "such as patio, walk, driveway, garage floor"),
        ("size", "SIZE", 'along the wall x away: "20 ft x 40 ft"'),
        ("wall", "SIDES", "sides against a wall, such as A-B, or none"),
        ("water", "SIDE", "side that water leaves over, such as C-D"),
        ("thickness", "DEPTH", 'such as "5 in"'),
        ("freezing", "HOW", "none, moderate, severe, or salt: severe with salt"),
        ("steel", "STEEL", "none, bars, mesh, fiber"),
        ("method", "HOW", "how it comes: chute, pump, buggy, wheelbarrow"),
    ):
        begin.add_argument(f"--{name}", metavar=metavar, help=what)
    begin.add_argument(
        "--from",
        dest="survey",
        metavar="FILE",
        help="begin from a survey (.csv) or a drawing (.geojson) instead of a size",
    )
    begin.add_argument(
        "--units", choices=("ft", "m"), help="with --from: what its numbers are in, where it does not say"
    )
    begin.add_argument("--out", metavar="FILE", help="write it to a new file instead of the screen")


def _propose(commands: Commands) -> None:
    propose = _command(
        commands,
        "propose",
        "search for what would settle a design",
        "Searches for what meets the rules in force, and lets the review judge what it finds.\n",
        "examples:\n  slabwright propose heights drive.slab.yaml\n  slabwright propose joints drive.slab.yaml\n\n"
        "exit status:\n  0  found    1  nothing found, or proven that nothing is    2  unreadable\n",
    )
    proposed = propose.add_subparsers(dest="what", metavar="WHAT", title="what", parser_class=_Parser, required=True)
    heights = _command(
        proposed,
        "heights",
        "heights that meet every rule on heights and water and move the least",
        "The heights that meet every rule on heights and water in force, with the fewest points\n"
        "moved, and those the least: on the folds as drawn, else on a plane or along a new\n"
        "valley. Where nothing does it: what clashes, by how much, and the cheapest fixed\n"
        "height to change. It needs the solver: pip install 'slabwright[propose]'.\n",
        "examples:\n  slabwright propose heights drive.slab.yaml\n"
        "  slabwright propose heights drive.slab.yaml --out drive_2.slab.yaml\n"
        "  slabwright propose heights drive.slab.yaml --json > heights.json\n",
    )
    _propose_options(heights)
    joints = _command(
        proposed,
        "joints",
        "a layout of joints that meets every rule on them, with the least cutting",
        "A layout of joints for any outline: through inside corners and fixtures, no panel too\n"
        "long, too narrow or pointed, no joint that ends on the side of another; of those the\n"
        "one with the fewest feet of cutting and bays most nearly equal. Construction joints,\n"
        "joints with filler and pattern lines stay as they are. Where none is found: the panel\n"
        "and the rule in the way, and what is usually done.\n",
        "examples:\n  slabwright propose joints drive.slab.yaml\n"
        "  slabwright propose joints drive.slab.yaml --out drive_2.slab.yaml\n"
        "  slabwright propose joints drive.slab.yaml --loads 2\n"
        "  slabwright propose joints drive.slab.yaml --json > joints.json\n",
    )
    joints.add_argument(
        "--loads",
        type=_loads,
        metavar="N",
        help="end pours at construction joints, each of N truck loads at most (order: truck)",
    )
    _propose_options(joints)


def _serve(commands: Commands) -> None:
    _command(
        commands,
        "serve",
        "review in an editor as you type (Language Server Protocol)",
        "For editors: speaks the Language Server Protocol on standard input and output.\n"
        "Comments stand at their place, the rule's page shows on hover, remedies are quick\n"
        "fixes, and rules, points and edges complete as you type. It needs:\n"
        "pip install 'slabwright[editor]'.\n",
        "examples:\n  slabwright serve\n\nIn an editor: the command for files named *.slab.yaml is: slabwright serve\n",
    )


def _trust(commands: Commands) -> None:
    trust = _command(
        commands,
        "trust",
        "let the rules that a firm file names run, as they are now",
        "Rules are programs and run with your rights, so those that a firm file names run only\n"
        "once you have said so. It holds for you, on this computer, and until the firm file or\n"
        "one of its rules changes. Read them first. A command runs rules without it when it\n"
        "names their folder with --rules.\n",
        "examples:\n  slabwright trust jobs/\n  slabwright trust jobs/ --withdraw\n",
    )
    trust.add_argument("folder", metavar="FOLDER", help="the folder of the firm file, or one below it")
    trust.add_argument("--withdraw", action="store_true", help="let them run no longer")


def _completion(commands: Commands) -> None:
    completion = _command(
        commands,
        "completion",
        "print the script by which a shell completes commands with Tab",
        "Commands, options, rules, groups and uses complete with Tab once the shell reads this\nscript at its start.\n",
        'examples:\n  eval "$(slabwright completion bash)"      in ~/.bashrc\n'
        '  eval "$(slabwright completion zsh)"       in ~/.zshrc, after compinit\n'
        "  slabwright completion fish | source       in ~/.config/fish/config.fish\n",
    )
    completion.add_argument("shell", choices=("bash", "zsh", "fish"), help="the shell")


def _command(commands: Commands, name: str, short: str, about: str, examples: str) -> argparse.ArgumentParser:
    added = commands.add_parser(
        name,
        help=short,
        description=about,
        epilog=examples,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    added.add_argument(
        "--color", choices=("auto", "always", "never"), default="auto", help="color; auto: on a terminal"
    )
    return added


def _sheet_options(parser: argparse.ArgumentParser) -> None:
    """What every command takes that gives a sheet to work from."""
    parser.add_argument("file", metavar="FILE", help="the design, by custom a .slab.yaml file")
    ways = parser.add_mutually_exclusive_group()
    ways.add_argument("--json", action="store_true", help="everything as JSON instead of the sheet")
    ways.add_argument("--csv", action="store_true", help="the main table as CSV instead of the sheet")
    parser.add_argument("--page", metavar="FILE.html", help="a page to print or to look at on a phone")
    _limits_options(parser)
    _system_options(parser)
    parser.add_argument("--width", type=_width, metavar="N", help="columns of the sheet, at least 60")


def _propose_options(parser: argparse.ArgumentParser) -> None:
    """What every word of ``propose`` takes."""
    parser.add_argument("file", metavar="FILE", help="the design, by custom a .slab.yaml file")
    parser.add_argument("--out", metavar="OUT.slab.yaml", help="write a copy of the design with the proposal in it")
    parser.add_argument("--json", action="store_true", help="everything as JSON instead of the sheet")
    _limits_options(parser)
    _system_options(parser)
    parser.add_argument("--width", type=_width, metavar="N", help="columns of the sheet, at least 60")


def _limits_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--amendments",
        action="append",
        default=[],
        metavar="FILE",
        help="local limits, laid over the published ones; repeatable",
    )
    parser.add_argument("--rules", metavar="DIR", help="a folder of the firm's own rules (programs; they are run)")


def comma(arguments: argparse.Namespace) -> bool:
    """Whether numbers are to have a decimal comma: not in JSON, which has points."""
    return arguments.decimal == "comma" and not getattr(arguments, "json", False)


def _system_options(parser: argparse.ArgumentParser) -> None:
    units = parser.add_mutually_exclusive_group()
    units.add_argument("--us", dest="system", action="store_const", const="us", help="feet and inches alone")
    units.add_argument("--metric", dest="system", action="store_const", const="metric", help="metric alone")
    parser.add_argument(
        "--decimal", choices=("point", "comma"), default="point", help="the decimal sign in sheets and CSV"
    )
    parser.add_argument("--both", action="store_true", help="the other unit system in brackets behind each number")


def _link(text: str) -> str:
    if not re.fullmatch(r"https?://[^\s#<>\"]+", text):
        raise argparse.ArgumentTypeError(f"{text} is no address of a page; write one that starts with https://")
    return text


def _number(least: int, most: int, wrong: str, write: str) -> Callable[[str], int]:
    """What reads a whole number from ``least`` to ``most`` off the command line."""

    def number(text: str) -> int:
        if not (text.isdecimal() and len(text) <= len(str(most)) and least <= int(text) <= most):
            raise argparse.ArgumentTypeError(f"{text} is no {wrong}; write {write}")
        return int(text)

    return number


_jobs = _number(1, 256, "number of jobs", "a whole number from 1, such as 2")
_exercise = _number(100, 599, "number of an exercise", "one from 100 to 599, such as 205")
_hint = _number(1, 3, "step of a hint", "1, 2 or 3, or none for the first")
_class = _number(1, 40, "size of a class", "a number from 1 to 40, such as 12")
_seed = _number(0, 999_999_999, "number for a list", "a whole number, such as 7")
_loads = _number(1, 1000, "number of truck loads", "a whole number from 1, such as 2")
_width = _number(60, 1000, "width for a sheet", "a number from 60, such as 80")
