"""What the trimming of a contour meets: the contour, the tool in it, the spindle, the arm and its vibrations.

All fields are SI floats or arrays that broadcast against the operating points.
"""

from __future__ import annotations

from dataclasses import dataclass

from finishplan.formula import Array
from finishplan.physics.cutting.direction import Direction
from finishplan.process.chip_law import ChipLaw
from finishplan.process.contour_engagement import Engagement
from finishplan.process.edge_conditions import Cutter, RobotState, Spindle
from finishplan.process.surface_conditions import Rubbing, Thermal


@dataclass(frozen=True, eq=False)
class ContourState:
    """The material to cut through and where the edge has to be.

    `room` is how far the wall may stray: the tolerance, or the allowance that a finishing cut takes off
    after this one. `other_errors` are the position errors without that of the robot's path, combined
    statistically with the `coverage`.
    """

    thickness: Array
    room: Array
    position_error: Array
    other_errors: Array
    coverage: Array
    direction: Direction


@dataclass(frozen=True, eq=False)
class Arm:
    """What holds the edge of the tool: arm and tool, each alone, and how they swing.

    `coupling_limit` is the process stiffness at which two directions of the arm begin to flutter;
    None where its directions are not known.
    """

    stiffness: Array
    tool_stiffness: Array
    natural_frequency: Array
    damping_ratio: Array
    coupling_limit: Array | None


@dataclass(frozen=True, eq=False)
class Trimming:
    """What an operating point on a contour meets, whatever cuts; `edge` is what rubs on the wall."""

    contour: ContourState
    engagement: Engagement
    edge: Rubbing
    thermal: Thermal
    spindle: Spindle
    arm: Arm
    robot: RobotState


@dataclass(frozen=True, eq=False)
class ContourConditions(Trimming):
    """Everything an operating point on a contour meets under a cutter."""

    chip_law: ChipLaw
    cutter: Cutter


@dataclass(frozen=True, eq=False)
class ContourSetting:
    """What the programmer sets."""

    spindle_speed: Array
    feed: Array
    layers: Array
