"""Reference data: materials, cutters, abrasives, coatings, robot classes, defaults and their sources.

Every figure carries its unit, source, locator and grade, and a band where one is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from finishplan.errors import ReferenceDataError, nearest
from finishplan.reference.abrasives import ABRASIVES, AbrasiveFamily, AbrasiveWindow, Grain, Penetration
from finishplan.reference.backings import BACKINGS, Backing
from finishplan.reference.coatings import COATINGS, Coating, stack_down_from
from finishplan.reference.compositions import COMPOSITIONS, CONSTITUENTS, Composition
from finishplan.reference.cutters import CUTTERS, CutterFamily, CutterWindow
from finishplan.reference.defaults import DEFAULTS
from finishplan.reference.grits import GRITS, Grit
from finishplan.reference.removal import ABRADED_GROUPS, REMOVAL, Removal
from finishplan.reference.robots import ROBOTS, RobotClass
from finishplan.reference.sources import SOURCES, Source
from finishplan.reference.table import Named, Table
from finishplan.reference.value import GRADES, Value
from finishplan.reference.workpieces import WORKPIECES, Affine, CuttingLaw, Kienzle, Workpiece

__all__ = [
    "ABRADED_GROUPS",
    "CONSTITUENTS",
    "GRADES",
    "AbrasiveFamily",
    "AbrasiveWindow",
    "Affine",
    "Backing",
    "Coating",
    "Composition",
    "CutterFamily",
    "CutterWindow",
    "CuttingLaw",
    "Grain",
    "Grit",
    "Kienzle",
    "Penetration",
    "Removal",
    "RobotClass",
    "Source",
    "Value",
    "Workpiece",
    "abrasive",
    "backing",
    "coating",
    "coating_stack",
    "composition_of",
    "cutter",
    "default",
    "grit",
    "grits",
    "names",
    "removal",
    "robot_class",
    "row",
    "rows",
    "source",
    "tables",
    "values",
    "workpiece",
]

_TABLES: Final[Mapping[str, Table[Any]]] = {
    table.name: table
    for table in (
        WORKPIECES,
        CUTTERS,
        ABRASIVES,
        REMOVAL,
        GRITS,
        BACKINGS,
        COATINGS,
        COMPOSITIONS,
        ROBOTS,
        DEFAULTS,
        SOURCES,
    )
}


def workpiece(name: str) -> Workpiece:
    """The workpiece material of that name or alias."""
    return WORKPIECES.find(name)


def cutter(name: str) -> CutterFamily:
    """The cutter family of that name."""
    return CUTTERS.find(name)


def abrasive(name: str) -> AbrasiveFamily:
    """The family of abrasive products of that name."""
    return ABRASIVES.find(name)


def removal(group: str) -> Removal:
    """What a coated abrasive takes off a group of materials."""
    return REMOVAL.find(group)


def grit(designation: str) -> Grit:
    """The grit of that designation: ``P120``, ``F80``, ``CAMI 240``."""
    return GRITS.find(designation)


def grits(system: str) -> list[Grit]:
    """The grits of a system, ``FEPA-P``, ``FEPA-F`` or ``CAMI``, coarse to fine."""
    return GRITS.of_system(system)


def backing(name: str) -> Backing:
    """The pad or contact wheel of that name."""
    return BACKINGS.find(name)


def coating(name: str) -> Coating:
    """The coating or thin face layer of that name."""
    return COATINGS.find(name)


def coating_stack(name: str) -> list[Coating]:
    """The coating of that name and the layers beneath it, outermost first."""
    return stack_down_from(name)


def composition_of(group: str) -> Composition | None:
    """What a group of materials consists of; None where nothing in it has a limit of its own."""
    return COMPOSITIONS.rows.get(group)


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
