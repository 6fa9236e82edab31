"""The pages of ``docs`` made from the rules, the sources and the schema: ``python -m slabwright.writers.pages docs/``.

They are committed; a test compares them with what is written here, so that they never fall behind.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from pathlib import Path
from typing import Any

from slabwright.design.uses import COUNTS_AS
from slabwright.rulebook import limits, loading
from slabwright.rulebook import sources as bibliography
from slabwright.rulebook.in_force import InForce, Limits
from slabwright.rulebook.rule import Rule
from slabwright.rulebook.sources import Bibliography, Source
from slabwright.source import locate
from slabwright.text.words import written
from slabwright.units.quantity import Amount, Kind
from slabwright.writers.rule_pages import both, paragraphs, worked_again

MADE = (
    "<!-- Written by `python -m slabwright.writers.pages docs/`; "
    "change the rules, the sources or the schema instead. -->"
)

NOT_LOOKED_FOR = "not looked for yet"
_KNOWN = {
    "read": "read in the document or a copy of it",
    "quoted": "read in another work that names the document",
    "recalled": "from memory, not checked against the document",
    "practice": "common practice, no standard behind it",
    "derived": "geometry or arithmetic",
}


def pages() -> dict[str, str]:
    """Every written page: file name under ``docs`` and its text."""
    rules = loading.load_rules()
    in_force = limits.resolve(rules)
    sources = bibliography.load()
    schema = json.loads((locate.folder("schemas") / "design.schema.json").read_text(encoding="utf-8"))
    return {
        "rulebook.md": rulebook(rules, in_force, sources),
        "limits.md": limits_page(rules, in_force),
        "sources.md": sources_page(sources, rules),
        "design-file.md": design_file(schema),
    }


def rulebook(rules: Sequence[Rule], in_force: Mapping[str, Limits], sources: Bibliography) -> str:
    """Every rule's page, by group."""
    lines = [
        MADE,
        "",
        "# Rulebook",
        "",
        "Every published rule, by group: what is compared, why, when it does not apply, how to put a shortfall right,",
        "the limits, and numbers, printed or by hand, worked again by the rule's own formula. A limit that is common",
        "practice or recalled says so. The adopted local code and licensed practice govern.",
        "",
    ]
    for group, members in groupby(rules, key=lambda rule: rule.group):
        in_group = list(members)
        lines += [f"- **{group}**: " + ", ".join(f"[{rule.name}](#{rule.name})" for rule in in_group)]
    for group, members in groupby(rules, key=lambda rule: rule.group):
        lines += ["", f"## {group.capitalize()}"]
        for rule in members:
            lines += ["", *rule_page(rule, in_force[rule.name], sources), *_examples(rule)]
    return "\n".join(lines) + "\n"


def rule_page(rule: Rule, in_force: Limits, sources: Bibliography) -> Iterator[str]:
    """One rule's page, as lines of Markdown."""
    yield from (f"### {rule.name}", "", f"**{_text(rule.title)}**", "")
    if rule.summary:
        yield from (_text(rule.summary), "")
    for heading, text in rule.page.items():
        yield from (f"#### {heading}", "")
        for paragraph in paragraphs(text):
            yield from (_text(paragraph), "")
    yield from ("#### Limits", "")
    yield from _table(("limit", "value", "weight", "source"), (_limit_row(limit) for limit in in_force.values()))
    if rule.worked:
        yield from ("", "#### Numbers worked again", "")
        parts = ("what", "printed", "ours", "source")
        rows = (tuple(_text(one[part]) for part in parts) for one in worked_again(rule, sources))
        yield from _table(("what", "printed, or by hand", "worked", "source"), rows)


def _examples(rule: Rule) -> Iterator[str]:
    folder = f"../example_designs/rules/{rule.name}"
    yield from (
        "",
        f"Smallest designs: [meets]({folder}/meets.slab.yaml), [falls short]({folder}/falls_short.slab.yaml)",
    )


