"""Cost of the cell itself: its rate over time in use, and when it is earned back."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE


@formula(
    "r = (C/T + c)/u",
    units={"investment": "1", "depreciation_time": "s", "utilisation": "1", "running_cost_rate": "1/s"},
    returns="1/s",
    source="cost accounting: straight-line depreciation and fixed costs over the hours in use",
    domain={
        "investment": NON_NEGATIVE,
        "depreciation_time": POSITIVE,
        "utilisation": (1e-6, 1.0),
        "running_cost_rate": NON_NEGATIVE,
    },
)
def machine_rate(
    investment: Array, depreciation_time: Array, utilisation: Array, running_cost_rate: Array = 0.0
) -> Array:
    """Cost of a cell over the time it is in use.

    Parameters
    ----------
    investment : array_like
        Installed cost C of the cell, less what it sells for in the end [1].
    depreciation_time : array_like
        Calendar time T over which it is written off [s].
    utilisation : array_like
        Share u of the calendar time in which the cell is in use [1].
    running_cost_rate : array_like
        Floor, maintenance and interest c, over calendar time [1/s].

    Returns
    -------
    array_like
        Machine rate r, over time in use [1/s].

    Raises
    ------
    ValueError
        No time to write off, no use or a share beyond 1, or a negative cost.
    """
    return (investment / depreciation_time + running_cost_rate) / utilisation


@formula(
    "n = u/t",
    units={"utilisation": "1", "cycle_time": "s"},
    returns="1/s",
    source="definition of the cycle time: one part each, as long as the cell is in use",
    domain={"utilisation": (0.0, 1.0), "cycle_time": POSITIVE},
)
def part_rate(utilisation: Array, cycle_time: Array) -> Array:
    """Parts a cell makes over calendar time.

    Parameters
    ----------
    utilisation : array_like
        Share u of the calendar time in which the cell is in use [1].
    cycle_time : array_like
        Cycle time t per part [s].

    Returns
    -------
    array_like
        Parts over calendar time n [1/s].

    Raises
    ------
    ValueError
        A share beyond 1, or no cycle time.
    """
    return utilisation / cycle_time


@formula(
    "c = C n",
    units={"part_cost": "1", "part_rate": "1/s"},
    returns="1/s",
    source="cost accounting: a cost per part times the parts made",
    domain={"part_cost": NON_NEGATIVE, "part_rate": NON_NEGATIVE},
)
def cost_rate(part_cost: Array, part_rate: Array) -> Array:
    """Cost over calendar time of what costs so much per part.

    Parameters
    ----------
    part_cost : array_like
        Cost C per part [1].
    part_rate : array_like
        Parts over calendar time n [1/s].

    Returns
    -------
    array_like
        Cost c over calendar time [1/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return part_cost * part_rate


@formula(
    "T = C/(s - c)",
    units={"investment": "1", "saving_rate": "1/s", "running_cost_rate": "1/s"},
    returns="s",
    source="cost accounting: simple payback, without interest",
    domain={"investment": POSITIVE, "saving_rate": NON_NEGATIVE, "running_cost_rate": NON_NEGATIVE},
)
def payback_time(investment: Array, saving_rate: Array, running_cost_rate: Array = 0.0) -> Array:
    """Calendar time in which a cell earns its installed cost.

    Parameters
    ----------
    investment : array_like
        Installed cost C [1].
    saving_rate : array_like
        Labour, scrap and rework saved s, over calendar time [1/s].
    running_cost_rate : array_like
        Cost of running the cell c, over calendar time [1/s].

    Returns
    -------
    array_like
        Payback time T, infinite where running costs as much as is saved [s].

    Raises
    ------
    ValueError
        No investment, or a negative rate.
    """
    net = saving_rate - running_cost_rate
    earned = (net + np.abs(net)) / 2
    with np.errstate(divide="ignore"):
        return np.divide(investment, earned)
