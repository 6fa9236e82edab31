"""Cited formulas: pure functions in SI units, each with its source and its range of validity.

A formula takes and gives meters, square and cubic meters, newtons, pascals, kilograms, degrees
Celsius and seconds; a slope is rise over run and a share is a fraction. An equation that is
empirical in US units converts inside. Each source named in a docstring is a key in ``rules/sources.yaml``.
"""

from __future__ import annotations

_SHOWN: dict[str, tuple[tuple[float, str], ...]] = {
    "m": ((1000.0, "mm"), (1 / 0.0254, "in")),
    "m along": ((1.0, "m"), (1 / 0.3048, "ft")),
    "m2": ((1.0, "m2"), (1 / 0.3048**2, "ft2")),
    "m3": ((1.0, "m3"), (1 / 0.9144**3, "yd3")),
    "Pa": ((1e-6, "MPa"), (1 / 6894.757293168361, "psi")),
    "N/m3": ((1e-6, "MN/m3"), (1 / 271447.1375263136, "pci")),
    "N": ((1e-3, "kN"), (1 / 4.4482216152605, "lb")),
    "kg": ((1.0, "kg"), (1 / 0.45359237, "lb")),
    "kg/m3": ((1.0, "kg/m3"), (1 / 0.5932764212577829, "lb/yd3")),
    "m/s": ((3.6, "km/h"), (1 / 0.44704, "mph")),
    "s": ((1 / 3600, "h"),),
    "share": ((100.0, "%"),),
    "slope": ((100.0, "%"),),
    "deg": ((1.0, "degrees"),),
    "": ((1.0, ""),),
}


class OutOfRangeError(ValueError):
    """A formula or table was asked outside the range it holds for; the message says both in words."""


def within(what: str, value: float, least: float, most: float, unit: str = "") -> float:
    """``value``, if it lies from ``least`` to ``most``; raises :class:`OutOfRangeError` in words if not.

    ``unit`` names the SI unit ("m", "m along" for plan lengths, "m2", "m3", "Pa", "N/m3", "N", "kg", "kg/m3",
    "C", "m/s", "s", "share", "slope", "deg", or nothing), and decides how the words show the numbers.
    The ends count as inside, to a relative 1e-9. NaN lies nowhere.

    >>> within("slab", 0.762, 0.0508, 0.6096, "m")
    Traceback (most recent call last):
        ...
    slabwright.formulas.OutOfRangeError: slab of 762 mm (30 in): this holds from 50.8 mm (2 in) to 610 mm (24 in)
    """
    slack = 1e-9 * max(abs(least), abs(most) if most != float("inf") else abs(least))
    if least - slack <= value <= most + slack:
        return value
    upto = f" to {_words(most, unit)}" if most != float("inf") else " up"
    raise OutOfRangeError(f"{what} of {_words(value, unit)}: this holds from {_words(least, unit)}{upto}")


def positive(what: str, value: float, unit: str = "") -> float:
    """``value``, if it is above zero and finite; raises :class:`OutOfRangeError` in words if not.

    >>> positive("run", 0.0, "m along")
    Traceback (most recent call last):
        ...
    slabwright.formulas.OutOfRangeError: run of 0 m (0 ft): this holds above zero
    """
    if 0.0 < value < float("inf"):
        return value
    raise OutOfRangeError(f"{what} of {_words(value, unit)}: this holds above zero")


def not_negative(what: str, value: float, unit: str = "") -> float:
    """``value``, if it is zero or more and finite; raises :class:`OutOfRangeError` in words if not."""
    if 0.0 <= value < float("inf"):
        return value
    raise OutOfRangeError(f"{what} of {_words(value, unit)}: this holds from zero up")


def _words(value: float, unit: str) -> str:
    if unit == "C":
        return f"{value:.3g} °C ({value * 9 / 5 + 32:.3g} °F)"
    (factor, name), *rest = _SHOWN[unit]
    first = f"{_number(value * factor)} {name}".strip()
    return first + "".join(f" ({_number(value * other)} {label})" for other, label in rest)


def _number(value: float) -> str:
    """Three figures, without an exponent for the sizes that slabs have."""
    return f"{value:.0f}" if 100 <= abs(value) < 1e9 else f"{value:.3g}"
