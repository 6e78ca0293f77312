"""Guarding: distances, openings, wheels and their pieces, and what class of robot is inside."""

from __future__ import annotations

from finishplan.physics.cutting import spindle_speed, surface_speed
from finishplan.physics.guarding.distances import (
    APPROACH_SPEED,
    EDITION,
    HAND_SPEED,
    MINIMUM_GAPS,
    crushed_parts,
    guard_distance,
    hand_speed_distance,
    remaining_motion_time,
    separation_distance,
)
from finishplan.physics.guarding.fragments import (
    ejected_energy,
    piece_centroid,
    piece_energy,
    piece_energy_bound,
    rotational_energy,
    wheel_inertia,
    wheel_mass,
)
from finishplan.physics.guarding.openings import (
    PRESS_OPENING_SOURCE,
    PRESS_OPENINGS,
    REACH_ROWS,
    WHOLE_BODY_OPENINGS,
    OpeningShape,
    press_distance,
    press_opening,
    reach_distance,
)
from finishplan.physics.guarding.robots import (
    CLASS_I_FORCE,
    CLASS_I_MASS,
    CLASS_I_SPEED,
    MANUAL_SPEED,
    RobotClassName,
    robot_hazard_class,
)
from finishplan.physics.guarding.wheels import (
    BURST_FACTORS,
    GUARD_EXPOSURES,
    TONGUE_GAP,
    WORK_REST_GAP,
    GuardExposure,
    burst_speed,
    speed_utilisation,
)

__all__ = [
    "APPROACH_SPEED",
    "BURST_FACTORS",
    "CLASS_I_FORCE",
    "CLASS_I_MASS",
    "CLASS_I_SPEED",
    "EDITION",
    "GUARD_EXPOSURES",
    "HAND_SPEED",
    "MANUAL_SPEED",
    "MINIMUM_GAPS",
    "PRESS_OPENINGS",
    "PRESS_OPENING_SOURCE",
    "REACH_ROWS",
    "TONGUE_GAP",
    "WHOLE_BODY_OPENINGS",
    "WORK_REST_GAP",
    "GuardExposure",
    "OpeningShape",
    "RobotClassName",
    "burst_speed",
    "crushed_parts",
    "ejected_energy",
    "guard_distance",
    "hand_speed_distance",
    "piece_centroid",
    "piece_energy",
    "piece_energy_bound",
    "press_distance",
    "press_opening",
    "reach_distance",
    "remaining_motion_time",
    "robot_hazard_class",
    "rotational_energy",
    "separation_distance",
    "speed_utilisation",
    "spindle_speed",
    "surface_speed",
    "wheel_inertia",
    "wheel_mass",
]
