"""Jaws that hold a part by friction."""

from __future__ import annotations

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

FRICTION = "Coulomb friction at n equal contact faces; factor on the weight by common practice, no published source"


@formula(
    "F_j = w g_f S/(mu n)",
    units={"weight": "N", "factor": "1", "safety_factor": "1", "friction": "1", "contacts": "1"},
    returns="N",
    source=FRICTION,
    domain={
        "weight": NON_NEGATIVE,
        "factor": NON_NEGATIVE,
        "safety_factor": POSITIVE,
        "friction": POSITIVE,
        "contacts": POSITIVE,
    },
)
def jaw_force(weight: Array, factor: Array, safety_factor: Array, friction: Array, contacts: Array) -> Array:
    """Force each jaw needs so that the part does not slip along the jaws.

    With more grip than load, mu n above 1, the direction of closing governs instead: the jaws must
    then close with more than the load itself.

    Parameters
    ----------
    weight : array_like
        Weight w, or the whole load of `resultant_load` with a factor of 1 [N].
    factor : array_like
        Load over weight g_f: acceleration along or against the weight [1].
    safety_factor : array_like
        Factor S on the load [1].
    friction : array_like
        Coefficient of friction mu between jaw and part [1].
    contacts : array_like
        Number of contact faces n, each pressed with the jaw force [1].

    Returns
    -------
    array_like
        Force of each jaw F_j [N].

    Raises
    ------
    ValueError
        No friction, no contact, no factor of safety, or a negative load.
    """
    return weight * factor * safety_factor / (friction * contacts)


@formula(
    "F_j = M S/(mu n r)",
    units={"moment": "N m", "safety_factor": "1", "friction": "1", "contacts": "1", "pad_radius": "m"},
    returns="N",
    source="Coulomb friction against turning, at the mean radius of evenly pressed pads",
    domain={
        "moment": NON_NEGATIVE,
        "safety_factor": POSITIVE,
        "friction": POSITIVE,
        "contacts": POSITIVE,
        "pad_radius": POSITIVE,
    },
)
def jaw_force_for_moment(
    moment: Array, safety_factor: Array, friction: Array, contacts: Array, pad_radius: Array
) -> Array:
    """Force each jaw needs so that the part does not turn about the line through the pads.

    Load and moment together need at most the sum of this and `jaw_force`.

    Parameters
    ----------
    moment : array_like
        Moment M about the line through the pads: force times its distance from that line [N m].
    safety_factor : array_like
        Factor S on the moment [1].
    friction : array_like
        Coefficient of friction mu between pad and part [1].
    contacts : array_like
        Number of pads n, each pressed with the jaw force [1].
    pad_radius : array_like
        Mean radius r of a pad about the line, two thirds of the radius for a round one, see
        `disc_mean_radius` [m].

    Returns
    -------
    array_like
        Force of each jaw F_j [N].

    Raises
    ------
    ValueError
        No friction, no contact, no pad, no factor of safety, or a negative moment.
    """
    return moment * safety_factor / (friction * contacts * pad_radius)
