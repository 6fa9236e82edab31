"""Changing a value in the text of a design, so that all else stays as the foreman typed it, remarks included.

A path names a value: ``mix.air``, ``joints[0].depth``, ``edges[name=workshop wall].isolation``, ``outline[2]``. A key
with dots or brackets in it cannot be named. Every function takes the text and gives the changed text, or None where
the design has nothing at that path to change.
"""

from __future__ import annotations

import re
from typing import Any

import yaml

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_PART = re.compile(r"([^.\[\]]+)|\[(?:(\d+)|([^=\]]+)=([^\]]+))\]")


def put(text: str, path: str, value: str) -> str | None:
    """The text with the value at a path replaced, or the key added to a section that lacks it.

    >>> put("mix: {air: 6 %}  # salted", "mix.air", "2 %")
    'mix: {air: 2 %}  # salted'
    >>> put("mix: {air: 6 %}", "mix.slump", "5 in")
    'mix: {air: 6 %, slump: 5 in}'
    >>> put("mix: {air: 6 %}", "order.volume", "5 yd3") is None
    True
    """
    node = _at(text, path)
    if node is not None:
        return _replaced(text, node, value)
    parent, key = _cut(path)
    within = _at(text, parent)
    if not isinstance(within, yaml.MappingNode) or key.startswith("["):
        return None
    return _added(text, within, f"{key}: {value}")


def drop(text: str, path: str) -> str | None:
    """The text without the key, or the entry of a list, at a path.

    >>> drop("mix: {air: 6 %, slump: 4 in}", "mix.air")
    'mix: {slump: 4 in}'
    >>> drop("joints:\\n  - {name: J1}\\n  - {name: J2}  # the second\\nuse: walk\\n", "joints[name=J2]")
    'joints:\\n  - {name: J1}\\nuse: walk\\n'
    """
    node = _at(text, path)
    parent, _ = _cut(path)
    within = _at(text, parent)
    if node is None or within is None:
        return None
    members = within.value if isinstance(within, yaml.MappingNode) else [(item, item) for item in within.value]
    index = next(k for k, (_, value) in enumerate(members) if value.start_mark.index == node.start_mark.index)
    first, end = members[index][0].start_mark.index, _end(node)
    if within.flow_style:
        behind = text[end : members[index + 1][0].start_mark.index] if index + 1 < len(members) else "\n"
        if index and "\n" in behind:  # the next stands on a line of its own, and stays there
            return text[: _end(members[index - 1][1])] + text[end:]
        return text[:first] + text[end + len(behind) if index + 1 < len(members) else end :]
    if len(members) == 1:
        return drop(text, parent) if parent else None
    start = text.rfind("\n", 0, first) + 1
    if text[start:first].strip(" -"):
        return None
    return text[:start] + text[_line_end(text, end) :]


def add(text: str, path: str, value: str) -> str | None:
    """The text with one more entry at the end of the list at a path.

    >>> add("joints:\\n  - {name: J1}  # first\\nuse: walk\\n", "joints", "{name: J2}")
    'joints:\\n  - {name: J1}  # first\\n  - {name: J2}\\nuse: walk\\n'
    >>> add("truck_spots: [[1, 2]]", "truck_spots", "[3, 4]")
    'truck_spots: [[1, 2], [3, 4]]'
    """
    node = _at(text, path)
    if not isinstance(node, yaml.SequenceNode):
        return None
    return _added(text, node, value)


def value_at(text: str, path: str) -> str | None:
    """The text of the one value at a path; None where there is none, or a section or list."""
    node = _at(text, path)
    return str(node.value) if isinstance(node, yaml.ScalarNode) else None


def text_at(text: str, path: str) -> str | None:
    """What is typed at a path, a section or list included, on one line; None where nothing is."""
    node = _at(text, path)
    return None if node is None else " ".join(text[node.start_mark.index : _end(node)].split())


def line_of(text: str, path: str) -> int | None:
    """The line, from 1, of the value at a path."""
    node = _at(text, path)
    return None if node is None else int(node.start_mark.line) + 1


def _cut(path: str) -> tuple[str, str]:
    """A path in two: where the value is kept, and its own key or place in the list."""
    parts = list(_PART.finditer(path))
    return path[: parts[-1].start()].rstrip("."), parts[-1][0]


def _at(text: str, path: str) -> Any:
    node = yaml.compose(text, _LOADER)
    for part in _PART.finditer(path):
        key, number, wanted, value = part.groups()
        if key is not None:
            node = _value(node, key)
        elif not isinstance(node, yaml.SequenceNode):
            return None
        elif number is not None:
            node = node.value[int(number)] if int(number) < len(node.value) else None
        else:
            node = next((item for item in node.value if _says(item, wanted, value)), None)
        if node is None:
            return None
    return node


def _value(node: Any, key: str) -> Any:
    if not isinstance(node, yaml.MappingNode):
        return None
    return next((value for name, value in node.value if name.value == key), None)


def _says(node: Any, key: str, value: str) -> bool:
    found = _value(node, key)
    return isinstance(found, yaml.ScalarNode) and found.value == value


def _end(node: Any) -> int:
    """Where the text of a node ends: a block ends with its last value, not where the next begins."""
    while not isinstance(node, yaml.ScalarNode) and not node.flow_style and node.value:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    return int(node.end_mark.index)


def _line_end(text: str, index: int) -> int:
    """The start of the line after ``index``."""
    found = text.find("\n", index)
    return len(text) if found < 0 else found + 1


def _replaced(text: str, node: Any, value: str) -> str:
    return text[: node.start_mark.index] + value + text[_end(node) :]


def _added(text: str, within: Any, entry: str) -> str:
    """One more key or entry at the end of a section or list."""
    if within.flow_style:
        end = within.end_mark.index - 1
        if not within.value:
            return text[:end] + entry + text[end:]
        last = within.value[-1]
        after = _end(last[1] if isinstance(last, tuple) else last)
        return f"{text[:after]}, {entry}{text[after:]}"
    first = within.value[0]
    column = (first[0] if isinstance(first, tuple) else within).start_mark.column
    dash = "- " if isinstance(within, yaml.SequenceNode) else ""
    at = _line_end(text, _end(within))
    line_end = "" if at == 0 or text[at - 1] == "\n" else "\n"
    return f"{text[:at]}{line_end}{' ' * column}{dash}{entry}\n{text[at:]}"
