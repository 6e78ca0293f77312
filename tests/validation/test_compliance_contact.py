"""Contact on a wavy edge, impact and force loop against integration of the equations of motion.

Origin of all: library, scipy.integrate.solve_ivp. The mass, its springs and the edge are modelled
with contact forces that act only while pressing, so the closed forms under test are not used.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from finishplan.physics import contact_loss_feed, force_loop_ripple, impact_force, natural_frequency

MM = 1e-3


def least_contact_force(
    feed: float, wavelength: float, amplitude: float, force: float, mass: float, stiffness: float
) -> float:
    """Least force between a tool and a stiff, damped edge that passes under it for three waves."""
    contact = 2e7
    damping = 2 * np.sqrt(contact * mass)
    omega = 2 * np.pi * feed / wavelength

    def pressing(time: np.ndarray, place: np.ndarray, speed: np.ndarray) -> np.ndarray:
        depth = amplitude * np.sin(omega * time) - place
        closing = amplitude * omega * np.cos(omega * time) - speed
        return np.where(depth > 0, np.maximum(contact * depth + damping * closing, 0.0), 0.0)

    def motion(time: float, state: np.ndarray) -> list[float]:
        place, speed = state
        push = float(pressing(np.asarray(time), np.asarray(place), np.asarray(speed)))
        return [speed, (push - force - stiffness * place) / mass]

    period = 2 * np.pi / omega
    start = [-force / contact, amplitude * omega]
    run = solve_ivp(motion, (0, 3 * period), start, method="LSODA", rtol=1e-8, atol=1e-12, max_step=period / 200)
    return float(pressing(run.t, run.y[0], run.y[1]).min())


@pytest.mark.parametrize(
    ("force", "mass", "amplitude", "wavelength", "stiffness"),
    [
        pytest.param(10, 1.0, 0.5, 20, 0, id="10 N, 1 kg, 0.5 mm on 20 mm"),
        pytest.param(20, 2.0, 1.0, 50, 0, id="20 N, 2 kg, 1 mm on 50 mm"),
        pytest.param(10, 1.0, 0.2, 5, 2000, id="10 N, 1 kg, 0.2 mm on 5 mm, sprung"),
    ],
)
def test_contact_is_lost_at_the_predicted_feed(
    force: float, mass: float, amplitude: float, wavelength: float, stiffness: float
) -> None:
    arguments = (wavelength * MM, amplitude * MM, force, mass, stiffness)
    limit = contact_loss_feed(*arguments)
    # the yielding contact of the simulation blurs the limit by less than 2 %
    assert least_contact_force(0.98 * limit, *arguments) > 0
    assert least_contact_force(1.02 * limit, *arguments) == 0


@pytest.mark.parametrize(
    ("force", "speed", "contact", "mass"),
    [
        pytest.param(10.0, 0.010, 1e5, 2.0, id="10 mm/s on 100 N/mm"),
        pytest.param(10.0, 0.050, 1e5, 2.0, id="50 mm/s on 100 N/mm"),
        pytest.param(30.0, 0.020, 5e4, 3.0, id="20 mm/s on 50 N/mm"),
    ],
)
def test_peak_force_at_approach(force: float, speed: float, contact: float, mass: float) -> None:
    """The mount is pressed against its front stop, which moves on with the robot, until the part holds it."""
    stop = 1e4 * contact

    def motion(time: float, state: np.ndarray) -> list[float]:
        place, pace = state
        ahead = place - (speed * time - force / stop)
        return [pace, (force - contact * max(place, 0.0) - stop * max(ahead, 0.0)) / mass]

    swing = 2 * np.pi * np.sqrt(mass / contact)
    until = force / (contact * speed) + swing
    run = solve_ivp(motion, (0, until), [0.0, speed], method="LSODA", rtol=1e-9, atol=1e-12, max_step=swing / 2000)
    # the stop gives way by 1e-4 of the contact and rings a little
    assert impact_force(force, speed, contact, mass) == pytest.approx(contact * run.y[0].max(), rel=0.01)


@pytest.mark.parametrize("frequency_share", [0.05, 0.3, 1.0, 3.0])
def test_ripple_left_by_an_integral_force_loop(frequency_share: float) -> None:
    contact, amplitude, bandwidth, wavelength = 5e4, 0.2 * MM, 8.0, 30 * MM
    feed = frequency_share * bandwidth * wavelength
    omega = 2 * np.pi * feed / wavelength

    def loop(time: float, state: np.ndarray) -> np.ndarray:
        error = contact * (amplitude * np.sin(omega * time) - state)
        return 2 * np.pi * bandwidth * error / contact

    settled = 2.0 / bandwidth
    times = settled + np.linspace(0, 1, 2001) * 2 * np.pi / omega
    run = solve_ivp(loop, (0, times[-1]), [0.0], method="LSODA", t_eval=times, rtol=1e-9, atol=1e-13)
    error = contact * (amplitude * np.sin(omega * times) - run.y[0])
    # the start has died down to exp(-4 pi); 2001 points find the crest to 1e-6
    assert force_loop_ripple(contact, amplitude, feed, wavelength, bandwidth) == pytest.approx(
        np.abs(error).max(), rel=1e-3
    )


def test_free_swing() -> None:
    stiffness, mass = 3000.0, 1.8

    def falls_through_zero(_: float, state: np.ndarray) -> float:
        return float(state[0])

    run = solve_ivp(
        lambda _, state: [state[1], -stiffness / mass * state[0]],
        (0, 2.0),
        [1e-3, 0.0],
        events=falls_through_zero,
        rtol=1e-10,
        atol=1e-14,
    )
    crossings = run.t_events[0]
    # the tolerance of the integration
    assert natural_frequency(stiffness, mass) == pytest.approx(
        (crossings.size - 1) / 2 / (crossings[-1] - crossings[0]), rel=1e-6
    )
