"""Inverses and limits of contact on a wavy path, impact and the force loop."""

from __future__ import annotations

import re
import warnings
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    approach_speed,
    contact_loss_feed,
    force_loop_feed,
    force_loop_ripple,
    form_error_feed,
    impact_force,
    natural_frequency,
)


def test_at_the_loss_of_contact_inertia_equals_force_and_spring() -> None:
    wavelength, amplitude, force, mass, stiffness = 5e-3, 0.2e-3, 10.0, 1.0, 2000.0
    frequency = 2 * np.pi * contact_loss_feed(wavelength, amplitude, force, mass, stiffness) / wavelength
    assert mass * frequency**2 * amplitude == pytest.approx(force + stiffness * amplitude, rel=1e-14)


def test_a_straight_edge_never_loses_contact() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert contact_loss_feed(5e-3, 0.0, 10.0, 1.0, 0.0) == np.inf
        assert contact_loss_feed(5e-3, np.array([0.0, 1e-4]), 10.0, 1.0, 0.0)[0] == np.inf


def test_without_force_to_speak_of_contact_is_lost_at_the_natural_frequency() -> None:
    wavelength, mass, stiffness = 5e-3, 2.0, 3000.0
    feed = contact_loss_feed(wavelength, 1e-3, 1e-12, mass, stiffness)
    assert feed == pytest.approx(form_error_feed(wavelength, natural_frequency(stiffness, mass), 1.0), rel=1e-12)


def test_form_error_feed_falls_with_the_factor() -> None:
    assert form_error_feed(30e-3, 12.0, 3.0) == pytest.approx(0.12, rel=1e-15)


def test_approach_speed_is_the_inverse_of_impact() -> None:
    speeds = np.array([0.0, 5e-3, 50e-3])
    peak = impact_force(10.0, speeds, 1e5, 2.0)
    assert approach_speed(10.0, peak, 1e5, 2.0) == pytest.approx(speeds, rel=1e-13)
    assert peak[0] == 10.0


def test_loop_feed_is_the_inverse_of_ripple() -> None:
    feeds = np.array([1e-3, 20e-3, 200e-3])
    ripple = force_loop_ripple(5e4, 0.2e-3, feeds, 30e-3, 8.0)
    assert force_loop_feed(5e4, 0.2e-3, ripple, 30e-3, 8.0) == pytest.approx(feeds, rel=1e-12)


def test_ripple_goes_with_the_feed_far_below_the_bandwidth_and_is_whole_far_above() -> None:
    stiffness, amplitude, wavelength, bandwidth = 5e4, 0.2e-3, 30e-3, 8.0
    slow, fast = 1e-5, 1e3
    assert force_loop_ripple(stiffness, amplitude, slow, wavelength, bandwidth) == pytest.approx(
        stiffness * amplitude * slow / (wavelength * bandwidth), rel=1e-8
    )
    assert force_loop_ripple(stiffness, amplitude, fast, wavelength, bandwidth) == pytest.approx(
        stiffness * amplitude, rel=1e-6
    )


def test_feed_is_unlimited_where_no_loop_is_needed() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert force_loop_feed(5e4, 0.2e-3, 10.0, 30e-3, 8.0) == np.inf
        assert force_loop_feed(5e4, 0.0, 1.0, 30e-3, 8.0) == np.inf


def test_scalars_stay_scalars() -> None:
    assert np.ndim(contact_loss_feed(5e-3, 1e-4, 10.0, 1.0, 0.0)) == 0
    assert np.ndim(force_loop_feed(5e4, 0.2e-3, 1.0, 30e-3, 8.0)) == 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: contact_loss_feed(5e-3, 1e-4, 0.0, 1.0, 0.0),
            "contact_loss_feed: force must be at least 1e-12 [N], given 0",
        ),
        (lambda: natural_frequency(1e3, 0.0), "natural_frequency: mass must be at least 1e-12 [kg], given 0"),
        (
            lambda: approach_speed(np.array([5.0, 12.0]), 10.0, 1e5, 2.0),
            "approach_speed: allowed_force must be at least force [N], given 2 less",
        ),
        (
            lambda: force_loop_feed(5e4, 2e-4, 0.0, 30e-3, 8.0),
            "force_loop_feed: ripple must be at least 1e-12 [N], given 0",
        ),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()
