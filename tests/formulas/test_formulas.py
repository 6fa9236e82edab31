"""What every formula says of itself, and what it says outside its range."""

from __future__ import annotations

import ast
import importlib
import inspect
import math
import pkgutil
import re
from collections.abc import Callable, Iterator
from functools import cache
from types import ModuleType
from typing import Any

import pytest
from checkout import ROOT
from slabwright import formulas
from slabwright.formulas import (
    OutOfRangeError,
    bars,
    base,
    gutter_flow,
    hauling,
    joints,
    layout,
    loads,
    mix,
    ordering,
    safety,
    slab_stress,
    slopes,
    steel,
    strength,
    subgrade,
    thickness,
    weather,
    within,
)
from slabwright.formulas.units import (
    HOUR,
    INCH,
    PCI,
    PSI,
)
from slabwright.rulebook import sources


def modules() -> Iterator[ModuleType]:
    for found in pkgutil.iter_modules(formulas.__path__):
        if found.name != "units":
            yield importlib.import_module(f"slabwright.formulas.{found.name}")


def public() -> list[tuple[str, Callable[..., Any]]]:
    return [
        (f"{module.__name__.split('.')[-1]}.{name}", function)
        for module in modules()
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    ]


# --- What every formula says of itself ---


@pytest.mark.parametrize(("name", "function"), public(), ids=[name for name, _ in public()])
def test_every_formula_names_its_source_and_shows_a_number(name: str, function: Callable[..., Any]) -> None:
    page = inspect.getdoc(function) or ""
    cited = re.findall(r"^Source: (.*?)(?:\n\n|\Z)", page, re.MULTILINE | re.DOTALL)

    assert len(cited) == 1, f"{name} has one line of sources"
    keys = re.findall(r"`([^`]+)`", cited[0])
    assert keys, f"{name} names a source"
    assert [key for key in keys if key not in sources.load()] == []
    assert ">>> " in page


def test_every_key_named_in_a_comment_is_a_source() -> None:
    known = sources.load()
    for module in modules():
        comments = re.findall(r"#.*", inspect.getsource(module))
        keys = re.findall(r"(?<!`)`([a-z0-9.-]+)`(?!`)", "\n".join(comments))
        assert [key for key in keys if key not in known] == [], module.__name__


def test_importing_every_formula_brings_in_nothing_heavy() -> None:
    for module in modules():
        imported = re.findall(r"^(?:from|import) (\S+)", inspect.getsource(module), re.MULTILINE)
        assert {name.split(".")[0] for name in imported} <= {
            "__future__", "bisect", "collections", "datetime", "itertools", "math", "re", "slabwright", "typing",
        }  # fmt: skip


# --- Every formula has a user ---


