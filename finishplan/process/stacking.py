"""Many records of conditions as one whose figures are columns: one row for each record.

The forward models take arrays wherever they take scalars, so the stacked record runs all its rows at once
against points of shape (rows, points).
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from numbers import Real
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

Record = TypeVar("Record")


@dataclass(frozen=True, eq=False)
class Flat:
    """A record taken apart: its numbers in order, and all the rest, in which records that stack are alike."""

    numbers: tuple[float, ...]
    frame: Hashable


def flattened(record: Any) -> Flat:
    """Numbers and frame of a record: dataclasses, mappings and tuples all the way down.

    Arrays and whatever is no number belong to the frame.
    """
    numbers: list[float] = []
    return Flat(frame=_frame(record, numbers), numbers=tuple(numbers))


def _frame(value: Any, numbers: list[float]) -> Hashable:
    if isinstance(value, Real) and not isinstance(value, bool):
        numbers.append(float(value))
        return None
    if isinstance(value, np.ndarray):
        return value.shape, value.tobytes()
    if isinstance(value, Mapping | tuple) or (is_dataclass(value) and not isinstance(value, type)):
        return type(value), tuple((name, _frame(each, numbers)) for name, each in _parts(value))
    return "as it is", value


def _parts(value: Any) -> Iterator[tuple[Hashable, Any]]:
    if isinstance(value, Mapping):
        yield from value.items()
    elif isinstance(value, tuple):
        yield from enumerate(value)
    else:
        yield from ((field.name, getattr(value, field.name)) for field in fields(value))


def stacked(pattern: Record, numbers: NDArray[np.float64]) -> Record:
    """A record like the pattern whose numbers are columns of shape (rows, 1).

    Parameters
    ----------
    pattern : record
        Any of the records; what is no number is taken from it.
    numbers : ndarray
        Numbers of the records, a row for each.

    Returns
    -------
    record
        Figures that are alike in all rows stay scalars.
    """
    alike = np.all(numbers == numbers[0], axis=0)
    columns = (
        np.float64(numbers[0, index]) if same else np.ascontiguousarray(numbers[:, index, np.newaxis])
        for index, same in enumerate(alike)
    )
    record: Record = _rebuilt(pattern, columns)
    return record


def _rebuilt(value: Any, columns: Iterator[Any]) -> Any:
    if isinstance(value, Real) and not isinstance(value, bool):
        return next(columns)
    if isinstance(value, Mapping):
        return {key: _rebuilt(each, columns) for key, each in value.items()}
    if isinstance(value, tuple):
        return tuple(_rebuilt(each, columns) for each in value)
    if is_dataclass(value) and not isinstance(value, type):
        return type(value)(*(_rebuilt(each, columns) for _, each in _parts(value)))
    return value
