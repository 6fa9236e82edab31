"""The page of the mutants, ``docs/mutants.md``: how many tests noticed, and why the others may live.

``tests/data/mutants.json`` holds what the last run found, ``tests/data/mutants_that_live.yaml`` the reasons, written by
people who read the change. Both are made by a run and go with the lines they speak of: they are not kept in the
repository between runs.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

import yaml

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "docs" / "mutants.md"
RESULTS = ROOT / "tests" / "data" / "mutants.json"
REASONS = ROOT / "tests" / "data" / "mutants_that_live.yaml"

_HEAD = """<!-- Written by `python tests/mutants.py`; `--page-only` after a change of the reasons alone. -->

# Mutants

Would the tests notice if a number or a sign in a rule or a formula were wrong? Each rule file and each formula module
is changed in one place, a *mutant*, and the tests that run the changed line are run: a plus becomes a minus, "at least"
becomes "more than", a number is one more or one less, a condition is turned round, a loop is left out. A mutant that
a test notices is *killed*. {share} of {mutants} are.

Not changed: docstrings, types, a rule's title, its citations, its published numbers and `strict=True` (they are checks
themselves) and limits written as text, which the published checks, the rulebook and the tests at the limit hold.

`python tests/mutants.py` does all of it anew in about an hour; it is not part of the ordinary tests. It needs
`pip install -e '.[check,mutants]'`."""


class Lived(NamedTuple):
    """A mutant that no test noticed."""

    file: str
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
        file: Result(one["mutants"], tuple(Lived(file, was, now) for was, now in one["lived"]))
        for file, one in kept.items()
    }


def keep(found: Mapping[str, Result], path: Path = RESULTS) -> None:
    """Write results down, files in order, so that a difference can be read."""
    data = {
        file: {"mutants": one.mutants, "lived": sorted([lived.was, lived.now] for lived in one.lived)}
        for file, one in sorted(found.items())
    }
    path.write_text(json.dumps(data, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


class Kind(NamedTuple):
    """A kind of reason, and the reason of each mutant it is given for."""

    title: str
    reasons: Mapping[Lived, str]


def kinds() -> tuple[Kind, ...]:
    """The reasons, in the order they are written down in."""
    return tuple(
        Kind(kind["kind"], {
            Lived(file, *change): one["because"]
            for file, listed in kind["files"].items() for one in listed for change in one["changes"]
        })
        for kind in (yaml.safe_load(REASONS.read_text(encoding="utf-8")) if REASONS.is_file() else ())
    )  # fmt: skip


def group_of(file: str) -> str:
    """The group of a rule, or ``formulas``."""
    return Path(file).parent.name


def rows(found: Mapping[str, Result]) -> Iterator[tuple[str, int, int]]:
    """Each group with its mutants and how many of them were killed, then all together."""
    groups = dict.fromkeys(group_of(file) for file in sorted(found, reverse=True) if found[file].mutants)
    for group in groups:
        ours = [one for file, one in found.items() if group_of(file) == group]
        yield group, sum(one.mutants for one in ours), sum(one.killed for one in ours)
    yield "all", sum(one.mutants for one in found.values()), sum(one.killed for one in found.values())


def share(killed: int, mutants: int) -> str:
    """A share in percent, never more than it is.

    >>> share(1999, 2000), share(7, 7)
    ('99.9 %', '100.0 %')
    """
    return f"{killed * 1000 // mutants / 10:.1f} %" if mutants else "100.0 %"


def page(found: Mapping[str, Result], given: tuple[Kind, ...]) -> str:
    """The whole of ``docs/mutants.md``."""
    *groups, (_, mutants, killed) = table = list(rows(found))
    assert len(groups) + 1 == len(table)
    parts = [_HEAD.format(share=share(killed, mutants), mutants=f"{mutants:,}")]
    parts.append("\n| group | mutants | killed | live | share |\n|---|---|---|---|---|")
    parts += [f"| {name} | {of} | {dead} | {of - dead} | {share(dead, of)} |" for name, of, dead in table]
    parts.append("\n## Those that live\n\nEach was looked into on its own; the reason stands beside it.")
    lived = sorted({one for result in found.values() for one in result.lived})
    for kind in given:
        parts += _section(kind.title, {one: kind.reasons[one] for one in lived if one in kind.reasons})
    told = {one for kind in given for one in kind.reasons}
    parts += _section("A test is missing", {one: "" for one in lived if one not in told})
    return "\n".join(parts) + "\n"


def _section(title: str, reasons: Mapping[Lived, str]) -> Iterator[str]:
    if not reasons:
        return
    yield f"\n### {title}\n\n| file | line | was | changed to | why it lives |\n|---|---|---|---|---|"
    for one, because in reasons.items():
        cells = (one.file, str(one.line or "gone"), _code(one.was), _code(one.now), because)
        yield "| " + " | ".join(cells) + " |"


def _code(line: str) -> str:
    return "`" + line.replace("|", "\\|").replace("`", "'") + "`"


def write() -> None:
    """Write the page from the results and the reasons."""
    PAGE.write_text(page(results(), kinds()), encoding="utf-8")
