"""``review --sarif``: one file for all designs that were reviewed."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from slabwright.cli.release import release
from slabwright.review import reviewing
from slabwright.review.reviewing import Settings
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source.files import STANDARD
from slabwright.source.problem import UnreadableError
from slabwright.text.outputs import keep, put_data
from slabwright.writers import sarif


def put(
    arguments: argparse.Namespace,
    paths: Sequence[Path],
    settings: Settings,
    results: Sequence[dict[str, Any]],
    notices: Sequence[dict[str, Any]],
    whole: bool,
) -> None:
    """Write what was found, and the rules that any of the designs is judged by, where it was asked for."""
    rules, only, pages = _rules(paths, settings), arguments.only or "", arguments.rule_pages or ""
    text = sarif.as_sarif(rules, results, notices, whole, release(), only, pages)
    if arguments.sarif == STANDARD:
        put_data(text)
    else:
        keep(Path(arguments.sarif), text, "--sarif")


def _rules(paths: Sequence[Path], settings: Settings) -> list[tuple[Rule, Limits]]:
    """The rules that any of the designs is judged by, with the limits of the first that has each."""
    found: dict[str, tuple[Rule, Limits]] = {}
    for path in paths:
        try:
            rules, limits = reviewing.in_force(*reviewing.layers(settings, reviewing.house_of(path)))
        except UnreadableError:
            continue
        for rule in rules:
            found.setdefault(rule.name, (rule, limits[rule.name]))
    return list(found.values())
