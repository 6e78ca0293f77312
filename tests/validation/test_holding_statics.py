"""Jaws, suction and wrist loads against statics solved by general-purpose libraries.

Origin of all: library. Friction cones are polygons and the part's equilibrium is a linear programme
for scipy.optimize.linprog; attitudes are searched by scipy.optimize.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog, minimize

from finishplan.physics import (
    disc_mean_radius,
    jaw_force,
    jaw_force_for_moment,
    process_resultant,
    required_press,
    required_vacuum,
    resultant_load,
    wrist_moment,
)

GRAVITY = 9.80665
Floats = NDArray[np.float64]

DIRECTIONS = np.radians(np.arange(0, 360, 5))
"""A circle of friction as a polygon of 72 sides: short of the circle by 0.1 % between its corners."""


def least_jaw_force(normals: Floats, friction: float, load: Floats) -> float:
    """Least common normal force with which faces at the ends of a part, all at one height, hold a load.

    Unknown are the normal force and, at each face, shares of friction along the polygon's corners.
    Moments balance too: the faces lie at minus their normals, the load acts at the origin.
    """
    count, corners = len(normals), DIRECTIONS.size
    upwards = np.array([0.0, 0.0, 1.0])
    balance = np.zeros((6, 1 + count * corners))
    cone = np.zeros((count, 1 + count * corners))
    for face, normal in enumerate(normals):
        sideways = np.cross(upwards, normal)
        tangents = np.outer(np.cos(DIRECTIONS), sideways) + np.outer(np.sin(DIRECTIONS), upwards)
        own = slice(1 + face * corners, 1 + (face + 1) * corners)
        balance[:3, 0] += normal
        balance[:3, own] = tangents.T
        balance[3:, own] = np.cross(-normal, tangents).T
        cone[face, own] = 1.0
        cone[face, 0] = -friction
    cost = np.zeros(balance.shape[1])
    cost[0] = 1.0
    solved = linprog(
        cost, A_ub=cone, b_ub=np.zeros(count), A_eq=balance, b_eq=np.concatenate((-load, np.zeros(3))), method="highs"
    )
    assert solved.success
    return float(solved.x[0])


def around(count: int) -> Floats:
    angles = 2 * np.pi * np.arange(count) / count
    return np.stack([np.cos(angles), np.sin(angles), np.zeros(count)], axis=-1)


@pytest.mark.parametrize(
    ("contacts", "friction", "mass", "acceleration"),
    [
        pytest.param(2, 0.25, 4.536, 2 * GRAVITY, id="two jaws, lifted at 2 g"),
        pytest.param(2, 0.60, 8.0, 0.0, id="two rubber jaws at rest"),
        pytest.param(3, 0.15, 12.0, 3.0, id="three jaws"),
        pytest.param(4, 0.30, 2.0, 10.0, id="two pairs of jaws"),
    ],
)
def test_jaws_that_lift(contacts: int, friction: float, mass: float, acceleration: float) -> None:
    load = resultant_load(0.0, mass, acceleration)
    wanted = least_jaw_force(around(contacts), friction, np.array([0, 0, -load]))
    factor = (GRAVITY + acceleration) / GRAVITY
    # along a corner of the polygon it is exact
    assert jaw_force(mass * GRAVITY, factor, 1.0, friction, contacts) == pytest.approx(wanted, rel=1e-6)


@pytest.mark.parametrize("askew", [0.0, 20.0, 47.5, 90.0])
def test_two_jaws_with_a_process_force_along_their_faces(askew: float) -> None:
    """Process force at an angle to the weight, both along the faces; the worst attitude needs no less."""
    force, mass, friction = 80.0, 3.0, 0.4
    turned = np.radians(askew)
    load = np.array([0, -force * np.sin(turned), -force * np.cos(turned) - mass * GRAVITY])
    needed = least_jaw_force(around(2), friction, load)
    worst = jaw_force(resultant_load(force, mass, 0.0), 1.0, 1.0, friction, 2)
    assert worst >= needed * (1 - 1e-9)
    exact = jaw_force(np.linalg.norm(load), 1.0, 1.0, friction, 2)
    # the polygon falls short of the circle by up to 1 - cos(2.5 degrees)
    assert needed == pytest.approx(exact, rel=1e-3)


def held_share(radius: float, inner: float, pressing: float, friction: float, load: float, moment: float) -> float:
    """Largest multiple of a load and a moment that one evenly pressed pad holds by friction.

    The pad is 12 rings of 36 cells, each at its centre; every cell's friction is a polygon.
    """
    edges = np.linspace(inner, radius, 13)
    middle = (edges[1:] + edges[:-1]) / 2
    angle = 2 * np.pi * np.arange(36) / 36
    place = np.stack([np.outer(middle, np.cos(angle)), np.outer(middle, np.sin(angle))], axis=-1).reshape(-1, 2)
    area = np.repeat(edges[1:] ** 2 - edges[:-1] ** 2, 36)
    limits = friction * pressing * area / area.sum()
    corners = np.stack([np.cos(DIRECTIONS), np.sin(DIRECTIONS)], axis=-1)
    count = DIRECTIONS.size
    forces = np.tile(corners, (len(place), 1))
    arms = np.repeat(place, count, axis=0)
    turning = arms[:, 0] * forces[:, 1] - arms[:, 1] * forces[:, 0]
    balance = np.column_stack([[load, 0.0, moment], np.vstack([forces.T, turning])])
    cells = np.kron(np.eye(len(place)), np.ones(count))
    solved = linprog(
        np.concatenate(([-1.0], np.zeros(len(forces)))),
        A_ub=np.column_stack([np.zeros(len(place)), cells]),
        b_ub=limits,
        A_eq=balance,
        b_eq=np.zeros(3),
        method="highs",
    )
    assert solved.success
    return float(solved.x[0])


@pytest.mark.parametrize(
    ("diameter", "inner"),
    [pytest.param(0.04, 0.0, id="round pad"), pytest.param(0.06, 0.03, id="ring pad")],
)
class TestPad:
    friction, moment, load = 0.5, 6.0, 200.0

    def test_moment_alone(self, diameter: float, inner: float) -> None:
        radius = disc_mean_radius(diameter, inner)
        each = jaw_force_for_moment(self.moment, 1.0, self.friction, 2, radius)
        share = held_share(diameter / 2, inner / 2, each, self.friction, 0.0, self.moment / 2)
        # 12 rings for the integral over the pad, and the polygons of friction
        assert share == pytest.approx(1.0, rel=5e-3)

    def test_load_and_moment_together_are_held_by_the_sum_of_both_forces(self, diameter: float, inner: float) -> None:
        radius = disc_mean_radius(diameter, inner)
        each = jaw_force_for_moment(self.moment, 1.0, self.friction, 2, radius)
        each += jaw_force(self.load, 1.0, 1.0, self.friction, 2)
        share = held_share(diameter / 2, inner / 2, each, self.friction, self.load / 2, self.moment / 2)
        assert 1.0 < share < 1.5


@pytest.mark.parametrize("tilt", [0.0, 30.0, 65.0, 90.0])
def test_suction_holds_a_panel_at_any_tilt(tilt: float) -> None:
    """Least vacuum as a linear programme: cups press with what the pull leaves, friction carries the rest."""
    mass, acceleration, friction, area, efficiency, factor = 6.0, 4.0, 0.5, 2.5e-3, 0.9, 2.0
    load = resultant_load(0.0, mass, acceleration)
    pull, shear = load * np.cos(np.radians(tilt)), load * np.sin(np.radians(tilt))
    # unknown: vacuum [kPa], pressing force, friction
    solved = linprog(
        [1.0, 0.0, 0.0],
        A_eq=[[1e3 * area * efficiency, -1.0, 0.0], [0.0, 0.0, 1.0]],
        b_eq=[factor * pull, factor * shear],
        A_ub=[[0.0, -friction, 1.0]],
        b_ub=[0.0],
        bounds=[(0, None)] * 3,
        method="highs",
    )
    vacuum = required_vacuum(pull, shear, factor, friction, area, efficiency)
    assert vacuum == pytest.approx(1e3 * solved.x[0], rel=1e-9)


def unit_vectors(angles: Floats) -> Floats:
    polar, turned = angles.reshape(-1, 2).T
    return np.stack([np.sin(polar) * np.cos(turned), np.sin(polar) * np.sin(turned), np.cos(polar)], axis=-1)


def largest(objective: object, directions: int) -> float:
    """Largest value over all directions of several vectors, from a dozen random starts."""
    draw = np.random.default_rng(5)
    starts = draw.uniform(0, np.pi, (12, 2 * directions))
    return max(-float(minimize(lambda angles: -objective(unit_vectors(angles)), each).fun) for each in starts)


def test_worst_load_over_all_attitudes() -> None:
    """Process force, weight and inertia turned every way against each other."""
    force, mass, acceleration = process_resultant(40.0, 30.0), 2.5, 6.0
    sizes = np.array([force, mass * GRAVITY, mass * acceleration])
    worst = largest(lambda ways: np.linalg.norm(sizes @ ways), 3)
    assert resultant_load(force, mass, acceleration) == pytest.approx(worst, rel=1e-6)


def test_worst_wrist_moment_over_all_attitudes() -> None:
    """Cross products of place and force, the places along one axis from the wrist."""
    force, offset, mass, centre, acceleration = 120.0, 0.32, 9.0, 0.18, 3.0
    axis = np.array([0.0, 0.0, 1.0])

    def moment(ways: Floats) -> float:
        inertia = mass * (GRAVITY * ways[1] + acceleration * ways[2])
        return float(np.linalg.norm(np.cross(offset * axis, force * ways[0]) + np.cross(centre * axis, inertia)))

    worst = largest(moment, 3)
    assert wrist_moment(force, offset, mass, centre, acceleration=acceleration) == pytest.approx(worst, rel=1e-6)


@pytest.mark.parametrize("friction", [0.1, 0.2, 0.5, 1.0, 1.5])
def test_worst_attitude_of_cups_and_magnets(friction: float) -> None:
    """Every direction of the load from pull to shear, the worst found by scipy. Origin: library."""

    def held(angle: Floats) -> float:
        pull, shear = 70 * np.cos(angle[0]), 70 * np.sin(angle[0])
        return -float(required_vacuum(pull, shear, 2.0, friction, 1.0, 1.0))

    found = minimize(held, x0=[0.8], bounds=[(0.0, np.pi / 2)], tol=1e-14)
    assert required_press(70.0, 2.0, friction) == pytest.approx(-found.fun, rel=1e-7)
