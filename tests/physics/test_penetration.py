"""A wheel fed into a soft layer to a set depth: force, strip and stiffness."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import quad

from finishplan.physics import penetrated_half_width, penetration_force, penetration_stiffness
from finishplan.physics.contact import winkler_cylinder

MM = 1e-3
BED = 2.5e7
"""Half a newton per square millimetre on 20 mm [N/m3]."""

DEPTHS = np.array([0.2, 1.0, 2.5]) * MM


@pytest.mark.parametrize("depth", DEPTHS)
def test_the_force_is_the_sum_of_the_springs_under_the_wheel(depth: float) -> None:
    radius, width = 40 * MM, 30 * MM
    half_width = penetrated_half_width(depth, radius)
    carried, _ = quad(lambda x: width * BED * (depth - x**2 / (2 * radius)), -half_width, half_width)
    assert penetration_force(depth, radius, width, BED) == pytest.approx(carried, rel=1e-10)


def test_no_spring_is_pressed_beyond_the_strip() -> None:
    half_width = penetrated_half_width(DEPTHS, 40 * MM)
    assert half_width**2 / (2 * 40 * MM) == pytest.approx(DEPTHS, rel=1e-14)


def test_it_undoes_the_approach_of_a_wheel_under_a_force() -> None:
    pressed = winkler_cylinder(np.array([100.0, 2000.0]), 75 * MM, BED)
    assert penetration_force(pressed.approach, 75 * MM, 1.0, BED) == pytest.approx([100.0, 2000.0], rel=1e-12)
    assert penetrated_half_width(pressed.approach, 75 * MM) == pytest.approx(pressed.half_width, rel=1e-12)


def test_the_stiffness_is_the_slope_of_the_force() -> None:
    step = 1e-8
    above, below = (penetration_force(DEPTHS + sense * step, 40 * MM, 30 * MM, BED) for sense in (1, -1))
    # the difference of two forces keeps about nine digits
    assert penetration_stiffness(DEPTHS, 40 * MM, 30 * MM, BED) == pytest.approx((above - below) / 2 / step, rel=1e-7)


def test_nothing_touches_at_no_depth() -> None:
    assert penetration_force(0.0, 40 * MM, 30 * MM, BED) == 0
    assert penetration_stiffness(0.0, 40 * MM, 30 * MM, BED) == 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: penetration_force(-1e-3, 0.04, 0.03, BED), "penetration must be at least 0 [m], given -0.001"),
        (lambda: penetration_stiffness(1e-3, 0.0, 0.03, BED), "radius must be at least 1e-12 [m], given 0"),
        (lambda: penetrated_half_width(-1e-3, 0.04), "penetration must be at least 0 [m], given -0.001"),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        call()
