"""Volumes to order: allowances, loads, barrows, bags, pump lines."""

from __future__ import annotations

from math import ceil, pi
from typing import Final

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import LB_PER_YD3, POUND

EMPTY_TRUCK: Final = (27_000 * POUND, 30_000 * POUND)  # kg, `common-practice`
USUAL_ALLOWANCE: Final = 0.05  # share, where none is written, `cost-handbook-2018`, p. 42
BARROW: Final = 0.05  # m3, `contractor-pages`
CONCRETE_DENSITY: Final = 4050 * LB_PER_YD3  # kg/m3, `common-practice`


def slab_volume(area: float, thickness: float) -> float:
    """Volume in m3 of a flat slab: area (m2) times thickness (m); in yards, ft2 times inches over 324.

    Source: `geometry`; `cost-handbook-2018`, p. 42.

    >>> from slabwright.formulas.units import FOOT2, INCH, YARD3
    >>> round(slab_volume(450 * FOOT2, 4 * INCH) / YARD3, 3)
    5.556
    """
    return not_negative("area", area, "m2") * positive("slab thickness", thickness, "m")


def cylinder_volume(diameter: float, length: float) -> float:
    """Volume in m3 of a round pier, or of a pump line, by inside diameter and length in m: pi d^2/4 L.

    Source: `geometry`.

    >>> from slabwright.formulas.units import FOOT, INCH, YARD3
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

    >>> from slabwright.formulas.units import YARD3
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

    >>> from slabwright.formulas.units import FOOT2, INCH, YARD3
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


def barrow_trips(rate: float, hands: int) -> float:
    """Trips an hour of each of ``hands`` that barrow ``rate`` m3/s, with 50 L on each trip.

    Source: `contractor-pages` prints 20 trips of 50 L for a cubic meter.

    >>> round(barrow_trips(1 / 3600, 1), 9)
    20.0
    """
    return not_negative("rate", rate) / BARROW * 3600 / positive("hands", hands)


def bags(volume: float, bag_yield: float) -> int:
    """Bags for ``volume`` m3, each yielding ``bag_yield`` m3, rounded up.

    Source: `bag-labels`.

    >>> from slabwright.formulas.units import FOOT3, YARD3
    >>> bags(YARD3, 0.60 * FOOT3)
    45
    """
    return ceil(not_negative("volume", volume, "m3") / positive("yield of a bag", bag_yield, "m3") - 1e-6)


def load_mass(volume: float, density: float = CONCRETE_DENSITY) -> float:
    """Mass in kg of ``volume`` m3 of concrete, 4,050 lb/yd3 unless its ``density`` (kg/m3) is given.

    Source: `common-practice`.

    >>> from slabwright.formulas.units import POUND, YARD3
    >>> round(load_mass(10 * YARD3) / POUND)
    40500
    """
    return not_negative("volume", volume, "m3") * within("density", density, 1500.0, 3000.0, "kg/m3")


def loaded_truck(load: float) -> tuple[float, float]:
    """Least and most that a mixer with ``load`` m3 of concrete weighs, kg; empty 27,000 to 30,000 lb.

    Source: `common-practice`.

    >>> from slabwright.formulas.units import POUND, YARD3
    >>> [round(kg / POUND) for kg in loaded_truck(10 * YARD3)]
    [67500, 70500]
    """
    return load_mass(load) + EMPTY_TRUCK[0], load_mass(load) + EMPTY_TRUCK[1]
