"""Plunging a disc straight into a sheet before it travels: chips, power, and what of it the cell bears.

The disc cuts over its whole chord at once, chips as thick as it advances per tooth at its lowest point and
thinner towards both faces.
"""

from __future__ import annotations

from functools import singledispatch

import numpy as np
from numpy.typing import NDArray

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.physics.abrasion import specific_energy
from finishplan.process.contour_abrasion import AbradedContour, arc_pressure, coefficient_at, pressing_force
from finishplan.process.contour_conditions import ContourConditions, Trimming
from finishplan.process.contour_engagement import Sawn


@formula(
    "h = fz sin(psi)/psi; psi = arccos(1 - 2 a/D)",
    units={"feed_per_tooth": "m", "depth": "m", "diameter": "m"},
    returns="m",
    source="derived here: advance per tooth towards the centre of the arc, averaged over it",
)
def plunge_chip(feed_per_tooth: Array, depth: Array, diameter: Array) -> Array:
    """Mean chip of a disc that goes straight down.

    Parameters
    ----------
    feed_per_tooth : array_like
        Advance between one tooth and the next fz [m].
    depth : array_like
        How deep the disc is in a [m].
    diameter : array_like
        Diameter of the disc D [m].

    Returns
    -------
    array_like
        Chip thickness h [m].
    """
    half = physics.engagement_angle(depth, diameter)
    return feed_per_tooth * np.sin(half) / half


@formula(
    "Q = b c vf",
    units={"width": "m", "chord": "m", "feed": "m/s"},
    returns="m^3/s",
    source="geometry: a disc as long as its chord and as wide as its kerf goes down",
)
def plunge_rate(width: Array, chord: Array, feed: Array) -> Array:
    """Volume that a plunging disc removes per time.

    Parameters
    ----------
    width : array_like
        Width of the kerf b [m].
    chord : array_like
        Chord of the disc at the face c [m].
    feed : array_like
        Feed of the plunge vf [m/s].

    Returns
    -------
    array_like
        Rate Q [m3/s].
    """
    return width * chord * feed


@singledispatch
def plunge_held(
    conditions: Trimming, disc: Sawn, spindle_speed: float, feeds: NDArray[np.float64], power: float, margin: float
) -> NDArray[np.bool_]:
    """At which feeds a plunge keeps within power and chip, or pressure, with the margin kept.

    Parameters
    ----------
    conditions : Trimming
        The state that loads the cell most.
    disc : Sawn
        How the disc stands.
    spindle_speed : float
        Spindle speed [1/s].
    feeds : ndarray
        Feeds of the plunge [m/s].
    power : float
        Power at that speed [W].
    margin : float
        Share of every limit to keep in hand.
    """
    raise TypeError(f"no plunge known under {type(conditions).__name__}")


@plunge_held.register
def _(
    conditions: ContourConditions,
    disc: Sawn,
    spindle_speed: float,
    feeds: NDArray[np.float64],
    power: float,
    margin: float,
) -> NDArray[np.bool_]:
    cutter = conditions.cutter
    depth = np.minimum(disc.depth, cutter.diameter / 2)
    per_tooth = physics.feed_per_tooth(feeds, spindle_speed, cutter.teeth)
    specific = conditions.chip_law.specific_force(plunge_chip(per_tooth, depth, cutter.diameter))
    rate = plunge_rate(disc.width, physics.disc_chord(cutter.diameter, depth), feeds)
    taken = physics.cutting_power(specific, rate)
    return np.asarray((taken <= (1 - margin) * power) & (per_tooth <= (1 - margin) * cutter.feed_high))


@plunge_held.register
def _(
    conditions: AbradedContour,
    disc: Sawn,
    spindle_speed: float,
    feeds: NDArray[np.float64],
    power: float,
    margin: float,
) -> NDArray[np.bool_]:
    abrasive = conditions.abrasive
    diameter = abrasive.tool.diameter
    depth = np.minimum(disc.depth, diameter / 2)
    energy = specific_energy(abrasive.force_ratio, coefficient_at(abrasive.coefficient, abrasive.coefficient_factor))
    rate = plunge_rate(disc.width, physics.disc_chord(diameter, depth), feeds)
    taken = physics.cutting_power(energy, rate)
    tangential = physics.tangential_force(taken, physics.surface_speed(diameter, spindle_speed))
    arc = 2 * physics.engagement_angle(depth, diameter)
    pressure = arc_pressure(pressing_force(tangential, abrasive.force_ratio), disc.width, arc, diameter)
    return np.asarray((taken <= (1 - margin) * power) & (pressure <= (1 - margin) * abrasive.pressure_high))
