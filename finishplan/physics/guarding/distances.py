"""How far a guard or a light curtain has to stand from what can hurt, and whether a guard needs a lock.

Constants are those of ISO 13855:2010. The edition of 2024 splits the addition C into terms for
reaching over, through and under: where it applies, check against its text.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.sourced import Governed, Sourced

EDITION: Final = "ISO 13855:2010"
APPROACH_SPEED: Final = 1.6
"""Speed of a walking person by the standard [m/s]."""

HAND_SPEED: Final = Governed(
    "speed of a hand towards the hazard [m/s]",
    "highest",
    (Sourced(2.0, EDITION + ", 6.2"), Sourced(63 * 0.0254, "29 CFR 1910.217(c)(3)(iii)(e), 63 in/s")),
)


@formula(
    "S = K T + C; up to 40 mm C = 8 (d - 14 mm), K = 2.0 m/s, beyond 500 mm K = 1.6 m/s; "
    "above 40 mm C = 850 mm, K = 1.6 m/s",
    units={
        "stopping_time": "s",
        "detection_capability": "m",
        "hand_speed": "m/s",
        "approach_speed": "m/s",
        "finest": "m",
        "hand_detection": "m",
        "hand_intrusion": "m",
        "least": "m",
        "switch_distance": "m",
    },
    returns="m",
    source=EDITION + ", 6.2: detection zone across the direction of approach",
    domain={"stopping_time": NON_NEGATIVE, "detection_capability": (0.0, 0.07)},
)
def separation_distance(
    stopping_time: Array,
    detection_capability: Array,
    hand_speed: Array = 2.0,
    approach_speed: Array = APPROACH_SPEED,
    finest: Array = 0.014,
    hand_detection: Array = 0.04,
    hand_intrusion: Array = 0.85,
    least: Array = 0.1,
    switch_distance: Array = 0.5,
) -> Array:
    """Least distance of a light curtain from the hazard, approached square on.

    Parameters
    ----------
    stopping_time : array_like
        Time T from the beam being broken until the motion has stopped, all devices together [s].
    detection_capability : array_like
        Smallest object d the curtain surely sees; 40 to 70 mm also stands for several single beams [m].
    hand_speed : array_like
        Speed of a hand K at short distance [m/s].
    approach_speed : array_like
        Speed of a walking person K [m/s].
    finest : array_like
        Detection capability without any reaching through [m].
    hand_detection : array_like
        Detection capability up to which a hand is seen; above it an arm passes [m].
    hand_intrusion : array_like
        Reach C of an arm that is not seen [m].
    least : array_like
        Distance that holds however short the time [m].
    switch_distance : array_like
        Distance beyond which the speed of walking counts [m].

    Returns
    -------
    array_like
        Distance S [m].

    Raises
    ------
    ValueError
        A negative time, or a detection capability outside 0 to 70 mm.
    """
    reach_through = 8 * np.maximum(detection_capability - finest, 0 * finest)
    near = np.maximum(hand_speed * stopping_time + reach_through, least)
    far = np.maximum(approach_speed * stopping_time + reach_through, switch_distance)
    hand_seen = np.where(near > switch_distance, far, near)
    arm_unseen = approach_speed * stopping_time + hand_intrusion
    return np.where(detection_capability <= hand_detection, hand_seen, arm_unseen)[()]


@formula(
    "S = K T + D_GT",
    units={"stopping_time": "s", "reach_through": "m", "approach_speed": "m/s"},
    returns="m",
    source=EDITION + ", clause on interlocking guards without guard locking",
    domain={"stopping_time": NON_NEGATIVE, "reach_through": NON_NEGATIVE, "approach_speed": POSITIVE},
)
def guard_distance(stopping_time: Array, reach_through: Array = 0.0, approach_speed: Array = APPROACH_SPEED) -> Array:
    """Least distance from the hazard of a guard that stops the machine when opened, but does not lock.

    Parameters
    ----------
    stopping_time : array_like
        Time T from opening until the motion has stopped, run-down of the spindle included [s].
    reach_through : array_like
        Reach D_GT through the gap before the switch acts, see `reach_distance` [m].
    approach_speed : array_like
        Speed of a person K [m/s].

    Returns
    -------
    array_like
        Distance S [m].

    Raises
    ------
    ValueError
        A negative value or a speed of zero.
    """
    return approach_speed * stopping_time + reach_through


@formula(
    "t = T - max(S - D_GT, 0)/K",
    units={"stopping_time": "s", "distance": "m", "reach_through": "m", "approach_speed": "m/s"},
    returns="s",
    source=EDITION + ", clause on interlocking guards, solved for the time; ISO 14119:2013, guard locking",
    domain={"stopping_time": NON_NEGATIVE, "distance": NON_NEGATIVE, "reach_through": NON_NEGATIVE},
)
def remaining_motion_time(
    stopping_time: Array, distance: Array, reach_through: Array = 0.0, approach_speed: Array = APPROACH_SPEED
) -> Array:
    """How long the tool still turns when somebody who opened the guard can touch it.

    Above zero the guard needs a lock that holds until standstill, or more distance.

    Parameters
    ----------
    stopping_time : array_like
        Time T from opening until the motion has stopped, run-down of the spindle included [s].
    distance : array_like
        Distance S of the guard from the hazard [m].
    reach_through : array_like
        Reach D_GT through the gap before the switch acts [m].
    approach_speed : array_like
        Speed of a person K [m/s].

    Returns
    -------
    array_like
        Time left t; negative where the motion has stopped before [s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return stopping_time - np.maximum(distance - reach_through, 0 * distance) / approach_speed


@formula(
    "D_s = 63 in/s T_s",
    units={"stopping_time": "s", "hand_speed": "m/s"},
    returns="m",
    source="29 CFR 1910.217(c)(3)(iii)(e)",
    domain={"stopping_time": NON_NEGATIVE, "hand_speed": POSITIVE},
)
def hand_speed_distance(stopping_time: Array, hand_speed: Array = 63 * 0.0254) -> Array:
    """Distance by the hand speed constant of the press regulation, the United States' yardstick.

    Parameters
    ----------
    stopping_time : array_like
        Stopping time T_s [s].
    hand_speed : array_like
        Hand speed constant [m/s].

    Returns
    -------
    array_like
        Distance D_s [m].

    Raises
    ------
    ValueError
        A negative time or a speed of zero.
    """
    return hand_speed * stopping_time


MINIMUM_GAPS: Final[Mapping[str, Sourced]] = {
    part: Sourced(gap, "ISO 13854:2017, Table 1")
    for part, gap in (
        ("body", 0.5),
        ("head", 0.3),
        ("leg", 0.18),
        ("foot", 0.12),
        ("toes", 0.05),
        ("arm", 0.12),
        ("hand", 0.1),
        ("finger", 0.025),
    )
}
"""Least gap between moving and fixed parts that does not crush a part of the body [m]; hand with wrist and fist."""


def crushed_parts(gap: float) -> tuple[str, ...]:
    """Parts of the body that a gap narrower than their minimum can crush, by ISO 13854.

    Parameters
    ----------
    gap : float
        Narrowest gap the motion leaves [m].

    Returns
    -------
    tuple of str
        Parts of the body, the most demanding first; empty where the gap is wide enough for all.

    Raises
    ------
    ValueError
        A negative gap.
    """
    if not gap >= 0:
        raise ValueError(f"crushed_parts: gap must be at least 0 [m], given {gap:g}")
    return tuple(part for part, least in MINIMUM_GAPS.items() if gap < least.value)
