"""The units a person may type for each kind of number, and their size; pint holds the sizes (``units.txt``).

The units of the trade stand in tables. Any other that pint resolves is read where it measures what is asked for; pint
itself is loaded only when such a unit is met.
"""

import json
import re
from collections.abc import Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from slabwright.units.amount import Amount, Kind, System

if TYPE_CHECKING:
    import pint

# For each system: what pint calls the unit, and the ways it is typed, in any case and with or without
# spaces; the first is the one shown to people.
_Table = dict[System | None, dict[str, str]]

_LENGTH: _Table = {
    "us": {"inch": 'in inch inches "', "thou": "mil mils", "foot": "ft foot feet '", "yard": "yd yds yard yards"},
    "metric": {
        "millimeter": "mm millimetre millimetres millimeter millimeters",
        "centimeter": "cm centimetre centimetres centimeter centimeters",
        "meter": "m metre metres meter meters",
    },
}
_AREA: _Table = {
    "us": {
        "foot**2": "ft2 sqft sf squarefeet squarefoot",
        "inch**2": "in2 sqin squareinches",
        "yard**2": "yd2 sqyd sy squareyards",
    },
    "metric": {"meter**2": "m2 sqm squaremetres squaremeters", "centimeter**2": "cm2", "millimeter**2": "mm2"},
}
_VOLUME: _Table = {
    "us": {
        "yard**3": "yd3 yds3 cuyd cuyds cy cubicyard cubicyards",
        "foot**3": "ft3 cuft cf cubicfoot cubicfeet",
        "gallon": "gal gallon gallons",
        "inch**3": "in3 cuin cubicinches",
    },
    "metric": {"meter**3": "m3 cum cubicmetres cubicmeters", "liter": "L litre litres liter liters"},
}
_STRESS: _Table = {
    "us": {"psi": "psi lb/in2 lbf/in2", "ksi": "ksi", "psf": "psf lb/ft2 lbf/ft2"},
    "metric": {"megapascal": "MPa N/mm2", "kilopascal": "kPa kN/m2", "bar": "bar bars", "pascal": "Pa N/m2"},
}
_SUBGRADE: _Table = {
    "us": {"psi/inch": "pci psi/in lb/in3 lbf/in3"},
    "metric": {
        "meganewton/meter**3": "MN/m3 MPa/m",
        "kilopascal/millimeter": "kPa/mm",
        "kilonewton/meter**3": "kN/m3 kPa/m",
        "newton/millimeter**3": "N/mm3 MPa/mm",
    },
}
_FORCE: _Table = {
    "us": {
        "pound_force": "lb lbs lbf pound pounds",
        "kip": "kip kips k klb klbs",
        "short_ton_force": "ton tons",
    },
    "metric": {
        "kilonewton": "kN",
        "newton": "N newton newtons",
        "kilogram_force": "kg kgf kgs kilogram kilograms",
        "tonne_force": "t tonne tonnes",
    },
}
_LINE_LOAD: _Table = {
    "us": {"pound_force/foot": "lb/ft lbs/ft lbf/ft plf", "kip/foot": "kip/ft klf"},
    "metric": {"kilonewton/meter": "kN/m", "newton/meter": "N/m"},
}
_MASS: _Table = {
    "us": {"pound": "lb lbs pound pounds", "ounce": "oz ounce ounces", "short_ton": "ton tons"},
    "metric": {"kilogram": "kg kgs kilogram kilograms", "gram": "g gram grams", "tonne": "t tonne tonnes"},
}
_UNIT_WEIGHT: _Table = {
    "us": {
        "pound/yard**3": "lb/yd3 lbs/yd3 lb/cy lbs/cy lb/cuyd lbs/cuyd lb/cubicyard pcy",
        "pound/foot**3": "lb/ft3 lbs/ft3 lb/cuft pcf",
    },
    "metric": {
        "kilogram/meter**3": "kg/m3 kg/cubicmetre kg/cubicmeter",
        "tonne/meter**3": "t/m3 kg/L",
        "kilonewton/meter**3/standard_gravity": "kN/m3",
    },
}
_TEMPERATURE: _Table = {
    "us": {"degree_Fahrenheit": "°F F degF degreesF fahrenheit"},
    "metric": {"degree_Celsius": "°C C degC degreesC celsius"},
}
_SPEED: _Table = {
    "us": {"mile/hour": "mph mi/h miles/hour", "foot/second": "ft/s fps"},
    "metric": {"kilometer/hour": "km/h kph kmh kmph", "meter/second": "m/s"},
}
_PLACING_RATE: _Table = {
    "us": {"yard**3/hour": "yd3/h yd3/hr yd3/hour cuyd/h cuyd/hr cy/h cy/hr cubicyards/hour"},
    "metric": {"meter**3/hour": "m3/h m3/hr m3/hour cubicmetres/hour cubicmeters/hour"},
}
_COVERAGE: _Table = {
    "us": {"foot**2/gallon": "ft2/gal sqft/gal sf/gal ft2/gallon squarefeet/gallon"},
    "metric": {"meter**2/liter": "m2/L m2/litre m2/liter sqm/L squaremetres/litre squaremeters/liter"},
}
_EVAPORATION: _Table = {
    "us": {"pound/foot**2/hour": "lb/ft2/h lb/ft2/hr lb/sqft/h"},
    "metric": {"kilogram/meter**2/hour": "kg/m2/h kg/m2/hr"},
}
_DURATION: _Table = {
    None: {
        "hour": "h hr hrs hour hours",
        "minute": "min mins minute minutes",
        "day": "days day d",
        "week": "weeks week wk wks",
        "second": "s sec secs second seconds",
    }
}
_STEEL_AREA: _Table = {
    "us": {"inch**2/foot": "in2/ft sqin/ft"},
    "metric": {"millimeter**2/meter": "mm2/m", "centimeter**2/meter": "cm2/m"},
}
_SLOPE: _Table = {
    None: {"percent": "% percent pct", "permille": "‰ permille promille /mille"},
    "us": {"inch/foot": "in/ft"},
    "metric": {"millimeter/meter": "mm/m"},
}
_SHARE: _Table = {None: {"percent": "% percent pct", "permille": "‰ permille promille /mille"}}
_ANGLE: _Table = {None: {"degree": "deg ° degree degrees"}}


