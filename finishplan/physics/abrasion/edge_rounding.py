"""Edges rounded by an abrasive under constant force."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.abrasion.removal import COEFFICIENT, PRESTON
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.edge import ANGLES, round_radius


@formula(
    "S = K F v/vf",
    units={"coefficient": "1/Pa", "force": "N", "speed": "m/s", "feed": "m/s"},
    returns="m^2",
    source=PRESTON + "; volume balance along the edge",
    domain={"coefficient": NON_NEGATIVE, "force": NON_NEGATIVE, "speed": NON_NEGATIVE, "feed": POSITIVE},
)
def edge_section_per_pass(coefficient: Array, force: Array, speed: Array, feed: Array) -> Array:
    """Section that one pass along an edge removes, burr included.

    Parameters
    ----------
    coefficient : array_like
        Preston coefficient K [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Sliding speed v at the edge [m/s].
    feed : array_like
        Feed vf along the edge [m/s].

    Returns
    -------
    array_like
        Section S [m2].

    Raises
    ------
    ValueError
        A feed of zero, or a negative value.
    """
    return coefficient * force * speed / feed


@formula(
    "r = sqrt((N S - A_b)/(cot(theta/2) - (pi - theta)/2)); S = K F v/vf",
    units={
        "coefficient": "1/Pa",
        "force": "N",
        "speed": "m/s",
        "feed": "m/s",
        "passes": "1",
        "included_angle": "rad",
        "burr_area": "m^2",
    },
    returns="m",
    source=PRESTON + "; plane geometry of the circle between two tangents",
    domain={
        "coefficient": COEFFICIENT,
        "force": POSITIVE,
        "speed": POSITIVE,
        "feed": POSITIVE,
        "passes": NON_NEGATIVE,
        "included_angle": ANGLES,
        "burr_area": NON_NEGATIVE,
    },
)
def edge_radius_after_passes(
    coefficient: Array,
    force: Array,
    speed: Array,
    feed: Array,
    passes: Array,
    included_angle: Array,
    burr_area: Array = 0.0,
) -> Array:
    """Radius an abrasive leaves on an edge that carried a burr.

    The burr goes first; what is removed beyond it rounds the edge. Under constant force the radius
    grows with the root of the number of passes.

    Parameters
    ----------
    coefficient : array_like
        Preston coefficient K [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Sliding speed v at the edge [m/s].
    feed : array_like
        Feed vf along the edge [m/s].
    passes : array_like
        Number of passes N [1].
    included_angle : array_like
        Angle theta between the faces, through the material [rad].
    burr_area : array_like
        Section A_b of the burr, none by default [m2].

    Returns
    -------
    array_like
        Radius r; zero while the burr still stands [m].

    Raises
    ------
    ValueError
        A coefficient, force, speed or feed of zero, a negative value, or an angle outside 0 to pi.
    """
    section = edge_section_per_pass(coefficient, force, speed, feed)
    beyond_the_burr = np.maximum(passes - burr_area / section, 0.0)
    return round_radius(beyond_the_burr * section, included_angle)
