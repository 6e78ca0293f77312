"""Life of an abrasive and the settings that make up for its wear."""

from __future__ import annotations

import re

import numpy as np
import pytest

from finishplan.physics import (
    change_interval,
    change_volume,
    compensating_feed,
    compensating_force,
    decaying_rate,
    decaying_rate_interval,
    decaying_rate_volume,
    parts_per_abrasive,
    pass_depth,
    volume_over_time,
    worn_coefficient,
    worn_coefficient_over_time,
)
from finishplan.physics.abrasion import removal_rate

MM3 = 1e-9
FRESH = 0.03 * 1e-9
LIFE = 5000 * MM3


class TestChange:
    def test_half_the_rate(self) -> None:
        assert change_volume(LIFE) / MM3 == pytest.approx(3465.7, abs=0.05)
        assert change_interval(FRESH, 40.0, 20.0, LIFE) == pytest.approx(208.3, abs=0.05)

    def test_interval_and_volume_agree(self) -> None:
        fractions = np.array([0.9, 0.5, 0.2])
        interval = change_interval(FRESH, 40.0, 20.0, LIFE, fractions)
        assert volume_over_time(FRESH, 40.0, 20.0, interval, LIFE) == pytest.approx(
            change_volume(LIFE, fractions), rel=1e-13
        )
        assert worn_coefficient_over_time(FRESH, 40.0, 20.0, interval, LIFE) == pytest.approx(
            fractions * FRESH, rel=1e-13
        )

    def test_never_used_at_the_fresh_rate(self) -> None:
        assert change_volume(LIFE, 1.0) == 0

    def test_parts(self) -> None:
        assert parts_per_abrasive(3465.7 * MM3, 150 * MM3) == pytest.approx(23.10, abs=0.005)

    def test_refuses_a_fraction_beyond_one(self) -> None:
        with pytest.raises(ValueError, match=re.escape("rate_fraction must be between 1e-06 and 1 [1], given 1.5")):
            change_interval(FRESH, 40.0, 20.0, LIFE, 1.5)


class TestCompensation:
    volumes = np.linspace(0, 2, 5) * LIFE

    def test_force_keeps_the_rate(self) -> None:
        worn = worn_coefficient(FRESH, self.volumes, LIFE)
        rate = removal_rate(worn, compensating_force(40.0, self.volumes, LIFE), 20.0)
        assert rate == pytest.approx(np.full(5, 24 * MM3), rel=1e-13)

    def test_feed_keeps_the_depth_of_the_pass(self) -> None:
        worn = worn_coefficient(FRESH, self.volumes, LIFE)
        depth = pass_depth(worn, 40.0, 20.0, compensating_feed(0.1, self.volumes, LIFE), 0.05)
        assert depth == pytest.approx(np.full(5, pass_depth(FRESH, 40.0, 20.0, 0.1, 0.05)), rel=1e-13)


class TestDecayingRate:
    RATE = (8 * MM3, 16 * MM3, 1 / 3600)

    def test_falls_from_the_sum_to_the_steady_rate(self) -> None:
        assert decaying_rate(*self.RATE, np.array([0.0, 3.6e6])) == pytest.approx([24 * MM3, 8 * MM3], rel=1e-14)

    def test_volume_starts_at_the_fresh_and_ends_at_the_steady_rate(self) -> None:
        volumes = decaying_rate_volume(*self.RATE, np.array([1e-3, 3.6e6]))
        assert volumes == pytest.approx([24e-3 * MM3, 8 * 3.6e6 * MM3 + 16 * 3600 * MM3], rel=1e-6)

    def test_interval_finds_the_fraction_again(self) -> None:
        fractions = np.array([0.9, 0.5, 0.4])
        interval = decaying_rate_interval(*self.RATE, fractions)
        assert decaying_rate(*self.RATE, interval) == pytest.approx(fractions * 24 * MM3, rel=1e-13)

    def test_a_rate_above_the_fraction_for_ever(self) -> None:
        assert decaying_rate_interval(16 * MM3, 8 * MM3, 1e-3, 0.5) == np.inf
