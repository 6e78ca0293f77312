"""Motion along a path: how fast curvature and acceleration let the tool travel, and what it costs."""

from __future__ import annotations

from finishplan.physics.motion.corners import blend_deviation, corner_feed, feed_radius, ramp_length, section_ratio
from finishplan.physics.motion.profile import CORNER_TURN, FeedProfile, feed_profile

__all__ = [
    "CORNER_TURN",
    "FeedProfile",
    "blend_deviation",
    "corner_feed",
    "feed_profile",
    "feed_radius",
    "ramp_length",
    "section_ratio",
]
