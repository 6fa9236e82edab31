"""Where an error stands in a file, and what the schema wants there."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from itertools import pairwise
from typing import TYPE_CHECKING

from slabwright.design.schema_shape import Schema, Shape, is_metric, meant, resolve
from slabwright.design.spelling import flow
from slabwright.source.node import Listing, Node, Section
from slabwright.source.place import Place

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

Trail = list[tuple[str, Node]]  # the nodes from the root of a file on, each with the last key on the way to it


class Wanted:
    """A file and its schema, asked by trails."""

    def __init__(self, root: Node, schema: Schema) -> None:
        self.root = root
        self.schema = schema
        self.metric = is_metric(root)

    def trail(self, path: list[str | int]) -> Trail:
        """The nodes from the root to ``path``, each with the last key on the way to it."""
        found: Trail = [("", self.root)]
        key = ""
        for part in path:
            here = found[-1][1]
            if isinstance(here, Section) and isinstance(part, str) and part in here.entries:
                key = part
                found.append((key, here.entries[part]))
            elif isinstance(here, Listing) and isinstance(part, int):
                found.append((key, here.items[part]))
        return found

    def shape_of(self, error: ValidationError) -> Shape:
        """The shape of the schema that made the error."""
        return resolve(error.schema, self.schema) if isinstance(error.schema, Mapping) else resolve({}, self.schema)

    def place(self, trail: Trail) -> Place:
        """Place of the key that holds the last node, or of the entry itself in a list."""
        node = trail[-1][1]
        if len(trail) > 1:
            around = trail[-2][1]
            if isinstance(around, Section) and (isinstance(node, Section | Listing) or node.empty):
                return around.keys[trail[-1][0]]
        return node.place

    def at(self, trail: Trail) -> Shape:
        """The shape that is wanted at the end of a trail, with the titles and examples of its property."""
        shape = resolve(self.schema, self.schema)
        for (_, around), (key, _node) in pairwise(trail):
            settled = meant(shape, around)
            inner = settled.items if isinstance(around, Listing) else settled.properties.get(key, settled.others)
            if inner is None:
                return resolve({}, self.schema)
            shape = inner
        return shape

    def example(self, trail: Trail) -> str:
        """``depth: 4 in``, from the schema's examples; for an entry of a list, one entry of its example."""
        key, in_list = trail[-1][0], len(trail) > 1 and isinstance(trail[-2][1], Listing)
        own = self.at(trail).example(self.metric)
        examples = [] if own is None else [own]
        if not examples and len(trail) > 1:
            around = self.at(trail[:-1]).example(self.metric)
            if isinstance(around, Mapping):
                examples = list(around.values())
            elif around is not None:  # one value where a list may stand too
                examples = around if isinstance(around, list) else [around]
        if not examples:
            return "one value"
        return flow(examples[0]) if in_list or not key else f"{key}: {flow(examples[0])}"

    def named(self, trail: Trail) -> str:
        """The section at the end of a trail, as messages call it."""
        if len(trail) == 1:
            return "the file"
        key = trail[-1][0]
        return f'this entry of "{key}"' if isinstance(trail[-2][1], Listing) else f'"{key}"'

    def such(self, name: str, shape: Shape) -> str:
        """A key with the example of its shape: ``depth: 4 in``."""
        return f"{name}: {flow(shape.example(self.metric))}"

    def required_of(self, trail: Trail) -> Collection[str]:
        """The keys the section around the last node must have."""
        settled = meant(self.at(trail[:-1]), trail[-2][1])
        return list(settled.schema.get("required", ()))
