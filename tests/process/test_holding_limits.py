"""Holding and wrist limits at the very figures where they are reached."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from finishplan.process.holding_limits import Grip, Wrist, grip_limit, wrist_limit

JAWS = Grip(part_mass=2.0, acceleration=5.0, safety_factor=2.0, friction=0.2, force=800.0, contacts=2.0)


def test_jaws_hold_process_force_weight_and_inertia_by_friction() -> None:
    limit = grip_limit(JAWS, 50.0)
    assert limit.value == pytest.approx(2 * (50 + 2 * 14.80665) / (0.2 * 2))
    assert limit.bound == 800.0
    assert not limit.keeps_margin


def test_cups_bear_pull_and_shear_at_once() -> None:
    cups = replace(JAWS, contacts=None, friction=0.75)
    # the 3-4-5 triangle of the angle of friction
    assert grip_limit(cups, 50.0).value == pytest.approx(2 * (50 + 2 * 14.80665) * 1.25 / 0.75)


def test_more_force_never_asks_for_less_holding() -> None:
    for grip in (JAWS, replace(JAWS, contacts=None)):
        assert np.all(np.diff(grip_limit(grip, np.linspace(0.0, 200.0, 9)).value) > 0)


def test_moment_of_force_and_weight_about_the_wrist() -> None:
    wrist = Wrist(moment=40.0, process_offset=0.3, load_offset=0.1, acceleration=0.0)
    limit = wrist_limit(wrist, 6.0, 80.0)
    assert limit.value == pytest.approx(80 * 0.3 + 6 * 9.80665 * 0.1)
    assert limit.utilisation == pytest.approx(limit.value / 40.0)
