"""Force along and across the feed against numerical integration of the turning tooth forces.

Origin: library. scipy.integrate.quad averages the force vectors of a tooth over its way through the
material, each vector written down in the plane of the cutter without the closed form under test.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from finishplan.physics import feed_direction_force, wall_force

TANGENTIAL, NORMAL = 20.0, 9.0


def mean_tooth_force(angle: float, turning: int) -> np.ndarray:
    """Mean force on the tool in (feed, away from the wall), for a cutter turning with or against the feed."""

    def force(at: float) -> np.ndarray:
        outward = np.array([np.sin(at), -np.cos(at)])
        motion = turning * np.array([np.cos(at), np.sin(at)])
        chip = outward[0]
        return chip * (-TANGENTIAL * motion - NORMAL * outward)

    weight = quad(np.sin, 0, angle)[0]
    return np.array([quad(lambda at, axis=axis: force(at)[axis], 0, angle)[0] for axis in (0, 1)]) / weight


@pytest.mark.parametrize("degrees", [5, 36.87, 90, 140, 180])
@pytest.mark.parametrize(("direction", "turning"), [("conventional", 1), ("climb", -1)])
def test_mean_over_the_engagement(degrees: float, direction: str, turning: int) -> None:
    angle = float(np.radians(degrees))
    along, away = mean_tooth_force(angle, turning)
    # quad is accurate to about 1e-10; the sign of the feed force is that of a resistance
    assert feed_direction_force(TANGENTIAL, NORMAL, angle, direction) == pytest.approx(-along, rel=1e-8, abs=1e-9)
    assert wall_force(TANGENTIAL, NORMAL, angle, direction) == pytest.approx(away, rel=1e-8, abs=1e-9)
