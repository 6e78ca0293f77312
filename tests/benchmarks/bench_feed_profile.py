"""Time the feed profile of a long path against the array operations that no two-pass solution can do without.

Run ``python tests/benchmarks/bench_feed_profile.py``. It prints the ratio; it is no part of the test run. The
reference takes the steps and their lengths, the turn at every point, the caps, one pass forward and one backward,
and the sum of the times, on the plainest path there is: open, no corner treated apart, nothing checked.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from finishplan.physics import feed_profile

POINTS = 1_000_000
FEED, ALONG, ACROSS = 0.15, 1.5, 2.5
REPEATS = 5


def path() -> np.ndarray:
    """A rosette: curvature of all sorts, points about 0.1 mm apart."""
    angle = np.linspace(0.0, 400 * np.pi, POINTS)
    radius = 80e-3 * (1 + 0.4 * np.cos(7.01 * angle))
    return np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=1)


def necessary(points: np.ndarray) -> float:
    """What any two-pass solution needs, once each."""
    steps = points[1:] - points[:-1]
    lengths = np.sqrt(steps[:, 0] ** 2 + steps[:, 1] ** 2)
    cross = steps[:-1, 0] * steps[1:, 1] - steps[:-1, 1] * steps[1:, 0]
    curvature = np.abs(cross) / (lengths[:-1] * lengths[1:] * (lengths[:-1] + lengths[1:]) / 2)
    cap = np.full(len(points), FEED**2)
    cap[1:-1] = np.minimum(cap[1:-1], ACROSS / np.maximum(curvature, 1e-12))
    run = 2 * ALONG * np.concatenate(([0.0], np.cumsum(lengths)))
    forward = run + np.minimum.accumulate(cap - run)
    both = np.minimum.accumulate((forward + run)[::-1])[::-1] - run
    speed = np.sqrt(np.maximum(both, 1e-12))
    return float(np.sum(2 * lengths / (speed[1:] + speed[:-1])))


def seconds(work: Callable[[], object]) -> float:
    """Least time of several runs."""
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    points = path()
    profile = feed_profile(points, FEED, ALONG, ACROSS)
    ours = seconds(lambda: feed_profile(points, FEED, ALONG, ACROSS))
    least = seconds(lambda: necessary(points))
    print(
        f"{POINTS} points: feed profile {ours * 1e3:.0f} ms, necessary operations {least * 1e3:.0f} ms, "
        f"ratio {ours / least:.1f}; time along the path {profile.time:.1f} s against {necessary(points):.1f} s"
    )


if __name__ == "__main__":
    main()