def _limit_row(limit: InForce) -> tuple[str, ...]:
    value = f"at {limit.direction} {both(limit.value)}"
    return (_text(written(limit.meaning, None)), _text(value), limit.weight, _text(limit.citation))


def limits_page(rules: Sequence[Rule], in_force: Mapping[str, Limits]) -> str:
    """Every limit in one table, with the name local amendments set it by."""
    rows = [
        (
            rule.group,
            f"[{rule.name}](rulebook.md#{rule.name})",
            f"`{limit.name}`",
            *_limit_row(limit),
            _sane(rule, limit),
        )
        for rule in rules
        for limit in in_force[rule.name].values()
    ]
    lines = [
        MADE,
        "",
        "# Limits",
        "",
        "Every number a rule compares with, as published. Local amendments set them by rule and limit, inside the sane",
        "range; a report names who set a limit, and marks one that is looser than published.",
        "",
        "A slab is called by the name that `use` gives it, and takes the limits of one of the uses that rules know:",
        "",
        *_table(("use", "takes the limits of"), [(called, use) for called, use in COUNTS_AS.items() if called != use]),
        "",
        "A pool deck has `pool_deck_at_most` of its own.",
        "",
        *_table(("group", "rule", "limit", "what it is", "value", "weight", "source", "sane range"), rows),
    ]
    return "\n".join(lines) + "\n"


def _sane(rule: Rule, limit: InForce) -> str:
    least, most = next(one.sane for one in rule.limits if one.name == limit.name)
    return _text(f"{least} to {most}")


def sources_page(sources: Bibliography, rules: Sequence[Rule]) -> str:
    """Every source: how it is cited, what it is, how its figures are known, which rules stand on it."""
    users: dict[str, list[str]] = {}
    for rule in rules:
        cites = {limit.cite.source for limit in rule.limits} | {worked.cite.source for worked in rule.worked}
        for key in cites:
            users.setdefault(key, []).append(rule.name)
    rows = [
        (
            _text(source.label),
            _text(", ".join(part for part in (source.title, source.publisher, source.edition) if part)),
            _text(source.known + _how(source)),
            ", ".join(f"[{name}](rulebook.md#{name})" for name in sorted(users.get(key, []))) or "formulas and checks",
            f"`{key}`",
        )
        for key, source in sources.items()
    ]
    lines = [
        MADE,
        "",
        "# Sources",
        "",
        "The documents behind the numbers, and how each figure is known:",
        "",
        *(f"- **{known}**: {meaning}" for known, meaning in _KNOWN.items()),
        "",
        "Figures that are recalled or practice set cautions and defaults; they are not printed as a requirement.",
        "A document known in several ways has an entry for each.",
        "",
        *_table(("cited as", "what it is", "how known", "used by", "key"), rows),
    ]
    return "\n".join(lines) + "\n"


def _how(source: Source) -> str:
    """Where a figure was read, or looked for in vain."""
    if source.searched:
        return f"; looked for: {source.searched}" if source.searched != NOT_LOOKED_FOR else f"; {NOT_LOOKED_FOR}"
    return f", via {source.via}" if source.via else ""


