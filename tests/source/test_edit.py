"""Edits of a YAML text by path: the data differ there and nowhere else, and all else stays as typed."""

from __future__ import annotations

import copy
import json
import string
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from slabwright.source import edit

# Keys and values as people type them, and some that must be in quotes somewhere.
KEYS = st.sampled_from(["air", "mix", "V1", "tire_pressure", "a b", "1", "P.1", "it's", "#4", "x: y", "- z", "é"])
VALUES = st.sampled_from(
    [
        "6 %",
        "1/2 in",
        "12'-6 1/2\"",
        "#4",
        "a, b",
        "[x",
        "99.90",
        "true",
        "a: b",
        "07:00",
        "5 in # 6",
        "½ in",
        "*a",
        "- b",
    ]
) | st.text(string.ascii_letters + string.digits + " ,:#-'\"", min_size=1, max_size=12).filter(lambda s: s == s.strip())


def data(depth: int) -> st.SearchStrategy[Any]:
    """Nested sections, lists and values."""
    if depth == 0:
        return VALUES
    inner = data(depth - 1)
    return VALUES | st.dictionaries(KEYS, inner, min_size=1, max_size=4) | st.lists(inner, min_size=1, max_size=4)


DESIGNS = st.dictionaries(KEYS, data(3), min_size=1, max_size=5)


class Typed:
    """Data typed in a style drawn by chance: block or flow, quoted or plain, with remarks and any line end."""

    def __init__(self, draw: Any) -> None:
        self.draw = draw
        self.remarks = 0

    def chance(self) -> bool:
        return bool(self.draw(st.booleans()))

    def remark(self) -> str:
        if not self.chance():
            return ""
        self.remarks += 1
        return f"  # remark {self.remarks}: it's [so"

    def plain(self, text: str) -> str:
        """A value without quotes where it can stand without, else, or by chance, in one of both kinds of quotes."""
        try:
            alone = yaml.load(f"[{text}]", yaml.BaseLoader) == yaml.load(f"- {text}", yaml.BaseLoader) == [text]
        except yaml.YAMLError:
            alone = False
        if alone and self.chance():
            return text
        return json.dumps(text, ensure_ascii=False) if self.chance() else "'" + text.replace("'", "''") + "'"

    def flow(self, value: Any) -> str:
        if isinstance(value, dict):
            return "{" + ", ".join(f"{self.plain(key)}: {self.flow(one)}" for key, one in value.items()) + "}"
        if isinstance(value, list):
            return "[" + ", ".join(map(self.flow, value)) + "]"
        return self.plain(value)

    def block(self, value: Any, indent: int) -> list[str]:
        """Lines of a section or list."""
        blanks, lines = " " * indent, []
        entries = value.items() if isinstance(value, dict) else [("", one) for one in value]
        for key, one in entries:
            if self.chance():
                self.remarks += 1
                lines.append(f"{blanks}# remark {self.remarks}: - alone")
            head = f"{blanks}{self.plain(key)}:" if isinstance(value, dict) else f"{blanks}-"
            if isinstance(one, str) or self.chance():
                lines.append(f"{head} {self.flow(one)}{self.remark()}")
                continue
            hanging = isinstance(value, dict) and isinstance(one, list) and self.chance()
            inner = self.block(one, indent if hanging else indent + 2)
            joined = isinstance(value, list) and not inner[0].lstrip().startswith("#") and self.chance()
            if joined:
                lines += [f"{head} {inner[0].lstrip()}", *inner[1:]]
            else:
                lines += [f"{head}{self.remark()}", *inner]
        return lines

    def text(self, value: dict[str, Any]) -> str:
        lines = [self.flow(value)] if self.chance() and self.chance() else self.block(value, 0)
        line_end = self.draw(st.sampled_from(["\n", "\r\n"]))
        return line_end.join(lines) + (line_end if self.chance() else "")


def loaded(text: str) -> Any:
    return yaml.load(text, yaml.BaseLoader)


