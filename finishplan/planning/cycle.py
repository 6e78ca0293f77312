"""The cycle of a part: the order of the steps, the tool changes between them, and the time of it all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from finishplan.planning.feature import Step
from finishplan.planning.motion import Motion
from finishplan.planning.route import shortest_order


@dataclass(frozen=True)
class Stop:
    """One step of the cycle: a feature worked by a tool."""

    feature: str
    tool: str
    seconds: float


@dataclass(frozen=True)
class Cycle:
    """Cycle of one part [s] and the order of its steps."""

    stops: tuple[Stop, ...]
    contact: float
    approach: float
    wait: float
    air: float
    tool_changes: int
    tool_change: float

    @property
    def total(self) -> float:
        return self.contact + self.approach + self.wait + self.air + self.tool_changes * self.tool_change


def part_cycle(works: Sequence[tuple[str, Sequence[Step]]], motion: Motion) -> Cycle:
    """Cycle of a part from the steps of its features.

    The steps of one feature keep their order. A tool with its spindle, once taken up, does every step that is open
    to it; the tool taken next is the one that most steps are waiting for. A cycle that uses more
    than one tool ends with the change back to the first.
    """
    visits = _visits(works)
    steps = [step for _, group in visits for _, step in group]
    return Cycle(
        stops=tuple(Stop(name, step.tool, step.time.total) for _, group in visits for name, step in group),
        contact=sum(step.time.contact for step in steps),
        approach=sum(step.time.approach for step in steps),
        wait=sum(step.time.wait for step in steps),
        air=sum(_air_distance([step for _, step in group]) for _, group in visits) / motion.air_speed,
        tool_changes=len(visits) if len(visits) > 1 else 0,
        tool_change=motion.tool_change,
    )


def _visits(works: Sequence[tuple[str, Sequence[Step]]]) -> list[tuple[str, list[tuple[str, Step]]]]:
    """Tools with their spindles in the order they are taken up, each with the steps done before it is put away."""
    waiting = [(name, list(steps)) for name, steps in works]
    visits: list[tuple[str, list[tuple[str, Step]]]] = []
    while any(steps for _, steps in waiting):
        heads = [steps[0].station for _, steps in waiting if steps]
        station = max(dict.fromkeys(heads), key=heads.count)
        group = []
        for name, steps in waiting:
            while steps and steps[0].station == station:
                group.append((name, steps.pop(0)))
        visits.append((station, group))
    return visits


def _air_distance(steps: Sequence[Step]) -> float:
    """Length of the moves between the drawn runs of one tool [m]."""
    starts = np.concatenate([step.starts for step in steps])
    ends = np.concatenate([step.ends for step in steps])
    if len(starts) < 2:
        return 0.0
    order = shortest_order(starts, ends)
    return float(np.linalg.norm(starts[order[1:]] - ends[order[:-1]], axis=1).sum())
