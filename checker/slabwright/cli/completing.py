"""What a shell offers after Tab: commands and options come from the parser, names of rules, groups and uses from here.

Nothing is loaded for it but the names of files and one schema, so that the answer is there at once.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path

import argcomplete
from argcomplete.shell_integration import shellcode

from slabwright.source import locate

FINE = 0


def rule_names(**_: object) -> list[str]:
    """The published rules, by the names of their files."""
    return sorted(path.stem.replace("_", "-") for path in _rule_files())


def group_names(**_: object) -> list[str]:
    """The groups that have rules."""
    return sorted({path.parent.name for path in _rule_files()})


def uses(**_: object) -> list[str]:
    """What a slab may be for."""
    text = (locate.folder("schemas") / "design.schema.json").read_text(encoding="utf-8")
    listed: list[str] = json.loads(text)["properties"]["use"]["enum"]
    return listed


def script(shell: str) -> str:
    """What a shell reads at its start, so that Tab asks this program; it names no path, and works as installed."""
    return str(shellcode(["slabwright"], shell=shell))


def completion(arguments: argparse.Namespace) -> int:
    """Print the script by which a shell completes."""
    sys.stdout.write(script(arguments.shell))
    return FINE


def _rule_files() -> Iterator[Path]:
    return (path for path in locate.folder("rules").glob("*/*.py") if path.name != "__init__.py")


def offer(parser: argparse.ArgumentParser) -> None:
    """Answer the shell and end the process, if it is a shell that asks."""
    known = {"rule": rule_names, "only": group_names, "group": group_names, "use": uses}
    for command in _commands(parser):
        for option in command._actions:
            if option.dest in known and option.choices is None:
                option.completer = known[option.dest]  # type: ignore[attr-defined]
    argcomplete.autocomplete(parser)


def _commands(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    """Every command, and the words under it."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                yield command
                yield from _commands(command)
