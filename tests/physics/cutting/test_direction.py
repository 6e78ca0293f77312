"""Signs, limits and identities of the forces along and across the feed."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from finishplan.physics import feed_direction_force, wall_force

TANGENTIAL, NORMAL = 20.0, 8.0
ANGLES = np.array([1e-4, 0.3, np.pi / 2, 2.5, np.pi])


def test_light_conventional_cut_opposes_the_feed_and_climb_pulls_along() -> None:
    assert feed_direction_force(TANGENTIAL, NORMAL, 1e-7, "conventional") == pytest.approx(TANGENTIAL, rel=1e-6)
    assert feed_direction_force(TANGENTIAL, NORMAL, 1e-7, "climb") == pytest.approx(-TANGENTIAL, rel=1e-6)


def test_light_cut_pushes_away_from_the_wall_by_its_normal_force() -> None:
    assert wall_force(TANGENTIAL, NORMAL, 0.0, "climb") == wall_force(TANGENTIAL, NORMAL, 0.0) == NORMAL


def test_no_engagement_needs_no_warning() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert feed_direction_force(TANGENTIAL, NORMAL, 0.0) == TANGENTIAL


def test_full_slot() -> None:
    assert feed_direction_force(TANGENTIAL, NORMAL, np.pi) == pytest.approx(NORMAL * np.pi / 4, rel=1e-14)
    assert wall_force(TANGENTIAL, NORMAL, np.pi, "climb") == pytest.approx(TANGENTIAL * np.pi / 4, rel=1e-14)


def test_climb_leaves_more_stock_than_conventional() -> None:
    climb = wall_force(TANGENTIAL, NORMAL, ANGLES, "climb")
    conventional = wall_force(TANGENTIAL, NORMAL, ANGLES, "conventional")
    assert np.all(climb > conventional)
    assert conventional[-1] < 0


def test_mean_of_both_directions_is_the_share_of_the_normal_force() -> None:
    both = feed_direction_force(TANGENTIAL, NORMAL, ANGLES) + feed_direction_force(TANGENTIAL, NORMAL, ANGLES, "climb")
    assert both / 2 == pytest.approx(feed_direction_force(0.0, NORMAL, ANGLES), rel=1e-10)


def test_arrays_equal_scalars() -> None:
    assert feed_direction_force(TANGENTIAL, NORMAL, ANGLES)[1] == feed_direction_force(TANGENTIAL, NORMAL, 0.3)
    assert np.ndim(wall_force(TANGENTIAL, NORMAL, 0.3)) == 0


def test_refuses_other_directions_and_angles() -> None:
    with pytest.raises(ValueError, match=r"^wall_force: direction must be one of conventional, climb, given 'up'$"):
        wall_force(TANGENTIAL, NORMAL, 1.0, "up")
    with pytest.raises(ValueError, match=r"^feed_direction_force: engagement_angle must be between 0 and 3.14159"):
        feed_direction_force(TANGENTIAL, NORMAL, 4.0)
