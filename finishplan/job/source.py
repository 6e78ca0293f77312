"""One file of a job as text: read, parsed as TOML, and every place in it known by line."""

from __future__ import annotations

import re
import stat
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, Final

from finishplan.errors import Fault, JobError
from finishplan.job.fields import as_given
from finishplan.job.positions import Location, Node, Position, position_index
from finishplan.units import quoted

LARGEST_FILE: Final = 2_000_000
LONGEST_LINE: Final = 10_000
ABSENT: Final = object()
"""Stands for a value the file does not hold."""

_BARE_KEY: Final = re.compile(r"[A-Za-z0-9_-]+")
_UNQUOTED: Final = re.compile(r"\s*(?P<key>[A-Za-z0-9_.-]+)\s*=\s*(?P<value>[^\s\"'\[{#][^\"'#]*?)\s*(?:#.*)?")
_AT: Final = re.compile(r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$")

# What the parser says, by how it starts, and how that reads to someone who writes job files.
_SYNTAX: Final[Mapping[str, str]] = {
    "Invalid value": "a value: text in double quotes, a number, true, false, a [list] or a {table}",
    "Invalid statement": 'a line such as key = "value" or a [table] header',
    "Expected newline": "nothing more on the line; text with a unit stands in double quotes",
    "Expected '='": "'=' between key and value",
    "Expected ']": "a closing bracket at the end of the table header",
    "Invalid initial character": "a key of letters, digits, _ and -, or a key in quotes",
    "Cannot declare": "each table once; tables of a list have double brackets, [[edge]]",
    "Cannot overwrite": "each key once in its table",
    "Cannot mutate": "each table written in one place only",
    "Cannot redefine": "each table written in one place only",
    "Duplicate inline table key": "each key once in its table",
    "Unclosed array": "a closing ] or a comma between the items of the list",
    "Unclosed inline table": "a closing } or a comma between the keys of the table, all on one line",
    "Unterminated string": "closing quotes at the end of the text",
    "Expected '\"'": "closing quotes at the end of the text",
    "Expected \"'": "closing quotes at the end of the text",
    "Illegal character": "text in quotes on one line, without control characters",
    "Found invalid character": "text without control characters",
    "Unescaped": r"\\ for a backslash, or the text in single quotes",
    "Invalid hex": "hexadecimal digits after \\u or \\U",
    "Escaped character": "a Unicode character after \\u or \\U",
    "Invalid date": "a date that exists",
}


@dataclass(frozen=True)
class Source:
    """A TOML file: its name as the user wrote it, its text, and what it holds."""

    shown: str
    text: str
    data: Mapping[str, Any]

    @cached_property
    def _index(self) -> Node:
        return position_index(self.text)

    def position(self, location: Location) -> Position:
        """Where a location is written, or the innermost table around it that is."""
        return self._index.at(location)

    def value(self, location: Location) -> Any:
        """What the file holds at a location, or `ABSENT`."""
        value: Any = self.data
        for key in location:
            try:
                value = value[key]
            except (KeyError, IndexError, TypeError):
                return ABSENT
        return value

    def fault(self, location: Location, wanted: str, *, given: str | None = None, write: str = "") -> Fault:
        """A fault at a location; what was given is read from the file unless stated."""
        value = self.value(location)
        if given is None:
            given = "" if value is ABSENT else as_given(value)
        line, column = self.position(location)
        return Fault(self.shown, self._key(location), wanted, given, write, line, column)

    def _key(self, location: Location) -> str:
        """The location as a user writes it, items counted from 1, with the name of the innermost item."""
        path, named = "", ""
        for depth, key in enumerate(location):
            if isinstance(key, int):
                path += f"[{key + 1}]"
                table = self.value(location[: depth + 1])
                name = table.get("name") if isinstance(table, dict) else None
                named = f" ({location[depth - 1]} {quoted(name)})" if isinstance(name, str) and name else named
            else:
                path += ("." if path else "") + (key if _BARE_KEY.fullmatch(key) else as_given(key))
        return path + named


@dataclass(frozen=True)
class Portion:
    """A table of a source treated as a whole: the job, or the cell wherever it is written."""

    source: Source
    prefix: Location = ()

    @property
    def data(self) -> Mapping[str, Any]:
        """The table itself; empty where the file holds something else in its place."""
        value = self.source.value(self.prefix)
        return value if isinstance(value, dict) else {}

    def fault(self, location: Location, wanted: str, *, given: str | None = None, write: str = "") -> Fault:
        return self.source.fault(self.prefix + location, wanted, given=given, write=write)


def read_source(path: Path, shown: str) -> Source:
    """Read a job or cell file.

    Raises
    ------
    JobError
        The file cannot be read, is no text in UTF-8, too large, or no TOML. A fault without a
        line concerns the file as a whole.
    """
    text = _text(_content(path, shown), shown)
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            raise _unreadable(shown, f"lines of at most {LONGEST_LINE} characters", f"one of {len(line)}", line=number)
    try:
        return Source(shown, text, tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise JobError([_syntax_fault(str(error), text, shown)]) from None
    except RecursionError:
        raise _unreadable(shown, "lists and tables nested a few levels deep") from None
    except ValueError:
        raise _unreadable(shown, "whole numbers of fewer digits", "a number of thousands of digits") from None


def _content(path: Path, shown: str) -> bytes:
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise _unreadable(shown, "a TOML file", "a folder" if stat.S_ISDIR(status.st_mode) else "a device")
        if status.st_size > LARGEST_FILE:
            size = f"{status.st_size / 1e6:.1f} MB"
            raise _unreadable(shown, f"a file of at most {LARGEST_FILE / 1e6:g} MB", size)
        return path.read_bytes()
    except FileNotFoundError:
        raise _unreadable(shown, "the name of a file that exists") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _unreadable(shown, f"a file that can be read ({reason})") from None


def _text(content: bytes, shown: str) -> str:
    try:
        return content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        given = f"the byte 0x{content[error.start]:02x}"
        raise _unreadable(shown, "text saved as UTF-8", given, line=line) from None


def _unreadable(shown: str, wanted: str, given: str = "", *, line: int = 0) -> JobError:
    return JobError([Fault(shown, "", wanted, given, line=line)])


def _syntax_fault(message: str, text: str, shown: str) -> Fault:
    place = _AT.search(message)
    lines = text.rstrip("\n").split("\n")
    line = int(place["line"]) if place and place["line"] else len(lines)
    column = int(place["column"]) if place and place["column"] else len(lines[-1]) + 1
    written = text.split("\n")[line - 1]
    plain = next((words for start, words in _SYNTAX.items() if message.startswith(start)), "a file in TOML 1.0")
    return Fault(
        shown, "", plain, as_given(written.strip()) if written.strip() else "", _in_quotes(written), line, column
    )


def _in_quotes(line: str) -> str:
    """An assignment with its bare text put into quotes; empty where that would not mend the line."""
    unquoted = _UNQUOTED.fullmatch(line)
    return f"{unquoted['key']} = {quoted(unquoted['value'])}" if unquoted and not _is_toml(line) else ""


def _is_toml(line: str) -> bool:
    try:
        return bool(tomllib.loads(line))
    except ValueError:
        return False
