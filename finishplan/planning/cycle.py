"""Time per feature and per part: contact, approach and retract, air moves, tool changes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from finishplan import physics, reference
from finishplan.job import LoadedJob
from finishplan.planning.outline import Outline
from finishplan.planning.route import shortest_order
from finishplan.planning.search import Found


@dataclass(frozen=True)
class Motion:
    """How the robot of the cell moves between and along features."""

    acceleration: float
    normal_acceleration: float
    approach_distance: float
    air_speed: float
    retract: float
    tool_change: float


@dataclass(frozen=True)
class FeatureTime:
    """Times of one feature [s], the approach speed and the slowest feed met along it [m/s]."""

    contact: float
    approach: float
    approach_speed: float
    entries: int
    slowest: float

    @property
    def total(self) -> float:
        return self.contact + self.approach


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
    air: float
    tool_changes: int
    tool_change: float

    @property
    def total(self) -> float:
        return self.contact + self.approach + self.air + self.tool_changes * self.tool_change


def motion_of(loaded: LoadedJob) -> Motion:
    """The cell's own figures of motion, or the defaults of the robot's class and of practice."""
    cell, kind = loaded.cell, reference.robot_class(loaded.cell.robot.kind)

    def own_or(own: float | None, fallback: float) -> float:
        return fallback if own is None else own

    return Motion(
        acceleration=own_or(cell.robot.acceleration, kind.acceleration.value),
        normal_acceleration=own_or(cell.robot.normal_acceleration, kind.normal_acceleration.value),
        approach_distance=own_or(cell.approach_distance, reference.default("approach_distance").value),
        air_speed=own_or(cell.air_speed, reference.default("air_speed").value),
        retract=reference.default("retract_time").value,
        tool_change=own_or(cell.tool_change_time, reference.default("tool_change_time").value),
    )


def feature_time(loaded: LoadedJob, outline: Outline, found: Found) -> FeatureTime:
    """Time to work one feature with the operation found for it."""
    motion, point, conditions = motion_of(loaded), found.point, found.operation.setup.nominal
    profiles = [
        physics.feed_profile(
            chain.points,
            float(point.feed),
            motion.acceleration,
            motion.normal_acceleration,
            closed=chain.closed,
            # the tool's centre turns a sharp corner of the edge on the tool's radius
            corner_radius=float(conditions.cutter.diameter) / 2,
        )
        for chain in outline.chains
    ]
    allowed = float(found.evaluation.predictions["nominal"].approach_speed) * (1 - found.margin)
    speed = min(allowed, float(conditions.rules.approach_speed_max))
    entries = sum(1 if chain.closed else point.passes for chain in outline.chains)
    per_entry = motion.approach_distance / speed + motion.retract
    return FeatureTime(
        contact=point.passes * sum(profile.time for profile in profiles),
        approach=entries * per_entry,
        approach_speed=speed,
        entries=entries,
        slowest=min(profile.slowest for profile in profiles),
    )


def part_cycle(loaded: LoadedJob, works: Sequence[tuple[Outline, Found, FeatureTime]]) -> Cycle:
    """Cycle of a part: features grouped by tool, chains of a group in the shortest order."""
    motion = motion_of(loaded)
    tools = list(dict.fromkeys(found.operation.setup.tool.name for _, found, _ in works))
    stops: list[Stop] = []
    air = 0.0
    for tool in tools:
        group = [work for work in works if work[1].operation.setup.tool.name == tool]
        stops += [Stop(found.operation.setup.edge.name, tool, time.total) for _, found, time in group]
        air += _air_distance([outline for outline, _, _ in group]) / motion.air_speed
    return Cycle(
        stops=tuple(stops),
        contact=sum(time.contact for _, _, time in works),
        approach=sum(time.approach for _, _, time in works),
        air=air,
        tool_changes=len(tools) if len(tools) > 1 else 0,
        tool_change=motion.tool_change,
    )


def _air_distance(outlines: Sequence[Outline]) -> float:
    """Length of the moves between the drawn chains of one tool [m]."""
    chains = [chain for outline in outlines if outline.drawn for chain in outline.chains]
    if len(chains) < 2:
        return 0.0
    starts = np.array([chain.points[0] for chain in chains])
    ends = np.array([chain.points[-1] for chain in chains])
    order = shortest_order(starts, ends)
    return float(np.linalg.norm(starts[order[1:]] - ends[order[:-1]], axis=1).sum())
