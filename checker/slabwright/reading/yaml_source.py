"""From the bytes of a YAML file to a tree of text, lists and sections, each with its line and column.

Only what a design needs of YAML is read: one document, plain keys, no tags, no merge keys, few
aliases. Values stay text until the schema says what is wanted, so ``1:48``, ``07:00``, ``yes`` and
``1_000`` mean what was typed. The tree is built from the parser's events without recursion, and
every limit is checked before the work it would cost.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import yaml

from slabwright.place import Place
from slabwright.problem import Problems, UnreadableError
from slabwright.reading import yaml_trouble
from slabwright.reading.files import read_text
from slabwright.reading.node import Listing, Node, Section, Text

__all__ = ["PROBLEMS_AT_MOST", "invisible", "load", "read_text"]

DEPTH_AT_MOST = 40
CHARACTERS_AT_MOST = 2_000
VALUES_AT_MOST = 400_000
PROBLEMS_AT_MOST = 200  # reading stops there: nobody mends more at one sitting
REPEATED_AT_MOST = 10_000  # values that aliases may add to those typed

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

_BAD_CHARACTER = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]"
)
_TAB_INDENT = re.compile(r"^ *\t[ \t]*(?=[^\s#])", re.MULTILINE)
_REMARK = re.compile(r"[ \t]+(#\w[^\s,\]}]*)")
_REMARK_DIGIT = re.compile(r"[ \t]#\d")


def load(text: str, file: str) -> Node:
    """The located tree of one YAML document.

    :raises UnreadableError: with every problem found, in file order.
    """
    source = _Source(text, file)
    problems = Problems()
    _check_characters(source, problems)
    problems.raise_if_any()
    try:
        root = _Builder(source, problems).build(yaml.parse(text, Loader=_LOADER))
    except yaml.YAMLError as reason:
        problems.add(*yaml_trouble.explain(reason, file, source.lines))
        raise UnreadableError(tuple(problems)) from None
    problems.raise_if_any()
    return root


@dataclass
class _Source:
    """The text and what is known of its lines."""

    text: str
    file: str

    @cached_property
    def lines(self) -> list[str]:
        """Lines as YAML counts them."""
        return re.split(r"\r\n|\r|\n", self.text)

    @cached_property
    def starts(self) -> list[int]:
        """Offset of the first character of each line."""
        return [0] + [found.end() for found in re.finditer(r"\r\n|\r|\n", self.text)]

    @cached_property
    def remark_lines(self) -> frozenset[int]:
        """Lines, from 0, where a ``#`` after a blank is followed at once by a digit."""
        return frozenset(bisect_right(self.starts, found.start()) - 1 for found in _REMARK_DIGIT.finditer(self.text))

    def place(self, offset: int) -> Place:
        """Place of a character offset."""
        line = bisect_right(self.starts, offset)
        return Place(self.file, line, offset - self.starts[line - 1] + 1)


def invisible(text: str, file: str, problems: Problems) -> bool:
    """Note the first character that a text file should not hold; whether there is one."""
    bad = _BAD_CHARACTER.search(text)
    if bad is None:
        return False
    code = f"U+{ord(bad.group()):04X}"
    problems.add(_Source(text, file).place(bad.start()), f"there is an invisible character here ({code})", "delete it")
    return True


def _check_characters(source: _Source, problems: Problems) -> None:
    """Note characters that a text file should not hold, and lines indented with tabs (the first of each)."""
    text = source.text
    invisible(text, source.file, problems)
    tab = _TAB_INDENT.search(text)
    if tab:
        problems.add(
            source.place(tab.start() + tab.group().index("\t")),
            "this line is indented with a tab",
            "indent with blanks, two for each step",
        )
    if not text.strip() or all(not line.strip() or line.lstrip().startswith("#") for line in source.lines):
        problems.add(Place(source.file), "this file is empty", "format: 1 first, then the job")


@dataclass(slots=True)
class _Open:
    """A list or section whose end has not been seen."""

    place: Place
    is_section: bool
    anchor: str | None
    before: int  # values seen when it began
    items: list[Node] = field(default_factory=list)
    entries: dict[str, Node] = field(default_factory=dict)
    keys: dict[str, Place] = field(default_factory=dict)
    key: str | None = None  # waits for its value
    duplicate: bool = False

    def next_path(self) -> str:
        """Key path of the value that comes next."""
        if not self.is_section:
            return f"{self.place.path}[{len(self.items)}]"
        return f"{self.place.path}.{self.key}" if self.place.path else str(self.key)


