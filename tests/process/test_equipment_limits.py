"""Limits of spindle, device and robot that every process shares, at the very figures where they are reached."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan.physics import required_stroke
from finishplan.process.edge_conditions import CompliantMount, EdgeConditions, EdgeState
from finishplan.process.equipment_limits import (
    LEAST_FORCE,
    accuracy_left,
    allowed_ripple,
    approach_limit,
    device_limits,
    following_limits,
    pressed_force,
    robot_limits,
    spindle_speed_limits,
    surface_speed_limits,
)
from finishplan.process.limits import Limit, highest_utilisation


def named(limits: Iterable[Limit]) -> dict[str, Limit]:
    return {limit.name: limit for limit in limits}


@pytest.fixture
def passive(conditions: Any) -> EdgeConditions:
    return conditions("passive")


@pytest.fixture
def looped(conditions: Any) -> EdgeConditions:
    return conditions("force loop")


def test_friction_is_overcome_before_anything_is_followed() -> None:
    assert pressed_force(5.0, 0.8) == pytest.approx(4.2)
    assert pressed_force(0.5, 0.8) == LEAST_FORCE
    assert list(pressed_force(np.array([0.5, 5.0]), 0.8)) == [LEAST_FORCE, 4.2]


def test_ripple_is_a_share_of_the_force() -> None:
    assert allowed_ripple(30.0, 0.2) == pytest.approx(6.0)


def test_the_range_of_a_spindle_may_be_used_whole_and_the_marking_of_a_tool_may_not(passive: EdgeConditions) -> None:
    limits = named(spindle_speed_limits(667.0, passive.spindle, 667.0, "cutter"))
    assert highest_utilisation([limits["highest spindle speed"]], 0.2) == pytest.approx(1.0)
    assert highest_utilisation([limits["rated speed of the tool"]], 0.2) == pytest.approx(1.25)
    assert limits["lowest spindle speed"].utilisation == pytest.approx(100 / 667)


@pytest.mark.parametrize(("speed", "high", "low"), [(3.0, 1.0, 0.0), (1.0, 0.0, 1.0), (2.0, 0.0, 0.0), (2.5, 0.5, 0.0)])
def test_a_window_of_speeds_is_counted_from_its_middle(speed: float, high: float, low: float) -> None:
    limits = named(surface_speed_limits(speed, 1.0, 3.0, "abrasive"))
    assert limits["highest surface speed"].utilisation == pytest.approx(high)
    assert limits["lowest surface speed"].utilisation == pytest.approx(low)


def test_half_the_stroke_is_there_each_way(passive: EdgeConditions) -> None:
    assert isinstance(passive.mount, CompliantMount)
    limits = named(device_limits(passive.mount, 10.0, 0.1e-3))
    assert limits["compliance stroke each way"].bound == pytest.approx(7e-3)
    assert limits["highest device force"].utilisation == pytest.approx(10 / 40)
    assert limits["lowest device force"].utilisation == pytest.approx(3 / 10)


def test_at_the_path_accuracy_allowed_the_stroke_needed_is_the_stroke_available(passive: EdgeConditions) -> None:
    mount = passive.mount
    assert isinstance(mount, CompliantMount)
    bound = named(device_limits(mount, 10.0, 0.1e-3))["path accuracy"].bound
    needed = required_stroke(
        np.array([bound, 0.9e-3, 0.4e-3]), 1.0, wear_allowance=0.2e-3, end_stop_reserve=mount.end_stop_reserve
    )
    assert needed == pytest.approx(mount.stroke / 2, rel=1e-12)


@pytest.mark.parametrize("accuracy", [0.1e-3, 1e-3, 4.1e-3, 6e-3])
def test_stroke_and_path_accuracy_are_used_alike(passive: EdgeConditions, accuracy: float) -> None:
    """The errors of the robot and of all else add up, so that the margin of the one is that of the other."""
    mount = passive.mount
    assert isinstance(mount, CompliantMount)
    mount = replace(mount, stroke_needed=(accuracy + mount.other_errors) / (1 - mount.end_stop_reserve))
    limits = named(device_limits(mount, 10.0, accuracy))
    share = limits["compliance stroke each way"].utilisation
    assert limits["path accuracy"].utilisation == pytest.approx(share, rel=1e-12)


def test_no_path_accuracy_is_left_where_the_others_take_up_the_stroke(passive: EdgeConditions) -> None:
    assert accuracy_left(4e-3, 1.7e-3, 0.2) == 0.0
    assert isinstance(passive.mount, CompliantMount)
    crowded = named(device_limits(replace(passive.mount, other_errors=6e-3), 10.0, 0.1e-3))
    assert crowded["path accuracy"].bound == 0.0
    assert 1 < crowded["path accuracy"].utilisation < 2


class TestFollowing:
    def test_a_mass_lifts_off_where_its_acceleration_takes_all_of_the_force(self, passive: EdgeConditions) -> None:
        """On a sine of amplitude a the mass needs a w^2 m; spring and force give F - friction + k a."""
        assert isinstance(passive.mount, CompliantMount)
        limits = named(following_limits(passive.mount, passive.edge, passive.rules, 5.0, 0.06))
        feed = limits["loss of contact on the waviness"].bound
        rate = 2 * np.pi * feed / 50e-3
        assert 0.1e-3 * rate**2 * 0.8 == pytest.approx(5.0 - 0.8 + 300.0 * 0.1e-3, rel=1e-9)

    def test_form_errors_stay_below_the_natural_frequency(self, passive: EdgeConditions) -> None:
        assert isinstance(passive.mount, CompliantMount)
        limits = named(following_limits(passive.mount, passive.edge, passive.rules, 5.0, 0.06))
        frequency = limits["form error followed by the suspension"].bound / 50e-3
        assert frequency * 3.0 == pytest.approx(np.sqrt(300.0 / 0.8) / (2 * np.pi), rel=1e-9)

    def test_a_force_loop_has_no_spring_to_follow_with(self, looped: EdgeConditions) -> None:
        assert isinstance(looped.mount, CompliantMount)
        limits = named(following_limits(looped.mount, looped.edge, looped.rules, 5.0, 0.06))
        assert set(limits) == {"loss of contact on the waviness", "force loop on the waviness"}

    def test_a_straight_path_is_followed_at_any_feed(self, looped: EdgeConditions) -> None:
        straight: EdgeState = replace(looped.edge, waviness_amplitude=1e-12)
        assert isinstance(looped.mount, CompliantMount)
        for limit in following_limits(looped.mount, straight, looped.rules, 5.0, 0.06):
            assert limit.utilisation < 1e-3


def test_an_impact_that_leaves_no_speed_worth_programming(passive: EdgeConditions) -> None:
    assert approach_limit(0.002, passive.rules).utilisation == pytest.approx(1.0)
    assert approach_limit(0.001, passive.rules).utilisation == pytest.approx(2.0)


def test_the_force_of_the_process_hangs_on_the_robot_as_well(passive: EdgeConditions) -> None:
    limits = named(robot_limits(passive.robot, 9.80665 * 3.0, 0.25))
    assert limits["robot payload"].value == pytest.approx(7.0, rel=1e-9)
    assert limits["robot speed"].utilisation == pytest.approx(0.25)
