"""YAML brought to a located tree: places, YAML 1.2 values, and every refusal word for word."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from slabwright.source import files, yaml_tree
from slabwright.source.node import Listing, Section, Text, key_places
from slabwright.source.place import Place
from slabwright.source.problem import UnreadableError


def load(text: str) -> Section:
    root = yaml_tree.load(text, "pad.slab.yaml")
    assert isinstance(root, Section)
    return root


def value(text: str) -> Text:
    node = load(f"key: {text}\n").get("key")
    assert isinstance(node, Text)
    return node


def refused(text: str) -> list[tuple[int, int, str, str]]:
    with pytest.raises(UnreadableError) as caught:
        yaml_tree.load(text, "pad.slab.yaml")
    return [(p.place.line, p.place.column, p.wrong, p.write) for p in caught.value.problems]


# YAML 1.2.2, section 10.3.2 (core schema): none of these resolves to a number, a boolean or null.
@pytest.mark.parametrize(
    "typed",
    [
        "1:48",
        "07:00",
        "yes",
        "no",
        "on",
        "off",
        "1_000",
        "2026-04-14",
        "12'-6 1/2\"",
        "99,90",
        "1.2.3",
        "0x1F",
        "4 in",
        "none",
    ],
)
def test_what_is_not_a_yaml_1_2_number_stays_text(typed: str) -> None:
    node = value(typed)
    assert (node.text, node.number, node.empty, node.not_finite) == (typed, None, False, False)


@pytest.mark.parametrize(
    ("typed", "number"),
    [("1", 1.0), ("-3", -3.0), ("+3", 3.0), ("99.90", 99.9), (".5", 0.5), ("5.", 5.0), ("1e3", 1000.0)],
)
def test_decimal_numbers_are_numbers_and_keep_their_digits(typed: str, number: float) -> None:
    node = value(typed)
    assert (node.number, node.text) == (number, typed)


def test_a_quoted_number_is_text() -> None:
    assert value('"99.90"').number is None


@pytest.mark.parametrize("typed", ["", "~", "null", "Null", "NULL"])
def test_null_is_nothing(typed: str) -> None:
    assert value(typed).empty


@pytest.mark.parametrize("typed", [".nan", ".NaN", ".inf", "-.INF", "nan", "Infinity"])
def test_infinity_and_not_a_number_are_known(typed: str) -> None:
    assert value(typed).not_finite


def test_places_are_those_an_editor_shows() -> None:
    root = load("job:\n  name: Pad\njoints:\n  - {from: A, to: [12, 3]}\n")
    job, joints = root.get("job"), root.get("joints")
    assert isinstance(job, Section)
    assert isinstance(joints, Listing)
    entry = joints.items[0]
    assert isinstance(entry, Section)
    to = entry.get("to")
    assert isinstance(to, Listing)
    assert job.keys["name"] == Place("pad.slab.yaml", 2, 3, "job.name")
    assert job.entries["name"].place == Place("pad.slab.yaml", 2, 9, "job.name")
    assert entry.place == Place("pad.slab.yaml", 4, 5, "joints[0]")
    assert entry.keys["to"] == Place("pad.slab.yaml", 4, 15, "joints[0].to")
    assert to.items[1].place == Place("pad.slab.yaml", 4, 24, "joints[0].to[1]")
    assert dict(key_places(root))["joints[0].to"].line == 4


def test_columns_count_characters_not_bytes() -> None:
    root = load("ä: {½: 1, b: 2}\n")
    inner = root.get("ä")
    assert isinstance(inner, Section)
    assert inner.keys["b"].column == 11


def test_lines_end_in_any_of_the_three_ways() -> None:
    assert load("a: 1\r\nb: 2\r\n").keys["b"].line == 2
    assert load("a: 1\rb: 2\r").keys["b"].line == 2


def test_a_few_aliases_repeat_what_they_mark() -> None:
    root = load("a: &foam {material: foam}\nb: *foam\n")
    assert root.get("b") is root.get("a")


TABLE = [
    ("", [(1, 1, "this file is empty", "format: 1 first, then the job")]),
    ("# a remark\n\n", [(1, 1, "this file is empty", "format: 1 first, then the job")]),
    ("---\n", [(1, 1, "this file is empty", "format: 1 first, then the job")]),
    ("a: 1\nb: 2\na: 3\n", [(3, 1, '"a" is written twice; first on line 1', "keep one of the two")]),
    ("a: {b: 1, b: 2}\nc: &d\nc: 4\n", [
        (1, 11, '"b" is written twice; first on line 1', "keep one of the two"),
        (3, 1, '"c" is written twice; first on line 2', "keep one of the two"),
    ]),
    ("size: #4\n", [(1, 7, "everything after # is a remark, so #4 is not read", '"#4", in quotes')]),
    ("sizes:\n  - #5\n", [(2, 5, "everything after # is a remark, so #5 is not read", '"#5", in quotes')]),
    ("name: pad #2\n", [(1, 11, "everything after # is a remark, so #2 is not read", '"pad #2", in quotes')]),
    ("bars: {size: #4, spacing: 18 in}\n", [
        (1, 14, "everything after # is a remark, so #4 and the rest of this line are not read", '"#4", in quotes'),
    ]),
    ("a: [1, #3, b]\nb: 2\n", [
        (1, 8, "everything after # is a remark, so #3 and the rest of this line are not read", '"#3", in quotes'),
    ]),
    ("a: !!int 3\nb: !x {c: 1}\n", [
        (1, 4, "a word that starts with ! is not read here", "the value without it, or in quotes"),
        (2, 4, "a word that starts with ! is not read here", "the value without it, or in quotes"),
    ]),
    ("<<: {a: 1}\n", [(1, 1, "<< (take over another section) is not read here", "the values themselves")]),
    ("a: 1\n---\nb: 2\n", [(2, 1, "a second document starts here (---)", "keep one design in one file")]),
    ("a: *b\n", [(1, 4, "*b stands for nothing", '"*b", in quotes, if it is text')]),
    ("a: &b [*b]\n", [(1, 8, "*b stands inside what it repeats", "the values themselves")]),
    ("[a]: 1\n", [(1, 1, "a list or section cannot be a key", "a word and a colon at the start")]),
    ("a:\n\tb: 1\n", [(2, 1, "this line is indented with a tab", "indent with blanks, two for each step")]),
    ("a: 1\x1b\n", [(1, 5, "there is an invisible character here (U+001B)", "delete it")]),
    ("a: x\u202ey\n", [(1, 5, "there is an invisible character here (U+202E)", "delete it")]),
    ("a: " + "x" * 2001 + "\n", [(1, 4, "this text is longer than 2,000 characters", "shorten it")]),
    ("a:\n  b: 1\n c: 2\n", [
        (3, 2, "this line does not line up with the lines above it",
         "the line again, indented like the others of its section"),
    ]),
    ("a: [1, 2\nb: 3\n", [(1, 4, "the [ here is never closed, or a comma is missing in it", "] at its end")]),
    ("a: {b: 1\n", [(1, 4, "the { here is never closed, or a comma is missing in it", "} at its end")]),
    ("a: {b: 1}}\n", [(1, 10, "there is a } too many here", "the line without it, or with its {")]),
    ('a: "x\nb: 2\n', [(1, 4, "a quote opens here and is never closed", "the same quote mark at its end")]),
    ("a: \"12'-6 1/2\"\"\n", [
        (1, 15, "text goes on after the closing quote", "the value without quotes: 12'-6 1/2\" needs none"),
    ]),
    ("a: north: pad\n", [
        (1, 9, "there is a second colon on this line", "the value in quotes, or the second key on a line of its own"),
    ]),
    ("a: 1\n  b: 2\n", [
        (2, 4, "this line does not go with the line above it", "a key with a colon on each line, indented alike"),
    ]),
    ("a: 1\nfoo\nb: 2\n", [(3, 1, "a line near here has a word and no colon after it", "key: value on each line")]),
    (": 3\n", [(1, 1, "a value stands here with no key before it", "a key before it, as in name: value")]),
    ("a: @x\n", [(1, 4, "a value cannot start with @", "the value in quotes")]),
    ("a: - b\n", [(1, 4, "a list cannot start on the line of its key", "the first - on a new line")]),
    ('a: "C:\\pad"\n', [(1, 7, "a backslash inside double quotes starts a special sign", "single quotes instead")]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "problems"), TABLE)
def test_each_refusal_names_place_trouble_and_remedy(text: str, problems: list[tuple[int, int, str, str]]) -> None:
    assert refused(text) == problems


@pytest.mark.parametrize(("text", "problems"), TABLE)
def test_the_parser_without_libyaml_tells_the_same(
    text: str, problems: list[tuple[int, int, str, str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(yaml_tree, "_LOADER", yaml.SafeLoader)
    found = refused(text)
    # The two parsers may point to neighboring columns of one line.
    assert [(line, wrong, write) for line, _, wrong, write in found] == [
        (line, wrong, write) for line, _, wrong, write in problems
    ]


def test_a_remark_after_a_value_stays_a_remark() -> None:
    assert value("4 in  # nominal").text == "4 in"
    assert value('"pad #2"').text == "pad #2"
    assert value("pad#2").text == "pad#2"


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-32"])
def test_other_encodings_are_named(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_bytes("format: 1\n".encode(encoding))
    with pytest.raises(UnreadableError) as caught:
        files.read_text(path)
    (problem,) = caught.value.problems
    assert problem.wrong == "this file is not plain text, or is saved as UTF-16 or UTF-32"
    assert problem.write == "save it again as UTF-8"


def test_a_letter_that_is_not_utf_8_is_placed(tmp_path: Path) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_bytes("format: 1\nname: Café\n".encode("cp1252"))
    with pytest.raises(UnreadableError) as caught:
        files.read_text(path)
    (problem,) = caught.value.problems
    assert (problem.place, problem.wrong) == (Place(str(path), 2, 10), "a letter here is not UTF-8")


def test_a_byte_order_mark_is_accepted(tmp_path: Path) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_bytes(b"\xef\xbb\xbfformat: 1\n")
    assert files.read_text(path) == "format: 1\n"


def test_missing_files_and_folders_are_told(tmp_path: Path) -> None:
    for path, wrong in ((tmp_path, "this is a folder"), (tmp_path / "none.yaml", "there is no such file")):
        with pytest.raises(UnreadableError) as caught:
            files.read_text(path)
        assert [(p.place, p.wrong) for p in caught.value.problems] == [(Place(str(path)), wrong)]


def test_trouble_where_a_key_belongs_stands_in_its_section() -> None:
    with pytest.raises(UnreadableError) as caught:
        yaml_tree.load("format: 1\njob: {name: Pad,\n  nu #4mber: 2}\n", "pad.slab.yaml")
    assert [(p.place.line, p.place.path) for p in caught.value.problems if "remark" in p.wrong] == [(3, "job")]
    assert load(".use: patio\n").keys[".use"].path == ".use"
