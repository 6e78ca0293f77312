"""Limits and inverses of the specific cutting force."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import affine_specific_force, minimum_chip_thickness, rake_factor, specific_cutting_force

KC11, MC = 2.0e9, 0.25


def test_at_the_reference_thickness_it_is_the_tabulated_value() -> None:
    assert specific_cutting_force(KC11, MC, 1e-3) == KC11
    assert specific_cutting_force(KC11, MC, 1e-4, reference_thickness=1e-4) == KC11


def test_sixteenth_of_the_chip_doubles_it_at_an_exponent_of_a_quarter() -> None:
    assert specific_cutting_force(KC11, MC, 1e-4 / 16) == pytest.approx(
        2 * specific_cutting_force(KC11, MC, 1e-4), rel=1e-14
    )


def test_thin_chips_are_taken_at_the_minimum() -> None:
    chips = np.array([0.0, 1e-6, 3e-6, 2e-5])
    forces = specific_cutting_force(KC11, MC, chips, 3e-6)
    assert forces[0] == forces[1] == forces[2] > forces[3]
    assert affine_specific_force(3e7, 3e3, chips, 3e-6)[:3] == pytest.approx(np.full(3, 3e7 + 1e9), rel=1e-14)


def test_minimum_chip_is_a_share_of_the_edge_radius() -> None:
    assert minimum_chip_thickness(np.array([0.0, 1e-5]), 0.3) == pytest.approx([0.0, 3e-6], rel=1e-15)


def test_factors_multiply() -> None:
    plain = specific_cutting_force(KC11, MC, 1e-4)
    assert specific_cutting_force(KC11, MC, 1e-4, rake_factor=1.2, wear_factor=1.3) == pytest.approx(1.56 * plain)
    assert affine_specific_force(3e7, 3e3, 1e-4, wear_factor=1.5) == pytest.approx(9e7, rel=1e-14)


def test_affine_force_tends_to_its_slope_for_thick_chips() -> None:
    assert affine_specific_force(3e7, 3e3, 1e3) == pytest.approx(3e7, rel=1e-6)


def test_rake_factor() -> None:
    six = np.radians(6.0)
    assert rake_factor(six, six) == 1.0
    assert rake_factor(np.radians(-4.0), six) == pytest.approx(1.10, rel=1e-14)
    assert rake_factor(np.radians(-4.0), six, slope=0.015 * 180 / np.pi) == pytest.approx(1.15, rel=1e-14)


def test_arrays_equal_scalars() -> None:
    chips = np.array([1e-5, 5e-5, 3e-4])
    assert specific_cutting_force(KC11, MC, chips)[1] == pytest.approx(
        specific_cutting_force(KC11, MC, 5e-5), rel=1e-15
    )
    assert np.ndim(specific_cutting_force(KC11, MC, 5e-5)) == 0
    assert np.ndim(affine_specific_force(3e7, 3e3, 5e-5)) == 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: specific_cutting_force(KC11, MC, 0.0),
            "specific_cutting_force: chip_thickness must be above 0 [m] where minimum_chip_thickness is 0, given 0",
        ),
        (
            lambda: affine_specific_force(3e7, 3e3, np.array([1e-5, 0.0])),
            "affine_specific_force: chip_thickness must be above 0 [m] where minimum_chip_thickness is 0, given 0",
        ),
        (
            lambda: specific_cutting_force(KC11, 1.5, 1e-4),
            "specific_cutting_force: mc must be between 0 and 1 [1], given 1.5",
        ),
        (
            lambda: rake_factor(1.0, 0.0),
            "rake_factor: rake must be between -0.785398 and 0.785398 [rad], given 1",
        ),
        (
            lambda: rake_factor(0.75, -0.75, slope=1.0),
            "rake_factor: the factor must be above 0 [1], given rakes that make it -0.5",
        ),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()
