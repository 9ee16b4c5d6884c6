"""A small reader of HTML for tests: elements with attributes and text, strict about what it is given."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"meta", "br", "img", "link", "hr", "input"}


@dataclass
class Element:
    """One element; ``children`` holds elements and texts."""

    name: str
    attributes: dict[str, str]
    children: list[Element | str] = field(default_factory=list)

    def text(self) -> str:
        """All text below."""
        return "".join(child if isinstance(child, str) else child.text() for child in self.children)

    def all(self, *names: str) -> list[Element]:
        """All elements below, of the given names if any are given."""
        found = []
        for child in self.children:
            if isinstance(child, Element):
                if not names or child.name in names:
                    found.append(child)
                found.extend(child.all(*names))
        return found


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("", {})
        self.open = [self.root]

    def handle_starttag(self, tag, attributes):
        element = Element(tag, {key: value or "" for key, value in attributes})
        self.open[-1].children.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag, attributes):
        self.open[-1].children.append(Element(tag, {key: value or "" for key, value in attributes}))

    def handle_endtag(self, tag):
        assert self.open[-1].name == tag, f"</{tag}> closes <{self.open[-1].name}>"
        self.open.pop()

    def handle_data(self, data):
        self.open[-1].children.append(data)


def read(html: str) -> Element:
    """The page; every element must be closed in order."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    assert reader.open == [reader.root], f"not closed: {[element.name for element in reader.open[1:]]}"
    return reader.root
