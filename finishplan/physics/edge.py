"""Plane geometry of an edge: chamfers, rounds and burrs at any included angle between the faces.

Angles are the material's included angle: 90 degrees for a square edge, more for a blunt one.
"""

from __future__ import annotations

from typing import Final, Literal

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, chosen

ANGLES = (1e-3, float(np.pi) - 1e-3)
PLANE_GEOMETRY = "plane geometry of the isosceles triangle"
ROUND_GEOMETRY = "plane geometry of the circle between two tangents"

BURR_SHAPES: Final = {"triangular": 0.5, "rectangular": 1.0}
"""Share of height x root thickness that the section of a burr fills."""


@formula(
    "A = c^2 sin(theta)/2",
    units={"leg": "m", "included_angle": "rad"},
    returns="m^2",
    source=PLANE_GEOMETRY,
    domain={"leg": NON_NEGATIVE, "included_angle": ANGLES},
)
def chamfer_area(leg: Array, included_angle: Array) -> Array:
    """Section removed by a chamfer of equal legs.

    Parameters
    ----------
    leg : array_like
        Leg c, measured along either face [m].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Section [m2], broadcast over the arguments.

    Raises
    ------
    ValueError
        A negative leg, or an angle outside 0 to pi.
    """
    return leg * leg * np.sin(included_angle) / 2


@formula(
    "c = sqrt(2 A/sin(theta))",
    units={"area": "m^2", "included_angle": "rad"},
    returns="m",
    source=PLANE_GEOMETRY,
    domain={"area": NON_NEGATIVE, "included_angle": ANGLES},
)
def chamfer_leg(area: Array, included_angle: Array) -> Array:
    """Leg of the chamfer of equal legs that removes a section; inverse of `chamfer_area`.

    Parameters
    ----------
    area : array_like
        Section removed [m2].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Leg c along either face [m].

    Raises
    ------
    ValueError
        A negative section, or an angle outside 0 to pi.
    """
    return np.sqrt(2 * area / np.sin(included_angle))


@formula(
    "a = c cos(theta/2)",
    units={"leg": "m", "included_angle": "rad"},
    returns="m",
    source=PLANE_GEOMETRY,
    domain={"leg": NON_NEGATIVE, "included_angle": ANGLES},
)
def chamfer_depth(leg: Array, included_angle: Array) -> Array:
    """Depth of a chamfer of equal legs, from the sharp corner along the bisector.

    Parameters
    ----------
    leg : array_like
        Leg c, measured along either face [m].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Depth a [m].

    Raises
    ------
    ValueError
        A negative leg, or an angle outside 0 to pi.
    """
    return leg * np.cos(included_angle / 2)


@formula(
    "w = 2 c sin(theta/2)",
    units={"leg": "m", "included_angle": "rad"},
    returns="m",
    source=PLANE_GEOMETRY,
    domain={"leg": NON_NEGATIVE, "included_angle": ANGLES},
)
def chamfer_width(leg: Array, included_angle: Array) -> Array:
    """Width of the chamfer's new face, across the edge.

    Parameters
    ----------
    leg : array_like
        Leg c, measured along either face [m].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Face width w [m].

    Raises
    ------
    ValueError
        A negative leg, or an angle outside 0 to pi.
    """
    return 2 * leg * np.sin(included_angle / 2)


@formula(
    "a = sqrt(S/tan(theta/2))",
    units={"area": "m^2", "included_angle": "rad"},
    returns="m",
    source=PLANE_GEOMETRY,
    domain={"area": NON_NEGATIVE, "included_angle": ANGLES},
)
def bisector_depth(area: Array, included_angle: Array) -> Array:
    """Depth along the bisector of the chamfer of equal legs that removes a section.

    Parameters
    ----------
    area : array_like
        Section S removed [m2].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Depth a from the sharp corner [m].

    Raises
    ------
    ValueError
        A negative section, or an angle outside 0 to pi.
    """
    return np.sqrt(area / np.tan(included_angle / 2))


@formula(
    "S = a^2 tan(theta/2)",
    units={"depth": "m", "included_angle": "rad"},
    returns="m^2",
    source=PLANE_GEOMETRY,
    domain={"depth": NON_NEGATIVE, "included_angle": ANGLES},
)
def bisector_area(depth: Array, included_angle: Array) -> Array:
    """Section removed down to a depth along the bisector; inverse of `bisector_depth`.

    Parameters
    ----------
    depth : array_like
        Depth a from the sharp corner [m].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Section S [m2].

    Raises
    ------
    ValueError
        A negative depth, or an angle outside 0 to pi.
    """
    return depth * depth * np.tan(included_angle / 2)


def _round_share(included_angle: Array) -> Array:
    """Section between the two faces and the tangent circle of radius 1: cot(theta/2) - (pi - theta)/2."""
    half_turn = (np.pi - included_angle) / 2
    return np.tan(half_turn) - half_turn


@formula(
    "A = r^2 (cot(theta/2) - (pi - theta)/2)",
    units={"radius": "m", "included_angle": "rad"},
    returns="m^2",
    source=ROUND_GEOMETRY,
    domain={"radius": NON_NEGATIVE, "included_angle": ANGLES},
)
def round_area(radius: Array, included_angle: Array) -> Array:
    """Section removed by a round tangent to both faces.

    Parameters
    ----------
    radius : array_like
        Radius r of the round [m].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Section [m2].

    Raises
    ------
    ValueError
        A negative radius, or an angle outside 0 to pi.
    """
    return radius * radius * _round_share(included_angle)


@formula(
    "r = sqrt(A/(cot(theta/2) - (pi - theta)/2))",
    units={"area": "m^2", "included_angle": "rad"},
    returns="m",
    source=ROUND_GEOMETRY,
    domain={"area": NON_NEGATIVE, "included_angle": ANGLES},
)
def round_radius(area: Array, included_angle: Array) -> Array:
    """Radius of the round that removes a section; inverse of `round_area`.

    Parameters
    ----------
    area : array_like
        Section removed [m2].
    included_angle : array_like
        Angle between the faces, through the material [rad].

    Returns
    -------
    array_like
        Radius r [m].

    Raises
    ------
    ValueError
        A negative section, or an angle outside 0 to pi.
    """
    return np.sqrt(area / _round_share(included_angle))


@formula(
    "A_b = q h b; q = 1/2 triangular, 1 rectangular",
    units={"height": "m", "root_thickness": "m", "shape": "-"},
    returns="m^2",
    source="plane geometry of triangle and rectangle",
    domain={"height": NON_NEGATIVE, "root_thickness": NON_NEGATIVE},
)
def burr_area(
    height: Array, root_thickness: Array, shape: Literal["triangular", "rectangular"] = "triangular"
) -> Array:
    """Section of a burr standing on its root.

    Parameters
    ----------
    height : array_like
        Height h above the face [m].
    root_thickness : array_like
        Thickness b at the root [m].
    shape : {"triangular", "rectangular"}
        Form of the section; the rectangle is the upper bound.

    Returns
    -------
    array_like
        Section A_b [m2].

    Raises
    ------
    ValueError
        A negative dimension, or a shape that is neither.
    """
    return chosen(BURR_SHAPES, shape, "burr_area: shape") * height * root_thickness
