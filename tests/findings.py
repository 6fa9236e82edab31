"""What every rule says of its own examples, in full: the expected texts under ``tests/data/findings/``.

One file for each rule holds, for each example design, every comment with its place, weight, numbers, arithmetic,
advice and its edits, or the margin it is met by. Then comes what the rule says of the same design with one thing
changed: shown in metric units, a key or an item taken out, an amount half as large or half as large again, another
use.

``python tests/findings.py [RULE ...]`` writes the files anew. They are expected values once a person has read what
changed in them and worked the arithmetic of it again: read the difference before you commit it.
"""

from __future__ import annotations

import copy
import re
import sys
import tempfile
import textwrap
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from checkout import ROOT
from example_reviews import IN_FORCE, RULES, TODAY, drawing_in, example
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan, Spot
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook.remedy import Append, Drop, Edit, Write
from slabwright.rulebook.rule import Rule
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError
from slabwright.text.words import plain, written
from slabwright.units.quantity import Amount, System, show, written_out
from turning import Drawing, decimal

FOLDER = ROOT / "tests" / "data" / "findings"
STAY = ("format", "job", "units", "points", "outline", "use")  # keys that every design needs
DEEPEST = 3  # keys under keys that are taken out: joints, joints[0], joints[0].depth
USES = ("walk", "driveway", "garage floor", "shop floor")
HEIGHT = 20.0  # a bare number above this is a height, moved up and down instead of made half as large
Keys = tuple[str | int, ...]


def file_of(rule: Rule) -> Path:
    """Where the texts of a rule are kept."""
    return FOLDER / f"{rule.name}.txt"


def text_of(rule: Rule) -> str:
    """All that a rule says of its examples, whole and with one thing changed; changes that come to the same together.

    A change after which the design can no longer be read is left out.
    """
    parts: list[str] = []
    for path in sorted(example(rule.name, "meets").parent.glob("*.slab.yaml")):
        case = path.name.removesuffix(".slab.yaml")
        (_, whole), *changed = ((change, outcome(*read, rule)) for change, *read in planned(path))
        said: dict[str, list[str]] = {whole: []}
        for change, text in changed:
            said.setdefault(text, []).append(change)
        alike = said.pop(whole)
        parts += [f"# {case}", "", whole, ""]
        for text, together in said.items():
            parts += [*_heading(f"{case},", together), "", text, ""]
        parts += [*_heading(f"{case} as above,", alike), ""] if alike else []
    return "\n".join(parts)


def planned(path: Path) -> tuple[tuple[str, Plan, tuple[Problem, ...]], ...]:
    """An example as it stands, then with each change after which it can be read: the change, plan, and questions."""
    drawing, found = drawing_in(path), []
    with tempfile.TemporaryDirectory() as folder:
        for change, changed in (("", drawing), *changes(drawing)):
            try:
                design, questions = read_design(changed.write(Path(folder)))
            except UnreadableError:
                continue
            found.append((change, Plan(design), tuple(questions)))
    return tuple(found)


def _heading(case: str, together: list[str]) -> list[str]:
    return textwrap.wrap(f"## {case} {', '.join(together)}", 118, subsequent_indent="   ", break_long_words=False)


# changes to a design


def changes(drawing: Drawing) -> Iterator[tuple[str, Drawing]]:
    """The design with one thing changed, and what that is."""
    yield "in metric", _with(drawing, ("units", "show"), lambda shown: "metric")
    for use in USES:
        yield f"use {use}", _with(drawing, ("use",), lambda _, use=use: use)
    for keys, value in _parts(drawing.data):
        if len(keys) <= DEEPEST:
            yield f"without {_dotted(keys)}", _with(drawing, keys, None)
        if isinstance(value, str) and (found := re.fullmatch(r"(-?[\d.]+)(?:/(\d+))?(\s.*|)", value)):
            number, unit = float(found[1]) / float(found[2] or 1), found[3]
            shifted = not unit and number > HEIGHT
            for other in (number - 0.1, number + 0.1) if shifted else (number * 0.5, number * 1.5):
                text = f"{decimal(other)}{unit}"
                yield f"{_dotted(keys)} {text}", _with(drawing, keys, lambda _, text=text: text)


