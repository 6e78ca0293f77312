"""Operations that differ in figures only, evaluated as one: a row of points for each."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from finishplan.formula import unchecked
from finishplan.planning.operation import Axis, Evaluation, Operation
from finishplan.process.stacking import flattened, stacked

Rows = NDArray[np.intp]
Numbers = NDArray[np.float64]

BLOCK: Final = 30_000
"""Points evaluated at once: enough to make light of every call, few enough to stay near the processor."""


@dataclass(frozen=True, eq=False)
class Spans:
    """Ranges of one setting, a row for each operation: arrays of shape (rows, 1)."""

    low: Numbers
    high: Numbers

    def grid(self, count: int) -> Numbers:
        """Points in equal ratios from end to end, of shape (rows, count)."""
        if count == 1:
            return self.low
        points: Numbers = self.low * (self.high / self.low) ** np.linspace(0.0, 1.0, count)
        points[:, -1:] = self.high
        return points

    def around(self, middle: Numbers, ratio: float) -> Spans:
        """The part of the ranges within a ratio of the middle."""
        return Spans(np.maximum(self.low, middle / ratio), np.minimum(self.high, middle * ratio))

    def of(self, rows: slice) -> Spans:
        """Some of the rows."""
        return Spans(self.low[rows], self.high[rows])


@dataclass(frozen=True, eq=False)
class Batch:
    """Operations of one kind whose figures stack; `numbers` are theirs, a row for each."""

    operations: Sequence[Operation]
    numbers: Numbers
    _blocks: dict[int, list[tuple[slice, Batch]]] = field(default_factory=dict)

    def __len__(self) -> int:
        return len(self.operations)

    @property
    def axes(self) -> Sequence[Axis]:
        """Axes of the first operation; names, counts and units are those of all."""
        return self.operations[0].axes

    @property
    def pass_counts(self) -> Sequence[int]:
        return self.operations[0].pass_counts

    @cached_property
    def spans(self) -> tuple[Spans, ...]:
        """Ranges along every axis."""
        ends = np.array([_ends(operation) for operation in self.operations])
        return tuple(Spans(ends[:, axis, :1], ends[:, axis, 1:]) for axis in range(ends.shape[1]))

    def fastest_pace(self, passes: int) -> Numbers:
        """Pace of every operation that so many passes cannot exceed."""
        return np.array([operation.fastest_pace(passes) for operation in self.operations])

    def faster(self, settings: Mapping[str, Numbers], ratio: float) -> dict[str, Numbers]:
        """Points of all sorts that are faster by the ratio than the one of each row."""
        points = [
            operation.faster({name: values[row, 0] for name, values in settings.items()}, ratio)
            for row, operation in enumerate(self.operations)
        ]
        return {name: np.array([each[name] for each in points]) for name in settings}

    def rows(self, chosen: Rows) -> Batch:
        """Some of the operations."""
        return Batch([self.operations[row] for row in chosen], self.numbers[chosen])

    @cached_property
    def _together(self) -> Operation:
        first = self.operations[0]
        return first.with_figures(stacked(first.figures, self.numbers))

    def evaluate(self, settings: Mapping[str, Numbers], passes: int) -> Evaluation:
        """Run the forward model on all rows at once; what comes out broadcasts to the shape of the settings."""
        with unchecked():
            return self._together.evaluate(settings, passes)

    def blocks(self, points: int) -> list[tuple[slice, Batch]]:
        """Rows, and their operations as a batch, in groups that come to about a block of points each."""
        at_once = max(BLOCK // points, 1)
        if at_once not in self._blocks:
            slices = [slice(start, start + at_once) for start in range(0, len(self), at_once)]
            self._blocks[at_once] = [(rows, self.rows(np.arange(len(self))[rows])) for rows in slices]
        return self._blocks[at_once]


def batches(operations: Sequence[Operation]) -> list[tuple[Batch, list[list[int]]]]:
    """Operations in batches; beside every batch, for each of its rows, the indexes of the operations like it."""
    found: dict[Hashable, dict[tuple[Any, ...], list[int]]] = {}
    for index, operation in enumerate(operations):
        flat = flattened(operation.figures)
        settings = tuple((axis.name, axis.count, axis.unit) for axis in operation.axes)
        frame = (type(operation), tuple(operation.pass_counts), settings, flat.frame)
        rows = found.setdefault(frame, {})
        rows.setdefault((flat.numbers, _ends(operation)), []).append(index)
    return [
        (
            Batch([operations[first] for first, *_ in rows.values()], np.array([row for row, _ in rows])),
            [*rows.values()],
        )
        for rows in found.values()
    ]


def _ends(operation: Operation) -> tuple[tuple[float, float], ...]:
    return tuple((axis.range.low, axis.range.high) for axis in operation.axes)
