"""Heat at the surface under a moving tool, its partition, and the rise of a thin sheet."""

from __future__ import annotations

import re

import numpy as np
import pytest

from finishplan.physics import (
    band_temperature_rise,
    bulk_temperature_rise,
    contact_flux,
    diffusivity,
    flux_temperature_rise,
    heat_partition,
    heat_share,
    jaeger_band_temperature_rise,
    moving_band_temperature_rise,
    peclet_number,
)

STEEL = (50.0, 50.0 / (7850 * 480))


def test_rise_under_a_steady_flux() -> None:
    flux = np.array([1e6, 1.4e6, 1e6, 1e6, 2e4, 2e4])
    time = np.array([0.1, 0.2, 0.1, 0.1, 1.0, 0.5])
    conductivity = np.array([50, 15, 7, 160, 0.2, 0.17])
    spread = np.array([1.4e-5, 4e-6, 2.9e-6, 6.6e-5, 1.1e-7, 1.5e-7])
    expected = [26.70, 94.20, 86.81, 18.12, 37.42, 36.36]
    assert flux_temperature_rise(flux, time, conductivity, spread) == pytest.approx(expected, abs=0.006)


def test_diffusivity_of_steel() -> None:
    assert diffusivity(50.0, 7850.0, 480.0) == pytest.approx(1.327e-5, rel=1e-4)


class TestMovingBand:
    def test_fast_band_heats_for_its_dwell(self) -> None:
        rise = moving_band_temperature_rise(5e6, 5e-3, 0.1, *STEEL)
        assert rise == pytest.approx(91.91, abs=0.005)
        assert rise == flux_temperature_rise(5e6, 0.05, *STEEL)

    def test_peclet_number_counts_half_the_length(self) -> None:
        assert peclet_number(0.1, 5e-3, STEEL[1]) == pytest.approx(9.42, abs=0.005)

    def test_fast_form_is_jaegers_limit_from_above(self) -> None:
        feeds = np.array([0.0425, 0.1, 1.0, 100.0])
        excess = moving_band_temperature_rise(5e6, 5e-3, feeds, *STEEL) / jaeger_band_temperature_rise(
            5e6, 5e-3, feeds, *STEEL
        )
        assert np.all(np.diff(excess) < 0)
        assert excess[0] < 1.05
        assert excess[-1] == pytest.approx(1, abs=5e-4)

    def test_slow_band_heats_less_than_the_fast_form_says(self) -> None:
        crawling = 1e-6
        slow = jaeger_band_temperature_rise(5e6, 5e-3, crawling, *STEEL)
        assert 0 < slow < 0.1 * moving_band_temperature_rise(5e6, 5e-3, crawling, *STEEL)

    def test_table_gives_jaegers_band(self) -> None:
        feeds = np.geomspace(2e-5, 50, 37)
        exact = jaeger_band_temperature_rise(5e6, 5e-3, feeds, *STEEL)
        assert band_temperature_rise(5e6, 5e-3, feeds, *STEEL) == pytest.approx(exact, rel=1e-3)

    def test_scalar_in_scalar_out(self) -> None:
        assert np.ndim(jaeger_band_temperature_rise(5e6, 5e-3, 0.1, *STEEL)) == 0


class TestBalance:
    def test_partition_of_workpieces_under_alumina(self) -> None:
        speeds = np.array([10.0, 20.0, 30.0])
        steel = heat_partition(50.0, 7850.0, 480.0, speeds, 35.0, 15e-6)
        assert steel == pytest.approx([0.828, 0.872, 0.893], abs=6e-4)

    def test_a_grain_that_does_not_conduct_leaves_all_heat_to_the_part(self) -> None:
        assert heat_partition(50.0, 7850.0, 480.0, 20.0, 0.0, 15e-6) == 1

    def test_swarf_takes_its_share_before_grain_and_part(self) -> None:
        assert heat_share(0.8, 0.25) == pytest.approx(0.6, rel=1e-14)
        assert (heat_share(1.0, 0.0), heat_share(1.0, 1.0)) == (1.0, 0.0)

    def test_flux_is_the_parts_share_of_the_power_over_the_contact(self) -> None:
        assert contact_flux(0.8, 250.0, 2e-4) == pytest.approx(1e6, rel=1e-14)

    def test_bulk_rise(self) -> None:
        assert bulk_temperature_rise(0.5, 200.0, 10.0, 0.25, 480.0) == pytest.approx(1000 / 120, rel=1e-14)


def test_refuses_a_share_beyond_all() -> None:
    with pytest.raises(ValueError, match=re.escape("contact_flux: heat_share must be between 0 and 1 [1], given 1.2")):
        contact_flux(1.2, 100.0, 1e-4)


def test_refuses_a_standing_band() -> None:
    with pytest.raises(ValueError, match=re.escape("jaeger_band_temperature_rise: feed must be at least 1e-12 [m/s]")):
        jaeger_band_temperature_rise(1e6, 5e-3, 0.0, *STEEL)
