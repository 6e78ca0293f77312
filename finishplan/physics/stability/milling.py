"""Chatter in milling, where the direction of the force turns with the tooth.

The zero-order solution keeps the mean of the directional factors over a turn. It holds while the
cut is not a short part of the turn; a trim of a few hundredths of the diameter also has lobes at
half the tooth frequency, which it does not see.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE, chosen
from finishplan.physics.cutting.direction import Direction
from finishplan.physics.stability.regeneration import DAMPING, receptance

ENTRY_SHARE: Final = {"conventional": 0.0, "climb": 1.0}
"""Entry angle as a share of what the engagement leaves of half a turn."""

ROUNDING: Final = 1e-12
"""Share of the larger eigenvalue below which its real part is a remainder of the subtraction."""

NEAR_THE_MODE: Final = np.concatenate([np.linspace(-0.5, 5, 551), np.geomspace(5.1, 100, 200)])
"""Distances from the natural frequency, over it and the damping ratio, among which a cutter chatters first."""


@formula(
    "b_m = b/(mu z_E)",
    units={"depth_limit": "m", "teeth_in_cut": "1", "direction_factor": "1"},
    returns="m",
    source="mean number of teeth in the cut, as taught after Tlusty: common practice, no published source",
    domain={"depth_limit": NON_NEGATIVE, "teeth_in_cut": POSITIVE, "direction_factor": POSITIVE},
)
def milling_depth_estimate(depth_limit: Array, teeth_in_cut: Array, direction_factor: Array = 1.0) -> Array:
    """Axial depth below which milling does not chatter, estimated from the limit of one fixed edge.

    Parameters
    ----------
    depth_limit : array_like
        Limit b of one edge always in the cut, see `regenerative_depth_limit` [m].
    teeth_in_cut : array_like
        Mean number of teeth in the cut z_E [1].
    direction_factor : array_like
        Share mu of force and travel that falls into the mode, 1 at worst [1].

    Returns
    -------
    array_like
        Axial depth b_m [m].

    Raises
    ------
    ValueError
        No tooth in the cut, a direction factor of zero, or a negative limit.
    """
    return depth_limit / (direction_factor * teeth_in_cut)


def _direction_matrix(entry: Array, exit: Array, force_ratio: Array) -> tuple[Array, Array, Array, Array]:
    """Directional factors a_xx, a_xy, a_yx, a_yy integrated over the engagement; x along the feed."""

    def between(at_entry_and_exit: tuple[Array, Array]) -> Array:
        return (at_entry_and_exit[1] - at_entry_and_exit[0]) / 2

    ends = (entry, exit)
    sine = between((np.sin(2 * entry), np.sin(2 * exit)))
    cosine = between((np.cos(2 * entry), np.cos(2 * exit)))
    swept = 2 * between(ends)
    return (
        cosine - force_ratio * (swept - sine),
        force_ratio * cosine - sine - swept,
        force_ratio * cosine - sine + swept,
        -cosine - force_ratio * (swept + sine),
    )


@formula(
    "b = 2 pi/(z Kt max Re(eig(A diag(G_x, G_y))))",
    units={
        "feed_receptance": "m/N",
        "cross_receptance": "m/N",
        "engagement_angle": "rad",
        "teeth": "1",
        "specific_force": "Pa",
        "force_ratio": "1",
        "direction": "-",
    },
    returns="m",
    source="Altintas and Budak, CIRP Annals 44/1 (1995) 357-362, zero-order solution",
    domain={
        "engagement_angle": (1e-6, float(np.pi)),
        "teeth": POSITIVE,
        "specific_force": POSITIVE,
        "force_ratio": NON_NEGATIVE,
    },
)
def milling_depth_limit(
    feed_receptance: Array,
    cross_receptance: Array,
    engagement_angle: Array,
    teeth: Array,
    specific_force: Array,
    force_ratio: Array,
    direction: Direction = "conventional",
) -> Array:
    """Axial depth at which milling begins to chatter at each frequency, at the worst spindle speed.

    The published form a = -(2 pi L_R/(z Kt)) (1 + (L_I/L_R)^2), with L the root of
    det(I + L A G) = 0, is the one used here with -1/L for the eigenvalue of A G. The least value
    over the frequencies is the depth below which no spindle speed chatters.

    Parameters
    ----------
    feed_receptance : array_like of complex
        Receptance G_x along the feed, by frequency, see `receptance` [m/N].
    cross_receptance : array_like of complex
        Receptance G_y across the feed at the same frequencies, 0 for a stiff direction [m/N].
    engagement_angle : array_like
        Engagement angle phi [rad].
    teeth : array_like
        Number of teeth z [1].
    specific_force : array_like
        Tangential force per chip section Kt [Pa].
    force_ratio : array_like
        Radial over tangential force [1].
    direction : {"conventional", "climb"}
        Side of the engagement: the tooth starts or ends at the finished wall.

    Returns
    -------
    array_like
        Axial depth b, infinite where the frequency cannot chatter [m].

    Raises
    ------
    ValueError
        No engagement or one beyond half a turn, no teeth, no specific force, a negative force ratio,
        or a direction that is neither.
    """
    entry = chosen(ENTRY_SHARE, direction, "milling_depth_limit: direction") * (np.pi - engagement_angle)
    xx, xy, yx, yy = _direction_matrix(entry, entry + engagement_angle, force_ratio)
    trace = xx * feed_receptance + yy * cross_receptance
    determinant = (xx * yy - xy * yx) * feed_receptance * cross_receptance
    root = np.sqrt(trace * trace - 4 * determinant + 0j)
    largest = (trace.real + np.abs(root.real)) / 2
    excited = np.abs(largest) * (largest > ROUNDING * np.abs(trace))
    with np.errstate(divide="ignore"):
        return np.divide(2 * np.pi, teeth * specific_force * excited)


@formula(
    "b = (2 pi/(z Kt)) min over f of 1/L(f); L the largest real part of the eigenvalues of A G(f)",
    units={
        "stiffness": "N/m",
        "damping_ratio": "1",
        "engagement_angle": "rad",
        "teeth": "1",
        "specific_force": "Pa",
        "force_ratio": "1",
    },
    returns="m",
    source="zero-order solution of milling, for a cutter that bends alike in every direction",
    domain={
        "stiffness": POSITIVE,
        "damping_ratio": DAMPING,
        "engagement_angle": (POSITIVE[0], np.pi),
        "teeth": POSITIVE,
        "specific_force": POSITIVE,
        "force_ratio": NON_NEGATIVE,
    },
)
def round_tool_depth_limit(
    stiffness: Array,
    damping_ratio: Array,
    engagement_angle: Array,
    teeth: Array,
    specific_force: Array,
    force_ratio: Array,
) -> Array:
    """Axial depth below which a slender cutter does not chatter at any spindle speed.

    Climb and conventional travel mirror each other, and a round cutter bends alike in both.

    Parameters
    ----------
    stiffness : array_like
        Stiffness k of the cutter out of its holder [N/m].
    damping_ratio : array_like
        Damping ratio zeta [1].
    engagement_angle : array_like
        Engagement angle phi [rad].
    teeth : array_like
        Number of teeth z [1].
    specific_force : array_like
        Rise of the tangential force with the chip, per width, Kt [Pa].
    force_ratio : array_like
        Radial over tangential force [1].

    Returns
    -------
    array_like
        Axial depth b [m].

    Raises
    ------
    ValueError
        A stiffness, damping, engagement, number of teeth or specific force of zero, or a negative value.
    """
    angle, zeta, ratio = (
        np.asarray(each, dtype=float)[..., None] for each in (engagement_angle, damping_ratio, force_ratio)
    )
    # for a unit of stiffness and of force per tooth, for both only scale the depth
    mode = receptance(1 + zeta * NEAR_THE_MODE, 1.0, 1.0, zeta)
    xx, xy, yx, yy = _direction_matrix(0.0, angle, ratio)
    # it bends alike in both directions, so that the eigenvalues of A G are those of A times the receptance
    middle, apart = (xx + yy) / 2, np.sqrt(((xx - yy) / 2) ** 2 + xy * yx + 0j)
    largest = (middle * mode.real + np.abs((apart * mode).real)).max(axis=-1)
    return stiffness * 2 * np.pi / (teeth * specific_force * largest)
