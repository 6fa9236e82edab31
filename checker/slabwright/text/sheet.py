"""Setting a sheet of text in a fixed number of columns: labels, hanging indents, rules and headings.

Everything that reaches a line goes through :func:`letters.visible` first, and through :func:`letters.spell` for
streams that cannot write every letter. Lines carry a tone (what the words weigh), never a color.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal, NamedTuple

from slabwright.text.letters import GLUE, columns, spell, visible, wrap

Tone = Literal["", "strong", "hold", "caution", "note", "met"]

USUAL = 80
LABEL = 10  # columns a label takes, the space behind it included


class Run(NamedTuple):
    """Words of one tone within a line."""

    text: str
    tone: Tone = ""


Line = tuple[Run, ...]


@dataclass(eq=False)
class Sheet:
    """A sheet being set, line by line; ``width`` in columns, ``encoding`` of the stream it is meant for."""

    width: int = USUAL
    encoding: str = "utf-8"
    lines: list[Line] = field(default_factory=list)

    def text(self, words: str) -> str:
        """Words made safe and spelt for the stream."""
        if words.isascii() and words.isprintable():
            return words
        return spell(visible(words), self.encoding)

    def blank(self) -> None:
        """An empty line, never two."""
        if self.lines and self.lines[-1]:
            self.lines.append(())

    def rule(self, heavy: bool = False) -> None:
        """A line across the sheet."""
        stroke = spell("═" if heavy else "─", self.encoding)
        self.lines.append((Run(stroke * self.width),))

    def heading(self, words: str, tone: Tone = "strong") -> None:
        """A section heading: a blank line, the words, a stroke to the right margin."""
        self.blank()
        title = self.text(words)
        if columns(title) > self.width - 4:
            self.paragraph(words, tone=tone)
            return
        stroke = spell("─", self.encoding) * (self.width - columns(title) - 1)
        self.lines.append((Run(title, tone), Run(f" {stroke}")))

    def paragraph(self, words: str, indent: int = 0, hang: int = 0, tone: Tone = "") -> None:
        """Words wrapped at ``indent``; lines after the first stand ``hang`` columns further in."""
        space, room = " " * indent, self.width - indent
        for part in wrap(self.text(words), room, room - hang):
            self._add(space, part, tone)
            space = " " * (indent + hang)

    def standing(self, words: str, indent: int = 0, hang: int = 0) -> None:
        """A paragraph that stands on the sheets of many designs alike; set once."""
        self.lines += _standing(self.width, self.encoding, words, indent, hang)

    def labeled(self, label: str, words: str, indent: int = 4, tone: Tone = "", label_tone: Tone = "") -> None:
        """A label, and beside it the words, wrapped in their own column."""
        self.rows(label, (words,), indent, tone, label_tone)

    def rows(
        self, label: str, rows: tuple[str, ...] | list[str], indent: int = 4, tone: Tone = "", label_tone: Tone = ""
    ) -> None:
        """A label, and beside it several rows; each wraps with its later lines two columns further in."""
        margin = " " * (indent + LABEL)
        room = self.width - indent - LABEL
        hang = 2 if len(rows) > 1 else 0
        head = self.text(label).ljust(LABEL)
        first = True
        for words in rows:
            space = margin
            for part in wrap(self.text(words), room, room - hang):
                if not first:
                    self._add(space, part, tone)
                elif tone or label_tone:
                    self.lines.append((Run(" " * indent), Run(head, label_tone), Run(part.replace(GLUE, " "), tone)))
                else:
                    self._add(" " * indent + head, part, tone)
                first = False
                space = margin + " " * hang

    def numbered(self, number: str, words: str, tone: Tone = "strong", mark_tone: Tone = "") -> None:
        """A number in the margin and the words of a comment beside it."""
        mark = self.text(number).rjust(3) + " "
        for part in wrap(self.text(words), self.width - len(mark)):
            self.lines.append((Run(mark, mark_tone), Run(part.replace(GLUE, " "), tone)))
            mark = " " * len(mark)

    def whole(self, words: str, tone: Tone = "") -> None:
        """Words on one line, however long."""
        self._add("", self.text(words), tone)

    def picture(self, rows: Sequence[str], indent: int = 4) -> None:
        """Rows of characters that stand below each other as they are."""
        for row in rows:
            self._add(" " * indent, row.encode(self.encoding, "replace").decode(self.encoding), "")

    def quoted(self, source: str, column: int, indent: int = 2) -> None:
        """A line of a file kept as typed, and a caret under ``column`` (from 1); cut to the part around it."""
        before = _kept(source[max(0, column - 1 - 4 * self.width) : column - 1], self.encoding)
        after = _kept(source[column - 1 : column - 1 + 4 * self.width], self.encoding)
        room = self.width - indent
        least_after = min(columns(after), room // 3)
        if columns(before) > room - least_after - 1:
            while columns(before) > room - least_after - 4:
                before = before[1:]
            before = f"...{before}"
        while columns(before) + columns(after) > room:
            after = after[:-4] + "..."
        self._add(" " * indent, f"{before}{after}".rstrip(), "")
        self._add(" " * (indent + columns(before)), "^", "strong")

    def _add(self, space: str, part: str, tone: Tone) -> None:
        part = part.replace(GLUE, " ")
        self.lines.append((Run(space + part),) if not tone else (Run(space), Run(part, tone)))


@lru_cache(maxsize=512)
def _standing(width: int, encoding: str, words: str, indent: int, hang: int) -> tuple[Line, ...]:
    page = Sheet(width, encoding)
    page.paragraph(words, indent, hang)
    return tuple(page.lines)


def _kept(source: str, encoding: str) -> str:
    """Part of a source line, safe to print, with its spaces as they stand."""
    return "".join(" " if letter in " \t\n\r" else spell(visible(letter) or " ", encoding) for letter in source)


def plain(lines: list[Line]) -> str:
    """The lines as plain text, each ended."""
    texts = [line[0].text if len(line) == 1 else "".join([run.text for run in line]) for line in lines]
    return "".join([text.rstrip() + "\n" for text in texts])
