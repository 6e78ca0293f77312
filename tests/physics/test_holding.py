"""Loads on a gripper, and what jaws, suction and magnets hold."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    ambient_pressure,
    jaw_force,
    jaw_force_for_moment,
    magnet_force,
    magnet_shear_force,
    process_resultant,
    required_vacuum,
    resultant_load,
    vacuum_force,
    wrist_moment,
)


def test_resultant_of_normal_and_tangential_force() -> None:
    assert process_resultant(30.0, np.array([40.0, 0.0])) == pytest.approx([50.0, 30.0], rel=1e-15)


def test_load_adds_force_weight_and_inertia() -> None:
    assert resultant_load(25.0, 2.0, 3.0) == pytest.approx(25 + 2 * 12.80665, rel=1e-15)
    assert resultant_load(25.0, 2.0, 0.0, gravity=1.62) == pytest.approx(28.24, rel=1e-15)


def test_moment_adds_force_and_weight_at_their_distances() -> None:
    assert wrist_moment(100.0, 0.3, 8.0, 0.1) == pytest.approx(30 + 8 * 9.80665 * 0.1, rel=1e-15)
    assert wrist_moment(100.0, 0.3, 8.0, 0.1, gravity=0.0, acceleration=5.0) == pytest.approx(34.0, rel=1e-15)


def test_jaw_force_shares_the_load_among_the_contacts() -> None:
    assert jaw_force(50.0, 3.0, 2.0, 0.25, np.array([2, 4])) == pytest.approx([600.0, 300.0], rel=1e-15)


def test_jaw_force_against_turning() -> None:
    assert jaw_force_for_moment(6.0, 1.5, 0.5, 2, 0.015) == pytest.approx(600.0, rel=1e-14)


def test_vacuum_asked_for_is_the_inverse_of_the_force_it_gives() -> None:
    force = vacuum_force(6e4, 2e-3, 0.8)
    assert force == pytest.approx(96.0, rel=1e-15)
    assert required_vacuum(force, 0.0, 1.0, 0.5, 2e-3, 0.8) == pytest.approx(6e4, rel=1e-14)
    assert required_vacuum(force / 4, force / 4, 2.0, 0.5, 2e-3, 0.8) == pytest.approx(9e4, rel=1e-14)


def test_ambient_pressure_falls_with_altitude() -> None:
    pressures = ambient_pressure(np.array([-400.0, 0.0, 1500.0]))
    assert pressures[1] == 101325.0
    assert np.all(np.diff(pressures) < 0)


def test_magnet_is_derated_by_every_share() -> None:
    assert magnet_force(500.0, 0.5, 0.8, 0.9) == pytest.approx(180.0, rel=1e-15)
    assert magnet_force(500.0, 0.5, 0.8, 0.0) == 0.0
    assert magnet_shear_force(magnet_force(500.0, 1.0, 1.0, 1.0), 0.2) == pytest.approx(100.0, rel=1e-15)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: jaw_force(10.0, 1.0, 2.0, 0.0, 2), "jaw_force: friction must be at least 1e-12 [1], given 0"),
        (
            lambda: magnet_force(10.0, 1.2, 1.0, 1.0),
            "magnet_force: thickness_share must be between 0 and 1 [1], given 1.2",
        ),
        (
            lambda: ambient_pressure(12_000.0),
            "ambient_pressure: altitude must be between -2000 and 11000 [m], given 12000",
        ),
        (
            lambda: vacuum_force(1e4, 1e-3, 1.5),
            "vacuum_force: efficiency must be between 1e-06 and 1 [1], given 1.5",
        ),
        (lambda: resultant_load(-1.0, 1.0, 0.0), "resultant_load: process_force must be at least 0 [N], given -1"),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()
