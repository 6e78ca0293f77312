"""Cost of finishing one part: time, consumables and energy."""

from __future__ import annotations

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

COSTING = "cost accounting: time times rate, and consumables by the share a part uses up"


@formula(
    "C_m = t r",
    units={"cycle_time": "s", "machine_rate": "1/s"},
    returns="1",
    source=COSTING,
    domain={"cycle_time": NON_NEGATIVE, "machine_rate": NON_NEGATIVE},
)
def machine_cost(cycle_time: Array, machine_rate: Array) -> Array:
    """Machine time in the cost of a part.

    Parameters
    ----------
    cycle_time : array_like
        Cycle time t per part [s].
    machine_rate : array_like
        Machine rate r [1/s].

    Returns
    -------
    array_like
        Cost C_m per part [1].

    Raises
    ------
    ValueError
        A negative value.
    """
    return cycle_time * machine_rate


@formula(
    "C_l = t q r_l",
    units={"cycle_time": "s", "attended_share": "1", "labour_rate": "1/s"},
    returns="1",
    source=COSTING,
    domain={"cycle_time": NON_NEGATIVE, "attended_share": NON_NEGATIVE, "labour_rate": NON_NEGATIVE},
)
def labour_cost(cycle_time: Array, attended_share: Array, labour_rate: Array) -> Array:
    """Labour in the cost of a part.

    Parameters
    ----------
    cycle_time : array_like
        Cycle time t per part [s].
    attended_share : array_like
        Share q of the cycle that takes an operator's time; above 1 for more than one operator [1].
    labour_rate : array_like
        Cost of an operator over time, with what comes on top of the wage, r_l [1/s].

    Returns
    -------
    array_like
        Cost C_l per part [1].

    Raises
    ------
    ValueError
        A negative value.
    """
    return cycle_time * attended_share * labour_rate


@formula(
    "C_t = (c + t_x r) t_c/T",
    units={"price": "1", "contact_time": "s", "life": "s", "change_time": "s", "rate": "1/s"},
    returns="1",
    source="Ghosh and Mallik, Manufacturing Science, chapter 4, economy of machining: tool and tool change per part",
    domain={
        "price": NON_NEGATIVE,
        "contact_time": NON_NEGATIVE,
        "life": POSITIVE,
        "change_time": NON_NEGATIVE,
        "rate": NON_NEGATIVE,
    },
)
def tool_cost(price: Array, contact_time: Array, life: Array, change_time: Array = 0.0, rate: Array = 0.0) -> Array:
    """Cutters in the cost of a part.

    Parameters
    ----------
    price : array_like
        Price c of a tool, or of one sharp edge of it [1].
    contact_time : array_like
        Time t_c in the cut per part [s].
    life : array_like
        Tool life T in the cut [s].
    change_time : array_like
        Time t_x the cell stands for a change [s].
    rate : array_like
        Cost r of the cell, with its operator, while it stands [1/s].

    Returns
    -------
    array_like
        Cost C_t per part [1].

    Raises
    ------
    ValueError
        A life of zero, or a negative value.
    """
    return (price + change_time * rate) * contact_time / life


@formula(
    "C_a = (c + t_x r)/N",
    units={"price": "1", "parts": "1", "change_time": "s", "rate": "1/s"},
    returns="1",
    source=COSTING,
    domain={"price": NON_NEGATIVE, "parts": POSITIVE, "change_time": NON_NEGATIVE, "rate": NON_NEGATIVE},
)
def abrasive_cost(price: Array, parts: Array, change_time: Array = 0.0, rate: Array = 0.0) -> Array:
    """Abrasives in the cost of a part.

    Parameters
    ----------
    price : array_like
        Price c of a disc or belt [1].
    parts : array_like
        Parts N it lasts for, see `parts_per_abrasive` [1].
    change_time : array_like
        Time t_x the cell stands for a change [s].
    rate : array_like
        Cost r of the cell, with its operator, while it stands [1/s].

    Returns
    -------
    array_like
        Cost C_a per part [1].

    Raises
    ------
    ValueError
        No parts, or a negative value.
    """
    return (price + change_time * rate) / parts


@formula(
    "W = P_0 t + P t_c/eta",
    units={
        "base_power": "W",
        "cycle_time": "s",
        "process_power": "W",
        "contact_time": "s",
        "efficiency": "1",
    },
    returns="J",
    source="energy is power over time",
    domain={
        "base_power": NON_NEGATIVE,
        "cycle_time": NON_NEGATIVE,
        "process_power": NON_NEGATIVE,
        "contact_time": NON_NEGATIVE,
        "efficiency": (1e-6, 1.0),
    },
)
def energy_per_part(
    base_power: Array, cycle_time: Array, process_power: Array, contact_time: Array, efficiency: Array = 1.0
) -> Array:
    """Energy a part takes.

    Parameters
    ----------
    base_power : array_like
        Power P_0 of robot, idling spindle and extraction together [W].
    cycle_time : array_like
        Cycle time t per part [s].
    process_power : array_like
        Mean power P at the tool in the cut [W].
    contact_time : array_like
        Time t_c in the cut per part [s].
    efficiency : array_like
        Power at the tool over power drawn, eta [1].

    Returns
    -------
    array_like
        Energy W per part [J].

    Raises
    ------
    ValueError
        An efficiency outside 0 to 1, or a negative value.
    """
    return base_power * cycle_time + process_power * contact_time / efficiency


@formula(
    "C_w = W c_w",
    units={"energy": "J", "price": "1/J"},
    returns="1",
    source=COSTING,
    domain={"energy": NON_NEGATIVE, "price": NON_NEGATIVE},
)
def energy_cost(energy: Array, price: Array) -> Array:
    """Energy in the cost of a part.

    Parameters
    ----------
    energy : array_like
        Energy W per part [J].
    price : array_like
        Price of energy c_w [1/J].

    Returns
    -------
    array_like
        Cost C_w per part [1].

    Raises
    ------
    ValueError
        A negative value.
    """
    return energy * price


@formula(
    "C = C_m + C_l + C_t + C_a + C_w",
    units={"machine": "1", "labour": "1", "tool": "1", "abrasive": "1", "energy": "1"},
    returns="1",
    source=COSTING,
    domain=dict.fromkeys(("machine", "labour", "tool", "abrasive", "energy"), NON_NEGATIVE),
)
def part_cost(
    machine: Array, labour: Array = 0.0, tool: Array = 0.0, abrasive: Array = 0.0, energy: Array = 0.0
) -> Array:
    """Cost of finishing one part.

    Parameters
    ----------
    machine : array_like
        Machine time C_m, see `machine_cost` [1].
    labour : array_like
        Labour C_l, see `labour_cost` [1].
    tool : array_like
        Cutters C_t, see `tool_cost` [1].
    abrasive : array_like
        Abrasives C_a, see `abrasive_cost` [1].
    energy : array_like
        Energy C_w, see `energy_cost`; 0 where the machine rate holds it already [1].

    Returns
    -------
    array_like
        Cost C per part [1].

    Raises
    ------
    ValueError
        A negative cost.
    """
    return machine + labour + tool + abrasive + energy
