"""The pages under docs: those made from rules, sources and schema are up to date; links lead somewhere."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

import pytest
from checkout import ROOT
from slabwright import plan
from slabwright.review.report import Report
from slabwright.rulebook import loading
from slabwright.rulebook import sources as bibliography
from slabwright.source import locate
from slabwright.text.words import written as said_in
from slabwright.units.quantity import Kind
from slabwright.writers import pages

DOCS = ROOT / "docs"
WRITTEN = ("rulebook.md", "limits.md", "sources.md", "design-file.md")


@cache
def written() -> dict[str, str]:
    return pages.pages()


@pytest.mark.parametrize("name", WRITTEN)
def test_committed_page_equals_what_is_written_today(name: str) -> None:
    assert (DOCS / name).read_text(encoding="utf-8") == written()[name], "run: python -m slabwright.writers.pages docs/"


def test_write_makes_exactly_these_files(tmp_path: Path) -> None:
    pages.write(tmp_path / "docs")
    assert {path.name: path.read_text(encoding="utf-8") for path in (tmp_path / "docs").iterdir()} == written()
    assert sorted(written()) == sorted(WRITTEN)


def shown(text: str) -> str:
    """What a reader sees of a page: escapes undone, lines joined."""
    return re.sub(r"\s+", " ", re.sub(r"\\(.)", r"\1", text).replace("&lt;", "<"))


def joined(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()


def test_rulebook_holds_every_rule_with_its_whole_page_and_limits() -> None:
    page = shown(written()["rulebook.md"])
    rules = loading.load_rules()
    assert rules
    for rule in rules:
        assert f"### {rule.name} " in page
        for heading, text in rule.page.items():
            assert f"#### {heading} {joined(text)[:60]}" in page, (rule.name, heading)
        for limit in rule.limits:
            assert f"| {joined(said_in(limit.meaning, None))} | at {limit.direction} " in page
        for worked in rule.worked:
            assert joined(worked.what) in page


def test_limits_page_names_every_limit_as_amendments_write_it() -> None:
    page = written()["limits.md"]
    for rule in loading.load_rules():
        for limit in rule.limits:
            row = next(line for line in page.splitlines() if f"#{rule.name})" in line and f"`{limit.name}`" in line)
            assert limit.weight in row
            assert shown(row).rstrip(" |").endswith(f"{limit.sane[0]} to {limit.sane[1]}")


def test_sources_page_holds_every_source_and_the_rules_that_stand_on_it() -> None:
    page = written()["sources.md"]
    rows = {line.rstrip(" |").rsplit("`", 2)[1]: line for line in page.splitlines() if line.endswith("` |")}
    sources = bibliography.load()
    assert set(rows) == set(sources)
    for rule in loading.load_rules():
        for limit in rule.limits:
            assert f"[{rule.name}](rulebook.md#{rule.name})" in rows[limit.cite.source]
    for key, source in sources.items():
        assert f"| {source.known}" in rows[key]


def schema_keys(node: Any) -> Iterator[str]:
    """Every property name anywhere in a schema."""
    if isinstance(node, dict):
        if isinstance(node.get("properties"), dict):
            yield from node["properties"]
        for value in node.values():
            yield from schema_keys(value)
    elif isinstance(node, list):
        for value in node:
            yield from schema_keys(value)


def test_design_file_page_holds_every_key_of_the_schema() -> None:
    schema = json.loads((locate.folder("schemas") / "design.schema.json").read_text(encoding="utf-8"))
    page = written()["design-file.md"]
    keys = set(schema_keys(schema))
    assert {"outline", "beside", "top_cover", "accepted_by"} <= keys
    for key in keys:
        assert re.search(rf"[`.]{key}`", page), key
    for row in (line for line in page.splitlines() if line.startswith(("| `", "| **`"))):
        cells = re.split(r"(?<!\\)\|", row)
        assert len(cells) == 6, row
        assert all(cell.strip() for cell in cells[1:-1]), row


@pytest.mark.parametrize("path", sorted(DOCS.glob("*.md")), ids=lambda path: path.name)
def test_links_lead_somewhere(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for target in re.findall(r"(?<!!)\[[^\]]+\]\(([^)\s]+)\)", text):
        if target.startswith("http"):
            continue
        file, _, anchor = target.partition("#")
        there = (path.parent / file).resolve() if file else path
        assert there.exists(), f"{path.name}: {target}"
        if anchor:
            heads = re.findall(r"^#+ (.+)$", there.read_text(encoding="utf-8"), re.MULTILINE)
            assert anchor in {head.lower().replace(" ", "-") for head in heads}, f"{path.name}: {target}"


def test_every_promise_of_the_security_page_has_its_tests() -> None:
    tables = re.findall(r"\| promise .*\n\| ---.*\n((?:\|.*\n)+)", (DOCS / "security.md").read_text(encoding="utf-8"))
    promises = [row for table in tables for row in table.splitlines()]
    assert len(promises) >= 15
    for row in promises:
        text, held = "", 0
        for named in re.findall(r"`((?:test_\w+\.py::)?test_\w+)`", row):
            file, _, name = named.rpartition("::")
            text = next((ROOT / "tests").rglob(file)).read_text(encoding="utf-8") if file else text
            held += 1
            assert f"def {name}(" in text, named
        assert held, row


def test_text_cannot_become_markup() -> None:
    assert pages._text("a_b *c* <d> [e] `f` | g") == r"a\_b \*c\* &lt;d> \[e\] `f` | g"
    assert pages._text("a `b_c` d` *e*") == r"a \`b\_c\` d\` \*e\*"
    assert pages._cell(pages._text("a | b")) == r"a \| b"
    assert pages._code("x`y") == "`` x`y ``"


def nomenclature(heading: str) -> list[list[str]]:
    """The rows of one table of the nomenclature page."""
    text = (DOCS / "nomenclature.md").read_text(encoding="utf-8")
    section = text.split(f"## {heading}\n", 1)[1].split("\n## ", 1)[0]
    rows = [line for line in section.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in row.strip("|").split("|")] for row in rows[2:]]


def test_nomenclature_gives_each_kind_one_unit() -> None:
    assert [row[0] for row in nomenclature("Kinds")] == [kind.value for kind in Kind]


def test_nomenclature_names_every_number_of_the_worked_plan() -> None:
    named = {name for row in nomenclature("Names on the worked plan") for name in re.findall(r"`(\w+)`", row[0])}
    modules = [import_module(f"{plan.__name__}.{one.name}") for one in iter_modules(plan.__path__)]
    fields = {
        (name, re.sub(r"<class '(\w+)'>", r"\1", str(getattr(kind, "__forward_arg__", kind))))
        for module in modules
        for called, record in vars(module).items()
        if isinstance(record, type) and issubclass(record, tuple) and not called.startswith("_")
        if record.__module__ == module.__name__
        for name, kind in record.__annotations__.items()
        if name != "corners"
    }
    places = {name for name, kind in fields if kind.startswith("tuple[float, float]")}  # or two numbers
    numbers = {name for name, kind in fields if re.match(r"(float|int|tuple\[float)", kind)} - places
    assert len(numbers) > 25
    assert numbers <= named <= numbers | places


def test_guide_to_a_review_explains_every_heading_of_the_sheet() -> None:
    from slabwright.writers import terminal

    guide = joined((DOCS / "reading-a-review.md").read_text(encoding="utf-8").lower())
    source = Path(terminal.__file__).read_text(encoding="utf-8")
    heads = re.findall(r'page\.heading\(f?"([A-Z ]+)', source)
    labels = re.findall(r'page\.(?:labeled|rows)\("(\w[\w ]*)"', source)
    assert len(heads) >= 8
    for head in heads:
        assert head.strip().lower() in guide, head
    for label in {"where", "shown", "asked", "working", "to pass", "source", "rule"} | set(labels) - {
        "add", "for", "failed", "accepted", "tightest", "met", "and also",
    }:  # fmt: skip
        assert label.lower() in guide, label
    assert set(Report._fields) >= {"comments", "not_shown", "questions"}
