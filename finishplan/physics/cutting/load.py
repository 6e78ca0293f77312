"""Forces, power and tool life in cutting with defined edges."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.cutting.specific_force import RAKES

MECHANICS = "mechanics: power is force times speed"


@formula(
    "Q = A vf",
    units={"area": "m^2", "feed": "m/s"},
    returns="m^3/s",
    source="geometry of a section swept along its normal",
    domain={"area": NON_NEGATIVE, "feed": NON_NEGATIVE},
)
def removal_rate(area: Array, feed: Array) -> Array:
    """Volume removed per time.

    Parameters
    ----------
    area : array_like
        Section removed, square to the path [m2].
    feed : array_like
        Feed speed along the path [m/s].

    Returns
    -------
    array_like
        Removal rate Q [m3/s].

    Raises
    ------
    ValueError
        A negative section or feed.
    """
    return area * feed


@formula(
    "P = kc Q",
    units={"specific_force": "Pa", "removal_rate": "m^3/s"},
    returns="W",
    source="Ghosh and Mallik, Manufacturing Science, chapter 4: specific energy times volume rate",
    domain={"specific_force": NON_NEGATIVE, "removal_rate": NON_NEGATIVE},
)
def cutting_power(specific_force: Array, removal_rate: Array) -> Array:
    """Power the cut takes at the tool.

    Parameters
    ----------
    specific_force : array_like
        Specific cutting force kc, which is also the work per volume [Pa].
    removal_rate : array_like
        Volume removed per time Q [m3/s].

    Returns
    -------
    array_like
        Cutting power P [W].

    Raises
    ------
    ValueError
        A negative value.
    """
    return specific_force * removal_rate


@formula(
    "M = P/(2 pi n)",
    units={"power": "W", "spindle_speed": "1/s"},
    returns="N m",
    source=MECHANICS,
    domain={"power": NON_NEGATIVE, "spindle_speed": POSITIVE},
)
def torque(power: Array, spindle_speed: Array) -> Array:
    """Torque of a turning tool.

    Parameters
    ----------
    power : array_like
        Power P at the tool [W].
    spindle_speed : array_like
        Revolutions per time n [1/s].

    Returns
    -------
    array_like
        Torque M [N m].

    Raises
    ------
    ValueError
        A negative power or a standing spindle.
    """
    return power / (2 * np.pi * spindle_speed)


@formula(
    "F_t = P/v",
    units={"power": "W", "surface_speed": "m/s"},
    returns="N",
    source=MECHANICS,
    domain={"power": NON_NEGATIVE, "surface_speed": POSITIVE},
)
def tangential_force(power: Array, surface_speed: Array) -> Array:
    """Mean force on the cutter along its circumference.

    Parameters
    ----------
    power : array_like
        Cutting power P [W].
    surface_speed : array_like
        Surface speed v [m/s].

    Returns
    -------
    array_like
        Tangential force F_t, averaged over time [N].

    Raises
    ------
    ValueError
        A negative power or a standing edge.
    """
    return power / surface_speed


@formula(
    "r_n = tan(arctan(mu) - gamma)",
    units={"effective_rake": "rad", "friction_coefficient": "1"},
    returns="1",
    source="Merchant, J. Appl. Phys. 16 (1945) 267-275, force circle of orthogonal cutting",
    domain={"effective_rake": RAKES, "friction_coefficient": NON_NEGATIVE},
)
def normal_force_ratio(effective_rake: Array, friction_coefficient: Array) -> Array:
    """Normal over tangential force of a cutting edge; negative where the edge pulls itself in.

    Parameters
    ----------
    effective_rake : array_like
        Effective rake gamma, negative for most burrs [rad].
    friction_coefficient : array_like
        Friction mu between chip and rake face [1].

    Returns
    -------
    array_like
        Force ratio r_n [1].

    Raises
    ------
    ValueError
        A rake beyond 45 degrees either way, or friction that no rake so negative can overcome.
    """
    inclination = np.arctan(friction_coefficient) - effective_rake
    if np.any(inclination >= np.pi / 2):
        raise ValueError(
            "normal_force_ratio: arctan(friction_coefficient) - effective_rake must be below pi/2 [rad],"
            f" given {np.max(inclination):g}"
        )
    return np.tan(inclination)


@formula(
    "F_n = r_n F_t",
    units={"tangential_force": "N", "force_ratio": "1"},
    returns="N",
    source="definition of the force ratio",
    domain={"tangential_force": NON_NEGATIVE},
)
def normal_force(tangential_force: Array, force_ratio: Array) -> Array:
    """Force that presses tool and material apart, square to the cutting direction.

    Parameters
    ----------
    tangential_force : array_like
        Tangential force F_t [N].
    force_ratio : array_like
        Normal over tangential force r_n [1].

    Returns
    -------
    array_like
        Normal force F_n [N].

    Raises
    ------
    ValueError
        A negative tangential force.
    """
    return force_ratio * tangential_force


@formula(
    "T = T_0 (C/V)^(1/n)",
    units={"speed": "m/s", "taylor_c": "m/s", "taylor_n": "1", "reference_life": "s"},
    returns="s",
    source="Taylor, Trans. ASME 28 (1907) 31-350",
    domain={"speed": POSITIVE, "taylor_c": POSITIVE, "taylor_n": (0.01, 2.0), "reference_life": POSITIVE},
)
def tool_life(speed: Array, taylor_c: Array, taylor_n: Array, reference_life: Array = 1.0) -> Array:
    """Cutting time until the edge is worn out, V T^n = C.

    Parameters
    ----------
    speed : array_like
        Surface speed V [m/s].
    taylor_c : array_like
        Speed C at which the edge lasts for the reference life [m/s].
    taylor_n : array_like
        Exponent n [1].
    reference_life : array_like
        Life T_0 that C stands for; 60 with C from tables, which give the speed for one minute [s].

    Returns
    -------
    array_like
        Life in the cut T [s].

    Raises
    ------
    ValueError
        A standing edge, or an exponent that no tool has.
    """
    return reference_life * (taylor_c / speed) ** (1 / taylor_n)
