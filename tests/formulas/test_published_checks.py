"""Every published number in ``tests/data/checks.yaml`` against ours; sources stand in the entries themselves."""

from __future__ import annotations

import re

import published
import pytest
from changed import changed as replace
from published import (
    WORKED_ELSEWHERE,
    Check,
    Comparison,
    Inputs,
    adapter_for,
    checks,
    from_si,
    to_si,
    worked_by_formulas,
)
from published_formulas import ADAPTERS
from slabwright.formulas import OutOfRangeError


@pytest.mark.parametrize("check", worked_by_formulas(), ids=lambda check: check.id)
def test_published_number(check: Check) -> None:
    compared = list(check.compare(adapter_for(check.id, ADAPTERS)(Inputs(check.inputs))))

    assert [one.name for one in compared] == list(check.expected)
    for one in compared:
        assert one.agrees, f"{check.source} prints {one.name} = {one.printed}; ours is {one.ours} {one.unit}"


def test_every_entry_is_worked_and_every_adapter_is_used() -> None:
    worked = worked_by_formulas()
    used = {max((key for key in ADAPTERS if check.id.startswith(key)), key=len, default="") for check in worked}

    assert len(worked) == 196
    assert len({check.id for check in checks()}) == len(checks()) == 215
    assert used == set(ADAPTERS)


@pytest.mark.parametrize(("check", "file"), WORKED_ELSEWHERE.items())
def test_what_no_formula_works_is_named_where_it_is_said_to_be(check: str, file: str) -> None:
    assert check in {one.id for one in checks()}
    assert re.search(rf"(?<![\w-]){check}(?![\w-])", (published.ROOT / file).read_text(encoding="utf-8"))


@pytest.mark.parametrize("check", worked_by_formulas(), ids=lambda check: check.id)
def test_a_wrong_number_would_be_noticed(check: Check) -> None:
    """Shift each printed number by twice its tolerance, or change each printed word: the comparison must fail."""
    worked = adapter_for(check.id, ADAPTERS)(Inputs(check.inputs))
    for one in check.compare(worked):
        if isinstance(one.ours, str):
            shifted = f"not {one.printed}"
        else:
            value = float(one.printed.split(" ")[0])
            by = 2.001 * one.within + 1e-6 * max(1.0, abs(value))
            shifted = f"{value + (by if one.difference <= 0 else -by)!r} {one.unit}"
        if "e-" not in shifted:
            changed = replace(check, expected={one.name: shifted})
            assert not next(changed.compare(worked)).agrees, f"{one.name} could be {shifted}"


def _changed(check: Check, name: str, factor: float) -> bool | None:
    """Whether making one input larger or smaller changes anything; None where the formula refuses the other one."""
    written = check.inputs[name]
    value, _, unit = written.partition(" ")
    try:
        other = f"{float(value) * factor + (0 if float(value) else 1):.6f} {unit}"
    except ValueError:
        return None
    adapter = adapter_for(check.id, ADAPTERS)
    try:
        return adapter(Inputs({**check.inputs, name: other})) != adapter(Inputs(check.inputs))
    except (OutOfRangeError, AssertionError, StopIteration):
        return None


# Checks whose answer is a verdict or a step of a table, so that no single input need move it.
_STEPS = (
    "th-form", "jt-330", "jt-dowel-table", "is-cut", "is-confinement", "re-cover", "mx-air",
    "mx-mixing-water", "we-cold", "sf-", "mx-sulfate", "ex-clay", "ex-table", "re-bar", "re-mesh",
    "re-lap",
)  # fmt: skip


@pytest.mark.parametrize(
    "check", [c for c in worked_by_formulas() if not c.id.startswith(_STEPS)], ids=lambda check: check.id
)
def test_ours_is_worked_from_the_inputs(check: Check) -> None:
    answers = [_changed(check, name, factor) for name in check.inputs for factor in (4 / 3, 3 / 4)]

    assert True in answers


def test_the_page_is_what_the_checks_give() -> None:
    assert published.PAGE.read_text(encoding="utf-8") == published.page(ADAPTERS), "run: python tests/published.py"


@pytest.mark.parametrize(
    ("printed", "ours", "within", "agrees"),
    [
        ("8.3 %", 8.333, 0.05, True),
        ("8.3 %", 8.36, 0.05, False),
        ("2 ft", 2.0, 0.0, True),
        ("2 ft", 2.000001, 0.0, False),
        ("yes", "yes", 0.0, True),
        ("yes", "no", 0.0, False),
        ("yes", 1.0, 0.0, False),
        ("1 ft", "yes", 0.0, False),
    ],
)
def test_comparing(printed: str, ours: float | str, within: float, agrees: bool) -> None:
    assert Comparison("x", printed, ours, printed.partition(" ")[2], within).agrees is agrees


@pytest.mark.parametrize(
    ("value", "unit", "si"),
    [  # exact definitions: NIST Handbook 44, appendix C
        (1.0, "ft", 0.3048),
        (1.0, "acre", 4046.8564224),
        (1.0, "gal", 0.003785411784),
        (1.0, "lb", 0.45359237),
        (1.0, "ton", 907.18474),
        (212.0, "degF", 100.0),
        (100.0, "%", 1.0),
    ],
)
def test_units_of_the_checks(value: float, unit: str, si: float) -> None:
    assert to_si(value, unit) == pytest.approx(si, rel=1e-7)
    assert from_si(si, unit) == pytest.approx(value, rel=1e-7)


def test_a_temperature_difference_is_no_temperature() -> None:
    assert to_si(27.0, "degF", "dT") == pytest.approx(15.0)
    assert from_si(15.0, "degF", "drop_24h") == pytest.approx(27.0)
