"""Volumes to order: coverage, allowances, loads, bags, yield, pump lines."""

from __future__ import annotations

from math import ceil, pi
from typing import Final

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import LB_PER_YD3, YARD3

CONCRETE_DENSITY: Final = 4050 * LB_PER_YD3  # kg/m3, `common-practice`
DRUM_AS_MIXER: Final = 0.63  # share of the drum, `ready-mixed-truck-page`
DRUM_AS_AGITATOR: Final = 0.80  # share of the drum, `ready-mixed-truck-page`

# Agitator rating of a mixer in yd3; the one line known of the table of `mixer-bureau`.
_MIXER, _AGITATOR = 10.0, 13.25


def slab_volume(area: float, thickness: float) -> float:
    """Volume in m3 of a flat slab: area (m2) times thickness (m); in yards, ft2 times inches over 324.

    Source: `geometry`; `cost-handbook-2018`, p. 42.

    >>> from slabwright.formulas.units import FOOT2, INCH
    >>> round(slab_volume(450 * FOOT2, 4 * INCH) / YARD3, 3)
    5.556
    """
    return not_negative("area", area, "m2") * positive("slab thickness", thickness, "m")


def coverage(volume: float, thickness: float) -> float:
    """Area in m2 that ``volume`` m3 covers at ``thickness`` m.

    Source: `geometry`; `cost-handbook-2018`, p. 42, prints 54 ft2 a yard at 6 in.

    >>> from slabwright.formulas.units import FOOT2, INCH
    >>> round(coverage(YARD3, 6 * INCH) / FOOT2, 3)
    54.0
    """
    return not_negative("volume", volume, "m3") / positive("slab thickness", thickness, "m")


def tapered_area(length: float, width: float, other_width: float) -> float:
    """Area in m2 of a strip that tapers evenly from one width to another, all in m.

    Source: `geometry`; `cost-handbook-2018`, p. 42, has the case with a slip in its sum.

    >>> tapered_area(30.0, 22.0, 8.0)
    450.0
    """
    mean = (not_negative("width", width, "m along") + not_negative("width", other_width, "m along")) / 2
    return positive("length", length, "m along") * mean


def cylinder_volume(diameter: float, length: float) -> float:
    """Volume in m3 of a round pier, or of a pump line, by inside diameter and length in m: pi d^2/4 L.

    Source: `geometry`.

    >>> from slabwright.formulas.units import FOOT, INCH
    >>> round(cylinder_volume(4 * INCH, 100 * FOOT) / YARD3, 3)  # a 4 in line, 100 ft long
    0.323
    """
    return pi * positive("diameter", diameter, "m") ** 2 / 4 * not_negative("length", length, "m along")


def with_allowance(volume: float, allowance: float) -> float:
    """Volume in m3 with an allowance (share) over it.

    Source: `geometry`; `navedtra-14070` takes 10 %.

    >>> round(with_allowance(527.40, 0.10), 2)
    580.14
    """
    return not_negative("volume", volume, "m3") * (1 + within("allowance", allowance, 0.0, 1.0, "share"))


def rounded_up(volume: float, step: float) -> float:
    """Volume in m3 rounded up to the supplier's ``step`` (m3); what misses a step by a hair is not carried up.

    Source: `supplier-practice`.

    >>> round(rounded_up(9.07 * YARD3, 0.25 * YARD3) / YARD3, 3)
    9.25
    """
    return ceil(not_negative("volume", volume, "m3") / positive("step", step, "m3") - 1e-6) * step


def loads(volume: float, truck: float) -> int:
    """Truck loads of at most ``truck`` m3 for ``volume`` m3; what misses a load by a hair asks for no other truck.

    Source: `geometry`.

    >>> loads(19.125, 10.0)
    2
    """
    return ceil(not_negative("volume", volume, "m3") / positive("truck load", truck, "m3") - 1e-6)


def headroom(trucks: float, net: float, area: float, allowance: float, behind: float = 0.0) -> float:
    """Depth in m that a slab may come out over its drawn mean before ``trucks`` m3 of full trucks no longer do.

    ``net`` volume m3 as drawn, ``area`` m2, ``allowance`` as a share, ``behind`` what stays in pump and hose, m3.

    Source: `geometry`.

    >>> from slabwright.formulas.units import FOOT2, INCH
    >>> round(headroom(10 * YARD3, 680 * FOOT2 * 4 * INCH, 680 * FOOT2, 0.08) / INCH, 2)
    0.41
    """
    filled = (not_negative("volume of the trucks", trucks, "m3") - behind) / (1 + within("allowance", allowance, 0, 1))
    return (filled - not_negative("volume", net, "m3")) / positive("area", area, "m2")


def last_load(volume: float, truck: float) -> float:
    """What the last truck brings, m3, when ``volume`` m3 comes in trucks of ``truck`` m3.

    Source: `geometry`.

    >>> round(last_load(12.0, 10.0), 3)
    2.0
    """
    return volume - (loads(volume, truck) - 1) * truck


