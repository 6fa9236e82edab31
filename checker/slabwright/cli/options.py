"""What several commands take alike, and how their words are read off the command line."""

from __future__ import annotations

import argparse
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn, TypeAlias

from slabwright.source.files import designs_in

UNREADABLE = 2


class Parser(argparse.ArgumentParser):
    """Help that keeps its line ends and says a mistake in the command in one line."""

    def error(self, message: str) -> NoReturn:
        """End with the status of a command that is not written right; a missing file is named from this folder."""
        write = f"{self.prog} -h shows how it is written"
        if message.endswith("required: FILE"):
            here = designs_in(Path())
            write = (
                f"{self.prog} {shlex.quote(str(here[0]))}" if here else f"{self.prog} FILE; slabwright begin makes one"
            )
        self.exit(UNREADABLE, f"{self.prog}: {message}\n  write: {write}\n")


Commands: TypeAlias = "argparse._SubParsersAction[Parser]"


def command(commands: Commands, name: str, short: str, about: str, examples: str) -> argparse.ArgumentParser:
    """A command with its help and the option that every command takes."""
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


def sheet_options(parser: argparse.ArgumentParser) -> None:
    """What every command takes that gives a sheet to work from."""
    file_argument(parser)
    ways = parser.add_mutually_exclusive_group()
    ways.add_argument("--json", action="store_true", help="everything as JSON instead of the sheet")
    ways.add_argument("--csv", action="store_true", help="the main table as CSV instead of the sheet")
    parser.add_argument("--page", metavar="FILE.html", help="a page to print or to look at on a phone")
    limits_options(parser)
    system_options(parser)
    width_option(parser, "sheet")


def propose_options(parser: argparse.ArgumentParser) -> None:
    """What every word of ``propose`` takes."""
    file_argument(parser)
    parser.add_argument("--out", metavar="OUT.slab.yaml", help="write a copy of the design with the proposal in it")
    parser.add_argument("--json", action="store_true", help="everything as JSON instead of the sheet")
    limits_options(parser)
    system_options(parser)
    width_option(parser, "sheet")


def file_argument(parser: argparse.ArgumentParser) -> None:
    """The design that a command works on."""
    parser.add_argument("file", metavar="FILE", help="the design, by custom a .slab.yaml file")


def width_option(parser: argparse.ArgumentParser, of: str) -> None:
    """How wide a sheet or page on the terminal is."""
    parser.add_argument("--width", type=_width, metavar="N", help=f"columns of the {of}, at least 60")


def limits_options(parser: argparse.ArgumentParser) -> None:
    """The firm's own limits and rules."""
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


def system_options(parser: argparse.ArgumentParser) -> None:
    """In which units and with which decimal sign a sheet is written."""
    units = parser.add_mutually_exclusive_group()
    units.add_argument("--us", dest="system", action="store_const", const="us", help="feet and inches alone")
    units.add_argument("--metric", dest="system", action="store_const", const="metric", help="metric alone")
    parser.add_argument(
        "--decimal", choices=("point", "comma"), default="point", help="the decimal sign in sheets and CSV"
    )
    parser.add_argument("--both", action="store_true", help="the other unit system in brackets behind each number")


def link(text: str) -> str:
    """Read the address of a page off the command line."""
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


jobs = _number(1, 256, "number of jobs", "a whole number from 1, such as 2")
exercise_number = _number(100, 599, "number of an exercise", "one from 100 to 599, such as 205")
hint = _number(1, 3, "step of a hint", "1, 2 or 3, or none for the first")
class_size = _number(1, 40, "size of a class", "a number from 1 to 40, such as 12")
seed = _number(0, 999_999_999, "number for a list", "a whole number, such as 7")
loads = _number(1, 1000, "number of truck loads", "a whole number from 1, such as 2")
_width = _number(60, 1000, "width for a sheet", "a number from 60, such as 80")
