"""The letters of a line: none that could act up, spelt for the stream, counted in columns, wrapped at spaces.

Nothing a file says can move the cursor, change a color or turn the reading direction.
"""

import unicodedata
from functools import lru_cache

GLUE = "\u00a0"

_SPELT = {
    "─": "-", "═": "=", "–": "-", "—": "-", "−": "-", "·": ".", "•": "*", "…": "...", "×": "x", "÷": "/", "√": "sqrt ",
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "′": "'", "″": '"', "‘": "'",
    "’": "'", "“": '"', "”": '"', "°": "deg ", "²": "2", "³": "3", "µ": "u", "μ": "u", "≤": "<=", "≥": ">=", "±": "+/-",
}  # fmt: skip


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
