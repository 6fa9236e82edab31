"""What jsonschema finds wrong with the structure of a file, told in the trade's words at the place it stands."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from slabwright.design import other_words
from slabwright.design.key_trouble import KeyTrouble
from slabwright.design.schema_shape import Schema, Shape, alternatives
from slabwright.design.spelling import NOTHING, flow
from slabwright.design.wanted import Trail, Wanted
from slabwright.source.alike import most_like
from slabwright.source.node import Listing, Node, Section, Text
from slabwright.source.problem import Problems

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

_DATE = re.compile(r"\d{4}-\d\d-\d\d")


class Teller:
    """Turns errors into problems, up to ``most`` in all."""

    def __init__(self, root: Node, schema: Schema, problems: Problems, most: int) -> None:
        self.wanted = Wanted(root, schema)
        self.problems = problems
        self.keys = KeyTrouble(self.wanted, problems, most)

    def tell(self, error: ValidationError) -> None:
        """Add the problem of one error, or those of the alternative that was meant."""
        trail = self.wanted.trail(list(error.absolute_path))
        node = trail[-1][1]
        shape = self.wanted.shape_of(error)
        if error.validator == "anyOf" and error.context is not None:
            if not shape.branches:
                self.keys.one_of_sets(error, trail)
                return
            chosen = alternatives(shape, node)
            if shape.branches[chosen].takes(node) and not (isinstance(node, Text) and node.empty):
                for inner in error.context:
                    if inner.relative_schema_path and inner.relative_schema_path[0] == chosen:
                        self.inner(inner, shape, trail)
                return
            self.wrong_sort(trail)
            return
        self.plain(error, shape, trail, ())

    def inner(self, error: ValidationError, shape: Shape, trail: Trail) -> None:
        """An error inside an alternative."""
        if error.validator == "anyOf":
            self.tell(error)
            return
        own_level = len(error.absolute_path) == len(trail) - 1
        siblings = tuple(shape.branches) if own_level else ()
        inner_trail = self.wanted.trail(list(error.absolute_path))
        self.plain(error, self.wanted.shape_of(error), inner_trail, siblings, outer=shape if own_level else None)

    def plain(
        self,
        error: ValidationError,
        shape: Shape,
        trail: Trail,
        siblings: tuple[Shape, ...],
        outer: Shape | None = None,
    ) -> None:
        """One error that is not about alternatives."""
        key, node = trail[-1]
        wanted: Any = error.validator_value
        if isinstance(node, Text) and node.empty and error.validator in ("type", "enum", "const"):
            self.nothing(trail)
        elif error.validator == "type" or (error.validator in ("enum", "const") and not isinstance(node, Text)):
            self.wrong_type(trail, self.wanted.at(trail))
        elif error.validator == "additionalProperties" and isinstance(node, Section):
            self.keys.unknown(node, shape, siblings)
        elif error.validator == "required" and isinstance(node, Section):
            self.keys.lacking(trail, node, shape, siblings, wanted)
        elif error.validator in ("enum", "const") and isinstance(node, Text):
            choices = wanted if error.validator == "enum" else [wanted]
            self.not_a_choice(key, node, choices, shape, outer)
        elif error.validator in ("minItems", "maxItems"):
            self.count(key, node, wanted, error.validator == "minItems", shape, trail)
        elif error.validator in ("minimum", "maximum") and isinstance(node, Text):
            low, high = shape.schema.get("minimum"), shape.schema.get("maximum")
            self.problems.add(
                node.place, f'"{key}: {node.text}" is out of range', f"a whole number from {low} to {high}"
            )
        elif "propertyNames" in error.absolute_schema_path:
            self.note(trail, f'"{key}" holds a name with no letters', "a name before the colon")
        elif error.validator in ("minLength", "minProperties"):
            self.note(trail, f'"{key}" holds nothing')
        else:
            self.note(trail, f'"{key}" cannot be read')

    def note(self, trail: Trail, wrong: str, write: str = "") -> None:
        """Add a problem at the end of a trail; without anything to write, the example of what is wanted there."""
        self.problems.add(self.wanted.place(trail), wrong, write or self.wanted.example(trail))

    def nothing(self, trail: Trail) -> None:
        """A key with nothing behind it."""
        key, node = trail[-1]
        around = trail[-2][1] if len(trail) > 1 else None
        place = self.wanted.place(trail)
        if isinstance(around, Section):
            name, colon, value = key.partition(":")
            if colon and value:
                self.problems.add(place, f'"{key}" has no blank after the colon', f"{name}: {value}")
                return
            instead = self.wanted.example(trail)
            optional = key not in self.wanted.required_of(trail)
            self.problems.add(place, f'"{key}" has no value', f"{instead}, or delete the key" if optional else instead)
            return
        self.problems.add(node.place, "this entry is empty", self.wanted.example(trail) + ", or delete the entry")

    def wrong_sort(self, trail: Trail) -> None:
        """None of the alternatives is of this sort."""
        node = trail[-1][1]
        if isinstance(node, Text) and node.empty:
            self.nothing(trail)
        else:
            self.wrong_type(trail, self.wanted.at(trail))

    def wrong_type(self, trail: Trail, shape: Shape) -> None:
        """A section where a value is wanted, and so on."""
        key, node = trail[-1]
        named = f'"{key}"' if key else "this file"
        in_list = len(trail) > 1 and isinstance(trail[-2][1], Listing)
        if in_list:
            named = f'this entry of "{key}"'
        types = {kind for each in (shape.branches or [shape]) for kind in each.types}
        write = self.wanted.example(trail) if len(trail) > 1 else "format: 1, job: and the other keys"
        if isinstance(node, Section):
            wrong = f"{named} holds keys, and {'a list' if 'array' in types else 'one value'} is wanted"
            if "array" in types and shape.items is not None and shape.items.takes(node):
                write = (
                    f"start its entry with a dash, as in {key}: {flow(shape.example(self.wanted.metric))}"
                    if shape.examples
                    else write
                )
                section = f"{node.place.path}[]"
                write = next(filter(None, (other_words.said(name, section) for name in node.entries)), write)
        elif isinstance(node, Listing):
            wrong = f"{named} is a list, and {'keys are' if 'object' in types else 'one value is'} wanted"
            texts = [one.text for one in node.items if isinstance(one, Text)]
            if shape.schema.get("grammar") == "exposure" and texts:
                write = f'{key}: "{", ".join(texts)}"'
        elif key == "pour" and _DATE.fullmatch(node.text):
            wrong, write = f"{named} is one value, and keys are wanted", f"under job, pour: {node.text}"
        elif types & {"object", "array"}:
            needed = self.wanted.at(trail[:-1]).schema.get("required", ())
            if node.text.strip().casefold() in NOTHING and key not in needed and not shape.schema.get("minItems"):
                write = f'leave "{key}" out where there is none'
            wrong = f"{named} is one value, and {'keys are' if 'object' in types else 'a list is'} wanted"
        elif "boolean" in types:
            wrong, write = f'"{key}: {node.text}" is neither yes nor no', "true or false"
        elif "integer" in types:
            wrong = f'"{key}: {node.text}" is not a whole number'
        else:
            wrong = f'"{key}: {node.text}" cannot be read'
        self.problems.add(self.wanted.place(trail), wrong, shape.schema.get("otherwise", write))

    def not_a_choice(self, key: str, node: Text, choices: list[Any], shape: Shape, outer: Shape | None) -> None:
        """A word that is not on the list."""
        wrong = f'"{key}: {node.text}" is not known here'
        said = node.text.strip().lower()
        instead = shape.schema.get("instead", {}).get(said)
        words = [str(choice) for choice in choices]
        near = most_like(said, words)
        if outer is not None and outer.examples:
            write = " or ".join(flow(each) for each in outer.examples)
        elif instead or near:
            write = instead or near
        elif len(words) == 1:
            write = f"{key}: {words[0]}"
        elif "otherwise" in shape.schema:
            write = shape.schema["otherwise"]
        else:
            write = f"one of: {', '.join(words)}"
        self.problems.add(node.place, wrong, write)

    def count(self, key: str, node: Node, wanted: int, least: bool, shape: Shape, trail: Trail) -> None:
        """Too few or too many entries."""
        items = node.items if isinstance(node, Listing) else ()
        number = len(items)
        if shape.schema.get("maxItems") == 2 and shape.items is not None and shape.items.quantity is not None:
            self.pair(node, items)
            return
        entries = "1 entry" if number == 1 else f"{number or 'no'} entries"
        bound = (
            f"at least {wanted} are" if least and wanted > 1 else "at least 1 is" if least else f"at most {wanted} are"
        )
        self.note(trail, f'"{key}" has {entries}, and {bound} wanted')

    def pair(self, node: Node, items: tuple[Node, ...]) -> None:
        """A pair that is not two."""
        number = len(items)
        wrong = f"a spot is two numbers, x and y, and this has {number}"
        numbers = [item.text for item in items if isinstance(item, Text) and item.number is not None]
        if len(numbers) == number and number in (3, 4):
            joined = [f"{numbers[0]}.{numbers[1]}", ".".join(numbers[2:])]
            write = (
                f"[{joined[0]}, {joined[1]}] if the comma is a decimal point"
                if number == 4
                else (
                    f"[{numbers[0]}.{numbers[1]}, {numbers[2]}] or [{numbers[0]}, {numbers[1]}.{numbers[2]}]"
                    " if a comma is a decimal point"
                )
            )
        elif number == 1 and isinstance(items[0], Text) and not numbers:
            write = f"{items[0].text} without brackets, if it is a point, or two numbers, as in [12, 3]"
        else:
            write = "two numbers, as in [12, 3]"
        self.problems.add(node.place, wrong, write)
