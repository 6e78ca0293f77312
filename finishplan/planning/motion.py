"""How the robot of a cell moves along and between features."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from finishplan import reference
from finishplan.job import Cell, LoadedJob
from finishplan.planning.ledger import Ledger
from finishplan.planning.route import Points
from finishplan.reference import Value


@dataclass(frozen=True)
class Motion:
    """Accelerations [m/s2], distances [m], speeds [m/s] and times [s] of the robot's moves.

    `rack` is the place of the tool changer on the drawings [m], None where the ways to it are in the time of a
    tool change.
    """

    acceleration: float
    normal_acceleration: float
    approach_distance: float
    air_speed: float
    retract: float
    tool_change: float
    ledger: Ledger
    rack: Points | None = None

    def entry_time(self, approach_speed: float) -> float:
        """Time to come down on a feature and to leave it again [s]."""
        return self.approach_distance / approach_speed + self.retract


def motion_of(loaded: LoadedJob) -> Motion:
    """The cell's own figures, or those of the robot's class and of practice, which the ledger lists."""
    cell, kind, ledger = loaded.cell, reference.robot_class(loaded.cell.robot.kind), Ledger()

    def of_class(name: str, own: float | None, entry: Value) -> float:
        if own is not None:
            return own
        return float(ledger.assumed_of_class(f"robot.{name}", entry, "acceleration", cell.robot.kind))

    def by_default(name: str, own: float | None, quantity: str) -> float:
        return float(ledger.assumed(f"cell.{name}", name, quantity)) if own is None else own

    return Motion(
        acceleration=of_class("acceleration", cell.robot.acceleration, kind.acceleration),
        normal_acceleration=of_class("normal_acceleration", cell.robot.normal_acceleration, kind.normal_acceleration),
        approach_distance=by_default("approach_distance", cell.approach_distance, "length"),
        air_speed=by_default("air_speed", cell.air_speed, "feed"),
        retract=by_default("retract_time", None, "time"),
        tool_change=by_default(
            "station_change_time" if stands_apart(cell) else "tool_change_time", cell.tool_change_time, "time"
        ),
        ledger=ledger,
        rack=None if cell.rack is None else np.array([cell.rack.x, cell.rack.y]),
    )


def stands_apart(cell: Cell) -> bool:
    """Whether the robot carries the part between tools that each have a stationary spindle of their own."""
    spindles = [tool.spindle for tool in cell.tool] + [abrasive.spindle for abrasive in cell.abrasive]
    return cell.arrangement == "part-to-tool" and len(set(spindles)) == len(spindles)
