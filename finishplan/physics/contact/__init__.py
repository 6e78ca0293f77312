"""Contact patches: solid wheels and balls, soft layers, and pads over a border."""

from __future__ import annotations

from finishplan.physics.contact.elastic import (
    effective_modulus,
    effective_radius,
    hertz_line,
    hertz_line_approach,
    hertz_line_half_width,
    hertz_point,
    hertz_point_radius,
    shore_a_modulus,
)
from finishplan.physics.contact.layer import (
    constrained_modulus,
    layer_stiffness,
    overhang_pressure_ratio,
    winkler_cylinder,
    winkler_cylinder_half_width,
    winkler_dome,
    winkler_dome_radius,
    winkler_flat_approach,
)
from finishplan.physics.contact.patch import LineContact, PointContact
from finishplan.physics.contact.penetration import penetrated_half_width, penetration_force, penetration_stiffness

__all__ = [
    "LineContact",
    "PointContact",
    "constrained_modulus",
    "effective_modulus",
    "effective_radius",
    "hertz_line",
    "hertz_line_approach",
    "hertz_line_half_width",
    "hertz_point",
    "hertz_point_radius",
    "layer_stiffness",
    "overhang_pressure_ratio",
    "penetrated_half_width",
    "penetration_force",
    "penetration_stiffness",
    "shore_a_modulus",
    "winkler_cylinder",
    "winkler_cylinder_half_width",
    "winkler_dome",
    "winkler_dome_radius",
    "winkler_flat_approach",
]
