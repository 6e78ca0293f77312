"""Speeds, engagement and chip thickness against worked examples and numerical integration."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from finishplan.physics import (
    cusp_height,
    engagement_angle,
    feed_per_tooth,
    max_chip_thickness,
    mean_chip_thickness,
    removal_rate,
    spindle_speed,
    surface_speed,
)

MM = 1e-3
INCH = 0.0254
PER_MINUTE = 1 / 60


@pytest.mark.parametrize(
    ("diameter", "speed", "teeth", "per_tooth", "turns", "feed"),
    [
        # Dietrich and Tschätsch, Praxis der Zerspantechnik, 2014, with the inputs of a second party's
        # script. Origin: derived from published inputs
        pytest.param(3, 200, 2, 0.10, 21_220.7, 4244.1, id="end mill 3 mm, 200 m/min"),
        pytest.param(3, 300, 2, 0.06, 31_831, 3819.7, id="end mill 3 mm, 300 m/min"),
        # peripheral milling problem in the manner of Groover, Fundamentals of Modern Manufacturing,
        # chapter on machining operations. Origin: derived from published inputs
        pytest.param(70, 60, 5, 0.25, 272.84, 341.05, id="peripheral mill 70 mm, 60 m/min"),
    ],
)
def test_spindle_speed_and_feed(
    diameter: float, speed: float, teeth: int, per_tooth: float, turns: float, feed: float
) -> None:
    # five digits are given
    assert spindle_speed(diameter * MM, speed * PER_MINUTE) * 60 == pytest.approx(turns, rel=2e-5)
    assert surface_speed(diameter * MM, turns * PER_MINUTE) * 60 == pytest.approx(speed, rel=2e-5)
    assert feed_per_tooth(feed * MM * PER_MINUTE, turns * PER_MINUTE, teeth) / MM == pytest.approx(per_tooth, rel=2e-5)


def test_removal_rate_of_peripheral_milling() -> None:
    """The same problem: 50 mm wide, 6.5 mm deep at 341.05 mm/min. Origin: derived from published inputs."""
    rate = removal_rate(50 * 6.5 * MM**2, 341.05 * MM * PER_MINUTE)
    assert rate / MM**3 * 60 == pytest.approx(110_840, rel=1e-4)


def test_engagement_of_a_narrow_cut() -> None:
    """Dietrich and Tschätsch, as above: 0.25 mm wide, 3 mm mill. Origin: derived from published inputs."""
    assert np.degrees(engagement_angle(0.25 * MM, 3 * MM)) == pytest.approx(33.557, abs=5e-4)


def test_cusp_of_a_slab_mill() -> None:
    """Ghosh and Mallik, Manufacturing Science, problem 25, p. 262: 12 teeth, 100 mm, 60 rpm, 25 mm/min.

    Origin: recomputed by a second party from the book's inputs; the printed figure was not seen.
    """
    per_tooth = feed_per_tooth(25 * MM * PER_MINUTE, 60 * PER_MINUTE, 12)
    # two digits are given
    assert cusp_height(per_tooth, 100 * MM) / MM == pytest.approx(3.0e-6, rel=0.01)


@pytest.mark.parametrize("share", [0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.8, 1.0])
def test_chip_thickness_over_the_engagement(share: float) -> None:
    """Mean and greatest chip by integrating fz sin(phi) over the arc inside the material.

    Origin: library, scipy.integrate.quad; the arc's end is found from the tooth's distance to the
    wall, not from the closed form under test.
    """
    diameter, per_tooth = 10 * MM, 0.1 * MM
    end = float(np.arccos((diameter / 2 - share * diameter) / (diameter / 2)))
    area, _ = quad(lambda at: per_tooth * np.sin(at), 0, end)
    # arccos loses half of its digits next to a shallow cut
    assert engagement_angle(share * diameter, diameter) == pytest.approx(end, rel=1e-7)
    assert mean_chip_thickness(per_tooth, share * diameter, diameter) == pytest.approx(area / end, rel=1e-7)
    greatest = max(per_tooth * np.sin(np.linspace(0, end, 20_001)))
    assert max_chip_thickness(per_tooth, share * diameter, diameter) == pytest.approx(greatest, rel=1e-7)


@pytest.mark.parametrize("share", [0.005, 0.02, 0.05])
def test_mean_chip_of_a_light_cut_by_the_textbook_approximation(share: float) -> None:
    """Ghosh and Mallik, Manufacturing Science, chapter 4: t_av = fz sqrt(d/D). Origin: printed relation."""
    # the first term the approximation leaves out is a sixth of the share
    assert mean_chip_thickness(1.0, share, 1.0) == pytest.approx(np.sqrt(share), rel=share / 5)
