"""From the located tree to plain data with amounts, by the schema; everything wrong is told in the trade's words.

The schema's own keywords settle the structure (jsonschema checks it). These annotations settle the values:

- ``quantity``: the :class:`Kind` a text is read as; ``between`` refuses what lies outside
  two values and ``usual`` asks about it; ``bare`` names the unit that numbers without one take;
- ``grammar``: one of the small phrases of :data:`GRAMMARS`;
- ``names: point``: the name of something else in the file;
- ``from_slab``: the key that takes a height told from the slab, such as ``1 in below``;
- ``beyond``, ``unread`` and ``otherwise``: what to write for a value outside ``between``, for words where a quantity
  is wanted, and for a value of another sort, where an example of the key would not settle it.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any, cast

from slabwright.design import phrases, steel, structure_check
from slabwright.design.located import Group, Items, Named
from slabwright.design.schema_shape import Shape, meant, resolve, signed
from slabwright.design.spelling import NOTHING, unknown_name
from slabwright.source import locate
from slabwright.source.node import Listing, Node, Section, Text
from slabwright.source.place import Place
from slabwright.source.problem import PROBLEMS_AT_MOST, Problems, UnreadableError
from slabwright.units import quantity
from slabwright.units.grammar import one_in
from slabwright.units.mistyped import with_points
from slabwright.units.quantity import Amount, Kind, QuantityError

PLAIN_NUMBER = 1_000_000  # a larger one is looked at with care
ALTITUDE = 9000.0  # no slab stands so many feet or meters high: 49,950 is a height with three decimals
_BELOW = r"""(\d.*[\w'"]) (?:below|lower|under|down)\b.*"""
_PLAIN_DECIMAL = r"(?a)[-+]?\d+\.\d+"
# A grading such as 0/16 or 4/20, EN 12620; 5/8 and the like may be inches without their unit.
_FRACTION = r"(?P<sign>[-−])?(?:(?P<whole>\d{1,6})[ -])?(?P<upper>\d{1,3})/(?P<lower>\d{1,3})"
_GRADED = re.compile(r"(?:0 ?[/-] ?|(?:2|4|6|8|10) ?/ ?(?=\d\d))(\d{1,2}(?:[.,]\d)?)(?: ?mm)?", re.ASCII)

GRAMMARS: Mapping[str, Callable[[str, Place], Any]] = {
    "asked": phrases.asked,
    "bar": steel.bar,
    "board": phrases.board,
    "clock": phrases.clock,
    "exposure": phrases.exposure,
    "mesh": steel.mesh_style,
    **phrases.PRICE_GRAMMARS,
}

_YES = {"true": True, "yes": True, "false": False, "no": False}

# Units people mix up, by kind: when a value is out of range, the one that would bring it in is asked for.
_MIXED_UP: Mapping[Kind, tuple[str, ...]] = {
    Kind.DEPTH: ("in", "mm", "ft", "cm", "m"),
    Kind.LENGTH: ("ft", "m", "in", "mm"),
    Kind.HEIGHT: ("ft", "m", "in", "mm"),
    Kind.SLOPE: ("%", "mm/m", "in/ft"),
    Kind.VOLUME: ("yd3", "m3", "ft3"),
    Kind.STRESS: ("psi", "MPa", "ksi"),
    Kind.PRESSURE: ("psi", "kPa", "bar"),
    Kind.SUBGRADE: ("pci", "MN/m3"),
    Kind.FORCE: ("lb", "kN", "kg", "kip", "ton"),
    Kind.UNIT_WEIGHT: ("lb/yd3", "lb/ft3", "kg/m3"),
    Kind.DURATION: ("h", "min", "days"),
}
_US_UNITS = frozenset(("in", "ft", "in/ft", "yd3", "ft3", "psi", "ksi", "pci", "lb", "kip", "ton", "lb/yd3", "lb/ft3"))
_ROUNDED = (Kind.DEPTH, Kind.LENGTH, Kind.VOLUME, Kind.FORCE, Kind.MASS)
ROUND = 0.02  # a range is told to a metric reader in round numbers, an inch as 25 mm


@cache
def schema_named(name: str) -> dict[str, Any]:
    """One of the schemas that travel with the program: ``design``, ``amendments`` or ``firm``."""
    text = (locate.folder("schemas") / f"{name}.schema.json").read_text(encoding="utf-8")
    return cast(dict[str, Any], json.loads(text))


def gate(
    node: Node,
    schema: Mapping[str, Any],
    problems: Problems,
    questions: Problems | None = None,
    units: Mapping[str, str] | None = None,
    known: Mapping[str, Collection[str]] | None = None,
) -> Any:
    """Plain data with amounts, as ``schema`` wants it: :class:`Group`, :class:`Items`, text, numbers, amounts.

    ``units`` gives the unit of bare numbers (``{"plan": "ft", "height": "m"}``) and ``known`` the names that may be
    referred to (``{"point": {"A", "B"}}``). What is wrong is added to ``problems``, what looks like a slip to
    ``questions``; where something is wrong, the data holds None or lacks the key.

    :raises UnreadableError: at once when there are very many problems.
    """
    worker = _Gate(schema, problems, questions if questions is not None else Problems(), units or {}, known or {})
    plain, data = worker.convert(node, worker.root, "")
    structure_check.check(plain, node, schema, problems, PROBLEMS_AT_MOST)
    if len(problems) >= PROBLEMS_AT_MOST:
        problems.raise_if_any()
    return data


class _Gate:
    """One pass over a tree: the JSON form for the structure check, and the data for use."""

    def __init__(
        self,
        schema: Mapping[str, Any],
        problems: Problems,
        questions: Problems,
        units: Mapping[str, str],
        known: Mapping[str, Collection[str]],
    ) -> None:
        self.schema = schema
        self.root = resolve(schema, schema)
        self.problems = problems
        self.questions = questions
        self.units = units
        self.known = known
        self.factors: dict[tuple[str, Kind], float] = {}

    def convert(self, node: Node, shape: Shape, key: str) -> tuple[Any, Any]:
        """The JSON form and the data of ``node``; depth is bounded by the reading of the file."""
        if isinstance(node, Listing) and shape.branches and _one_spot(node, shape, self.known.get("point", ())):
            node = Listing(node.place, (node,))
        if shape.branches:
            shape = meant(shape, node)
        if isinstance(node, Text) and _lists_nothing(node, shape):
            node = Listing(node.place, ())
        if isinstance(node, Section):
            return self.section(node, shape)
        if isinstance(node, Listing):
            return self.listing(node, shape, key)
        if node.empty:
            return None, None
        try:
            if shape.quantity is not None:
                return self.quantity(node, shape, shape.quantity, key)
            return self.word(node, shape)
        except QuantityError as reason:
            words = not node.text[:1].isdigit() and shape.schema.get("unread")
            write = words or self.help(shape, reason)
            if node.text.strip().casefold() in NOTHING:
                write += f', or leave "{key}" out where there is none'
            self.note(node.place, reason.wrong, write)
            return node.text, None

    def note(self, place: Place, wrong: str, write: str) -> None:
        """Note a problem; raise all of them when they are very many."""
        self.problems.add(place, wrong, write)
        if len(self.problems) >= PROBLEMS_AT_MOST:
            raise UnreadableError(tuple(self.problems))

    def section(self, node: Section, shape: Shape) -> tuple[Any, Any]:
        """A section, key by key; keys the schema does not know are kept only for the structure check.

        Of the many values that keys of any name may have (points, heights), those that came out as amounts need no
        structure check; the first is kept, so that the section does not look empty.
        """
        plain: dict[str, Any] = {}
        data = Group(node.place)
        places = data.places
        properties, others = shape.properties, shape.others
        kind = shape.said("keys")
        names = self.known.get(kind) if kind else None
        for key, value in node.entries.items():
            child = properties.get(key, others)
            if child is None:
                plain[key] = ""
                continue
            place = node.keys[key]
            if names is not None and key not in names and not (isinstance(value, Text) and value.empty):
                self.note(place, *unknown_name(key, kind, names))
            one, found = self.convert(value, child, key)
            if child is not others or not plain or not _settled(found):
                plain[key] = one
            if isinstance(found, Group | Items):
                found.place = place  # where a reader looks for the section, not its first line
            data[key] = found
            places[key] = place
        return plain, data

    def listing(self, node: Listing, shape: Shape, key: str) -> tuple[Any, Any]:
        """A list, entry by entry."""
        plain: list[Any] = []
        data = Items(node.place)
        child = shape.items
        fixed = shape.schema.get("minItems")
        if child is not None and child.quantity and len(node.items) != fixed == shape.schema.get("maxItems"):
            return [0.0] * len(node.items), None  # a pair that is not two: told by its count
        data.places = [item.place for item in node.items]
        for item in node.items:
            one, value = ("", None) if child is None else self.convert(item, child, key)
            plain.append(one)
            data.append(value)
        return plain, data

    def word(self, node: Text, shape: Shape) -> tuple[Any, Any]:
        """One value that is no quantity, read as the schema wants it."""
        if shape.choices is not None:
            value = node.number if shape.numbered else _choice(node, shape)
            return value, value
        if kind := shape.said("names"):
            return node.text, self.name(node, kind)
        if grammar := shape.said("grammar"):
            return node.text, GRAMMARS[grammar](node.text, node.place)
        if shape.said("format") == "date":
            return node.text, phrases.day(node.text, node.place)
        if "string" in shape.types:
            return node.text, Named(node.text, node.place)
        if "boolean" in shape.types:
            answer = _YES.get(node.text.lower(), node.text)
            return answer, answer
        number = node.number
        if number is not None and ("integer" in shape.types or "number" in shape.types):
            value = int(number) if number == int(number) else number
            return value, value
        return node.text, None

    def name(self, node: Text, kind: str) -> Named:
        """The name of something else in the file."""
        known = self.known.get(kind)
        if known is not None and node.text not in known:
            self.note(node.place, *unknown_name(node.text, kind, known))
        return Named(node.text, node.place)

    def quantity(self, node: Text, shape: Shape, kind: Kind, key: str) -> tuple[Any, Any]:
        """A quantity with its unit, or a bare number where one may stand."""
        other = shape.schema.get("from_slab")
        told = re.fullmatch(_BELOW, node.text) if other else None
        if told:
            wrong = f'"{key}: {node.text}" is measured from the slab, and a height from the datum is wanted'
            raise QuantityError(wrong, f"{other}: {told[1]}, in place of {key}")
        number = node.number
        if number is None and "," in node.text and "number" in shape.types:
            as_height = shape.bare == "height" and self.units.get("height") in ("m", "ft")
            number = _comma_number(node.text, ALTITUDE if as_height else math.inf)
        if number is None and shape.bare and self.units.get(shape.bare) == "in":
            number = _inches(node.text)
        plain: Any = node.text if number is None or "number" not in shape.types else number
        if number is not None and shape.bare:
            unit = self.units.get(shape.bare)
            if unit is None:
                return plain, None
            amount = self.bare(number, unit, kind, node)
        elif node.not_finite and "number" in shape.types:
            raise QuantityError(f'"{node.text}" is not a number that can be measured', "a number")
        elif number is not None and "number" not in shape.types:
            raise QuantityError(f'"{key}: {node.text}" has no unit', "")
        else:
            graded = _GRADED.fullmatch(node.text) if shape.schema.get("grading") else None
            text = f"{graded[1]} mm" if graded else node.text
            amount = (signed if shape.bare else quantity.read)(text, kind, node.place)
            if graded:
                amount = replace(amount, typed=node.text)
            run = one_in(node.text) if kind is Kind.SLOPE else 0
            if run:
                self.questions.add(node.place, f'"{node.text}" is read as one in {run}', f"is 1:{run} meant?")
        si = amount.si
        for bounds, low, high, refuse in shape.ranges:
            if not low <= si <= high:
                self.range(amount, bounds, low, high, refuse, key, node, shape.schema.get("beyond", ""))
        return plain, amount

    def bare(self, number: float, unit: str, kind: Kind, node: Text) -> Amount:
        """A bare number; the unit's size is asked for once, since a file may hold many thousands."""
        factor = self.factors.get((unit, kind))
        if factor is None:
            factor = self.factors[unit, kind] = quantity.bare(1.0, cast(Any, unit), kind).si
        if abs(number) >= PLAIN_NUMBER:
            return quantity.bare(number, cast(Any, unit), kind, node.text, node.place)
        typed = node.text if node.number is not None else f"{number:.10g}"
        return Amount(number * factor, kind, f"{typed} {unit}", node.place)

    def range(
        self,
        amount: Amount,
        bounds: Sequence[str],
        low: float,
        high: float,
        refuse: bool,
        key: str,
        node: Text,
        beyond: str,
    ) -> None:
        """Refuse an amount outside ``between``, with what is ``beyond`` it; ask about one outside ``usual``."""
        if quantity.meets(amount.si, low, "least") and quantity.meets(amount.si, high, "most"):
            return
        metric = self.units.get("plan") in ("m", "cm", "mm")
        meant_units = _other_units(node.text, amount.kind, low, high, metric)
        expected = f"{bounds[0]} to {bounds[1]}"
        if metric:
            near = ROUND if amount.kind in _ROUNDED else 0.0
            ends = [Amount(quantity.roundest(end, near) if near and end else end, amount.kind) for end in (low, high)]
            if refuse and quantity.meets(amount.si, ends[0].si, "least") and quantity.meets(amount.si, high, "most"):
                return
            expected = " to ".join(quantity.show(end, "metric", both=False) for end in ends)
        if refuse:
            write = beyond or (f"is {meant_units} meant?" if meant_units else f"a value from {expected}")
            raise QuantityError(f'"{key}: {node.text}" is out of range: {expected}', write)
        wrong = f'"{key}: {node.text}" is unusual: mostly {expected}'
        self.questions.add(node.place, wrong, f"is {meant_units or node.text} meant?")

    def help(self, shape: Shape, reason: QuantityError) -> str:
        """What to write instead, with the words that may stand in place of a quantity."""
        if reason.write:
            words = [word for word in shape.words if isinstance(word, str)]
            return f"{reason.write}, or {' or '.join(words)}" if words else reason.write
        if self.units.get("plan") in ("m", "cm", "mm"):
            examples = [str(shape.example(metric=True))] if shape.examples else []
        else:
            examples = [str(example) for example in shape.examples if isinstance(example, str)][:2]
        such = f"the unit with it, as in {' or '.join(examples)}" if examples else "the unit with it"
        return f"{such}; only points and heights take bare numbers"


def _inches(text: str) -> float | None:
    """A bare number with a fraction, as heights and sizes in inches are written: -1 1/2, 3/4; None for anything else.

    >>> [_inches(text) for text in ("-1 1/2", "3/4", "5/4", "1:48")]
    [-1.5, 0.75, None, None]
    """
    parts = re.fullmatch(_FRACTION, text)
    if parts is None or not 0 < int(parts["upper"]) < int(parts["lower"]):
        return None
    size = int(parts["whole"] or 0) + int(parts["upper"]) / int(parts["lower"])
    return -size if parts["sign"] else size


def _lists_nothing(node: Text, shape: Shape) -> bool:
    """Whether a word stands for a list with nothing in it: ``joints: none``."""
    listed = shape.schema.get("type") == "array" and not shape.schema.get("minItems")
    return listed and node.text.strip().casefold() in NOTHING


def _one_spot(node: Listing, shape: Shape, points: Collection[str]) -> bool:
    """Whether two bare numbers stand where one spot or several may: the pair of one spot, without brackets of its own.

    The pair is the last of the alternatives of such a shape; points may be called by numbers, and then they are meant.
    """
    if len(node.items) != 2 or len(shape.fitting[Listing]) < 2 or (pair := shape.branches[-1].items) is None:
        return False
    numbers = all(isinstance(one, Text) and one.number is not None and one.text not in points for one in node.items)
    return pair.bare == "plan" and numbers


def _comma_number(text: str, most: float) -> float | None:
    """A number typed with a decimal comma and no unit; None where the comma may part thousands under ``most``."""
    pointed = with_points(text, most)
    return float(pointed) if re.fullmatch(_PLAIN_DECIMAL, pointed) else None


def _settled(data: Any) -> bool:
    """Whether a value came out whole: an amount, or a pair of amounts."""
    return isinstance(data, Amount) or (isinstance(data, Items) and len(data) == 2 and all(map(_settled, data)))


def _choice(node: Text, shape: Shape) -> str:
    """A word of a list, in any case and with any blanks between; as typed when it is not on the list."""
    choices = shape.choices or ()
    if node.text in choices:
        return node.text
    words = " ".join(node.text.lower().split())
    if shape.schema.get("any_case") and words.upper() in choices:
        return words.upper()
    return words if words in choices else node.text


def _other_units(text: str, kind: Kind, low: float, high: float, metric: bool) -> str:
    """The same number in the unit that brings it between two values: ``5 ft`` of thickness gives ``5 in``.

    Units of feet, inches and pounds are offered on a metric plan only where one of them was typed.
    """
    number = text.strip().lstrip("-")
    end = next((at for at, sign in enumerate(number) if not (sign.isdigit() or sign in "./ ")), len(number))
    value = number[:end].strip()
    if not value:
        return ""
    typed = number[end:].strip()
    for unit in _MIXED_UP.get(kind, ()):
        if metric and unit in _US_UNITS and typed not in _US_UNITS:
            continue
        try:
            amount = quantity.read(f"{value} {unit}", kind)
        except QuantityError:
            return ""
        if low <= amount.si <= high:
            return amount.typed
    return ""
