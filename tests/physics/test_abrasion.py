"""Removal, edge rounding, dulling and sliding speeds of abrasives."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    archard_coefficient,
    belt_speed,
    coefficient_from_pass,
    disc_mean_radius,
    disc_mean_speed,
    disc_torque,
    edge_radius_after_passes,
    edge_section_per_pass,
    friction_power,
    orbital_speed,
    orbital_spinning_mean_speed,
    pass_depth,
    round_area,
    round_radius,
    specific_energy,
    tilted_disc_contact_depth,
    tilted_disc_contact_width,
    tilted_disc_mean_radius,
    tilted_disc_mean_speed,
    volume_over_time,
    worn_coefficient,
    worn_coefficient_over_time,
)
from finishplan.physics.abrasion import removal_rate

MM = 1e-3
MM3 = 1e-9
MM3_PER_N_M = 1e-9
SQUARE = np.pi / 2
COEFFICIENTS = np.array([0.005, 0.02, 0.8]) * MM3_PER_N_M


class TestRemoval:
    def test_rate_is_proportional_to_force_and_speed(self) -> None:
        assert removal_rate(0.03 * MM3_PER_N_M, 40.0, 20.0) == pytest.approx(24 * MM3, rel=1e-14)

    def test_pass_depth_spreads_the_rate_over_the_stripe(self) -> None:
        depth = pass_depth(COEFFICIENTS, 30.0, 12.0, 0.05, 40 * MM)
        assert depth * 40 * MM * 0.05 == pytest.approx(removal_rate(COEFFICIENTS, 30.0, 12.0), rel=1e-14)

    def test_a_measured_pass_gives_the_coefficient_back(self) -> None:
        settings = (30.0, 12.0, 0.05, 40 * MM)
        depth = pass_depth(COEFFICIENTS, *settings)
        assert coefficient_from_pass(depth, *settings) == pytest.approx(COEFFICIENTS, rel=1e-14)

    def test_archard_number_over_hardness(self) -> None:
        # 0.03 over 1500 N/mm2
        assert archard_coefficient(0.03, 1.5e9) == pytest.approx(0.02 * MM3_PER_N_M, rel=1e-14)

    def test_specific_energy_is_power_over_rate(self) -> None:
        energy = friction_power(0.45, 30.0, 12.0) / removal_rate(COEFFICIENTS, 30.0, 12.0)
        assert specific_energy(0.45, COEFFICIENTS) == pytest.approx(energy, rel=1e-14)

    def test_energy_of_steel_under_a_belt(self) -> None:
        assert specific_energy(0.45, 0.03 * MM3_PER_N_M) == pytest.approx(15e9, rel=1e-14)


class TestEdgeRounding:
    SETTINGS = (0.01 * MM3_PER_N_M, 10.0, 15.0, 0.02)

    def test_radius_grows_with_the_root_of_the_passes(self) -> None:
        radii = edge_radius_after_passes(*self.SETTINGS, np.array([1, 2, 4]), SQUARE)
        assert radii / MM == pytest.approx([0.5912, 0.8360, 1.1823], abs=5e-5)
        assert radii[2] == pytest.approx(2 * radii[0], rel=1e-14)

    def test_is_the_round_of_the_section_removed(self) -> None:
        section = edge_section_per_pass(*self.SETTINGS)
        assert section == pytest.approx(0.075e-6, rel=1e-14)
        angles = np.radians([60, 90, 135])
        assert edge_radius_after_passes(*self.SETTINGS, 3, angles) == pytest.approx(
            round_radius(3 * section, angles), rel=1e-14
        )

    def test_the_burr_goes_first(self) -> None:
        burr = 0.1e-6
        radii = edge_radius_after_passes(*self.SETTINGS, np.array([0, 1, 2]), SQUARE, burr)
        assert np.all(radii[:2] == 0)
        assert round_area(radii[2], SQUARE) == pytest.approx(2 * 0.075e-6 - burr, rel=1e-12)


class TestDulling:
    LIFE = 5000 * MM3
    WORK = (0.03 * MM3_PER_N_M, 40.0, 20.0)

    def test_life_volume_is_where_a_third_and_a_bit_is_left(self) -> None:
        assert worn_coefficient(1.0, self.LIFE, self.LIFE) == pytest.approx(np.exp(-1), rel=1e-15)

    def test_time_and_volume_tell_the_same_coefficient(self) -> None:
        times = np.array([0.0, 30.0, 208.3, 600.0])
        by_volume = worn_coefficient(self.WORK[0], volume_over_time(*self.WORK, times, self.LIFE), self.LIFE)
        assert worn_coefficient_over_time(*self.WORK, times, self.LIFE) == pytest.approx(by_volume, rel=1e-13)

    def test_worked_volume(self) -> None:
        assert volume_over_time(*self.WORK, 600.0, self.LIFE) / MM3 == pytest.approx(6779.2, abs=0.05)

    def test_hardly_worn_removes_like_fresh(self) -> None:
        assert volume_over_time(*self.WORK, 1e-6, self.LIFE) == pytest.approx(24e-6 * MM3, rel=1e-8)


class TestSpeeds:
    def test_belt_and_orbit_turn_on_a_circle(self) -> None:
        assert belt_speed(0.2, 25.0) == pytest.approx(5 * np.pi, rel=1e-15)
        # 2.5 mm at 12 000 per minute, 8 mm at 10 000
        assert orbital_speed(np.array([2.5, 8]) * MM, np.array([200, 1e4 / 60])) == pytest.approx(
            [1.5708, 4.1888], abs=5e-5
        )

    def test_spin_adds_to_the_orbit(self) -> None:
        assert orbital_spinning_mean_speed(3.0, 0.0) == pytest.approx(3.0, rel=1e-15)
        assert orbital_spinning_mean_speed(0.0, 3.0) == pytest.approx(3.0, rel=1e-15)
        assert orbital_spinning_mean_speed(np.pi, np.pi) == pytest.approx(4.0, rel=1e-15)
        assert orbital_spinning_mean_speed(1.0, 2.0) == orbital_spinning_mean_speed(2.0, 1.0)

    def test_scalar_in_scalar_out(self) -> None:
        assert np.ndim(orbital_spinning_mean_speed(1.0, 2.0)) == 0
        assert np.shape(orbital_spinning_mean_speed(1.0, np.array([1.0, 2.0]))) == (2,)

    def test_full_disc_runs_at_two_thirds_of_its_rim(self) -> None:
        assert disc_mean_speed(0.125, 1e4 / 60) == pytest.approx(2 / 3 * belt_speed(0.125, 1e4 / 60), rel=1e-14)

    def test_ring_runs_at_its_mean_radius(self) -> None:
        assert disc_mean_radius(0.125, 0.02) == pytest.approx(42.586 * MM, abs=0.0005 * MM)
        assert disc_mean_radius(0.1, 0.1) == pytest.approx(0.05, rel=1e-14)

    def test_torque_times_speed_is_the_friction_power(self) -> None:
        assert disc_torque(0.4, 50.0, 0.125) == pytest.approx(0.8333, abs=5e-5)
        turning = 2 * np.pi * 50.0
        power = friction_power(0.4, 50.0, disc_mean_speed(0.125, 50.0, 0.03))
        assert disc_torque(0.4, 50.0, 0.125, 0.03) * turning == pytest.approx(power, rel=1e-14)


class TestTiltedDisc:
    def test_narrow_contact_runs_at_the_rim(self) -> None:
        # two sevenths of the contact's depth below the rim, the limit of the closed form
        assert tilted_disc_mean_radius(0.125, 1e-5) == pytest.approx(0.0625 - 2 / 7 * 1e-5, abs=5e-9)

    def test_half_the_disc_runs_at_three_quarters(self) -> None:
        assert tilted_disc_mean_radius(0.125, 0.0625) == pytest.approx(0.75 * 0.0625, rel=1e-14)
        assert tilted_disc_mean_speed(0.1, 100.0, 0.05) == pytest.approx(0.75 * belt_speed(0.1, 100.0), rel=1e-14)

    def test_chord_of_the_contact(self) -> None:
        assert tilted_disc_contact_width(0.1, 0.05) == pytest.approx(0.1, rel=1e-15)
        assert tilted_disc_contact_width(0.1, 0.01) == pytest.approx(0.06, rel=1e-14)

    def test_half_the_disc_carries_two_thirds(self) -> None:
        tilt, stiffness = np.radians(10), 5e7
        force = 2 / 3 * stiffness * np.tan(tilt) * 0.05**3
        assert tilted_disc_contact_depth(force * (1 - 1e-9), 0.1, tilt, stiffness) == pytest.approx(0.05, rel=1e-6)

    def test_more_tilt_touches_less(self) -> None:
        depths = tilted_disc_contact_depth(50.0, 0.125, np.radians([5, 10, 15]), 5e7)
        assert np.all(np.diff(depths) < 0)
        assert np.ndim(tilted_disc_contact_depth(50.0, 0.125, 0.2, 5e7)) == 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(
            lambda: removal_rate(-1e-11, 1.0, 1.0),
            "removal_rate: coefficient must be at least 0 [1/Pa], given -1e-11",
            id="coefficient",
        ),
        pytest.param(
            lambda: pass_depth(1e-11, 1.0, 1.0, 0.0, 0.1), "pass_depth: feed must be at least 1e-12 [m/s]", id="feed"
        ),
        pytest.param(lambda: specific_energy(0.4, 0.0), "specific_energy: coefficient must be at least", id="energy"),
        pytest.param(
            lambda: orbital_spinning_mean_speed(np.array([1.0, 0.0]), 0.0),
            "orbital_speed or spin_speed must be above 0 [m/s]",
            id="standstill",
        ),
        pytest.param(
            lambda: disc_mean_speed(0.1, 1.0, 0.2), "inner_diameter must not exceed diameter [m]", id="inside out"
        ),
        pytest.param(
            lambda: tilted_disc_mean_radius(0.1, 0.06),
            "tilted_disc_mean_radius: contact_depth must not exceed half of diameter [m], given 1.2 times that",
            id="beyond the centre",
        ),
        pytest.param(
            lambda: tilted_disc_contact_depth(1e4, 0.1, 0.1, 1e7),
            "tilted_disc_contact_depth: force must leave the disc on its edge [N]",
            id="pressed flat",
        ),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        call()
