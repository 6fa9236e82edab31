"""The published numbers in ``tests/data/checks.yaml``: read, worked again with our formulas, compared, and listed.

``python tests/published.py`` writes ``docs/published-checks.md`` from the checks that the tests run.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import pint
import yaml
from checkout import ROOT

CHECKS = ROOT / "tests" / "data" / "checks.yaml"
PAGE = ROOT / "docs" / "published-checks.md"

G = 9.80665  # m/s2: sources that print forces as weights use pounds and kilograms

# How the sources write their units, in pint's words; a unit not named here is pint's own.
_UNITS = {
    "-": "dimensionless", "deg": "dimensionless", "%": "percent",
    "in/ft": "inch / foot", "acre": "43560 * foot ** 2",
    "in2/ft": "inch ** 2 / foot", "in2": "inch ** 2", "mm2": "mm ** 2", "cm2": "cm ** 2",
    "ft2": "foot ** 2", "mi2": "mile ** 2", "ft3": "foot ** 3", "yd3": "yard ** 3", "yd3 bank": "yard ** 3",
    "yd3 loose": "yard ** 3", "yd3 compacted": "yard ** 3", "gal": "gallon", "gpm": "gallon / minute",
    "ft3/s": "foot ** 3 / s", "m3/s": "m ** 3 / s", "in/h": "inch / hour",
    "pci": "pound_force / inch ** 3", "MN/m3": "MN / m ** 3", "lb/ft": "pound / foot", "lb/ft2": "pound / foot ** 2",
    "lb/ft3": "pound / foot ** 3", "lb/yd3": "pound / yard ** 3", "kg/m3": "kg / m ** 3",
    "lb/100 ft2": "0.01 * pound / foot ** 2", "lb": "pound", "ton": "US_ton",
    "kg/cm2": "kg / cm ** 2", "kg/cm3": "kg / cm ** 3", "lb/ft2/h": "pound / foot ** 2 / hour",
    "kg/m2/h": "kg / m ** 2 / hour", "1/degF": "1 / delta_degF", "m/s2": "m / s ** 2",
    "gal/yd3": "gallon / yard ** 3", "ft3/yd3": "foot ** 3 / yard ** 3", "ft2/yd3": "foot ** 2 / yard ** 3",
    "ft2/gal": "foot ** 2 / gallon",
}  # fmt: skip
_TEMPERATURES = ("degF", "degC")
_DIFFERENCES = ("dT", "drop_24h")  # temperatures that are differences
_NUMBER = re.compile(r"(-?\d+(?:\.\d+)?) (\S.*)")


@cache
def _factor(unit: str) -> float:
    """What one ``unit`` is in SI base units; the registry is pint's own, not the program's."""
    return float(_registry().parse_expression(_UNITS.get(unit, unit)).to_base_units().magnitude)


@cache
def _registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


def to_si(value: float, unit: str, name: str = "") -> float:
    """A value in SI: temperatures in deg C (differences in K), angles in degrees as they are."""
    if unit not in _TEMPERATURES:
        return value * _factor(unit)
    if name in _DIFFERENCES:
        return value * (5 / 9 if unit == "degF" else 1)
    return (value - 32) * 5 / 9 if unit == "degF" else value


def from_si(value: float, unit: str, name: str = "") -> float:
    """The reverse of :func:`to_si`."""
    if unit not in _TEMPERATURES:
        return value / _factor(unit)
    if name in _DIFFERENCES:
        return value * (9 / 5 if unit == "degF" else 1)
    return value * 9 / 5 + 32 if unit == "degF" else value


class Inputs:
    """The inputs of one check: ``x("t")`` in SI, ``x.text("bar")`` as written; expected values are out of reach."""

    def __init__(self, written: Mapping[str, str]) -> None:
        self._written = written

    def __call__(self, name: str) -> float:
        found = _NUMBER.fullmatch(self._written[name])
        assert found, f"{name} is no quantity"
        return to_si(float(found[1]), found[2], name)

    def text(self, name: str) -> str:
        """The input as it is written."""
        return self._written[name]


Worked = Mapping[str, float | str]
Adapter = Callable[[Inputs], Worked]


@dataclass(frozen=True)
class Comparison:
    """One expected value of one check, beside ours, both in the unit it is printed in."""

    name: str
    printed: str
    ours: float | str
    unit: str
    within: float

    @property
    def difference(self) -> float:
        """Ours less printed; 0 where both are the same to floating point, or the same word."""
        found = _NUMBER.fullmatch(self.printed)
        if not found or isinstance(self.ours, str):
            return 0.0 if self.ours == self.printed else float("inf")
        gap = self.ours - float(found[1])
        return 0.0 if abs(gap) <= 1e-9 * max(1.0, abs(self.ours)) else gap

    @property
    def agrees(self) -> bool:
        """Whether ours is within the check's tolerance."""
        return abs(self.difference) <= self.within * (1 + 1e-6)


