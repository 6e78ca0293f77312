"""Dust of finishing: how much of it there is, what it does to people, and how it burns."""

from __future__ import annotations

from finishplan.physics.dust.amount import (
    WATER_REACTIONS,
    WaterReaction,
    airborne_concentration,
    duct_concentration,
    dust_mass_rate,
    hydrogen_volume,
)
from finishplan.physics.dust.explosion import (
    DUST_CLASSES,
    EARTHING_ENERGY,
    REPORTED_LAYER,
    STATIC_CRITICAL_ENERGY,
    DustClass,
    deflagration_index,
    explosion_severity,
    ignition_sensitivity,
    layer_criterion,
    layer_trigger_area,
    st_class,
)
from finishplan.physics.dust.exposure import (
    constituent_dust_limit,
    lead_limit,
    mixture_dust_limit,
    mixture_index,
    time_weighted_concentration,
)
from finishplan.physics.dust.families import DUST_FAMILIES, DustFamily, DustSample, dust_family
from finishplan.physics.dust.limits import (
    AUTHORITIES,
    EXPOSURE_LIMITS,
    MILLIGRAM,
    NUISANCE,
    Authority,
    ExposureLimit,
    GoverningLimit,
    added_limit,
    exposure_limits,
    governing_limit,
)

__all__ = [
    "AUTHORITIES",
    "DUST_CLASSES",
    "DUST_FAMILIES",
    "EARTHING_ENERGY",
    "EXPOSURE_LIMITS",
    "MILLIGRAM",
    "NUISANCE",
    "REPORTED_LAYER",
    "STATIC_CRITICAL_ENERGY",
    "WATER_REACTIONS",
    "Authority",
    "DustClass",
    "DustFamily",
    "DustSample",
    "ExposureLimit",
    "GoverningLimit",
    "WaterReaction",
    "added_limit",
    "airborne_concentration",
    "constituent_dust_limit",
    "deflagration_index",
    "duct_concentration",
    "dust_family",
    "dust_mass_rate",
    "explosion_severity",
    "exposure_limits",
    "governing_limit",
    "hydrogen_volume",
    "ignition_sensitivity",
    "layer_criterion",
    "layer_trigger_area",
    "lead_limit",
    "mixture_dust_limit",
    "mixture_index",
    "st_class",
    "time_weighted_concentration",
]
