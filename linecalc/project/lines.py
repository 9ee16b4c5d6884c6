"""The line on which each key of a TOML text stands. Imported only to report an error."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

from linecalc.project.wording import Path

if TYPE_CHECKING:
    from tree_sitter import Node

_TABLES = ("table", "table_array_element")
_KEYS = ("bare_key", "quoted_key", "dotted_key")


def key_lines(text: str) -> dict[Path, int]:
    """1-based line of every key path in ``text``, list elements by their index, from 0.

    ``text`` is taken to be valid TOML. Where a path is written in several
    places (``[panel.A]`` and ``[panel.B]`` both name ``panel``), the first holds.
    """
    import tree_sitter
    import tree_sitter_toml

    language = tree_sitter.Language(tree_sitter_toml.language())
    root = tree_sitter.Parser(language).parse(text.encode("utf-8")).root_node
    return _Walk().lines_of(root)


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """The line of ``path``, or of the innermost table around it that is written."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


class _Walk:
    """One pass over a syntax tree; keeps its own stack, so depth does not matter."""

    def __init__(self) -> None:
        self.lines: dict[Path, int] = {}
        self.elements: dict[Path, int] = {}
        self.waiting: list[tuple[Node, Path]] = []

    def lines_of(self, root: Node) -> dict[Path, int]:
        """The line of every key path below ``root``."""
        self.waiting = [(root, ())]
        while self.waiting:
            node, path = self.waiting.pop()
            if node.type in _TABLES:
                self._table(node)
            elif node.type == "pair":
                self._pair(node, path)
            elif node.type == "array":
                self._array(node, path)
            else:
                self._children(node, path)
        return self.lines

    def _table(self, node: Node) -> None:
        key = next((child for child in node.named_children if child.type in _KEYS), None)
        if key is None:
            return
        path = self._with_elements(_parts(key))
        if node.type == "table_array_element":
            index = self.elements[path] = self.elements.get(path, -1) + 1
            path = (*path, index)
        self._enter(path, 0, node)
        self._children(node, path)

    def _with_elements(self, parts: tuple[str, ...]) -> Path:
        """``parts`` with the index of the current element after each list but the last."""
        path: Path = ()
        for position, part in enumerate(parts):
            path = (*path, part)
            if path in self.elements and position < len(parts) - 1:
                path = (*path, self.elements[path])
        return path

    def _pair(self, node: Node, prefix: Path) -> None:
        key, *values = [child for child in node.named_children if child.type != "comment"]
        path = (*prefix, *_parts(key))
        self._enter(path, len(prefix), node)
        self.waiting.extend((value, path) for value in values)

    def _array(self, node: Node, path: Path) -> None:
        elements = [child for child in node.named_children if child.type != "comment"]
        for index, element in enumerate(elements):
            self._enter((*path, index), len(path), element)
            self.waiting.append((element, (*path, index)))

    def _children(self, node: Node, prefix: Path) -> None:
        self.waiting.extend((child, prefix) for child in reversed(node.named_children))

    def _enter(self, path: Path, known: int, node: Node) -> None:
        for length in range(known + 1, len(path) + 1):
            self.lines.setdefault(path[:length], node.start_point[0] + 1)


def _parts(key: Node) -> tuple[str, ...]:
    """The names that a key node joins by dots."""
    if key.type == "dotted_key":
        return tuple(part for child in key.named_children for part in _parts(child))
    text = (key.text or b"").decode("utf-8")
    if key.type != "quoted_key":
        return (text,)
    return (next(iter(tomllib.loads(f"{text} = 0"))),)
