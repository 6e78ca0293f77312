"""Job and cell as they were written: plain tables, read without regard to what else is wrong with them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

from finishplan import reference, units
from finishplan.errors import Fault, ReferenceDataError, UnitError, nearest
from finishplan.job.positions import Location
from finishplan.job.source import Portion

Written = Mapping[str, Any]
Entry = TypeVar("Entry")


def listed(portion: Portion, kind: str) -> list[tuple[int, Written]]:
    """The tables of a list, with their places in it."""
    tables = portion.data.get(kind)
    return [(i, table) for i, table in enumerate(tables) if isinstance(table, dict)] if isinstance(tables, list) else []


def names(portion: Portion, *kinds: str) -> list[str]:
    """Names in the lists of these kinds that are text."""
    found = [table.get("name") for kind in kinds for _, table in listed(portion, kind)]
    return [name for name in found if isinstance(name, str)]


def items(table: Written, key: str) -> list[Any]:
    """A list under a key; empty where there is none."""
    value = table.get(key)
    return value if isinstance(value, list) else []


def quantity(table: object, key: str, kind: str) -> float | None:
    """A quantity under a key, None where it is not readable."""
    text = table.get(key) if isinstance(table, dict) else None
    try:
        return units.parse(text, kind) if isinstance(text, str) else None
    except UnitError:
        return None


def entry(look_up: Callable[[str], Entry], name: object) -> Entry | None:
    """An entry of the reference tables, None where the name is no text or not among them."""
    try:
        return look_up(name) if isinstance(name, str) else None
    except ReferenceDataError:
        return None


def article(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def either(words: Sequence[str]) -> str:
    """Alternatives as they stand in a sentence."""
    return " or ".join(filter(None, [", ".join(words[:-1]), words[-1]]))


def unknown_in_cell(portion: Portion, place: Location, name: str, kind: str, known: Sequence[str]) -> Fault:
    """The fault of a name that the cell does not have."""
    have = ", ".join(map(units.quoted, dict.fromkeys(known))) or "it has none yet"
    write = closest(name, known) if known else f"[[{kind}]] in the cell"
    return portion.fault(place, f"{article(kind)} of the cell: {have}", write=write)


def unknown_in_tables(portion: Portion, place: Location, name: str, meaning: str, known: Sequence[str]) -> Fault:
    """The fault of a name that the reference tables do not have, or not for this purpose."""
    close = ", ".join(map(units.quoted, nearest(name, known) or known))
    return portion.fault(place, f"{article(meaning)} of the reference tables: {close}", write=closest(name, known))


def closest(name: str, known: Sequence[str]) -> str:
    return next(map(units.quoted, nearest(name, known, 1)), "")


def material(job: Portion) -> reference.Workpiece | None:
    """The material of the part, None where the tables do not have it."""
    part = job.data.get("part")
    return entry(reference.workpiece, part.get("material")) if isinstance(part, dict) else None
