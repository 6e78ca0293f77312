"""Hand-arm vibration: what a person took up by hand before, and what the robot takes over."""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.sourced import SHIFT, Sourced

VIBRATION_ACTION_VALUE: Final = Sourced(2.5, "Directive 2002/44/EC, Article 3")
"""Daily exposure from which measures are due [m/s2]."""

VIBRATION_LIMIT_VALUE: Final = Sourced(5.0, "Directive 2002/44/EC, Article 3")
"""Daily exposure not to be exceeded [m/s2]."""


@formula(
    "A(8) = sqrt(sum(a_i^2 T_i)/T_0)",
    units={"accelerations": "m/s^2", "durations": "s", "reference_duration": "s"},
    returns="m/s^2",
    source="ISO 5349-1:2001, 5.3; Directive 2002/44/EC, Annex A",
    domain={"accelerations": NON_NEGATIVE, "durations": NON_NEGATIVE, "reference_duration": POSITIVE},
)
def daily_vibration(accelerations: Array, durations: Array, reference_duration: Array = SHIFT) -> Array:
    """Daily vibration exposure of the hands from one or several tools.

    Parameters
    ----------
    accelerations : array_like
        Vibration total value a_i of each tool in use, on the last axis [m/s2].
    durations : array_like
        How long each is held T_i [s].
    reference_duration : array_like
        Shift T_0 the exposure is referred to [s].

    Returns
    -------
    array_like
        Daily exposure A(8) [m/s2].

    Raises
    ------
    ValueError
        A negative value.
    """
    return np.sqrt(np.sum(np.square(accelerations) * durations, axis=-1) / reference_duration)


@formula(
    "P = 100 sum((a_i/2.5 m/s2)^2 T_i/8 h)",
    units={
        "accelerations": "m/s^2",
        "durations": "s",
        "action_value": "m/s^2",
        "reference_duration": "s",
    },
    returns="1",
    source="HSE L140, Hand-arm vibration, exposure points: 100 at the action value, 400 at the limit value",
    domain={"accelerations": NON_NEGATIVE, "durations": NON_NEGATIVE, "action_value": POSITIVE},
)
def vibration_points(
    accelerations: Array, durations: Array, action_value: Array = 2.5, reference_duration: Array = SHIFT
) -> Array:
    """Exposure points, which add up over the tools of a day.

    Parameters
    ----------
    accelerations : array_like
        Vibration total value a_i of each tool in use, on the last axis [m/s2].
    durations : array_like
        How long each is held T_i [s].
    action_value : array_like
        Daily exposure that makes 100 points [m/s2].
    reference_duration : array_like
        Shift that value is set for [s].

    Returns
    -------
    array_like
        Points P [1].

    Raises
    ------
    ValueError
        A negative value or an action value of zero.
    """
    daily = daily_vibration(accelerations, durations, reference_duration)
    return 100 * (daily / action_value) ** 2


@formula(
    "T = T_0 (A/a)^2",
    units={"acceleration": "m/s^2", "daily_value": "m/s^2", "reference_duration": "s"},
    returns="s",
    source="ISO 5349-1:2001, 5.3, solved for the time",
    domain={"acceleration": POSITIVE, "daily_value": NON_NEGATIVE, "reference_duration": POSITIVE},
)
def vibration_time(acceleration: Array, daily_value: Array, reference_duration: Array = SHIFT) -> Array:
    """How long a tool may be held until a daily value is reached.

    Parameters
    ----------
    acceleration : array_like
        Vibration total value a of the tool [m/s2].
    daily_value : array_like
        Daily exposure A not to be passed [m/s2].
    reference_duration : array_like
        Shift T_0 that value is set for [s].

    Returns
    -------
    array_like
        Time T [s].

    Raises
    ------
    ValueError
        An acceleration of zero.
    """
    return reference_duration * (daily_value / acceleration) ** 2
