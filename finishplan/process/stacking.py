"""Many records of conditions as one whose figures are columns: one row for each record.

The forward models take arrays wherever they take scalars, so the stacked record runs all its rows at once
against points of shape (rows, points).
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
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
    """Numbers and frame of a record: dataclasses, dictionaries and tuples all the way down.

    Arrays and whatever is no number belong to the frame.
    """
    numbers: list[float] = []
    return Flat(frame=_frame(record, numbers), numbers=tuple(numbers))


def _frame(value: Any, numbers: list[float]) -> Hashable:
    kind: object = type(value)
    if _is_number(kind):
        numbers.append(float(value))
        return None
    if isinstance(value, np.ndarray):
        return value.shape, value.tobytes()
    parts = _parts(value)
    if parts is None:
        return "as it is", value
    keys = tuple(value) if isinstance(value, dict) else None
    return kind, keys, tuple([_frame(each, numbers) for each in parts])


def _parts(value: Any) -> Iterable[Any] | None:
    """What a dictionary, a tuple or a dataclass holds; None of anything else."""
    if isinstance(value, dict):
        return value.values()
    if isinstance(value, tuple):
        return value
    kind: object = type(value)
    names = _field_names(kind)
    return None if names is None else [getattr(value, name) for name in names]


# asked of every figure of every operation, and the answer goes with the type


@cache
def _is_number(kind: type) -> bool:
    return issubclass(kind, Real) and not issubclass(kind, bool)


@cache
def _field_names(kind: type) -> tuple[str, ...] | None:
    return tuple(field.name for field in fields(kind)) if is_dataclass(kind) else None


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
    kind: object = type(value)
    if _is_number(kind):
        return next(columns)
    parts = _parts(value)
    if parts is None:
        return value
    made = [_rebuilt(each, columns) for each in parts]
    if isinstance(value, dict):
        return dict(zip(value, made, strict=True))
    return tuple(made) if isinstance(value, tuple) else type(value)(*made)
