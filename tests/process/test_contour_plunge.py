"""A disc that goes straight down: chips against the integral over its arc, and the volume it removes."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from finishplan.physics import disc_chord, engagement_angle
from finishplan.process.contour_plunge import plunge_chip, plunge_rate


@pytest.mark.parametrize("depth", [2e-3, 9e-3, 40e-3])
def test_mean_chip_is_that_of_teeth_which_advance_straight_down(depth: float) -> None:
    """Advance fz towards the centre: fz cos(x) square to the arc, averaged over both sides of the lowest point."""
    half = float(engagement_angle(depth, 0.16))
    mean = quad(lambda x: 0.02e-3 * np.cos(x), -half, half)[0] / (2 * half)
    assert plunge_chip(0.02e-3, depth, 0.16) == pytest.approx(mean, rel=1e-12)


def test_chips_over_the_arc_are_the_volume() -> None:
    """Arc x mean chip x tooth frequency x kerf is kerf x chord x feed."""
    depth, speed, teeth, feed, kerf = 9e-3, 45.0, 48.0, 4e-3, 2.4e-3
    chip = plunge_chip(feed / (speed * teeth), depth, 0.16)
    arc = 2 * engagement_angle(depth, 0.16) * 0.08
    assert kerf * arc * chip * speed * teeth == pytest.approx(
        plunge_rate(kerf, disc_chord(0.16, depth), feed), rel=1e-9
    )
