"""The forward model of an edge: balances that must close, limits of its parts, shapes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cached_property
from typing import Any

import numpy as np
import pytest

from finishplan.physics import bisector_area, burr_area, chamfer_area, chamfer_depth, mean_chip_thickness
from finishplan.process.edge_break import half_band_depth, section_into_edge
from finishplan.process.edge_conditions import EdgeConditions, OperatingPoint
from finishplan.process.edge_cutting import (
    Prediction,
    engaged_depth,
    passes_to_clear,
    power_at_speed,
    predict,
)

Given = Callable[[str], EdgeConditions]
At = Callable[[str], OperatingPoint]
SPEEDS, POWERS = np.array([100.0, 300.0, 600.0]), np.array([100.0, 400.0, 300.0])
FIGURES = [name for name, each in vars(Prediction).items() if isinstance(each, cached_property) and name != "pressing"]

mounts = pytest.mark.parametrize("kind", ["passive", "force loop", "rigid"])


@mounts
@pytest.mark.parametrize("passes", [1, 3])
def test_what_is_removed_is_burr_and_edge_break(conditions: Given, point: At, kind: str, passes: int) -> None:
    state = conditions(kind)
    found = predict(state, replace(point(kind), passes=passes))
    broken = chamfer_area(found.leg, state.edge.included_angle)
    assert found.section == pytest.approx(broken + burr_area(0.4e-3, 0.12e-3), rel=1e-12)
    assert found.section == pytest.approx(bisector_area(found.depth, state.edge.included_angle), rel=1e-12)


@mounts
def test_force_speed_power_and_torque_belong_together(conditions: Given, point: At, kind: str) -> None:
    found = predict(conditions(kind), point(kind))
    assert found.power == pytest.approx(found.tangential_force * found.surface_speed, rel=1e-12)
    assert found.power == pytest.approx(found.specific_force * found.removal_rate, rel=1e-12)
    assert found.torque == pytest.approx(found.tangential_force * 8e-3 / 2, rel=1e-12)
    assert found.normal_force == pytest.approx(1.2 * found.tangential_force, rel=1e-12)


def test_the_cut_asks_for_what_a_passive_device_gives(conditions: Given, point: At) -> None:
    found = predict(conditions("passive"), point("passive"))
    given = 5.0 + 300.0 * (0.4e-3 - found.depth)
    assert found.normal_force == pytest.approx(given, rel=1e-9)


def test_the_cut_asks_for_what_a_force_loop_gives(conditions: Given, point: At, changed: Any) -> None:
    for shift in (-0.8, 0.0, 0.8):
        state = changed(conditions("force loop"), "mount.force_error", shift)
        assert predict(state, point("force loop")).normal_force == pytest.approx(5.0 + shift, rel=1e-9)


def test_the_cut_asks_for_what_bends_a_rigid_tool(conditions: Given, point: At, changed: Any) -> None:
    state = changed(conditions("rigid"), "edge.path_error", 0.05e-3)
    found = predict(state, point("rigid"))
    assert found.normal_force == pytest.approx(4e5 * (0.45e-3 + 0.05e-3 - found.depth), rel=1e-8)


def test_forces_are_those_of_the_first_pass(conditions: Given, point: At) -> None:
    once = predict(conditions("passive"), point("passive"))
    thrice = predict(conditions("passive"), replace(point("passive"), passes=3))
    assert thrice.power == once.power
    assert thrice.max_chip_thickness == once.max_chip_thickness
    assert thrice.leg > once.leg


def test_a_burr_left_standing_leaves_no_edge_break(conditions: Given, point: At, changed: Any) -> None:
    found = predict(changed(conditions("force loop"), "edge.burr_height", 8e-3), point("force loop"))
    assert 0 < found.section < found.burr_section
    assert found.leg == 0.0


def test_the_chip_law_is_fed_the_mean_chip(conditions: Given, point: At) -> None:
    state, at = conditions("passive"), point("passive")
    found = predict(state, at)
    chip = mean_chip_thickness(0.06 / (500.0 * 10.0), found.depth, 8e-3)
    assert found.specific_force == pytest.approx(720e6 * 1.2 * 1.15 * (chip / 1e-3) ** -0.25, rel=1e-12)
    assert chip < found.max_chip_thickness < found.feed_per_tooth


@mounts
def test_arrays_of_points_equal_their_elements(conditions: Given, point: At, kind: str) -> None:
    state, at = conditions(kind), point(kind)
    speeds, feeds, settings = np.array([300.0, 500.0, 600.0]), np.array([0.02, 0.06, 0.1]), np.array([0.7, 1.0, 1.3])
    together = predict(state, OperatingPoint(speeds, feeds, settings * at.setting, 2))
    for i in range(3):
        alone = predict(state, OperatingPoint(speeds[i], feeds[i], settings[i] * at.setting, 2))
        for name in FIGURES:
            wide = np.broadcast_to(getattr(together, name), 3)
            assert wide[i] == pytest.approx(getattr(alone, name), rel=1e-9), name


@mounts
def test_a_scalar_point_gives_scalars(conditions: Given, point: At, kind: str) -> None:
    found = predict(conditions(kind), point(kind))
    assert all(np.ndim(getattr(found, name)) == 0 for name in FIGURES)


def test_a_cutter_meets_no_more_than_its_radius() -> None:
    assert list(engaged_depth(np.array([1e-3, 4e-3, 9e-3]), 8e-3)) == [1e-3, 4e-3, 4e-3]


def test_a_burr_takes_its_section_first() -> None:
    assert list(section_into_edge(np.array([1.0, 2.0, 3.0]), 2.0)) == [0.0, 0.0, 1.0]


@pytest.mark.parametrize(
    ("speed", "power"),
    [
        pytest.param(100.0, 100.0, id="first point"),
        pytest.param(200.0, 250.0, id="between two points"),
        pytest.param(450.0, 350.0, id="falling part"),
        pytest.param(600.0, 300.0, id="last point"),
        pytest.param(600.1, 0.0, id="beyond the curve"),
        pytest.param(40.0, 40.0, id="below the curve, at the torque of its first point"),
    ],
)
def test_power_on_the_curve(speed: float, power: float) -> None:
    assert power_at_speed(speed, SPEEDS, POWERS) == pytest.approx(power, rel=1e-12)


def test_power_of_many_speeds_at_once() -> None:
    assert list(power_at_speed(np.array([50.0, 300.0, 700.0]), SPEEDS, POWERS)) == [50.0, 400.0, 0.0]


def test_half_the_band_as_depth(conditions: Given) -> None:
    wanted = chamfer_depth(0.8e-3, np.pi / 2) - chamfer_depth(0.3e-3, np.pi / 2)
    assert half_band_depth(conditions("passive")) == pytest.approx(wanted / 2, rel=1e-12)


def passes_counted(state: EdgeConditions, at: OperatingPoint) -> int:
    """Passes after which the burr is gone, one after another."""
    for passes in range(1, 100):
        found = predict(state, replace(at, passes=passes))
        if found.section >= found.burr_section:
            return passes
    raise AssertionError("a hundred passes do not clear the burr")


@pytest.mark.parametrize("kind", ["passive", "force loop", "rigid"])
def test_passes_that_would_clear_a_large_burr(conditions: Given, point: At, changed: Any, kind: str) -> None:
    """Counted from one pass on, whatever number the point itself is for."""
    needed = []
    for height in (0.2e-3, 1e-3, 3e-3):
        state = changed(conditions(kind), "edge.burr_height", height)
        needed.append(passes_to_clear(state, replace(point(kind), passes=3)))
        assert needed[-1] == passes_counted(state, point(kind))
    assert needed[0] == 1
    assert needed == sorted(needed)


def test_passes_of_a_constant_force_follow_from_the_sections(conditions: Given, point: At, changed: Any) -> None:
    """With the same kc for every chip, every pass takes the same section."""
    state = changed(changed(conditions("force loop"), "edge.burr_height", 12e-3), "chip_law.mc", 0.0)
    once = predict(state, point("force loop"))
    assert passes_to_clear(state, point("force loop")) == np.ceil(once.burr_section / once.section)


def test_no_number_of_passes_clears_below_the_path_of_a_rigid_tool(conditions: Given, point: At, changed: Any) -> None:
    large = changed(conditions("rigid"), "edge.burr_height", 40e-3)
    assert bisector_area(point("rigid").setting, np.pi / 2) < burr_area(40e-3, 0.12e-3)
    assert passes_to_clear(large, point("rigid")) is None


def test_no_number_of_passes_clears_without_contact(conditions: Given, point: At, changed: Any) -> None:
    away = changed(conditions("rigid"), "edge.path_error", -0.6e-3)
    assert predict(away, point("rigid")).section == 0
    assert passes_to_clear(away, point("rigid")) is None
