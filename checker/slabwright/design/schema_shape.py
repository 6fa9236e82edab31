"""What a schema asks of one value: references followed, and of several alternatives the one that is meant."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from slabwright.source.node import Listing, Node, Section, Text
from slabwright.source.place import Place
from slabwright.units.quantity import Amount, Kind, read

Schema = Mapping[str, Any]


@dataclass(eq=False)
class Shape:
    """One schema, references followed. Made once per schema and kept."""

    schema: Schema  # merged: what the reference names, with what stands beside the reference over it
    root: Schema
    words: tuple[Any, ...] = ()  # fixed words that may stand instead (``full``, ``none``)

    @cached_property
    def types(self) -> frozenset[str]:
        """JSON types that may stand here."""
        named = self.schema.get("type", ())
        return frozenset((named,) if isinstance(named, str) else named)

    @cached_property
    def quantity(self) -> Kind | None:
        """Kind of the quantity, if it is one."""
        name = self.schema.get("quantity")
        return None if name is None else Kind(name)

    @cached_property
    def choices(self) -> Sequence[Any] | None:
        """The values that may stand here, if they are listed."""
        if "const" in self.schema:
            return (self.schema["const"],)
        return self.schema.get("enum")

    @cached_property
    def numbered(self) -> bool:
        """Whether the values that may stand here are numbers."""
        return any(isinstance(choice, int | float) for choice in self.choices or ())

    @cached_property
    def bare(self) -> str:
        """Which of the file's units a bare number takes; empty where a bare number may not stand."""
        return str(self.schema.get("bare", ""))

    def said(self, annotation: str) -> str:
        """What an annotation such as ``names`` or ``grammar`` says; empty where there is none."""
        return str(self.schema.get(annotation, ""))

    @cached_property
    def examples(self) -> Sequence[Any]:
        """Examples of the value."""
        return tuple(self.schema.get("examples", ()))

    def example(self, metric: bool) -> Any:
        """The first example, its amounts in the units of a metric file if it is one; None where there is none."""
        if not self.examples:
            return None
        return _metric_of(self.examples[0], self) if metric else self.examples[0]

    @cached_property
    def properties(self) -> Mapping[str, Shape]:
        """The keys a section may hold."""
        return {key: resolve(child, self.root) for key, child in self.schema.get("properties", {}).items()}

    @cached_property
    def others(self) -> Shape | None:
        """What stands behind keys that may have any name."""
        child = self.schema.get("additionalProperties")
        return resolve(child, self.root) if isinstance(child, Mapping) else None

    @cached_property
    def items(self) -> Shape | None:
        """What an entry of a list is."""
        child = self.schema.get("items")
        return resolve(child, self.root) if isinstance(child, Mapping) else None

    @cached_property
    def branches(self) -> Sequence[Shape]:
        """The alternatives, if there are any; empty when ``anyOf`` only says which keys go together."""
        found = [resolve(child, self.root) for child in self.schema.get("anyOf", ())]
        return () if any(set(branch.schema) == {"required"} for branch in found) else found

    @cached_property
    def fitting(self) -> Mapping[type, Sequence[int]]:
        """Which of the branches a section, a list and a value may be."""
        return {
            sort: [at for at, branch in enumerate(self.branches) if branch.takes_sort(sort)]
            for sort in (Section, Listing, Text)
        }

    @cached_property
    def by_word(self) -> Mapping[Any, int]:
        """The branch that lists each of the fixed words a value may be."""
        fitting = self.fitting[Text]
        return {word: at for at in reversed(fitting) for word in self.branches[at].choices or ()}

    @cached_property
    def by_value(self) -> int:
        """The branch that a value on no list is for."""
        fitting = self.fitting[Text]
        return next((at for at in fitting if self.branches[at].choices is None), fitting[0])

    @cached_property
    def settled(self) -> Sequence[Shape]:
        """The branches, each with the words of the others and the examples of the whole."""
        found = []
        for chosen in self.branches:
            words = tuple(word for branch in self.branches if branch is not chosen for word in branch.choices or ())
            kept = {"examples": self.examples, **{k: v for k, v in self.schema.items() if k == "from_slab"}}
            more = words or kept.keys() - chosen.schema.keys()
            found.append(Shape({**kept, **chosen.schema}, chosen.root, words) if more else chosen)
        return found

    @cached_property
    def ranges(self) -> Sequence[tuple[Sequence[str], float, float, bool]]:
        """``between`` and ``usual``: both bounds as typed, both in SI, and whether what lies outside is refused."""
        kind = self.quantity
        return [
            (bounds, signed(bounds[0], kind).si, signed(bounds[1], kind).si, refuse)
            for bounds, refuse in ((self.schema.get("between"), True), (self.schema.get("usual"), False))
            if bounds is not None and kind is not None
        ]

    def takes(self, node: Node) -> bool:
        """Whether a node of this sort (section, list, value) may stand here at all."""
        return self.takes_sort(type(node))

    def takes_sort(self, sort: type) -> bool:
        """Whether a node of a sort may stand here at all."""
        if self.branches:
            return any(branch.takes_sort(sort) for branch in self.branches)
        if sort is Section:
            return "object" in self.types
        if sort is Listing:
            return "array" in self.types
        return self.choices is not None or bool(self.types - {"object", "array"})


