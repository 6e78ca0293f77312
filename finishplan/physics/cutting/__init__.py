"""Cutting with defined edges: kinematics, chips, forces, power and tool life."""

from __future__ import annotations

from finishplan.physics.cutting.direction import (
    feed_direction_force,
    wall_force,
)
from finishplan.physics.cutting.kinematics import (
    cusp_height,
    effective_teeth,
    engagement_angle,
    feed_per_tooth,
    max_chip_thickness,
    mean_chip_thickness,
    spindle_speed,
    surface_speed,
    teeth_in_cut,
)
from finishplan.physics.cutting.load import (
    cutting_power,
    normal_force,
    normal_force_ratio,
    removal_rate,
    tangential_force,
    tool_life,
    torque,
)
from finishplan.physics.cutting.slitting import engaged_arc, slit_max_chip, slit_mean_chip
from finishplan.physics.cutting.specific_force import (
    affine_specific_force,
    minimum_chip_thickness,
    rake_factor,
    specific_cutting_force,
)

__all__ = [
    "affine_specific_force",
    "cusp_height",
    "cutting_power",
    "effective_teeth",
    "engaged_arc",
    "engagement_angle",
    "feed_direction_force",
    "feed_per_tooth",
    "max_chip_thickness",
    "mean_chip_thickness",
    "minimum_chip_thickness",
    "normal_force",
    "normal_force_ratio",
    "rake_factor",
    "removal_rate",
    "slit_max_chip",
    "slit_mean_chip",
    "specific_cutting_force",
    "spindle_speed",
    "surface_speed",
    "tangential_force",
    "teeth_in_cut",
    "tool_life",
    "torque",
    "wall_force",
]