class _Measure(NamedTuple):
    """The units a kind is typed in, and what pint calls its SI unit."""

    table: _Table
    si: str = ""


_MEASURES: dict[Kind, _Measure] = {
    Kind.LENGTH: _Measure(_LENGTH, "meter"),
    Kind.DEPTH: _Measure(_LENGTH, "meter"),
    Kind.HEIGHT: _Measure(_LENGTH, "meter"),
    Kind.SLOPE: _Measure(_SLOPE),
    Kind.ANGLE: _Measure(_ANGLE, "degree"),
    Kind.AREA: _Measure(_AREA, "meter**2"),
    Kind.VOLUME: _Measure(_VOLUME, "meter**3"),
    Kind.SMALL_VOLUME: _Measure(_VOLUME, "meter**3"),
    Kind.STRESS: _Measure(_STRESS, "pascal"),
    Kind.PRESSURE: _Measure(_STRESS, "pascal"),
    Kind.SUBGRADE: _Measure(_SUBGRADE, "newton/meter**3"),
    Kind.FORCE: _Measure(_FORCE, "newton"),
    Kind.LINE_LOAD: _Measure(_LINE_LOAD, "newton/meter"),
    Kind.MASS: _Measure(_MASS, "kilogram"),
    Kind.UNIT_WEIGHT: _Measure(_UNIT_WEIGHT, "kilogram/meter**3"),
    Kind.TEMPERATURE: _Measure(_TEMPERATURE, "degree_Celsius"),
    Kind.SPEED: _Measure(_SPEED, "meter/second"),
    Kind.PLACING_RATE: _Measure(_PLACING_RATE, "meter**3/second"),
    Kind.COVERAGE: _Measure(_COVERAGE, "meter**2/meter**3"),
    Kind.EVAPORATION: _Measure(_EVAPORATION, "kilogram/meter**2/second"),
    Kind.DURATION: _Measure(_DURATION, "second"),
    Kind.STEEL_AREA: _Measure(_STEEL_AREA, "meter**2/meter"),
    Kind.SHARE: _Measure(_SHARE),
    Kind.RATIO: _Measure({}),
    Kind.COUNT: _Measure({}),
}

