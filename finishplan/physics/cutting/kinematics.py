"""Kinematics of a rotating cutter: speeds, feed per tooth, engagement and chip thickness.

Rotation counts in revolutions per second. The engagement angle runs from the finished wall
(no chip) to where the tooth meets the uncut surface; a full slot is pi.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

ROTATION = "kinematics of a point on a turning circle"
MILLING = "Dietrich and Tschätsch, Praxis der Zerspantechnik, 11th ed. 2014, chapter on milling"
SMALLEST: Final = float(np.finfo(float).tiny)


@formula(
    "v = pi D n",
    units={"diameter": "m", "spindle_speed": "1/s"},
    returns="m/s",
    source=ROTATION,
    domain={"diameter": NON_NEGATIVE, "spindle_speed": NON_NEGATIVE},
)
def surface_speed(diameter: Array, spindle_speed: Array) -> Array:
    """Speed of the cutting edge.

    Parameters
    ----------
    diameter : array_like
        Diameter D on which the edge turns [m].
    spindle_speed : array_like
        Revolutions per time n [1/s].

    Returns
    -------
    array_like
        Surface speed v [m/s].

    Raises
    ------
    ValueError
        A negative diameter or speed.
    """
    return np.pi * diameter * spindle_speed


@formula(
    "n = v/(pi D)",
    units={"diameter": "m", "surface_speed": "m/s"},
    returns="1/s",
    source=ROTATION,
    domain={"diameter": POSITIVE, "surface_speed": NON_NEGATIVE},
)
def spindle_speed(diameter: Array, surface_speed: Array) -> Array:
    """Spindle speed that gives a surface speed.

    Parameters
    ----------
    diameter : array_like
        Diameter D on which the edge turns [m].
    surface_speed : array_like
        Surface speed v wanted [m/s].

    Returns
    -------
    array_like
        Revolutions per time n [1/s].

    Raises
    ------
    ValueError
        A diameter of zero, or a negative value.
    """
    return surface_speed / (np.pi * diameter)


@formula(
    "z = N s",
    units={"flutes": "1", "width_share": "1"},
    returns="1",
    source="geometry: an edge broken up by notches meets a place of the wall in a share of the turns",
    domain={"flutes": POSITIVE, "width_share": POSITIVE},
)
def effective_teeth(flutes: Array, width_share: Array) -> Array:
    """Teeth that pass each place of the wall in a turn, on the mean.

    Parameters
    ----------
    flutes : array_like
        Number of flutes N [1].
    width_share : array_like
        Share of the width that the edge of one flute covers s [1].

    Returns
    -------
    array_like
        Teeth z [1].

    Raises
    ------
    ValueError
        No flutes or no width.
    """
    return flutes * width_share


@formula(
    "fz = vf/(n z)",
    units={"feed": "m/s", "spindle_speed": "1/s", "teeth": "1"},
    returns="m",
    source=MILLING,
    domain={"feed": NON_NEGATIVE, "spindle_speed": POSITIVE, "teeth": POSITIVE},
)
def feed_per_tooth(feed: Array, spindle_speed: Array, teeth: Array) -> Array:
    """Advance between one tooth and the next.

    Parameters
    ----------
    feed : array_like
        Feed speed vf along the path [m/s].
    spindle_speed : array_like
        Revolutions per time n [1/s].
    teeth : array_like
        Number of teeth z [1].

    Returns
    -------
    array_like
        Feed per tooth fz [m].

    Raises
    ------
    ValueError
        A standing spindle, no teeth, or a negative feed.
    """
    return feed / (spindle_speed * teeth)


@formula(
    "phi = 2 arcsin(sqrt(a/D)) = arccos(1 - 2 a/D)",
    units={"radial_depth": "m", "diameter": "m"},
    returns="rad",
    source=MILLING,
    domain={"radial_depth": NON_NEGATIVE, "diameter": POSITIVE},
)
def engagement_angle(radial_depth: Array, diameter: Array) -> Array:
    """Angle over which a tooth is in the material, cutting from the side.

    Parameters
    ----------
    radial_depth : array_like
        Depth a into the side of the material, at most the diameter [m].
    diameter : array_like
        Cutter diameter D [m].

    Returns
    -------
    array_like
        Engagement angle phi, 0 to pi [rad].

    Raises
    ------
    ValueError
        A negative depth, a diameter of zero, or a depth beyond the diameter.
    """
    share = radial_depth / diameter
    if np.any(share > 1):
        raise ValueError(
            "engagement_angle: radial_depth must not exceed the diameter [m],"
            f" given {np.max(share):g} times the diameter"
        )
    return 2 * np.arcsin(np.sqrt(share))


@formula(
    "h_m = fz (2 a/D)/phi",
    units={"feed_per_tooth": "m", "radial_depth": "m", "diameter": "m"},
    returns="m",
    source=MILLING,
    domain={"feed_per_tooth": NON_NEGATIVE},
)
def mean_chip_thickness(feed_per_tooth: Array, radial_depth: Array, diameter: Array) -> Array:
    """Chip thickness averaged over the engagement; exact for a circular tooth path.

    Parameters
    ----------
    feed_per_tooth : array_like
        Feed per tooth fz, small against the diameter [m].
    radial_depth : array_like
        Depth a into the side of the material, at most the diameter [m].
    diameter : array_like
        Cutter diameter D [m].

    Returns
    -------
    array_like
        Mean chip thickness h_m; zero at no depth [m].

    Raises
    ------
    ValueError
        A negative value, a diameter of zero, or a depth beyond the diameter.
    """
    half = engagement_angle(radial_depth, diameter) / 2
    # the floor only keeps 0/0 away where there is no depth at all
    return feed_per_tooth * (radial_depth / diameter) / np.maximum(half, SMALLEST)


@formula(
    "h_max = fz sin(min(phi, pi/2))",
    units={"feed_per_tooth": "m", "radial_depth": "m", "diameter": "m"},
    returns="m",
    source=MILLING,
    domain={"feed_per_tooth": NON_NEGATIVE},
)
def max_chip_thickness(feed_per_tooth: Array, radial_depth: Array, diameter: Array) -> Array:
    """Greatest chip thickness of a tooth's way through the material.

    Parameters
    ----------
    feed_per_tooth : array_like
        Feed per tooth fz, small against the diameter [m].
    radial_depth : array_like
        Depth a into the side of the material, at most the diameter [m].
    diameter : array_like
        Cutter diameter D [m].

    Returns
    -------
    array_like
        Greatest chip thickness; fz from half the diameter on [m].

    Raises
    ------
    ValueError
        A negative value, a diameter of zero, or a depth beyond the diameter.
    """
    return feed_per_tooth * np.sin(np.minimum(engagement_angle(radial_depth, diameter), np.pi / 2))


@formula(
    "z_E = z phi/(2 pi)",
    units={"teeth": "1", "engagement_angle": "rad"},
    returns="1",
    source=MILLING,
    domain={"teeth": NON_NEGATIVE, "engagement_angle": (0.0, float(2 * np.pi))},
)
def teeth_in_cut(teeth: Array, engagement_angle: Array) -> Array:
    """Mean number of teeth in the material at one time, straight teeth.

    Parameters
    ----------
    teeth : array_like
        Number of teeth z [1].
    engagement_angle : array_like
        Engagement angle phi [rad].

    Returns
    -------
    array_like
        Teeth in the cut z_E [1].

    Raises
    ------
    ValueError
        A negative number of teeth, or an angle outside one turn.
    """
    return teeth * engagement_angle / (2 * np.pi)


@formula(
    "H = fz^2/(4 D)",
    units={"feed_per_tooth": "m", "diameter": "m"},
    returns="m",
    source="Ghosh and Mallik, Manufacturing Science, chapter 4, surface left by a slab mill",
    domain={"feed_per_tooth": NON_NEGATIVE, "diameter": POSITIVE},
)
def cusp_height(feed_per_tooth: Array, diameter: Array) -> Array:
    """Height of the waves that the teeth leave on the wall.

    Parameters
    ----------
    feed_per_tooth : array_like
        Feed per tooth fz, small against the diameter [m].
    diameter : array_like
        Cutter diameter D [m].

    Returns
    -------
    array_like
        Cusp height H [m].

    Raises
    ------
    ValueError
        A negative feed, or a diameter of zero.
    """
    return feed_per_tooth * feed_per_tooth / (4 * diameter)
