"""A feature of the part, the ways of doing it, and the way chosen, whatever the process."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from finishplan.planning.search import RANK, Found, Verdict
from finishplan.planning.together import Searching

Points = NDArray[np.float64]


@dataclass(frozen=True)
class StepTime:
    """Times of one step [s], the approach speed and the slowest feed met along it [m/s].

    `wait` is time with the robot standing, such as a change of the abrasive.
    """

    contact: float
    approach: float
    approach_speed: float
    entries: int
    slowest: float
    wait: float = 0.0

    @property
    def total(self) -> float:
        return self.contact + self.approach + self.wait


@dataclass(frozen=True, eq=False)
class Step:
    """One operation on a feature. `starts` and `ends` are where its runs begin and end, if known [m].

    `placed` says whether they are places on the part, so that ways to other features can be measured.
    """

    found: Found
    time: StepTime
    starts: Points
    ends: Points
    placed: bool = True

    @property
    def tool(self) -> str:
        return self.found.operation.tool

    @property
    def station(self) -> str:
        return self.found.operation.station


@dataclass(frozen=True, eq=False)
class Option:
    """One way of doing a feature: its steps in order. `label` tells ways with the same tools apart."""

    steps: tuple[Step, ...]
    label: str = ""

    @property
    def tools(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(step.tool for step in self.steps))

    @property
    def stations(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(step.station for step in self.steps))

    @property
    def seconds(self) -> float:
        return sum(step.time.total for step in self.steps)

    @property
    def verdict(self) -> Verdict:
        return max((step.found.verdict for step in self.steps), key=RANK.__getitem__)

    @property
    def merit(self) -> tuple[float, float]:
        """Verdict first; among options short of the margin the least exceeded, otherwise the fastest."""
        rank = RANK[self.verdict]
        return (rank, max(step.found.worst for step in self.steps) if rank else self.seconds)


class Feature(Protocol):
    """A feature of the part as the planner sees it."""

    @property
    def name(self) -> str: ...

    @property
    def notes(self) -> Sequence[str]: ...

    def options(self) -> Searching[list[Option]]:
        """Every way of doing the feature with the tools of the cell; never empty."""
        ...

    def reworked(self, step: Step, found: Found) -> Step:
        """A step of the feature at another point of its operation, all else equal."""
        ...

    def paths(self, step: Step) -> Sequence[Points]:
        """Paths the tool follows in a step [m]; none where nothing is drawn."""
        ...

    def detail(self, chosen: Option) -> Any:
        """What the report shows besides settings and limits; its type says which process it is of."""
        ...
