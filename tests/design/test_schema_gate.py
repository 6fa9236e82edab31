"""The schemas against the typed design, and every refusal of the gate word for word."""

from __future__ import annotations

import dataclasses
import json
import re
import typing
from collections.abc import Iterator, Mapping
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from refusals import TABLE
from slabwright.design import other_words, schema_gate
from slabwright.design.model import Design
from slabwright.design.other_words import WORDS, WORDS_WITHIN, right_paths
from slabwright.design.read import read_design, read_text
from slabwright.design.schema_gate import gate, schema_named
from slabwright.design.schema_shape import resolve
from slabwright.design.spelling import flow
from slabwright.design.uses import Called
from slabwright.source import locate, yaml_tree
from slabwright.source.node import Section, Text
from slabwright.source.place import Place
from slabwright.source.problem import Problems, UnreadableError
from slabwright.units.quantity import Amount, Kind, read
from snippets import refused, saved

NAMES = ("design", "amendments", "firm")


def walked(schema: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every schema inside a schema, with its path."""
    if isinstance(schema, dict):
        yield path, schema
        for key, child in schema.items():
            if key in ("properties", "$defs"):
                for name, inner in child.items():
                    yield from walked(inner, f"{path}/{key}/{name}")
            elif key in ("items", "additionalProperties"):
                yield from walked(child, f"{path}/{key}")
            elif key == "anyOf":
                for at, inner in enumerate(child):
                    yield from walked(inner, f"{path}/anyOf/{at}")


def resolved(schema: Mapping[str, Any], root: Mapping[str, Any]) -> Mapping[str, Any]:
    while "$ref" in schema:
        target: Any = root
        for part in schema["$ref"].removeprefix("#/").split("/"):
            target = target[part]
        schema = {**target, **{key: value for key, value in schema.items() if key != "$ref"}}
    return schema


@pytest.mark.parametrize("name", NAMES)
def test_the_schemas_are_json_schema_2020_12(name: str) -> None:
    schema = schema_named(name)
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("name", NAMES)
def test_every_property_is_titled_described_and_shown(name: str) -> None:
    schema = schema_named(name)
    whole, seen = Draft202012Validator(schema), 0
    assert whole.is_valid(schema["examples"][0])  # and so it knows where its references lead
    for path, part in walked(schema):
        for key, child in part.get("properties", {}).items():
            seen += 1
            where = f"{path}/{key}"
            assert child.get("title") and child.get("description", "").endswith("."), where
            assert child.get("examples"), where
            checker = whole.evolve(schema=child)  # what a reference names is looked for in the whole schema
            for example in child["examples"]:
                assert checker.is_valid(example), f"{where}: {example}"
    assert seen >= 3


@pytest.mark.parametrize("name", NAMES)
def test_every_section_refuses_unknown_keys(name: str) -> None:
    sections = [(path, part) for path, part in walked(schema_named(name)) if "properties" in part]
    assert sections
    assert [path for path, part in sections if part.get("additionalProperties") is not False] == []


@pytest.mark.parametrize("name", NAMES)
def test_ranges_and_examples_are_quantities_of_their_kind(name: str) -> None:
    for path, part in walked(schema_named(name)):
        if "quantity" not in part:
            assert "between" not in part and "usual" not in part, path
            continue
        kind = Kind(part["quantity"])
        typed = [each for each in part.get("examples", ()) if isinstance(each, str)]
        low, high = (schema_gate.signed(each, kind).si for each in part["between"])
        assert low < high, path
        for each in typed:
            assert low <= read(each, kind).si <= high, f"{path}: {each}"
        if "usual" in part:
            least, most = (schema_gate.signed(each, kind).si for each in part["usual"])
            assert low <= least < most <= high, path


def test_the_example_in_the_schema_is_a_design(tmp_path: Path) -> None:
    (example,) = schema_named("design")["examples"]
    text = "".join(f"{key}: {flow(value)}\n" for key, value in example.items())
    path = tmp_path / "example.slab.yaml"
    path.write_text(text)
    with pytest.raises(AssertionError, match="was read"):
        refused(path)


# Fields that are made while reading, and what of the file they come from.
MADE = {
    "Design": {"file", "called", "pours", "plan_unit", "height_unit", "system", "places"},  # units
    "Isolation": {"full_depth"},  # depth: full
    "Thickness": {"form_board_name"},  # form_board: 2x6
    "Part": {"form_board_name", "called"},  # form_board: 2x6
    "Measured": {"along"},  # from and to
    "Mesh": {"wire_spacing", "wire_diameter", "area_per_width", "cross_spacing", "mass_per_area", "sides"},  # style
    "Mix": {"classes"},  # exposure
    "Reinforcement": {"none"},  # reinforcement: none
}
TYPED = {
    "Design": {"format", "units"},
    "Edge": {"rest"},  # beside
    "Fixed": {"at"},  # along
    "Fixture": {"width"},  # along, beside the side of the slab
    "Joint": {"from", "to"},  # along
    "Measured": {"from", "to"},  # along
}
# Typed by their own small grammars, not as sections.
NOT_SECTIONS = {"Point", "Corner", "SpotHeight", "Closing", "Asked", "Bar", "Price"}


RECORDS = (
    "model", "outline", "heights", "fixtures", "thickness", "joints", "reinforcement", "site", "pouring", "costs",
)  # fmt: skip
MODULES = {each.__name__: each for each in (import_module(f"slabwright.design.{name}") for name in RECORDS)}


def sections_of(schema: Mapping[str, Any], root: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """The sections that may stand at a property: itself, an alternative, or an entry of its list."""
    schema = resolved(schema, root)
    if "properties" in schema:
        return [schema]
    inner = [*schema.get("anyOf", ()), *([schema["items"]] if isinstance(schema.get("items"), dict) else [])]
    return [section for each in inner for section in sections_of(each, root)]


def is_section(each: Any) -> bool:
    """Whether something is a typed section of the design: a named tuple, or a dataclass where one name would clash."""
    return isinstance(each, type) and (dataclasses.is_dataclass(each) or hasattr(each, "_fields"))


def needed_by(made: type) -> set[str]:
    """Fields without a default."""
    return {
        name
        for name in made.__annotations__
        if name not in getattr(made, "_field_defaults", {})
        and not any(
            each.name == name and each.default is not dataclasses.MISSING
            for each in (dataclasses.fields(made) if dataclasses.is_dataclass(made) else ())
        )
    }


def classes_in(annotation: Any) -> list[type]:
    """The sections of the design named in an annotation."""
    if is_section(annotation):
        return [annotation]
    return [each for part in typing.get_args(annotation) for each in classes_in(part)]


def literals_in(annotation: Any) -> set[str]:
    if typing.get_origin(annotation) is typing.Literal:
        return set(typing.get_args(annotation))
    return {word for part in typing.get_args(annotation) for word in literals_in(part)}


def pairs() -> Iterator[tuple[type, list[Mapping[str, Any]]]]:
    """Each dataclass of the design with the sections of the schema that fill it."""
    root = schema_named("design")
    todo: list[tuple[type, list[Mapping[str, Any]]]] = [(Design, [root])]
    while todo:
        made, sections = todo.pop()
        yield made, sections
        for name, annotation in typing.get_type_hints(made).items():
            for child in classes_in(annotation) if name not in MADE.get(made.__name__, set()) else ():
                if child.__module__ not in MODULES or child.__name__ in NOT_SECTIONS:
                    continue
                inner = [
                    section for each in sections for section in sections_of(each["properties"].get(name, {}), root)
                ]
                todo.append((child, inner))


def test_the_schema_and_the_typed_design_have_the_same_keys() -> None:
    seen = set()
    for made, sections in pairs():
        seen.add(made.__name__)
        fields = set(made.__annotations__) - {"place"} - MADE.get(made.__name__, set())
        keys = {key for section in sections for key in section["properties"]}
        assert keys - TYPED.get(made.__name__, set()) == fields, made.__name__
    classes = {
        name
        for module in MODULES.values()
        for name, each in vars(module).items()
        if is_section(each) and each.__module__ == module.__name__
    }
    assert seen == classes - NOT_SECTIONS


def test_the_schema_and_the_typed_design_have_the_same_words() -> None:
    compared = 0
    root = schema_named("design")
    for made, sections in pairs():
        for name, annotation in typing.get_type_hints(made).items():
            words = literals_in(Called if name == "use" else annotation)  # typed as written, kept as whose limits
            if not words or name == "system":
                continue
            for section in sections:
                if name in section["properties"]:
                    compared += 1
                    assert set(resolved(section["properties"][name], root)["enum"]) == words, f"{made.__name__}.{name}"
    assert compared >= 12


# Fields without a default that a file may leave out: counted names, and keys that others stand in for.
LEFT_OUT = {
    "Channel": {"name"},
    "Embedded": {"name"},
    "Edge": {"beside"},  # rest
    "Fixed": {"along", "kind"},  # at, and what the name says
    "Joint": {"name", "along"},  # from and to
    "Measured": {"along"},  # from and to
    "Opening": {"name"},
    "Stall": {"name"},
    "Part": {"name"},
    "Steps": {"name"},
    "HeightLine": {"name"},
}


def test_keys_are_required_where_the_typed_design_needs_them() -> None:
    for made, sections in pairs():
        needed = needed_by(made)
        needed -= MADE.get(made.__name__, set()) | LEFT_OUT.get(made.__name__, set())
        always = set.intersection(*(set(section.get("required", ())) for section in sections))
        if made is Design:
            assert always == (needed - {"points"}) | {"format", "units"}  # an outline may be typed as pairs alone
        else:
            assert always - TYPED.get(made.__name__, set()) == needed, made.__name__


def test_amounts_carry_place_and_typed_words() -> None:
    problems = Problems()
    node = yaml_tree.load("strength: 4000 psi\nair: 6 %\n", "mix.yaml")
    data = gate(node, schema_named("design")["properties"]["mix"], problems)
    assert len(problems) == 0
    strength: Amount = data["strength"]
    # 1 psi = 6894.757 Pa (NIST SP 811, table of conversion factors)
    assert strength.si == pytest.approx(4000 * 6894.757, rel=1e-6)
    assert (strength.typed, str(strength.place)) == ("4000 psi", "mix.yaml:1:11")
    assert data.places["air"].line == 2


def test_yes_and_no_are_read_where_they_are_asked_for() -> None:
    problems = Problems()
    node = yaml_tree.load("deicing_salt: yes\noutdoors: No\nsoil: {kind: yes}\n", "site.yaml")
    design = schema_named("design")
    data = gate(node, {**design["properties"]["site"], "$defs": design["$defs"]}, problems)
    assert (data["deicing_salt"], data["outdoors"], data["soil"]["kind"]) == (True, False, "yes")


def test_a_value_on_the_end_of_its_range_can_be(tmp_path: Path) -> None:
    for thickness in ("2 in", "18 in", "1.5 ft", "50.8 mm"):
        with pytest.raises(AssertionError, match="was read"):
            refused(saved(tmp_path, thickness=f"{{design: {thickness}}}"))
    for thickness in ("1.99 in", "18.01 in"):
        assert len(refused(saved(tmp_path, thickness=f"{{design: {thickness}}}"))) == 1


def test_very_many_problems_stop_early(tmp_path: Path) -> None:
    finish = "".join(f"\n    A{number}: high" for number in range(5000))
    assert len(refused(saved(tmp_path, heights=f"\n  finish:{finish}"))) == schema_gate.PROBLEMS_AT_MOST


def test_amendments_and_firm_files_pass_the_same_gate() -> None:
    for name, text in (("amendments", "layer: town\n"), ("firm", "amendments: town.yaml\nrules: 3\n")):
        problems = Problems()
        gate(yaml_tree.load(text, f"{name}.yaml"), schema_named(name), problems)
        with pytest.raises(UnreadableError):
            problems.raise_if_any()


def test_the_schemas_are_written_as_they_are_read() -> None:
    for name in NAMES:
        text = (locate.folder("schemas") / f"{name}.schema.json").read_text(encoding="utf-8")
        assert json.loads(text) == schema_named(name)


@pytest.mark.parametrize(("changes", "problems"), TABLE)
def test_each_refusal_names_place_trouble_and_remedy(
    tmp_path: Path, changes: dict[str, str | None], problems: list[tuple[int, int, str, str]]
) -> None:
    assert refused(saved(tmp_path, **changes)) == problems


def test_no_refusal_speaks_of_the_machinery() -> None:
    words = re.compile(
        r"\b(schema|instance|regex|pattern|None|null|additional|propert(?:y|ies)(?! line)|valid|object|array|string|"
        r"boolean|integer|type|dict|exception|syntax|parse|token|node|mapping|sequence|scalar)\b"
    )
    told = [sentence for _, problems in TABLE for _, _, wrong, write in problems for sentence in (wrong, write)]
    assert len(told) > 100
    assert [sentence for sentence in told if words.search(sentence)] == []


@pytest.mark.parametrize("text", ["- a\n", "word\n", "[]\n"])
def test_a_file_that_holds_no_keys_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_text(text)
    (told,) = refused(path)
    assert told[2].startswith("this file is ")
    assert told[2].endswith(", and keys are wanted")
    assert told[3] == "format: 1, job: and the other keys"


def test_words_of_a_list_may_be_typed_in_any_case(tmp_path: Path) -> None:
    design, _ = read_design(saved(tmp_path, use='"Garage  FLOOR"'))
    assert design.use == "garage floor"


AMENDMENTS = """\
format: 1
name: Town of Millbrook Ferry
layer: county
amendments:
  - {rule: panel-aspect, limit: aspect_at_most, valeu: 1.25, citation: town code}
  - {rule: panel-aspect, limit: aspect_at_most, weight: heavy, citation: town code}
  - {rule: panel-aspect, limit: aspect_at_most, citation: town code}
"""


def test_amendments_are_refused_word_for_word() -> None:
    problems = Problems()
    gate(yaml_tree.load(AMENDMENTS, "town.yaml"), schema_named("amendments"), problems)
    assert [(each.place.line, each.place.column, each.wrong, each.write) for each in problems] == [
        (3, 8, '"layer: county" is not known here', "one of: region, town, firm, job"),
        (5, 49, '"valeu" is not a key known here', "value"),
        (6, 57, '"weight: heavy" is not known here', "one of: hold, caution, note"),
        (7, 5, 'this entry of "amendments" lacks "value", or "weight"', "value: 1.25, or weight: hold"),
    ]


def test_each_refusal_is_worded_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    worded: list[tuple[Any, ...]] = []
    monkeypatch.setattr(Problems, "add", lambda self, *problem: worded.append((id(self), *problem)))
    cases = [changes for changes, _ in TABLE] + [{"thickness": "{steps: [{count: 0}]}", "variances": "[{rule: x}]"}]
    for changes in cases:
        path, root = saved(tmp_path, **changes), None
        try:
            root = yaml_tree.load(path.read_text(encoding="utf-8"), str(path))
        except UnreadableError:
            continue
        problems = Problems()
        gate(root, schema_named("design"), problems, units={"plan": "ft", "height": "ft"})
    assert len(worded) > 100
    assert [each for each in worded if worded.count(each) > 1] == []


def test_each_quantity_is_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    path = locate.folder("example_designs") / "jobs" / "trailer_bay.slab.yaml"
    seen: list[Any] = []
    real = schema_gate._Gate.quantity

    def counted(self: Any, node: Any, *rest: Any) -> Any:
        seen.append(node.place)
        return real(self, node, *rest)

    monkeypatch.setattr(schema_gate._Gate, "quantity", counted)
    read_design(path)
    assert len(seen) == len(set(seen)) > 100


def test_every_other_word_of_the_trade_leads_to_a_key_there_is() -> None:
    """Each path is one of the schema, none of the words is a key where it would be mended, and each is told."""
    schema = schema_named("design")
    top = resolve(schema, schema)
    for (section, word), path in {**{("", word): path for word, path in WORDS.items()}, **WORDS_WITHIN}.items():
        key = word.replace(" ", "_")
        here = section.replace("[]", "[0]")
        assert key not in top.properties or section, word
        found = right_paths(key, here)
        assert found == (tuple(path.split(" and ")) if " and " in path else (path,)), word
        told = other_words.told(key, here, top, Section(Place(""), {}, {}), Text(Place(""), ""))
        assert told and all(one.rpartition(".")[2].removesuffix("[]") in told for one in found), word


def test_a_range_is_told_in_the_units_of_the_file() -> None:
    """2 in to 18 in are 51 mm to 457 mm, and round numbers to who builds in metric."""
    text = (
        "format: 1\njob: {name: M}\nunits: {plan: m, height: m}\nuse: patio\n"
        "outline: [[0, 0], [3, 0], [3, 3], [0, 3]]\nthickness: {design: 30 mm}\n"
    )
    with pytest.raises(UnreadableError) as caught:
        read_text(Path("m.slab.yaml"), text)
    assert caught.value.problems[0].wrong == '"design: 30 mm" is out of range: 50 mm to 450 mm'
    assert read_text(Path("m.slab.yaml"), text.replace("30 mm", "50 mm"))[0].thickness.design.si == 0.05


def test_no_example_shown_to_a_metric_file_has_american_units() -> None:
    """What a message tells to write in a metric file stands in the units of its country, whole sections too."""
    american = re.compile(r"\d ?(?:in|ft|yd3|lb|psi|pci|mph|gal|mil|ton)\b|°F|#\d|\d'-")
    schema = schema_named("design")
    waiting, seen = [resolve(schema, schema)], set[int]()
    while waiting:
        shape = waiting.pop()
        if id(shape) not in seen:
            seen.add(id(shape))
            assert not american.search(str(shape.example(metric=True)).replace("\\", "")), shape.schema.get("title")
            waiting += [*shape.properties.values(), *shape.branches, *filter(None, (shape.items, shape.others))]
    assert len(seen) > 300
