"""Setting a sheet of text in a fixed number of columns: labels, hanging indents, and text that cannot act up.

Everything that reaches a line goes through :func:`visible` first, so nothing a file says can
move the cursor, change a color or turn the reading direction; and through :func:`spell` for
streams that cannot write every letter. Lines carry a tone (what the words weigh), never a
color: :func:`put` turns tones into color on a terminal and drops them everywhere else.
"""

import os
import sys
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal, NamedTuple, TextIO

Tone = Literal["", "strong", "hold", "caution", "note", "met"]
When = Literal["auto", "always", "never"]

NARROWEST = 60
WIDEST = 100
USUAL = 80
LABEL = 10  # columns a label takes, the space behind it included

GLUE = "\u00a0"

# Only bold, red and magenta: of the eight colors every terminal has, these read on white and on black alike.
_COLORS: dict[Tone, str] = {
    "": "",
    "strong": "bold",
    "hold": "bold red",
    "caution": "bold magenta",
    "note": "bold",
    "met": "bold",
}

_SPELT = {
    "─": "-", "═": "=", "–": "-", "—": "-", "−": "-", "·": ".", "•": "*", "…": "...", "×": "x", "÷": "/", "√": "sqrt ",
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "′": "'", "″": '"', "‘": "'",
    "’": "'", "“": '"', "”": '"', "°": "deg ", "²": "2", "³": "3", "µ": "u", "μ": "u", "≤": "<=", "≥": ">=", "±": "+/-",
}  # fmt: skip


class Run(NamedTuple):
    """Words of one tone within a line."""

    text: str
    tone: Tone = ""


Line = tuple[Run, ...]


def visible(text: str) -> str:
    r"""The text with everything that is not a letter, mark, number, sign or space written out as an escape.

    That covers control codes, bidirectional overrides, zero-width and other format characters,
    lone surrogates and unassigned code points. Line ends and tabs become one space, for text is
    set anew here anyway; every other odd space becomes an ordinary one.

    >>> visible("red\x1b[31m")
    'red\\x1b[31m'
    >>> visible("a\u202eb")
    'a\\u202eb'
    >>> visible("two\n lines")
    'two lines'
    """
    if text.isascii() and text.isprintable():
        return text
    bare = text.replace(GLUE, ".")
    if bare.isascii() and bare.isprintable() and "  " not in text and text == text.strip(" "):
        return text
    out: list[str] = []
    for letter in " ".join(text.split("\n")):
        category = unicodedata.category(letter)
        if letter == "\t" or category == "Zs":
            out.append(GLUE if letter == GLUE else " ")
        elif category in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}:
            code = ord(letter)
            out.append(f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}")
        else:
            out.append(letter)
    spaced = "".join(out)
    while "  " in spaced:
        spaced = spaced.replace("  ", " ")
    return spaced.strip(" ")


def spell(text: str, encoding: str) -> str:
    """The text in letters that ``encoding`` can write; the rest spelt out (``½`` as ``1/2``) or as an escape.

    >>> spell("½ in × 2 …", "ascii")
    '1/2 in x 2 ...'
    >>> spell("Žižka", "latin-1")
    '\\\\u017di\\\\u017eka'
    """
    if text.isascii() or _writes_all(encoding):
        return text
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return "".join(_spelt(letter, encoding) for letter in text)
    return text


@lru_cache(maxsize=16)
def _writes_all(encoding: str) -> bool:
    return encoding.lower().replace("_", "-") in {"utf-8", "utf8", "utf-16", "utf-32"}


def _spelt(letter: str, encoding: str) -> str:
    if letter == GLUE:  # it is a space again before anything is written
        return letter
    try:
        letter.encode(encoding)
    except UnicodeEncodeError:
        return _SPELT.get(letter) or letter.encode("ascii", "backslashreplace").decode("ascii")
    return letter


