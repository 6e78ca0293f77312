"""The cycle of a part: the order of the steps, the tool changes between them, and the time of it all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from finishplan.planning.feature import Points, Step
from finishplan.planning.motion import Motion
from finishplan.planning.order import Work, air_way, best_order
from finishplan.planning.precedence import Precedence
from finishplan.planning.route import Relation, moves_between, route_length, shortest_order
from finishplan.planning.visits import fewest_visits, tool_changes


@dataclass(frozen=True)
class Stop:
    """One step of the cycle: a feature worked by a tool, which is taken up before it where `change` says so.

    The change before the first stop is the one back from the last tool of the part before.
    """

    feature: str
    tool: str
    seconds: float
    change: bool


@dataclass(frozen=True)
class Cycle:
    """Cycle of one part [s] and the order of its steps."""

    stops: tuple[Stop, ...]
    contact: float
    approach: float
    wait: float
    air: float
    tool_change: float

    @property
    def tool_changes(self) -> int:
        return sum(stop.change for stop in self.stops)

    @property
    def total(self) -> float:
        return self.contact + self.approach + self.wait + self.air + self.tool_changes * self.tool_change


@dataclass(frozen=True, eq=False)
class Stint:
    """Steps of one feature that follow one another with one tool, and the way from run to run in them [m]."""

    feature: str
    steps: tuple[Step, ...]
    way: float
    work: Work


def part_cycle(works: Sequence[tuple[str, Sequence[Step]]], motion: Motion, before: Precedence) -> Cycle:
    """Cycle of a part from the steps of its features, in the order they are best done.

    The steps of one feature keep their order, and those with one tool follow one another. Between the
    features the order keeps `before`, then takes the fewest tool changes, then the shortest air moves.
    A cycle that ends with another tool than it began with has the change back to the first one in it.
    """
    stints = [_stint(name, group) for name, steps in works for group in _groups(steps)]
    relation = _relation([stint.feature for stint in stints], before)
    order = best_order([stint.work for stint in stints], relation, motion.rack)
    visited = [stints[index] for index in order]
    steps = [step for stint in visited for step in stint.steps]
    way = air_way([stint.work for stint in stints], order, motion.rack) + sum(stint.way for stint in visited)
    return Cycle(
        stops=tuple(_stops(visited)),
        contact=sum(step.time.contact for step in steps),
        approach=sum(step.time.approach for step in steps),
        wait=sum(step.time.wait for step in steps),
        air=way / motion.air_speed,
        tool_change=motion.tool_change,
    )


def least_changes(works: Sequence[tuple[str, Sequence[Step]]], before: Precedence) -> int:
    """Tool changes of the cycle of a part, without its order worked out."""
    visited = [(name, group[0].station) for name, steps in works for group in _groups(steps)]
    names, stations = zip(*visited, strict=True)
    return tool_changes([visit.station for visit in fewest_visits(stations, _relation(names, before))[0]])


def _groups(steps: Sequence[Step]) -> Iterator[tuple[Step, ...]]:
    return (tuple(group) for _, group in groupby(steps, key=lambda step: step.station))


def _stint(name: str, steps: tuple[Step, ...]) -> Stint:
    runs = [_travelled(step) for step in steps if len(step.starts)]
    if not runs:
        return Stint(name, steps, 0.0, Work(steps[0].station))
    starts, ends = (np.concatenate(points) for points in zip(*runs, strict=True))
    way = route_length(np.arange(len(starts)), moves_between(starts, ends))
    at = (starts[0], ends[-1]) if all(step.placed for step in steps) else ()
    return Stint(name, steps, way, Work(steps[0].station, *at))


def _travelled(step: Step) -> tuple[Points, Points]:
    """Starts and ends of the runs of a step in the order they are travelled [m]."""
    order = shortest_order(step.starts, step.ends)
    return step.starts[order], step.ends[order]


def _relation(features: Sequence[str], before: Precedence) -> Relation:
    """Whether the stint of the row comes before that of the column; a feature's own stints as they are listed."""
    return np.array(
        [
            [other in before.get(name, ()) or (other == name and row < column) for column, name in enumerate(features)]
            for row, other in enumerate(features)
        ]
    )


def _stops(visited: Sequence[Stint]) -> Iterator[Stop]:
    for place, stint in enumerate(visited):
        changed = visited[place - 1].work.station != stint.work.station
        for number, step in enumerate(stint.steps):
            yield Stop(stint.feature, step.tool, step.time.total, changed and number == 0)
