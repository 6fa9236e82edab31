"""Small pieces of messages: the name that is meant, the names there are, a value as it would be typed."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from typing import Any

from slabwright.source.alike import most_like

NOTHING = ("none", "no", "nothing", "n/a", "nil", "-")  # as people write that there are none
_COMPARED = 300  # names a mistyped one is compared with
_LISTED = 32  # names shown when none is near
_DIGITS = re.compile(r"-?[0-9.]+")


def unknown_name(name: str, kind: str, known: Collection[str]) -> tuple[str, str]:
    """A name that stands for nothing in the file."""
    wrong = f'there is no {kind} called "{name}"'
    if _DIGITS.fullmatch(name) and not any(_DIGITS.fullmatch(each) for each in known):
        return wrong, "[[12, 3]], with brackets of its own, for a pair of numbers"
    return wrong, choose(name, known, f"the {kind}s are", f"name it under {kind}s first")


def nearest(typed: str, known: Collection[str]) -> str:
    """The known name most like ``typed``, first by letters alone; empty when none is near.

    >>> nearest("v2", ["V1", "V2"]), nearest("Q", ["V1", "V2"])
    ('V2', '')
    """
    names = [str(name) for name in known]
    folded = next((name for name in names if name.casefold() == typed.casefold()), None)
    if folded is not None or len(names) > _COMPARED:
        return folded or ""
    return most_like(typed, names)


def choose(typed: str, known: Collection[str], listing: str, nothing: str = "") -> str:
    """The name nearest to ``typed``, or all names when they are few."""
    near = nearest(typed, known)
    if near or not known:
        return near or nothing
    names = [str(name) for name in known]
    more = f" and {len(names) - _LISTED} more" if len(names) > _LISTED else ""
    return f"{listing} {', '.join(names[:_LISTED])}{more}"


def flow(value: Any) -> str:
    """A JSON value as one line of YAML.

    >>> flow({"size": "#4", "at": [12, 3]})
    '{size: "#4", at: [12, 3]}'
    """
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flow(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(flow(each) for each in value) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{value:.2f}"
    text = str(value)
    return f'"{text}"' if re.match(r"[#&*!|>@`%\[{]", text) or ": " in text or " #" in text else text
