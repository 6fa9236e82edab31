"""Adapters for the published checks on thickness and load, joints, isolation and reinforcement."""

from __future__ import annotations

from published import Adapter, G, Inputs, Worked
from slabwright.formulas import bars, joints, loads, slab_stress, steel, strength, thickness
from slabwright.formulas.units import INCH, PSI
from slabwright.units.quantity import Kind, read


def yes(answer: bool) -> str:
    return "yes" if answer else "no"


def needed(answer: bool, otherwise: str) -> str:
    return "needed" if answer else otherwise


def _l(x: Inputs) -> float:
    return slab_stress.stiffness_radius(x("E"), x("h"), x("k"), x("nu"))


def _wheel(x: Inputs) -> tuple[float, float, float, float]:
    """Load, contact radius, thickness, radius of relative stiffness."""
    return x("P") * G, x("a"), x("h"), _l(x)


def _stiffness(x: Inputs) -> Worked:
    length, width = sorted((x("length"), x("width")), reverse=True)
    return {"l": _l(x), "length_ratio": length / _l(x), "width_ratio": width / _l(x)}


def _metric_wheel(x: Inputs) -> Worked:
    p, a, h = x("P") * G, x("a"), x("h")
    l = slab_stress.stiffness_radius(x("E") * G, h, x("k") * G, x("nu"))  # noqa: E741 - the source's letter
    return {
        "l": l,
        "b": slab_stress.equivalent_radius(a, h),
        "interior": slab_stress.interior_stress(p, a, h, l) / G,
    }


def _tire_contact(x: Inputs) -> Worked:
    load = loads.wheel_load(x("mass") * x("g"), round(x("tires")))
    pressure = x("pressure") / PSI * 6895.0  # the textbook takes 35 psi as 241,325 Pa
    return {
        "area": loads.contact_area(load, pressure),
        "pressure_for_125_cm2": load / 125e-4,
    }


def _strength_ratio(x: Inputs) -> Worked:
    return {
        "fc_ratio": x("fc_2") / x("fc_1"),
        "capacity_by_thickness": strength.capacity_by_thickness(x("t_1"), x("t_2")),
    }


def _form(x: Inputs) -> Worked:
    depth = thickness.board_depth(x.text("board").split()[0])
    return {"form_depth": depth, "short_by": thickness.short_of(x("t"), depth)}


def _shallow_cut(x: Inputs) -> Worked:
    least = joints.saw_depth(x("t"))
    return {"needed": least, "ok": yes(x("cut") >= least), "share": x("cut") / x("t")}


def _cut_over_strip(x: Inputs) -> Worked:
    least = joints.saw_depth(x("t_strip"))
    return {"needed": least, "ok": yes(x("cut") >= least)}


def _dowel_table(x: Inputs) -> Worked:
    row = joints.dowel_row(x("t"))
    return {
        "diameter_min": row.least_diameter,
        "diameter_max": row.most_diameter,
        "length_min": row.length,
        "spacing_max": row.most_spacing,
    }


def _walk_bays(x: Inputs) -> Worked:
    count = joints.bays(x("length"), x("spacing_max"))
    return {"bays": count, "interior_joints": count - 1, "bay": x("length") / count}


def _confinement(x: Inputs) -> Worked:
    return {f"isolate_{n}": joints.faces_to_isolate(round(x(f"faces_{n}"))) for n in ("two_opposite", "three", "four")}


def _drag(x: Inputs) -> Worked:
    bar = bars.bar("#3")
    return {
        "As": steel.drag_steel(x("L"), x("w"), x("fs"), x("F")),
        "as_3_at_29": steel.steel_area(bar.area, 29 * INCH),
        "as_3_at_18": steel.steel_area(bar.area, 18 * INCH),
    }


def _laps(x: Inputs) -> Worked:
    diameter = bars.bar(x.text("bar")).diameter
    return {f"lap_gr{grade}": steel.dwelling_lap(diameter, grade * 1000 * PSI) for grade in (40, 60)}


