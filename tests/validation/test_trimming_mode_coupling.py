"""Mode coupling against eigenvalues and integration of the equations of motion.

Source of the model: Pan, Zhang, Zhu and Wang, J. Mater. Process. Technol. 173 (2006) 301-309; its
printed closed form was not seen. Origin of all: library. The stiffness matrix is built here from the
two springs as tensors in the frame of the surface, not from the projections of the closed form.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from finishplan.physics import mode_coupling_limit, mode_coupling_stable, mode_coupling_window

PER_MICROMETRE = 1e6
MASS = 50.0
Floats = NDArray[np.float64]


def coupled_stiffness(first: Floats, second: Floats, axis: Floats, force: Floats, process: Floats) -> Floats:
    """Stiffness of springs and process together, in surface normal and tangent."""
    along = np.stack([np.cos(axis), np.sin(axis)], axis=-1)
    across = np.stack([-np.sin(axis), np.cos(axis)], axis=-1)
    springs = np.asarray(first)[..., None, None] * along[..., :, None] * along[..., None, :]
    springs = springs + np.asarray(second)[..., None, None] * across[..., :, None] * across[..., None, :]
    direction = np.stack([np.cos(force), np.sin(force)], axis=-1)
    normal = np.array([1.0, 0.0])
    return np.asarray(springs + np.asarray(process)[..., None, None] * direction[..., :, None] * normal)


def oscillates_at_rest(matrix: Floats) -> Floats:
    """Whether all eigenvalues are real and positive, by numpy.linalg.eigvals."""
    values = np.linalg.eigvals(matrix)
    return np.asarray(np.all((np.imag(values) == 0) & (np.real(values) > 0), axis=-1))


CASES = [
    pytest.param(0.30, 0.40, 30, 60, 0.10, (0.01340, 0.18660), False, id="softer axis between normal and force"),
    pytest.param(0.40, 0.30, 30, 60, 0.10, (0.01340, 0.18660), True, id="stiffer axis between them"),
    pytest.param(0.30, 0.40, 30, 60, 0.04, (0.00536, 0.07464), True, id="light cut"),
    pytest.param(0.30, 0.40, 70, 60, 0.10, None, True, id="no axis between them"),
    pytest.param(0.30, 0.35, 20, 50, 0.02, (0.00477, 0.03462), True, id="difference above the window"),
    pytest.param(0.40, 0.30, 120, 60, 0.10, (-0.18660, -0.01340), False, id="first case, axes named the other way"),
    pytest.param(0.30, 0.40, 30 - 180, 60 + 360, 0.10, (0.01340, 0.18660), False, id="first case, turned round"),
    pytest.param(0.50, 0.10, 45, 85, 0.50, (0.00191, 0.99428), False, id="pushed aside"),
]


@pytest.mark.parametrize(("first", "second", "axis", "force", "process", "window", "stable"), CASES)
class TestCases:
    def test_verdict(
        self,
        first: float,
        second: float,
        axis: float,
        force: float,
        process: float,
        window: tuple[float, float] | None,
        stable: bool,
    ) -> None:
        arguments = (first, second, np.radians(axis), np.radians(force), process)
        assert bool(oscillates_at_rest(coupled_stiffness(*map(np.asarray, arguments)))) is stable
        assert bool(mode_coupling_stable(*arguments)) is stable

    def test_window_encloses_the_complex_eigenvalues(
        self,
        first: float,
        second: float,
        axis: float,
        force: float,
        process: float,
        window: tuple[float, float] | None,
        stable: bool,
    ) -> None:
        differences = np.linspace(-1, 1, 40001) * 1.1 * max(process, 0.01) * 2
        springs = 10.0 - differences / 2, 10.0 + differences / 2
        angles = np.full(differences.size, np.radians(axis)), np.full(differences.size, np.radians(force))
        values = np.linalg.eigvals(coupled_stiffness(*springs, *angles, np.full(differences.size, process)))
        fluttering = differences[np.abs(np.imag(values)).max(axis=-1) > 0]
        low, high = mode_coupling_window(np.radians(axis), np.radians(force), process)
        if window is None:
            assert fluttering.size == 0
            assert low == high
            return
        spacing = differences[1] - differences[0]
        assert (low, high) == pytest.approx((fluttering.min(), fluttering.max()), abs=spacing)
        assert (low, high) == pytest.approx(window, abs=5.1e-6)


def random_arms(count: int, force_range: float) -> tuple[Floats, ...]:
    draw = np.random.default_rng(20)
    return (
        draw.uniform(0.1, 0.5, count),
        draw.uniform(0.1, 0.5, count),
        draw.uniform(-np.pi / 2, np.pi / 2, count),
        draw.uniform(0, force_range, count),
        draw.uniform(0, 1.5, count),
    )


@pytest.mark.parametrize(
    "force_range",
    [
        pytest.param(np.pi / 2, id="force within 90 degrees of the normal"),
        pytest.param(2 * np.pi, id="force anywhere"),
    ],
)
def test_two_thousand_random_arms(force_range: float) -> None:
    arms = random_arms(2000, force_range)
    values = np.linalg.eigvals(coupled_stiffness(*arms))
    flutter = np.abs(np.imag(values)).max(axis=-1) > 0
    diverging = ~flutter & (np.real(values).min(axis=-1) <= 0)
    # both ways of being unstable are among the draws
    assert flutter.sum() > 150
    assert diverging.sum() > 5
    assert np.array_equal(mode_coupling_stable(*arms), ~flutter & ~diverging)


def test_first_unstable_process_stiffness_of_random_arms() -> None:
    """Eigenvalues are scanned over the process stiffness; the last step before trouble is refined by bisection."""
    first, second, axis, force, _ = random_arms(60, 2 * np.pi)
    found = mode_coupling_limit(first, second, axis, force)
    ladder = np.linspace(0, 5, 4001)
    for index in range(first.size):
        arm = [np.full(ladder.size, each[index]) for each in (first, second, axis, force)]
        steady = oscillates_at_rest(coupled_stiffness(*arm, ladder))
        if steady.all():
            assert found[index] > 5 or np.isinf(found[index])
            continue
        onset = int(np.argmin(steady))

        def verdict(process: float, one: list[Floats] = arm) -> float:
            matrix = coupled_stiffness(*(each[0] for each in one), np.asarray(process))
            return 1.0 if oscillates_at_rest(matrix) else -1.0

        wanted = brentq(verdict, ladder[onset - 1], ladder[onset], xtol=1e-7)
        assert found[index] == pytest.approx(wanted, abs=1e-6)


def swing(first: float, second: float, damping_ratio: float = 0.0) -> tuple[Floats, Floats]:
    """Times and distance from rest of the tool in the first case's directions, after a small push."""
    axis, force = np.radians(30), np.radians(60)
    matrix = coupled_stiffness(*map(np.asarray, (first, second, axis, force, 0.10))) * PER_MICROMETRE
    decay = 2 * damping_ratio * np.sqrt(np.trace(matrix) / 2 / MASS)

    def motion(_: float, state: Floats) -> Floats:
        return np.concatenate((state[2:], -matrix @ state[:2] / MASS - decay * state[2:]))

    times = np.linspace(0, 2, 4001)
    run = solve_ivp(motion, (0, 2), [1e-6, 0, 0, 0], t_eval=times, rtol=1e-9, atol=1e-16)
    return times, np.hypot(run.y[0], run.y[1])


def test_unstable_tool_grows_and_stable_tool_does_not() -> None:
    """scipy.integrate.solve_ivp on 0.30 and 0.40 N/um with 50 kg, and with the two exchanged."""
    times, unstable = swing(0.30, 0.40)
    _, stable = swing(0.40, 0.30)
    early, late = unstable[times < 0.2].max(), unstable[times > 1.8].max()
    assert not mode_coupling_stable(0.30, 0.40, np.radians(30), np.radians(60), 0.10)
    assert late > 1000 * early
    assert mode_coupling_stable(0.40, 0.30, np.radians(30), np.radians(60), 0.10)
    assert stable[times > 1.8].max() < 1.5 * stable[times < 0.2].max()


def test_damping_can_hold_what_the_undamped_model_calls_unstable() -> None:
    """The first case grows by 4.99 1/s at 13.81 Hz, which a damping ratio of 5.75 % takes away."""
    times, held = swing(0.30, 0.40, damping_ratio=0.065)
    _, growing = swing(0.30, 0.40, damping_ratio=0.050)
    assert held[times > 1.8].max() < held[times < 0.2].max()
    assert growing[times > 1.8].max() > growing[times < 0.2].max()
