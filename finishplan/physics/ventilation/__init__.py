"""Exhaust ventilation: how much air a machine, hood, booth or duct needs to take the dust away."""

from __future__ import annotations

from finishplan.physics.ventilation.ducts import (
    BRANCH_VELOCITY,
    DUCT_VELOCITIES,
    HOOD_ENTRY_LOSSES,
    LIGHT_METAL_VELOCITY,
    MAIN_VELOCITY,
    DuctVelocity,
    duct_diameter,
    duct_velocity,
    hood_static_pressure,
    velocity_pressure,
)
from finishplan.physics.ventilation.hoods import (
    CAPTURE_VELOCITIES,
    FACE_VELOCITIES,
    HOOD_BAND,
    CaptureVelocity,
    booth_flow,
    capture_reach,
    dilution_flow,
    hood_flow,
    slot_hood_flow,
)
from finishplan.physics.ventilation.wheel_exhaust import (
    CUBIC_FOOT_PER_MINUTE,
    WHEEL_EXHAUST_TABLES,
    ExhaustRequirement,
    ExhaustRow,
    ExhaustTable,
    WheelKind,
    wheel_exhaust,
    wheel_exhaust_flow,
)

__all__ = [
    "BRANCH_VELOCITY",
    "CAPTURE_VELOCITIES",
    "CUBIC_FOOT_PER_MINUTE",
    "DUCT_VELOCITIES",
    "FACE_VELOCITIES",
    "HOOD_BAND",
    "HOOD_ENTRY_LOSSES",
    "LIGHT_METAL_VELOCITY",
    "MAIN_VELOCITY",
    "WHEEL_EXHAUST_TABLES",
    "CaptureVelocity",
    "DuctVelocity",
    "ExhaustRequirement",
    "ExhaustRow",
    "ExhaustTable",
    "WheelKind",
    "booth_flow",
    "capture_reach",
    "dilution_flow",
    "duct_diameter",
    "duct_velocity",
    "hood_flow",
    "hood_static_pressure",
    "slot_hood_flow",
    "velocity_pressure",
    "wheel_exhaust",
    "wheel_exhaust_flow",
]
