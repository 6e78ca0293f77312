"""Heat of abrasive finishing: how warm the surface gets under the tool, and a thin sheet altogether."""

from __future__ import annotations

from finishplan.physics.heat.balance import bulk_temperature_rise, contact_flux, diffusivity, heat_partition, heat_share
from finishplan.physics.heat.surface import (
    band_temperature_rise,
    flux_temperature_rise,
    jaeger_band_temperature_rise,
    moving_band_temperature_rise,
    peclet_number,
)

__all__ = [
    "band_temperature_rise",
    "bulk_temperature_rise",
    "contact_flux",
    "diffusivity",
    "flux_temperature_rise",
    "heat_partition",
    "heat_share",
    "jaeger_band_temperature_rise",
    "moving_band_temperature_rise",
    "peclet_number",
]
