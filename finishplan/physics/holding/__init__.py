"""Holding a part that a robot carries against a stationary tool: what pulls at it, what keeps it."""

from __future__ import annotations

from finishplan.physics.holding.jaws import jaw_force, jaw_force_for_moment
from finishplan.physics.holding.load import process_resultant, required_press, resultant_load, wrist_moment
from finishplan.physics.holding.magnet import magnet_force, magnet_shear_force
from finishplan.physics.holding.vacuum import ambient_pressure, required_vacuum, vacuum_force

__all__ = [
    "ambient_pressure",
    "jaw_force",
    "jaw_force_for_moment",
    "magnet_force",
    "magnet_shear_force",
    "process_resultant",
    "required_press",
    "required_vacuum",
    "resultant_load",
    "vacuum_force",
    "wrist_moment",
]
