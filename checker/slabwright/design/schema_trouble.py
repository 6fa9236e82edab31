"""What jsonschema finds wrong with the structure of a file, told in the trade's words at the place it stands."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import jsonschema_rs

from slabwright.design import other_words
from slabwright.design.schema_shape import Schema, Shape, alternatives, is_metric, meant, resolve
from slabwright.design.spelling import choose, flow
from slabwright.source.alike import most_like
from slabwright.source.node import Listing, Node, Section, Text
from slabwright.source.place import Place
from slabwright.source.problem import Problems

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

_EXPOSURE = re.compile(r"X[CDSFAM]\d|X0|W[0FAS]")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_QUICK: dict[int, tuple[Schema, jsonschema_rs.Draft202012Validator]] = {}

NOTHING = ("none", "no", "nothing", "n/a", "nil", "-")  # as people write that there are none


def report(plain: Any, node: Node, schema: Schema, problems: Problems, most: int) -> None:
    """Add a problem for everything ``schema`` refuses in ``plain``, up to ``most`` problems in all."""
    quick = _QUICK.get(id(schema))
    if quick is None or quick[0] is not schema:
        quick = _QUICK[id(schema)] = (schema, jsonschema_rs.Draft202012Validator(dict(schema)))
    if quick[1].is_valid(plain):  # a hundred times as fast as finding out what is wrong
        return
    from jsonschema import Draft202012Validator  # 50 ms: only where something is refused

    teller = _Teller(node, schema, problems, most)
    for error in Draft202012Validator(schema).iter_errors(plain):
        teller.tell(error)
        if len(problems) >= most:
            return


class _Teller:
    """Turns errors into problems."""

    def __init__(self, root: Node, schema: Schema, problems: Problems, most: int) -> None:
        self.root = root
        self.schema = schema
        self.problems = problems
        self.most = most
        self.metric = is_metric(root)
        self.lacking: set[int] = set()  # sections whose missing keys are told; each key is an error of its own

    def tell(self, error: ValidationError) -> None:
        """Add the problem of one error, or those of the alternative that was meant."""
        trail = self.trail(list(error.absolute_path))
        node = trail[-1][1]
        shape = self.shape_of(error)
        if error.validator == "anyOf" and error.context is not None:
            if not shape.branches:
                self.choose_keys(error, trail)
                return
            chosen = alternatives(shape, node)
            if shape.branches[chosen].takes(node) and not (isinstance(node, Text) and node.empty):
                for inner in error.context:
                    if inner.relative_schema_path and inner.relative_schema_path[0] == chosen:
                        self.inner(inner, shape, chosen, trail)
                return
            self.wrong_sort(trail)
            return
        self.plain(error, shape, trail, ())

    def inner(self, error: ValidationError, shape: Shape, chosen: int, trail: list[tuple[str, Node]]) -> None:
        """An error inside an alternative."""
        if error.validator == "anyOf":
            self.tell(error)
            return
        own_level = len(error.absolute_path) == len(trail) - 1
        siblings = tuple(shape.branches) if own_level else ()
        inner_trail = self.trail(list(error.absolute_path))
        self.plain(error, self.shape_of(error), inner_trail, siblings, outer=shape if own_level else None)

    def trail(self, path: list[str | int]) -> list[tuple[str, Node]]:
        """The nodes from the root to ``path``, each with the last key on the way to it."""
        found: list[tuple[str, Node]] = [("", self.root)]
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

    def place(self, trail: list[tuple[str, Node]]) -> Place:
        """Place of the key that holds the last node, or of the entry itself in a list."""
        node = trail[-1][1]
        if len(trail) > 1:
            around = trail[-2][1]
            if isinstance(around, Section) and (isinstance(node, Section | Listing) or node.empty):
                return around.keys[trail[-1][0]]
        return node.place

    def plain(
        self,
        error: ValidationError,
        shape: Shape,
        trail: list[tuple[str, Node]],
        siblings: tuple[Shape, ...],
        outer: Shape | None = None,
    ) -> None:
        """One error that is not about alternatives."""
        key, node = trail[-1]
        wanted: Any = error.validator_value
        full = self.wanted_at(trail)
        if isinstance(node, Text) and node.empty and error.validator in ("type", "enum", "const"):
            self.nothing(trail)
        elif error.validator == "type" or (error.validator in ("enum", "const") and not isinstance(node, Text)):
            self.wrong_type(trail, full)
        elif error.validator == "additionalProperties" and isinstance(node, Section):
            self.unknown_keys(node, shape, siblings)
        elif error.validator == "required" and isinstance(node, Section):
            if id(node) in self.lacking:
                return
            self.lacking.add(id(node))
            meant_by = self.meant_by_unknown(node, shape, siblings)
            for name in wanted:
                if name not in node.entries and name not in meant_by:
                    self.missing(trail, shape, name)
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
            self.problems.add(self.place(trail), f'"{key}" holds a name with no letters', "a name before the colon")
        elif error.validator in ("minLength", "minProperties"):
            self.problems.add(self.place(trail), f'"{key}" holds nothing', self.example(trail))
        else:
            self.problems.add(self.place(trail), f'"{key}" cannot be read', self.example(trail))

    def wanted_at(self, trail: list[tuple[str, Node]]) -> Shape:
        """The shape that is wanted at the end of a trail, with the titles and examples of its property."""
        shape = resolve(self.schema, self.schema)
        for (_, around), (key, _node) in pairwise(trail):
            settled = meant(shape, around)
            inner = settled.items if isinstance(around, Listing) else settled.properties.get(key, settled.others)
            if inner is None:
                return resolve({}, self.schema)
            shape = inner
        return shape

    def example(self, trail: list[tuple[str, Node]]) -> str:
        """``depth: 4 in``, from the schema's examples; for an entry of a list, one entry of its example."""
        key, in_list = trail[-1][0], len(trail) > 1 and isinstance(trail[-2][1], Listing)
        own = self.wanted_at(trail).example(self.metric)
        examples = [] if own is None else [own]
        if not examples and len(trail) > 1:
            around = self.wanted_at(trail[:-1]).example(self.metric)
            if isinstance(around, Mapping):
                examples = list(around.values())
            elif around is not None:  # one value where a list may stand too
                examples = around if isinstance(around, list) else [around]
        if not examples:
            return "one value"
        return flow(examples[0]) if in_list or not key else f"{key}: {flow(examples[0])}"

    def nothing(self, trail: list[tuple[str, Node]]) -> None:
        """A key with nothing behind it."""
        key, node = trail[-1]
        around = trail[-2][1] if len(trail) > 1 else None
        place = self.place(trail)
        if isinstance(around, Section):
            name, colon, value = key.partition(":")
            if colon and value:
                self.problems.add(place, f'"{key}" has no blank after the colon', f"{name}: {value}")
                return
            instead = self.example(trail)
            optional = key not in self.required_of(trail)
            self.problems.add(place, f'"{key}" has no value', f"{instead}, or delete the key" if optional else instead)
            return
        self.problems.add(node.place, "this entry is empty", self.example(trail) + ", or delete the entry")

    def required_of(self, trail: list[tuple[str, Node]]) -> Collection[str]:
        """The keys the section around the last node must have."""
        settled = meant(self.wanted_at(trail[:-1]), trail[-2][1])
        return list(settled.schema.get("required", ()))

    def wrong_sort(self, trail: list[tuple[str, Node]]) -> None:
        """None of the alternatives is of this sort."""
        node = trail[-1][1]
        if isinstance(node, Text) and node.empty:
            self.nothing(trail)
        else:
            self.wrong_type(trail, self.wanted_at(trail))

    def wrong_type(self, trail: list[tuple[str, Node]], shape: Shape) -> None:
        """A section where a value is wanted, and so on."""
        key, node = trail[-1]
        named = f'"{key}"' if key else "this file"
        in_list = len(trail) > 1 and isinstance(trail[-2][1], Listing)
        if in_list:
            named = f'this entry of "{key}"'
        types = {kind for each in (shape.branches or [shape]) for kind in each.types}
        write = self.example(trail) if len(trail) > 1 else "format: 1, job: and the other keys"
        if isinstance(node, Section):
            wrong = f"{named} holds keys, and {'a list' if 'array' in types else 'one value'} is wanted"
            if "array" in types and shape.items is not None and shape.items.takes(node):
                write = (
                    f"start its entry with a dash, as in {key}: {flow(shape.example(self.metric))}"
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
            needed = self.wanted_at(trail[:-1]).schema.get("required", ())
            if node.text.strip().casefold() in NOTHING and key not in needed and not shape.schema.get("minItems"):
                write = f'leave "{key}" out where there is none' + (f", or write {key}: []" if "array" in types else "")
            wrong = f"{named} is one value, and {'keys are' if 'object' in types else 'a list is'} wanted"
        elif "boolean" in types:
            wrong, write = f'"{key}: {node.text}" is neither yes nor no', "true or false"
        elif "integer" in types:
            wrong = f'"{key}: {node.text}" is not a whole number'
        else:
            wrong = f'"{key}: {node.text}" cannot be read'
        self.problems.add(self.place(trail), wrong, shape.schema.get("otherwise", write))

    def unknown_keys(self, node: Section, shape: Shape, siblings: tuple[Shape, ...]) -> None:
        """Keys the section does not know."""
        known = list(shape.schema.get("properties", ()))
        strewn = self.strewn_points(node, shape)
        if strewn:
            wrong = f'"{strewn[0]}" is a point, and no key that can stand here'
            self.problems.add(node.keys[strewn[0]], wrong, self.gathered(node, shape, strewn))
        for key, place in node.keys.items():
            if key in known or key in strewn:
                continue
            if len(self.problems) >= self.most:
                return
            if "exposure" in node.entries and _EXPOSURE.fullmatch(key):
                wrong = f'"{key}" stands alone, since inside braces a comma ends the value before it'
                self.problems.add(place, wrong, f'the classes in quotes, as in exposure: "XC4, {key}"')
                continue
            other = next((each for each in siblings if key in each.schema.get("properties", ())), None)
            if other is not None:
                against = next(
                    (name for name in known if name in node.entries and name not in other.properties), known[0]
                )
                write = self.in_place_of(against, node, other) or "keep one of the two"
                self.problems.add(place, f'"{key}" does not go with "{against}"', write)
                continue
            where = self.home_of(key, place)
            near = most_like(key, known, 0.7)
            if not near and (cut := _cut_by_comma(node, key)):
                wrong = f'"{key}" stands alone, since inside braces a comma ends the value before it'
                self.problems.add(place, wrong, f"the whole text in quotes, as in {cut}")
                continue
            misspelled = near and near in other_words.keys_meant(key, place.path.rpartition(".")[0])
            if not misspelled and (instead := self.other_word(key, place, node.entries[key])):
                self.problems.add(place, f'"{key}" is not a key known here', instead)
                continue
            home = f"it belongs {where}" if where and not near else ""
            write = home or choose(key, known, "the keys here are")
            self.problems.add(place, f'"{key}" is not a key known here', write)

    def strewn_points(self, node: Section, shape: Shape) -> list[str]:
        """Names of points typed as keys of a section, one of whose keys holds points."""
        points = self.root.get("points") if isinstance(self.root, Section) else None
        if not isinstance(points, Section) or not _key_of_points(shape):
            return []
        return [key for key in node.entries if key in points.entries and key not in shape.properties]

    def gathered(self, node: Section, shape: Shape, names: list[str]) -> str:
        """The points under the key that holds them: ``finish: {A: 100.00, B: 99.85}``."""
        typed = ((name, node.entries[name]) for name in names)
        each = ", ".join(f"{name}: {value.text if isinstance(value, Text) else '...'}" for name, value in typed)
        return f"{_key_of_points(shape)}: {{{each}}}"

    def in_place_of(self, against: str, node: Section, other: Shape) -> str:
        """What to write for ``against`` so that the keys of another alternative go with it; empty where none lack."""
        lacking = [name for name in other.schema.get("required", ()) if name not in node.entries]
        said = node.entries.get(against)
        kept = {
            name: said.text
            for name in lacking
            if isinstance(said, Text) and said.text in other.properties[name].schema.get("enum", ())
        }
        told = [f"{name}: {kept.get(name) or flow(other.properties[name].example(self.metric))}" for name in lacking]
        return f'{", ".join(told)} in place of "{against}"' if told else ""

    def other_word(self, key: str, place: Place, typed: Node) -> str:
        """What to write where ``key`` is the trade's other word for a key; empty where it is none."""
        section = place.path.rpartition(".")[0]
        if whole := other_words.said(key, section):
            return whole
        if not isinstance(self.root, Section):
            return ""
        return other_words.told(key, section, resolve(self.schema, self.schema), self.root, typed)

    def meant_by_unknown(self, node: Section, shape: Shape, siblings: tuple[Shape, ...]) -> set[str]:
        """Keys that a misspelled or misplaced key here stands for: told there, so not told as missing."""
        known = list(shape.properties)
        unknown = [key for key in node.keys if key not in known][: self.most]
        if any(key in each.properties for key in unknown for each in siblings):
            return set(known)
        found = {most_like(key, known) for key in unknown} - {""}
        for key in unknown:
            found |= other_words.keys_meant(key, node.keys[key].path.rpartition(".")[0])
        return found

    def home_of(self, key: str, place: Place) -> str:
        """Where ``key`` belongs: the top of the file, or one or two sections there that know it, not this one."""
        top = resolve(self.schema, self.schema).properties
        if key in top and "." in place.path:
            return "at the start of a line, not under another key"
        here = place.path.rpartition(".")[0].partition("[")[0].partition(".")[0]
        homes = []
        for name, section in top.items():
            inner = next((each for each in section.branches if "object" in each.types), section)
            if key in inner.properties:
                homes.append(name)
        return f"under {' or '.join(homes)}" if len(homes) in (1, 2) and here not in homes else ""

    def missing(self, trail: list[tuple[str, Node]], shape: Shape, name: str) -> None:
        """A key that must be there."""
        child = shape.properties.get(name)
        example = (
            f"{name}: {flow(child.example(self.metric))}" if child is not None and child.examples else f"{name}: ..."
        )
        if child is not None and "lacking" in child.schema:  # another key may do as well
            example += f", or {child.schema['lacking']}"
        self.problems.add(self.place(trail), f'{self.named(trail)} lacks "{name}"', example)

    def choose_keys(self, error: ValidationError, trail: list[tuple[str, Node]]) -> None:
        """One of several sets of keys must be there."""
        node = trail[-1][1]
        wanted: Any = error.validator_value
        held: set[str] = set()
        if isinstance(node, Section):
            held = set(node.entries) | self.meant_by_unknown(node, self.shape_of(error), ())
        sets: list[list[str]] = [each["required"] for each in wanted]
        if any(held >= set(each) for each in sets):
            return  # misspelled, and told as such
        begun = [each for each in sets if held & set(each)]
        lacking = [[name for name in each if name not in held] for each in begun or sets]
        told = [" and ".join(f'"{name}"' for name in each) for each in lacking]
        properties = self.shape_of(error).properties
        examples = [
            ", ".join(f"{name}: {flow(properties[name].example(self.metric))}" for name in each if name in properties)
            for each in lacking
        ]
        self.problems.add(self.place(trail), f"{self.named(trail)} lacks {', or '.join(told)}", ", or ".join(examples))

    def named(self, trail: list[tuple[str, Node]]) -> str:
        """The section at the end of a trail, as messages call it."""
        if len(trail) == 1:
            return "the file"
        key = trail[-1][0]
        return f'this entry of "{key}"' if isinstance(trail[-2][1], Listing) else f'"{key}"'

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

    def count(
        self, key: str, node: Node, wanted: int, least: bool, shape: Shape, trail: list[tuple[str, Node]]
    ) -> None:
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
        self.problems.add(self.place(trail), f'"{key}" has {entries}, and {bound} wanted', self.example(trail))

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


def _key_of_points(shape: Shape) -> str:
    """The first key of a section behind which points stand with a value each; empty where there is none."""
    return next(
        (name for name, held in shape.properties.items() if any(one.keys == "point" for one in (held, *held.branches))),
        "",
    )


def _cut_by_comma(node: Section, key: str) -> str:
    """The text that a comma cut in two, in quotes behind its key; empty where ``key`` is no rest of a text."""
    keys, value = list(node.entries), node.entries[key]
    before = keys[keys.index(key) - 1] if keys.index(key) else ""
    text = node.entries.get(before)
    if not (isinstance(value, Text) and value.empty and isinstance(text, Text) and not text.empty):
        return ""
    same_line = node.keys[before].line == node.keys[key].line
    return f'{before}: "{text.text}, {key}"' if same_line and text.plain and text.number is None else ""
