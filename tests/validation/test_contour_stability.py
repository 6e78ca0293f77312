"""Chatter limits of trimming against published modal data and the lobes of a control library.

Sources
-------
Modes of a turning set-up: Altintas, Manufacturing Automation, 2nd ed. 2012, p. 131. Modal data of a
robot: Scientific Reports 14 (2024), s41598-024-61362-2, table 3, first position. The book's limits were
seen as plots only, so the expected limits are derived from the printed inputs.
Lobes from scipy.signal. Origin: library.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.signal import TransferFunction, freqresp

from finishplan.physics import fast_tooth_depth_limit, regenerative_depth_limit
from finishplan.process.chip_law import PowerLaw
from finishplan.process.contour_conditions import Arm, ContourConditions, ContourSetting, ContourState
from finishplan.process.contour_cutting import predict_contour
from finishplan.process.contour_engagement import Milled, Shank
from finishplan.process.edge_conditions import Cutter, RobotState, Spindle
from finishplan.process.surface_conditions import Rubbing, Thermal

MM = 1e-3
MPA = 1e6
ARM = (3.24e4, 116.0, 0.02647)
"""Stiffness [N/m], natural frequency [Hz] and damping ratio of the robot."""


def slot(stiffness: float, damping: float, specific: float) -> ContourConditions:
    """A slot with two teeth, one of them always in the cut, and a tool and an arm of the given stiffness."""
    return ContourConditions(
        contour=ContourState(4 * MM, 0.5 * MM, 0.2 * MM, 0.1 * MM, 2.0, "conventional"),
        chip_law=PowerLaw(specific, 0.0, 0.0, 1.0, 1.0),
        cutter=Cutter(10 * MM, 2.0, 1.0, 1e3, 1.0, 100.0, 1 * MM, 0.0, 8 * MM, 30 * MM, 6e11),
        engagement=Milled(10 * MM, Shank(30 * MM, 8 * MM, 6e11, 8e8, 30 * MM)),
        edge=Rubbing(80.0, 25e-6, 0.8),
        thermal=Thermal(0.4, 1800.0, 1000.0, 60.0),
        spindle=Spindle(1.0, 1e3, np.array([1.0, 1e3]), np.array([1e5, 1e5])),
        arm=Arm(stiffness, stiffness, 116.0, damping, None),
        robot=RobotState(100.0, 20.0, 1.0, 0.2 * MM),
    )


MODES = [
    # stiffness, damping ratio, specific force, orientation, derived limit [mm]
    pytest.param(2.26e8, 0.012, 1000 * MPA, 30.0, 7.319, id="turning, mode at 30 degrees"),
    pytest.param(2.13e8, 0.010, 1000 * MPA, -45.0, 8.605, id="turning, mode at -45 degrees"),
    pytest.param(3.24e4, 0.02647, 700 * MPA, 0.0, 0.002515, id="robot arm"),
]


@pytest.mark.parametrize(("stiffness", "damping", "specific", "askew", "limit_mm"), MODES)
def test_depth_of_a_slot_with_one_tooth_in_the_cut(
    stiffness: float, damping: float, specific: float, askew: float, limit_mm: float
) -> None:
    """A mode askew counts as one stiffer by its cosine squared. Origin: derived from printed inputs; four digits.

    The round tool bends along and across the feed: in a slot without a normal force the directional factors
    are +-i pi (Altintas, section on zero-order milling), so it chatters where the receptance lags by 90
    degrees, at 2 k zeta/Ks, and not where it is most negative, 1 + zeta higher.
    """
    state = slot(stiffness / np.cos(np.radians(askew)) ** 2, damping, specific)
    found = predict_contour(state, ContourSetting(20.0, 0.01, 1))
    # the lag is greatest a little below the natural frequency, by the square of the damping
    assert found.tool_depth_limit / MM == pytest.approx(limit_mm / (1 + damping), rel=2 * damping**2)
    assert found.arm_depth_limit / MM == pytest.approx(limit_mm, rel=1e-4)


def lobe_depths(tooth_frequencies: NDArray[np.float64], specific: float) -> NDArray[np.float64]:
    """Least depth at which the robot chatters, at every tooth frequency, over all lobes that reach it."""
    stiffness, frequency, damping = ARM
    omega = 2 * np.pi * frequency
    system = TransferFunction([omega**2 / stiffness], [1, 2 * damping * omega, omega**2])
    chatter = np.geomspace(frequency * 1.0001, frequency * 100, 200_001)
    response = freqresp(system, 2 * np.pi * chatter)[1]
    depths = -1 / (2 * specific * response.real)
    lag = 2 * np.pi - 2 * np.arctan(np.abs(response.real / response.imag))
    least = np.full(tooth_frequencies.size, np.inf)
    for waves in range(40):
        at = chatter / (waves + lag / (2 * np.pi))
        rising = np.diff(at) > 0
        for piece in np.split(np.arange(at.size), np.flatnonzero(np.diff(rising.astype(int))) + 1):
            order = np.argsort(at[piece])
            found = np.interp(tooth_frequencies, at[piece][order], depths[piece][order], left=np.inf, right=np.inf)
            least = np.minimum(least, found)
    return least


SPECIFIC = 200 * MPA


@pytest.mark.parametrize("share", [2.2, 3.0, 5.0, 10.0, 30.0])
def test_fast_teeth_leave_the_lobes_of_a_slow_arm_behind(share: float) -> None:
    """The bound lies under the lobes, and comes close to them far above the mode. Origin: library."""
    stiffness, frequency, damping = ARM
    teeth = np.array([share * frequency])
    (true,) = lobe_depths(teeth, SPECIFIC)
    bound = max(
        fast_tooth_depth_limit(stiffness, frequency, share * frequency, SPECIFIC),
        regenerative_depth_limit(stiffness, damping, SPECIFIC),
    )
    # interpolation between two hundred thousand points of a lobe
    assert bound <= true * (1 + 1e-6)
    assert bound >= true * (0.95 if share >= 5.0 else 0.4)


def test_slow_teeth_are_held_to_the_depth_of_every_speed() -> None:
    """Below twice the natural frequency only the foot of the lobes is promised. Origin: library."""
    stiffness, frequency, damping = ARM
    slow = np.linspace(0.3, 1.9, 400) * frequency
    assert fast_tooth_depth_limit(stiffness, frequency, slow, SPECIFIC) == pytest.approx(np.zeros(400))
    foot = regenerative_depth_limit(stiffness, damping, SPECIFIC)
    lobes = lobe_depths(slow, SPECIFIC)
    assert np.all(lobes >= foot * (1 - 1e-6))
    # between the lobes that are passed one comes close to the foot
    assert lobes.min() == pytest.approx(foot, rel=1e-3)
