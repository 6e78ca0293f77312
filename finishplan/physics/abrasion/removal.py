"""Removal by an abrasive pressed on and moved over a surface or an edge.

The Preston coefficient K is the volume removed per force and sliding distance, in 1/Pa;
1 mm3 per newton and metre is 1e-9 1/Pa.
"""

from __future__ import annotations

from typing import Final

from finishplan.formula import INFINITY, Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

COEFFICIENT: Final = (1e-18, INFINITY)
"""Bounds of a Preston coefficient; an optical polish on glass still removes 1e-13 1/Pa."""

PRESTON: Final = "Preston, J. Soc. Glass Technol. 11 (1927) 214-256: removal in proportion to pressure and speed"
ARCHARD: Final = "Archard, J. Appl. Phys. 24 (1953) 981-988: worn volume in proportion to force times distance"
FRICTION: Final = "definition of the force ratio and of power"


@formula(
    "Q = K F v",
    units={"coefficient": "1/Pa", "force": "N", "speed": "m/s"},
    returns="m^3/s",
    source=PRESTON,
    domain={"coefficient": NON_NEGATIVE, "force": NON_NEGATIVE, "speed": NON_NEGATIVE},
)
def removal_rate(coefficient: Array, force: Array, speed: Array) -> Array:
    """Volume removed per time.

    Parameters
    ----------
    coefficient : array_like
        Preston coefficient K [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Mean sliding speed v over the contact [m/s].

    Returns
    -------
    array_like
        Removal rate Q [m3/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return coefficient * force * speed


@formula(
    "h = K F v/(w vf)",
    units={"coefficient": "1/Pa", "force": "N", "speed": "m/s", "feed": "m/s", "width": "m"},
    returns="m",
    source=PRESTON + "; volume balance over the stripe",
    domain={
        "coefficient": NON_NEGATIVE,
        "force": NON_NEGATIVE,
        "speed": NON_NEGATIVE,
        "feed": POSITIVE,
        "width": POSITIVE,
    },
)
def pass_depth(coefficient: Array, force: Array, speed: Array, feed: Array, width: Array) -> Array:
    """Mean depth one pass removes from a stripe, or a raster from the whole surface.

    Parameters
    ----------
    coefficient : array_like
        Preston coefficient K [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Mean sliding speed v over the contact [m/s].
    feed : array_like
        Feed vf along the path, small against the sliding speed [m/s].
    width : array_like
        Width w of the stripe; on a raster the step-over [m].

    Returns
    -------
    array_like
        Mean depth h [m].

    Raises
    ------
    ValueError
        A feed or width of zero, or a negative value.
    """
    return coefficient * force * speed / (width * feed)


@formula(
    "K = h w vf/(F v)",
    units={"depth": "m", "force": "N", "speed": "m/s", "feed": "m/s", "width": "m"},
    returns="1/Pa",
    source=PRESTON + "; volume balance over the stripe",
    domain={"depth": NON_NEGATIVE, "force": POSITIVE, "speed": POSITIVE, "feed": NON_NEGATIVE, "width": NON_NEGATIVE},
)
def coefficient_from_pass(depth: Array, force: Array, speed: Array, feed: Array, width: Array) -> Array:
    """Preston coefficient that a measured pass shows; inverse of `pass_depth`.

    Parameters
    ----------
    depth : array_like
        Mean depth h removed [m].
    force : array_like
        Normal force F [N].
    speed : array_like
        Mean sliding speed v over the contact [m/s].
    feed : array_like
        Feed vf along the path [m/s].
    width : array_like
        Width w of the stripe; on a raster the step-over [m].

    Returns
    -------
    array_like
        Preston coefficient K [1/Pa].

    Raises
    ------
    ValueError
        A force or speed of zero, or a negative value.
    """
    return depth * width * feed / (force * speed)


@formula(
    "K = k/H",
    units={"wear_number": "1", "hardness": "Pa"},
    returns="1/Pa",
    source=ARCHARD + ", over the hardness",
    domain={"wear_number": NON_NEGATIVE, "hardness": POSITIVE},
)
def archard_coefficient(wear_number: Array, hardness: Array) -> Array:
    """Preston coefficient from Archard's wear number and the workpiece's hardness.

    Parameters
    ----------
    wear_number : array_like
        Archard's wear number k, the removed share of the deformed volume [1].
    hardness : array_like
        Indentation hardness H of the workpiece [Pa].

    Returns
    -------
    array_like
        Preston coefficient K [1/Pa].

    Raises
    ------
    ValueError
        A hardness of zero, or a negative value.
    """
    return wear_number / hardness


@formula(
    "u = mu/K",
    units={"force_ratio": "1", "coefficient": "1/Pa"},
    returns="J/m^3",
    source="Groover, Fundamentals of Modern Manufacturing, chapter on grinding, u = Fc v/Q; Fc = mu F and Q = K F v",
    domain={"force_ratio": NON_NEGATIVE, "coefficient": COEFFICIENT},
)
def specific_energy(force_ratio: Array, coefficient: Array) -> Array:
    """Energy spent per volume removed.

    Parameters
    ----------
    force_ratio : array_like
        Tangential over normal force mu [1].
    coefficient : array_like
        Preston coefficient K [1/Pa].

    Returns
    -------
    array_like
        Specific energy u [J/m3].

    Raises
    ------
    ValueError
        A coefficient of zero, or a negative value.
    """
    return force_ratio / coefficient


@formula(
    "P = mu F v",
    units={"force_ratio": "1", "force": "N", "speed": "m/s"},
    returns="W",
    source=FRICTION,
    domain={"force_ratio": NON_NEGATIVE, "force": NON_NEGATIVE, "speed": NON_NEGATIVE},
)
def friction_power(force_ratio: Array, force: Array, speed: Array) -> Array:
    """Power the abrasive takes from its drive.

    Parameters
    ----------
    force_ratio : array_like
        Tangential over normal force mu [1].
    force : array_like
        Normal force F [N].
    speed : array_like
        Mean sliding speed v over the contact [m/s].

    Returns
    -------
    array_like
        Power P [W].

    Raises
    ------
    ValueError
        A negative value.
    """
    return force_ratio * force * speed