@lru_cache(maxsize=4096)
def _columns(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in {"Mn", "Me"}:
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def columns(text: str) -> int:
    """How many columns of a terminal the text takes.

    >>> columns("slab"), columns("床板")
    (4, 4)
    """
    return len(text) if _narrow(text) else sum(map(_columns, text))


def _narrow(text: str) -> bool:
    """Whether every letter surely takes one column: those of Latin-1, the glued space among them, do."""
    if text.isascii():
        return True
    try:
        text.encode("latin-1")
    except UnicodeEncodeError:
        return False
    return True


def together(text: str) -> str:
    """A quantity as one word for wrapping: its spaces glued, except before what the other system says in brackets.

    >>> together("12 ft (3.66 m)").split(" ")
    ['12\\xa0ft', '(3.66\\xa0m)']
    """
    return text.replace(" ", GLUE).replace(f"{GLUE}(", " (")


def wrap(text: str, width: int, later: int | None = None) -> list[str]:
    """Break text at spaces into lines of at most ``width`` columns (``later`` for all but the first).

    A word longer than a line is broken inside. Always gives at least one line.

    >>> wrap("saw cut before the slab cools", 12)
    ['saw cut', 'before the', 'slab cools']
    """
    later = width if later is None else later
    if "  " in text or text[:1] == " " or text[-1:] == " ":
        text = " ".join(filter(None, text.split(" ")))
    if not _narrow(text):
        return _wrap_by_word(text, width, later)
    lines, start, room = [], 0, width
    while len(text) - start > room:
        end = text.rfind(" ", start, start + room + 1)
        if end < 0:  # a word too long for the line
            return _wrap_by_word(text, width, later)
        lines.append(text[start:end])
        start, room = end + 1, later
    lines.append(text[start:])
    return lines


def _wrap_by_word(text: str, width: int, later: int) -> list[str]:
    """:func:`wrap` of letters of any width and words of any length, each measured."""
    lines: list[str] = []
    room, current = width, ""
    for word in text.split(" "):
        joined = f"{current} {word}" if current else word
        if columns(joined) <= room:
            current = joined
            continue
        if current:
            lines.append(current)
            room = later
        current = word
        while columns(current) > room:
            cut = _cut(current, room)
            lines.append(current[:cut])
            current, room = current[cut:], later
    if current or not lines:
        lines.append(current)
    return lines


def _cut(word: str, room: int) -> int:
    """How many letters of a word too long for a line go on it; at a glued space or a slash if one is near."""
    used = cut = 0
    for letter in word:
        used += _columns(letter)
        if used > room and cut:
            break
        cut += 1
    near = max(word.rfind(mark, cut // 2, cut) for mark in (GLUE, "/", "\\"))
    return near + 1 if near > 0 else cut


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


def stream_encoding(stream: TextIO) -> str:
    """The encoding of a stream; UTF-8 where it has none of its own."""
    return getattr(stream, "encoding", None) or "utf-8"


def fitting_width(stream: TextIO, asked: int | None = None) -> int:
    """Columns to set for: ``asked``, else those of the terminal between 60 and 100, else 80."""
    if asked is not None:
        return max(NARROWEST, asked)
    if not _is_terminal(stream):
        return USUAL
    from shutil import get_terminal_size  # 2 ms, for what it knows of archives

    return min(WIDEST, max(NARROWEST, get_terminal_size((USUAL, 24)).columns))


def screen(asked: int | None = None) -> tuple[int, str]:
    """Columns to set for and the encoding of what is printed; ``asked`` as in :func:`fitting_width`."""
    return fitting_width(sys.stdout, asked), stream_encoding(sys.stdout)


_when: list[When] = ["auto"]


def color(when: When) -> None:
    """Say when color is wanted from now on; ``auto`` leaves it to the stream and the environment."""
    _when[0] = when


def in_color(stream: TextIO) -> bool:
    """Whether color belongs on this stream.

    What ``--color`` says comes first; then nobody asked for none (``NO_COLOR``), and somebody asked for it
    (``FORCE_COLOR``), or it is a terminal that can.
    """
    if _when[0] != "auto":
        return _when[0] == "always"
    if os.environ.get("NO_COLOR"):
        return False
    forced = os.environ.get("FORCE_COLOR", "")
    if forced:
        return forced != "0"
    return _is_terminal(stream) and os.environ.get("TERM") != "dumb"


def _is_terminal(stream: TextIO) -> bool:
    return bool(getattr(stream, "isatty", lambda: False)())


def put(lines: list[Line], stream: TextIO) -> None:
    """Write the lines: with color on a terminal that takes it, as plain text anywhere else."""
    if not in_color(stream):
        stream.write(plain(lines))
        return
    from rich.console import Console  # costs 70 ms: only where color is wanted
    from rich.text import Text

    page = Text(no_wrap=True, overflow="ignore")
    for line in lines:
        for run in line:
            page.append(run.text, _COLORS[run.tone])
        page.append("\n")
    forced = None if _is_terminal(stream) else True
    console = Console(
        file=stream, highlight=False, markup=False, emoji=False, no_color=False, force_terminal=forced,
        color_system="auto" if forced is None else "standard",
    )  # fmt: skip
    console.print(page, soft_wrap=True, end="")
