"""What an edge-cutting operation meets: the edge, the cutter, the spindle, the mount and the robot.

All fields are SI floats or arrays that broadcast against the operating points.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from finishplan.formula import Array
from finishplan.process.chip_law import ChipLaw
from finishplan.process.holding_limits import Grip, Wrist

BurrShape: TypeAlias = Literal["triangular", "rectangular"]


@dataclass(frozen=True, eq=False)
class EdgeState:
    """The edge as found: faces, burr, limits of the break, and where it really is."""

    included_angle: Array
    burr_height: Array
    burr_root_thickness: Array
    burr_shape: BurrShape
    leg_lower: Array
    leg_upper: Array
    waviness_amplitude: Array
    waviness_wavelength: Array
    path_error: Array


@dataclass(frozen=True, eq=False)
class Cutter:
    """The cutter as mounted, with the windows of its family for the material.

    `teeth` pass each place of the wall in a turn; each covers a `width_share` of the cutter's length.
    """

    diameter: Array
    teeth: Array
    width_share: Array
    rated_speed: Array
    speed_low: Array
    speed_high: Array
    feed_high: Array
    force_ratio: Array
    bending_diameter: Array
    overhang: Array
    modulus: Array


@dataclass(frozen=True, eq=False)
class Spindle:
    """Speed range and the curve of continuous shaft power over speed."""

    speed_min: Array
    speed_max: Array
    curve_speeds: Array
    curve_powers: Array


@dataclass(frozen=True, eq=False)
class RigidMount:
    """A spindle bolted to the robot: the path sets the depth, robot and tool give way in series."""

    stiffness: Array
    moving_mass: Array


@dataclass(frozen=True, eq=False)
class CompliantMount:
    """A spindle on a device that presses with a set force over a stroke.

    `bandwidth` is None for a device that only hangs on its spring or cylinder, and the bandwidth
    of the force loop where there is one. `force_error` is signed; `force_scatter` is how far it goes under
    an abrasive, friction and the spring over the position errors together. `other_errors` are the position
    errors that use up stroke beside the path accuracy of the robot, tool wear with them.
    """

    stiffness: Array
    reference_depth: Array
    force_min: Array
    force_max: Array
    smallest_usable_force: Array
    force_error: Array
    friction: Array
    force_scatter: Array
    stroke: Array
    stroke_needed: Array
    other_errors: Array
    end_stop_reserve: Array
    moving_mass: Array
    effective_area: Array | None
    bandwidth: Array | None
    open_loop_stiffness: Array


Mount: TypeAlias = RigidMount | CompliantMount


@dataclass(frozen=True, eq=False)
class RobotState:
    """The robot, what it carries, and what holds the part where that is known."""

    payload: Array
    carried_mass: Array
    top_speed: Array
    path_accuracy: Array
    wrist: Wrist | None = None
    grip: Grip | None = None


@dataclass(frozen=True, eq=False)
class Rules:
    """Figures of practice that bounds are made of; each is a named default or the job's own."""

    contact_stiffness: Array
    impact_allowance: Array
    approach_speed_max: Array
    approach_speed_min: Array
    force_ripple_allowance: Array
    form_error_factor: Array


@dataclass(frozen=True, eq=False)
class EdgeConditions:
    """Everything an operating point at an edge meets."""

    edge: EdgeState
    chip_law: ChipLaw
    cutter: Cutter
    spindle: Spindle
    mount: Mount
    robot: RobotState
    rules: Rules


@dataclass(frozen=True, eq=False)
class OperatingPoint:
    """What the programmer sets.

    `setting` is the contact force [N] of a compliant mount and the depth aimed at along the
    bisector [m] of a rigid one.
    """

    spindle_speed: Array
    feed: Array
    setting: Array
    passes: int
