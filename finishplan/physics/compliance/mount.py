"""Compliant mounts: travel needed, preload, weight, friction and pressure.

A path error is a half-width: the true value lies within plus or minus that much.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, Literal, TypeAlias

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE, chosen

Combination: TypeAlias = Literal["worst case", "statistical"]


def _worst_case(half_widths: Array, coverage: Array) -> Array:
    return np.sum(np.abs(half_widths), axis=-1)


def _statistical(half_widths: Array, coverage: Array) -> Array:
    return coverage * np.sqrt(np.sum((half_widths / np.sqrt(3)) ** 2, axis=-1))


COMBINATIONS: Final[Mapping[str, Callable[[Array, Array], Array]]] = {
    "worst case": _worst_case,
    "statistical": _statistical,
}


@formula(
    "s = (e + w)/(1 - q); e = sum |e_i| worst case, C sqrt(sum (e_i/sqrt(3))^2) statistical",
    units={
        "contributions": "m",
        "coverage": "1",
        "method": "-",
        "wear_allowance": "m",
        "end_stop_reserve": "1",
    },
    returns="m",
    source="JCGM 100:2008, 4.3.7 and 5.1.2: bounds without further knowledge are rectangular, u = a/sqrt(3)",
    domain={"coverage": NON_NEGATIVE, "wear_allowance": NON_NEGATIVE, "end_stop_reserve": (0.0, 0.99)},
)
def required_stroke(
    contributions: Array,
    coverage: Array,
    method: Combination = "worst case",
    wear_allowance: Array = 0.0,
    end_stop_reserve: Array = 0.0,
) -> Array:
    """Travel a compliant mount needs each way from its preload position.

    Parameters
    ----------
    contributions : array_like
        Half-widths e_i of the position errors, on the last axis [m].
    coverage : array_like
        Coverage factor C; sqrt(3) gives the plain root sum of squares of the bounds. Without effect
        on the worst case [1].
    method : {"worst case", "statistical"}
        How the contributions combine.
    wear_allowance : array_like
        Travel w added for tool wear [m].
    end_stop_reserve : array_like
        Share q of the travel kept free in front of the end stop [1].

    Returns
    -------
    array_like
        Travel each way s; the whole stroke is twice as long [m].

    Raises
    ------
    ValueError
        A negative allowance, a reserve of the whole stroke, or a method that is neither.
    """
    combined = chosen(COMBINATIONS, method, "required_stroke: method")(contributions, coverage)
    return (combined + wear_allowance) / (1 - end_stop_reserve)


@formula(
    "x_0 = s/2",
    units={"stroke": "m"},
    returns="m",
    source="middle of the stroke: equal travel both ways",
    domain={"stroke": NON_NEGATIVE},
)
def preload_offset(stroke: Array) -> Array:
    """How far the path is programmed beyond first contact, so that the mount works at mid-stroke.

    Parameters
    ----------
    stroke : array_like
        Whole travel of the mount between its end stops [m].

    Returns
    -------
    array_like
        Offset into the part [m].

    Raises
    ------
    ValueError
        A negative stroke.
    """
    return stroke / 2


@formula(
    "F_g = m g cos(beta)",
    units={"mass": "kg", "tilt": "rad", "gravity": "m/s^2"},
    returns="N",
    source="weight along an inclined axis; standard gravity of the 3rd CGPM, 1901",
    domain={"mass": NON_NEGATIVE},
)
def gravity_force(mass: Array, tilt: Array, gravity: Array = 9.80665) -> Array:
    """Weight of the moving parts along the stroke, which adds to the set force or takes from it.

    Parameters
    ----------
    mass : array_like
        Moving mass m [kg].
    tilt : array_like
        Angle beta between the stroke, pressing, and straight down [rad].
    gravity : array_like
        Acceleration of free fall g [m/s2].

    Returns
    -------
    array_like
        Force F_g, positive where the weight presses too [N].

    Raises
    ------
    ValueError
        A negative mass.
    """
    return mass * gravity * np.cos(tilt)


@formula(
    "m_p = m + F/g",
    units={"mass": "kg", "force": "N", "gravity": "m/s^2"},
    returns="kg",
    source="statics: a force on the flange loads the robot as the mass of that weight",
    domain={"mass": NON_NEGATIVE, "force": NON_NEGATIVE, "gravity": POSITIVE},
)
def payload_with_force(mass: Array, force: Array, gravity: Array = 9.80665) -> Array:
    """Mass that loads the robot as much as what it carries and the process force together.

    Parameters
    ----------
    mass : array_like
        Mass m carried at the flange [kg].
    force : array_like
        Process force F, taken in the worst direction, along the weight [N].
    gravity : array_like
        Acceleration of free fall g [m/s2].

    Returns
    -------
    array_like
        Equivalent payload m_p [kg].

    Raises
    ------
    ValueError
        A negative mass or force.
    """
    return mass + force / gravity


@formula(
    "F_min = q B/2",
    units={"friction_band": "N", "multiple": "1"},
    returns="N",
    source="common practice, no published source",
    domain={"friction_band": NON_NEGATIVE, "multiple": NON_NEGATIVE},
)
def smallest_usable_force(friction_band: Array, multiple: Array) -> Array:
    """Force below which friction in the mount makes the contact force too uncertain.

    Parameters
    ----------
    friction_band : array_like
        Hysteresis band B, loading less unloading force; friction is half of it each way [N].
    multiple : array_like
        How many times the friction q [1].

    Returns
    -------
    array_like
        Smallest usable force F_min [N].

    Raises
    ------
    ValueError
        A negative value.
    """
    return multiple * friction_band / 2


@formula(
    "p = F/A",
    units={"force": "N", "effective_area": "m^2"},
    returns="Pa",
    source="definition of pressure",
    domain={"force": NON_NEGATIVE, "effective_area": POSITIVE},
)
def device_pressure(force: Array, effective_area: Array) -> Array:
    """Pressure to set on a pneumatic mount, above ambient.

    Parameters
    ----------
    force : array_like
        Force F wanted [N].
    effective_area : array_like
        Effective piston area A [m2].

    Returns
    -------
    array_like
        Gauge pressure p [Pa].

    Raises
    ------
    ValueError
        A negative force or no area.
    """
    return force / effective_area


@formula(
    "F_friction = B/2",
    units={"friction_band": "N"},
    returns="N",
    source="definition of the hysteresis band: loading less unloading force",
    domain={"friction_band": NON_NEGATIVE},
)
def friction_each_way(friction_band: Array) -> Array:
    """Friction of a mount in either direction of travel.

    Parameters
    ----------
    friction_band : array_like
        Hysteresis band B, loading less unloading force [N].

    Returns
    -------
    array_like
        Friction [N].

    Raises
    ------
    ValueError
        A negative band.
    """
    return friction_band / 2


@formula(
    "dF = F_r + k e",
    units={"friction": "N", "stiffness": "N/m", "position_error": "m"},
    returns="N",
    source="statics: friction against the travel, and a spring that is pressed more or less; both may point one way",
    domain={"friction": NON_NEGATIVE, "stiffness": NON_NEGATIVE, "position_error": NON_NEGATIVE},
)
def device_force_scatter(friction: Array, stiffness: Array, position_error: Array) -> Array:
    """How far the force a mount gives may lie from the one set, either way.

    Parameters
    ----------
    friction : array_like
        Friction each way F_r [N].
    stiffness : array_like
        Change of force with travel k, 0 under a force loop [N/m].
    position_error : array_like
        How far the part may lie off the path e [m].

    Returns
    -------
    array_like
        Half-width dF [N].

    Raises
    ------
    ValueError
        A negative value.
    """
    return friction + stiffness * position_error
