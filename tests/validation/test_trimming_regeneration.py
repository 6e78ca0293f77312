"""Regenerative chatter against published modal data, a control library and integrated cuts.

Sources
-------
Two modes of a turning set-up: Altintas, Manufacturing Automation, 2nd ed. 2012, p. 131. Modes of an
end mill in half immersion: the same, p. 156, and Schmitz and Smith, Machining Dynamics, 2009, p. 133.
Modal data of a robot: Scientific Reports 14 (2024), s41598-024-61362-2, table 3, first position.
The books' limits were seen as plots only, so the expected limits are derived from the printed inputs.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import quad_vec
from scipy.linalg import expm
from scipy.optimize import minimize_scalar
from scipy.signal import TransferFunction, freqresp

from finishplan.physics import (
    milling_depth_estimate,
    milling_depth_limit,
    natural_frequency,
    receptance,
    regenerative_depth_limit,
    teeth_in_cut,
)

MM = 1e-3
MPA = 1e6
Floats = NDArray[np.float64]

MODES = [
    # stiffness, damping ratio, natural frequency, specific force, orientation, derived limit [mm]
    pytest.param(2.26e8, 0.012, 250.0, 1000 * MPA, 30.0, 7.319, id="turning, mode at 30 degrees"),
    pytest.param(2.13e8, 0.010, 150.0, 1000 * MPA, -45.0, 8.605, id="turning, mode at -45 degrees"),
    pytest.param(3.24e4, 0.02647, 116.0, 700 * MPA, 0.0, 0.002515, id="robot arm"),
]


@pytest.mark.parametrize(("stiffness", "damping", "frequency", "specific_force", "askew", "limit_mm"), MODES)
class TestOneMode:
    def test_limit_from_published_modal_data(
        self, stiffness: float, damping: float, frequency: float, specific_force: float, askew: float, limit_mm: float
    ) -> None:
        """Origin: derived from printed inputs; four digits given."""
        limit = regenerative_depth_limit(stiffness, damping, specific_force, np.radians(askew))
        assert limit / MM == pytest.approx(limit_mm, rel=1e-4)

    def test_lowest_real_part_of_the_transfer_function(
        self, stiffness: float, damping: float, frequency: float, specific_force: float, askew: float, limit_mm: float
    ) -> None:
        """b = -1/(2 Ks min Re G) with G by scipy.signal, searched by scipy.optimize. Origin: library."""
        omega = 2 * np.pi * frequency
        system = TransferFunction([omega**2 / stiffness], [1, 2 * damping * omega, omega**2])

        def real_part(turning: float) -> float:
            return float(freqresp(system, [turning])[1].real[0]) * stiffness

        lowest = minimize_scalar(real_part, bounds=(omega, 1.2 * omega), method="bounded", options={"xatol": 1e-6})
        in_direction = np.cos(np.radians(askew)) ** 2
        wanted = -1 / (2 * specific_force * in_direction * lowest.fun / stiffness)
        assert regenerative_depth_limit(stiffness, damping, specific_force, np.radians(askew)) == pytest.approx(
            wanted, rel=1e-6
        )

    def test_receptance_over_frequency(
        self, stiffness: float, damping: float, frequency: float, specific_force: float, askew: float, limit_mm: float
    ) -> None:
        """Origin: library, scipy.signal.freqresp."""
        omega = 2 * np.pi * frequency
        system = TransferFunction([omega**2 / stiffness], [1, 2 * damping * omega, omega**2])
        frequencies = np.linspace(0.1, 3, 200) * frequency
        wanted = freqresp(system, 2 * np.pi * frequencies)[1]
        assert receptance(frequencies, stiffness, frequency, damping) == pytest.approx(wanted, rel=1e-9)


def growth(factors: Floats, delay: float, mass: float, stiffness: float, damping_ratio: float) -> float:
    """Factor by which the largest vibration grows over one tooth period; above 1 it chatters.

    One sprung mass under -factor (x(t) - x(t - delay)), with the factor given over one tooth period.
    Each step is integrated exactly by scipy.linalg.expm, the delayed travel taken at mid-step.
    """
    omega = np.sqrt(stiffness / mass)
    steps = factors.size
    motion = np.zeros((steps, 3, 3))
    motion[:, 0, 1] = 1
    motion[:, 1, 0] = -(omega**2) - factors / mass
    motion[:, 1, 1] = -2 * damping_ratio * omega
    motion[:, 1, 2] = factors / mass
    advance = expm(motion * delay / steps)
    basis = np.eye(steps + 2)
    travels, speed = list(basis[:-1]), basis[-1]
    for step in range(steps):
        now, before = travels[-1], (travels[step] + travels[step + 1]) / 2
        (xx, xv, xb), (vx, vv, vb), _ = advance[step]
        travels.append(xx * now + xv * speed + xb * before)
        speed = vx * now + vv * speed + vb * before
    return float(np.abs(np.linalg.eigvals(np.vstack([*travels[steps:], speed]))).max())


# the integration damps by the cosine of half a step, a few per cent of the limit
SHALLOWER, DEEPER = 0.9, 1.1


def test_turning_chatters_beyond_the_limit_at_the_worst_speed_only() -> None:
    """The mode at 30 degrees, over one lobe. Origin: library, integration of the delay equation."""
    stiffness, damping, frequency, specific_force = 2.26e8, 0.012, 250.0, 1000 * MPA
    in_direction = np.cos(np.radians(30)) ** 2
    mass = stiffness / (2 * np.pi * frequency) ** 2
    limit = regenerative_depth_limit(stiffness, damping, specific_force, np.radians(30))

    def worst(depth: float) -> float:
        factors = np.full(240, specific_force * in_direction * depth)
        return max(growth(factors, turns / frequency, mass, stiffness, damping) for turns in np.linspace(4, 5, 15))

    assert worst(SHALLOWER * limit) < 1 < worst(DEEPER * limit)


# single mode along the feed, two teeth; the modal mass of 0.03993 kg is printed with the rest
MILL_STIFFNESS, MILL_MASS, MILL_FREQUENCY, MILL_DAMPING = 1.34005e6, 0.03993, 922.0, 0.011
MILL_TEETH, MILL_FORCE, MILL_RATIO = 2, 600 * MPA, 200 / 600


def test_modal_data_of_the_milling_benchmark_agree() -> None:
    """A benchmark of the milling literature: 0.03993 kg, 922 Hz, with k as m (2 pi f)^2. Origin: printed inputs."""
    assert natural_frequency(MILL_STIFFNESS, MILL_MASS) == pytest.approx(MILL_FREQUENCY, rel=1e-4)


@pytest.mark.parametrize(
    ("engagement", "direction"),
    [
        pytest.param(np.pi, "conventional", id="full slot"),
        pytest.param(np.pi / 2, "conventional", id="half immersion, conventional"),
        pytest.param(np.pi / 2, "climb", id="half immersion, climb"),
        pytest.param(np.pi / 4, "climb", id="trimming, climb"),
    ],
)
def test_milling_chatters_beyond_the_limit(engagement: float, direction: str) -> None:
    """Floquet multipliers of the milling equation over one lobe. Origin: library, integration.

    The force turns with the tooth here, so the mean directional factors under test are not used.
    """
    frequencies = np.linspace(850, 1000, 4001)
    flexible = receptance(frequencies, MILL_STIFFNESS, MILL_FREQUENCY, MILL_DAMPING)
    limits = milling_depth_limit(flexible, 0.0, engagement, MILL_TEETH, MILL_FORCE, MILL_RATIO, direction)
    chatter = frequencies[np.argmin(limits)]
    steps = (np.arange(240) + 0.5) / 240
    angles = np.pi * (steps[:, None] + np.arange(MILL_TEETH)) % (2 * np.pi)
    first = 0.0 if direction == "conventional" else np.pi - engagement
    cutting = (angles > first) & (angles < first + engagement)
    turning = np.sum(cutting * np.sin(angles) * (np.cos(angles) + MILL_RATIO * np.sin(angles)), axis=1)

    def worst(depth: float) -> float:
        factors = depth * MILL_FORCE * turning
        periods = np.linspace(6, 7, 13) / chatter
        return max(growth(factors, period, MILL_MASS, MILL_STIFFNESS, MILL_DAMPING) for period in periods)

    assert worst(SHALLOWER * limits.min()) < 1 < worst(DEEPER * limits.min())


FREQUENCIES = np.linspace(300, 2000, 800)
FEED_MODES = [(456.8, 7.93e6, 0.1117), (1448.9, 14.69e6, 0.0170)]
CROSS_MODES = [(516.5, 9.37e6, 0.0246), (1408.4, 12.41e6, 0.0314)]
END_MILL_FORCE, END_MILL_RATIO = 1319.4 * MPA, 788.8 / 1319.4


def measured(modes: list[tuple[float, float, float]]) -> Floats:
    return sum(receptance(FREQUENCIES, stiffness, natural, damping) for natural, stiffness, damping in modes)


def direction_matrix(entry: float, exit: float) -> Floats:
    """Mean directional factors by scipy.integrate from the force on a tooth, over the engagement."""

    def at(angle: float) -> Floats:
        sine, cosine = np.sin(angle), np.cos(angle)
        force = np.array([-cosine - END_MILL_RATIO * sine, sine - END_MILL_RATIO * cosine])
        return 2 * np.outer(force, [sine, cosine])

    return np.asarray(quad_vec(at, entry, exit)[0])


@pytest.mark.parametrize(
    ("engagement", "direction", "entry"),
    [
        pytest.param(np.pi / 2, "climb", np.pi / 2, id="half immersion, climb"),
        pytest.param(np.pi / 2, "conventional", 0.0, id="half immersion, conventional"),
        pytest.param(0.6, "climb", np.pi - 0.6, id="trimming, climb"),
        pytest.param(np.pi, "conventional", 0.0, id="full slot"),
    ],
)
class TestEndMillWithTwoModesEachWay:
    def test_limit_from_eigenvalues(self, engagement: float, direction: str, entry: float) -> None:
        """Altintas and Budak, CIRP Annals 44/1 (1995), in its printed form a = -(2 pi L_R/(z Kt)) (1 + (L_I/L_R)^2).

        The factors come from scipy.integrate, L from numpy.linalg.eigvals. Origin: library.
        """
        along, across = measured(FEED_MODES), measured(CROSS_MODES)
        matrix = direction_matrix(entry, entry + engagement)
        system = matrix * np.stack([along, across], axis=-1)[:, None, :]
        roots = -1 / np.linalg.eigvals(system)
        depths = -2 * np.pi * roots.real / (2 * END_MILL_FORCE) * (1 + (roots.imag / roots.real) ** 2)
        wanted = np.where(depths > 0, depths, np.inf).min(axis=-1)
        found = milling_depth_limit(along, across, engagement, 2, END_MILL_FORCE, END_MILL_RATIO, direction)
        chattering = np.isfinite(wanted)
        assert np.array_equal(chattering, np.isfinite(found))
        assert found[chattering] == pytest.approx(wanted[chattering], rel=1e-6)

    def test_characteristic_equation_vanishes_at_the_limit(
        self, engagement: float, direction: str, entry: float
    ) -> None:
        """det(I - (z/4 pi) a Kt (1 - exp(-i w T)) A G) = 0 for some tooth period T, by numpy.linalg.det.

        Origin: library. The phase w T is searched on a grid, then refined around its best point.
        """
        along, across = measured(FEED_MODES), measured(CROSS_MODES)
        limits = milling_depth_limit(along, across, engagement, 2, END_MILL_FORCE, END_MILL_RATIO, direction)
        index = int(np.argmin(limits))
        system = direction_matrix(entry, entry + engagement) * np.array([along[index], across[index]])

        def residual(phase: float) -> float:
            gain = 2 / (4 * np.pi) * limits[index] * END_MILL_FORCE * (1 - np.exp(-1j * phase))
            return float(abs(np.linalg.det(np.eye(2) - gain * system)))

        grid = np.linspace(0, 2 * np.pi, 721)
        start = grid[np.argmin([residual(phase) for phase in grid])]
        best = minimize_scalar(residual, bounds=(start - 0.02, start + 0.02), method="bounded", options={"xatol": 1e-9})
        assert best.fun < 1e-6


@pytest.mark.parametrize(
    ("engagement", "direction"),
    [
        pytest.param(np.pi, "conventional", id="full slot"),
        pytest.param(np.pi / 2, "conventional", id="half immersion, conventional"),
        pytest.param(np.pi / 2, "climb", id="half immersion, climb"),
    ],
)
def test_estimate_by_teeth_in_cut_promises_less_than_the_solution(engagement: float, direction: str) -> None:
    """Against the zero-order solution, itself checked above by integration. Origin: library.

    With all of force and travel in the mode the estimate is a lower bound; it stays within a decade.
    """
    frequencies = np.linspace(850, 1000, 4001)
    flexible = receptance(frequencies, MILL_STIFFNESS, MILL_FREQUENCY, MILL_DAMPING)
    solved = milling_depth_limit(flexible, 0.0, engagement, MILL_TEETH, MILL_FORCE, MILL_RATIO, direction).min()
    one_edge = regenerative_depth_limit(MILL_STIFFNESS, MILL_DAMPING, np.hypot(1, MILL_RATIO) * MILL_FORCE)
    estimate = milling_depth_estimate(one_edge, teeth_in_cut(MILL_TEETH, engagement))
    assert solved / 10 < estimate < solved
