"""What every formula says of itself, and what it says outside its range."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
import re
from collections.abc import Callable, Iterator
from types import ModuleType
from typing import Any

import pytest
from slabwright import formulas
from slabwright.formulas import (
    OutOfRangeError,
    bars,
    base,
    curl,
    dowels,
    gutter_flow,
    hauling,
    isolation,
    joints,
    layout,
    levelling,
    local_limits,
    mix,
    ordering,
    safety,
    slab_stress,
    slopes,
    steel,
    strength,
    subgrade,
    thickness,
    vehicles,
    wall_loads,
    weather,
    within,
)
from slabwright.formulas.units import (
    HOUR,
    INCH,
    PCI,
    PSI,
    YARD3,
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
            "__future__", "bisect", "collections", "datetime", "math", "re", "slabwright", "typing",
        }  # fmt: skip


# --- Ranges ---

T, K, E = 4 * INCH, 100 * PCI, 4e6 * PSI

REFUSED: list[tuple[Callable[..., Any], tuple[Any, ...], str]] = [
    (slopes.slope, (1.0, 0.0), "run of 0 m (0 ft): this holds above zero"),
    (slopes.slope_of_angle, (90.0,), "angle of 90 degrees: this holds from -89.9 degrees to 89.9 degrees"),
    (slopes.fall, (-1.0, 0.01), "run of -1 m (-3.28 ft): this holds from zero up"),
    (slopes.dip_that_ponds, (1.0, -0.01), "slope of -1 %: this holds from zero up"),
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
        wall_loads.wall_line_load,
        (11 * INCH, 600 * PSI, K),
        "slab thickness of 279 mm (11 in): this holds from 102 mm (4 in) to 254 mm (10 in)",
    ),
    (
        wall_loads.wall_line_load,
        (T, 500 * PSI, K),
        "modulus of rupture of 3.45 MPa (500 psi): this holds from 3.79 MPa (550 psi) to 4.83 MPa (700 psi)",
    ),
    (
        wall_loads.wall_thickness_factor,
        (400 * PCI,),
        "subgrade support of 109 MN/m3 (400 pci): this holds from 6.79 MN/m3 (25 pci) to 81.4 MN/m3 (300 pci)",
    ),
    (vehicles.wheel_load, (1.0, 0), "tyres on the axle of 0: this holds from 1 to 16"),
    (vehicles.bridge_formula, (1, 5.0), "axles of 1: this holds from 2 to 9"),
    (
        subgrade.support_on_base,
        (100 * PCI, 2 * INCH),
        "granular base of 50.8 mm (2 in): this holds from 102 mm (4 in) to 305 mm (12 in)",
    ),
    (subgrade.soil_support, ("peat",), "no support is tabled for 'peat': this holds for silt or clay, sand with fines"),
    (thickness.board_depth, ("2x3",), "no depth is tabled for a 2x3 board: this holds for 2x4, 2x6, 2x8, 2x10, 2x12"),
    (
        joints.spacing_range,
        (1 * INCH,),
        "slab thickness of 25.4 mm (1 in): this holds from 50.8 mm (2 in) to 610 mm (24 in)",
    ),
    (
        joints.early_entry_depth,
        (10 * INCH,),
        "slab thickness of 254 mm (10 in): this holds from 50.8 mm (2 in) to 229 mm (9 in)",
    ),
    (
        joints.parking_table_spacing,
        (3.5 * INCH,),
        "slab thickness of 88.9 mm (3.5 in): this holds from 102 mm (4 in) to 305 mm (12 in)",
    ),
    (dowels.dowel_row, (4 * INCH,), "pavement thickness of 102 mm (4 in): this holds from 127 mm (5 in) to 521 mm"),
    (dowels.group_capacity, (0.0, 0.8), "dowel spacing of 0 mm (0 in): this holds above zero"),
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
    (bars.metric_sheet, ("SL99",), "no sheet is called 'SL99': this holds for SL62, SL72, SL82, SL92, SL102"),
    (bars.wire_area, ("W0.4",), "wire number of 0.4: this holds from 0.5 to 31"),
    (bars.wire_area, ("D4",), "'D4' is no plain wire: this holds for W and a number, such as W2.9"),
    (bars.bar_area_metric, (9,), "bar number of 9: this holds from 3 to 8"),
    (steel.drag_steel, (8.0, 240.0, 2.8e8, 5.0), "friction of 5: this holds from 0.5 to 3"),
    (
        steel.development_length,
        (1.0 * INCH, 60000 * PSI, 4000 * PSI),
        "bar diameter of 25.4 mm (1 in): this holds from 9.5 mm (0.374 in) to 19.1 mm (0.751 in)",
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
    (mix.dwelling_strength, ("harsh",), "no strength is tabled for 'harsh': this holds for negligible, moderate"),
    (mix.sulfate_class, (1.5,), "soil sulfate of 150 %: this holds from 0 % to 100 %"),
    (mix.strength_loss, (50.0,), "water added of 50 kg/m3 (84.3 lb/yd3): this holds from 0 kg/m3"),
    (ordering.with_allowance, (1.0, 5.0), "allowance of 500 %: this holds from 0 % to 100 %"),
    (ordering.rounded_up, (1.0, 0.0), "step of 0 m3 (0 yd3): this holds above zero"),
    (ordering.agitator_rating, (8 * YARD3,), "mixer rating of 6.12 m3 (8 yd3): this holds from 7.65 m3 (10 yd3)"),
    (gutter_flow.manning, ("polished",), "no roughness is tabled for 'polished': this holds for trowel, float, broom"),
    (gutter_flow.gutter_flow, (1.0, 0.02, 0.0, 0.016), "slope along the gutter of 0 %: this holds from 0.01 % to 25 %"),
    (gutter_flow.gutter_spread, (-0.1, 0.02, 0.01, 0.016), "flow of -0.1: this holds from zero up"),
    (gutter_flow.runoff, (1.2, 1e-5, 10.0), "runoff coefficient of 1.2: this holds from 0 to 1"),
    (hauling.unit_weights, ("peat",), "nothing is tabled for 'peat': this holds for clay, common earth"),
    (hauling.swell, (0.0, 1.0), "bank weight of 0 kg/m3 (0 lb/yd3): this holds above zero"),
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
    (levelling.instrument_height, (100.0, -0.1), "rod reading of -0.1 m (-0.328 ft): this holds from zero up"),
    (layout.offset, (10.0, 60.0), "angle of 60 degrees: this holds from 0 degrees to 45 degrees"),
    (curl.curl_coefficient, (30.0, 1.0), "panel side over radius of relative stiffness of 30: this holds from 0 to 20"),
    (curl.curl_stress_at_edge, (E, 1e-5, 10.0, 1.5), "curling coefficient of 1.5: this holds from 0 to 1.1"),
    (isolation.faces_to_isolate, (5,), "confining faces of 5: this holds from 0 to 4"),
    (base.loose_base, (1.0, 2.0), "loose factor of 2: this holds from 1.15 to 1.3"),
    (safety.saw_mask, ("handheld", True, -1.0), "time at the saw of -0.000278 h: this holds from zero up"),
    (local_limits.lip_allowed, (-1.0, True), "lip of -1000 mm (-39.4 in): this holds from zero up"),
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
