"""Adapters for the published checks on water, base, mix, ordering, hauling, weather, levels, safety and permits."""

from __future__ import annotations

from published import Adapter, Inputs, Worked
from slabwright.formulas import base, gutter_flow, hauling, layout, mix, ordering, safety, slopes, weather
from slabwright.formulas.units import FOOT2, HOUR, YARD3
from slabwright.units.quantity import Kind, read


def _valley_saving(x: Inputs) -> Worked:
    width, crossfall = x("width"), x("crossfall")
    return {"one_way_low": slopes.fall(width, crossfall), "valley_low": slopes.fall(width / 2, crossfall)}


def _ratio(x: Inputs) -> Worked:
    return {"slope": read(f"{x('rise'):.0f}:{x('run'):.0f}", Kind.SLOPE).si}


def _clash(x: Inputs) -> Worked:
    drain = read(x.text("drain_slope"), Kind.SLOPE).si
    limit = read(f"1:{x('limit_run_per_rise'):.0f}", Kind.SLOPE).si
    return {"slope": drain, "limit": limit, "margin": limit - drain}


def _v_gutter(x: Inputs) -> Worked:
    cross = gutter_flow.valley_cross_slope(x("Sx1"), x("Sx2"))
    return {"Sx": cross, "T": gutter_flow.gutter_spread(x("Q"), cross, x("SL"), x("manning_n"))}


def _small_runoff(x: Inputs) -> Worked:
    q = gutter_flow.runoff(x("C"), x("i"), x("A"))
    return {"Q": q, "Q_gpm": q}


def _pump_stone(x: Inputs) -> Worked:
    return {"size_to_use": mix.usual_stone(x("line") / 3)}


def _air(x: Inputs) -> Worked:
    return {"severe": mix.total_air(x("stone"), "severe"), "moderate": mix.total_air(x("stone"), "moderate")}


def _slab_and_waste(x: Inputs) -> Worked:
    volume = ordering.slab_volume(x("area"), x("t"))
    return {"volume": volume, "order": ordering.with_allowance(volume, x("waste"))}


def _foundation(x: Inputs) -> Worked:
    total = sum(x(part) for part in ("walls_1", "walls_2", "footing_1", "footing_2", "slab"))
    return {"sum": total, "with_10_pct": ordering.with_allowance(total, 0.10)}


def _foundation_slab(x: Inputs) -> Worked:
    area = x("length") * x("width")
    return {
        "volume_used": ordering.slab_volume(area, x("depth_used")),
        "volume_true": ordering.slab_volume(area, 4 * 0.0254),
    }


def _rectangle(x: Inputs, depth: str) -> Worked:
    return {"volume": ordering.slab_volume(x("length") * x("width"), x(depth))}


def _area_at_depth(x: Inputs) -> Worked:
    volume = ordering.slab_volume(x("area"), x("depth"))
    return {"volume": volume, "yards": volume}


def _pier(x: Inputs) -> Worked:
    one = ordering.cylinder_volume(x("diameter"), x("height"))
    return {"one": one, "ten": one * x("count")}


def _deeper(x: Inputs) -> Worked:
    volume = x("planned") * x("t_actual") / x("t")
    return {
        "loads_planned": ordering.loads(x("planned"), x("truck")),
        "loads": ordering.loads(volume, x("truck")),
    }


def _truck(x: Inputs) -> Worked:
    concrete = ordering.load_mass(x("load"), x("density"))
    return {"concrete": concrete, "total_min": concrete + x("tare_min"), "total_max": concrete + x("tare_max")}


def _swell_ton(x: Inputs) -> Worked:
    return {
        "bank_yards": hauling.volume_of(x("mass"), x("bank")),
        "loose_yards": hauling.volume_of(x("mass"), x("loose")),
        "hauled_per_100": hauling.loose_volume(100 * YARD3, x("bank") / x("loose") - 1),
    }


def _haul_job(x: Inputs) -> Worked:
    shrinkage = hauling.shrinkage(x("bank"), x("compacted"))
    stockpile = x("backfill") / (1 - shrinkage)
    loose = hauling.loose_volume(x("cut") - stockpile, x("bank") / x("loose") - 1)
    return {
        "shrinkage": shrinkage,
        "haul_loose": loose,
        "loads": hauling.trips_by_volume(loose, x("truck")),
    }


def _soil(x: Inputs) -> Worked:
    shrinkage = hauling.shrinkage(x("bank"), x("compacted"))
    return {
        "shrinkage": shrinkage,
        "shrinkage_factor": 1 - shrinkage,
    }


