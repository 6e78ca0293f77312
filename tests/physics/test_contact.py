"""Contact patches of solid wheels, balls and soft layers, and pads over a border."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    constrained_modulus,
    effective_modulus,
    effective_radius,
    hertz_line_half_width,
    layer_stiffness,
    overhang_pressure_ratio,
    shore_a_modulus,
    winkler_flat_approach,
)
from finishplan.physics.contact import hertz_line, hertz_point, winkler_cylinder, winkler_dome

MM = 1e-3
MPA = 1e6
GPA = 1e9


def test_modulus_of_rubbers() -> None:
    hardness = np.arange(20, 91, 10)
    expected = [0.732, 1.142, 1.690, 2.456, 3.605, 5.521, 9.351, 20.844]
    assert shore_a_modulus(hardness) / MPA == pytest.approx(expected, abs=6e-4)


class TestEffectiveBody:
    def test_rigid_and_flat_partners_are_the_defaults(self) -> None:
        assert effective_modulus(2 * MPA, 0.5) == pytest.approx(2 * MPA / 0.75, rel=1e-15)
        assert effective_radius(0.1) == pytest.approx(0.1, rel=1e-15)

    def test_two_equal_bodies_are_half_of_one(self) -> None:
        assert effective_modulus(200 * GPA, 0.3, 200 * GPA, 0.3) == pytest.approx(100 * GPA / 0.91, rel=1e-15)
        assert effective_radius(0.025, 0.025) == pytest.approx(0.0125, rel=1e-15)

    def test_hollow_partner(self) -> None:
        assert effective_radius(0.1, -0.2) == pytest.approx(0.2, rel=1e-15)


class TestHertz:
    @pytest.mark.parametrize(
        ("shore", "diameter", "width", "force", "strip", "peak", "mean"),
        [
            pytest.param(40, 200, 50, 60, 16.47, 92.8, 72.9, id="40 Shore wheel"),
            pytest.param(70, 150, 25, 80, 12.89, 316, 248, id="70 Shore wheel"),
        ],
    )
    def test_contact_wheels(
        self, shore: float, diameter: float, width: float, force: float, strip: float, peak: float, mean: float
    ) -> None:
        modulus = effective_modulus(shore_a_modulus(shore), 0.5)
        wheel = hertz_line(force / (width * MM), diameter / 2 * MM, modulus)
        assert 2 * wheel.half_width / MM == pytest.approx(strip, abs=0.006)
        assert [wheel.peak_pressure / 1e3, wheel.mean_pressure / 1e3] == pytest.approx([peak, mean], rel=2e-3)

    def test_strip_carries_the_load_and_the_mean_is_pi_quarters_of_the_peak(self) -> None:
        loads = np.array([100.0, 1200.0])
        wheel = hertz_line(loads, 0.1, 2.25 * MPA)
        assert 2 * wheel.half_width * wheel.mean_pressure == pytest.approx(loads, rel=1e-14)
        assert wheel.mean_pressure / wheel.peak_pressure == pytest.approx(np.pi / 4, rel=1e-14)

    def test_patch_carries_the_load_and_the_mean_is_two_thirds_of_the_peak(self) -> None:
        forces = np.array([1.0, 500.0])
        ball = hertz_point(forces, 0.025, 100 * GPA)
        assert np.pi * ball.radius**2 * ball.mean_pressure == pytest.approx(forces, rel=1e-14)
        assert ball.mean_pressure / ball.peak_pressure == pytest.approx(2 / 3, rel=1e-14)

    def test_no_load_no_strip(self) -> None:
        assert hertz_line_half_width(0.0, 0.1, 1 * MPA) == 0


class TestLayers:
    def test_foam_pad_on_a_dome(self) -> None:
        stiffness = layer_stiffness(0.5 * MPA, 10 * MM)
        pad = winkler_dome(30.0, 0.5, stiffness)
        assert stiffness == pytest.approx(0.05e9, rel=1e-14)
        assert pad.radius / MM == pytest.approx(24.86, abs=0.005)
        assert [pad.peak_pressure / 1e3, pad.mean_pressure / 1e3] == pytest.approx([30.9, 15.45], abs=0.006)
        assert pad.approach / MM == pytest.approx(0.618, abs=5e-4)

    def test_cylinder_carries_the_load_with_two_thirds_of_the_peak(self) -> None:
        tread = winkler_cylinder(np.array([200.0, 800.0]), 0.1, 1e9)
        assert 2 * tread.half_width * tread.mean_pressure == pytest.approx([200.0, 800.0], rel=1e-14)
        assert tread.mean_pressure / tread.peak_pressure == pytest.approx(2 / 3, rel=1e-14)

    def test_flat_pad_yields_evenly(self) -> None:
        assert winkler_flat_approach(30.0, 0.01, 5e7) == pytest.approx(6e-5, rel=1e-14)

    def test_a_layer_that_cannot_spread_is_stiffer(self) -> None:
        assert constrained_modulus(1 * MPA, 0.0) == 1 * MPA
        assert constrained_modulus(1 * MPA, 0.25) == pytest.approx(1.2 * MPA, rel=1e-14)


class TestOverhang:
    def test_table(self) -> None:
        shares = np.array([0, 0.1, 0.2, 0.25, 0.3, 1 / 3, 0.4])
        expected = [1.0, 1.4815, 2.1875, 2.6667, 3.3333, 4.0, 6.6667]
        assert overhang_pressure_ratio(shares) == pytest.approx(expected, abs=5e-5)

    def test_both_branches_meet_at_a_quarter(self) -> None:
        below, above = overhang_pressure_ratio(np.array([0.25, np.nextafter(0.25, 1)]))
        assert below == pytest.approx(above, rel=1e-14)

    def test_scalar_in_scalar_out(self) -> None:
        assert isinstance(overhang_pressure_ratio(0.1), float)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(lambda: shore_a_modulus(100.0), "hardness must be between 1 and 99 [1], given 100", id="hardness"),
        pytest.param(lambda: effective_radius(0.1, -0.05), "hollow and wider than radius [m]", id="narrow hollow"),
        pytest.param(lambda: hertz_line(10.0, 0.0, 1e6), "radius must be at least 1e-12 [m]", id="no radius"),
        pytest.param(
            lambda: overhang_pressure_ratio(0.5), "overhang must be below 1/2 [1], given 0.5: the pad tips", id="tips"
        ),
        pytest.param(lambda: overhang_pressure_ratio(0.6), "overhang must be between 0 and 0.5 [1]", id="beyond"),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        call()
