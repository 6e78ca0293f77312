"""The break of an edge: its sections with and without the burr, and the band it is to lie in."""

from __future__ import annotations

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.edge_conditions import EdgeConditions


@formula(
    "A = max(0, S - A_burr)",
    units={"section": "m^2", "burr_section": "m^2"},
    returns="m^2",
    source="balance of the sections removed",
)
def section_into_edge(section: Array, burr_section: Array) -> Array:
    """Part of the removed section that went into the edge once the burr is gone.

    Parameters
    ----------
    section : array_like
        Section removed by all passes, burr included [m2].
    burr_section : array_like
        Section of the burr [m2].

    Returns
    -------
    array_like
        Section of the edge break [m2]; 0 while burr is left.
    """
    return np.maximum(section - burr_section, 0 * section)


@formula(
    "S = A + A_burr",
    units={"break_section": "m^2", "burr_section": "m^2"},
    returns="m^2",
    source="balance of the sections removed",
)
def total_section(break_section: Array, burr_section: Array) -> Array:
    """Section to be removed for an edge break and the burr on it.

    Parameters
    ----------
    break_section : array_like
        Section of the edge break [m2].
    burr_section : array_like
        Section of the burr [m2].

    Returns
    -------
    array_like
        Section [m2].
    """
    return break_section + burr_section


@formula(
    "(c_upper - c_lower)/2",
    units={"leg_lower": "m", "leg_upper": "m"},
    returns="m",
    source="half of the band between the limits",
)
def half_band(leg_lower: Array, leg_upper: Array) -> Array:
    """Half of the band of the edge break.

    Parameters
    ----------
    leg_lower : array_like
        Smallest leg accepted [m].
    leg_upper : array_like
        Largest leg accepted [m].

    Returns
    -------
    array_like
        Half the difference [m].
    """
    return (leg_upper - leg_lower) / 2


@formula(
    "(c_upper + c_lower)/2",
    units={"leg_lower": "m", "leg_upper": "m"},
    returns="m",
    source="middle of the band between the limits",
)
def middle_of_band(leg_lower: Array, leg_upper: Array) -> Array:
    """Middle of the band of the edge break.

    Parameters
    ----------
    leg_lower : array_like
        Smallest leg accepted [m].
    leg_upper : array_like
        Largest leg accepted [m].

    Returns
    -------
    array_like
        Half the sum [m].
    """
    return (leg_upper + leg_lower) / 2


def half_band_depth(conditions: EdgeConditions) -> Array:
    """Depth along the bisector that uses up half the band of the edge break [m]."""
    edge = conditions.edge
    return physics.chamfer_depth(half_band(edge.leg_lower, edge.leg_upper), edge.included_angle)
