"""Chatter: how deep a cut stays quiet, by its own waves and by the coupling of two directions."""

from __future__ import annotations

from finishplan.physics.stability.milling import (
    milling_depth_estimate,
    milling_depth_limit,
    round_tool_depth_limit,
)
from finishplan.physics.stability.mode_coupling import (
    mode_coupling_limit,
    mode_coupling_stable,
    mode_coupling_window,
    process_stiffness,
)
from finishplan.physics.stability.regeneration import (
    fast_tooth_depth_limit,
    receptance,
    regenerative_depth_limit,
)

__all__ = [
    "fast_tooth_depth_limit",
    "milling_depth_estimate",
    "milling_depth_limit",
    "mode_coupling_limit",
    "mode_coupling_stable",
    "mode_coupling_window",
    "process_stiffness",
    "receptance",
    "regenerative_depth_limit",
    "round_tool_depth_limit",
]
