"""How the robot of a cell moves along and between features."""

from __future__ import annotations

from dataclasses import dataclass

from finishplan import reference
from finishplan.job import LoadedJob


@dataclass(frozen=True)
class Motion:
    """Accelerations [m/s2], distances [m], speeds [m/s] and times [s] of the robot's moves."""

    acceleration: float
    normal_acceleration: float
    approach_distance: float
    air_speed: float
    retract: float
    tool_change: float

    def entry_time(self, approach_speed: float) -> float:
        """Time to come down on a feature and to leave it again [s]."""
        return self.approach_distance / approach_speed + self.retract


def motion_of(loaded: LoadedJob) -> Motion:
    """The cell's own figures, or those of the robot's class and of practice."""
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