@dataclass(frozen=True)
class Check:
    """One entry of the file."""

    id: str
    family: str
    what: str
    inputs: Mapping[str, str]
    expected: Mapping[str, str]
    tolerance: str
    source: str
    how_known: str
    note: str

    def within(self, name: str, unit: str) -> float:
        """The tolerance of one expected value, in the unit it is printed in; none stated means none."""
        stated = self.tolerance.split(" | ")[0]
        if stated == "exact":
            return 0.0
        found = dict[str, tuple[float, str]]()
        for part in stated.split("; "):
            key, value, *rest = part.split(" ")
            found[key] = (float(value), " ".join(rest))
        most, stated_unit = found.get(name) or found.get("all") or (0.0, unit)
        assert most == 0.0 or stated_unit == unit, f"{self.id}: the tolerance of {name} is in {stated_unit}"
        return most

    def compare(self, worked: Worked) -> Iterator[Comparison]:
        """Every expected value beside ours."""
        for name, printed in self.expected.items():
            ours = worked[name]
            found = _NUMBER.fullmatch(printed)
            if found and not isinstance(ours, str):
                unit = found[2]
                yield Comparison(name, printed, from_si(ours, unit, name), unit, self.within(name, unit))
            else:
                yield Comparison(name, printed, ours, "", 0.0)


# Entries that no formula works: the file that names each compares it with what a rule, a sheet or a reading gives.
WORKED_ELSEWHERE = {
    "wa-trap-2-degrees": "tests/units/test_quantity.py",
    "th-tolerance-4in": "rules/thickness/base_depth.py",
    "th-case-5-cored-3p5": "rules/thickness/base_depth.py",
    "th-edge-125": "tests/rules/thickness/test_thickened_edge_under_wheels.py",
    "jt-302-4in": "rules/joints/panel_spacing.py",
    "jt-table-4in": "rules/joints/panel_spacing.py",
    "re-spacing-cap-3in": "rules/steel/bar_spacing.py",
    "re-spacing-cap-4in": "rules/steel/bar_spacing.py",
    "mx-stone-3p5in": "rules/mix/stone_for_thickness.py",
    "mx-stone-4in": "rules/mix/stone_for_thickness.py",
    "lv-three-rods": "tests/design/test_shots.py",
    "lv-army-m": "tests/design/test_shots.py",
    "lv-trap-8p3": "tests/sheets/test_stake.py",
    "lv-tenths-0p1": "tests/sheets/test_stake.py",
    "lv-tenths-0p2": "tests/sheets/test_stake.py",
    "lv-tenths-0p25": "tests/units/test_display.py",
    "lv-tenths-0p5": "tests/sheets/test_stake.py",
    "lv-racked-20x30": "tests/sheets/test_stake.py",
    "lv-cut": "tests/sheets/test_stake.py",
}


@cache
def checks() -> tuple[Check, ...]:
    """Every entry of the file, in order."""
    return tuple(Check(**entry) for entry in yaml.safe_load(CHECKS.read_text(encoding="utf-8")))