# Subjects that the program does not use yet.
def defined(node: ast.stmt) -> set[str]:
    """The names that a statement of a module defines; none for an import."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return {node.name}
    return {one.id for one in ast.walk(node) if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Store)}


def named_in(node: ast.stmt, here: str, imported: dict[str, str]) -> set[str]:
    """What a statement names, as "module.name"; its own parameters and local names hide what is outside."""
    parts = list(ast.walk(node))
    hidden = {one.arg for one in parts if isinstance(one, ast.arg)}
    if isinstance(node, ast.FunctionDef):
        hidden |= {one.id for one in parts if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Store)}
    found = set()
    for one in parts:
        if isinstance(one, ast.Name) and one.id not in hidden:
            found.add(imported.get(one.id, f"{here}.{one.id}"))
        elif isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name) and one.value.id not in hidden:
            found.add(f"{imported.get(one.value.id, one.value.id)}.{one.attr}")
    return found


@cache
def reached() -> frozenset[str]:
    """What the program runs: all that it names outside the formulas, of a rule what judge and its limits lead to."""
    names, todo = dict[str, set[str]](), list[str]()
    for file in (*(ROOT / "checker").rglob("*.py"), *(ROOT / "rules").rglob("*.py")):
        formula, rule = file.parent.name == "formulas", ROOT / "rules" in file.parents
        here, tree = file.stem if formula else str(file), ast.parse(file.read_text(encoding="utf-8"))
        imported = dict[str, str]()
        for one in ast.walk(tree):
            if isinstance(one, ast.ImportFrom) and one.module and one.module.startswith("slabwright.formulas"):
                room = one.module.removeprefix("slabwright.formulas").removeprefix(".")
                imported |= {name.asname or name.name: f"{room}.{name.name}".lstrip(".") for name in one.names}
        for node in tree.body:
            for name in defined(node) or {"a statement"}:
                names.setdefault(f"{here}.{name}", set()).update(named_in(node, here, imported))
                if not formula and (not rule or name in ("judge", "LIMITS")):
                    todo.append(f"{here}.{name}")
    seen = set[str]()
    while todo:
        if (name := todo.pop()) not in seen:
            seen.add(name)
            todo += names.get(name, ())
    return frozenset(seen)


def test_every_formula_is_used_by_the_program() -> None:
    assert [name for name, _ in public() if name not in reached()] == []


# --- Ranges ---

T, K, E = 4 * INCH, 100 * PCI, 4e6 * PSI

REFUSED: list[tuple[Callable[..., Any], tuple[Any, ...], str]] = [
    (slopes.slope, (1.0, 0.0), "run of 0 m (0 ft): this holds above zero"),
    (slopes.fall, (-1.0, 0.01), "run of -1 m (-3.28 ft): this holds from zero up"),
    (
        strength.rupture_modulus,
        (1000 * PSI,),
        "specified strength of 6.89 MPa (1000 psi): this holds from 10.3 MPa (1500 psi) to 82.7 MPa (12000 psi)",
    ),
    (
        slab_stress.stiffness_radius,
        (E, 30 * INCH, K),
        "slab thickness of 762 mm (30 in): this holds from 50.8 mm (2 in) to 610 mm (24 in)",
    ),
    (
        slab_stress.stiffness_radius,
        (E, T, 5 * PCI),
        "subgrade support of 1.36 MN/m3 (5 pci): this holds from 2.71 MN/m3 (10 pci) to 271 MN/m3 (1000 pci)",
    ),
    (slab_stress.stiffness_radius, (E, T, K, 0.6), "Poisson's ratio of 0.6: this holds from 0 to 0.5"),
    (
        slab_stress.corner_stress,
        (1e4, 0.6, 0.2, 1.0),
        "contact radius over radius of relative stiffness of 0.6: this holds from 1e-06 to 0.5",
    ),
    (slab_stress.edge_stress, (0.0, 0.1, 0.1, 0.6), "load of 0 kN (0 lb): this holds above zero"),
    (
        loads.wall_line_load,
        (11 * INCH, 600 * PSI, K),
        "slab thickness of 279 mm (11 in): this holds from 76.2 mm (3 in) to 254 mm (10 in)",
    ),
    (
        loads.wall_line_load,
        (T, 350 * PSI, K),
        "modulus of rupture of 2.41 MPa (350 psi): this holds from 2.76 MPa (400 psi) to 4.83 MPa (700 psi)",
    ),
    (loads.wheel_load, (1.0, 0), "tires on the axle of 0: this holds from 1 to 16"),
    (
        subgrade.support_on_base,
        (100 * PCI, 2 * INCH),
        "granular base of 50.8 mm (2 in): this holds from 102 mm (4 in) to 305 mm (12 in)",
    ),
    (
        thickness.board_depth,
        ("2x2",),
        "no depth is tabled for a 2x2 board: this holds for 2x3, 2x4, 2x6, 2x8, 2x10, 2x12",
    ),
    (joints.dowel_row, (4 * INCH,), "pavement thickness of 102 mm (4 in): this holds from 127 mm (5 in) to 521 mm"),
    (
        bars.bar,
        ("#12",),
        "no bar is called '#12': this holds for #3, #4, #5, #6, #7, #8, #9, #10, #11, 10M, 15M, 20M, 25M",
    ),
    (bars.bar, ("50 mm",), "no bar is called '50 mm'"),
    (bars.bar, ("40.5 mm",), "no bar is called '40.5 mm'"),
    (bars.bar, ("5.5 mm",), "no bar is called '5.5 mm'"),
    (bars.mesh, ("6x4 W2.9",), "no mesh is called '6x4 W2.9': this holds for 6x6 W1.4, 6x6 W2.0"),
    (bars.mesh, ("6x6 W3.0",), "no mesh is called '6x6 W3.0'"),
    (bars.metric_sheet, ("SL99",), "no sheet is called 'SL99': this holds for A142, A193"),
    (bars.wire_area, ("W0.4",), "wire number of 0.4: this holds from 0.5 to 31"),
    (bars.wire_area, ("D4",), "'D4' is no plain wire: this holds for W and a number, such as W2.9"),
    (steel.drag_steel, (8.0, 240.0, 2.8e8, 5.0), "friction of 5: this holds from 0.5 to 3"),
    (
        steel.development_length,
        (1.0 * INCH, 60000 * PSI, 4000 * PSI),
        "bar diameter of 25.4 mm (1 in): this holds from 5.08 mm (0.2 in) to 20.2 mm (0.795 in)",
    ),
    (
        steel.dwelling_lap,
        (0.5 * INCH, 75000 * PSI),
        "yield strength of 517 MPa (75000 psi): this holds from 228 MPa (33000 psi) to 421 MPa (61000 psi)",
    ),
    (
        mix.total_air,
        (0.25 * INCH, "severe"),
        "stone size of 6.35 mm (0.25 in): this holds from 9.52 mm (0.375 in) to 76.2 mm (3 in)",
    ),
    (
        mix.mixing_water,
        (1.5 * INCH,),
        "stone size of 38.1 mm (1.5 in): this holds from 9.52 mm (0.375 in) to 25.4 mm (1 in)",
    ),
    (mix.sulfate_class, (1.5,), "soil sulfate of 150 %: this holds from 0 % to 100 %"),
    (mix.strength_loss, (50.0,), "water added of 50 kg/m3 (84.3 lb/yd3): this holds from 0 kg/m3"),
    (ordering.with_allowance, (1.0, 5.0), "allowance of 500 %: this holds from 0 % to 100 %"),
    (ordering.rounded_up, (1.0, 0.0), "step of 0 m3 (0 yd3): this holds above zero"),
    (gutter_flow.manning, ("polished",), "no roughness is tabled for 'polished': this holds for trowel, float, broom"),
    (gutter_flow.gutter_spread, (-0.1, 0.02, 0.01, 0.016), "flow of -0.1: this holds from zero up"),
    (gutter_flow.runoff, (1.2, 1e-5, 10.0), "runoff coefficient of 1.2: this holds from 0 to 1"),
    (hauling.unit_weights, ("peat",), "nothing is tabled for 'peat': this holds for clay, common earth"),
    (
        weather.evaporation,
        (60.0, 20.0, 0.5, 1.0),
        "concrete temperature of 60 °C (140 °F): this holds from -15 °C (5 °F) to 50 °C (122 °F)",
    ),
    (weather.evaporation, (20.0, 20.0, 50.0, 1.0), "relative humidity of 5000 %: this holds from 0 % to 100 %"),
    (weather.evaporation_menzel, (20.0, 20.0, 0.5, 30.0), "wind speed of 108 km/h (67.1 mph): this holds from 0 km/h"),
    (
        weather.setting_time,
        (4 * HOUR, 21.0, 50.0),
        "temperature of 50 °C (122 °F): this holds from 1.67 °C (35 °F) to 37.8 °C (100 °F)",
    ),
    (
        weather.cold_weather,
        (1.0,),
        "section thickness of 1000 mm (39.4 in): this holds from 50.8 mm (2 in) to 914 mm (36 in)",
    ),
    (layout.instrument_height, (100.0, -0.1), "rod reading of -0.1 m (-0.328 ft): this holds from zero up"),
    (joints.faces_to_isolate, (5,), "confining faces of 5: this holds from 0 to 4"),
    (base.loose_base, (1.0, 2.0), "loose factor of 2: this holds from 1.15 to 1.3"),
    (safety.saw_mask, ("handheld", True, -1.0), "time at the saw of -0.000278 h: this holds from zero up"),
]


@pytest.mark.parametrize(("function", "inputs", "words"), REFUSED)
def test_outside_the_range_is_refused_in_words(
    function: Callable[..., Any], inputs: tuple[Any, ...], words: str
) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        function(*inputs)

    assert str(refused.value).startswith(words)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_formula_takes_what_is_no_number(value: float) -> None:
    for check in (formulas.positive, formulas.not_negative):
        with pytest.raises(OutOfRangeError):
            check("length", value, "m")
    with pytest.raises(OutOfRangeError):
        within("length", value, 0.0, 10.0, "m")


def test_the_ends_of_a_range_are_inside() -> None:
    assert within("t", 4 * INCH, 0.1016, 10 * INCH, "m") == 4 * INCH
    assert within("t", 0.254 * (1 + 1e-12), 4 * INCH, 10 * INCH, "m") == 0.254 * (1 + 1e-12)
    assert within("t", 1e9, 0.0, math.inf) == 1e9
    with pytest.raises(OutOfRangeError, match="from 0 up"):
        within("t", -1.0, 0.0, math.inf)
