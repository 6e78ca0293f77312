"""A pressed tool in motion: contact on a wavy path, impact on approach and the force loop.

Amplitudes are half of the peak-to-peak height.
"""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

WAVY_PATH = "equation of motion of a sprung mass that follows a sinusoidal edge"
ENERGY_BALANCE = "energy balance of a mass that swings on an elastic contact, without losses"
INTEGRAL_LOOP = "Åström and Murray, Feedback Systems, 2008, sensitivity of a first-order loop"


@formula(
    "v = (lambda/(2 pi)) sqrt((F_0/a + k)/m)",
    units={"wavelength": "m", "amplitude": "m", "force": "N", "moving_mass": "kg", "stiffness": "N/m"},
    returns="m/s",
    source=WAVY_PATH,
    domain={
        "wavelength": POSITIVE,
        "amplitude": NON_NEGATIVE,
        "force": POSITIVE,
        "moving_mass": POSITIVE,
        "stiffness": NON_NEGATIVE,
    },
)
def contact_loss_feed(wavelength: Array, amplitude: Array, force: Array, moving_mass: Array, stiffness: Array) -> Array:
    """Feed at which a sprung tool leaves a wavy edge at its crests.

    Parameters
    ----------
    wavelength : array_like
        Wavelength lambda along the edge [m].
    amplitude : array_like
        Amplitude a of the wave, or of a periodic burr [m].
    force : array_like
        Contact force F_0, less friction [N].
    moving_mass : array_like
        Mass m that follows the edge [kg].
    stiffness : array_like
        Stiffness k of the suspension, 0 for constant force [N/m].

    Returns
    -------
    array_like
        Feed v; unlimited on an edge without waves [m/s].

    Raises
    ------
    ValueError
        A force, mass or wavelength of zero, or a negative value.
    """
    with np.errstate(divide="ignore"):
        restoring = np.divide(force, amplitude) + stiffness
    return wavelength / (2 * np.pi) * np.sqrt(restoring / moving_mass)


@formula(
    "f_n = sqrt(k/m)/(2 pi)",
    units={"stiffness": "N/m", "mass": "kg"},
    returns="1/s",
    source="equation of motion of a sprung mass",
    domain={"stiffness": NON_NEGATIVE, "mass": POSITIVE},
)
def natural_frequency(stiffness: Array, mass: Array) -> Array:
    """Frequency at which a sprung mass swings by itself, undamped.

    Parameters
    ----------
    stiffness : array_like
        Stiffness k [N/m].
    mass : array_like
        Mass m [kg].

    Returns
    -------
    array_like
        Natural frequency f_n [1/s].

    Raises
    ------
    ValueError
        A negative stiffness or a mass of zero.
    """
    return np.sqrt(stiffness / mass) / (2 * np.pi)


@formula(
    "v = lambda f_n/q",
    units={"wavelength": "m", "natural_frequency": "1/s", "factor": "1"},
    returns="m/s",
    source="forced vibration of a sprung mass; distance to resonance by common practice, no published source",
    domain={"wavelength": POSITIVE, "natural_frequency": NON_NEGATIVE, "factor": POSITIVE},
)
def form_error_feed(wavelength: Array, natural_frequency: Array, factor: Array) -> Array:
    """Feed at which form errors are met at a fraction of the suspension's natural frequency.

    Form errors are to stay below that feed, so that the tool follows them; burrs are to be met
    above the feed for their own wavelength and a factor of 1, so that the tool does not.

    Parameters
    ----------
    wavelength : array_like
        Wavelength lambda of form error or burr along the path [m].
    natural_frequency : array_like
        Natural frequency f_n of the suspension [1/s].
    factor : array_like
        How many times below the natural frequency q [1].

    Returns
    -------
    array_like
        Feed v [m/s].

    Raises
    ------
    ValueError
        A wavelength or factor of zero, or a negative frequency.
    """
    return wavelength * natural_frequency / factor


@formula(
    "F_pk = F_0 + v sqrt(k_c m)",
    units={"force": "N", "approach_speed": "m/s", "contact_stiffness": "N/m", "moving_mass": "kg"},
    returns="N",
    source=ENERGY_BALANCE,
    domain={
        "force": NON_NEGATIVE,
        "approach_speed": NON_NEGATIVE,
        "contact_stiffness": NON_NEGATIVE,
        "moving_mass": NON_NEGATIVE,
    },
)
def impact_force(force: Array, approach_speed: Array, contact_stiffness: Array, moving_mass: Array) -> Array:
    """Peak force as the tool meets the part.

    The mount rests on its front stop until the contact carries the set force; from there the moving
    mass swings once about that force, without losses. The robot does not slow down meanwhile.

    Parameters
    ----------
    force : array_like
        Force F_0 the mount is set to [N].
    approach_speed : array_like
        Speed v at contact [m/s].
    contact_stiffness : array_like
        Stiffness k_c of tool and part in contact [N/m].
    moving_mass : array_like
        Mass m behind the contact [kg].

    Returns
    -------
    array_like
        Peak force F_pk [N].

    Raises
    ------
    ValueError
        A negative value.
    """
    return force + approach_speed * np.sqrt(contact_stiffness * moving_mass)


