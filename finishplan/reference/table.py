"""The table files: where they are, their records as the file holds them, and lookup by name."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path
from typing import Any, Generic, Protocol, TypeVar

from finishplan.errors import ReferenceDataError, nearest
from finishplan.reference.value import Value, read_value


@dataclass(frozen=True)
class Record:
    """One record of a table, read field by field; whatever is wrong names file and path."""

    file: str
    path: str
    entries: Mapping[str, Any]
    used: set[str] = field(default_factory=set)

    def refuse(self, key: str, reason: str) -> ReferenceDataError:
        return ReferenceDataError(f"{self.file}: {self.path}.{key}: {reason}")

    def _take(self, key: str) -> Any:
        self.used.add(key)
        if key not in self.entries:
            raise self.refuse(key, "missing")
        return self.entries[key]

    def holds(self, key: str) -> bool:
        return key in self.entries

    def text(self, key: str) -> str:
        """Non-empty text."""
        given = self._take(key)
        if not isinstance(given, str) or not given.strip():
            raise self.refuse(key, f"given {given!r}; wanted text")
        return given

    def choice(self, key: str, allowed: Sequence[str]) -> str:
        """One of a closed list of words."""
        given = self.text(key)
        if given not in allowed:
            raise self.refuse(key, f"given {given!r}; wanted one of {', '.join(allowed)}")
        return given

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts."""
        given = self._take(key)
        if not isinstance(given, list) or not all(isinstance(item, str) and item.strip() for item in given):
            raise self.refuse(key, f"given {given!r}; wanted a list of texts")
        return tuple(given)

    def values(self, kinds: Mapping[str, str]) -> dict[str, Value]:
        """The named figures, each with the kind of unit it must have."""
        return {key: read_value(self._take(key), self.file, f"{self.path}.{key}", kind) for key, kind in kinds.items()}

    def values_if_held(self, kinds: Mapping[str, str]) -> dict[str, Value]:
        """Those of the named figures that the record holds."""
        return self.values({key: kind for key, kind in kinds.items() if self.holds(key)})

    def records(self, key: str) -> dict[str, Record]:
        """Records one level down, by name."""
        given = self._take(key)
        if not isinstance(given, dict) or not all(isinstance(entry, dict) for entry in given.values()):
            raise self.refuse(key, "wanted one table per name")
        return {name: Record(self.file, f"{self.path}.{key}.{name}", entry) for name, entry in given.items()}

    def nothing_else(self) -> None:
        """Refuse fields that nothing has read: most likely a misspelling."""
        unknown = sorted(set(self.entries) - self.used)
        if unknown:
            raise self.refuse(unknown[0], "unknown field")


class Named(Protocol):
    """What every record has: the name it is filed under, and the other names it goes by."""

    @property
    def name(self) -> str: ...

    @property
    def aliases(self) -> tuple[str, ...]: ...


Row = TypeVar("Row", bound=Named)


@dataclass(frozen=True)
class Table(Generic[Row]):
    """One reference table: its file, what one record is called, and how a record is read."""

    name: str
    called: str
    read: Callable[[str, Record], Row]

    @functools.cached_property
    def rows(self) -> dict[str, Row]:
        """Every record by name, in the order of the file."""
        return read_rows(self.name, materials_directory() / f"{self.name}.toml", self.read)

    @functools.cached_property
    def _by_fold(self) -> dict[str, Row]:
        return {_fold(known): row for row in self.rows.values() for known in (row.name, *row.aliases)}

    def find(self, name: str) -> Row:
        """The record of that name or alias, without regard to case, spaces and hyphens."""
        row = self._by_fold.get(_fold(name))
        if row is None:
            known = [known for row in self.rows.values() for known in (row.name, *row.aliases)]
            close = nearest(name, known)
            hint = f"close to it: {_quoted(close)}" if close else f"known: {_quoted(self.rows)}"
            raise ReferenceDataError(f"{self.called} {name!r} is not in materials/{self.name}.toml; {hint}")
        return row

    def values(self) -> Iterator[Value]:
        """Every figure of the table, in the order of the file."""
        file = f"materials/{self.name}.toml"
        yield from _walk(_load(materials_directory() / f"{self.name}.toml", file), file, self.name)


def read_rows(table: str, path: Path, read: Callable[[str, Record], Row]) -> dict[str, Row]:
    """Read a table file into its records.

    Raises
    ------
    ReferenceDataError
        A file that is missing or not TOML, a malformed record, or a name that two records claim.
    """
    file = f"materials/{path.name}"
    rows: dict[str, Row] = {}
    owners: dict[str, str] = {}
    for name, entries in _load(path, file).items():
        if not isinstance(entries, dict):
            raise ReferenceDataError(f"{file}: {table}.{name}: given {entries!r}; wanted a table")
        record = Record(file, f"{table}.{name}", entries)
        row = read(name, record)
        record.nothing_else()
        for known in (row.name, *row.aliases):
            owner = owners.setdefault(_fold(known), name)
            if owner != name:
                raise ReferenceDataError(f"{file}: {table}.{name}: the name {known!r} already means {owner!r}")
        rows[name] = row
    return rows


def materials_directory() -> Path:
    """The directory of the tables: inside the installed package, or beside it in a checkout."""
    package = Path(str(files("finishplan")))
    beside = package.parent
    candidates = [package / "materials"]
    if (beside / "pyproject.toml").is_file():
        candidates.append(beside / "materials")
    for directory in candidates:
        if directory.is_dir():
            return directory
    raise ReferenceDataError(f"no reference tables: neither {' nor '.join(map(str, candidates))} is a directory")


@functools.cache
def _load(path: Path, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise ReferenceDataError(f"{file}: cannot be read: {error.strerror}") from error
    except ValueError as error:
        raise ReferenceDataError(f"{file}: not a TOML file in UTF-8: {error}") from error


def _walk(entries: Mapping[str, Any], file: str, path: str) -> Iterator[Value]:
    for key, entry in entries.items():
        if isinstance(entry, dict) and "value" in entry:
            yield read_value(entry, file, f"{path}.{key}")
        elif isinstance(entry, dict):
            yield from _walk(entry, file, f"{path}.{key}")


@functools.cache
def _fold(name: str) -> str:
    return "".join(letter for letter in name.casefold() if letter.isalnum())


def _quoted(names: Sequence[str] | Mapping[str, object]) -> str:
    return ", ".join(repr(name) for name in names)
