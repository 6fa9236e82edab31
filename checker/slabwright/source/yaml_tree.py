"""From the bytes of a YAML file to a tree of text, lists and sections, each with its line and column.

Only what a design needs of YAML is read: one document, plain keys, no tags, no merge keys, few
aliases. Values stay text until the schema says what is wanted, so ``1:48``, ``07:00``, ``yes`` and
``1_000`` mean what was typed. The tree is built from the parser's events without recursion, and
every limit is checked before the work it would cost.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import yaml

from slabwright.source import yaml_trouble
from slabwright.source.node import Listing, Node, Section, Text
from slabwright.source.place import Place
from slabwright.source.problem import PROBLEMS_AT_MOST, Problems, UnreadableError

DEPTH_AT_MOST = 40
CHARACTERS_AT_MOST = 2_000
VALUES_AT_MOST = 400_000
REPEATED_AT_MOST = 10_000  # values that aliases may add to those typed

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

_BAD_CHARACTER = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]"
)
_TAB_INDENT = re.compile(r"^ *\t[ \t]*(?=[^\s#])", re.MULTILINE)
_ANYTHING = re.compile(r"(?:^|[\r\n])[^\S\r\n]*[^\s#]")  # a line that holds more than blanks or a remark
_REMARK = re.compile(r"[ \t]+(#\w[^\s,\]}]*)")
_REMARK_DIGIT = re.compile(r"[ \t]#\d")
_THOUSANDS = r"\d{1,3},\d{3} ?(psi|lb|lbs|ft2)"  # nobody types these units with a decimal comma
_HASH_DIGIT = re.compile(r"#\d")


def load(text: str, file: str) -> Node:
    """The located tree of one YAML document.

    :raises UnreadableError: with every problem found, in file order.
    """
    source = _Source(text, file)
    problems = Problems()
    _check_characters(source, problems)
    problems.raise_if_any()
    try:
        root = _Builder(source, problems).build(_LOADER(text))
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
        hashes = (found.start() for found in _HASH_DIGIT.finditer(self.text))
        return frozenset(bisect_right(self.starts, at) - 1 for at in hashes if self.text[max(at - 1, 0)] in " \t")

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
    tab = _TAB_INDENT.search(text) if "\t" in text else None
    if tab:
        problems.add(
            source.place(tab.start() + tab.group().index("\t")),
            "this line is indented with a tab",
            "indent with blanks, two for each step",
        )
    if not _ANYTHING.search(text):
        problems.add(Place(source.file), "this file is empty", "format: 1 first, then the job")


class _Open:
    """A list or section whose end has not been seen."""

    __slots__ = (
        "anchor",
        "before",
        "cut",
        "duplicate",
        "entries",
        "is_section",
        "items",
        "key",
        "key_path",
        "keys",
        "place",
    )

    def __init__(self, place: Place, is_section: bool, anchor: str | None, before: int) -> None:
        self.place = place
        self.is_section = is_section
        self.anchor = anchor
        self.before = before  # values seen when it began
        self.items: list[Node] = []
        self.entries: dict[str, Node] = {}
        self.keys: dict[str, Place] = {}
        self.key: str | None = None  # waits for its value
        self.key_path = ""
        self.duplicate = False
        self.cut = False  # whether the key may be what a decimal comma cut off the value before it


class _Builder:
    """Builds the tree from events, with a stack of open lists and sections."""

    def __init__(self, source: _Source, problems: Problems) -> None:
        self.source = source
        self.file = source.file
        self.remark_lines = source.remark_lines
        self.problems = problems
        self.stack: list[_Open] = []
        self.top: _Open | None = None  # the last of the stack
        self.root: Node | None = None
        self.anchors: dict[str, tuple[Node, int] | None] = {}
        self.values = 0
        self.repeated = 0

    def build(self, parser: Any) -> Node:
        """The tree of the one document that ``parser`` gives the events of."""
        documents = 0
        following = parser.get_event
        while True:
            event = following()
            sort = type(event)  # the classes of events have no subclasses, and most events are scalars
            if sort is yaml.ScalarEvent:
                self.scalar(event)
            elif sort is yaml.MappingStartEvent or sort is yaml.SequenceStartEvent:
                self.begin(event, sort is yaml.MappingStartEvent)
            elif sort is yaml.MappingEndEvent or sort is yaml.SequenceEndEvent:
                self.end()
            elif sort is yaml.AliasEvent:
                self.alias(event)
            elif sort is yaml.DocumentStartEvent:
                documents += 1
                if documents > 1:
                    self.stop(event, "a second document starts here (---)", "keep one design in one file")
            elif sort is yaml.StreamEndEvent:
                break
        if self.root is None or (isinstance(self.root, Text) and self.root.empty):
            self.problems.add(Place(self.file), "this file is empty", "format: 1 first, then the job")
            raise UnreadableError(tuple(self.problems))
        return self.root

    def note(self, place: Place, wrong: str, write: str) -> None:
        """Note a problem; raise all of them when they are very many."""
        self.problems.add(place, wrong, write)
        if len(self.problems) >= PROBLEMS_AT_MOST:
            raise UnreadableError(tuple(self.problems))

    def stop(self, event: Any, wrong: str, write: str) -> None:
        """Note a problem that makes reading on pointless, and raise all found so far."""
        mark = event.start_mark
        self.problems.add(Place(self.file, mark.line + 1, mark.column + 1), wrong, write)
        raise UnreadableError(tuple(self.problems))

    def place(self, event: Any) -> Place:
        """Place of the value that ``event`` starts."""
        mark, top = event.start_mark, self.top
        if top is None:
            path = ""
        elif not top.is_section:
            path = f"{top.place.path}[{len(top.items)}]"
        else:
            path = top.place.path if top.key is None else top.key_path  # a key that is no key stands in its section
        return Place(self.file, mark.line + 1, mark.column + 1, path)

    def refuse(self, event: Any) -> None:
        """Refuse values without end, and tags."""
        if self.values > VALUES_AT_MOST:
            self.stop(event, f"this file holds more than {VALUES_AT_MOST:,} values", "check that it is the right file")
        if not (event.tag == "!" and type(event) is yaml.ScalarEvent and event.style):
            self.note(
                self.place(event), "a word that starts with ! is not read here", "the value without it, or in quotes"
            )

    def scalar(self, event: Any) -> None:
        """A key or a single value."""
        self.values += 1
        if event.tag is not None or self.values > VALUES_AT_MOST:
            self.refuse(event)
        value, plain, top = event.value, not event.style, self.top
        if len(value) > CHARACTERS_AT_MOST:
            self.stop(event, f"this text is longer than {CHARACTERS_AT_MOST:,} characters", "shorten it")
        if plain and (not value or (self.remark_lines and event.end_mark.line in self.remark_lines)):
            self.check_remark(event)
        if top is not None and top.is_section and top.key is None:
            self.key(event, top, plain)
            return
        node = Text(self.place(event), value, plain)
        if event.anchor:
            self.anchors[event.anchor] = (node, 1)
        self.put(node, top)

    def check_remark(self, event: Any) -> None:
        """Note a plain value that an unquoted ``#`` turned into a remark."""
        mark = event.end_mark
        line = self.source.lines[mark.line] if mark.line < len(self.source.lines) else ""
        found = _REMARK.match(line, mark.column)
        if found is None or (event.value and not _REMARK_DIGIT.match(line, found.start(1) - 1)):
            return
        whole = f"{event.value} {found.group(1)}".strip()
        self.note(
            Place(self.file, mark.line + 1, found.start(1) + 1, self.place(event).path),
            f"everything after # is a remark, so {found.group(1)} is not read",
            f'"{whole}", in quotes',
        )

    def key(self, event: Any, top: _Open, plain: bool) -> None:
        """A key of the section ``top``."""
        name, mark = event.value, event.start_mark
        path = f"{top.place.path}.{name}" if top.place.path else name
        place = Place(self.file, mark.line + 1, mark.column + 1, path)
        top.key, top.key_path = name, path
        if plain and name == "<<":
            self.note(place, "<< (take over another section) is not read here", "the values themselves")
        elif plain and not name:
            self.note(place, "a value stands here with no key before it", "a key before it, as in name: value")
        elif plain and name[0].isdigit() and top.entries and self.after_comma(mark):
            top.cut = True
        elif name in top.keys:
            first = top.keys[name]
            self.note(place, f'"{name}" is written twice; first on line {first.line}', "keep one of the two")
            top.duplicate = True
        else:
            top.keys[name] = place

    def begin(self, event: Any, is_section: bool) -> None:
        """A list or section starts."""
        self.values += 1
        if event.tag is not None or self.values > VALUES_AT_MOST:
            self.refuse(event)
        top = self.top
        if top is not None and top.is_section and top.key is None:
            self.stop(event, "a list or section cannot be a key", "a word and a colon at the start")
        if len(self.stack) >= DEPTH_AT_MOST:
            self.stop(event, f"lists and sections are nested more than {DEPTH_AT_MOST} deep", "bring this level out")
        if event.anchor:
            self.anchors[event.anchor] = None
        self.top = _Open(self.place(event), is_section, event.anchor, self.values + self.repeated)
        self.stack.append(self.top)

    def end(self) -> None:
        """The innermost list or section ends."""
        done = self.stack.pop()
        self.top = self.stack[-1] if self.stack else None
        node: Node = (
            Section(done.place, done.entries, done.keys) if done.is_section else Listing(done.place, tuple(done.items))
        )
        if done.anchor:
            self.anchors[done.anchor] = (node, self.values + self.repeated - done.before + 1)
        self.put(node, self.top)

    def alias(self, event: Any) -> None:
        """``*name`` stands for what ``&name`` marked."""
        top = self.top
        if top is not None and top.is_section and top.key is None:
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
        self.put(node, top)

    def put(self, node: Node, top: _Open | None) -> None:
        """Hand a finished value to what is open around it."""
        if top is None:
            self.root = node
        elif not top.is_section:
            top.items.append(node)
        else:
            if top.cut:
                self.rejoin(node, top)
            elif top.duplicate:
                top.duplicate = False
            elif top.key is not None:
                top.entries[top.key] = node
            top.key = None

    def after_comma(self, mark: Any) -> bool:
        """Whether a digit and a comma stand right before a place, as in ``{A: 99,90}``."""
        before: str = self.source.lines[mark.line][: mark.column]
        return before[-1:] == "," and before[-2:-1].isdigit()

    def rejoin(self, node: Node, top: _Open) -> None:
        """Put together what a decimal comma between braces cut in two; a key with a value of its own is a key."""
        top.cut = False
        key, (last, value) = str(top.key), next(reversed(top.entries.items()))
        if isinstance(node, Text) and node.empty and isinstance(value, Text) and value.plain:
            typed, meant = f"{value.text},{key}", f"{value.text}.{key}"
            wrong, write = f'"{typed}" has a decimal comma', f'{meant}, or "{typed}" in quotes'
            if re.fullmatch(_THOUSANDS, typed):
                wrong, meant = f'"{typed}" has a comma in the number', f"{value.text}{key}"
                write = meant
            self.note(value.place, f"{wrong}, and inside braces a comma ends the value", write)
            top.entries[last] = value._replace(text=meant)
        elif key in top.keys:
            place = top.keys[key]
            self.note(place, f'"{key}" is written twice; first on line {place.line}', "keep one of the two")
        else:
            top.keys[key] = Place(self.file, node.place.line, node.place.column, top.key_path)
            top.entries[key] = node
