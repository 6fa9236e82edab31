"""Typed text brought to plain characters, for reading, and rid of what a screen must not obey, for showing."""

from __future__ import annotations

import re
import unicodedata

LONGEST = 80

_LOOKS_LIKE = {"'": "′’‘ʹʼ´", '"': "″”“ʺ˝", "-": "−–—‐‑‒﹣－", "/": "⁄∕", "x": "×", ":": "∶：", "°": "º˚"}
_SAME_AS = str.maketrans({mark: plain for plain, marks in _LOOKS_LIKE.items() for mark in marks})
_POWER = re.compile(r"(?<=[A-Za-z])[²³]")
_SPACES = re.compile(r"\s+")


def clean(text: str) -> str:
    """``text`` on one line, without control or invisible characters, otherwise as typed.

    >>> clean(" 5\\x1b\\tin\\u200b ")
    '5 in'
    """
    if text.isascii() and text.isprintable():  # as most are: a blank is the only space there is
        return (_SPACES.sub(" ", text) if "  " in text else text).strip()
    kept = (" " if c.isspace() else c for c in text if c.isspace() or unicodedata.category(c)[0] != "C")
    return _SPACES.sub(" ", "".join(kept)).strip()


def writable(text: str) -> str:
    """``text`` that UTF-8 can write: a file name may hold bytes that are no letters."""
    return text.encode("utf-8", "replace").decode("utf-8")


def plain_characters(text: str) -> str:
    """``text`` with the many signs for feet, inches, minus, fractions and powers brought to one of each.

    >>> plain_characters("6½″ − 3 m²")
    '6 1/2" - 3 m2'
    """
    cleaned = clean(text)
    if cleaned.isascii():
        return cleaned.replace("''", '"')
    powers = _POWER.sub(lambda found: "2" if found[0] == "²" else "3", cleaned.translate(_SAME_AS))
    return _SPACES.sub(" ", "".join(map(_plain, powers))).strip().replace("''", '"')


def _plain(character: str) -> str:
    """One character in its plain form; a fraction sign gets a space before it, since it may follow a whole number."""
    spread = unicodedata.normalize("NFKC", character)
    if "⁄" in spread:
        return " " + spread.replace("⁄", "/")
    return spread if unicodedata.category(character) in ("So", "Zs") else character
