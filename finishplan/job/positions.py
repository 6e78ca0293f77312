"""Line and column of every key, table header and array item of a TOML text.

The TOML reader of the standard library keeps no positions. This index is built only to tell
where a fault is, from text that reader has already accepted: it follows the grammar of TOML 1.0
and checks nothing.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, NamedTuple

Location = tuple[str | int, ...]
"""Keys and list indices from the top of a document down to a value."""

_SKIPPED: Final = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_STRING: Final = re.compile(
    r'"""(?:\\.|[^\\])*?"""(?!")' r"|'''.*?'''(?!')" r'|"(?:\\.|[^"\\])*"' r"|'[^']*'", re.DOTALL
)
_KEY: Final = re.compile(r"[A-Za-z0-9_-]+|\"(?:\\.|[^\"\\])*\"|'[^']*'")
_SCALAR: Final = re.compile(r"[^,\]}#\n]+")


class Position(NamedTuple):
    """A place in a text; both count from 1."""

    line: int
    column: int


@dataclass
class Node:
    """A value's place, and the keys or items below it."""

    position: Position
    children: dict[str | int, Node] = field(default_factory=dict)

    def child(self, key: str | int, position: Position) -> Node:
        """The node below, entered at `position` if this is its first mention."""
        return self.children.setdefault(key, Node(position))

    def latest(self) -> Node:
        """The table meant by a header: the last item of an array of tables, else this node."""
        return self.children.get(len(self.children) - 1, self)

    def at(self, location: Sequence[str | int]) -> Position:
        """Place of a location, or of the innermost table on the way that the text holds."""
        node = self
        for key in location:
            if key not in node.children:
                break
            node = node.children[key]
        return node.position


def position_index(text: str) -> Node:
    """Index a valid TOML 1.0 document, with its line ends as ``\\n``.

    Raises
    ------
    RecursionError
        Arrays nested deeper than the interpreter's stack.
    """
    return _Scanner(text).document()


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.offset = 0
        self.line_starts = [0, *(end.end() for end in re.finditer("\n", text))]

    def document(self) -> Node:
        root = table = Node(Position(1, 1))
        while self.next_character():
            if self.next_character() == "[":
                table = self.header(root)
            else:
                self.pair(table)
        return root

    def next_character(self) -> str:
        self.take(_SKIPPED)
        return self.text[self.offset : self.offset + 1]

    def take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.offset)
        if match is None:
            raise ValueError(f"no TOML at {self.here()}")
        self.offset = match.end()
        return match[0]

    def passes(self, character: str) -> bool:
        found = self.next_character() == character
        self.offset += found
        return found

    def here(self) -> Position:
        line = bisect_right(self.line_starts, self.offset)
        return Position(line, self.offset - self.line_starts[line - 1] + 1)

    def dotted_key(self) -> list[tuple[str, Position]]:
        parts: list[tuple[str, Position]] = []
        while not parts or self.passes("."):
            self.next_character()
            position = self.here()
            part = self.take(_KEY)
            parts.append((tomllib.loads(f"key = {part}")["key"] if part[0] in "\"'" else part, position))
        return parts

    def header(self, root: Node) -> Node:
        self.passes("[")
        is_array = self.text.startswith("[", self.offset) and self.passes("[")
        *above, (name, position) = self.dotted_key()
        node = root
        for part, place in above:
            node = node.child(part, place).latest()
        node = node.child(name, position)
        if is_array:
            node = node.child(len(node.children), position)
            self.passes("]")
        else:
            node.position = position
        self.passes("]")
        return node

    def pair(self, table: Node) -> None:
        node = table
        for part, position in self.dotted_key():
            node = node.child(part, position)
        self.passes("=")
        self.value(node)

    def value(self, node: Node) -> None:
        opening = self.next_character()
        if opening == "[":
            self.array(node)
        elif opening == "{":
            self.inline_table(node)
        else:
            self.take(_STRING if opening in "\"'" else _SCALAR)

    def array(self, node: Node) -> None:
        self.passes("[")
        while not self.passes("]"):
            self.next_character()
            self.value(node.child(len(node.children), self.here()))
            self.passes(",")

    def inline_table(self, node: Node) -> None:
        self.passes("{")
        while not self.passes("}"):
            self.pair(node)
            self.passes(",")
