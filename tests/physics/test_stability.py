"""Limits of regenerative and mode-coupling chatter."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    milling_depth_estimate,
    milling_depth_limit,
    mode_coupling_limit,
    mode_coupling_stable,
    mode_coupling_window,
    process_stiffness,
    receptance,
    regenerative_depth_limit,
    round_tool_depth_limit,
)

ARM = (0.3e6, 0.4e6, np.radians(30), np.radians(60))


def test_receptance_at_rest_and_at_resonance() -> None:
    assert receptance(0.0, 2e6, 100.0, 0.02) == pytest.approx(5e-7, rel=1e-15)
    assert receptance(100.0, 2e6, 100.0, 0.02) == pytest.approx(-0.5j / (2e6 * 0.02), rel=1e-12)


def test_a_mode_askew_may_be_cut_deeper() -> None:
    straight = regenerative_depth_limit(1e7, 0.03, 2e9)
    assert straight == pytest.approx(2 * 1e7 * 0.03 * 1.03 / 2e9, rel=1e-14)
    assert regenerative_depth_limit(1e7, 0.03, 2e9, np.radians(60)) == pytest.approx(4 * straight, rel=1e-12)
    assert regenerative_depth_limit(1e7, 0.03, 2e9, -np.pi / 4) == pytest.approx(2 * straight, rel=1e-12)


def test_estimate_for_milling_shares_the_limit_among_the_teeth() -> None:
    assert milling_depth_estimate(3e-3, np.array([1.0, 1.5])) == pytest.approx([3e-3, 2e-3], rel=1e-14)
    assert milling_depth_estimate(3e-3, 1.5, 0.5) == pytest.approx(4e-3, rel=1e-14)


class TestMillingDepthLimit:
    frequencies = np.linspace(400.0, 700.0, 301)
    mode = receptance(frequencies, 5e6, 500.0, 0.03)

    def test_a_static_tool_cannot_chatter_in_climb(self) -> None:
        assert milling_depth_limit(0.0, 0.0, 1.0, 2, 1e9, 0.3, "climb") == np.inf

    def test_depth_falls_with_teeth_and_material_and_rises_with_stiffness(self) -> None:
        base = milling_depth_limit(self.mode, 0.0, 1.0, 2, 1e9, 0.3)
        assert milling_depth_limit(self.mode, 0.0, 1.0, 4, 2e9, 0.3) == pytest.approx(base / 4, rel=1e-12)
        assert milling_depth_limit(self.mode / 3, 0.0, 1.0, 2, 1e9, 0.3) == pytest.approx(3 * base, rel=1e-12)

    def test_a_full_slot_is_the_same_either_way(self) -> None:
        conventional = milling_depth_limit(self.mode, self.mode / 2, np.pi, 2, 1e9, 0.3, "conventional")
        climb = milling_depth_limit(self.mode, self.mode / 2, np.pi, 2, 1e9, 0.3, "climb")
        assert np.array_equal(conventional, climb)

    def test_a_scalar_stays_a_scalar(self) -> None:
        assert np.ndim(milling_depth_limit(self.mode[150], self.mode[150], 1.0, 2, 1e9, 0.3)) == 0


class TestRoundTool:
    @pytest.mark.parametrize("angle", [0.5, 1.5, np.pi])
    @pytest.mark.parametrize("ratio", [0.0, 0.6, 1.8])
    def test_least_of_the_two_directional_limit(self, angle: float, ratio: float) -> None:
        """The same receptance along and across the feed, at frequencies a hundred times as dense."""
        frequencies = np.linspace(450.0, 900.0, 60_001)
        mode = receptance(frequencies, 5e6, 500.0, 0.03)
        dense = milling_depth_limit(mode, mode, angle, 2, 1e9, ratio, "climb").min()
        assert round_tool_depth_limit(5e6, 0.03, angle, 2, 1e9, ratio) == pytest.approx(dense, rel=1e-3)

    def test_it_may_be_cut_no_less_deep_than_estimated_at_worst(self) -> None:
        angles = np.array([0.3, 0.8, 1.5, 3.0])
        one_edge = regenerative_depth_limit(5e6, 0.03, 1e9 * np.hypot(1, 0.6))
        estimate = milling_depth_estimate(one_edge, 2 * angles / (2 * np.pi))
        assert np.all(round_tool_depth_limit(5e6, 0.03, angles, 2, 1e9, 0.6) > estimate)


def test_process_stiffness_of_a_rotating_and_of_a_fixed_edge() -> None:
    assert process_stiffness(2e9, 4e-3, 0.02, 4.0) == pytest.approx(4e4, rel=1e-14)
    assert process_stiffness(2e9, 4e-3, 4.0, 4.0) == pytest.approx(8e6, rel=1e-14)


class TestModeCoupling:
    def test_window_from_the_shares_of_force_and_travel(self) -> None:
        along, across = np.cos(np.radians(30)) ** 2, np.sin(np.radians(30)) ** 2
        bounds = (np.sqrt(along) - np.sqrt(across)) ** 2, (np.sqrt(along) + np.sqrt(across)) ** 2
        assert mode_coupling_window(*ARM[2:], 1e5) == pytest.approx(1e5 * np.array(bounds), rel=1e-12)

    def test_window_is_empty_without_an_axis_between_normal_and_force(self) -> None:
        low, high = mode_coupling_window(np.radians(70), np.radians(60), 1e5)
        assert low == high

    def test_no_flutter_with_the_stiffer_axis_between_normal_and_force(self) -> None:
        processes = np.linspace(0, 3e5, 301)
        assert np.all(mode_coupling_stable(0.4e6, 0.3e6, *ARM[2:], processes))
        assert np.isinf(mode_coupling_limit(0.4e6, 0.3e6, *ARM[2:]))

    def test_equal_springs_never_flutter(self) -> None:
        angles = np.radians(np.linspace(0, 90, 91))
        assert np.all(mode_coupling_stable(3e5, 3e5, angles, np.radians(60), 2e5))

    def test_either_axis_may_be_called_the_first(self) -> None:
        process = np.linspace(0, 1e6, 401)
        first, second, axis, force = ARM
        verdicts = mode_coupling_stable(*ARM, process)
        assert np.array_equal(verdicts, mode_coupling_stable(second, first, axis + np.pi / 2, force, process))
        assert np.array_equal(verdicts, mode_coupling_stable(second, first, axis - np.pi / 2, force, process))
        assert mode_coupling_limit(*ARM) == pytest.approx(
            mode_coupling_limit(second, first, axis + np.pi / 2, force), rel=1e-9
        )

    @pytest.mark.parametrize(("axis_turns", "force_turns"), [(0.5, 0), (-1.5, 2), (3, -1)])
    def test_angles_need_not_be_reduced(self, axis_turns: float, force_turns: float) -> None:
        first, second, axis, force = ARM
        turned = (axis + 2 * np.pi * axis_turns, force + 2 * np.pi * force_turns)
        assert mode_coupling_window(*turned, 1e5) == pytest.approx(mode_coupling_window(axis, force, 1e5), rel=1e-9)
        assert mode_coupling_limit(first, second, *turned) == pytest.approx(mode_coupling_limit(*ARM), rel=1e-9)

    def test_mirror_image_behaves_alike(self) -> None:
        first, second, axis, force = ARM
        assert mode_coupling_limit(first, second, -axis, -force) == pytest.approx(mode_coupling_limit(*ARM), rel=1e-12)

    def test_limit_is_the_edge_of_stability(self) -> None:
        limit = mode_coupling_limit(*ARM)
        assert mode_coupling_stable(*ARM, 0.999 * limit)
        assert not mode_coupling_stable(*ARM, 1.001 * limit)

    def test_a_force_that_pulls_in_diverges_without_flutter(self) -> None:
        # axis along the normal and force against it: stiffness vanishes at k_1
        assert mode_coupling_limit(3e5, 4e5, 0.0, np.pi) == pytest.approx(3e5, rel=1e-12)
        assert mode_coupling_stable(3e5, 4e5, 0.0, np.pi, np.array([2.9e5, 3.1e5])).tolist() == [True, False]

    def test_a_stable_cut_beyond_the_window(self) -> None:
        assert mode_coupling_stable(*ARM, np.array([0.5e5, 1e5, 8e5])).tolist() == [True, False, True]


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: regenerative_depth_limit(1e6, 1.0, 1e9),
            "regenerative_depth_limit: damping_ratio must be between 1e-06 and 0.99 [1], given 1",
        ),
        (
            lambda: mode_coupling_stable(0.0, 1e5, 0.1, 0.2, 1e4),
            "mode_coupling_stable: stiffness_1 must be at least 1e-12 [N/m], given 0",
        ),
        (
            lambda: milling_depth_limit(1e-6j, 0.0, 1.0, 2, 1e9, 0.3, "sideways"),
            "milling_depth_limit: direction must be one of conventional, climb, given 'sideways'",
        ),
        (
            lambda: process_stiffness(1e9, 1e-3, 0.1, 0.0),
            "process_stiffness: surface_speed must be at least 1e-12 [m/s], given 0",
        ),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()
