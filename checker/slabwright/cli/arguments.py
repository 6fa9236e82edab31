"""How the commands are written: options and help, in trade words with examples."""

from __future__ import annotations

import argparse

from slabwright.cli import making
from slabwright.cli.options import (
    Commands,
    Parser,
    class_size,
    command,
    exercise_number,
    hint,
    jobs,
    limits_options,
    link,
    seed,
    system_options,
    width_option,
)

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


def parser() -> argparse.ArgumentParser:
    """The parser of the whole command line."""
    whole = Parser(
        prog="slabwright",
        description=_ABOUT,
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    whole.add_argument("--version", action="store_true", help="print the version")
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", title="commands", parser_class=Parser)
    for add in (
        _review, _rulebook, _teach, making.draw, making.order, making.stake, making.card, making.begin, making.propose,
        _serve, _trust, _completion,
    ):  # fmt: skip
        add(commands)
    return whole


def _review(commands: Commands) -> None:
    review = command(commands, "review", "check a design and print the review sheet", _REVIEW, _REVIEW_EXAMPLES)
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
        "--rule-pages", type=link, metavar="URL", help="with --sarif: where you show docs/rulebook.md, for links to it"
    )
    review.add_argument("--passes", action="store_true", help="with --sarif: also what is met, not shown, not applying")
    review.add_argument("--strict", action="store_true", help="cautions count like holds in the exit status")
    limits_options(review)
    system_options(review)
    width_option(review, "sheet")
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
    review.add_argument("--seed", type=seed, metavar="N", help="with --as-built: other surfaces")
    review.add_argument("--watch", action="store_true", help="review again at every save, until Ctrl-C")
    review.add_argument("--jobs", type=jobs, metavar="N", help="how many cores share the work; all without it")


def _rulebook(commands: Commands) -> None:
    rulebook = command(
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
    limits_options(rulebook)
    width_option(rulebook, "page")


def _teach(commands: Commands) -> None:
    teach = command(
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
        "--exercise",
        type=exercise_number,
        nargs="?",
        const=-1,
        metavar="N",
        help="a sound job with slips in it; 100 to 599",
    )
    teach.add_argument("--group", metavar="GROUP", help="an exercise on one group of rules, such as joints")
    teach.add_argument("--level", type=int, choices=range(1, 6), help="of an exercise without a number, or of a class")
    teach.add_argument(
        "--out", metavar="DIR", help="write the exercise, or the lesson with its picture, into a folder of its own"
    )
    teach.add_argument("--check", metavar="FILE", help="what was found, missed or broken in the corrected file")
    teach.add_argument(
        "--hint",
        type=hint,
        nargs="?",
        const=1,
        metavar="N",
        help="a step: 1 where, 2 what to ask, 3 what to read",
    )
    teach.add_argument("--answer", action="store_true", help="the slips, and why; of a class, the marking sheet")
    teach.add_argument(
        "--class", dest="class_of", type=class_size, metavar="N", help="a list of exercises, no two alike"
    )
    teach.add_argument("--seed", type=seed, metavar="N", help="the number a class list is made from")
    limits_options(teach)
    width_option(teach, "page")


def _serve(commands: Commands) -> None:
    command(
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
    trust = command(
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
    completion = command(
        commands,
        "completion",
        "print the script by which a shell completes commands with Tab",
        "Commands, options, rules, groups and uses complete with Tab once the shell reads this\nscript at its start.\n",
        'examples:\n  eval "$(slabwright completion bash)"      in ~/.bashrc\n'
        '  eval "$(slabwright completion zsh)"       in ~/.zshrc, after compinit\n'
        "  slabwright completion fish | source       in ~/.config/fish/config.fish\n",
    )
    completion.add_argument("shell", choices=("bash", "zsh", "fish"), help="the shell")
