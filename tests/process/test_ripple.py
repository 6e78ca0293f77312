"""Ripple of a raster: closed forms at simple pitches, and a sum of passes worked out without the table."""

from __future__ import annotations

from typing import Any, get_args

import numpy as np
import pytest
from scipy.integrate import quad

from finishplan.process.ripple import PITCHES, PROFILES, Profile, raster_ripple

profiles = pytest.mark.parametrize("profile", get_args(Profile))


def summed(profile: Any, pitch: float) -> float:
    """Greatest less smallest depth over the mean; the mean is the section of a pass over the pitch."""
    place = np.linspace(0.0, pitch, 4001)[:-1] + pitch / 9001
    number = np.arange(-np.ceil(1 / pitch) - 1, np.ceil(1 / pitch) + 2)
    depth = PROFILES[profile](place[:, None] - number * pitch).sum(axis=1)
    section = 2 * quad(lambda y: float(PROFILES[profile](np.array(y))), 0.0, 1.0)[0]
    return float((depth.max() - depth.min()) / (section / pitch))


@profiles
@pytest.mark.parametrize("pitch", [1.9, 1.37, 0.81, 0.433])
def test_against_passes_laid_side_by_side(profile: Profile, pitch: float) -> None:
    assert raster_ripple(pitch, 1.0, profile) == pytest.approx(summed(profile, pitch), rel=0.03)


def test_orbital_passes_that_touch() -> None:
    """From 0 between the passes to 1 in their middle, with a mean of pi/4; a hundred places tell it to a thousandth."""
    assert raster_ripple(2.0, 1.0, "orbital") == pytest.approx(4 / np.pi, rel=2e-3)


def test_orbital_passes_a_radius_apart() -> None:
    """1 on a line, 2 sqrt(3/4) between two, with a mean of pi/2."""
    assert raster_ripple(1.0, 1.0, "orbital") == pytest.approx((np.sqrt(3) - 1) / (np.pi / 2), rel=1e-3)


@pytest.mark.parametrize("pitch", [0.3, 0.45, 0.7, 0.9, 1.5])
def test_stripes_that_do_not_meet_at_their_borders(pitch: float) -> None:
    """Places are covered by one pass more or less, out of 2/pitch on average."""
    assert raster_ripple(pitch, 1.0, "stripe") == pytest.approx(pitch / 2, rel=0.01)


@profiles
def test_only_the_ratio_counts(profile: Profile) -> None:
    pitches = np.geomspace(0.01, 2.0, 50)
    assert raster_ripple(0.075 * pitches, 0.075, profile) == pytest.approx(raster_ripple(pitches, 1.0, profile))


@profiles
def test_a_fine_raster_leaves_little_and_finer_less_in_proportion(profile: Profile) -> None:
    finest = raster_ripple(PITCHES[0], 1.0, profile)
    assert finest < 0.06
    assert raster_ripple(PITCHES[0] / 4, 1.0, profile) == pytest.approx(finest / 4, rel=1e-9)


@profiles
def test_an_array_equals_its_scalars(profile: Profile) -> None:
    pitches = np.array([0.02, 0.3, 1.1, 2.0])
    together = raster_ripple(pitches, 1.0, profile)
    assert [raster_ripple(pitch, 1.0, profile) for pitch in pitches] == list(together)
    assert np.ndim(raster_ripple(0.5, 1.0, profile)) == 0


def test_a_round_pad_is_more_even_than_a_stripe() -> None:
    pitches = np.linspace(0.1, 1.0, 40)
    assert np.mean(raster_ripple(pitches, 1.0, "orbital")) < np.mean(raster_ripple(pitches, 1.0, "stripe"))


@pytest.mark.parametrize(("pitch", "reach"), [(0.0, 1.0), (1.0, 0.0), (-1.0, 1.0)])
def test_a_raster_without_pitch_or_reach_is_refused(pitch: float, reach: float) -> None:
    with pytest.raises(ValueError, match="must be"):
        raster_ripple(pitch, reach, "orbital")