def _tabled_soil(soil: str) -> Adapter:
    """A row of the unit-weight table: ours must hold the weights the check gives, and yield what it prints."""

    def adapter(x: Inputs) -> Worked:
        ours = hauling.unit_weights(soil)
        assert all(abs(weight - x(name)) < 1e-6 for name, weight in ours._asdict().items())
        return _soil(x)

    return adapter


def _trips(x: Inputs) -> Worked:
    bank = ordering.slab_volume(x("area"), x("depth"))
    job = bank, x("swell"), x("bank_weight"), x("box")
    loose = hauling.loose_volume(bank, x("swell"))
    return {
        "bank": bank,
        "loose": loose,
        "mass": hauling.mass_of(bank, x("bank_weight")),
        "trips_by_volume": hauling.trips_by_volume(loose, x("box")),
        "trips_payload_1": hauling.trips(*job, x("payload_1")),
        "trips_payload_2": hauling.trips(*job, x("payload_2")),
    }


def _air_and_wind(x: Inputs) -> tuple[float, float, float, float]:
    return x("Tc"), x("Ta"), x("RH"), x("V")


def _uno(x: Inputs) -> Worked:
    us = weather.evaporation(*_air_and_wind(x))
    return {"E_us": us, "E_converted": us}


def _cold(x: Inputs, thickness: float) -> Worked:
    row = weather.cold_weather(thickness)
    return {
        "placed_and_kept": row.placed_and_kept,
        "mixed_over_30": row.mixed_mild,
        "mixed_0_to_30": row.mixed_freezing,
        "mixed_under_0": row.mixed_bitter,
        "drop_24h": row.drop,
    }


def _setting(x: Inputs) -> Worked:
    at = {f: (f - 32) / 1.8 for f in (50, 90)}
    return {f"at_{f}": weather.setting_time(x("base"), x("at"), celsius) for f, celsius in at.items()}


def _compound(x: Inputs) -> Worked:
    least, most = weather.BROOM_FACTORS
    return {
        "volume": weather.curing_compound(x("area"), x("rate")),
        "broomed_min": weather.curing_compound(x("area"), x("rate"), least),
        "broomed_max": weather.curing_compound(x("area"), x("rate"), most),
    }


def _turning_point(x: Inputs) -> Worked:
    return {"HI": layout.instrument_height(x("BM"), x("BS"))}


def _hub(x: Inputs) -> Worked:
    return {"rod_wanted": layout.grade_rod(layout.instrument_height(0.0, x("rod_hub")), -x("cut"))}


def _pins(x: Inputs) -> Worked:
    hi = layout.instrument_height(x("BM"), x("BS"))
    bottom = x("pin") - x("t")
    return {
        "HI": hi,
        "rod_top": layout.grade_rod(hi, x("pin")),
        "rod_base": layout.grade_rod(hi, bottom),
        "rod_subgrade": layout.grade_rod(hi, bottom - x("base")),
    }


def _mask(factor: int) -> str:
    return f"APF {factor}" if factor else "none"


def _handheld(x: Inputs) -> Worked:
    return {"mask": _mask(safety.saw_mask("handheld", x.text("place") == "outdoors", x("time")))}


