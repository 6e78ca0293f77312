"""Time a removal map against stamping the same footprint along the same path.

Run ``python tests/benchmarks/bench_removal_map.py``. It prints the ratio and the largest difference
of the two answers; it is no part of the test run. The stamps lie a cell apart along the path and
are shared between the cells around each, as a stamp at the nearest cell alone would shift whole
passes by half a cell.
"""

from __future__ import annotations

import math
import time
import tracemalloc
from collections.abc import Callable

import numpy as np

from finishplan.geometry import Coverage, Region, cross_hatch, rectangle
from finishplan.process.dwell import DwellPath, Grid, at_feed
from finishplan.process.footprint import Footprint, cell_means, orbital_pad, spinning_disc
from finishplan.process.removal_map import RemovalMap, removal_map

SURFACE = rectangle(1.0, 1.0)
RADIUS, STEP, CELL, RATE, FEED = 0.075, 0.05, 1e-3, 1e-9, 0.1
REPEATS = 5


def stamped(paths: list[DwellPath], footprint: Footprint, region: Region) -> np.ndarray:
    """Depth by adding the footprint to the cells around every sample of the path."""
    reach = math.ceil(footprint.reach[0] / CELL)
    kernel = cell_means(lambda x, y: footprint.pressure(x, y) * footprint.speed(x, y), (reach, reach), (CELL, CELL))
    kernel *= RATE / CELL**2
    margin = reach + 1
    grid = Grid.over(region.shape.bounds, (CELL, CELL), (margin, margin))
    depth = np.zeros((grid.rows, grid.columns))
    size = kernel.shape[0]
    for path in paths:
        for place, seconds in zip(*samples(path), strict=True):
            column, row = np.floor((place - grid.first) / CELL).astype(int)
            right, up = (place - grid.first) / CELL - (column, row)
            for rows, columns, share in ((0, 0, (1 - right) * (1 - up)), (0, 1, right * (1 - up)),
                                         (1, 0, (1 - right) * up), (1, 1, right * up)):  # fmt: skip
                if share > 1e-12:
                    top, left = row + rows - reach, column + columns - reach
                    depth[top : top + size, left : left + size] += kernel * (seconds * share)
    return depth[margin:-margin, margin:-margin]


def samples(path: DwellPath) -> tuple[np.ndarray, np.ndarray]:
    """Places a cell apart along a path, each with its share of the time."""
    places, seconds = [], []
    for start, end, duration in zip(path.points[:-1], path.points[1:], path.seconds, strict=True):
        count = max(math.ceil(math.dist(start, end) / CELL), 1)
        places.append(start + (end - start) * ((np.arange(count) + 0.5) / count)[:, None])
        seconds.append(np.full(count, duration / count))
    return np.concatenate(places), np.concatenate(seconds)


def timed(work: Callable[[], RemovalMap]) -> tuple[float, RemovalMap]:
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


def main() -> None:
    paths = at_feed([path for raster in cross_hatch(SURFACE, Coverage(RADIUS, STEP)) for path in raster.paths], FEED)
    for name, footprint in (("orbital pad", orbital_pad(RADIUS)), ("spinning disc", spinning_disc(RADIUS))):
        work = lambda footprint=footprint: removal_map(paths, footprint, RATE, SURFACE, CELL)  # noqa: E731
        fast = min(timed(work)[0] for _ in range(REPEATS))
        result = work()
        start = time.perf_counter()
        reference = stamped(paths, footprint, SURFACE)
        slow = time.perf_counter() - start
        difference = np.abs(result.depth - reference).max() / result.statistics.mean
        print(f"{name}, {result.depth.size} cells: {fast:.3f} s against {slow:.2f} s, {slow / fast:.0f} times faster")
        print(f"  largest difference {difference:.2%} of the mean depth")
    tracemalloc.start()
    work()
    print(f"peak memory {tracemalloc.get_traced_memory()[1] / 1e6:.0f} MB")


if __name__ == "__main__":
    main()
