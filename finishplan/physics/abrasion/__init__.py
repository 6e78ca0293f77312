"""Abrasive finishing: what an abrasive removes, how fast it slides and how it dulls."""

from __future__ import annotations

from finishplan.physics.abrasion.dulling import volume_over_time, worn_coefficient, worn_coefficient_over_time
from finishplan.physics.abrasion.edge_rounding import edge_radius_after_passes, edge_section_per_pass
from finishplan.physics.abrasion.removal import (
    archard_coefficient,
    coefficient_from_pass,
    friction_power,
    pass_depth,
    removal_rate,
    specific_energy,
)
from finishplan.physics.abrasion.speeds import (
    belt_speed,
    disc_mean_radius,
    disc_mean_speed,
    disc_torque,
    orbital_speed,
    orbital_spinning_mean_speed,
)
from finishplan.physics.abrasion.tilted_disc import (
    tilted_disc_contact_depth,
    tilted_disc_contact_width,
    tilted_disc_mean_radius,
    tilted_disc_mean_speed,
)

__all__ = [
    "archard_coefficient",
    "belt_speed",
    "coefficient_from_pass",
    "disc_mean_radius",
    "disc_mean_speed",
    "disc_torque",
    "edge_radius_after_passes",
    "edge_section_per_pass",
    "friction_power",
    "orbital_speed",
    "orbital_spinning_mean_speed",
    "pass_depth",
    "removal_rate",
    "specific_energy",
    "tilted_disc_contact_depth",
    "tilted_disc_contact_width",
    "tilted_disc_mean_radius",
    "tilted_disc_mean_speed",
    "volume_over_time",
    "worn_coefficient",
    "worn_coefficient_over_time",
]
