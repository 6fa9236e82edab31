"""What a rule file must hold: its page, its title, its limits and their sources, its two functions."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cached_property
from inspect import isfunction, isgeneratorfunction
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, TypeVar

from slabwright.rulebook.in_force import WEIGHTS, Cite, InForce, Limit
from slabwright.rulebook.limits import as_stated
from slabwright.rulebook.rule import GROUPS, Worked
from slabwright.rulebook.sources import Bibliography
from slabwright.source.alike import most_like
from slabwright.source.place import Place
from slabwright.source.problem import Problems
from slabwright.units.quantity import Kind, QuantityError, read

if TYPE_CHECKING:
    from slabwright.rulebook.may_import import Source

Member = TypeVar("Member", Limit, Worked)

HEADINGS = ("What is compared", "Why it matters", "When it does not apply", "How to put it right")
DIFFER = "Where sources differ"

_FILE_NAME = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
_HEADING = re.compile(rf"\n[ \t]*({'|'.join((*HEADINGS, DIFFER))})(?::|[ \t]*(?=\n|\Z))")
_UNDERLINE = re.compile(r"\A\n[ \t]*[-=~]+[ \t]*$", re.MULTILINE)
_INDENT = re.compile(r"\n([ \t]*)(?=\S)")


def page_of(docstring: str) -> dict[str, str]:
    """The text under each heading of a rule's docstring.

    A heading stands on a line of its own, with its text below it, indented or not; or it ends in a colon and its
    text begins on the same line.

    >>> page_of("Short panels.\\n\\nWhat is compared\\n    Length with width.\\n\\nWhy it matters: long panels crack.")
    {'What is compared': 'Length with width.', 'Why it matters': 'long panels crack.'}
    """
    _, *parts = _HEADING.split(f"\n{docstring}")
    return {heading: _flush_left(text) for heading, text in zip(parts[::2], parts[1::2], strict=True)}


def _flush_left(text: str) -> str:
    """The text without the indent of its first whole line, and without a line drawn under its heading."""
    text = _UNDERLINE.sub("", text)
    indent = _INDENT.search(text)
    return text.replace("\n" + indent[1], "\n").strip() if indent else text.strip()


class Check:
    """The checks of one rule file; each notes its problem at the line concerned, which is looked up only then."""

    def __init__(self, path: Path, file: str, problems: Problems) -> None:
        self.path, self.file, self.problems = path, file, problems

    def note(self, line: int, wrong: str, write: str, column: int = 1) -> None:
        """Note a problem at a line of the rule file."""
        self.problems.add(Place(self.file, line, column), wrong, write)

    @cached_property
    def source(self) -> Source:
        """The text of the rule file, parsed; raises ``SyntaxError`` where it is not Python."""
        from slabwright.rulebook import may_import  # 3 ms: of published rules nothing is noted

        return may_import.parsed(self.path.read_bytes())

    def names(self, page: dict[str, str]) -> None:
        """Check the file name, the group and the headings of the docstring."""
        if not _FILE_NAME.fullmatch(self.path.stem):
            self.note(1, f"{self.path.name} is no name for a rule", "small letters and figures, words joined by _")
        if self.path.parent.name not in GROUPS:
            self.note(1, f"there is no group {self.path.parent.name!r}", f"one of: {', '.join(GROUPS)}")
        for heading in HEADINGS:
            if not page.get(heading):
                self.note(1, f"the docstring has nothing under {heading!r}", f"a line {heading!r}, its text below it")
        if DIFFER in page and not page[DIFFER]:
            self.note(1, f"the docstring has nothing under {DIFFER!r}", "what each source says, or drop the heading")

    def contents(self, module: ModuleType, sources: Bibliography, own: bool = False) -> list[InForce]:
        """Check what the module holds; the limits of the rule, read, as far as they can be."""
        title = getattr(module, "TITLE", None)
        if not isinstance(title, str) or not title.strip() or "\n" in title:
            self.note(self.source.line_of("TITLE"), "TITLE is missing", 'TITLE = "what is asked, in one line"')
        in_force: list[InForce] = []
        for limit in self.members(module, "LIMITS", Limit):
            if any(limit.name == other.name for other in in_force):
                self.note(self.limit_line(limit), f"two limits are named {limit.name}", "a name of its own for each")
            elif self.limit(limit) and self.cite(limit.cite, limit.name, sources):
                try:
                    in_force.append(as_stated(limit, sources, own))
                except QuantityError as error:
                    self.note(self.limit_line(limit), f"{limit.name}: {error.wrong}", error.write)
        for worked in self.members(module, "WORKED", Worked):
            self.cite(worked.cite, worked.what, sources)
        if self.function(module, "judge", ("plan", "limits")) and not isgeneratorfunction(module.judge):
            self.note(self.source.line_of("judge"), "judge yields nothing", "yield a Finding or a Margin")
        return in_force

    def members(self, module: ModuleType, name: str, member: type[Member]) -> tuple[Member, ...]:
        """``LIMITS`` or ``WORKED`` of the module, or () with a problem noted."""
        found = getattr(module, name, None)
        if isinstance(found, tuple) and all(isinstance(one, member) for one in found) and (found or member is Worked):
            return found
        state = "is missing" if found is None else f"is not a tuple with a {member.__name__} for each"
        none = " (or () where no published number can be worked again)" if member is Worked else ""
        self.note(self.source.line_of(name), f"{name} {state}", f"{name} = ({member.__name__}(...),){none}")
        return ()

    def function(self, module: ModuleType, name: str, takes: tuple[str, ...]) -> bool:
        """Check that the module has a function that takes these arguments."""
        found = getattr(module, name, None)
        if isfunction(found) and found.__code__.co_varnames[: found.__code__.co_argcount] == takes:
            return True
        state = "is missing" if found is None else f"does not take ({', '.join(takes)})"
        self.note(self.source.line_of(name), f"{name} {state}", f"def {name}({', '.join(takes)})")
        return False

    def limit_line(self, limit: Limit) -> int:
        """The line that names a limit."""
        return self.source.line_of("LIMITS", limit.name)

    def limit(self, limit: Limit) -> bool:
        """Check name, weight, kind and meaning of a limit."""
        before = len(self.problems)
        kind: object = limit.kind
        if not limit.name.endswith(("_at_least", "_at_most")):
            wrong = f"the name {limit.name} does not tell the direction"
            self.note(self.limit_line(limit), wrong, "a name that ends in _at_least or _at_most")
        if limit.weight not in WEIGHTS:
            wrong = f"{limit.name}: there is no weight {limit.weight!r}"
            self.note(self.limit_line(limit), wrong, f"one of: {', '.join(WEIGHTS)}")
        if not isinstance(kind, Kind):
            wrong = f"{limit.name}: there is no kind {kind!r}"
            self.note(self.limit_line(limit), wrong, "a Kind of slabwright.rulebook.kit, such as Kind.DEPTH")
        if not limit.meaning.strip():
            self.note(self.limit_line(limit), f"{limit.name} has no meaning", "in a few words, what the limit is")
        return len(self.problems) == before

    def cite(self, cite: Cite, what: str, sources: Bibliography) -> bool:
        """Check that a source is known."""
        if cite.source in sources:
            return True
        near = most_like(cite.source, sources)
        self.note(
            self.source.line_of("", cite.source),
            f"{what}: there is no source {cite.source!r} in sources.yaml",
            f"{near!r}?" if near else "add the source to sources.yaml, with how it is known",
        )
        return False

    def text(self) -> None:
        """Check what the source text holds; raises ``SyntaxError`` where it is not Python."""
        for fault in self.source.faults():
            self.note(*fault)

    def compared(self, limits: Iterable[str]) -> None:
        """Check that every limit is compared with."""
        for fault in self.source.unread_limits(limits):
            self.note(*fault)

    def sane(self, limit: Limit, in_force: InForce) -> None:
        """Check that a limit lies in its sane range."""
        try:
            least, most = (read(text, limit.kind).si for text in limit.sane)
        except QuantityError as error:
            self.note(self.limit_line(limit), f"{limit.name}, sane range: {error.wrong}", error.write)
            return
        if not least <= in_force.value.si <= most:
            sane = f"{limit.sane[0]} to {limit.sane[1]}"
            wrong = f"{limit.name}: {limit.value} is outside its sane range, {sane}"
            self.note(self.limit_line(limit), wrong, "a value inside the range, or the right range")
