"""The position index against the standard library's TOML reader, which settles what a text holds."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishplan.job.positions import Location, Node, Position, position_index

Table = dict[str, Any]

KEYS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=5) | st.sampled_from(
    ["a", "b", "a.b", "1", "-", "[x]", "#", "=", '"', "'", "]", "{"]
)
STRINGS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12) | st.sampled_from(
    ["[x]", "# no comment", "a = 1", '"', "''", "\\", "}", "two\nlines\n[y]\n", '"""', 'ends in quotes""']
)
SCALARS = st.integers(-(10**6), 10**6) | st.floats(allow_nan=False) | st.booleans() | STRINGS
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4), max_leaves=12
)
TABLES = st.dictionaries(KEYS, VALUES, max_size=6)
BLANKS = st.sampled_from(["", " ", "  ", "\t"])
FILLERS = st.sampled_from(["", " ", "\n", "\n  # [not] a = header ]\n", " # ,\n\n"])


def locations(value: object, above: Location = ()) -> Iterator[Location]:
    entries = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in entries:
        yield (*above, key)
        yield from locations(item, (*above, key))


def indexed(node: Node, above: Location = ()) -> Iterator[Location]:
    for key, below in node.children.items():
        yield (*above, key)
        yield from indexed(below, (*above, key))


class Writer:
    """Writes tables as TOML, drawing every choice of style that the grammar leaves open."""

    def __init__(self, draw: Any) -> None:
        self.draw = draw

    def key(self, key: str) -> str:
        forms = [json.dumps(key, ensure_ascii=False).replace("\x7f", "\\u007f")]
        if key and all(character.isascii() and (character.isalnum() or character in "_-") for character in key):
            forms.append(key)
        if "'" not in key and "\n" not in key and "\x7f" not in key:
            forms.append(f"'{key}'")
        return self.draw(st.sampled_from(forms))

    def string(self, text: str) -> str:
        basic = json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
        forms = [basic]
        if '"""' not in text:
            body = text.replace("\\", "\\\\").replace("\x7f", "\\u007f")
            forms.append(f'"""{body}"""')
        if "'" not in text and "\x7f" not in text:
            forms.append(f"'''{text}'''")
            if "\n" not in text:
                forms.append(f"'{text}'")
        return self.draw(st.sampled_from(forms))

    def value(self, value: object) -> str:
        if isinstance(value, dict):
            return "{" + ", ".join(self.pair([key], item) for key, item in value.items()) + "}"
        if isinstance(value, list):
            items = [self.draw(FILLERS) + self.value(item) + self.draw(FILLERS) for item in value]
            return "[" + ",".join(items) + ("," if items and self.draw(st.booleans()) else "") + "]"
        if isinstance(value, str):
            return self.string(value)
        return json.dumps(value).replace("Infinity", "inf")

    def pair(self, path: list[str], value: object) -> str:
        if isinstance(value, dict) and value and self.draw(st.booleans()):
            return ", ".join(self.pair([*path, key], item) for key, item in value.items())
        return self.dotted(path) + self.draw(BLANKS) + "=" + self.draw(BLANKS) + self.value(value)

    def dotted(self, path: list[str]) -> str:
        return (self.draw(BLANKS) + "." + self.draw(BLANKS)).join(self.key(part) for part in path)

    def sections(self, table: Table, above: list[str]) -> str:
        lines, below = [], []
        for key, value in table.items():
            path = [*above, key]
            if isinstance(value, dict) and self.draw(st.booleans()):
                below.append(f"[{self.dotted(path)}]\n{self.sections(value, path)}")
            elif is_list_of_tables(value) and self.draw(st.booleans()):
                below += [f"[[{self.dotted(path)}]]\n{self.sections(item, path)}" for item in value]
            else:
                lines.append(self.dotted([key]) + " = " + self.value(value) + "  # [comment]\n")
        return "".join(lines + below)


def is_list_of_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, dict) for item in value)


@st.composite
def documents(draw: Any) -> str:
    return Writer(draw).sections(draw(TABLES), [])


@settings(max_examples=400, deadline=None)
@given(documents())
def test_index_holds_exactly_the_locations_of_the_document(text: str) -> None:
    assert sorted(indexed(position_index(text)), key=repr) == sorted(locations(tomllib.loads(text)), key=repr)


@settings(max_examples=100, deadline=None)
@given(documents())
def test_a_position_points_at_its_key(text: str) -> None:
    index, lines = position_index(text), text.split("\n")
    for location in indexed(index):
        if isinstance(location[-1], str):
            line, column = index.at(location)
            rest = lines[line - 1][column - 1 :]
            assert rest[0] in "\"'" or rest.startswith(location[-1])


HAND_WRITTEN = '''\
title = """
[not] a = table
"""          # closing quotes
"quoted key".'other one'.bare = 1
[a.b]
list = [ # a comment with ] in it
  1,
  [2, 3], { x = "]", y.z = '}' },
]
[[a.rows]]
when = 1979-05-27 07:32:00
[[a.rows]]
name = "second"
[a.rows.below]
deep = true
[a]
late = 0
'''


@pytest.mark.parametrize(
    ("location", "position"),
    [
        (("title",), (1, 1)),
        (("quoted key", "other one"), (4, 14)),
        (("quoted key", "other one", "bare"), (4, 26)),
        (("a", "b"), (5, 4)),
        (("a", "b", "list"), (6, 1)),
        (("a", "b", "list", 0), (7, 3)),
        (("a", "b", "list", 1, 1), (8, 7)),
        (("a", "b", "list", 2), (8, 11)),
        (("a", "b", "list", 2, "y", "z"), (8, 24)),
        (("a", "rows", 0, "when"), (11, 1)),
        (("a", "rows", 1), (12, 5)),
        (("a", "rows", 1, "below", "deep"), (15, 1)),
        (("a",), (16, 2)),
        (("a", "late"), (17, 1)),
    ],
)
def test_positions_of_a_hand_written_document(location: Location, position: tuple[int, int]) -> None:
    index = position_index(HAND_WRITTEN)
    assert index.at(location) == position
    assert set(indexed(index)) == set(locations(tomllib.loads(HAND_WRITTEN)))


def test_missing_location_is_placed_at_the_innermost_table_there_is() -> None:
    index = position_index(HAND_WRITTEN)
    assert index.at(("a", "rows", 1, "absent", "x")) == Position(12, 5)
    assert index.at(("absent",)) == Position(1, 1)


def test_text_that_is_no_toml_is_refused() -> None:
    with pytest.raises(ValueError, match="no TOML at"):
        position_index("= 3")
