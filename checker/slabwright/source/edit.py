"""Changing a value in the text of a YAML file, so that all else stays as it was typed, remarks included.

A path names a value as places do: ``mix.air``, ``joints[0].depth``, ``edges[name=workshop wall].isolation``,
``outline[2]``; a key with dots or brackets in it stands in quotes, ``points."P.1"``. Every function takes the text and
gives the changed text, or None where the text cannot be read or has nothing at that path to change. A value is typed as
it would be in the file, on one line (``6 %``, ``{name: J2, depth: 1 in}``); one that would be read as something else
there is put in quotes.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Literal

import yaml

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_PART = re.compile(r'"([^"]+)"|([^."\[\]]+)|\[(?:(\d+)|([^=\]]+)=([^\]]+))\]')
_LINE_END = re.compile(r"\r\n|\n|\r")
_ENDS = (yaml.MappingEndEvent, yaml.SequenceEndEvent)
_DEEPEST = 100  # lists and sections inside each other; a design has 40 at most


@dataclass
class _Node:
    """A value, list or section: where its text begins and ends, and what it holds.

    ``members`` are keys with their values; of a list, each entry twice. What ``*name`` stands for is a value.
    """

    sort: Literal["value", "list", "section"]
    start: int
    end: int
    line: int
    column: int
    flow: bool
    text: str = ""
    members: list[tuple[_Node, _Node]] = field(default_factory=list)

    @property
    def empty(self) -> bool:
        """Whether nothing is typed there."""
        return self.start == self.end

    def value_of(self, key: str) -> _Node | None:
        """What stands behind a key of a section."""
        found = (value for name, value in self.members if name.text == key)
        return next(found, None) if self.sort == "section" else None


def put(text: str, path: str, value: str) -> str | None:
    """The text with the value at a path replaced, or the key added, with the sections it stands in where they lack.

    >>> put("mix: {air: 6 %}  # salted", "mix.air", "2 %")
    'mix: {air: 2 %}  # salted'
    >>> put("mix: {air: 6 %}", "mix.slump", "5 in")
    'mix: {air: 6 %, slump: 5 in}'
    >>> put('pour: {start: "16:00"}', "pour.start", "15:45")
    'pour: {start: "15:45"}'
    >>> put("use: walk\\n", "order.volume", "5 yd3")
    'use: walk\\norder: {volume: 5 yd3}\\n'
    >>> put("joints: []", "joints[0].depth", "1 in") is None
    True
    """
    trail = _trail(text, path)
    parts = list(_PART.finditer(path))
    if not trail or not parts:
        return None
    lacking = parts[len(trail) - 1 :]
    if len(lacking) and trail[-1].empty and len(trail) > 1:  # a key with nothing behind it is a section to be
        lacking = parts[len(trail) - 2 :]
        trail.pop()
    for part in reversed(lacking[1:]):
        key = _key(part)
        if key is None:
            return None
        value = f"{{{_typed_key(key)}: {_typed(value, True)}}}"
    if not lacking:
        return _checked(_replaced(text, trail, value))
    key, within = _key(lacking[0]), trail[-1]
    if key is None or within.sort != "section":
        return None
    if (there := within.value_of(key)) is not None:
        return _checked(_replaced(text, [*trail, there], value))
    return _checked(_added(text, within, f"{_typed_key(key)}: {_typed(value, within.flow)}"))


def put_each(text: str, values: Mapping[str, str]) -> str | None:
    """The text with a value put at each of some paths; those where one stands already are replaced at one reading.

    >>> put_each("mix: {air: 6 %, slump: 4 in}\\n", {"order.volume": "5 yd3", "mix.slump": "5 in", "mix.air": "5 %"})
    'mix: {air: 5 %, slump: 5 in}\\norder: {volume: 5 yd3}\\n'
    """
    trails = {path: _trail(text, path) for path in values}
    there = [
        path
        for path, trail in trails.items()
        if len(trail) == len(list(_PART.finditer(path))) + 1 and trail[-1].sort == "value" and not trail[-1].empty
    ]
    from_back = sorted({trails[path][-1].start: path for path in there}.items(), reverse=True)
    for _, path in from_back:  # what stands before stays where it was
        text = _replaced(text, trails[path], values[path])
    after = _checked(text) if there else text
    for path in (one for one in values if one not in there):
        after = put(after, path, values[path]) if after is not None else None
    return after


def drop(text: str, path: str) -> str | None:
    """The text without the key, or the entry of a list, at a path; what this leaves empty goes with it.

    >>> drop("mix: {air: 6 %, slump: 4 in}", "mix.air")
    'mix: {slump: 4 in}'
    >>> drop("joints:\\n  - {name: J1}\\n  - {name: J2}  # the second\\nuse: walk\\n", "joints[name=J2]")
    'joints:\\n  - {name: J1}\\nuse: walk\\n'
    """
    trail = _trail(text, path)
    if len(trail) != len(list(_PART.finditer(path))) + 1:
        return None
    while len(trail) > 1:
        node, within = trail.pop(), trail[-1]
        if len(within.members) > 1:
            return _checked(_dropped(text, within, next(k for k, (_, one) in enumerate(within.members) if one is node)))
    return None


def add(text: str, path: str, *values: str) -> str | None:
    """The text with more entries at the end of the list at a path, which is made where it lacks.

    >>> add("joints:\\n  - {name: J1}  # first\\nuse: walk\\n", "joints", "{name: J2}")
    'joints:\\n  - {name: J1}  # first\\n  - {name: J2}\\nuse: walk\\n'
    >>> add("truck_spots: [[1, 2]]", "truck_spots", "[3, 4]")
    'truck_spots: [[1, 2], [3, 4]]'
    >>> add("use: walk\\n", "joints", "{name: J1}")
    'use: walk\\njoints:\\n  - {name: J1}\\n'
    >>> add("joints:\\n  - {name: J1}\\n", "joints", "{name: J2}", "{name: J3}")
    'joints:\\n  - {name: J1}\\n  - {name: J2}\\n  - {name: J3}\\n'
    >>> add("joints: none\\n", "joints", "{name: J1}")
    'joints: [{name: J1}]\\n'
    """
    trail = _trail(text, path)
    parts = list(_PART.finditer(path))
    if not trail or not parts:
        return None
    node = trail[-1]
    if len(trail) == len(parts) + 1 and not node.empty:
        between = ", " if node.flow else f"{_break(text)}{' ' * node.column}- "
        entries = between.join(_typed(value, node.flow) for value in values)
        if node.sort == "value":  # joints: none
            return put(text, path, f"[{', '.join(_typed(value, True) for value in values)}]")
        return _checked(_added(text, node, entries)) if node.sort == "list" else None
    root, key = trail[0], _key(parts[0])
    if len(trail) == len(parts) == 1 and key is not None and not root.flow and root.sort == "section":
        lines = (f"{_break(text)}{' ' * root.column}  - {_typed(value, False)}" for value in values)
        return _checked(_added(text, root, f"{_typed_key(key)}:{''.join(lines)}"))
    return put(text, path, f"[{', '.join(_typed(value, True) for value in values)}]")


def value_at(text: str, path: str) -> str | None:
    """The one value at a path; None where there is none, or a section or list."""
    node = _at(text, path)
    return node.text if node is not None and node.sort == "value" else None


def text_at(text: str, path: str) -> str | None:
    """What is typed at a path, a section or list included, on one line; None where nothing is."""
    node = _at(text, path)
    return None if node is None else " ".join(text[node.start : node.end].split())


def line_of(text: str, path: str) -> int | None:
    """The line, from 1, of the value at a path."""
    node = _at(text, path)
    return None if node is None else node.line


def _at(text: str, path: str) -> _Node | None:
    trail = _trail(text, path)
    return trail[-1] if len(trail) == len(list(_PART.finditer(path))) + 1 else None


def _trail(text: str, path: str) -> list[_Node]:
    """The nodes from the root to a path, as far as they are there; none when the text cannot be read."""
    try:
        root = _composed(text)
    except yaml.YAMLError:
        return []
    trail = [root]
    for part in _PART.finditer(path):
        _, _, number, wanted, value = part.groups()
        here, found, key = trail[-1], None, _key(part)
        if key is not None:
            found = here.value_of(key)
        elif here.sort == "list" and number is not None:
            found = here.members[int(number)][0] if int(number) < len(here.members) else None
        elif here.sort == "list":
            found = next((item for item, _ in here.members if _says(item, wanted, value)), None)
        if found is None:
            break
        trail.append(found)
    return trail


def _key(part: re.Match[str]) -> str | None:
    """The key that a part of a path names; None for a place in a list."""
    return part[1] or part[2]


def _says(node: _Node, key: str, value: str) -> bool:
    found = node.value_of(key)
    return found is not None and found.sort == "value" and found.text == value


@lru_cache(4)
def _composed(text: str) -> _Node:
    """The root of a text, which nobody may change; a text that holds nothing is a section without keys.

    One text is mostly asked for several values, or changed in several ways to see which is best.

    :raises yaml.YAMLError: when it cannot be read, or is nested very deep.
    """
    events = iter(yaml.parse(text, _LOADER))
    for event in events:
        if not isinstance(event, yaml.StreamStartEvent | yaml.DocumentStartEvent):
            break
    if isinstance(event, yaml.StreamEndEvent) or (isinstance(event, yaml.ScalarEvent) and not event.value):
        return _Node("section", len(text), len(text), 1, 0, flow=False)
    root = _node(text, event, events, 0)
    for _ in events:  # to the end, so that a broken rest is found
        pass
    return root


def _node(text: str, event: Any, events: Iterator[Any], depth: int) -> _Node:
    start, end = event.start_mark, event.end_mark
    where = start.index, end.index, start.line + 1, start.column
    if isinstance(event, yaml.AliasEvent):
        return _Node("value", *where, flow=True, text=f"*{event.anchor}")
    if isinstance(event, yaml.ScalarEvent):
        return _Node("value", *where, flow=event.style not in ("|", ">"), text=event.value)
    if depth > _DEEPEST:
        raise yaml.YAMLError("nested too deep")
    is_section = isinstance(event, yaml.MappingStartEvent)
    node = _Node("section" if is_section else "list", *where, flow=bool(event.flow_style))
    for inner in events:
        if isinstance(inner, _ENDS):
            break
        member = _node(text, inner, events, depth + 1)
        node.members.append((member, _node(text, next(events), events, depth + 1) if is_section else member))
    if node.flow:
        node.end = inner.end_mark.index
        if text[node.end - 1] not in "]}":  # [a: 1], a pair without braces
            return _Node("value", where[0], node.members[-1][1].end, *where[2:], flow=False)
    elif node.members:
        node.end = node.members[-1][1].end  # a block ends with its last value, not where the next begins
    return node


def _checked(text: str) -> str | None:
    """The text, if it can still be read: a name that ``*`` repeats elsewhere cannot be left out."""
    try:
        yaml.compose(text, _LOADER)
    except yaml.YAMLError:
        return None
    return text


def _typed(value: str, flow: bool) -> str:
    """A value as it can stand inside brackets or braces (``flow``), or behind a key of its own line."""
    around = ("[", "]") if flow else ("- ", "")
    try:
        (only,) = _composed(f"{around[0]}{value}{around[1]}").members
    except (yaml.YAMLError, ValueError):
        return json.dumps(value, ensure_ascii=False)
    whole = only[0].end - only[0].start == len(value.strip()) > 0 and only[0].flow
    return value.strip() if whole and value.strip()[0] not in "*&!" else json.dumps(value, ensure_ascii=False)


def _typed_key(key: str) -> str:
    """A key as it can stand anywhere."""
    try:
        ((name, value),) = _composed(f"{{{key}: x}}").members
    except (yaml.YAMLError, ValueError):
        return json.dumps(key, ensure_ascii=False)
    return key if (name.text, value.text) == (key, "x") else json.dumps(key, ensure_ascii=False)


def _break(text: str) -> str:
    """How lines of this text end."""
    found = _LINE_END.search(text)
    return found[0] if found else "\n"


def _line_end(text: str, index: int) -> int:
    """The start of the line after ``index``."""
    found = _LINE_END.search(text, index)
    return found.end() if found else len(text)


def _line_start(text: str, index: int) -> int:
    """The start of the line that ``index`` stands on."""
    return max(text.rfind("\n", 0, index), text.rfind("\r", 0, index)) + 1


def _end(text: str, node: _Node) -> int:
    """Where the text of a node ends; the line end behind a block of text is not its own."""
    return node.start + len(text[node.start : node.end].rstrip())


def _replaced(text: str, trail: list[_Node], value: str) -> str:
    """The text with another value where the last of ``trail`` stands."""
    node, within = trail[-1], trail[-2] if len(trail) > 1 else None
    value = _quoted_like(text[node.start : node.start + 1], _typed(value, within is not None and within.flow))
    if node.empty:
        before = text[: node.start]
        colon = "" if within is None or within.sort == "list" or before.endswith(":") else ":"
        return f"{before}{colon} {value}{text[node.start :]}"
    if node.flow or within is None or within.sort == "list":
        return text[: node.start] + value + text[_end(text, node) :]
    key = next(name for name, one in within.members if one is node)
    colon_at = text.index(":", key.end) + 1
    first = node.start if node.sort == "value" else _line_start(text, node.start)
    if first <= colon_at or node.sort == "value":  # a block of text: its mark stands on the line of the key
        return text[: node.start] + value + text[_end(text, node) :]
    return f"{text[:colon_at]} {value}{text[colon_at:first]}{text[_line_end(text, _end(text, node)) :]}"


def _quoted_like(mark: str, value: str) -> str:
    """A value in the quotes of the one that it takes the place of: ``"16:00"`` and ``"#6"`` stay in them."""
    if mark not in ('"', "'"):
        return value
    try:
        members = _composed(f"- {value}").members
    except yaml.YAMLError:
        return value
    if len(members) != 1 or members[0][0].sort != "value" or value.startswith("*"):
        return value
    typed = members[0][0].text
    return json.dumps(typed, ensure_ascii=False) if mark == '"' else "'" + typed.replace("'", "''") + "'"


def _added(text: str, within: _Node, entry: str) -> str:
    """One more key or entry at the end of a section or list."""
    if within.flow:
        if not within.members:
            return f"{text[: within.end - 1]}{entry}{text[within.end - 1 :]}"
        last = within.members[-1][1]
        if last.empty and text[last.end - 1] == ":":
            entry = f" , {entry}"  # a comma at once would belong to the key
            return text[: last.end] + entry + text[last.end :]
        after = _end(text, last)
        return f"{text[:after]}, {entry}{text[after:]}"
    column = within.members[0][0].column if within.sort == "section" and within.members else within.column
    dash = "- " if within.sort == "list" else ""
    at = _line_end(text, _end(text, within))
    line_end = "" if at == 0 or text[at - 1] in "\n\r" else _break(text)
    return f"{text[:at]}{line_end}{' ' * column}{dash}{entry}{_break(text)}{text[at:]}"


def _dropped(text: str, within: _Node, index: int) -> str:
    """The text without one of several keys or entries."""
    first, end = _member_start(text, within, index), _end(text, within.members[index][1])
    following = _member_start(text, within, index + 1) if index + 1 < len(within.members) else None
    if within.flow:
        if index and (following is None or _LINE_END.search(text, end, following)):
            return text[: _end(text, within.members[index - 1][1])] + text[end:]  # the next keeps its line
        return text[:first] + text[following or end :]
    start = _line_start(text, first)
    if following is not None and text[start:first].strip():  # on the line of the dash around it, which stays
        return text[:first] + text[following:]
    return text[:start] + text[_line_end(text, end) :]


def _member_start(text: str, within: _Node, index: int) -> int:
    """Where a key or an entry begins; in a block list that is its dash, which may stand on a line before it."""
    start = within.members[index][0].start
    if within.flow or within.sort == "section":
        return start
    line = _line_start(text, start)
    while line and not _holds_dash(text[line:start], within.column):
        line = _line_start(text, line - 1)
    return line + within.column


def _holds_dash(line: str, column: int) -> bool:
    """Whether a dash stands at a column of a line, with nothing but other dashes before it."""
    return line[column : column + 1] == "-" and not line[:column].strip(" -")
