"""Order a part of many features against a plain nearest-neighbour tour from random starts.

Run ``python tests/benchmarks/bench_order.py``. It prints the ratio of the two times spent on tool
changes and air moves, and how long the ordering takes; it is no part of the test run. The reference
goes on to whatever costs least next, a change of tool included, and the best of its tours counts.
"""

from __future__ import annotations

import time

import numpy as np

from finishplan.planning.order import Work, air_way, best_order
from finishplan.planning.visits import tool_changes

FEATURES, RESTARTS = 200, 50
SIDE, AIR_SPEED, CHANGE = 1.5, 0.5, 6.0
STAGES = np.array([0, 1, 1, 2])
"""Stages of the features in turn: a quarter is trimmed, half is deburred, a quarter is sanded."""

CASES = {
    "one tool, closed runs": ("a", False, False),
    "one tool, open runs": ("a", True, False),
    "one tool, three stages": ("a", False, True),
    "four tools, closed runs": ("abcd", False, False),
    "four tools, three stages": ("abcd", False, True),
}


def draw(tools: str, *, opened: bool, staged: bool) -> tuple[list[Work], np.ndarray]:
    """Features at random places of a square part, from a fixed seed, and what comes before what."""
    random = np.random.default_rng(7)
    starts, ends = random.uniform(0.0, SIDE, (2, FEATURES, 2))
    stations = random.choice(list(tools), FEATURES)
    works = [
        Work(str(station), start, end if opened else start)
        for station, start, end in zip(stations, starts, ends, strict=True)
    ]
    stages = np.resize(STAGES, FEATURES)
    return works, (stages[:, None] < stages) & staged


def seconds(works: list[Work], order: list[int]) -> float:
    """Time of tool changes and air moves."""
    changes = tool_changes([works[index].station for index in order])
    return changes * CHANGE + air_way(works, order) / AIR_SPEED


def step_seconds(last: Work, work: Work) -> float:
    """Time of the change of tool from one feature to the next, or of the air move."""
    return CHANGE if work.station != last.station else float(np.linalg.norm(work.start - last.end)) / AIR_SPEED


def cheapest_next(works: list[Work], before: np.ndarray, random: np.random.Generator) -> list[int]:
    """One tour: a random start among those that may come first, then whatever may come next at the least cost."""
    order: list[int] = []
    left = set(range(len(works)))
    while left:
        ready = [index for index in left if not any(before[first, index] for first in left)]
        if order:
            costs = [step_seconds(works[order[-1]], works[index]) for index in ready]
            order.append(ready[int(np.argmin(costs))])
        else:
            order.append(int(random.choice(ready)))
        left.remove(order[-1])
    return order


def main() -> None:
    for name, (tools, opened, staged) in CASES.items():
        works, before = draw(tools, opened=opened, staged=staged)
        start = time.perf_counter()
        planned = seconds(works, best_order(works, before))
        taken = time.perf_counter() - start
        random = np.random.default_rng(11)
        reference = min(seconds(works, cheapest_next(works, before, random)) for _ in range(RESTARTS))
        print(
            f"{name}, {FEATURES} features: {planned:.1f} s against {reference:.1f} s, the best of {RESTARTS} tours, "
            f"ratio {planned / reference:.3f}, ordered in {taken:.2f} s"
        )


if __name__ == "__main__":
    main()
