"""Keys of a section that the schema refuses or misses: unknown, misspelled, misplaced, lacking."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from slabwright.design import other_words
from slabwright.design.schema_shape import Shape, resolve
from slabwright.design.spelling import choose
from slabwright.design.wanted import Trail, Wanted
from slabwright.source.alike import most_like
from slabwright.source.node import Node, Section, Text
from slabwright.source.place import Place
from slabwright.source.problem import Problems

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

_EXPOSURE = re.compile(r"X[CDSFAM]\d|X0|W[0FAS]")


class KeyTrouble:
    """Tells what is wrong with keys; up to ``most`` problems in all."""

    def __init__(self, wanted: Wanted, problems: Problems, most: int) -> None:
        self.wanted = wanted
        self.problems = problems
        self.most = most
        self.told: set[int] = set()  # sections whose missing keys are told; each key is an error of its own

    def unknown(self, node: Section, shape: Shape, siblings: tuple[Shape, ...]) -> None:
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
        points = self.wanted.root.get("points") if isinstance(self.wanted.root, Section) else None
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
        told = [
            f"{name}: {kept[name]}" if name in kept else self.wanted.such(name, other.properties[name])
            for name in lacking
        ]
        return f'{", ".join(told)} in place of "{against}"' if told else ""

    def other_word(self, key: str, place: Place, typed: Node) -> str:
        """What to write where ``key`` is the trade's other word for a key; empty where it is none."""
        section = place.path.rpartition(".")[0]
        if whole := other_words.said(key, section):
            return whole
        if not isinstance(self.wanted.root, Section):
            return ""
        return other_words.told(key, section, resolve(self.wanted.schema, self.wanted.schema), self.wanted.root, typed)

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

    def lacking(
        self, trail: Trail, node: Section, shape: Shape, siblings: tuple[Shape, ...], names: Sequence[str]
    ) -> None:
        """Keys that must be there, and are not, nor meant by another word."""
        if id(node) in self.told:
            return
        self.told.add(id(node))
        meant_by = self.meant_by_unknown(node, shape, siblings)
        for name in names:
            if name not in node.entries and name not in meant_by:
                self.missing(trail, shape, name)

    def home_of(self, key: str, place: Place) -> str:
        """Where ``key`` belongs: the top of the file, or one or two sections there that know it, not this one."""
        top = resolve(self.wanted.schema, self.wanted.schema).properties
        if key in top and "." in place.path:
            return "at the start of a line, not under another key"
        here = place.path.rpartition(".")[0].partition("[")[0].partition(".")[0]
        homes = []
        for name, section in top.items():
            inner = next((each for each in section.branches if "object" in each.types), section)
            if key in inner.properties:
                homes.append(name)
        return f"under {' or '.join(homes)}" if len(homes) in (1, 2) and here not in homes else ""

    def missing(self, trail: Trail, shape: Shape, name: str) -> None:
        """A key that must be there."""
        child = shape.properties.get(name)
        example = self.wanted.such(name, child) if child is not None and child.examples else f"{name}: ..."
        if child is not None and "lacking" in child.schema:  # another key may do as well
            example += f", or {child.schema['lacking']}"
        self.problems.add(self.wanted.place(trail), f'{self.wanted.named(trail)} lacks "{name}"', example)

    def one_of_sets(self, error: ValidationError, trail: Trail) -> None:
        """One of several sets of keys must be there."""
        node = trail[-1][1]
        wanted: Any = error.validator_value
        sets: list[list[str]] = [each["required"] for each in wanted]
        held: set[str] = set()
        if isinstance(node, Section):
            held = set(node.entries) | self.meant_by_unknown(node, self.wanted.shape_of(error), ())
        if any(held >= set(each) for each in sets):
            return  # misspelled, and told as such
        begun = [each for each in sets if held & set(each)]
        lacking = [[name for name in each if name not in held] for each in begun or sets]
        told = [" and ".join(f'"{name}"' for name in each) for each in lacking]
        properties = self.wanted.shape_of(error).properties
        examples = [
            ", ".join(self.wanted.such(name, properties[name]) for name in each if name in properties)
            for each in lacking
        ]
        wrong = f"{self.wanted.named(trail)} lacks {', or '.join(told)}"
        self.problems.add(self.wanted.place(trail), wrong, ", or ".join(examples))


def _key_of_points(shape: Shape) -> str:
    """The first key of a section behind which points stand with a value each; empty where there is none."""
    return next(
        (
            name
            for name, held in shape.properties.items()
            if any(one.said("keys") == "point" for one in (held, *held.branches))
        ),
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