GROUND: dict[str, Adapter] = {
    "wa-valley-saving": _valley_saving,
    "wa-valley-cost": lambda x: {"drop": slopes.fall(x("length"), x("valley_slope"))},
    "wa-fall-": lambda x: {"fall": slopes.fall(x("run"), x("slope"))},
    "wa-percent-3-in-36": lambda x: {"slope": slopes.slope(x("rise"), x("run"))},
    "wa-ratio-1-in-": _ratio,
    "wa-irc-5pct": lambda x: {
        "slope": slopes.slope(x("fall"), x("run")),
        "slope_si": slopes.slope(x("fall_si"), x("run_si")),
    },
    "wa-inft-": lambda x: {"slope": read(x.text("slope"), Kind.SLOPE).si},
    "wa-trap-1-in-8": lambda x: {"slope": slopes.slope(x("rise"), x("run"))},
    "wa-clash-quarter-inch": _clash,
    "wa-landing-36": lambda x: {"fall": slopes.fall(x("run"), x("slope"))},
    "wa-wave-": lambda x: {"slope": slopes.slope_of_wave(x("height"), x("wavelength"))},
    "wa-runoff-patio": _small_runoff,
    "wa-gutter-spread-si": lambda x: {
        "T": gutter_flow.gutter_spread(x("Q"), x("Sx"), x("SL"), x("manning_n")),
    },
    "wa-v-gutter": _v_gutter,
    "ba-tons": lambda x: {
        "volume": ordering.slab_volume(x("area"), x("t")),
        "tons": base.base_mass(x("area"), x("t"), x("density")),
    },
    "ba-loose": lambda x: {"loose": base.loose_base(x("compacted"), x("factor"))},
    "mx-air-": _air,
    "mx-pump-": _pump_stone,
    "mx-mixing-water-": lambda x: {"water": mix.mixing_water(x("stone"))},
    "mx-sulfate": lambda x: {f"class_{n}": mix.sulfate_class(x(f"so4_{n}")) for n in range(1, 5)},
    "or-taper-volume-": _slab_and_waste,
    "or-foundation-sum": _foundation,
    "or-foundation-yards": lambda x: {"order": ordering.with_allowance(x("volume"), 0.0)},
    "or-foundation-slab": _foundation_slab,
    "or-60000ft2": lambda x: {"volume": ordering.slab_volume(x("area"), x("t"))},
    "or-1080ft2": lambda x: {"volume": ordering.slab_volume(x("area"), 1 / x("coverage"))},
    "or-720ft2": _area_at_depth,
    "or-1200ft2": lambda x: _rectangle(x, "t"),
    "or-walk-120ft2": lambda x: _rectangle(x, "depth"),
    "or-pier": _pier,
    "or-10x10": _area_at_depth,
    "or-per100-": lambda x: {"volume": ordering.slab_volume(100 * FOOT2, x("t"))},
    "or-9x9": lambda x: _rectangle(x, "t"),
    "or-line-": lambda x: {"volume": ordering.cylinder_volume(x("line"), x("length"))},
    "or-bags-": lambda x: {"bags": ordering.bags(YARD3, x("yield"))},
    "or-17yd-half-inch": _deeper,
    "or-overdig": lambda x: {f"extra_{n}": ordering.slab_volume(x("area"), x(f"deep_{n}")) for n in (1, 2)},
    "or-truck-weight": _truck,
    "or-round-up": lambda x: {"order_rounded": ordering.rounded_up(x("order"), x("step"))},
    "ex-swell-3400": _swell_ton,
    "ex-haul-job": _haul_job,
    "ex-clay": _tabled_soil("clay"),
    "ex-table-earth": _tabled_soil("common earth"),
    "ex-table-sand-gravel": _tabled_soil("sand and gravel"),
    "ex-table-rock": _tabled_soil("blasted rock"),
    "ex-shrink-20": lambda x: {"shrinkage": hauling.shrinkage(x("bank"), x("compacted"))},
    "ex-trips": _trips,
    "ex-broken-slab": lambda x: {"mass": hauling.mass_of(ordering.slab_volume(x("area"), x("t")), x("density"))},
    "ex-10yd-earth": lambda x: {"weight": hauling.mass_of(x("volume"), x("loose"))},
    "we-uno-units": _uno,
    "we-menzel": lambda x: {"E": weather.evaporation_menzel(*_air_and_wind(x))},
    "we-lerch-": lambda x: {"E": weather.evaporation(*_air_and_wind(x))},
    "we-cold-under-12in": lambda x: _cold(x, x("thickness_max") - 0.001),
    "we-cold-12-36in": lambda x: _cold(x, x("thickness_max")),
    "we-setting": _setting,
    "we-cure-gallons": _compound,
    "we-traffic": lambda x: {
        "cars": x("placed") + weather.CAR_TRAFFIC,
        "heavy": x("placed") + weather.HEAVY_TRAFFIC,
    },
    "lv-turning-point": _turning_point,
    "lv-hub": _hub,
    "lv-pins": _pins,
    "lv-square-": lambda x: {"c": layout.diagonal(x("a"), x("b"))},
    "lv-diagonal-20x30": lambda x: {"diagonal": layout.diagonal(x("length"), x("width"))},
    "sf-handheld-saw-": _handheld,
    "sf-walk-behind-saw-outdoors": lambda x: {
        "mask": _mask(safety.saw_mask("walk-behind", x.text("place") == "outdoors", 8 * HOUR)),
    },
    "pm-impervious": lambda x: {"share": layout.impervious_share(x("existing"), x("new"), x("lot"))},
}
