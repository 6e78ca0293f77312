"""Travel, preload, weight, friction and pressure of a compliant mount."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    device_force_scatter,
    device_pressure,
    gravity_force,
    payload_with_force,
    preload_offset,
    required_stroke,
    smallest_usable_force,
)

ERRORS = np.array([0.5e-3, 0.2e-3, 0.9e-3, 0.2e-3, 0.2e-3])


def test_worst_case_is_the_sum_of_the_half_widths() -> None:
    assert required_stroke(ERRORS, 2.0, "worst case") == pytest.approx(2.0e-3, rel=1e-14)
    assert required_stroke(-ERRORS, 0.0) == pytest.approx(2.0e-3, rel=1e-14)


def test_statistical_with_the_root_of_three_is_the_root_sum_of_squares() -> None:
    assert required_stroke(ERRORS, np.sqrt(3), "statistical") == pytest.approx(np.hypot.reduce(ERRORS), rel=1e-14)


def test_one_contribution_at_coverage_root_three_is_its_own_bound() -> None:
    assert required_stroke(np.array([3e-4]), np.sqrt(3), "statistical") == pytest.approx(3e-4, rel=1e-14)


def test_allowance_adds_and_reserve_widens() -> None:
    assert required_stroke(ERRORS, 2.0, wear_allowance=0.4e-3) == pytest.approx(2.4e-3, rel=1e-14)
    assert required_stroke(ERRORS, 2.0, wear_allowance=0.4e-3, end_stop_reserve=0.2) == pytest.approx(3e-3, rel=1e-14)


def test_many_budgets_at_once() -> None:
    budgets = np.stack([ERRORS, 2 * ERRORS])
    travels = required_stroke(budgets, 2.0, "statistical")
    assert travels.shape == (2,)
    assert travels[1] == pytest.approx(2 * required_stroke(ERRORS, 2.0, "statistical"), rel=1e-14)


def test_preload_leaves_equal_travel_both_ways() -> None:
    assert preload_offset(12e-3) == 6e-3


def test_weight_turns_its_sign_with_the_tool_overhead() -> None:
    assert gravity_force(2.0, 0.0) == pytest.approx(19.6133, rel=1e-15)
    assert gravity_force(2.0, np.pi) == -gravity_force(2.0, 0.0)
    assert gravity_force(2.0, np.pi / 2) == pytest.approx(0.0, abs=1e-14)
    assert gravity_force(2.0, 0.0, gravity=1.62) == 3.24


def test_process_force_loads_the_robot_as_its_weight_would() -> None:
    assert payload_with_force(12.0, gravity_force(3.0, 0.0)) == pytest.approx(15.0, rel=1e-15)
    assert payload_with_force(12.0, 0.0) == 12.0


def test_smallest_force_is_a_multiple_of_half_the_band() -> None:
    assert smallest_usable_force(np.array([1.0, 4.0]), 5.0) == pytest.approx([2.5, 10.0])


def test_pressure_of_a_piston() -> None:
    assert device_pressure(60.0, 3e-4) == pytest.approx(2e5, rel=1e-15)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: required_stroke(ERRORS, 2.0, "average"),
            "required_stroke: method must be one of worst case, statistical, given 'average'",
        ),
        (
            lambda: required_stroke(ERRORS, 2.0, end_stop_reserve=1.0),
            "required_stroke: end_stop_reserve must be between 0 and 0.99 [1], given 1",
        ),
        (lambda: device_pressure(10.0, 0.0), "device_pressure: effective_area must be at least 1e-12 [m^2], given 0"),
        (lambda: preload_offset(-1e-3), "preload_offset: stroke must be at least 0 [m], given -0.001"),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()


def test_a_spring_adds_to_friction_over_the_position_error() -> None:
    assert device_force_scatter(1.5, np.array([0.0, 500.0]), 1e-3) == pytest.approx([1.5, 2.0])