# Kinds without a unit of their own, and those that always name two units; a slope has a grammar of its own.
_NO_UNIT = (Kind.RATIO, Kind.COUNT, Kind.SLOPE)
_BY_ANOTHER = (Kind.COVERAGE, Kind.STEEL_AREA)
# Kinds where crews name the mass for the weight, or the weight for the mass.
_WEIGHED = (Kind.STRESS, Kind.PRESSURE, Kind.SUBGRADE, Kind.FORCE, Kind.LINE_LOAD, Kind.MASS, Kind.UNIT_WEIGHT)
_SHORT_NAMES = (
    "tsf = 2000 * force_pound / foot ** 2",
    "ksf = 1000 * force_pound / foot ** 2",
    "psf = force_pound / foot ** 2",
    "pci = force_pound / inch ** 3",
    "pli = force_pound / inch",
    "gpm = gallon / minute",
    "cfm = foot ** 3 / minute",
)
_SHARES = ("ppm", "permille", "percent")  # pint counts pi and the dozen among them
_PREFIXES = ("giga", "mega", "kilo", "hecto", "deca", "deci", "centi", "milli", "micro")
_PREFIXED = ("meter", "gram", "newton", "pascal", "liter", "metric_ton", "bar", "joule", "watt", "pound", "force_gram")
_SYSTEM_OF: dict[str, System | None] = {
    **dict.fromkeys(_PREFIXED, "metric"),
    **dict.fromkeys(("hectare", "are", "force_kilogram", "force_metric_ton", "kelvin"), "metric"),
    **dict.fromkeys(("second", "minute", "hour", "day", "week", "fortnight", "month", "year"), None),
    **dict.fromkeys((*_SHARES, "radian", "degree"), None),
    "pound": "us",
}
_FACTOR = r"(/|\*|·)?([^\W\d]+|°|‰)(?:(?:\*\*|\^)?([1-4]))?"
_PRODUCT = r"(?:[^\W\d]+|°|‰)(?:(?:\*\*|\^)?[1-4])?(?:(?:/|\*(?!\*)|·)(?:[^\W\d]+|°)(?:(?:\*\*|\^)?[1-4])?){0,4}"

# One letter that means two things to two crews: never folded to the small one.
_CASE_MATTERS = {"M", "T"}
_PER = re.compile(r"\bper\b", re.IGNORECASE)


class Unit(NamedTuple):
    """A unit of one kind: SI number = ``zero`` + ``factor`` x typed number."""

    name: str  # as shown to people
    factor: float
    zero: float
    system: System | None


@cache
def registry() -> "pint.UnitRegistry[Any]":
    """The units of ``units.txt`` and no others; read on first use."""
    import pint  # a quarter second: only commands that read numbers pay it

    units: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    units.load_definitions(Path(__file__).with_name("units.txt").read_text(encoding="utf-8").splitlines())
    return units


@cache
def _spelled(kind: Kind) -> dict[str, tuple[str, str, System | None]]:
    """Folded spelling -> (pint expression, shown name, system)."""
    return {
        word.lower(): (expression, words.split()[0], system)
        for system, rows in _MEASURES[kind].table.items()
        for expression, words in rows.items()
        for word in words.split()
    }


@lru_cache(maxsize=1024)
def find_unit(text: str, kind: Kind) -> Unit | None:
    """The unit ``text`` names for ``kind``, or None when ``kind`` has no such unit.

    >>> find_unit("cu. yd", Kind.VOLUME).name, find_unit("psi", Kind.DEPTH)
    ('yd3', None)
    """
    bare = text.strip().strip(".")
    if bare in _CASE_MATTERS:
        return None
    folded = _PER.sub("/", bare).lower()
    for mark in (" ", ".", "^", "**"):
        folded = folded.replace(mark, "")
    known = _spelled(kind).get(folded.replace("²", "2").replace("³", "3"))
    if known is None:
        return None
    expression, name, system = known
    factor, zero = _kept_sizes().get(f"{kind.value}: {expression}") or measured_size(expression, kind)
    return Unit(name, factor, zero, system)


def any_unit(text: str, kind: Kind) -> Unit | None:
    """The unit ``text`` names for ``kind``: one of the trade's, or any that pint resolves and that measures it.

    A mass counts as its weight where a force is asked for, and a weight as its mass.

    >>> any_unit("kg/cm2", Kind.STRESS).factor, any_unit("dm", Kind.DEPTH).factor, any_unit("dm", Kind.AREA)
    (98066.5, 0.1, None)
    """
    return find_unit(text, kind) or _resolved(text, kind)


@lru_cache(maxsize=1024)
def _resolved(text: str, kind: Kind, weighed: bool = True) -> Unit | None:
    """The unit that pint makes of ``text``, if it measures ``kind``; ``weighed``: or its weight or mass does."""
    parts = _parts(text)
    if not parts or kind in _NO_UNIT or (kind in _BY_ANOTHER and "/" not in text):
        return None
    if kind is Kind.SHARE and parts[0][2] not in _SHARES:
        return None
    units, expression = every_unit(), _expression(parts)
    if kind is Kind.TEMPERATURE:
        if units.get_dimensionality(expression) != {"[temperature]": 1}:
            return None
        zero, one = (float(units.Quantity(number, expression).to("degC").magnitude) for number in (0.0, 1.0))
        return Unit(text, one - zero, zero, None)
    wanted = units.Unit(_MEASURES[kind].si)
    made = units.Quantity(1.0, expression)
    weight = units.Quantity(1.0, "standard_gravity")
    fitting = next((one for one in (made, made * weight, made / weight) if one.is_compatible_with(wanted)), None)
    if fitting is None or _is_turn(made) != (kind is Kind.ANGLE):
        return None
    if fitting is not made and not (weighed and kind in _WEIGHED):
        return None
    systems = {_SYSTEM_OF.get(name, "metric" if prefix else "us") for _, prefix, name, _ in parts} - {None}
    return Unit(text, float(fitting.to(wanted).magnitude), 0.0, systems.pop() if len(systems) == 1 else None)