class _Builder:
    """Builds the tree from events, with a stack of open lists and sections."""

    def __init__(self, source: _Source, problems: Problems) -> None:
        self.source = source
        self.file = source.file
        self.problems = problems
        self.stack: list[_Open] = []
        self.root: Node | None = None
        self.anchors: dict[str, tuple[Node, int] | None] = {}
        self.values = 0
        self.repeated = 0

    def build(self, events: Iterable[Any]) -> Node:
        """The tree of the one document in ``events``."""
        documents = 0
        for event in events:
            match event:
                case yaml.ScalarEvent():
                    self.scalar(event)
                case yaml.SequenceStartEvent() | yaml.MappingStartEvent():
                    self.begin(event)
                case yaml.SequenceEndEvent() | yaml.MappingEndEvent():
                    self.end()
                case yaml.AliasEvent():
                    self.alias(event)
                case yaml.DocumentStartEvent():
                    documents += 1
                    if documents > 1:
                        self.stop(event, "a second document starts here (---)", "keep one design in one file")
        if self.root is None or (isinstance(self.root, Text) and self.root.empty):
            self.problems.add(Place(self.file), "this file is empty", "format: 1 first, then the job")
            raise UnreadableError(tuple(self.problems))
        return self.root

    def stop(self, event: Any, wrong: str, write: str) -> None:
        """Note a problem that makes reading on pointless, and raise all found so far."""
        mark = event.start_mark
        self.problems.add(Place(self.file, mark.line + 1, mark.column + 1), wrong, write)
        raise UnreadableError(tuple(self.problems))

    def place(self, event: Any) -> Place:
        """Place of the value that ``event`` starts."""
        mark = event.start_mark
        path = self.stack[-1].next_path() if self.stack else ""
        return Place(self.file, mark.line + 1, mark.column + 1, path)

    def count(self, event: Any) -> None:
        """Count a value, and refuse tags and values without end."""
        self.values += 1
        if len(self.problems) >= PROBLEMS_AT_MOST:
            raise UnreadableError(tuple(self.problems))
        if self.values > VALUES_AT_MOST:
            self.stop(event, f"this file holds more than {VALUES_AT_MOST:,} values", "check that it is the right file")
        tag = getattr(event, "tag", None)
        if tag is not None and not (tag == "!" and isinstance(event, yaml.ScalarEvent) and event.style):
            self.problems.add(
                self.place(event), "a word that starts with ! is not read here", "the value without it, or in quotes"
            )

    def scalar(self, event: Any) -> None:
        """A key or a single value."""
        self.count(event)
        top = self.stack[-1] if self.stack else None
        plain = not event.style
        if len(event.value) > CHARACTERS_AT_MOST:
            self.stop(event, f"this text is longer than {CHARACTERS_AT_MOST:,} characters", "shorten it")
        if event.end_mark.line in self.source.remark_lines or (plain and not event.value):
            self.check_remark(event, plain)
        if top is not None and top.is_section and top.key is None:
            self.key(event, top, plain)
            return
        node = Text(self.place(event), event.value, plain)
        if event.anchor:
            self.anchors[event.anchor] = (node, 1)
        self.put(node)

    def check_remark(self, event: Any, plain: bool) -> None:
        """Note a value that an unquoted ``#`` turned into a remark."""
        if not plain:
            return
        mark = event.end_mark
        line = self.source.lines[mark.line] if mark.line < len(self.source.lines) else ""
        found = _REMARK.match(line, mark.column)
        if found is None or (event.value and not _REMARK_DIGIT.match(line, found.start(1) - 1)):
            return
        whole = f"{event.value} {found.group(1)}".strip()
        self.problems.add(
            Place(self.file, mark.line + 1, found.start(1) + 1, self.place(event).path),
            f"everything after # is a remark, so {found.group(1)} is not read",
            f'"{whole}", in quotes',
        )

    def key(self, event: Any, top: _Open, plain: bool) -> None:
        """A key of the section ``top``."""
        name = event.value
        mark = event.start_mark
        place = Place(self.file, mark.line + 1, mark.column + 1, f"{top.place.path}.{name}".lstrip("."))
        if plain and name == "<<":
            self.problems.add(place, "<< (take over another section) is not read here", "the values themselves")
        elif plain and not name:
            self.problems.add(place, "a value stands here with no key before it", "a key before it, as in name: value")
        elif name in top.keys:
            first = top.keys[name]
            self.problems.add(place, f'"{name}" is written twice; first on line {first.line}', "keep one of the two")
            top.duplicate = True
        else:
            top.keys[name] = place
        top.key = name

    def begin(self, event: Any) -> None:
        """A list or section starts."""
        self.count(event)
        is_section = isinstance(event, yaml.MappingStartEvent)
        if self.stack and self.stack[-1].is_section and self.stack[-1].key is None:
            self.stop(event, "a list or section cannot be a key", "a word and a colon at the start")
        if len(self.stack) >= DEPTH_AT_MOST:
            self.stop(event, f"lists and sections are nested more than {DEPTH_AT_MOST} deep", "bring this level out")
        if event.anchor:
            self.anchors[event.anchor] = None
        self.stack.append(_Open(self.place(event), is_section, event.anchor, self.values + self.repeated))

    def end(self) -> None:
        """The innermost list or section ends."""
        top = self.stack.pop()
        node: Node = (
            Section(top.place, top.entries, top.keys) if top.is_section else Listing(top.place, tuple(top.items))
        )
        if top.anchor:
            self.anchors[top.anchor] = (node, self.values + self.repeated - top.before + 1)
        self.put(node)

    def alias(self, event: Any) -> None:
        """``*name`` stands for what ``&name`` marked."""
        if self.stack and self.stack[-1].is_section and self.stack[-1].key is None:
            self.stop(event, f"*{event.anchor} cannot be a key", "the key itself")
        if event.anchor not in self.anchors:
            self.stop(event, f"*{event.anchor} stands for nothing", f'"*{event.anchor}", in quotes, if it is text')
        known = self.anchors[event.anchor]
        if known is None:
            self.stop(event, f"*{event.anchor} stands inside what it repeats", "the values themselves")
            return
        node, size = known
        self.repeated += size
        if self.repeated > REPEATED_AT_MOST:
            self.stop(event, f"* marks repeat more than {REPEATED_AT_MOST:,} values", "the values themselves")
        self.put(node)

    def put(self, node: Node) -> None:
        """Hand a finished value to what is open around it."""
        if not self.stack:
            self.root = node
            return
        top = self.stack[-1]
        if not top.is_section:
            top.items.append(node)
            return
        key = top.key
        top.key = None
        if not top.duplicate and key is not None:
            top.entries[key] = node
        top.duplicate = False
