"""The pages on writing a rule and on local amendments: what they show really runs, on a design of their own."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from checkout import ROOT
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import firm, run
from slabwright.review.report import Report
from slabwright.rulebook import limits, loading
from slabwright.rulebook.checking import HEADINGS
from slabwright.rulebook.in_force import LAYERS, WEIGHTS
from slabwright.rulebook.rule import GROUPS, Rule
from slabwright.source.files import FIRM_FILE
from slabwright.units.quantity import Kind, read

DOCS = ROOT / "docs"
RULE_PAGE = (DOCS / "writing-a-rule.md").read_text(encoding="utf-8")
AMENDMENTS_PAGE = (DOCS / "local-amendments.md").read_text(encoding="utf-8")
FAKE_RULES = ROOT / "tests" / "fake_rules"

DESIGN = """
format: 1
job: {{name: Boat shed floor}}
units: {{plan: ft, height: ft}}
use: shop floor
points: {{A: [0, 0], B: [{length}, 0], C: [{length}, 20], D: [0, 20]}}
outline: [A, B, C, D]
thickness: {{design: 6 in}}
"""


def block(page: str, after: str, language: str) -> str:
    """The first block of a language on a page below the words ``after``."""
    found = re.search(rf"{re.escape(after)}.*?```{language}\n(.*?)```", page, re.DOTALL)
    assert found, after
    return found[1]


@pytest.fixture
def own(tmp_path: Path) -> Path:
    folder = tmp_path / "our_rules"
    (folder / "pour").mkdir(parents=True)
    rule = block(RULE_PAGE, "`our_rules/pour/one_day_pour.py`:", "python")
    (folder / "pour" / "one_day_pour.py").write_text(rule, encoding="utf-8")
    sources = block(RULE_PAGE, "`our_rules/sources.yaml`:", "yaml")
    (folder / "sources.yaml").write_text(sources, encoding="utf-8")
    return folder


def the_rule(own: Path) -> Rule:
    (rule,) = (rule for rule in loading.load_rules(own, FAKE_RULES) if rule.own)
    return rule


def reviewed(own: Path, feet: int) -> Report:
    """The review, by the rule of the page alone, of a floor 20 ft wide, 6 in thick and ``feet`` long."""
    design = own.parent / "shed.slab.yaml"
    design.write_text(DESIGN.format(length=feet), encoding="utf-8")
    rule = the_rule(own)
    read_file, questions = read_design(design)
    return run.review(Plan(read_file), [rule], limits.resolve([rule]), questions, date(2026, 5, 1))


def test_the_rule_of_the_page_is_one_of_about_forty_lines(own: Path) -> None:
    rule = the_rule(own)
    assert (rule.name, rule.group, rule.in_force["volume_at_most"].citation) == (
        "one-day-pour", "pour", "our pour log (read)",
    )  # fmt: skip
    assert 35 <= len((own / "pour" / "one_day_pour.py").read_text(encoding="utf-8").splitlines()) <= 50
    (worked,) = rule.worked
    assert worked.ours() == worked.printed.si == 2


def test_the_rule_of_the_page_says_what_falls_short_and_what_would_pass(own: Path) -> None:
    report = reviewed(own, 81)  # 81 ft x 20 ft x 6 in / 324 = 30 yd3: three pours of 10
    (comment,) = report.comments
    assert comment.shown.si == pytest.approx(read("30 yd3", Kind.VOLUME).si)
    assert (comment.working[0].result.si, comment.weight, comment.at.name) == (3, "caution", "slab")
    each = comment.to_pass.values["each"]
    assert getattr(each, "si", None) == pytest.approx(read("10 yd3", Kind.VOLUME).si)
    assert report.crashes == ()


def test_the_rule_of_the_page_is_met_at_its_limit(own: Path) -> None:
    (met,) = reviewed(own, 32).met  # 32 ft: 11.85 yd3
    assert met.slack == pytest.approx(1 - 32 * 20 * 6 / 324 / 12)
    (exact,) = limits.resolve([the_rule(own)])["one-day-pour"].values()
    assert exact.met(read("324 ft3", Kind.VOLUME))  # 12 yd3


def test_the_page_names_groups_and_headings_as_they_are() -> None:
    assert ", ".join(GROUPS[:-1]) + " and drawing" in " ".join(RULE_PAGE.split())
    for heading in HEADINGS:
        assert f"*{heading}*" in " ".join(RULE_PAGE.split())


def test_the_amendments_of_the_page_are_read_and_lie_over_the_published_limit(tmp_path: Path) -> None:
    text = block(AMENDMENTS_PAGE, "`coldwater-ford.yaml`:", "yaml")
    assert len(text.splitlines()) == 10
    file = tmp_path / "coldwater-ford.yaml"
    file.write_text(text, encoding="utf-8")
    rules = loading.load_rules()
    laid = limits.read_amendments(file, rules)
    limit = limits.resolve(rules, [laid])["panel-aspect"].aspect_at_most
    assert (limit.value.si, limit.layer, limit.set_by) == (1.25, "town", "Town of Coldwater Ford")
    assert (limit.citation, limit.looser) == ("Town standard 4.2 (2025)", False)


def test_the_amendments_page_names_layers_and_weights_as_they_are() -> None:
    page = " ".join(AMENDMENTS_PAGE.split())
    assert ", ".join(LAYERS) in page
    assert "`hold`, `caution` or `note`" in page
    assert WEIGHTS == ("hold", "caution", "note")


def test_the_firm_file_of_the_page_names_the_file_of_the_page(tmp_path: Path) -> None:
    amendments = tmp_path / "coldwater-ford.yaml"
    amendments.write_text(block(AMENDMENTS_PAGE, "`coldwater-ford.yaml`:", "yaml"), encoding="utf-8")
    file = tmp_path / FIRM_FILE
    file.write_text(block(AMENDMENTS_PAGE, "## Naming them once", "yaml"), encoding="utf-8")
    assert firm.read(file).amendments == (amendments,)
