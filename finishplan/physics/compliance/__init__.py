"""Giving way: compliant mounts, the dynamics of contact, and the stiffness of tool and robot."""

from __future__ import annotations

from finishplan.physics.compliance.blade import disc_chord, rim_stiffness
from finishplan.physics.compliance.contact_dynamics import (
    approach_speed,
    contact_loss_feed,
    force_loop_feed,
    force_loop_ripple,
    form_error_feed,
    impact_force,
    natural_frequency,
)
from finishplan.physics.compliance.mount import (
    device_force_scatter,
    device_pressure,
    friction_each_way,
    gravity_force,
    payload_with_force,
    preload_offset,
    required_stroke,
    smallest_usable_force,
)
from finishplan.physics.compliance.stiffness import (
    bending_stress,
    cantilever_deflection,
    cantilever_stiffness,
    fluted_diameter,
    series_stiffness,
)

__all__ = [
    "approach_speed",
    "bending_stress",
    "cantilever_deflection",
    "cantilever_stiffness",
    "contact_loss_feed",
    "device_force_scatter",
    "device_pressure",
    "disc_chord",
    "fluted_diameter",
    "force_loop_feed",
    "force_loop_ripple",
    "form_error_feed",
    "friction_each_way",
    "gravity_force",
    "impact_force",
    "natural_frequency",
    "payload_with_force",
    "preload_offset",
    "required_stroke",
    "rim_stiffness",
    "series_stiffness",
    "smallest_usable_force",
]
