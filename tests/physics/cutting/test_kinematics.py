"""Identities, inverses and limits of cutter kinematics."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from finishplan.physics import (
    cusp_height,
    engagement_angle,
    feed_per_tooth,
    max_chip_thickness,
    mean_chip_thickness,
    spindle_speed,
    surface_speed,
    teeth_in_cut,
)

DIAMETER = 6e-3
DEPTHS = DIAMETER * np.array([1e-9, 1e-4, 0.05, 0.5, 0.8, 1.0])


def test_spindle_speed_is_the_inverse_of_surface_speed() -> None:
    speeds = np.array([0.5, 5.0, 50.0])
    assert surface_speed(DIAMETER, spindle_speed(DIAMETER, speeds)) == pytest.approx(speeds, rel=1e-15)


def test_feed_per_tooth_times_teeth_and_speed_is_the_feed() -> None:
    assert feed_per_tooth(0.04, 300.0, 8) * 8 * 300 == pytest.approx(0.04, rel=1e-15)


def test_engagement_angle_has_this_radial_depth() -> None:
    assert DIAMETER / 2 * (1 - np.cos(engagement_angle(DEPTHS, DIAMETER))) == pytest.approx(DEPTHS, rel=1e-6)


def test_full_slot_and_half_engagement() -> None:
    assert engagement_angle(DIAMETER, DIAMETER) == pytest.approx(np.pi, rel=1e-15)
    assert engagement_angle(DIAMETER / 2, DIAMETER) == pytest.approx(np.pi / 2, rel=1e-15)


def test_mean_chip_of_a_full_slot() -> None:
    assert mean_chip_thickness(1e-4, DIAMETER, DIAMETER) == pytest.approx(2e-4 / np.pi, rel=1e-15)


def test_mean_chip_of_a_light_cut_goes_as_the_square_root_of_depth() -> None:
    assert mean_chip_thickness(1e-4, 1e-9 * DIAMETER, DIAMETER) == pytest.approx(1e-4 * np.sqrt(1e-9), rel=1e-8)


def test_no_depth_gives_no_chip_and_no_warning() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert mean_chip_thickness(1e-4, 0.0, DIAMETER) == 0.0
        assert max_chip_thickness(1e-4, 0.0, DIAMETER) == 0.0


def test_mean_chip_times_engaged_arc_is_the_area_fed_per_tooth() -> None:
    arc = engagement_angle(DEPTHS, DIAMETER) * DIAMETER / 2
    assert mean_chip_thickness(1e-4, DEPTHS, DIAMETER) * arc == pytest.approx(1e-4 * DEPTHS, rel=1e-12)


def test_greatest_chip_is_the_feed_per_tooth_from_half_engagement_on() -> None:
    assert max_chip_thickness(1e-4, DEPTHS[3:], DIAMETER) == pytest.approx(np.full(3, 1e-4), rel=1e-15)
    share = 0.05
    assert max_chip_thickness(1e-4, share * DIAMETER, DIAMETER) == pytest.approx(
        2e-4 * np.sqrt(share - share**2), rel=1e-14
    )


def test_one_tooth_in_cut_over_a_turn_shared_by_all() -> None:
    assert teeth_in_cut(4, np.pi) == pytest.approx(2.0, rel=1e-15)


def test_cusp_is_the_sagitta_for_a_small_feed() -> None:
    feed = 1e-4
    sagitta = DIAMETER / 2 - np.sqrt((DIAMETER / 2) ** 2 - (feed / 2) ** 2)
    assert cusp_height(feed, DIAMETER) == pytest.approx(sagitta, rel=1e-4)


def test_arrays_equal_scalars() -> None:
    for function in (mean_chip_thickness, max_chip_thickness):
        assert function(1e-4, DEPTHS, DIAMETER)[2] == function(1e-4, float(DEPTHS[2]), DIAMETER)
        assert np.ndim(function(1e-4, 1e-3, DIAMETER)) == 0
    assert engagement_angle(DEPTHS, DIAMETER)[4] == engagement_angle(float(DEPTHS[4]), DIAMETER)


def test_refuses_a_depth_beyond_the_diameter() -> None:
    message = r"engagement_angle: radial_depth must not exceed the diameter \[m\], given 1.5 times the diameter"
    for call in (
        lambda: engagement_angle(9e-3, DIAMETER),
        lambda: mean_chip_thickness(1e-4, np.array([1e-3, 9e-3]), DIAMETER),
        lambda: max_chip_thickness(1e-4, 9e-3, DIAMETER),
    ):
        with pytest.raises(ValueError, match=f"^{message}$"):
            call()


def test_refuses_a_standing_spindle_and_no_diameter() -> None:
    with pytest.raises(ValueError, match=r"^feed_per_tooth: spindle_speed must be at least 1e-12 \[1/s\], given 0$"):
        feed_per_tooth(0.1, 0.0, 4)
    with pytest.raises(ValueError, match=r"^spindle_speed: diameter must be at least 1e-12 \[m\], given 0$"):
        spindle_speed(0.0, 10.0)