def kind_measured(text: str) -> Kind | None:
    """The kind that a unit outside the tables measures, if it measures one; too many things are shares.

    >>> kind_measured("kg/dm3"), kind_measured("cubits")
    (<Kind.UNIT_WEIGHT: 'unit weight'>, None)
    """
    return next((kind for kind in Kind if kind is not Kind.SHARE and _resolved(text, kind, weighed=False)), None)


@cache
def every_unit() -> "pint.UnitRegistry[Any]":
    """All units that pint knows, and short names of the trade; read on first use."""
    import pint  # a quarter second

    units: pint.UnitRegistry[Any] = pint.UnitRegistry()
    for line in _SHORT_NAMES:
        units.define(line)
    return units


@lru_cache(maxsize=1024)
def _parts(text: str) -> tuple[tuple[str, str, str, str], ...]:
    """The names in a unit, each with the sign before it, its prefix, and its power; none when one is not a unit.

    pint would read the picolink and the hectosecond: prefixes count only where people use them.
    """
    typed = _PER.sub("/", text.strip().strip(".")).replace("²", "2").replace("³", "3").replace(" ", "")
    if not re.fullmatch(_PRODUCT, typed):
        return ()
    found = []
    for sign, name, power in re.findall(_FACTOR, typed):
        candidates = every_unit().parse_unit_name(name)
        fitting = [each for each in candidates if not each[0] or (each[0] in _PREFIXES and each[1] in _PREFIXED)]
        if not fitting or fitting[0][1].startswith("delta_"):
            return ()
        found.append((sign or "*", fitting[0][0], fitting[0][1], power or "1"))
    return tuple(found)


def _expression(parts: tuple[tuple[str, str, str, str], ...]) -> str:
    """The parts of a unit as pint reads them."""
    return "".join(f"{sign}{prefix}{name}**{power}" for sign, prefix, name, power in parts).removeprefix("*")


def _is_turn(made: Any) -> bool:
    """Whether a pint quantity is an angle, which pint counts among plain numbers."""
    return str(made.to_root_units().units) == "radian"


def measured_size(expression: str, kind: Kind) -> tuple[float, float]:
    """Factor and zero of a unit of ``kind``, worked out by pint."""
    convert = registry().convert
    if kind is Kind.TEMPERATURE:  # by the difference, and the reading at 0 °C, so that no kelvin rounding creeps in
        factor = float(convert(1.0, f"delta_{expression}", f"delta_{_MEASURES[kind].si}"))
        return factor, -factor * round(float(convert(0.0, _MEASURES[kind].si, expression)), 6) + 0.0
    return float(convert(1.0, expression, _MEASURES[kind].si)), 0.0


def measured_sizes() -> dict[str, tuple[float, float]]:
    """Factor and zero of every unit, worked out by pint; ``unit_sizes.json`` keeps them so that a review need not."""
    return {
        f"{kind.value}: {expression}": measured_size(expression, kind)
        for kind, measure in _MEASURES.items()
        for rows in measure.table.values()
        for expression in rows
    }


@cache
def _kept_sizes() -> dict[str, tuple[float, float]]:
    kept = json.loads(Path(__file__).with_name("unit_sizes.json").read_text(encoding="utf-8"))
    return {name: (factor, zero) for name, (factor, zero) in kept.items()}


def unit_names(kind: Kind) -> Iterator[str]:
    """Every way to type a unit of ``kind``, folded to small letters."""
    return iter(_spelled(kind))


def kinds_of_unit(text: str) -> tuple[Kind, ...]:
    """The kinds that can have the unit ``text``, in the order of :class:`Kind`."""
    return tuple(kind for kind in Kind if find_unit(text, kind))


def to_unit(amount: Amount, unit: str) -> float:
    """The number of ``amount`` in ``unit``, a unit its kind can have (``ValueError`` otherwise).

    >>> to_unit(Amount(0.127, Kind.DEPTH), "in")
    5.0
    """
    found = find_unit(unit, amount.kind)
    if found is None:
        raise ValueError(f"a {amount.kind} has no unit {unit!r}")
    return (amount.si - found.zero) / found.factor


if __name__ == "__main__":  # after a change of units.txt or of the tables above: python -m slabwright.units.unit_table
    rows = (f"  {json.dumps(name)}: {json.dumps(size)}" for name, size in measured_sizes().items())
    Path(__file__).with_name("unit_sizes.json").write_text("{\n" + ",\n".join(rows) + "\n}\n", encoding="utf-8")