@cache
def worked_by_formulas() -> tuple[Check, ...]:
    """The entries that our formulas work, in order."""
    return tuple(check for check in checks() if check.id not in WORKED_ELSEWHERE)


def adapter_for(check_id: str, adapters: Mapping[str, Adapter]) -> Adapter:
    """The adapter of a check: under its own id, or under the longest beginning of it."""
    return adapters[max((key for key in adapters if check_id.startswith(key)), key=len)]


_FAMILIES = {
    "water": "Water and heights",
    "thickness": "Thickness and load",
    "joints": "Joints",
    "isolation": "Isolation",
    "reinforcement": "Reinforcement",
    "base": "Base and fill",
    "mix": "Mix and exposure",
    "ordering": "Ordering",
    "excavation": "Excavation and hauling",
    "weather": "Weather and curing",
    "leveling": "Leveling and squaring",
    "safety": "Safety",
    "permit": "Permit items",
}
_BY_HAND = "derived"  # known so: geometry or arithmetic
_HEAD = """# Published checks

Numbers that other people have printed, each worked again with the formulas and tables of this program.
{checks} worked examples and table values hold {values} numbers and verdicts; the tests compare every one, within the
tolerance that its print allows (half the last printed digit, unless the entry says otherwise). {printed} of them are
printed somewhere; the {derived} of the last chapter are not: a hand works them, and they hold the arithmetic alone.

*Known* says how the printed number is known. **Read**: in the document or a copy of it. **Quoted**: in another work
that names the document. **Recalled**: from memory, not checked against the document. **Practice**: common practice,
no standard behind it. Where a print is known to be wrong, the exact value stands here and the entry in
`tests/data/checks.yaml` tells what was printed.

This page is written by `python tests/published.py` from the checks that the tests run."""


def page(adapters: Mapping[str, Adapter]) -> str:
    """The whole of ``docs/published-checks.md``."""
    rows: dict[str, list[str]] = {family: [] for family in (*_FAMILIES, _BY_HAND)}
    for check in worked_by_formulas():
        for one in check.compare(adapter_for(check.id, adapters)(Inputs(check.inputs))):
            cells = [check.id, one.name, one.printed, _ours(one), _gap(one), check.source]
            by_hand = check.how_known == _BY_HAND
            rows[_BY_HAND if by_hand else check.family].append(_row(cells if by_hand else [*cells, check.how_known]))
    values, derived = sum(map(len, rows.values())), len(rows[_BY_HAND])
    parts = [_HEAD.format(checks=len(worked_by_formulas()), values=values, printed=values - derived, derived=derived)]
    for family, title in (*_FAMILIES.items(), (_BY_HAND, "Worked by hand")):
        where = ["by hand", "from"] if family == _BY_HAND else ["printed", "source", "known"]
        heads = ["check", "value", where[0], "ours", "difference", *where[1:]]
        parts += [f"\n## {title}\n\n{_row(heads)}", f"|{'---|' * len(heads)}", *rows[family]]
    return "\n".join(parts) + "\n"


def _row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _ours(one: Comparison) -> str:
    """Our value, with enough figures to be told from the printed one if it differs."""
    if isinstance(one.ours, str):
        return one.ours
    if one.difference == 0.0:
        return one.printed
    figures = next(n for n in range(5, 16) if float(f"{one.ours:.{n}g}") != float(one.printed.split(" ")[0]))
    return f"{_plain(one.ours, figures)} {one.unit}"


def _gap(one: Comparison) -> str:
    return "none" if one.difference == 0.0 else f"{_plain(one.difference, 2)} {one.unit}"


def _plain(value: float, figures: int) -> str:
    """A number to so many figures, without an exponent."""
    text = f"{value:.{figures}g}"
    return f"{float(text):.12f}".rstrip("0").rstrip(".") if "e" in text else text


if __name__ == "__main__":
    from published_formulas import ADAPTERS

    PAGE.write_text(page(ADAPTERS), encoding="utf-8")
