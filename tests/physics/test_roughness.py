"""Roughness of sanded surfaces and what each grit has to take off."""

from __future__ import annotations

import re

import numpy as np
import pytest

from finishplan.physics import (
    floor_roughness,
    grain_size_ratio,
    removal_for_roughness,
    roughness_after_removal,
    scratch_removal,
)

UM = 1e-6


def test_floor_grows_with_the_grain() -> None:
    assert floor_roughness(0.01, np.array([269, 82]) * UM) == pytest.approx([2.69 * UM, 0.82 * UM], rel=1e-14)


class TestApproachToTheFloor:
    def test_starts_where_it_was_and_ends_at_the_floor(self) -> None:
        roughness = roughness_after_removal(3 * UM, 0.8 * UM, np.array([0, 6, 600]) * UM, 6 * UM)
        assert roughness[0] == 3 * UM
        assert roughness[1] - 0.8 * UM == pytest.approx(2.2 * UM / np.e, rel=1e-14)
        assert roughness[2] == pytest.approx(0.8 * UM, rel=1e-14)

    def test_a_coarse_grit_spoils_a_fine_surface(self) -> None:
        assert roughness_after_removal(0.2 * UM, 0.8 * UM, 3 * UM, 6 * UM) > 0.2 * UM

    def test_removal_is_the_inverse(self) -> None:
        wanted = np.array([2.5, 1.2, 0.81]) * UM
        removal = removal_for_roughness(3 * UM, 0.8 * UM, wanted, 6 * UM)
        assert roughness_after_removal(3 * UM, 0.8 * UM, removal, 6 * UM) == pytest.approx(wanted, rel=1e-13)

    def test_nothing_to_take_off_a_surface_that_is_fine_enough(self) -> None:
        assert removal_for_roughness(np.array([0.5, 1.0]) * UM, 0.8 * UM, 1.0 * UM, 6 * UM) == pytest.approx([0, 0])

    def test_refuses_a_roughness_the_grit_never_reaches(self) -> None:
        with pytest.raises(ValueError, match=re.escape("removal_for_roughness: wanted must be above floor [m]")):
            removal_for_roughness(3 * UM, 0.8 * UM, np.array([1.0, 0.8]) * UM, 6 * UM)


def test_scratches_of_the_grit_before() -> None:
    assert scratch_removal(1.2, 6.5, 1.8 * UM) == pytest.approx(14.04 * UM, rel=1e-14)


def test_step_between_grits() -> None:
    assert grain_size_ratio(82 * UM, np.array([46.2, 25.8]) * UM) == pytest.approx([1.775, 3.178], abs=5e-4)


def test_refuses_a_roughness_in_millimetres() -> None:
    with pytest.raises(ValueError, match=re.escape("roughness_after_removal: initial must be between 0 and 0.001 [m]")):
        roughness_after_removal(3.0, 0.8 * UM, 1 * UM, 6 * UM)
