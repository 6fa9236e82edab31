"""Text on a drawing: escaped, measured and set in millimeters of paper."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from slabwright.source.clean import clean

# Widths in thousandths of the letter size, of DejaVu Sans: one of the widest common sans-serifs, so that a box
# measured with it holds the text in whatever sans-serif a viewer has.
_WIDTHS = dict(
    zip(
        map(chr, range(32, 127)),
        (
            318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
            636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
            295,
            656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
            500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392,
            634, 592, 818, 592, 592, 525, 636, 636, 337, 838,
        ),
        strict=True,
    )
)  # fmt: skip
_BOLD = 1.12  # bold letters, against plain ones
_LETTER, _WIDE = 700, 1000  # other letters; East Asian wide ones


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line of text, in the unit of ``size``.

    >>> round(text_width("99.90", 2.5), 3)
    7.155
    """
    thousandths = sum(_WIDTHS.get(letter) or _other(letter) for letter in text)
    return thousandths * size * (_BOLD if bold else 1.0) / 1000


def _other(letter: str) -> int:
    if unicodedata.combining(letter):
        return 0
    return _WIDE if unicodedata.east_asian_width(letter) in "WF" else _LETTER


def escaped(text: object) -> str:
    """Text from anywhere, on one line, safe between tags and inside quoted attributes.

    >>> escaped('<b onload="x">&\\x1b[1m')
    '&lt;b onload=&quot;x&quot;&gt;&amp;[1m'
    """
    safe = clean(str(text)).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return safe.replace('"', "&quot;").replace("'", "&#39;")


def shortened(text: str, width: float, size: float, bold: bool = False) -> str:
    """``text`` cut with an ellipsis where it is wider than ``width``."""
    text = clean(text)
    if text_width(text, size, bold) <= width:
        return text
    while text and text_width(text + "…", size, bold) > width:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, width: float, size: float, most: int = 3, bold: bool = False) -> list[str]:
    """``text`` in lines no wider than ``width``, the last of ``most`` lines shortened."""
    lines: list[str] = []
    words = clean(text).split(" ")
    while words:
        line = words.pop(0)
        while words and text_width(f"{line} {words[0]}", size, bold) <= width:
            line += " " + words.pop(0)
        if len(lines) == most - 1 and words:
            line, words = " ".join([line, *words]), []
        lines.append(shortened(line, width, size, bold))
    return lines


def number(value: float) -> str:
    """A length on paper, to the hundredth of a millimeter.

    >>> number(12.0), number(-0.001), number(3.14159)
    ('12', '0', '3.14')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(points: Iterable[tuple[float, float]], closed: bool = False) -> str:
    """The ``d`` of a path through ``points``."""
    joined = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{joined}Z" if closed else f"M{joined}"


def readable(angle: float) -> float:
    """The angle of text along a direction (degrees clockwise on paper), read from below or from the right.

    >>> readable(180), readable(90), readable(-91)
    (0.0, -90.0, -91.0)
    """
    return (angle + 95.0) % 180.0 - 95.0


def text_element(
    text: str,
    x: float,
    y: float,
    size: float,
    anchor: str = "start",
    angle: float = 0.0,
    kind: str = "",
    bold: bool = False,
) -> str:
    """One line of text; ``x, y`` is where the letters stand, ``angle`` turns it clockwise about there, degrees."""
    turn = f' transform="rotate({number(angle)} {number(x)} {number(y)})"' if angle else ""
    named = f' class="{kind}"' if kind else ""
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" text-anchor="{anchor}"'
        f"{weight}{named}{turn}>{escaped(text)}</text>"
    )