def _development(x: Inputs) -> Worked:
    inputs = bars.bar(x.text("bar")).diameter, x("fy"), x("fc")
    return {"ld": steel.development_length(*inputs), "class_b": steel.class_b_lap(*inputs)}


def _bar(x: Inputs) -> Worked:
    bar = bars.bar(x.text("bar"))
    return {
        "diameter": bar.diameter,
        "area": bar.area,
        "weight": bar.mass,
        "mass": bar.mass,
    }


def _mesh(x: Inputs) -> Worked:
    inches = round(x("spacing") / INCH)
    mesh = bars.mesh(f"{inches}x{inches} {x.text('wire')}")
    return {"area": mesh.area, "weight": mesh.mass}


def _cover(x: Inputs) -> Worked:
    assert x.text("code") == "ACI 318-19"
    return {
        "cast_on_ground": steel.least_cover("cast on ground", 0.5 * INCH),
        "weather_6_up": steel.least_cover("weather or ground", bars.bar("#6").diameter),
        "weather_5_down": steel.least_cover("weather or ground", bars.bar("#5").diameter),
        "interior_slab": steel.least_cover("interior slab", 0.5 * INCH),
    }


SLAB: dict[str, Adapter] = {
    "th-wall-": lambda x: {"P": loads.wall_line_load(x("t"), x("MR"), x("k")) / G},
    "th-wall-edge-": lambda x: {"P": loads.wall_line_load_at_edge(x("t"), x("MR"), x("k")) / G},
    "th-stiffness-9in": _stiffness,
    "th-10000lb-stiffness": lambda x: {"l": _l(x), "b": slab_stress.equivalent_radius(x("a"), x("h"))},
    "th-10000lb-corner-1985": lambda x: {"stress": slab_stress.corner_stress(*_wheel(x))},
    "th-10000lb-edge-circle": lambda x: {"stress": slab_stress.edge_stress(*_wheel(x))},
    "th-5100kg": _metric_wheel,
    "th-strength-ratio": _strength_ratio,
    "th-tire-contact": _tire_contact,
    "th-tire-radius": lambda x: {"a": loads.contact_radius(x("P") * G, x("pressure"))},
    "th-dual-axle": lambda x: {"wheel": loads.wheel_load(x("axle") * G, round(x("tires"))) / G},
    "th-rupture-": lambda x: {"MR_7_5": strength.rupture_modulus(x("fc"))},
    "th-form-2x4": _form,
    "th-k-units": lambda x: {"k": read(x.text("k"), Kind.SUBGRADE).si},
    "jt-330-rule-": lambda x: {"max": joints.parking_spacing(x("t"))},
    "jt-depth-6in": lambda x: {"quarter": joints.saw_depth(x("t"))},
    "jt-depth-3-4-in-5in": _shallow_cut,
    "jt-depth-thickened": _cut_over_strip,
    "jt-curl-": lambda x: {"index": joints.curl_index(x("spacing"), x("t"))},
    "jt-panel-ratio": lambda x: {
        "ratio": joints.panel_ratio(x("length"), x("width")),
        "ok": yes(joints.panel_ratio(x("length"), x("width")) <= x("limit")),
    },
    "jt-dowel-table-": _dowel_table,
    "is-cut-2-in-5": lambda x: {"counts": yes(joints.is_full_depth(x("cut"), x("t")))},
    "is-filler-short": lambda x: {
        "ok": yes(joints.is_full_depth(x("filler"), x("t"))),
        "short_by": thickness.short_of(x("t"), x("filler")),
    },
    "is-walk-": _walk_bays,
    "is-confinement": _confinement,
    "re-drag-": _drag,
    "re-lap-": _laps,
    "re-ld-": _development,
    "re-bar-": _bar,
    "re-mesh-": _mesh,
    "re-cover-table": _cover,
    "re-fiber-si": lambda x: {"dose": read(x.text("dose"), Kind.UNIT_WEIGHT).si},
}
