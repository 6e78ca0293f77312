"""Reference data: materials, cutters, robot classes, defaults and their sources.

Every figure carries its unit, source, locator and grade, and a band where one is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from finishplan.errors import ReferenceDataError, nearest
from finishplan.reference.cutters import CUTTERS, CutterFamily, CutterWindow
from finishplan.reference.defaults import DEFAULTS
from finishplan.reference.robots import ROBOTS, RobotClass
from finishplan.reference.sources import SOURCES, Source
from finishplan.reference.table import Named, Table
from finishplan.reference.value import GRADES, Value
from finishplan.reference.workpieces import WORKPIECES, Affine, CuttingLaw, Kienzle, Workpiece

__all__ = [
    "GRADES",
    "Affine",
    "CutterFamily",
    "CutterWindow",
    "CuttingLaw",
    "Kienzle",
    "RobotClass",
    "Source",
    "Value",
    "Workpiece",
    "cutter",
    "default",
    "names",
    "robot_class",
    "row",
    "rows",
    "source",
    "tables",
    "values",
    "workpiece",
]

_TABLES: Final[Mapping[str, Table[Any]]] = {
    table.name: table for table in (WORKPIECES, CUTTERS, ROBOTS, DEFAULTS, SOURCES)
}


def workpiece(name: str) -> Workpiece:
    """The workpiece material of that name or alias."""
    return WORKPIECES.find(name)


def cutter(name: str) -> CutterFamily:
    """The cutter family of that name."""
    return CUTTERS.find(name)


def robot_class(kind: str) -> RobotClass:
    """The class figures of a robot kind."""
    return ROBOTS.find(kind)


def default(name: str) -> Value:
    """The named default; its title says what it is."""
    return DEFAULTS.find(name).value


def source(key: str) -> Source:
    """The publication a Value names as its source."""
    return SOURCES.find(key)


def tables() -> list[str]:
    """Names of the reference tables."""
    return list(_TABLES)


def names(table: str) -> list[str]:
    """Names of a table's records, in the order of its file."""
    return list(_table(table).rows)


def rows(table: str) -> list[Named]:
    """A table's records, in the order of its file."""
    return list(_table(table).rows.values())


def row(table: str, name: str) -> Named:
    """One record of a table by its name or alias."""
    found: Named = _table(table).find(name)
    return found


def values(table: str) -> Iterator[Value]:
    """Every figure of a table with its path, in the order of its file."""
    return _table(table).values()


def _table(name: str) -> Table[Any]:
    if name not in _TABLES:
        close = nearest(name, _TABLES) or tables()
        raise ReferenceDataError(f"no reference table is called {name!r}; there is {', '.join(close)}")
    return _TABLES[name]
