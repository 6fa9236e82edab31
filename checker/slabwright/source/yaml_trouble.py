"""YAML syntax trouble told in plain sentences, with the line and what to write instead."""

from __future__ import annotations

import re
from collections.abc import Sequence

import yaml

from slabwright.source.place import Place

_LOST = r"(?:[:,\[{]|^\s*-)[ \t]+(#\d[^\s,\]}]*)"


def explain(reason: yaml.YAMLError, file: str, lines: Sequence[str]) -> tuple[Place, str, str]:
    """Place, what is wrong, and what to write, for an error of the YAML parser."""
    mark = getattr(reason, "problem_mark", None)
    start = getattr(reason, "context_mark", None)
    problem = str(getattr(reason, "problem", "") or "")
    line, column = (mark.line, mark.column) if mark is not None else (0, 0)
    opened = start.line if start is not None else line
    lost = _lost_in_remark(lines, opened, line)
    if lost is not None:
        at, word = lost
        return (
            Place(file, at[0] + 1, at[1] + 1),
            f"everything after # is a remark, so {word} and the rest of this line are not read",
            f'"{word}", in quotes',
        )
    here = lines[line] if line < len(lines) else ""
    character = here[column : column + 1]
    wrong, write = _say(problem, here, character, start, lines)
    if start is not None and _points_at_start(problem):
        line, column = start.line, start.column
    if line >= len(lines) or (line == len(lines) - 1 and not lines[line].strip() and line > 0):
        line, column = _last_with_text(lines)
    return Place(file, line + 1, column + 1), wrong, write


def _points_at_start(problem: str) -> bool:
    """Whether the useful place is where the thing began, not where the parser gave up."""
    return "end of stream" in problem or "document indicator" in problem or "',' or" in problem


def _last_with_text(lines: Sequence[str]) -> tuple[int, int]:
    """Line and column, from 0, just behind the last text of the file."""
    last = max((number for number, line in enumerate(lines) if line.strip()), default=0)
    return last, len(lines[last].rstrip()) if lines else 0


def _lost_in_remark(lines: Sequence[str], first: int, last: int) -> tuple[tuple[int, int], str] | None:
    """The first unquoted ``#4`` that stands as a value between two lines."""
    for number in range(max(first - 1, 0), min(last + 1, len(lines))):
        found = re.search(_LOST, lines[number])
        if found:
            return (number, found.start(1)), found.group(1)
    return None


def _say(problem: str, here: str, character: str, start: yaml.Mark | None, lines: Sequence[str]) -> tuple[str, str]:
    """What is wrong and what to write, by the parser's own words."""
    if "nesting depth" in problem:
        return "lists and sections are nested more than 40 deep", "bring this level out"
    opened = lines[start.line] if start is not None and start.line < len(lines) else here
    if _goes_on_after_quote(opened) and "mapping values" not in problem:
        return "text goes on after the closing quote", "the value without quotes: 12'-6 1/2\" needs none"
    if here.lstrip().startswith(":"):
        return "a value stands here with no key before it", "a key before it, as in name: value"
    if "mapping values are not allowed" in problem:
        if len(re.findall(r":(?:\s|$)", here)) < 2:
            return "this line does not go with the line above it", "a key with a colon on each line, indented alike"
        return (
            "there is a second colon on this line",
            "the value in quotes, or the second key on a line of its own",
        )
    if "',' or" in problem:
        closing = "]" if "']'" in problem else "}"
        opening = "[" if closing == "]" else "{"
        return f"the {opening} here is never closed, or a comma is missing in it", f"{closing} at its end"
    if "found unexpected end of stream" in problem or "unexpected document indicator" in problem:
        return "a quote opens here and is never closed", "the same quote mark at its end"
    if "unknown escape character" in problem or "escape sequence" in problem or "hexadecimal" in problem:
        return "a backslash inside double quotes starts a special sign", "single quotes instead"
    if "cannot start any token" in problem:
        if character == "\t":
            return "there is a tab here", "blanks instead"
        return f"a value cannot start with {character}", "the value in quotes"
    if character and character in "]}" and "expected" in problem:
        return (
            f"there is a {character} too many here",
            f"the line without it, or with its {'[' if character == ']' else '{'}",
        )
    if "could not find expected ':'" in problem:
        return "a line near here has a word and no colon after it", "key: value on each line"
    if "sequence entries are not allowed" in problem:
        return "a list cannot start on the line of its key", "the first - on a new line"
    if "block collection" in str(problem) or "expected key" in problem or "'-' indicator" in problem:
        return _indentation()
    if "block end" in problem or "block mapping" in problem or "node content" in problem:
        return _indentation()
    if "directive" in problem or "document start" in problem:
        return "this line cannot stand here", "format: 1 at the start of the file"
    if "alias" in problem or "anchor" in problem:
        return "a value cannot start with & or *", "the value in quotes"
    return "this line cannot be read", "key: value, indented like the lines around it"


def _goes_on_after_quote(line: str) -> bool:
    """Whether a quoted value is followed by more text, as when an inch mark closes the quotes too early."""
    return re.search(r"""(?:^|[:,\[{-])\s*(?:"[^"]*"|'[^']*')\s*[^\s,\]}:#]""", line) is not None


def _indentation() -> tuple[str, str]:
    """The usual trouble: a line that starts further left or right than its neighbors."""
    return (
        "this line does not line up with the lines above it",
        "the line again, indented like the others of its section",
    )
