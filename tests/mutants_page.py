"""The page of the mutants, ``docs/mutants.md``: how many tests noticed, and why the others may live.

``tests/data/mutants.json`` holds what the last run found, and is not kept in the repository.
``tests/data/mutants_that_change_nothing.yaml`` is: it names the changes that nobody can notice, each with the reason.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

import mutating
from checkout import ROOT

PAGE = ROOT / "docs" / "mutants.md"
RESULTS = ROOT / "tests" / "data" / "mutants.json"

_HEAD = """<!-- Written by `python tests/mutants.py`; `--page-only` after a change of the reasons alone. -->

# Mutants

Would the tests notice if a number or a sign in a rule or a formula were wrong? Each rule file and each formula module
is changed in one place, a *mutant*, and the tests that run the changed line are run: a plus becomes a minus, "at least"
becomes "more than", a number is one more or one less, a condition is turned round, a loop is left out. A mutant that
a test notices is *killed*. {share} of {mutants} are, and {counted} of those that change anything at all.

Not changed: docstrings, types, a rule's title, its citations, its published numbers and `strict=True` (they are checks
themselves) and limits written as text, which the published checks, the rulebook and the tests at the limit hold.

`python tests/mutants.py` does all of it anew in about an hour; it is not part of the ordinary tests. It needs
`pip install -e '.[check,mutants]'`."""


class Lived(NamedTuple):
    """A mutant that no test noticed."""

    file: str
    key: str
    was: str
    now: str

    @property
    def line(self) -> int | None:
        """Where it stands in the file as it is now; None when that line is there no longer."""
        lines = (ROOT / self.file).read_text(encoding="utf-8").splitlines() if (ROOT / self.file).is_file() else []
        return next((number for number, line in enumerate(lines, 1) if line.strip() == self.was), None)


class Result(NamedTuple):
    """What became of the mutants of one file."""

    mutants: int
    lived: tuple[Lived, ...]

    @property
    def killed(self) -> int:
        """So many were noticed."""
        return self.mutants - len(self.lived)


def results(path: Path = RESULTS) -> dict[str, Result]:
    """What the last run found, by file."""
    kept = json.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}
    return {
        file: Result(one["mutants"], tuple(Lived(file, *lived) for lived in one["lived"])) for file, one in kept.items()
    }


def keep(found: Mapping[str, Result], path: Path = RESULTS) -> None:
    """Write results down, files in order, so that a difference can be read."""
    data = {
        file: {"mutants": one.mutants, "lived": sorted(lived[1:] for lived in one.lived)}
        for file, one in sorted(found.items())
    }
    path.write_text(json.dumps(data, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


def group_of(file: str) -> str:
    """The group of a rule, or ``formulas``."""
    return Path(file).parent.name


class Row(NamedTuple):
    """What became of the mutants of a group."""

    group: str
    mutants: int
    killed: int
    without_effect: int  # of those that live: said to change nothing

    @property
    def counting(self) -> int:
        """So many change something."""
        return self.mutants - self.without_effect


def rows(found: Mapping[str, Result]) -> Iterator[Row]:
    """Each group with its mutants and how many of them were killed, then all together."""
    reasons = mutating.reasons()

    def row(name: str, files: Iterable[str]) -> Row:
        ours = [found[file] for file in files]
        idle = sum(one.key in reasons.get(one.file, {}) for result in ours for one in result.lived)
        return Row(name, sum(one.mutants for one in ours), sum(one.killed for one in ours), idle)

    for group in dict.fromkeys(group_of(file) for file in sorted(found, reverse=True) if found[file].mutants):
        yield row(group, [file for file in found if group_of(file) == group])
    yield row("all", found)


def share(killed: int, mutants: int) -> str:
    """A share in percent, never more than it is.

    >>> share(1999, 2000), share(7, 7)
    ('99.9 %', '100.0 %')
    """
    return f"{killed * 1000 // mutants / 10:.1f} %" if mutants else "100.0 %"


def page(found: Mapping[str, Result]) -> str:
    """The whole of ``docs/mutants.md``."""
    *groups, whole = table = list(rows(found))
    assert len(groups) + 1 == len(table)
    parts = [_HEAD.format(share=share(whole.killed, whole.mutants), mutants=f"{whole.mutants:,}",
                          counted=share(whole.killed, whole.counting))]  # fmt: skip
    parts.append("\n| group | mutants | killed | live | share | change nothing | share of the others |")
    parts.append("|---|---|---|---|---|---|---|")
    parts += [
        f"| {one.group} | {one.mutants} | {one.killed} | {one.mutants - one.killed} | {share(one.killed, one.mutants)} "
        f"| {one.without_effect} | {share(one.killed, one.counting)} |"
        for one in table
    ]
    reasons = mutating.reasons()
    lived = sorted({one for result in found.values() for one in result.lived})
    told = {one: reasons[one.file][one.key] for one in lived if one.key in reasons.get(one.file, {})}
    parts += _section("A test is missing", {one: "" for one in lived if one not in told})
    parts += _section("Those that change nothing", told)
    return "\n".join(parts) + "\n"


def _section(title: str, reasons: Mapping[Lived, str]) -> Iterator[str]:
    if not reasons:
        return
    yield f"\n## {title}\n\n| file | line | was | changed to | why it lives |\n|---|---|---|---|---|"
    for one, because in reasons.items():
        cells = (one.file, str(one.line or "gone"), _code(one.was), _code(one.now), because)
        yield "| " + " | ".join(cells) + " |"


def _code(line: str) -> str:
    return "`" + line.replace("|", "\\|").replace("`", "'") + "`"


def write() -> None:
    """Write the page from the results and the reasons."""
    PAGE.write_text(page(results()), encoding="utf-8")
