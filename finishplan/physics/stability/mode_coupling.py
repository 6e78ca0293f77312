"""Mode-coupling chatter: two springs of different stiffness, square to each other, and a cutting force.

The tool hangs in a stiffness k_1 along an axis at the angle alpha from the surface normal and k_2
square to it, with equal modal mass and no damping. The cutting force points at the angle gamma from
the normal and changes by -K_p times the travel along the normal. With

    c = cos(gamma - 2 alpha),    s = sin(2 alpha) sin(2 (gamma - alpha))

the two eigenvalues of the coupled stiffness turn complex, and the tool runs on a growing ellipse,
where k_2 - k_1 lies inside K_p (c -+ sqrt(s)). With s <= 0 nothing lies inside: for a force
within 90 degrees of the normal neither axis, as a line, is then between the two. With axis 1 between
them, c + sqrt(s) and c - sqrt(s) are (sqrt(p) +- sqrt(q))^2 with
p = cos(alpha) cos(gamma - alpha) and q = sin(alpha) sin(gamma - alpha), and only a softer axis 1 can
flutter. Written with c and s the rule needs neither that naming of the axes nor reduced angles: both
are periodic, and turning alpha by 90 degrees while k_1 and k_2 change places leaves it as it is.
"""

from __future__ import annotations

import numpy as np

from finishplan.formula import INFINITY, Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

MODE_COUPLING = (
    "Pan, Zhang, Zhu and Wang, J. Mater. Process. Technol. 173 (2006) 301-309, undamped model of two"
    " directions; closed form from the eigenvalues of its stiffness matrix"
)


@formula(
    "K_p = kc b vf/v",
    units={"specific_force": "Pa", "width": "m", "feed": "m/s", "surface_speed": "m/s"},
    returns="N/m",
    source="mean tangential force of a rotating cutter, F = kc b a vf/v, over its depth a; kc constant",
    domain={
        "specific_force": NON_NEGATIVE,
        "width": NON_NEGATIVE,
        "feed": NON_NEGATIVE,
        "surface_speed": POSITIVE,
    },
)
def process_stiffness(specific_force: Array, width: Array, feed: Array, surface_speed: Array) -> Array:
    """Rise of the cutting force with the depth of the cut.

    Parameters
    ----------
    specific_force : array_like
        Specific cutting force kc [Pa].
    width : array_like
        Width b of the cut, along the axis of the cutter [m].
    feed : array_like
        Feed speed vf along the path; equal to the surface speed for a single fixed edge [m/s].
    surface_speed : array_like
        Surface speed v of the cutting edge [m/s].

    Returns
    -------
    array_like
        Process stiffness K_p [N/m].

    Raises
    ------
    ValueError
        A standing cutter, or a negative value.
    """
    return specific_force * width * feed / surface_speed


def _centre(axis_angle: Array, force_angle: Array) -> Array:
    return np.cos(force_angle - 2 * axis_angle)


def _half_width(axis_angle: Array, force_angle: Array) -> Array:
    return np.sqrt(np.maximum(np.sin(2 * axis_angle) * np.sin(2 * (force_angle - axis_angle)), 0.0))


@formula(
    "(k_2 - k_1) = K_p (cos(gamma - 2 alpha) -+ sqrt(sin(2 alpha) sin(2 (gamma - alpha))))",
    units={"axis_angle": "rad", "force_angle": "rad", "process_stiffness": "N/m"},
    returns="N/m",
    source=MODE_COUPLING,
    domain={"process_stiffness": NON_NEGATIVE},
)
def mode_coupling_window(axis_angle: Array, force_angle: Array, process_stiffness: Array) -> Array:
    """Bounds of the stiffness difference k_2 - k_1 between which two directions flutter.

    Parameters
    ----------
    axis_angle : array_like
        Angle alpha of the axis with stiffness k_1 from the surface normal [rad].
    force_angle : array_like
        Angle gamma of the resultant cutting force from the surface normal, the same way round [rad].
    process_stiffness : array_like
        Process stiffness K_p [N/m].

    Returns
    -------
    array_like, shape (..., 2)
        Lower and upper bound; equal, and so without anything between, where no axis lies between
        normal and force [N/m].

    Raises
    ------
    ValueError
        A negative process stiffness.
    """
    centre = _centre(axis_angle, force_angle)
    half_width = _half_width(axis_angle, force_angle)
    return np.stack([process_stiffness * (centre - half_width), process_stiffness * (centre + half_width)], axis=-1)


