"""Numbers that a sentence states, in figures or in words, and the numbers that a job and its review hold."""

from __future__ import annotations

import re
from collections.abc import Iterator

WORDS = {
    "half": 0.5, "quarter": 0.25, "third": 1 / 3, "two": 2, "twice": 2, "double": 2, "three": 3, "four": 4, "five": 5,
    "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14,
    "fifteen": 15, "sixteen": 16, "eighteen": 18, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60,
    "quarters": 0.25, "eighths": 0.125, "eighth": 0.125, "hundred": 100, "thousand": 1000,
}  # fmt: skip
_FACTORS = (1, 12, 1 / 12, 1000, 1 / 1000, 100, 1 / 100)  # inches in a foot, millimeters in a meter, percent


def figures(text: str) -> list[float]:
    """The numbers of a text written in figures; ``3 1/2`` is one of them.

    >>> figures("3 1/2 in at 1,400 m, a hump of 54 mm; 3/8 in")
    [3.5, 1400.0, 54.0, 0.375]
    """
    found = []
    for number in re.findall(r"\d+ \d+/\d+|\d+/\d+|\d[\d,]*(?:\.\d+)?|\.\d+", text):
        whole, _, part = number.rpartition(" ")
        top, _, bottom = part.partition("/")
        value = float(top.replace(",", "").rstrip(".") or 0) / (float(bottom) if bottom and float(bottom) else 1)
        found.append(value + (float(whole) if whole else 0))
    return found


def told(sentence: str) -> list[float]:
    """The numbers that a sentence states, words put together as spoken.

    >>> told("Thirteen and a half yards were ordered, for 6 in.")
    [6.0, 13.5]
    >>> told("It is seven eighths of an inch, and three hundred feet of three and a half.")
    [0.875, 300, 3.5]
    """
    return figures(sentence) + list(_spoken(sentence))


def _spoken(sentence: str) -> Iterator[float]:
    words = re.findall(r"[a-z]+", sentence.lower())
    at = 0
    while at < len(words):
        value = WORDS.get(words[at])
        at += 1
        if value is None:
            continue
        if value >= 1 and at < len(words) and words[at] in ("eighths", "quarters", "hundred", "thousand"):
            value *= WORDS[words[at]]
            at += 1
        rest = words[at : at + 3]
        if rest[:2] == ["and", "a"] and len(rest) == 3 and rest[2] in ("half", "quarter"):
            value += WORDS[rest[2]]
            at += 3
        yield value


def held(texts: list[str], pairs: list[tuple[str, str]]) -> set[float]:
    """The numbers in some texts, and the differences, sums and ratios of values as they were and as they are."""
    found = {number for text in texts for number in figures(text)}
    for before, now in pairs:
        for one in figures(before):
            for other in figures(now):
                found |= {abs(one - other), one + other}
                if one and other:
                    found |= {one / other, other / one}
    return found


def is_held(number: float, numbers: set[float]) -> bool:
    """Whether a number stands among others, in feet for inches too, as closely as it is told."""
    return any(abs(number - other * factor) <= 0.006 * number for other in numbers for factor in _FACTORS)