def _parts(data: Any, above: Keys = ()) -> Iterator[tuple[Keys, Any]]:
    """Every key and item of a design with what it holds; the outline, points and places on the plan stay."""
    entries = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, inner in entries:
        if (not above and key in STAY) or (above and isinstance(data, list) and not isinstance(inner, dict)):
            continue
        yield (*above, key), inner
        yield from _parts(inner, (*above, key))


def _with(drawing: Drawing, keys: Keys, change: Callable[[Any], Any] | None) -> Drawing:
    """The design with one value changed, or left out."""
    data = copy.deepcopy(drawing.data)
    within: Any = data
    for key in keys[:-1]:
        within = within[key]
    if change is None:
        del within[keys[-1]]
    else:
        within[keys[-1]] = change(within.get(keys[-1]) if isinstance(within, dict) else within[keys[-1]])
    return Drawing(data, drawing.readings)


def _dotted(keys: Keys) -> str:
    return "".join(f"[{key}]" if isinstance(key, int) else f".{key}" for key in keys).removeprefix(".")


# what is said of it


def outcome(plan: Plan, questions: tuple[Problem, ...], rule: Rule) -> str:
    """What one rule says of a plan, in lines."""
    report = run.review(plan, (rule,), {rule.name: IN_FORCE[rule.name]}, questions, TODAY)
    lines = list(_lines(report, report.system))
    return "\n".join(lines)


def _lines(report: Report, system: System) -> Iterator[str]:
    for crash in report.crashes:
        yield f"stops: {crash.what}"
    for comment in report.comments:
        yield f"{comment.weight}: {plain(comment.says, system)}"
        yield f"    at {_spot(comment.at)}"
        yield f"    shown {show(comment.shown, system)}, {_asked(comment.limit.name, comment.asked, system)}"
        for step in comment.working:
            numbers = f"{written(step.formula, system)} = {plain(step.numbers, system)} = {show(step.result, system)}"
            yield f"    {step.what}: {numbers}; {step.result.si:.6g}"
        yield f"    to pass: {plain(comment.to_pass, system)}"
        for remedy in comment.remedies:
            yield f"    edits: {'; '.join(_edit(one, system) for one in remedy.edits)}"
    for met in report.met:
        if met.at and met.shown and met.asked and met.limit:
            yield f"met: {_spot(met.at)}"
            yield f"    shown {show(met.shown, system)}, {_asked(met.limit.name, met.asked, system)}"
        else:
            yield "met: nothing to compare"
    for lacking in report.not_shown:
        yield f"not shown: {'; '.join(lacking.add)}"
        yield f"    at {_place(lacking.place)}"
    for other in report.does_not_apply:
        yield f"does not apply: {other.reason}"


def _edit(one: Edit, system: System) -> str:
    """An edit on one line, its numbers as they are written into the file."""
    match one:
        case Write():
            return f"{one.path} = {_value(one.value, system)}"
        case Append():
            return f"{one.path} + {', '.join(f'{key} {_value(value, system)}' for key, value in one.entry)}"
        case Drop():
            return f"{one.path} left out"


def _value(value: object, system: System) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(_value(part, system) for part in value)}]"
    return written_out(value, system) if isinstance(value, Amount) else str(value)


def _asked(limit: str, asked: Amount, system: System) -> str:
    return f"asked {show(asked, system)} ({limit})"


def _spot(at: Spot) -> str:
    shape = " ".join(f"({x:.4g}, {y:.4g})" for x, y in at.shape)
    return f"{at.name} {_place(at.place)}" + (f" {shape}" if shape else "")


def _place(place: Place) -> str:
    return f"[{place.path}]" if place.path else "[the file]"


def write(names: Sequence[str] = ()) -> None:
    """Write the texts of the rules named anew, or all, and take away those of rules that are no longer there."""
    FOLDER.mkdir(exist_ok=True)
    for path in FOLDER.glob("*.txt"):
        if path.stem not in {rule.name for rule in RULES}:
            path.unlink()
    for rule in RULES:
        if not names or rule.name in names:
            file_of(rule).write_text(text_of(rule), encoding="utf-8")


if __name__ == "__main__":
    write(sys.argv[1:])
