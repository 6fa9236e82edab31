"""What every rule says of its examples: the whole text of each finding, and arithmetic that comes out as printed."""

from __future__ import annotations

import math
import re

import findings
import pytest
from example_reviews import DESIGNS, RULES, review_of
from slabwright.rulebook.rule import Rule
from slabwright.text.words import Step, written
from slabwright.units.quantity import Amount, Kind


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_rule_says_what_is_expected_of_its_examples(rule: Rule) -> None:
    expected = findings.file_of(rule).read_text(encoding="utf-8")
    assert findings.text_of(rule) == expected, "read what changed, then run: python tests/findings.py"


def test_every_text_belongs_to_a_rule() -> None:
    assert {path.stem for path in findings.FOLDER.iterdir()} == {rule.name for rule in RULES}


# Steps that name a formula or a table instead of writing it out; the published checks and the tests of the formulas
# hold those.
BY_NAME = {
    "for the thickness", "200 psi for 8.33 lb/yd3", "8.33 lb/yd3 for an inch of slump", "length of the open edges",
    "length of all joints meant to crack", "length of the open joints", "spacing x area of the thinner bar / area",
    "1.5 L w / (2 fs)", "rate / 1.77 ft3 / hands",
    "(Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 10^-6, °F and mph", "0.315 (e0 - ea)(0.253 + 0.060 V), kPa and km/h",
    "0.445 (e0 - ea)(0.253 + 0.0966 V), psi and mph",
    "triangular gutter, Manning", "width x cross slope", "12.8 r t^2 (k / (19,000 r t^3))^0.25, psi, in and pci",
    "0.803 P/h2 (4 log(l/a) + 0.666 a/l - 0.034)", "area x thickness x 140 lb/ft3",
}  # fmt: skip
FOOT, INCH, POUND = 0.3048, 0.0254, 0.45359237  # NIST Handbook 44, appendix C
WRITTEN = {  # what stands in a line beside numbers with units
    "8 ft": repr(8 * FOOT), "4 in": repr(4 * INCH), "4050 lb/yd3": repr(4050 * POUND / (3 * FOOT) ** 3),
    " squared": " ** 2", " x ": " * ", "up ": "",
}  # fmt: skip


def worked(step: Step) -> float:
    """The numbers of a step put together as its line says, in SI; what is counted is counted up.

    A share in brackets tells where a number is from.
    """
    line = re.sub(r" \(\{\w+\}\)", "", written(step.numbers.template, "us"))
    for word, sign in WRITTEN.items():
        line = line.replace(word, sign)
    values = {"pi": math.pi} | {
        name: value.si for name, value in step.numbers.values.items() if isinstance(value, Amount)
    }
    first, *most = [
        eval(part, {"pi": math.pi}, values) for part in re.sub(r"\{(\w+)\}", r"(\1)", line).split(", at most ")
    ]
    return min(math.ceil(first) if step.result.kind is Kind.COUNT else first, *most, math.inf)


def test_the_numbers_of_every_step_come_to_its_result() -> None:
    steps = [
        (f"{comment.rule}: {step.formula}: {step.numbers.template}", step)
        for path in DESIGNS
        for comment in review_of(path).comments
        for step in comment.working
        if written(step.formula, "us") not in BY_NAME
    ]
    assert len(steps) > 100
    for told, step in steps:
        assert worked(step) == pytest.approx(step.result.si, rel=1e-9), told