def places(value: Any, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place in data, the whole left out."""
    members = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [each for key, one in members for each in ((*at, key), *places(one, (*at, key)))]


def named(at: tuple[Any, ...]) -> str:
    """A place as a path."""
    parts = [f"[{part}]" if isinstance(part, int) else f'."{part}"' if "." in part else f".{part}" for part in at]
    return "".join(parts).removeprefix(".")


def within(value: Any, at: tuple[Any, ...]) -> Any:
    for part in at:
        value = value[part]
    return value


@st.composite
def typed(draw: Any) -> tuple[Any, str, int]:
    value, style = draw(DESIGNS), Typed(draw)
    text = style.text(value)
    assert loaded(text) == value
    return value, text, style.remarks


@settings(deadline=None, max_examples=60)
@given(typed(), VALUES, st.data())
def test_a_value_that_is_put_changes_nothing_else(made: tuple[Any, str, int], new: str, chance: st.DataObject) -> None:
    value, text, remarks = made
    at = chance.draw(st.sampled_from(places(value)))
    changed = edit.put(text, named(at), new)
    assert changed is not None
    expected, old = copy.deepcopy(value), within(value, at)
    within(expected, at[:-1])[at[-1]] = loaded_value(new)
    assert loaded(changed) == expected
    if isinstance(old, str):  # remarks inside a section or list go with it
        assert changed.count("# remark") == remarks
        assert edit.value_at(changed, named(at)) == loaded_value(new)


def loaded_value(typed: str) -> Any:
    """What a snippet says: a flow list or section is read as one, all else is the text itself."""
    try:
        alone = loaded(f"- {typed}")[0]
    except yaml.YAMLError:
        return typed
    if isinstance(alone, str) and typed[:1] in "'\"":  # one quoted value and nothing behind it
        return alone
    return alone if isinstance(alone, dict | list) and typed[0] in "[{" else typed


@settings(deadline=None, max_examples=60)
@given(typed(), VALUES, st.data())
def test_a_key_that_is_put_is_added_with_its_sections(
    made: tuple[Any, str, int], new: str, chance: st.DataObject
) -> None:
    value, text, remarks = made
    sections = [(), *(at for at in places(value) if isinstance(within(value, at), dict))]
    at = chance.draw(st.sampled_from(sections))
    more = chance.draw(st.lists(st.sampled_from(["new", "newer", "P.2", "a: c"]), min_size=1, max_size=3))
    changed = edit.put(text, named((*at, *more)), new)
    assert changed is not None
    expected = copy.deepcopy(value)
    here = within(expected, at)
    for key in more[:-1]:
        here = here.setdefault(key, {})
    here[more[-1]] = loaded_value(new)
    assert loaded(changed) == expected
    assert changed.count("# remark") == remarks


@settings(deadline=None, max_examples=60)
@given(typed(), VALUES, st.data())
def test_an_entry_that_is_added_comes_last(made: tuple[Any, str, int], new: str, chance: st.DataObject) -> None:
    value, text, remarks = made
    lists = [at for at in places(value) if isinstance(within(value, at), list)]
    at = chance.draw(st.sampled_from([*lists, ("new",), ("new", "newer")]))
    changed = edit.add(text, named(at), new)
    assert changed is not None
    expected = copy.deepcopy(value)
    if at in lists:
        within(expected, at).append(loaded_value(new))
    else:
        expected["new"] = [loaded_value(new)] if at == ("new",) else {"newer": [loaded_value(new)]}
    assert loaded(changed) == expected
    assert changed.count("# remark") == remarks


@settings(deadline=None, max_examples=60)
@given(typed(), st.data())
def test_what_is_dropped_is_gone_and_nothing_else(made: tuple[Any, str, int], chance: st.DataObject) -> None:
    value, text, _ = made
    at = chance.draw(st.sampled_from(places(value)))
    changed = edit.drop(text, named(at))
    expected = copy.deepcopy(value)
    while at and len(within(expected, at[:-1])) == 1:  # what is left empty goes too
        at = at[:-1]
    if not at:
        assert changed is None
        return
    del within(expected, at[:-1])[at[-1]]
    assert changed is not None
    assert loaded(changed) == expected


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("a: {b: 1}", "a[0]"),
        ("a: {b: 1}", "c[0].d"),
        ("a: 1", "a.b"),
        ("a: [1", "a"),
        ("- 1", "a"),
        ("a: 1", ""),
        ("a: [{n: x}]", "a[n=y].b"),
        ("a: " + "[" * 200 + "]" * 200, "a"),
    ],
)
def test_what_is_not_there_cannot_be_put(text: str, path: str) -> None:
    assert edit.put(text, path, "2") is None
    assert edit.drop(text, path) is None


def test_what_others_repeat_cannot_be_left_out() -> None:
    text = "a: &wall {b: 1}\nc: *wall\n"
    assert edit.drop(text, "a") is None
    assert edit.put(text, "a", "2") is None
    assert edit.put(text, "c", "2") == "a: &wall {b: 1}\nc: 2\n"
    assert edit.drop(text, "c") == "a: &wall {b: 1}\n"
    assert edit.put(text, "d.e", "2") == "a: &wall {b: 1}\nc: *wall\nd: {e: 2}\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", "mix: {air: 6 %}\n"),
        ("# a remark\n", "# a remark\nmix: {air: 6 %}\n"),
        ("mix:\n", "mix: {air: 6 %}\n"),
        ("mix:  # later\n", "mix: {air: 6 %}  # later\n"),
        ("use: walk", "use: walk\nmix: {air: 6 %}\n"),
        ("{use: walk}", "{use: walk, mix: {air: 6 %}}"),
        ("mix:\n  slump: 4 in  # wet\n\nuse: walk\n", "mix:\n  slump: 4 in  # wet\n  air: 6 %\n\nuse: walk\n"),
        ("mix: {slump: 4 in,\n  }\n", "mix: {slump: 4 in, air: 6 %,\n  }\n"),
        ("mix: |\n  two\n  lines\nuse: walk\n", None),
    ],
)
def test_a_key_is_put_where_its_section_stands_or_is_made(before: str, after: str | None) -> None:
    assert edit.put(before, "mix.air", "6 %") == after


def test_lines_and_texts_are_found() -> None:
    text = "joints:\r\n  - name: J1\r\n    depth: 1 in  # deep\r\nnotes: |\r\n  two\r\n  lines\r\n"
    assert edit.line_of(text, "joints[name=J1].depth") == 3
    assert edit.text_at(text, "joints[0]") == "name: J1 depth: 1 in"
    assert edit.value_at(text, "joints[0]") is None
    assert edit.line_of(text, "joints[1]") is None
    assert edit.put(text, "notes", "one line") == text.partition("notes")[0] + "notes: one line\r\n"
    assert edit.drop(text, "joints[0].name") == text.replace("name: J1\r\n    ", "")


@pytest.mark.parametrize(
    "values",
    [
        {"a": "10", "b.c": "twenty", "e[0].f": "30"},
        {"e[1].f": "6", "e[0].f": "5", "b.c": "x, y"},
        {"b.c": "7", "b.d": "8", "g.h": "9"},  # two of them are not there yet
        {"e[0].f": "8", "e[n=one].f": "9"},  # one value by two paths
        {"a": "1", "e[5].f": "2"},
        {"quoted": "16:00", "a": "2"},
    ],
)
def test_values_put_at_once_are_those_put_one_by_one(values: dict[str, str]) -> None:
    text = 'a: 1  # first\nb: {c: 2}\nquoted: "15:45"\ne:\n  - {n: one, f: 3}\n  - n: two\n    f: 4\n'
    after: str | None = text
    for path, value in values.items():
        after = edit.put(after, path, value) if after is not None else None
    assert edit.put_each(text, values) == after