_PARTS = """
### Parts of different thickness

One file may hold a terrace with a ramp, a walk with a landing, a drive whose apron is thicker. Each part is an area
with a use, thickness, form board or steel of its own; what it leaves out, and all that no part covers, is as in the
rest of the file.

```yaml
parts:
  - {name: apron, corners: [A, B, Q, P], thickness: 7 in, taper: 2 ft, form_board: 2x8}
  - {name: path, corners: [T, R, S, C], use: walk, thickness: 4 in, reinforcement: none}
```

- **Corners** lie on the outline or inside it; parts do not overlap, and two that meet name the same corners. Openings
  in them stay open.
- **Each is judged by its own limits**: a panel by the thinnest part in it, a joint by the thickest part it runs
  through or between, the least thickness, the falls, the joints of a walk and the wheels by the use of the part,
  stone, cover and spacing of steel by its thickness. Edits that a review proposes go to the line of the part.
- **Where the thickness changes** set a joint, or write a `taper`: over that length the thicker side thins out into
  the thinner one, beyond the corners of the part. With neither, `thickness-change` speaks. A taper of ten times the
  step is common practice.
- **Base shots** are those of the base as dug. Between them the base steps, or rises over the taper, where the parts
  say so; a shot on the very line belongs to the side whose thickness is nearer to the depth found there.
- **Two levels**, with a riser or a flight between them, are no parts but two files: in each of them the other level is
  an edge with `planned_step: true` and its `ground`, and the flight stands under `thickness`, `steps` of the file it is
  poured with.
- **A thickened edge** keeps its whole depth in every part that it runs through.
- **The sheets** list the concrete by part, the pins at corners of parts, and the base under each at its own depth;
  where two meet, the deeper counts. `draw` shows parts and tapers dashed, and a section shows the change.
- `propose joints` takes bays as the thinnest part asks, and cuts as the thickest does; it sets no joint for a change
  of thickness. Fiber is that of the file: it is in all of the concrete.

[A whole job in parts](../example_designs/jobs/toll_house_drive.slab.yaml) is among the examples.
"""
_MORE = {"parts": _PARTS.splitlines()}


def design_file(schema: Mapping[str, Any]) -> str:
    """Every key of a design file: what it means, an example, and the kind of quantity it takes."""
    lines = [
        MADE,
        "",
        "# The design file",
        "",
        _text(schema["description"]),
        "",
        "By custom a design is a `.slab.yaml` file. An editor that knows JSON Schema completes and explains every",
        "key from `schemas/design.schema.json`. In the tables `[]` stands for one entry of a list; keys in **bold**",
        "may not be left out where their section is written. [A first design](first-design.md) is made step by step.",
    ]
    for key, part in schema["properties"].items():
        lines += ["", f"## {key}", ""]
        lines += _table(
            ("key", "what it says", "takes", "example"), _keys(schema, part, key, key in schema["required"])
        )
        lines += _MORE.get(key, ())
    lines += [
        "",
        "## Quantities",
        "",
        "How a value of each kind is shown, inch units first; either system may be typed.",
        "",
    ]
    lines += _table(("kind", "shown"), ((kind.value, _text(both(Amount(_SAMPLE[kind], kind)))) for kind in Kind))
    return "\n".join(lines) + "\n"


_SAMPLE: dict[Kind, float] = {
    Kind.LENGTH: 3.81, Kind.DEPTH: 0.127, Kind.HEIGHT: 30.44952, Kind.SLOPE: 1 / 48, Kind.ANGLE: 60.0, Kind.AREA: 89.2,
    Kind.VOLUME: 9.2, Kind.SMALL_VOLUME: 0.05, Kind.STRESS: 27.6e6, Kind.PRESSURE: 448e3, Kind.SUBGRADE: 40.7e6,
    Kind.FORCE: 31.1e3, Kind.LINE_LOAD: 6.2e3, Kind.MASS: 45.4, Kind.UNIT_WEIGHT: 1780.0, Kind.TEMPERATURE: 12.8,
    Kind.SPEED: 6.7, Kind.PLACING_RATE: 0.0043, Kind.COVERAGE: 4909.0, Kind.EVAPORATION: 0.00027,
    Kind.DURATION: 28800.0, Kind.STEEL_AREA: 2.8e-4, Kind.SHARE: 0.06, Kind.RATIO: 0.45, Kind.COUNT: 3.0,
}  # fmt: skip


def _keys(schema: Mapping[str, Any], part: Mapping[str, Any], path: str, must: bool) -> Iterator[tuple[str, ...]]:
    """One row for a key, then one for every key below it."""
    whole = _resolved(schema, part)
    name = f"**`{path}`**" if must else f"`{path}`"
    example = json.dumps(whole["examples"][0], ensure_ascii=False) if whole.get("examples") else ""
    yield (name, _text(whole.get("description", "")), _takes(schema, whole), _code(example) if example else "")
    yield from _below(schema, whole, path)


