"""Combination of position errors against a published stack-up and random sampling."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import qmc

from finishplan.physics import required_stroke

MM = 1e-3
TEN_EQUAL = np.full(10, 0.1 * MM)


def test_standard_uncertainty_of_a_sum_of_rectangular_errors() -> None:
    """JCGM 101:2008, 9.2.3: the sum of four rectangular quantities of unit standard deviation has u = 2.0.

    Origin: printed.
    """
    half_widths = np.full(4, np.sqrt(3))
    assert required_stroke(half_widths, 1.0, "statistical") == pytest.approx(2.0, rel=1e-12)


def test_standard_deviation_of_sampled_errors() -> None:
    """scipy.stats.qmc draws every error between its bounds. Origin: library."""
    half_widths = np.array([0.5, 0.2, 0.9, 0.2, 0.2]) * MM
    draws = qmc.Sobol(half_widths.size, rng=7).random_base2(16)
    total = ((2 * draws - 1) * half_widths).sum(axis=1)
    # a scrambled Sobol sample of 65 536 points settles the deviation to about 1e-4
    assert required_stroke(half_widths, 1.0, "statistical") == pytest.approx(total.std(), rel=1e-3)
    assert np.abs(total).max() <= required_stroke(half_widths, 1.0, "worst case")
