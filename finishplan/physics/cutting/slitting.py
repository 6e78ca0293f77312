"""Chips of a disc that saws between the two faces of a sheet.

Angles count from the lowest point of the disc, where it does not come out at all; the tooth path is that of
milling.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

SLITTING: Final = "derived here: the tooth path of milling, between the two faces of a sheet"
SMALLEST: Final = float(np.finfo(float).tiny)


@formula(
    "dphi = phi - psi",
    units={"engagement_angle": "rad", "start_angle": "rad"},
    returns="rad",
    source=SLITTING,
)
def engaged_arc(engagement_angle: Array, start_angle: Array) -> Array:
    """Arc over which a disc that comes out on the far side of a sheet is in the material.

    Parameters
    ----------
    engagement_angle : array_like
        Angle phi at which it meets the near side, counted from the disc's lowest point [rad].
    start_angle : array_like
        Angle psi at which it meets the far side [rad].

    Returns
    -------
    array_like
        Arc dphi [rad].
    """
    return engagement_angle - start_angle


@formula(
    "h_m = fz (2 a/D)/dphi",
    units={"feed_per_tooth": "m", "depth": "m", "diameter": "m", "engaged_arc": "rad"},
    returns="m",
    source=SLITTING,
    domain={"feed_per_tooth": NON_NEGATIVE, "depth": NON_NEGATIVE, "diameter": POSITIVE},
)
def slit_mean_chip(feed_per_tooth: Array, depth: Array, diameter: Array, engaged_arc: Array) -> Array:
    """Chip thickness averaged over the arc in the material; exact for a circular tooth path.

    Parameters
    ----------
    feed_per_tooth : array_like
        Feed per tooth fz, small against the diameter [m].
    depth : array_like
        Depth of the material, square to the feed, a [m].
    diameter : array_like
        Diameter of the disc D [m].
    engaged_arc : array_like
        Arc in the material dphi [rad].

    Returns
    -------
    array_like
        Mean chip thickness h_m; zero at no depth [m].

    Raises
    ------
    ValueError
        A negative value, or a diameter of zero.
    """
    # the floor only keeps 0/0 away where there is no depth at all
    return feed_per_tooth * 2 * (depth / diameter) / np.maximum(engaged_arc, SMALLEST)


@formula(
    "h_max = fz sin(min(phi, pi/2))",
    units={"feed_per_tooth": "m", "engagement_angle": "rad"},
    returns="m",
    source=SLITTING,
    domain={"feed_per_tooth": NON_NEGATIVE, "engagement_angle": (0.0, float(np.pi))},
)
def slit_max_chip(feed_per_tooth: Array, engagement_angle: Array) -> Array:
    """Greatest chip thickness of a tooth's way through a sheet, the lowest half of the disc in it.

    Parameters
    ----------
    feed_per_tooth : array_like
        Feed per tooth fz, small against the diameter [m].
    engagement_angle : array_like
        Angle phi at which the disc meets the near side, counted from its lowest point [rad].

    Returns
    -------
    array_like
        Greatest chip thickness [m].

    Raises
    ------
    ValueError
        A negative feed, or an angle beyond half a turn.
    """
    return feed_per_tooth * np.sin(np.minimum(engagement_angle, np.pi / 2))