def _below(schema: Mapping[str, Any], whole: Mapping[str, Any], path: str) -> Iterator[tuple[str, ...]]:
    for key, child in whole.get("properties", {}).items():
        yield from _keys(schema, child, f"{path}.{key}", key in whole.get("required", ()))
    if isinstance(whole.get("items"), dict):
        yield from _below(schema, _resolved(schema, whole["items"]), f"{path}[]")
    seen: set[str] = set()
    for choice in whole.get("anyOf", ()):
        for row in _below(schema, _resolved(schema, choice), path):
            key = row[0].replace("[]", "")  # a list of what may stand alone too is told once
            if key not in seen:
                seen.add(key)
                yield row


def _resolved(schema: Mapping[str, Any], part: Mapping[str, Any]) -> dict[str, Any]:
    """A part with what its ``$ref`` says; its own words win."""
    if "$ref" not in part:
        return dict(part)
    target: Any = schema
    for key in part["$ref"].removeprefix("#/").split("/"):
        target = target[key]
    return {**_resolved(schema, target), **{key: value for key, value in part.items() if key != "$ref"}}


_PLAIN = {"string": "text", "integer": "a whole number", "number": "a number", "boolean": "true or false",
          "object": "a section", "array": "a list"}  # fmt: skip


def _takes(schema: Mapping[str, Any], whole: Mapping[str, Any]) -> str:
    """What may be written under a key, in words."""
    if "const" in whole:
        return f"`{json.dumps(whole['const'])}`".replace('"', "")
    if "enum" in whole:
        return ", ".join(f"`{value}`" for value in whole["enum"])
    if "quantity" in whole:
        bare = f", or a bare number in the {whole['bare']} unit" if "bare" in whole else ""
        between = whole.get("between")
        return f"{whole['quantity']}{bare}" + (f"; {between[0]} to {between[1]}" if between else "")
    if "anyOf" in whole:
        choices = dict.fromkeys(_takes(schema, _resolved(schema, choice)) for choice in whole["anyOf"])
        return ", or ".join(choices)
    if whole.get("names"):
        return f"the name of a {whole['names']}"
    if whole.get("format") == "date":
        return "a date, year-month-day"
    if "file" in whole:
        return f"the name of a file of {whole['file']}"
    kinds = whole.get("type", "object")
    if kinds == "array" and isinstance(whole.get("items"), dict):
        return f"a list; each {_takes(schema, _resolved(schema, whole['items']))}"
    if kinds == "object" and isinstance(whole.get("additionalProperties"), dict):
        return f"names, and for each {_takes(schema, _resolved(schema, whole['additionalProperties']))}"
    return " or ".join(_PLAIN[kind] for kind in ([kinds] if isinstance(kinds, str) else kinds))


def _table(heads: Sequence[str], rows: Iterator[tuple[str, ...]] | Sequence[tuple[str, ...]]) -> Iterator[str]:
    yield f"| {' | '.join(heads)} |"
    yield "|" + "---|" * len(heads)
    for row in rows:
        yield f"| {' | '.join(_cell(cell) for cell in row)} |"


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


def _text(text: str) -> str:
    """Plain words as Markdown shows them: nothing becomes a tag or emphasis, and what stands in backticks is code."""
    pieces = " ".join(text.replace("\u00a0", " ").split()).split("`")
    if len(pieces) % 2 == 0:
        return _plain("`".join(pieces))
    return "".join(_code(piece) if inside % 2 else _plain(piece) for inside, piece in enumerate(pieces))


def _plain(words: str) -> str:
    return "".join(f"\\{letter}" if letter in "\\`*_[]" else "&lt;" if letter == "<" else letter for letter in words)


def _code(text: str) -> str:
    """Words set as code."""
    return f"`{text}`" if "`" not in text else f"`` {text} ``"


def write(folder: Path) -> None:
    """Write every page into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in pages().items():
        (folder / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
