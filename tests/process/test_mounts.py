"""How the mounts press and how fast they may touch down."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from finishplan.physics import impact_force, series_stiffness
from finishplan.process.edge_conditions import EdgeConditions
from finishplan.process.mounts import allowed_impact, approach_room, delivered_force, press

Given = Callable[[str], EdgeConditions]


def test_a_device_presses_from_its_set_force_along_its_spring(conditions: Given) -> None:
    pressing = press(conditions("passive").mount, 12.0)
    assert (pressing.set_force, pressing.stiffness, pressing.aimed_depth) == (12.0, 300.0, 0.4e-3)


def test_a_rigid_tool_presses_by_bending_alone(conditions: Given) -> None:
    pressing = press(conditions("rigid").mount, 0.5e-3)
    assert (pressing.set_force, pressing.stiffness, pressing.aimed_depth) == (0.0, 4e5, 0.5e-3)


@pytest.mark.parametrize(("force", "error", "given"), [(10.0, -0.8, 9.2), (10.0, 0.8, 10.8), (0.5, -0.8, 0.0)])
def test_friction_shifts_the_force_but_never_pulls(force: float, error: float, given: float) -> None:
    assert delivered_force(force, error) == pytest.approx(given, rel=1e-12)


def test_a_compliant_touch_down_peaks_at_the_allowed_multiple(conditions: Given) -> None:
    state = conditions("passive")
    pressing = press(state.mount, 12.0)
    speed = approach_room(state.mount, pressing, 0.2e-3, state.rules)
    assert impact_force(12.0, speed, 3e5, 0.8) == pytest.approx(allowed_impact(12.0, 1.5), rel=1e-12)


def test_a_rigid_touch_down_bends_by_half_the_band(conditions: Given) -> None:
    state = conditions("rigid")
    pressing = press(state.mount, 0.5e-3)
    speed = approach_room(state.mount, pressing, 0.2e-3, state.rules)
    peak = impact_force(0.0, speed, series_stiffness(3e5, 4e5), 6.0)
    assert peak / 4e5 == pytest.approx(0.2e-3, rel=1e-12)


@pytest.mark.parametrize(
    "model", [lambda mount: press(mount, 1.0), lambda mount: approach_room(mount, None, 1.0, None)]
)
def test_a_mount_of_no_known_kind(model: Callable[[Any], Any]) -> None:
    with pytest.raises(TypeError, match="object"):
        model(object())