def _force_shares(axis_angle: Array, force_angle: Array) -> tuple[Array, Array]:
    """Travel along the normal times force, for a travel along either axis: p and q."""
    along = np.cos(axis_angle) * np.cos(force_angle - axis_angle)
    across = np.sin(axis_angle) * np.sin(force_angle - axis_angle)
    return along, across


@formula(
    "stable = not flutter and k_1 + k_2 + K_p (p - q) > 0 and k_1 k_2 + K_p (k_2 p - k_1 q) > 0;"
    " p = cos(alpha) cos(gamma - alpha), q = sin(alpha) sin(gamma - alpha)",
    units={
        "stiffness_1": "N/m",
        "stiffness_2": "N/m",
        "axis_angle": "rad",
        "force_angle": "rad",
        "process_stiffness": "N/m",
    },
    returns="1",
    source=MODE_COUPLING,
    domain={"stiffness_1": POSITIVE, "stiffness_2": POSITIVE, "process_stiffness": NON_NEGATIVE},
)
def mode_coupling_stable(
    stiffness_1: Array, stiffness_2: Array, axis_angle: Array, force_angle: Array, process_stiffness: Array
) -> Array:
    """Whether a cut neither flutters by mode coupling nor pushes itself aside.

    The model has no damping. Damping alike in both directions only widens the stable range and may
    hold what is called unstable here; damping that differs much between them can narrow it.

    Parameters
    ----------
    stiffness_1 : array_like
        Stiffness k_1 along the axis at `axis_angle` [N/m].
    stiffness_2 : array_like
        Stiffness k_2 square to it [N/m].
    axis_angle : array_like
        Angle alpha of axis 1 from the surface normal, either axis may be called 1 [rad].
    force_angle : array_like
        Angle gamma of the resultant cutting force from the surface normal, the same way round [rad].
    process_stiffness : array_like
        Process stiffness K_p, see `process_stiffness` [N/m].

    Returns
    -------
    array_like of bool
        Whether the cut is stable [1].

    Raises
    ------
    ValueError
        A stiffness of zero, or a negative process stiffness.
    """
    window = mode_coupling_window(axis_angle, force_angle, process_stiffness)
    difference = stiffness_2 - stiffness_1
    flutters = (difference > window[..., 0]) & (difference < window[..., 1])
    along, across = _force_shares(axis_angle, force_angle)
    trace = stiffness_1 + stiffness_2 + process_stiffness * (along - across)
    determinant = stiffness_1 * stiffness_2 + process_stiffness * (stiffness_2 * along - stiffness_1 * across)
    return ~flutters & (trace > 0) & (determinant > 0)


@formula(
    "K_p = min((k_2 - k_1)/(c +- sqrt(s)), k_1 k_2/(k_1 q - k_2 p)); c = cos(gamma - 2 alpha),"
    " s = sin(2 alpha) sin(2 (gamma - alpha)), the sign that of c, positive shares only",
    units={"stiffness_1": "N/m", "stiffness_2": "N/m", "axis_angle": "rad", "force_angle": "rad"},
    returns="N/m",
    source=MODE_COUPLING,
    domain={"stiffness_1": POSITIVE, "stiffness_2": POSITIVE},
)
def mode_coupling_limit(stiffness_1: Array, stiffness_2: Array, axis_angle: Array, force_angle: Array) -> Array:
    """Process stiffness up to which a cut stays stable against mode coupling and against divergence.

    The first of the two that a rising process stiffness meets: flutter, at the outer bound of
    `mode_coupling_window`, or divergence, where the determinant vanishes. A cut may be stable again
    beyond a flutter window; that is no setting to plan with.

    Parameters
    ----------
    stiffness_1 : array_like
        Stiffness k_1 along the axis at `axis_angle` [N/m].
    stiffness_2 : array_like
        Stiffness k_2 square to it [N/m].
    axis_angle : array_like
        Angle alpha of axis 1 from the surface normal [rad].
    force_angle : array_like
        Angle gamma of the resultant cutting force from the surface normal, the same way round [rad].

    Returns
    -------
    array_like
        Process stiffness K_p, infinite where none makes the cut unstable [N/m].

    Raises
    ------
    ValueError
        A stiffness of zero.
    """
    centre = _centre(axis_angle, force_angle)
    half_width = _half_width(axis_angle, force_angle)
    along, across = _force_shares(axis_angle, force_angle)
    ratio = stiffness_2 / stiffness_1
    difference = ratio - 1
    softening = across - ratio * along
    can_flutter = (half_width > 0) & (difference * centre > 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        flutter = np.where(can_flutter, np.abs(difference) / (np.abs(centre) + half_width), INFINITY)
        divergence = np.where(softening > 0, ratio / softening, INFINITY)
    return stiffness_1 * np.minimum(flutter, divergence)
