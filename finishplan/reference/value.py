"""A figure of the reference tables with its unit, band, source and grade."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from finishplan import units
from finishplan.errors import ReferenceDataError, UnitError

GRADES: Final = ("published", "read-off", "derived", "common practice", "from memory")

_REQUIRED: Final = ("value", "unit", "source", "locator", "grade")
_ALLOWED: Final = (*_REQUIRED, "low", "high", "title")
_TEXTS: Final = {"unit", "source", "locator", "grade", "title"}


@dataclass(frozen=True)
class Value:
    """One figure in SI units, and everything that tells how far to trust it.

    Attributes
    ----------
    value : float
        The figure [SI].
    low, high : float or None
        Band between sources, or the usual scatter [SI]; None where none is known.
    unit : str
        Unit the table states it in.
    source : str
        Key of the bibliography.
    locator : str
        Table, page or clause of the source, or what the figure describes.
    grade : str
        One of `GRADES`; it speaks of the value, not of the band.
    path : str
        Table, record and field, as ``workpieces.S235JR.kc11``.
    title : str
        Plain words for it where the field's name does not say enough.
    """

    value: float
    low: float | None
    high: float | None
    unit: str
    source: str
    locator: str
    grade: str
    path: str
    title: str = ""


def read_value(entry: object, file: str, path: str, kind: str | None = None) -> Value:
    """Read one inline table into a Value.

    Parameters
    ----------
    entry : object
        What the file holds at `path`.
    file : str
        Name of the file, for the message.
    path : str
        Table, record and field.
    kind : str, optional
        Key of `finishplan.units.KINDS` that the unit must belong to; any known unit without it.

    Raises
    ------
    ReferenceDataError
        Anything missing, unknown, of the wrong type, or out of order.
    """
    reason = _fault_in(entry)
    if reason or not isinstance(entry, Mapping):
        raise ReferenceDataError(f"{file}: {path}: {reason}")
    try:
        value = _in_si(entry["value"], entry["unit"], kind)
        low, high = (_in_si(entry[end], entry["unit"], kind) if end in entry else None for end in ("low", "high"))
    except UnitError as error:
        raise ReferenceDataError(f"{file}: {path}: {error}") from error
    if low is not None and high is not None and not low <= value <= high:
        band = f"value {entry['value']} lies outside its band {entry['low']} to {entry['high']}"
        raise ReferenceDataError(f"{file}: {path}: {band}")
    texts = {key: entry[key] for key in ("unit", "source", "locator", "grade")}
    return Value(value, low, high, **texts, path=path, title=entry.get("title", ""))


def _fault_in(entry: object) -> str:
    """The first thing wrong with the keys and texts of an entry, or nothing."""
    if not isinstance(entry, Mapping):
        return f"given {entry!r}; wanted a table with {', '.join(_REQUIRED)}"
    if missing := [key for key in _REQUIRED if key not in entry]:
        return f"{', '.join(missing)} missing"
    if unknown := sorted(set(entry) - set(_ALLOWED)):
        return f"unknown {', '.join(unknown)}; wanted only {', '.join(_ALLOWED)}"
    if ("low" in entry) != ("high" in entry):
        return "low and high must be given together"
    for key in sorted(set(entry) & _TEXTS):
        if not isinstance(entry[key], str) or not entry[key].strip():
            return f"{key}: given {entry[key]!r}; wanted text"
    if entry["grade"] not in GRADES:
        return f"grade: given {entry['grade']!r}; wanted one of {', '.join(GRADES)}"
    return ""


def _in_si(number: object, unit: str, kind: str | None) -> float:
    if isinstance(number, bool) or not isinstance(number, int | float) or not math.isfinite(number):
        raise UnitError(repr(number), "a finite number")
    if kind is not None and not _belongs(unit, units.KINDS[kind]):
        raise UnitError(f"unit {unit!r}", f"a unit of {kind}: {', '.join(units.KINDS[kind].factors)}")
    return units.to_si(float(number), unit)


def _belongs(unit: str, kind: units.Kind) -> bool:
    return unit in kind.factors or (kind.name == "temperature" and unit in {"degC", "°C"})
