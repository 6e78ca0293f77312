"""A wheel with a soft tread that is fed into a face by a set depth: how wide it touches, and how hard it presses."""

from __future__ import annotations

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.contact.layer import SPRING_BED


@formula(
    "b = sqrt(2 R delta)",
    units={"penetration": "m", "radius": "m"},
    returns="m",
    source=SPRING_BED,
    domain={"penetration": NON_NEGATIVE, "radius": POSITIVE},
)
def penetrated_half_width(penetration: Array, radius: Array) -> Array:
    """Half-width of the strip of a cylinder fed into a layer, or of a soft wheel fed onto a flat.

    Parameters
    ----------
    penetration : array_like
        Feed delta beyond first touch, small against the radius [m].
    radius : array_like
        Effective radius R [m].

    Returns
    -------
    array_like
        Half-width b [m].

    Raises
    ------
    ValueError
        A radius of zero, or a negative penetration.
    """
    return (2 * radius * penetration) ** 0.5


@formula(
    "F = w (2 k/(3 R)) (2 R delta)^(3/2)",
    units={"penetration": "m", "radius": "m", "width": "m", "stiffness": "N/m^3"},
    returns="N",
    source=SPRING_BED,
    domain={"penetration": NON_NEGATIVE, "radius": POSITIVE, "width": NON_NEGATIVE, "stiffness": POSITIVE},
)
def penetration_force(penetration: Array, radius: Array, width: Array, stiffness: Array) -> Array:
    """Force of a cylinder fed into a layer to a set depth; inverse of the approach of `winkler_cylinder`.

    Parameters
    ----------
    penetration : array_like
        Feed delta beyond first touch, small against the radius [m].
    radius : array_like
        Effective radius R [m].
    width : array_like
        Width w in contact, along the cylinder's axis [m].
    stiffness : array_like
        Layer stiffness k [N/m3].

    Returns
    -------
    array_like
        Force F [N].

    Raises
    ------
    ValueError
        A radius or stiffness of zero, or a negative penetration or width.
    """
    return width * (2 * stiffness / (3 * radius)) * (2 * radius * penetration) ** 1.5


@formula(
    "dF/ddelta = 2 k w sqrt(2 R delta)",
    units={"penetration": "m", "radius": "m", "width": "m", "stiffness": "N/m^3"},
    returns="N/m",
    source=SPRING_BED + "; slope of the force over the depth",
    domain={"penetration": NON_NEGATIVE, "radius": POSITIVE, "width": NON_NEGATIVE, "stiffness": POSITIVE},
)
def penetration_stiffness(penetration: Array, radius: Array, width: Array, stiffness: Array) -> Array:
    """Change of force with depth of a cylinder fed into a layer.

    Parameters
    ----------
    penetration : array_like
        Feed delta beyond first touch, small against the radius [m].
    radius : array_like
        Effective radius R [m].
    width : array_like
        Width w in contact, along the cylinder's axis [m].
    stiffness : array_like
        Layer stiffness k [N/m3].

    Returns
    -------
    array_like
        Stiffness of the contact [N/m].

    Raises
    ------
    ValueError
        A radius or stiffness of zero, or a negative penetration or width.
    """
    return 2 * stiffness * width * (2 * radius * penetration) ** 0.5
