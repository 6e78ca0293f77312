"""Force on a peripheral cutter along and across its feed, for climb and conventional cutting.

The tooth passes the angles psi to phi, counted from the finished wall; psi is zero where the cutter
works from the side, and not where a disc comes out on the far side of a sheet. In conventional cutting
the edge at the wall moves with the feed, in climb cutting against it. On the way the cut presses on
the tooth with F_t against the edge's motion and with F_n towards the axis, both in proportion to
the chip thickness, which is as sin(phi); the means over the engagement then need only

    <cos> = (cos(psi) + cos(phi))/2
    <sin> = (phi - psi - sin(phi) cos(phi) + sin(psi) cos(psi))/(2 (cos(psi) - cos(phi)))

where the force at the wall, an angle of zero, points along the feed by F_t and across it by F_n.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, chosen

Direction: TypeAlias = Literal["conventional", "climb"]

EDGE_ALONG_FEED: Final = {"conventional": 1.0, "climb": -1.0}
"""Sign of the edge's motion at the finished wall, along the feed."""

SMALLEST: Final = float(np.finfo(float).tiny)
HALF_TURN: Final = (0.0, float(np.pi))
FORCES_AND_ANGLES: Final = {
    "tangential_force": "N",
    "normal_force": "N",
    "engagement_angle": "rad",
    "direction": "-",
    "start_angle": "rad",
}
MEAN_OVER_ENGAGEMENT = "mean of the tooth forces over the engagement, force in proportion to chip thickness"


def _mean_cosine(engagement_angle: Array, start_angle: Array) -> Array:
    return (np.cos(start_angle) + np.cos(engagement_angle)) / 2


def _mean_sine(engagement_angle: Array, start_angle: Array) -> Array:
    rise = 2 * (np.sin(engagement_angle / 2) ** 2 - np.sin(start_angle / 2) ** 2)
    swept = engagement_angle - start_angle - (np.sin(2 * engagement_angle) - np.sin(2 * start_angle)) / 2
    # the floor only keeps 0/0 away where there is no engagement
    return swept / np.maximum(2 * rise, SMALLEST)


@formula(
    "F_f = s F_t <cos> + F_n <sin>; s = +1 conventional, -1 climb",
    units=FORCES_AND_ANGLES,
    returns="N",
    source=MEAN_OVER_ENGAGEMENT,
    domain={"tangential_force": NON_NEGATIVE, "engagement_angle": HALF_TURN, "start_angle": HALF_TURN},
)
def feed_direction_force(
    tangential_force: Array,
    normal_force: Array,
    engagement_angle: Array,
    direction: Direction = "conventional",
    start_angle: Array = 0.0,
) -> Array:
    """Mean force against the feed; negative where the cut pulls the tool along.

    Parameters
    ----------
    tangential_force : array_like
        Mean tangential force F_t [N].
    normal_force : array_like
        Mean normal force F_n, positive towards the cutter's axis [N].
    engagement_angle : array_like
        Engagement angle phi, where the tooth meets the uncut surface [rad].
    direction : {"conventional", "climb"}
        Conventional where the edge at the wall moves with the feed, climb where against it.
    start_angle : array_like
        Angle psi at which the material begins, below phi; 0 where the cutter works from the side [rad].

    Returns
    -------
    array_like
        Force on the tool, positive against the feed [N].

    Raises
    ------
    ValueError
        A negative tangential force, an angle beyond pi, or a direction that is neither.
    """
    sense = chosen(EDGE_ALONG_FEED, direction, "feed_direction_force: direction")
    along, across = _mean_cosine(engagement_angle, start_angle), _mean_sine(engagement_angle, start_angle)
    return sense * tangential_force * along + normal_force * across


@formula(
    "F_w = F_n <cos> - s F_t <sin>; s = +1 conventional, -1 climb",
    units=FORCES_AND_ANGLES,
    returns="N",
    source=MEAN_OVER_ENGAGEMENT,
    domain={"tangential_force": NON_NEGATIVE, "engagement_angle": HALF_TURN, "start_angle": HALF_TURN},
)
def wall_force(
    tangential_force: Array,
    normal_force: Array,
    engagement_angle: Array,
    direction: Direction = "conventional",
    start_angle: Array = 0.0,
) -> Array:
    """Mean force away from the finished wall; negative where the cut draws the tool into it.

    Parameters
    ----------
    tangential_force : array_like
        Mean tangential force F_t [N].
    normal_force : array_like
        Mean normal force F_n, positive towards the cutter's axis [N].
    engagement_angle : array_like
        Engagement angle phi, where the tooth meets the uncut surface [rad].
    direction : {"conventional", "climb"}
        Conventional where the edge at the wall moves with the feed, climb where against it.
    start_angle : array_like
        Angle psi at which the material begins, below phi; 0 where the cutter works from the side [rad].

    Returns
    -------
    array_like
        Force on the tool, positive away from the wall and so towards leaving stock [N].

    Raises
    ------
    ValueError
        A negative tangential force, an angle beyond pi, or a direction that is neither.
    """
    sense = chosen(EDGE_ALONG_FEED, direction, "wall_force: direction")
    along, across = _mean_cosine(engagement_angle, start_angle), _mean_sine(engagement_angle, start_angle)
    return normal_force * along - sense * tangential_force * across
