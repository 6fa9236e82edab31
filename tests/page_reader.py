"""Reading a page as a browser without a script would: elements with their attributes, and the text people see."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"meta", "link", "input", "br", "img", "hr"}


@dataclass
class Element:
    """One element; ``text`` is all text in it, scripts and styles not counted for those around them."""

    tag: str
    attributes: dict[str, str]
    inside: tuple[str, ...]  # ids of the elements around it
    text: str = ""


@dataclass
class Page(HTMLParser):
    """All elements of a page in their order; unclosed and misplaced tags are refused."""

    elements: list[Element] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self._open: list[Element] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        assert len(names) == len(set(names)), f"an attribute twice on {tag}: {names}"
        around = tuple(one.attributes["id"] for one in self._open if "id" in one.attributes)
        element = Element(tag, {name: value or "" for name, value in attrs}, around)
        self.elements.append(element)
        if tag not in VOID:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self._open and self._open[-1].tag == tag, f"</{tag}> closes {[one.tag for one in self._open]}"
        self._open.pop()

    def handle_data(self, data: str) -> None:
        own = self._open[-1:] if self._open and self._open[-1].tag in {"script", "style"} else self._open
        for element in own:
            element.text += data

    def all(self, tag: str = "", **attributes: str) -> list[Element]:
        """Elements of a tag whose attributes have these values (``data_comment`` stands for ``data-comment``)."""
        wanted = {name.rstrip("_").replace("_", "-"): value for name, value in attributes.items()}
        return [
            one
            for one in self.elements
            if one.tag == (tag or one.tag) and all(one.attributes.get(n) == v for n, v in wanted.items())
        ]

    def one(self, tag: str = "", **attributes: str) -> Element:
        """The only such element."""
        (only,) = self.all(tag, **attributes)
        return only


def read(html: str) -> Page:
    """A whole page, every element closed."""
    page = Page()
    page.feed(html)
    page.close()
    assert not page._open
    return page


def words(text: str) -> str:
    """Text with every run of spaces as one."""
    return " ".join(text.split())
