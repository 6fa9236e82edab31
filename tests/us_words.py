"""What only a reader in the United States knows, in output of the program: a search, and the texts to search in.

Counted as such are units and their names, marks of feet and inches, American bar, mesh and board sizes, and the
numbers of federal safety rules. Not counted are names of sources (ACI 302.1R, IRC 2021, ASTM C94): they are titles of
documents, and a metric reader who wants to look one up needs them as they stand. "Feet" that walk on a slab and a
"yard" behind a house are no units; they count only after a number or an article.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from typing import Any

_NOT_A_UNIT = r"(?! (?:\d|all\b|each\b|a\b|the\b|one\b|it\b|two\b))"  # 1 in 40, 8.20 m3 in 1 load, 2 in all
US_ONLY = re.compile(
    "|".join(
        (
            r"\b(?:ft|ft2|ft3|ft-in|in2|psi|psf|pci|yd|yd2|yd3|lb|lbs|mph|gal|oz)\b",
            r"(?<![\w.])\d[\d.,/ -]*in\b" + _NOT_A_UNIT,
            r"\bin/ft\b",
            r"(?<![\w.])\d[\d.,/ ]*(?:mil|tons?)\b",
            r"\d['′] ?-? ?\d",  # 12'-6
            r"(?<!:\d)\d ?[\"″](?!\w)",  # 6", but not 07:00"
            r"°F\b|[Ff]ahrenheit",
            r"(?:(?<!:\d)\d|\b(?:an?|one|per|each|quarter)) (?:feet|foot|inch|inches|yards?|gallons?|pounds?)\b",
            r"\beighths\b",
            r"(?<![\w&])#\d+\b",  # bars
            r"\b[12]x(?:4|6|8|10|12)\b",  # boards
            r"\b[46]x[46]\b|\bW\d\.\d\b",  # mesh
            r"\bOSHA\b|\bCFR\b",
        )
    )
)


def us_words(texts: Iterable[str]) -> list[str]:
    """Every such word with what stands around it."""
    found = []
    for text in texts:
        flat = " ".join(text.split())
        found += [flat[max(0, one.start() - 40) : one.end() + 20] for one in US_ONLY.finditer(flat)]
    return found


def json_texts(text: str) -> Iterator[str]:
    """Every string of a JSON document, and its keys, but for the pages of the rules in a SARIF log.

    Those are the rulebook itself, which every reader gets alike, whatever the designs in the log are drawn in.
    """
    data = json.loads(text)
    if "runs" in data:
        for one in data["runs"]:
            del one["tool"]
    yield from _strings(data)


def _strings(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        for key, value in data.items():
            yield "1 ft: a key for feet and inches" if key == "us" else key
            yield from _strings(value)
    elif isinstance(data, list):
        for value in data:
            yield from _strings(value)
    elif isinstance(data, str):
        yield data


def csv_texts(text: str) -> Iterator[str]:
    """Every cell of a table."""
    for row in csv.reader(io.StringIO(text)):
        yield from row


def page_texts(text: str) -> Iterator[str]:
    """What a page or a drawing says: text between tags, and what is read out in place of pictures."""
    reader = _Reader()
    reader.feed(text)
    yield from reader.texts


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self.skips = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.skips = tag in ("style", "script")
        self.texts += [value for name, value in attrs if name in ("title", "alt", "aria-label", "content") and value]

    def handle_endtag(self, tag: str) -> None:
        self.skips = False

    def handle_data(self, data: str) -> None:
        if not self.skips:
            self.texts.append(data)
