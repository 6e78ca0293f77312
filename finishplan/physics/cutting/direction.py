"""Force on a peripheral cutter along and across its feed, for climb and conventional cutting.

The tooth passes the angles 0 to phi, counted from the finished wall. In conventional cutting the
edge at the wall moves with the feed, in climb cutting against it. On the way the cut presses on
the tooth with F_t against the edge's motion and with F_n towards the axis, both in proportion to
the chip thickness, which is as sin(phi); the means over the engagement then need only

    <cos> = (1 + cos(phi))/2,    <sin> = (phi - sin(phi) cos(phi))/(2 (1 - cos(phi)))

where the force at the wall, phi = 0, points along the feed by F_t and across it by F_n.
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
MEAN_OVER_ENGAGEMENT = "mean of the tooth forces over the engagement, force in proportion to chip thickness"


def _mean_cosine(engagement_angle: Array) -> Array:
    return (1 + np.cos(engagement_angle)) / 2


def _mean_sine(engagement_angle: Array) -> Array:
    rise = 2 * np.sin(engagement_angle / 2) ** 2
    swept = engagement_angle - np.sin(engagement_angle) * np.cos(engagement_angle)
    # the floor only keeps 0/0 away where there is no engagement
    return swept / np.maximum(2 * rise, SMALLEST)


@formula(
    "F_f = s F_t <cos> + F_n <sin>; s = +1 conventional, -1 climb",
    units={"tangential_force": "N", "normal_force": "N", "engagement_angle": "rad", "direction": "-"},
    returns="N",
    source=MEAN_OVER_ENGAGEMENT,
    domain={"tangential_force": NON_NEGATIVE, "engagement_angle": HALF_TURN},
)
def feed_direction_force(
    tangential_force: Array, normal_force: Array, engagement_angle: Array, direction: Direction = "conventional"
) -> Array:
    """Mean force against the feed; negative where the cut pulls the tool along.

    Parameters
    ----------
    tangential_force : array_like
        Mean tangential force F_t [N].
    normal_force : array_like
        Mean normal force F_n, positive towards the cutter's axis [N].
    engagement_angle : array_like
        Engagement angle phi [rad].
    direction : {"conventional", "climb"}
        Conventional where the edge at the wall moves with the feed, climb where against it.

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
    return sense * tangential_force * _mean_cosine(engagement_angle) + normal_force * _mean_sine(engagement_angle)


@formula(
    "F_w = F_n <cos> - s F_t <sin>; s = +1 conventional, -1 climb",
    units={"tangential_force": "N", "normal_force": "N", "engagement_angle": "rad", "direction": "-"},
    returns="N",
    source=MEAN_OVER_ENGAGEMENT,
    domain={"tangential_force": NON_NEGATIVE, "engagement_angle": HALF_TURN},
)
def wall_force(
    tangential_force: Array, normal_force: Array, engagement_angle: Array, direction: Direction = "conventional"
) -> Array:
    """Mean force away from the finished wall; negative where the cut draws the tool into it.

    Parameters
    ----------
    tangential_force : array_like
        Mean tangential force F_t [N].
    normal_force : array_like
        Mean normal force F_n, positive towards the cutter's axis [N].
    engagement_angle : array_like
        Engagement angle phi [rad].
    direction : {"conventional", "climb"}
        Conventional where the edge at the wall moves with the feed, climb where against it.

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
    return normal_force * _mean_cosine(engagement_angle) - sense * tangential_force * _mean_sine(engagement_angle)
