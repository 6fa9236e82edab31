"""Formulas by their nature: what grows with what, what undoes what, and integrals and coordinates by other ways."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate
from slabwright.formulas import (
    gutter_flow,
    hauling,
    joints,
    layout,
    ordering,
    weather,
)
from slabwright.formulas.units import (
    DAY,
    FOOT,
    HOUR,
    INCH,
    LB_PER_FT2,
    LB_PER_YD3,
    MPH,
    TON,
    YARD3,
)


def test_a_v_section_carries_what_its_two_sides_carry() -> None:
    """Each side integrated in strips by scipy: dQ = (1/n) y^(5/3) SL^0.5 dx; the equation's exponents are rounded."""
    spread, sx1, sx2, sl, n = 2.0, 0.05, 0.02, 0.01, 0.016
    cross = gutter_flow.valley_cross_slope(sx1, sx2)
    deep = spread * cross
    strips = sum(integrate.quad(lambda x, s=s: (s * x) ** (5 / 3) * sl**0.5 / n, 0, deep / s)[0] for s in (sx1, sx2))

    assert gutter_flow.gutter_spread(strips, cross, sl, n) == pytest.approx(spread, rel=0.01)


@given(st.floats(1e-5, 0.1), st.floats(0.005, 0.1), st.floats(0.002, 0.1), st.floats(0.011, 0.02))
def test_spread_grows_with_flow_and_falls_with_slope(q: float, sx: float, sl: float, n: float) -> None:
    spread = gutter_flow.gutter_spread(q, sx, sl, n)

    assert gutter_flow.gutter_spread(2 * q, sx, sl, n) > spread
    assert gutter_flow.gutter_spread(q, sx, 2 * sl, n) < spread
    assert gutter_flow.gutter_depth(spread, sx) == pytest.approx(spread * sx)


temperatures = st.floats(0, 40)


@given(temperatures, temperatures, st.floats(0.05, 0.95), st.floats(0, 12))
def test_evaporation_grows_with_wind_and_heat_and_falls_with_humidity(tc: float, ta: float, r: float, v: float) -> None:
    for rate in (weather.evaporation, weather.evaporation_si, weather.evaporation_menzel):
        base_rate = rate(tc, ta, r, v)
        assert base_rate >= 0.0
        assert rate(tc + 1, ta, r, v) >= base_rate
        assert rate(tc, ta, r + 0.05, v) <= base_rate
        assert rate(tc, ta, r, v + 1) >= base_rate


@pytest.mark.parametrize(("celsius", "kilopascals"), [(0, 0.611), (10, 1.228), (20, 2.339), (30, 4.247), (40, 7.384)])
def test_vapor_pressure_is_that_of_the_steam_tables(celsius: float, kilopascals: float) -> None:
    """Saturation pressures from steam tables."""
    assert weather.vapor_pressure(celsius) / 1000 == pytest.approx(kilopascals, rel=0.005)


@given(st.floats(2, 37), st.floats(2, 37))
def test_setting_slows_in_the_cold(a: float, b: float) -> None:
    cold, warm = sorted((a, b))

    assert weather.setting_time(4 * HOUR, 21.0, cold) >= weather.setting_time(4 * HOUR, 21.0, warm)


def test_cold_weather_rows_meet_at_a_foot() -> None:
    """ACI 306R as in Beall Fig. 3-37 (read): under 12 in, and 12 to 36 in."""
    assert weather.cold_weather(0.3047).placed_and_kept == pytest.approx(12.78, abs=0.01)
    assert weather.cold_weather(12 * INCH).placed_and_kept == pytest.approx(10.0)
    assert weather.FOOT_TRAFFIC == (DAY, 2 * DAY)


@given(st.floats(1e-3, 500), st.sampled_from([0.25 * YARD3, 0.5 * YARD3, 0.1]))
def test_an_order_is_rounded_up_by_less_than_a_step(volume: float, step: float) -> None:
    order = ordering.rounded_up(volume, step)

    assert order >= volume - 2e-6 * step
    assert order < volume + step
    assert order / step == pytest.approx(round(order / step))


@given(st.integers(1, 40), st.floats(0.5, 12))
def test_full_loads_ask_for_no_other_truck(count: int, truck: float) -> None:
    assert ordering.loads(count * truck, truck) == count
    assert ordering.loads(count * truck * 1.01, truck) == count + 1
    assert ordering.bags(count * truck, truck) == count


@given(st.floats(1000, 3000), st.floats(0.05, 0.6), st.floats(1, 500))
def test_bank_and_loose_weigh_the_same(bank_weight: float, swell: float, volume: float) -> None:
    loose_weight = bank_weight / (1 + swell)

    assert hauling.mass_of(hauling.loose_volume(volume, swell), loose_weight) == pytest.approx(bank_weight * volume)


def test_the_usual_swells_lie_in_the_published_ranges() -> None:
    """Peurifoy Table 4-1 (quoted) against the usual values of the estimating table (recalled)."""
    for ours, theirs in (("sand and gravel", "clean sand or gravel"), ("common earth",) * 2, ("clay",) * 2):
        least, most = hauling.SWELL_RANGE[theirs]
        assert least <= hauling.USUAL_SWELL[ours] <= most


def test_weight_and_volume_take_turns_to_govern_the_trips() -> None:
    bank = 14.8 * YARD3
    job = bank, 0.30, 3000 * LB_PER_YD3, 10 * YARD3

    assert [hauling.trips(*job, tons * TON) for tons in (5, 14)] == [5, 2]  # geometry, as in ex-trips


@given(st.floats(2 * INCH, 20 * INCH))
def test_spacing_never_passes_its_cap(t: float) -> None:
    assert 0 < joints.parking_spacing(t) <= 15 * FOOT * (1 + 1e-9)


@given(st.floats(1, 100), st.floats(0.5, 20))
def test_bays_are_the_fewest_that_keep_the_limit(length: float, most: float) -> None:
    count = joints.bays(length, most)

    assert length / count <= most * (1 + 2e-6)
    assert count == 1 or length / (count - 1) > most


@given(st.floats(2, 40), st.floats(2, 40), st.floats(0.001, 0.05))
def test_racked_rectangles_by_their_corners(length: float, width: float, shift: float) -> None:
    """The two diagonals of the parallelogram by coordinates."""
    exact = math.hypot(length + shift, width) - math.hypot(length - shift, width)

    assert layout.racked_shift(length, width, exact) == pytest.approx(shift, rel=0.01)


def test_out_of_square_by_coordinates() -> None:
    """A corner opened by 0.01 rad lengthens its diagonal by L W/(D) x 0.01."""
    length, width, angle = 8.0, 5.0, 0.01
    opened = math.sqrt(length**2 + width**2 - 2 * length * width * math.cos(math.pi / 2 + angle))

    assert layout.out_of_square(length, width, opened - math.hypot(length, width)) == pytest.approx(angle, rel=0.01)


def test_wind_and_heat_of_a_bad_day() -> None:
    """US form by hand at 90 deg F concrete and air, 40 %, 15 mph: (90^2.5)(0.6)(7)(1e-6) = 0.3227 lb/ft2/h."""
    rate = weather.evaporation((90 - 32) / 1.8, (90 - 32) / 1.8, 0.40, 15 * MPH) * HOUR / LB_PER_FT2

    assert rate == pytest.approx(0.3227, abs=5e-4)
    assert rate > weather.ACT_AT * HOUR / LB_PER_FT2