def is_metric(root: Node) -> bool:
    """Whether a file has its points in metric units."""
    units = root.entries.get("units") if isinstance(root, Section) else None
    plan = units.entries.get("plan") if isinstance(units, Section) else None
    return isinstance(plan, Text) and plan.text in ("m", "cm", "mm")


def _metric_of(example: Any, shape: Shape) -> Any:
    """An example with no American unit in it: another of its shape, else each of its parts so."""
    if not re.search(_AMERICAN, str(example)):
        return example
    others = (one for one in shape.examples[1:] if type(one) is type(example) and not re.search(_AMERICAN, str(one)))
    other = next(others, None)
    if other is not None:
        return other
    shapes = (shape, *shape.branches)
    if isinstance(example, Mapping):
        inner = {key: child for one in reversed(shapes) for key, child in one.properties.items()}
        return {key: _metric_of(each, inner[key]) if key in inner else each for key, each in example.items()}
    items = next((one.items for one in shapes if one.items is not None), None)
    return [_metric_of(each, items) for each in example] if isinstance(example, list) and items else example


_AMERICAN = (
    r"\d ?(?:in|ft|ft2|yd3?|mil|lb|ton|psi|pci|mph|gal|M)\b|\bper (?:ft2?|yd3|lb|ton|gal)\b|°F|#\d|\dx\d|\d\\?['\"]-?\d"
)
_KEPT: dict[int, tuple[Schema, Schema, Shape]] = {}


def resolve(schema: Schema, root: Schema) -> Shape:
    """The shape of ``schema``, with ``$ref`` followed inside ``root``; made once per schema.

    >>> resolve({"$ref": "#/$defs/a", "title": "A"}, {"$defs": {"a": {"type": "string"}}}).schema["type"]
    'string'
    """
    kept = _KEPT.get(id(schema))
    if kept is not None and kept[0] is schema and kept[1] is root:
        return kept[2]
    merged = dict(schema)
    while "$ref" in merged:
        target: Any = root
        for part in merged.pop("$ref").removeprefix("#/").split("/"):
            target = target[part]
        merged = {**target, **merged}
    shape = Shape(merged, root)
    _KEPT[id(schema)] = (schema, root, shape)
    return shape


def alternatives(shape: Shape, node: Node) -> int:
    """Which of the branches of ``shape`` is meant by ``node``: by its sort, then by the keys or words it holds."""
    fitting = shape.fitting[type(node)]
    if not fitting:
        # None fits: the richest one says most about what is wanted.
        return max(range(len(shape.branches)), key=lambda at: "object" in shape.branches[at].types)
    if isinstance(node, Text):
        return shape.by_word.get(node.text, shape.by_value)
    if isinstance(node, Section) and len(fitting) > 1:
        keys = set(node.entries)

        def likeness(at: int) -> tuple[int, int]:
            schema = shape.branches[at].schema
            return len(keys & set(schema.get("required", ()))), len(keys & set(schema.get("properties", ())))

        return max(fitting, key=likeness)
    return fitting[0]


def meant(shape: Shape, node: Node) -> Shape:
    """``shape`` with its alternatives settled by what stands in the file."""
    while shape.branches:
        shape = shape.settled[alternatives(shape, node)]
    return shape


def signed(text: str, kind: Kind, place: Place | None = None) -> Amount:
    """A quantity that may lie below zero whatever its kind: coordinates, and the bounds of a range.

    >>> signed("-3 ft", Kind.LENGTH).si == -3 * 0.3048
    True
    """
    bare = text.strip()
    if bare.startswith(("-", "−")) and kind not in (Kind.HEIGHT, Kind.TEMPERATURE):
        amount = read(bare[1:], kind, place)
        return Amount(-amount.si, kind, f"-{amount.typed}", place)
    return read(text, kind, place)
