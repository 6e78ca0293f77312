"""Identities and limits of forces, power and tool life."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    cutting_power,
    normal_force,
    normal_force_ratio,
    removal_rate,
    surface_speed,
    tangential_force,
    tool_life,
    torque,
)


def test_torque_is_tangential_force_on_the_radius() -> None:
    diameter, turns, power = 8e-3, 400.0, 350.0
    force = tangential_force(power, surface_speed(diameter, turns))
    assert torque(power, turns) == pytest.approx(force * diameter / 2, rel=1e-15)


def test_force_of_a_cut_does_not_depend_on_the_feed_but_through_the_section_per_turn() -> None:
    power = cutting_power(2e9, removal_rate(2e-7, 0.05))
    assert power == pytest.approx(20.0, rel=1e-15)
    assert tangential_force(power, 10.0) == pytest.approx(2e9 * 2e-7 * 0.05 / 10, rel=1e-15)


def test_without_rake_the_force_ratio_is_the_friction() -> None:
    frictions = np.array([0.0, 0.5, 1.0, 3.0])
    assert normal_force_ratio(0.0, frictions) == pytest.approx(frictions, rel=1e-14)


def test_force_ratio_is_negative_where_rake_exceeds_the_friction_angle() -> None:
    assert normal_force_ratio(0.3, 0.2) < 0 < normal_force_ratio(-0.3, 0.2)


def test_normal_force_is_the_ratio_times_the_tangential_force() -> None:
    assert normal_force(np.array([10.0, 20.0]), 1.2) == pytest.approx([12.0, 24.0])


def test_tool_life_at_the_reference_speed_is_the_reference_life() -> None:
    assert tool_life(5.0, 5.0, 0.25) == 1.0
    assert tool_life(5.0, 5.0, 0.25, reference_life=900.0) == 900.0


def test_tool_life_follows_its_own_law() -> None:
    speeds = np.array([1.0, 2.0, 4.0])
    lives = tool_life(speeds, 5.0, 0.25)
    assert speeds * lives**0.25 == pytest.approx(np.full(3, 5.0), rel=1e-14)
    assert lives[1] == pytest.approx(tool_life(2.0, 5.0, 0.25), rel=1e-15)


def test_scalars_stay_scalars() -> None:
    assert np.ndim(normal_force_ratio(-0.2, 0.5)) == 0
    assert np.ndim(tool_life(2.0, 5.0, 0.25)) == 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: torque(100.0, 0.0), "torque: spindle_speed must be at least 1e-12 [1/s], given 0"),
        (
            lambda: tangential_force(100.0, 0.0),
            "tangential_force: surface_speed must be at least 1e-12 [m/s], given 0",
        ),
        (lambda: removal_rate(-1e-7, 0.1), "removal_rate: area must be at least 0 [m^2], given -1e-07"),
        (
            lambda: normal_force_ratio(np.array([0.0, -0.7]), 2.0),
            "normal_force_ratio: arctan(friction_coefficient) - effective_rake must be below pi/2 [rad], given 1.80715",
        ),
        (lambda: tool_life(2.0, 5.0, 0.0), "tool_life: taylor_n must be between 0.01 and 2 [1], given 0"),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()
