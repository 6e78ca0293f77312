"""Time the contact balance against a plain root finder on the same samples.

Run ``python tests/benchmarks/bench_contact_balance.py``. It prints the ratio and the largest
difference of the two answers; it is no part of the test run.
"""

from __future__ import annotations

import math
import time

import numpy as np
from scipy.optimize import brentq

from finishplan.process.chip_law import PowerLaw
from finishplan.process.contact_balance import depth_after_pass

SAMPLES = 200_000
REPEATS = 5
INCLUDED_ANGLE, DIAMETER, SPINDLE_SPEED, FEED, TEETH = math.radians(90), 8e-3, 500.0, 0.06, 8
STIFFNESS, AIMED_DEPTH, THINNEST = 300.0, 0.35e-3, 2.4e-6


def draw(count: int) -> dict[str, np.ndarray]:
    """Samples of the scattering inputs, from a fixed seed."""
    random = np.random.default_rng(20)
    return {
        "force": random.normal(12.0, 1.0, count),
        "error": random.uniform(-0.5e-3, 0.5e-3, count),
        "ratio": random.uniform(0.8, 1.8, count),
        "kc11": random.normal(600e6, 60e6, count),
        "mc": random.uniform(0.2, 0.3, count),
    }


def vectorised(samples: dict[str, np.ndarray]) -> np.ndarray:
    """All samples in one call."""
    law = PowerLaw(samples["kc11"], samples["mc"], THINNEST, 1.2, 1.15)
    return depth_after_pass(
        0.0, samples["force"], STIFFNESS, AIMED_DEPTH, samples["error"], samples["ratio"], law,
        INCLUDED_ANGLE, DIAMETER, SPINDLE_SPEED, FEED, FEED / (SPINDLE_SPEED * TEETH),
    )  # fmt: skip


def one_by_one(samples: dict[str, np.ndarray]) -> np.ndarray:
    """The same balance with a scalar residual in plain floats and a bracketing root finder."""
    per_tooth = FEED / (SPINDLE_SPEED * TEETH)
    share = math.tan(INCLUDED_ANGLE / 2) * FEED / (math.pi * DIAMETER * SPINDLE_SPEED)

    def residual(depth: float, force: float, error: float, ratio: float, kc11: float, mc: float) -> float:
        chip = per_tooth * 2 * depth / DIAMETER / math.acos(1 - 2 * depth / DIAMETER)
        specific = kc11 * (max(chip, THINNEST) / 1e-3) ** -mc * 1.2 * 1.15
        return ratio * specific * share * depth * depth - force - STIFFNESS * (error + AIMED_DEPTH - depth)

    columns = [samples[name].tolist() for name in ("force", "error", "ratio", "kc11", "mc")]
    return np.array([brentq(residual, 1e-9, DIAMETER / 2, args=row, xtol=1e-14) for row in zip(*columns, strict=True)])


def main() -> None:
    samples = draw(SAMPLES)
    fast = min(_seconds(lambda: vectorised(samples)) for _ in range(REPEATS))
    start = time.perf_counter()
    reference = one_by_one(samples)
    slow = time.perf_counter() - start
    difference = np.max(np.abs(vectorised(samples) / reference - 1))
    print(f"{SAMPLES} samples: {fast * 1e3:.1f} ms against {slow:.2f} s one by one, {slow / fast:.0f} times faster")
    print(f"largest relative difference {difference:.1e}")


def _seconds(work: object) -> float:
    start = time.perf_counter()
    work()  # type: ignore[operator]
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