@formula(
    "v = (F_allowed - F_0)/sqrt(k_c m)",
    units={"force": "N", "allowed_force": "N", "contact_stiffness": "N/m", "moving_mass": "kg"},
    returns="m/s",
    source=ENERGY_BALANCE,
    domain={"force": NON_NEGATIVE, "contact_stiffness": POSITIVE, "moving_mass": POSITIVE},
)
def approach_speed(force: Array, allowed_force: Array, contact_stiffness: Array, moving_mass: Array) -> Array:
    """Approach speed that keeps the impact within an allowed force; inverse of `impact_force`.

    Parameters
    ----------
    force : array_like
        Force F_0 the mount is set to [N].
    allowed_force : array_like
        Peak force F_allowed, at least the set force [N].
    contact_stiffness : array_like
        Stiffness k_c of tool and part in contact [N/m].
    moving_mass : array_like
        Mass m behind the contact [kg].

    Returns
    -------
    array_like
        Approach speed v [m/s].

    Raises
    ------
    ValueError
        An allowed force below the set force, a stiffness or mass of zero, or a negative force.
    """
    spare = allowed_force - force
    if np.any(spare < 0):
        raise ValueError(f"approach_speed: allowed_force must be at least force [N], given {-np.min(spare):g} less")
    return spare / np.sqrt(contact_stiffness * moving_mass)


@formula(
    "dF = k_c a x/sqrt(1 + x^2); x = vf/(lambda f_b)",
    units={"contact_stiffness": "N/m", "amplitude": "m", "feed": "m/s", "wavelength": "m", "bandwidth": "1/s"},
    returns="N",
    source=INTEGRAL_LOOP,
    domain={
        "contact_stiffness": NON_NEGATIVE,
        "amplitude": NON_NEGATIVE,
        "feed": NON_NEGATIVE,
        "wavelength": POSITIVE,
        "bandwidth": POSITIVE,
    },
)
def force_loop_ripple(
    contact_stiffness: Array, amplitude: Array, feed: Array, wavelength: Array, bandwidth: Array
) -> Array:
    """Amplitude of the force ripple that an integral force loop leaves on a wavy path.

    Parameters
    ----------
    contact_stiffness : array_like
        Stiffness k_c of tool and part in contact [N/m].
    amplitude : array_like
        Amplitude a of the wave [m].
    feed : array_like
        Feed vf along the path [m/s].
    wavelength : array_like
        Wavelength lambda along the path [m].
    bandwidth : array_like
        Bandwidth f_b of the loop [1/s].

    Returns
    -------
    array_like
        Amplitude dF; in proportion to the feed while far below the bandwidth, k_c a far above [N].

    Raises
    ------
    ValueError
        A wavelength or bandwidth of zero, or a negative value.
    """
    ratio = feed / (wavelength * bandwidth)
    return contact_stiffness * amplitude * ratio / np.sqrt(1 + ratio * ratio)


@formula(
    "vf = lambda f_b r/sqrt(1 - r^2); r = dF/(k_c a)",
    units={"contact_stiffness": "N/m", "amplitude": "m", "ripple": "N", "wavelength": "m", "bandwidth": "1/s"},
    returns="m/s",
    source=INTEGRAL_LOOP,
    domain={
        "contact_stiffness": NON_NEGATIVE,
        "amplitude": NON_NEGATIVE,
        "ripple": POSITIVE,
        "wavelength": POSITIVE,
        "bandwidth": POSITIVE,
    },
)
def force_loop_feed(
    contact_stiffness: Array, amplitude: Array, ripple: Array, wavelength: Array, bandwidth: Array
) -> Array:
    """Feed that keeps the force ripple within an allowed amplitude; inverse of `force_loop_ripple`.

    Parameters
    ----------
    contact_stiffness : array_like
        Stiffness k_c of tool and part in contact [N/m].
    amplitude : array_like
        Amplitude a of the wave [m].
    ripple : array_like
        Allowed amplitude dF of the force ripple [N].
    wavelength : array_like
        Wavelength lambda along the path [m].
    bandwidth : array_like
        Bandwidth f_b of the loop [1/s].

    Returns
    -------
    array_like
        Feed vf; unlimited where even a loop that does nothing keeps the ripple [m/s].

    Raises
    ------
    ValueError
        No ripple allowed, a wavelength or bandwidth of zero, or a negative value.
    """
    # with g = k_c a/dF, r/sqrt(1 - r^2) = 1/sqrt(g^2 - 1), which also holds without a wave
    excess = np.maximum((contact_stiffness * amplitude / ripple) ** 2 - 1, 0.0)
    with np.errstate(divide="ignore"):
        return wavelength * bandwidth / np.sqrt(excess)
