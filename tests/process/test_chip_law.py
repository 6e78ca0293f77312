"""The two chip laws: their factors, and the slope that speeds up the contact balance."""

from __future__ import annotations

import math

import numpy as np
import pytest

from finishplan.process.chip_law import AffineLaw, ChipLaw, PowerLaw

POWER = PowerLaw(kc11=700e6, mc=0.25, minimum_chip_thickness=3e-6, rake_factor=1.2, wear_factor=1.15)
AFFINE = AffineLaw(slope=30e6, intercept=3.4e3, minimum_chip_thickness=3e-6, wear_factor=1.1)


def test_power_law_carries_both_factors() -> None:
    assert POWER.specific_force(1e-3) == pytest.approx(700e6 * 1.2 * 1.15, rel=1e-14)


def test_affine_law_wears_in_both_terms() -> None:
    assert AFFINE.specific_force(1e-4) == pytest.approx((30e6 + 3.4e3 / 1e-4) * 1.1, rel=1e-14)


@pytest.mark.parametrize("law", [POWER, AFFINE], ids=["power", "affine"])
def test_slope_is_that_of_the_law(law: ChipLaw) -> None:
    chips = np.geomspace(4e-6, 5e-4, 9)
    grow = 1 + 1e-6
    numeric = np.log(law.specific_force(chips * grow) / law.specific_force(chips / grow)) / (2 * math.log(grow))
    assert law.log_slope(chips, law.specific_force(chips)) == pytest.approx(numeric, rel=1e-6)


@pytest.mark.parametrize("law", [POWER, AFFINE], ids=["power", "affine"])
def test_a_rubbing_chip_asks_for_no_more_than_the_thinnest(law: ChipLaw) -> None:
    thinnest = law.specific_force(3e-6)
    assert law.specific_force(np.array([1e-7, 2.9e-6])) == pytest.approx([thinnest, thinnest], rel=1e-14)
    assert np.all(law.log_slope(np.array([1e-7, 2.9e-6]), thinnest) == 0)
