"""Order of the chains of one tool: short air moves from the end of one to the start of the next."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Order = NDArray[np.intp]

MOST_STARTS = 12
"""First runs that are tried; more change the route by little."""


def shortest_order(starts: Points, ends: Points) -> Order:
    """An order of runs with short moves between them: nearest next, then moving runs while it helps.

    Parameters
    ----------
    starts, ends : (n, 2) array
        Where each run begins and ends [m]; runs keep their direction.

    Returns
    -------
    (n,) array of int
        Indices in order of travel. The route is open: it does not return to the first run.
    """
    moves = np.linalg.norm(starts[None, :, :] - ends[:, None, :], axis=2)
    firsts = range(min(len(moves), MOST_STARTS))
    routes = [_moved(_nearest_next(moves, first), moves) for first in firsts]
    return min(routes, key=lambda order: route_length(order, moves))


def route_length(order: Order, moves: Points) -> float:
    """Sum of the moves along an order."""
    return float(moves[order[:-1], order[1:]].sum())


def _nearest_next(moves: Points, first: int) -> Order:
    count = len(moves)
    order = np.full(count, first, dtype=np.intp)
    free = np.ones(count, dtype=bool)
    free[first] = False
    for position in range(1, count):
        order[position] = int(np.argmin(np.where(free, moves[order[position - 1]], np.inf)))
        free[order[position]] = False
    return order


def _moved(order: Order, moves: Points) -> Order:
    """Take out one run at a time and put it where it costs least, until nothing is gained."""
    gained = True
    while gained:
        gained = False
        for run in range(len(order)):
            rest = order[order != run]
            costs = _insertion_costs(rest, run, moves)
            candidate = np.insert(rest, int(np.argmin(costs)), run)
            if route_length(candidate, moves) < route_length(order, moves) - 1e-12:
                order, gained = candidate, True
    return order


def _insertion_costs(rest: Order, run: int, moves: Points) -> Points:
    """Cost of putting a run before each place of an order, and after its last."""
    before = np.concatenate(([0.0], moves[rest, run]))
    after = np.concatenate((moves[run, rest], [0.0]))
    opened = np.concatenate(([0.0], moves[rest[:-1], rest[1:]], [0.0]))
    return before + after - opened
