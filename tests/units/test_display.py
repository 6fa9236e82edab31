"""Showing quantities: the trade's writing, both unit systems, and never two different numbers alike."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from slabwright.units.quantity import (
    Amount,
    Kind,
    System,
    bare,
    beside,
    eighths,
    height,
    heights_in,
    read,
    round_up,
    same,
    show,
    show_pair,
    tenths,
    to_unit,
    written_out,
)

INCH, FOOT, YARD3 = 0.0254, 0.3048, 0.9144**3
PSI, LB = 4.4482216152605 / INCH**2, 4.4482216152605
SYSTEMS: tuple[System, ...] = ("us", "metric")

# Kind, SI, shown in US, shown in metric; converted by the exact definitions of NIST SP 811 (recalled). What is off a
# sixteenth goes to the nearest eighth, under an inch to the sixteenth, and says so: common practice of tapes.
SHOWN: list[tuple[Kind, float, str, str]] = [
    (Kind.LENGTH, 150.5 * INCH, "12'-6 1/2\"", "3.823 m"),
    (Kind.LENGTH, 3.82, "about 12'-6 3/8\"", "3.82 m"),
    (Kind.LENGTH, 140.04 * INCH, "about 11'-8\"", "3.557 m"),
    (Kind.LENGTH, 143.97 * INCH, "about 12'-0\"", "3.657 m"),  # carries to the next foot
    (Kind.LENGTH, 12 * FOOT, "12'-0\"", "3.658 m"),
    (Kind.LENGTH, 6 * INCH, '6"', "0.152 m"),
    (Kind.LENGTH, -54 * INCH, "-4'-6\"", "-1.372 m"),
    (Kind.LENGTH, 0.0, '0"', "0 m"),
    (Kind.DEPTH, 5 * INCH, "5 in", "127 mm"),
    (Kind.DEPTH, 1.25 * INCH, "1 1/4 in", "32 mm"),
    (Kind.DEPTH, 3 / 16 * INCH, "3/16 in", "4.8 mm"),
    (Kind.DEPTH, 1.92 * INCH, "about 1 7/8 in", "49 mm"),
    (Kind.DEPTH, -1.92 * INCH, "about -1 7/8 in", "-49 mm"),
    (Kind.DEPTH, 0.79 * INCH, "about 13/16 in", "20 mm"),
    (Kind.DEPTH, 3.9999 * INCH, "about 4 in", "102 mm"),
    (Kind.DEPTH, 1 / 32 * INCH, "1/32 in", "0.79 mm"),
    (Kind.DEPTH, 0.010 * INCH, "10 mil", "0.25 mm"),
    (Kind.DEPTH, 0.0035 * INCH, "0.004 in", "0.089 mm"),
    (Kind.DEPTH, 0.100, "about 3 7/8 in", "100 mm"),
    (Kind.HEIGHT, 99.90 * FOOT, "99.90 ft", "30.450 m"),
    (Kind.HEIGHT, 99.896 * FOOT, "99.896 ft", "30.448 m"),  # written so
    (Kind.HEIGHT, 99.8962 * FOOT, "99.90 ft", "30.448 m"),  # worked
    (Kind.HEIGHT, -0.5, "-1.64 ft", "-0.500 m"),
    (Kind.SLOPE, 1 / 48, "2.1 % (1/4 in/ft)", "2.1 % (1:48)"),
    (Kind.SLOPE, 0.02, "2 % (about 1/4 in/ft)", "2 % (1:50)"),
    (Kind.SLOPE, 0.0199, "2.0 % (about 1/4 in/ft)", "2.0 % (about 1:50)"),
    (Kind.SLOPE, 0.0, "0 % (level)", "0 % (level)"),
    (Kind.SLOPE, 0.0004, "0.04 %", "0.04 % (1:2500)"),
    (Kind.SLOPE, -1 / 96, "-1.0 % (-1/8 in/ft)", "-1.0 % (-1:96)"),
    (Kind.ANGLE, 62.25, "62.3 deg", "62.3 deg"),
    (Kind.AREA, 480 * FOOT**2, "480 ft2", "44.59 m2"),
    (Kind.AREA, 103.98 * FOOT**2, "104 ft2", "9.66 m2"),
    (Kind.AREA, 10.04 * FOOT**2, "10.0 ft2", "0.93 m2"),
    (Kind.VOLUME, 12 * YARD3, "12.00 yd3", "9.17 m3"),
    (Kind.VOLUME, 0.004 * YARD3, "0.004 yd3", "0.003 m3"),
    (Kind.SMALL_VOLUME, 0.2 * FOOT**3, "1.5 gal", "5.7 L"),
    (Kind.STRESS, 4000 * PSI, "4000 psi", "27.6 MPa"),
    (Kind.STRESS, 25e6, "3626 psi", "25 MPa"),
    (Kind.STRESS, 31.23 * PSI, "31.2 psi", "0.22 MPa"),
    (Kind.PRESSURE, 65 * PSI, "65 psi", "448 kPa"),
    (Kind.SUBGRADE, 150 * PSI / INCH, "150 pci", "40.7 MN/m3"),
    (Kind.FORCE, 7000 * LB, "7000 lb", "31.1 kN"),
    (Kind.FORCE, 31380.0, "7050 lb", "31.4 kN"),  # 7054.5 lb: three figures
    (Kind.LINE_LOAD, 425 * LB / FOOT, "425 lb/ft", "6.2 kN/m"),
    (Kind.MASS, 25.0, "55.1 lb", "25 kg"),
    (Kind.MASS, 378.11, "834 lb", "378 kg"),
    (Kind.MASS, 25000 * 0.45359237, "12.5 ton", "11.3 t"),
    (Kind.MASS, 11345.0, "12.5 ton", "11.3 t"),  # 25,011.4 lb
    (Kind.UNIT_WEIGHT, 0.9, "1.5 lb/yd3", "0.9 kg/m3"),
    (Kind.UNIT_WEIGHT, 2403.3, "4050 lb/yd3", "2400 kg/m3"),
    (Kind.TEMPERATURE, 23 / 1.8, "55 °F", "12.8 °C"),
    (Kind.TEMPERATURE, -0.04, "31.9 °F", "-0.04 °C"),
    (Kind.SPEED, 4.4704, "10 mph", "16.1 km/h"),
    (Kind.PLACING_RATE, 20 * YARD3 / 3600, "20 yd3/h", "15.3 m3/h"),
    (Kind.COVERAGE, 200 * FOOT**2 / (231 * INCH**3), "200 ft2/gal", "4.9 m2/L"),
    (Kind.EVAPORATION, 0.2 * 0.45359237 / FOOT**2 / 3600, "0.2 lb/ft2/h", "0.98 kg/m2/h"),
    (Kind.DURATION, 28800.0, "8 h", "8 h"),
    (Kind.DURATION, 5400.0, "1 h 30 min", "1 h 30 min"),
    (Kind.DURATION, 6010.0, "1 h 40 min", "1 h 40 min"),
    (Kind.DURATION, 45 * 60.0, "45 min", "45 min"),
    (Kind.DURATION, 100.0, "1 min 40 s", "1 min 40 s"),
    (Kind.DURATION, 7199.0, "2 h", "2 h"),  # never 1 h 60 min
    (Kind.DURATION, 7 * 86400.0, "7 days", "7 days"),
    (Kind.DURATION, 86400.0, "24 h", "24 h"),
    (Kind.DURATION, 2.21 * 86400.0, "53 h", "53 h"),
    (Kind.STEEL_AREA, 0.12 * INCH**2 / FOOT, "0.12 in2/ft", "254 mm2/m"),
    (Kind.SHARE, 0.62, "62 %", "62 %"),
    (Kind.SHARE, 0.0625, "6.3 %", "6.3 %"),
    (Kind.RATIO, 1.5, "1.5", "1.5"),
    (Kind.RATIO, 4 / 3, "1.33", "1.33"),
    (Kind.COUNT, 3.0, "3", "3"),
    (Kind.COUNT, 12.5, "12.5", "12.5"),
    (Kind.LENGTH, math.inf, "not known", "not known"),
    (Kind.SLOPE, math.nan, "not known", "not known"),
    (Kind.SLOPE, 1e7, "1000000000 % (upright)", "1000000000 % (upright)"),
]


@pytest.mark.parametrize(("kind", "si", "us", "metric"), SHOWN)
def test_shown_alone_and_in_both_systems(kind: Kind, si: float, us: str, metric: str) -> None:
    amount = Amount(si, kind)
    assert (show(amount, "us"), show(amount, "metric")) == (us, metric)
    assert show(amount, "us", both=False) == us.split(" (")[0]
    assert show(amount, "metric", both=False) == metric.split(" (")[0]
    beside_it = kind not in (Kind.SLOPE, Kind.DURATION) and us != metric
    assert show(amount, "us", both=True) == show(amount, beside("us")) == (f"{us} ({metric})" if beside_it else us)
    assert show(amount, "metric", both=True) == (f"{metric} ({us})" if beside_it else metric)


def test_heights_have_the_unit_of_the_file() -> None:
    inches, millimeters = heights_in("us", "in"), heights_in("metric", "mm")
    assert show(height(-1.5 * INCH), inches) == "-1 1/2 in"
    assert show(height(-1.92 * INCH), inches) == "about -1 7/8 in"
    assert show(height(99.850), millimeters) == "99850 mm"
    assert show(height(99.90 * FOOT), beside(heights_in("metric", "ft"))) == "30.450 m (99.90 ft)"
    assert show_pair(height(1.5 * INCH), height(1.47 * INCH), inches) == ("1 1/2 in", "about 1 15/32 in")


# Typed, kind, shown in US, shown in metric, both in US: each system alone, unless the other is asked for beside it.
AS_TYPED = [
    ("127 mm", Kind.DEPTH, "5 in", "127 mm", "127 mm (5 in)"),
    ("5 in", Kind.DEPTH, "5 in", "127 mm", "5 in (127 mm)"),
    ("½ in", Kind.DEPTH, "½ in", "13 mm", "½ in (13 mm)"),
    ("2.5 in", Kind.DEPTH, "2.5 in", "64 mm", "2.5 in (64 mm)"),
    ("3 ft 6 1/2 in", Kind.LENGTH, "3 ft 6 1/2 in", "1.080 m", "3 ft 6 1/2 in (1.080 m)"),
    ("99.90 ft", Kind.HEIGHT, "99.90 ft", "30.450 m", "99.90 ft (30.450 m)"),
    ("-1/2 m", Kind.HEIGHT, "-1.64 ft", "-1/2 m", "-1/2 m (-1.64 ft)"),
    ("1/4 in/ft", Kind.SLOPE, "1/4 in/ft (2.1 %)", "2.1 % (1:48)", "1/4 in/ft (2.1 %)"),
    ("1:48", Kind.SLOPE, "1:48 (2.1 %)", "1:48 (2.1 %)", "1:48 (2.1 %)"),
    ("2 %", Kind.SLOPE, "2 % (about 1/4 in/ft)", "2 % (1:50)", "2 % (about 1/4 in/ft)"),
    ("2 deg", Kind.SLOPE, "2 deg (3.5 %)", "2 deg (3.5 %)", "2 deg (3.5 %)"),
    ("3200 kg", Kind.FORCE, "7050 lb", "3200 kg", "3200 kg (7050 lb)"),
    ("4000 psi", Kind.STRESS, "4000 psi", "27.6 MPa", "4000 psi (27.6 MPa)"),
    ("55 F", Kind.TEMPERATURE, "55 F", "12.8 °C", "55 F (12.8 °C)"),
    ("90 min", Kind.DURATION, "90 min", "90 min", "90 min"),
    ("1.5 h", Kind.DURATION, "1 h 30 min", "1 h 30 min", "1 h 30 min"),
    ("1 h 30 min", Kind.DURATION, "1 h 30 min", "1 h 30 min", "1 h 30 min"),
    ("5 %", Kind.SHARE, "5 %", "5 %", "5 %"),
    ("0.45", Kind.RATIO, "0.45", "0.45", "0.45"),
]


@pytest.mark.parametrize(("typed", "kind", "us", "metric", "both"), AS_TYPED)
def test_typed_amounts_are_shown_as_typed_in_their_own_system(
    typed: str, kind: Kind, us: str, metric: str, both: str
) -> None:
    amount = read(typed, kind)
    assert (show(amount, "us"), show(amount, "metric"), show(amount, beside("us"))) == (us, metric, both)


def test_typed_words_are_cleaned_of_what_a_screen_obeys() -> None:
    assert show(Amount(0.127, Kind.DEPTH, "5\x1b[31m\u202e in\n"), beside("us")) == "5[31m in (127 mm)"
    assert show(Amount(0.127, Kind.DEPTH, "x" * 500), "metric") == "x" * 500
    assert show(Amount(0.127, Kind.DEPTH, "x" * 500), beside("metric")) == "x" * 500 + " (5 in)"


def test_a_bare_number_is_shown_with_the_unit_of_its_file() -> None:
    assert show(bare(-12.5, "m", Kind.LENGTH, "-12.5"), beside("us")) == "-12.5 m (about -41'-0 1/8\")"
    assert show(bare(99.3, "ft", Kind.HEIGHT, "99.30"), beside("metric")) == "99.30 ft (30.267 m)"


PAIRS = [
    (Kind.LENGTH, 3.6576, 3.65762, "us", "12'-0\" (3.65760 m)", "a hair over 12'-0\" (3.65762 m)"),
    (Kind.LENGTH, 140 * INCH, 140.03 * INCH, "us", "11'-8\" (3.556 m)", "about 11'-8 1/32\" (3.557 m)"),
    (Kind.DEPTH, 4 * INCH, 3.999 * INCH, "us", "4 in (101.60 mm)", "a hair under 4 in (101.57 mm)"),
    (Kind.DEPTH, 4 * INCH, 3.94 * INCH, "us", "4 in (102 mm)", "about 3 15/16 in (100 mm)"),
    (Kind.DEPTH, 4 * INCH, 3.97 * INCH, "us", "4 in (102 mm)", "about 3 31/32 in (101 mm)"),
    (Kind.DEPTH, 3.9701 * INCH, 3.9702 * INCH, "us", "a hair under 3 31/32 in (100.841 mm)",
     "about 3 31/32 in (100.843 mm)"),
    (Kind.SLOPE, 0.02, 1 / 48, "us", "2 %", "2.1 %"),
    (Kind.SLOPE, 0.0204, 0.0196, "metric", "2.04 % (about 1:49)", "1.96 % (about 1:51)"),
    (Kind.SLOPE, 0.02, 0.0199, "us", "2 %", "1.99 %"),
    (Kind.HEIGHT, 99.90 * FOOT, 99.9004 * FOOT, "us", "99.90 ft (30.4495 m)", "99.9004 ft (30.4496 m)"),
    (Kind.VOLUME, 9.071 * YARD3, 9.074 * YARD3, "us", "9.071 yd3 (6.935 m3)", "9.074 yd3 (6.938 m3)"),
    (Kind.STRESS, 4000 * PSI, 4000.3 * PSI, "us", "4000 psi (27.579 MPa)", "4000.3 psi (27.581 MPa)"),
    (Kind.MASS, 11340.0, 11346.0, "us", "12.50 ton (11.34 t)", "12.51 ton (11.35 t)"),
    (Kind.DURATION, 5400.0, 5420.0, "us", "1 h 30 min", "1 h 30 min 20 s"),
    (Kind.RATIO, 1.5, 1.504, "us", "1.5", "1.504"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "first", "second", "system", "one", "two"), PAIRS)
def test_pairs_get_finer_until_they_differ_and_no_further(
    kind: Kind, first: float, second: float, system: System, one: str, two: str
) -> None:
    assert show_pair(Amount(first, kind), Amount(second, kind), beside(system)) == (one, two)
    turned = show_pair(Amount(second, kind), Amount(first, kind), beside(system))
    assert turned == (two, one) or "a hair" in turned[0]  # of two uneven ones, the first is told by the second


def test_a_pair_with_a_typed_amount_leaves_it_as_typed() -> None:
    typed, worked = read("12 ft", Kind.LENGTH), Amount(143.999 * INCH, Kind.LENGTH)
    assert show_pair(typed, worked, "us") == ("12 ft", "a hair under 12 ft")
    assert show_pair(read("2 %", Kind.SLOPE), Amount(0.01999, Kind.SLOPE), "metric", both=False) == ("2 %", "1.999 %")


def test_pairs_that_need_no_telling_apart() -> None:
    assert show_pair(Amount(0.127, Kind.DEPTH), read("127 mm", Kind.DEPTH), beside("us")) == (
        "5 in (127 mm)", "127 mm (5 in)",
    )  # fmt: skip
    assert show_pair(Amount(0.127, Kind.DEPTH), Amount(0.127, Kind.LENGTH), "us") == ("5 in", '5"')
    assert show_pair(Amount(math.nan, Kind.RATIO), Amount(1.0, Kind.RATIO), "us") == ("not known", "1")


SIZES = {
    Kind.LENGTH: (0.05, 100.0), Kind.DEPTH: (0.001, 1.0), Kind.HEIGHT: (0.01, 2000.0), Kind.SLOPE: (0.001, 2.0),
    Kind.ANGLE: (1.0, 180.0), Kind.AREA: (0.1, 5000.0), Kind.VOLUME: (0.01, 500.0), Kind.SMALL_VOLUME: (1e-4, 2.0),
    Kind.STRESS: (1e4, 1e8), Kind.PRESSURE: (1e4, 2e6), Kind.SUBGRADE: (1e6, 2e8), Kind.FORCE: (100.0, 1e6),
    Kind.LINE_LOAD: (100.0, 1e5),
    Kind.MASS: (0.1, 1e4), Kind.UNIT_WEIGHT: (0.1, 3000.0), Kind.TEMPERATURE: (1.0, 60.0), Kind.SPEED: (0.1, 50.0),
    Kind.PLACING_RATE: (1e-4, 0.1), Kind.COVERAGE: (100.0, 2e4), Kind.EVAPORATION: (1e-6, 1e-3),
    Kind.DURATION: (60.0, 3e6), Kind.STEEL_AREA: (1e-4, 1e-2), Kind.SHARE: (0.001, 1.0), Kind.RATIO: (0.01, 100.0),
    Kind.COUNT: (1.0, 1000.0),
}  # fmt: skip


@st.composite
def amounts(draw: st.DrawFn) -> Amount:
    kind = draw(st.sampled_from(Kind))
    low, high = SIZES[kind]
    value = draw(st.floats(low, high))
    if kind is Kind.COUNT:
        value = float(round(value))
    if kind in (Kind.LENGTH, Kind.DEPTH):  # often on a trade fraction or a millimeter
        value = draw(st.sampled_from([value, round(value / INCH * 8) / 8 * INCH, round(value, 3)]))
    return Amount(value, kind)


@given(amount=amounts(), step=st.floats(-4.9, -1), system=st.sampled_from(SYSTEMS), up=st.booleans())
@settings(max_examples=600, deadline=None)
def test_different_numbers_are_never_shown_alike(amount: Amount, step: float, system: System, up: bool) -> None:
    """Two amounts near a limit, from twice the shared tolerance apart: the texts read back in the same order."""
    other = Amount(amount.si * (1 + (10**step if up else -(10**step))), amount.kind)
    assume(not same(amount.si, other.si) and (amount.kind is not Kind.COUNT))
    one, two = show_pair(amount, other, system, both=False)
    assert one != two
    assert (said(one, amount.kind) < said(two, amount.kind)) == (amount.si < other.si)
    assert (said(one, amount.kind) > said(two, amount.kind)) == (amount.si > other.si)
    long_one, long_two = show_pair(amount, other, system, both=True)
    for left, right in zip(long_one.split(" ("), long_two.split(" ("), strict=True):
        assert left != right


def said(text: str, kind: Kind) -> float:
    """The SI number that a text says; a hair is less than a text tells otherwise."""
    hair = 1e-9 if text.startswith("a hair over ") else -1e-9 if text.startswith("a hair under ") else 0.0
    plain = re.sub("^(?:about |a hair over |a hair under )", "", text).replace(",", "")
    if seconds := re.fullmatch(r"(?:(\d+) h ?)?(?:(\d+) min ?)?(?:([\d.]+) s)?", plain):
        return sum(float(part or 0) * size for part, size in zip(seconds.groups(), (3600, 60, 1), strict=True))
    return read(plain, kind).si + hair


@given(amount=amounts(), system=st.sampled_from(SYSTEMS))
@settings(max_examples=600, deadline=None)
def test_what_is_shown_reads_back_within_the_printed_digit(amount: Amount, system: System) -> None:
    text = show(amount, system, both=False)
    if text.endswith((" in", '"')) and "." not in text:  # exact, or half of what a tape is read to
        off = abs(said(text, amount.kind) - amount.si)
        if text.startswith("about "):
            assert off <= INCH / (16 if amount.si >= INCH else 32 if amount.si >= INCH / 4 else 64) * (1 + 1e-9)
        else:
            assert same(said(text, amount.kind), amount.si)
        return
    if amount.kind is Kind.DURATION:  # half a minute, half a second under ten, half an hour of days
        off = abs((said(text, amount.kind) if "day" not in text else read(text, amount.kind).si) - amount.si)
        assert off <= (0.5 if amount.si < 600 else 30 if amount.si < 172800 else 1800) + 1e-6
        return
    if amount.kind in (Kind.MASS, Kind.FORCE, Kind.LINE_LOAD, Kind.UNIT_WEIGHT) and "." not in text:  # three figures
        assert said(text, amount.kind) == pytest.approx(amount.si, rel=0.005, abs=0.0)
        assert len(re.sub(r"[^0-9]|0+$", "", text.split(" ")[0].replace("0.", ""))) <= 4
        return
    back = read(text, amount.kind)
    number, _, unit = text.rpartition(" ") if " " in text else (text, "", "")
    digit = 10.0 ** -len(number.partition(".")[2])
    if unit:
        printed, exact = to_unit(back, unit), to_unit(amount, unit)
    else:
        printed, exact = back.si, amount.si
    assert abs(printed - exact) <= digit / 2 + 2e-6 * abs(exact)
    assert show(back, system, both=False) == text  # what was typed is what is shown again


@given(si=st.floats(), kind=st.sampled_from(Kind), system=st.sampled_from(SYSTEMS), both=st.booleans())
@settings(max_examples=500, deadline=None)
def test_any_number_is_shown(si: float, kind: Kind, system: System, both: bool) -> None:
    text = show(Amount(si, kind), system, both)
    assert text
    if kind not in (Kind.RATIO, Kind.COUNT):
        assert text.startswith("not known") or not re.fullmatch(r"[-\d.]+", text.split()[-1].rstrip(")"))


# checks.yaml lv-*: reading in feet, nearest eighth in inches, source
TENTHS = [
    (8.3, "8'-3 5/8\"", "lv-trap-8p3, arithmetic (a landscapers' forum printed 11.6 in)"),
    (0.1, '1 1/4"', "lv-tenths-0p1, arithmetic"),
    (0.2, '2 3/8"', "lv-tenths-0p2, arithmetic"),
    (0.25, '3"', "lv-tenths-0p25, arithmetic"),
    (0.5, '6"', "lv-tenths-0p5, arithmetic"),
    (4.33, "4'-4\"", "lv-pins rod at the top of pin A: 4'-4\" less a hair"),
    (-0.5, '-6"', "arithmetic"),
    (0.0, '0"', "arithmetic"),
    (-0.001, '0"', "arithmetic"),
    (1.999, "2'-0\"", "arithmetic: 11.99 in carries to the next foot"),
]


@pytest.mark.parametrize(("feet", "text", "source"), TENTHS)
def test_decimal_feet_to_the_nearest_eighth(feet: float, text: str, source: str) -> None:
    assert eighths(feet * FOOT) == text, source


@given(st.floats(-100, 100))
def test_eighths_are_within_a_sixteenth(m: float) -> None:
    text = eighths(m)
    back = read(text.removeprefix("-"), Kind.LENGTH).si * (-1 if text.startswith("-") else 1)
    assert abs(back - m) <= INCH / 16 * (1 + 1e-9)


def test_tenths_read_like_a_rod() -> None:
    # lv-pins: rod readings for finish, base and subgrade, arithmetic
    assert [tenths(m) for m in (4.33 * FOOT, 4.33 * FOOT + 4 * INCH, 4.33 * FOOT + 8 * INCH)] == [
        "4.33 ft", "4.66 ft", "5.00 ft",
    ]  # fmt: skip
    assert tenths(-0.0001) == "0.00 ft"


def test_orders_go_up_to_the_step() -> None:
    # practice: 680 ft2 at 4 in with 8 % is 9.07 yd3, so 9 1/4 in quarter yards (arithmetic)
    order = Amount(680 * FOOT**2 * 4 * INCH * 1.08, Kind.VOLUME)
    assert show(order, "us", both=False) == "9.07 yd3"
    assert show(round_up(order, Amount(0.25 * YARD3, Kind.VOLUME)), "us", both=False) == "9.25 yd3"
    assert round_up(Amount(0.3, Kind.VOLUME), 0.1).si == pytest.approx(0.3)
    assert round_up(Amount(0.0, Kind.VOLUME), 0.1).si == 0


@given(value=st.floats(0, 1000), step=st.floats(0.01, 5))
def test_orders_are_never_below_nor_a_step_too_many(value: float, step: float) -> None:
    order = round_up(Amount(value, Kind.VOLUME), step).si
    assert order >= value * (1 - 2e-9) - 2e-9 * step
    assert order < value + step * (1 + 1e-9)
    assert order / step == pytest.approx(round(order / step), abs=1e-6)


@pytest.mark.parametrize("step", [0.0, -1.0, math.nan, Amount(1.0, Kind.AREA)])
def test_steps_that_are_none_are_refused(step: Amount | float) -> None:
    with pytest.raises(ValueError, match="cannot round volume up"):
        round_up(Amount(1.0, Kind.VOLUME), step)


WRITTEN = [
    (Kind.DEPTH, 1.92 * INCH, "us", "1.92 in"),
    (Kind.DEPTH, 1.25 * INCH, "us", "1 1/4 in"),
    (Kind.DEPTH, 1.25 * INCH, "metric", "31.8 mm"),
    (Kind.LENGTH, 3.82, "metric", "3.82 m"),
    (Kind.MASS, 11339.8, "us", "12.5 ton"),
    (Kind.MASS, 11339.8, "metric", "11339.8 kg"),
    (Kind.DURATION, 5400.0, "us", "1.5 h"),
    (Kind.DURATION, 5430.0, "us", "90.5 min"),
]


@pytest.mark.parametrize(("kind", "si", "system", "text"), WRITTEN)
def test_what_is_written_into_a_file_is_not_rounded_to_a_tape(kind: Kind, si: float, system: System, text: str) -> None:
    assert written_out(Amount(si, kind), system) == text
    assert read(text, kind).si == pytest.approx(si, rel=0.005)
