"""What the search needs of an operation, whatever its process: axes to search, and an evaluation of any point."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol, Self

import numpy as np

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.ledger import Ledger
from finishplan.process.limits import Limit


@dataclass(frozen=True)
class Range:
    """Closed range of one setting, searched in equal ratios."""

    low: float
    high: float

    def grid(self, count: int) -> np.ndarray:
        return np.geomspace(self.low, self.high, count)

    def around(self, middle: float, ratio: float) -> Range:
        """The part of this range within a ratio of the middle."""
        return Range(max(self.low, middle / ratio), min(self.high, middle * ratio))


@dataclass(frozen=True)
class Axis:
    """One setting to search. `unit` is the step of one in which it is rounded, in SI units."""

    name: str
    range: Range
    count: int
    unit: float = 1.0


@dataclass(frozen=True, eq=False)
class Evaluation:
    """Limits and predictions at a point or an array of points.

    `settings` holds the values along the operation's axes, `pace` how much of the feature is
    finished per time with all passes counted.
    """

    settings: Mapping[str, Array]
    passes: int
    predictions: Mapping[Any, Any]
    limits: list[Limit]
    pace: Array


ALL_PASSES = (1, 2, 3, 4, 5, 6)
"""Numbers of passes that are tried, fewest first."""


class Operation(Protocol):
    """A feature under a tool, ready to be searched."""

    @property
    def feature(self) -> str: ...

    @property
    def tool(self) -> str:
        """What is used up: the cutter, or the abrasive with its grit."""
        ...

    @property
    def station(self) -> str:
        """What is changed at the rack: a tool with its spindle, whatever grit is on it."""
        ...

    @property
    def ledger(self) -> Ledger: ...

    @property
    def axes(self) -> Sequence[Axis]: ...

    @property
    def pass_counts(self) -> Sequence[int]:
        """Numbers of passes to try, fewest first."""
        ...

    @property
    def conditions(self) -> Any:
        """The nominal conditions; they hold at least mount and rules."""
        ...

    @property
    def figures(self) -> Any:
        """All figures an evaluation reads: records of numbers, which stack with those of other operations."""
        ...

    def with_figures(self, figures: Any) -> Self:
        """The same operation under other figures, or those of many operations stacked."""
        ...

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        ...

    def fastest_pace(self, passes: int) -> float:
        """A pace this many passes cannot exceed; it tells when more passes are not worth a try."""
        ...

    def again(self, loaded: LoadedJob | None = None) -> Operation:
        """The same operation built anew, for a recording or under another cell."""
        ...

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """Points of all sorts that are faster by the ratio than the one given."""
        ...


def mesh(axes: Sequence[Axis], ranges: Sequence[Range], counts: Sequence[int]) -> dict[str, Array]:
    """Every combination of the grids along the axes, as flat arrays by name."""
    grids = [span.grid(count) for span, count in zip(ranges, counts, strict=True)]
    spread = np.meshgrid(*grids, indexing="ij")
    return {axis.name: values.ravel() for axis, values in zip(axes, spread, strict=True)}