def longest_wait(discharge: float, last: float, count: int, apart: float | None) -> tuple[float, float]:
    """Wait on site and discharge, s, of the load that is oldest when it is empty, of ``count`` full loads and a last.

    ``discharge`` of a full load and of the ``last`` in s; trucks come ``apart`` s one after the other, or, with None,
    each as the one before it is empty.

    Source: `geometry`.

    >>> longest_wait(1800.0, 900.0, 3, 1200.0)  # the third waits twice ten minutes, the second ten
    (600.0, 1800.0)
    """
    each = 0.0 if apart is None else max(0.0, not_negative("discharge", discharge, "s") - apart)
    full = (max(count - 2, 0) * each, discharge if count > 1 else last)
    return max(full, ((count - 1) * each, not_negative("discharge", last, "s")), key=sum)


def barrow_trips(rate: float, hands: int, barrow: float = 0.05) -> float:
    """Trips an hour of each of ``hands`` that barrow ``rate`` m3/s, with ``barrow`` m3 on each trip.

    Source: `contractor-pages` prints 20 trips of 50 L for a cubic metre.

    >>> round(barrow_trips(1 / 3600, 1), 9)
    20.0
    """
    trips = not_negative("rate", rate) / positive("barrow", barrow, "m3") * 3600
    return trips / positive("hands", hands)


def volume_at_depth(volume: float, thickness: float, actual: float) -> float:
    """Volume in m3 when a slab planned at ``thickness`` m comes out ``actual`` m thick.

    Source: `geometry`.

    >>> round(volume_at_depth(17.0, 4.0, 4.5), 3)
    19.125
    """
    return not_negative("volume", volume, "m3") * positive("depth", actual, "m") / positive("depth", thickness, "m")


def extra_share(thickness: float, extra: float) -> float:
    """Extra concrete as a share, when the average depth is ``extra`` m over ``thickness`` m.

    Source: `geometry`; `nrmca-cip-8` prints the case of 1/8 in.

    >>> from slabwright.formulas.units import INCH
    >>> round(extra_share(4 * INCH, 0.125 * INCH) * 100, 3)
    3.125
    """
    return not_negative("extra depth", extra, "m") / positive("slab thickness", thickness, "m")


def waste_share(lost: float, total: float) -> float:
    """Waste as a share: what was lost over what was ordered or placed, in the same unit.

    Source: `trade-qa-waste`.

    >>> round(waste_share(0.25, 9.0) * 100, 1)
    2.8
    """
    return not_negative("volume lost", lost) / positive("volume", total)


def batch_yield(batch_mass: float, density: float) -> float:
    """Volume in m3 of a batch: its mass (kg) over the measured density (kg/m3) of fresh concrete.

    Source: `astm-c138`; `technician-study-text` prints 26.80 ft3 for 3,886 lb at 145.0 lb/ft3.

    >>> from slabwright.formulas.units import FOOT3, LB_PER_FT3, POUND
    >>> round(batch_yield(3886 * POUND, 145.0 * LB_PER_FT3) / FOOT3, 2)
    26.8
    """
    return positive("batch", batch_mass, "kg") / within("density", density, 1500.0, 3000.0, "kg/m3")


def relative_yield(volume: float, ordered: float) -> float:
    """Yield over what was ordered, both in m3; below 1 the load is short.

    Source: `astm-c138`.

    >>> round(relative_yield(26.80, 27.0), 3)
    0.993
    """
    return positive("yield", volume, "m3") / positive("volume ordered", ordered, "m3")


def bags(volume: float, bag_yield: float) -> int:
    """Bags for ``volume`` m3, each yielding ``bag_yield`` m3, rounded up.

    Source: `bag-labels`.

    >>> from slabwright.formulas.units import FOOT3
    >>> bags(YARD3, 0.60 * FOOT3)
    45
    """
    return ceil(not_negative("volume", volume, "m3") / positive("yield of a bag", bag_yield, "m3") - 1e-6)


def load_mass(volume: float, density: float = CONCRETE_DENSITY) -> float:
    """Mass in kg of ``volume`` m3 of concrete, 4,050 lb/yd3 unless its ``density`` (kg/m3) is given.

    Source: `common-practice`.

    >>> from slabwright.formulas.units import POUND
    >>> round(load_mass(10 * YARD3) / POUND)
    40500
    """
    return not_negative("volume", volume, "m3") * within("density", density, 1500.0, 3000.0, "kg/m3")


def agitator_rating(mixer: float) -> float:
    """Rating in m3 as an agitator of a truck that mixes ``mixer`` m3; known for 10 yd3 only.

    Source: `mixer-bureau`.

    >>> round(agitator_rating(10 * YARD3) / YARD3, 2)
    13.25
    """
    within("mixer rating", mixer, _MIXER * YARD3, _MIXER * YARD3, "m3")
    return _AGITATOR * YARD3
